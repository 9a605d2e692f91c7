"""What can be done with each item: each bag it may be in, each option it has, and why it has none."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, total
from kitbuilder.plans.packing.chance import ROOM, reached_at_most
from kitbuilder.plans.packing.charges import fixed
from kitbuilder.plans.packing.limits import limit_of
from kitbuilder.plans.packing.records import Bag, Option, PackingTask, PackItem, Placement

NO_BAG, MAY_NOT_FLY, RULES_CONTRADICT, NO_BAG_THERE, TOO_HEAVY, TOO_BULKY = (
    "no bag",
    "may not fly",
    "rules contradict",
    "no bag there",
    "too heavy",
    "too bulky",
)
PIN_UNKNOWN, PIN_REFUSED, PIN_UNUSABLE, PIN_TOO_MUCH, NO_ROOM = (
    "pinned to no bag",
    "pinned against a rule",
    "pinned to an unusable bag",
    "pinned, and too much",
    "no room",
)
"""Why an item is in no bag."""


class Choice(NamedTuple):
    """One way to deal with one item."""

    item: int
    placement: Placement
    mass: Figure | None = None
    """What is packed [kg]; None when nothing is."""
    volume_m3: float = 0.0


def choices_of(task: PackingTask, usable: Sequence[Bag]) -> Iterator[Choice]:
    """Give all ways to deal with each item, the last of each being that it is missing."""
    for number, item in enumerate(task.items):
        bags = [bag for bag in usable if refusal_of(item, bag) is None and item.pinned in ("", bag.tag)]
        for bag in bags:
            if fits_alone(task, bag, item.mass, item.volume_m3):
                yield Choice(number, Placement(bag.tag), item.mass, item.volume_m3 or 0.0)
        if not item.pinned:
            yield from _options_of(task, number, bags)
        yield Choice(number, Placement())


def _options_of(task: PackingTask, number: int, bags: Sequence[Bag]) -> Iterator[Choice]:
    for option in task.items[number].options:
        if option.instead is None:
            yield Choice(number, Placement("", option))
            continue
        for bag in bags:
            if fits_alone(task, bag, option.instead, option.volume_m3):
                yield Choice(number, Placement(bag.tag, option), option.instead, option.volume_m3 or 0.0)


def refusal_of(item: PackItem, bag: Bag) -> str | None:
    """Say which rule keeps an item from a bag: its id, empty for the traveller's own choice; None when none does."""
    for rule in item.rules:
        if bag.place not in rule.places:
            return rule.rule
    return None if bag.place in item.may_go else ""


def fits_alone(task: PackingTask, bag: Bag, mass: Figure, volume_m3: float | None) -> bool:
    """Say whether something fits into a bag with nothing else in it; a volume of None takes no room."""
    limit = limit_of(bag, map(fixed, task.legs))
    reached_kg = reached_at_most(total((bag.mass, mass), ""), task.likelihood)
    is_light = limit is None or reached_kg <= limit.most_kg + ROOM
    return is_light and (bag.volume_m3 is None or (volume_m3 or 0.0) <= bag.volume_m3 + ROOM)


def mass_away_kg(item: PackItem, option: Option) -> float:
    """Give by how much an option makes the luggage lighter [kg]; below zero when it makes it heavier."""
    return item.mass.value - (option.instead.value if option.instead else 0.0)


def why_missing(task: PackingTask, usable: Sequence[Bag], item: PackItem) -> str:
    """Say why an item is in no bag: one of the words above."""
    if not task.bags:
        return NO_BAG
    if not item.places:
        return MAY_NOT_FLY if any(not rule.places for rule in item.rules) else RULES_CONTRADICT
    if item.pinned:
        return _why_not_where_pinned(task, usable, item)
    bags = [bag for bag in usable if bag.place in item.places]
    if not bags:
        return NO_BAG_THERE
    light = [bag for bag in bags if fits_alone(task, bag, item.mass, None)]
    if not light:
        return TOO_HEAVY
    return NO_ROOM if any(fits_alone(task, bag, item.mass, item.volume_m3) for bag in light) else TOO_BULKY


def _why_not_where_pinned(task: PackingTask, usable: Sequence[Bag], item: PackItem) -> str:
    bag = next((bag for bag in task.bags if bag.tag == item.pinned), None)
    if bag is None:
        return PIN_UNKNOWN
    if refusal_of(item, bag) is not None:
        return PIN_REFUSED
    return PIN_TOO_MUCH if bag in usable else PIN_UNUSABLE
