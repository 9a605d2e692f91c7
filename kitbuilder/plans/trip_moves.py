"""Where each item of a trip is, whether it may be moved into another bag, and what the trip is with it there."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.trip import Leave, Luggage, Rent
from kitbuilder.plans.packing import choices as why
from kitbuilder.plans.packing.choices import fits_alone
from kitbuilder.plans.packing.moved import moved
from kitbuilder.plans.packing.packing import Missing, Placed
from kitbuilder.plans.packing.records import PlacementRule
from kitbuilder.plans.trip_packing import TripPacking, packed_trip
from kitbuilder.plans.trip_weights import TripItem

OTHER_PLACE = "other place"
"""Why an item may not be moved: the trip file says that it goes elsewhere."""


class Whereabouts(NamedTuple):
    """Where one item of a trip is."""

    item: TripItem
    number: int | None = None
    """In the task of the packing; None for what is not packed at all: rented, left, or without a mass."""
    placed: Placed | None = None
    missing: Missing | None = None

    @property
    def bag(self) -> str:
        """The bag that it is in; empty for none."""
        return self.placed.placement.bag if self.placed else ""


class Refused(NamedTuple):
    """Why an item may not be moved into a bag."""

    why: str
    """A word of `kitbuilder.plans.packing.choices`, or `OTHER_PLACE`."""
    rules: tuple[PlacementRule, ...] = ()
    """That forbid it."""


def whereabouts(found: TripPacking) -> tuple[Whereabouts, ...]:
    """Say of each item of a trip where it is, in the order of `found.weights`."""
    return tuple(_whereabouts(found))


def _whereabouts(found: TripPacking) -> Iterator[Whereabouts]:
    packing = found.packing
    placed = {id(each.item): each for each in packing.placed}
    missing = {id(each.item): each for each in packing.missing}
    number = 0
    for item in found.weights.items:
        if item.fate is not Fate.BRING or item.mass is None:
            yield Whereabouts(item)
            continue
        packed = packing.task.items[number]
        yield Whereabouts(item, number, placed.get(id(packed)), missing.get(id(packed)))
        number += 1


def why_not_into(found: TripPacking, where: Whereabouts, tag: str) -> Refused | None:
    """Say why an item may not be moved into a bag, whatever else is in it; None when it may."""
    bag = next((packed.bag for packed in found.packing.bags if packed.bag.tag == tag), None)
    if bag is None:
        return Refused(why.PIN_UNUSABLE)
    if where.number is None:
        # What is rented or left is not in the task; its rules are those of the item itself.
        forbid = [rule for rule in where.item.placement.rules if not rule.is_advice and bag.place not in rule.may_go]
        rules = tuple(PlacementRule(rule.name, frozenset(rule.may_go), rule.why) for rule in forbid)
        return Refused(why.PIN_REFUSED, rules) if rules else None
    item = found.packing.task.items[where.number]
    if rules := tuple(rule for rule in item.rules if bag.place not in rule.places):
        return Refused(why.PIN_REFUSED, rules)
    own = where.item.item
    if isinstance(own, Luggage) and own.goes not in (None, bag.place):
        return Refused(OTHER_PLACE)
    if not fits_alone(found.packing.task, bag, item.mass, None):
        return Refused(why.TOO_HEAVY)
    if not fits_alone(found.packing.task, bag, item.mass, item.volume_m3):
        return Refused(why.TOO_BULKY)
    return None


def entries_away(trip: ResolvedTrip, item: TripItem) -> tuple[int, ...]:
    """Give the entries by which an item is rented or left, so that it is brought without them.

    None where one of them is about other items as well, or where its kit says that it is rented.
    """
    same = (each for each in trip.every_item() if (each.file, each.item.tag) == (item.file, item.tag))
    place = next(((each.file, each.number) for each in same), None)
    named = {number: trip.named_by(entry) for number, entry in enumerate(trip.items) if isinstance(entry, Rent | Leave)}
    about = [number for number, places in named.items() if place in places]
    alone = all(named[number] == (place,) for number in about)
    return tuple(about) if alone and not _is_rented_by_kit(item) else ()


def _is_rented_by_kit(item: TripItem) -> bool:
    return not isinstance(item.item, Luggage) and bool(item.item.rented)


def with_moved(found: TripPacking, where: Whereabouts, bag: str) -> TripPacking:
    """Give a trip with one item in another bag and all else where it was; see `moved`.

    Raises:
        ValueError: The item is not packed.
        KeyError: The bag cannot be used.
    """
    if where.number is None:
        raise ValueError(f"{where.item.tag} is not packed")
    items = tuple(each._replace(bag=bag) if each is where.item else each for each in found.weights.items)
    weights = found.weights._replace(items=items)
    return packed_trip(found.trip, weights, moved(found.packing, where.number, bag), found.findings_of_file)
