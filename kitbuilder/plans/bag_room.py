"""Whether the bags of a trip are large enough, by what each item takes of a bag."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, total
from kitbuilder.plans.packing.chance import chance_of
from kitbuilder.plans.packing.packing import PackedBag
from kitbuilder.plans.trip_weights import TripItem


class BagRoom(NamedTuple):
    """The room in a bag."""

    bag: str
    taken: Figure
    """By the items in it of which it is known [m3]."""
    room_m3: float
    chance: float
    """How likely they fit in."""
    unknown: tuple[str, ...]
    """Items of which nothing is known."""


def room_in_bags(bags: Iterable[PackedBag], where: Iterable[tuple[TripItem, str]]) -> Iterator[BagRoom]:
    """Say of each bag whose volume is known, and that comes along, how likely all fits into it.

    Args:
        bags: The bags that come along.
        where: Each item with the tag of its bag.
    """
    placed = list(where)
    for bag in (packed.bag for packed in bags):
        items = [item for item, tag in placed if tag == bag.tag]
        if bag.volume_m3 is None:
            continue
        taken = total((item.room for item in items if item.room), "sum of what is in it")
        unknown = tuple(item.tag for item in items if item.room is None)
        yield BagRoom(bag.tag, taken, bag.volume_m3, chance_of(taken, bag.volume_m3), unknown)
