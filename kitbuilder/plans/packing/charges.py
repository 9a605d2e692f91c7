"""What can be bought beyond the limits of a leg: kilograms for a bag in the hold, and further bags."""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil
from typing import NamedTuple

from kitbuilder.assess.figures import total
from kitbuilder.plans.packing.chance import reached_at_most
from kitbuilder.plans.packing.limits import limit_of
from kitbuilder.plans.packing.records import HOLD, Bag, Leg, PackingTask

KILOGRAM, FURTHER_PIECE = "kilogram", "piece"
"""What can be bought."""


class Charge(NamedTuple):
    """Kilograms or pieces that are bought, or can be."""

    leg: str
    what: str
    """One of the words above."""
    number: int
    """How many; of what can be bought, at most."""
    price: float
    """Of one."""
    bag: str = ""
    """The bag that the kilograms are for; empty where they count only for all bags together, and for a piece."""

    @property
    def costs(self) -> float:
        """What all of it costs."""
        return self.number * self.price


def sells_kilograms(leg: Leg) -> bool:
    """Say whether a limit of mass of the hold can be raised for money; what is zero is closed."""
    return leg.price_per_kilogram is not None and 0 not in (leg.hold_piece_kg, leg.hold_total_kg)


def fixed(leg: Leg) -> Leg:
    """Give a leg with those limits that no money raises."""
    if sells_kilograms(leg):
        leg = leg._replace(hold_piece_kg=None, hold_total_kg=None)
    return leg if leg.price_per_piece is None else leg._replace(hold_pieces=None)


def raised(leg: Leg, bought: Iterable[Charge], bag: str) -> Leg:
    """Give a leg with the limits of mass of a bag and of all bags as they are with what is bought."""
    kilograms = [each for each in bought if each.leg == leg.tag and each.what == KILOGRAM]
    return leg._replace(
        hold_piece_kg=_plus(leg.hold_piece_kg, sum(each.number for each in kilograms if each.bag == bag)),
        hold_total_kg=_plus(leg.hold_total_kg, sum(each.number for each in kilograms)),
    )


def _plus(limit_kg: float | None, more_kg: int) -> float | None:
    return None if limit_kg is None else limit_kg + more_kg


def charges_of(task: PackingTask, usable: Sequence[Bag]) -> Iterator[Charge]:
    """Give all that can be bought."""
    hold = [bag for bag in usable if bag.place == HOLD]
    masses = (*(item.mass for item in task.items), *(bag.mass for bag in hold))
    everything_kg = reached_at_most(total(masses, ""), task.likelihood)
    for leg in task.legs:
        if leg.price_per_kilogram is not None and sells_kilograms(leg):
            for bag, number in _kilograms(task, leg, hold, everything_kg):
                if number:
                    yield Charge(leg.tag, KILOGRAM, number, leg.price_per_kilogram, bag)
        if leg.price_per_piece is not None and leg.hold_pieces is not None and len(hold) > leg.hold_pieces:
            yield Charge(leg.tag, FURTHER_PIECE, len(hold) - leg.hold_pieces, leg.price_per_piece)


def _kilograms(task: PackingTask, leg: Leg, hold: list[Bag], everything_kg: float) -> Iterator[tuple[str, int]]:
    """Give how many kilograms can be bought for all bags together, and for each."""
    if leg.hold_total_kg is not None:
        yield "", ceil(max(0.0, everything_kg - leg.hold_total_kg))
    if leg.hold_piece_kg is None:
        return
    for bag in hold:
        most = limit_of(bag, map(fixed, task.legs))
        most_kg = min(everything_kg, most.most_kg if most else everything_kg)
        yield bag.tag, ceil(max(0.0, most_kg - leg.hold_piece_kg))
