"""A resolved trip: what its file says, the kits as they are used there, and what happens to each item."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import NamedTuple

from kitbuilder.kit.items import Item
from kitbuilder.kit.lines import NO_LINES, Lines
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import in_hand
from kitbuilder.kit.trip import Leave, Luggage, OfItems, OfKits, OfLuggage, Rent, Trip


class Fate(Enum):
    """What happens to an item of a kit on a trip."""

    BRING = "bring"
    RENT = "rent"
    LEAVE = "leave"


class TripKit(NamedTuple):
    """One kit that travels."""

    file: str
    kit: ResolvedKit | None
    """In the water there and on the diver of the trip; None when it is not there or cannot be read."""
    problems: tuple[str, ...] = ()
    """Why it cannot be read, one sentence each."""


class ItemOfTrip(NamedTuple):
    """One item of one kit."""

    file: str
    number: int
    """Of the item in its kit."""
    item: Item
    fate: Fate
    entry: int | None = None
    """The number of the entry of the trip that says so; None where the kit says so, or nobody."""


@dataclass(frozen=True, slots=True)
class ResolvedTrip(Trip):
    """A trip with its kits."""

    kits: tuple[TripKit, ...]
    lines: Lines = NO_LINES
    """Where everything stands in the file; none for a trip that was not read from one."""

    @property
    def missing_kits(self) -> tuple[TripKit, ...]:
        """The kits that cannot be used; what is said of the trip then lacks their items."""
        return tuple(travelling for travelling in self.kits if travelling.kit is None)

    def named_by(self, entry: OfKits) -> tuple[tuple[str, int], ...]:
        """List the items that an entry is about, each by the file of its kit and its number there."""
        every = entry.every if isinstance(entry, OfItems) else None
        return tuple(
            (travelling.file, number)
            for travelling in self.kits
            if travelling.kit is not None and entry.kit in (None, travelling.file)
            for number, item in enumerate(travelling.kit.items)
            if item.tag == entry.item or in_hand(item).kind == every
        )

    def names_luggage(self, entry: OfKits, luggage: Luggage) -> bool:
        """Say whether an entry is about a piece of luggage; a tag of a kit counts before one of luggage."""
        may_be = isinstance(entry, OfLuggage) and entry.kit is None and entry.item == luggage.tag
        return may_be and not self.named_by(entry)

    def every_item(self) -> tuple[ItemOfTrip, ...]:
        """List each item of each kit with what happens to it; what is left at home is not rented."""
        said = dict[tuple[str, int], tuple[Fate, int]]()
        for fate, kind in ((Fate.RENT, Rent), (Fate.LEAVE, Leave)):
            for number, entry in enumerate(self.items):
                if isinstance(entry, kind):
                    said |= dict.fromkeys(self.named_by(entry), (fate, number))
        return tuple(_with_fates(self.kits, said))


def _with_fates(kits: tuple[TripKit, ...], said: dict[tuple[str, int], tuple[Fate, int]]) -> Iterator[ItemOfTrip]:
    for travelling in kits:
        for number, item in enumerate(travelling.kit.items if travelling.kit else ()):
            by_itself = Fate.RENT if item.rented else Fate.BRING
            fate, entry = said.get((travelling.file, number), (by_itself, None))
            yield ItemOfTrip(travelling.file, number, item, fate, entry)
