"""A spare: an item that travels with its kit and stays out of the water."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Item


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Spare(Item):
    """An item of a resolved kit that is not worn: nothing feeds it, nothing but its mass counts.

    It stands at the place of the item that it is, so that the numbers of all others stay what they are in the file.
    Whoever asks for hoses, cylinders or lead does not find it among them.
    """

    kind: ClassVar = "spare"
    title: ClassVar = "spare"

    item: Item
    """What it is."""


def worn_or_spare(item: Item) -> Item:
    """Give an item of a kit as it counts there: as it is, or as a spare."""
    return Spare(tag=item.tag, rented=item.rented, in_spares=True, item=item) if item.in_spares else item


def in_hand(item: Item) -> Item:
    """Give an item as it lies in the hand, whether it is worn or a spare."""
    return item.item if isinstance(item, Spare) else item
