"""A resolved kit: what its file says, with everything it refers to. All figures, findings and plans start from one."""

from dataclasses import dataclass
from typing import NamedTuple

from kitbuilder.kit.diver import Diver
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.items import Kit
from kitbuilder.kit.lines import NO_LINES, Lines
from kitbuilder.kit.owned import with_gear
from kitbuilder.kit.spare import worn_or_spare
from kitbuilder.kit.stock import Stock


class LinkedFiles(NamedTuple):
    """What a kit takes from the other files of its folder."""

    own: str = ""
    """The file name of the kit itself; a float check that names it speaks of the kit as it is now."""
    diver: Diver | None = None
    """None when the kit names no diver file, or one that cannot be used."""
    worn: "tuple[tuple[str, ResolvedKit], ...]" = ()
    """The other kits that were worn in the diver's float checks, by file name."""
    diver_problems: tuple[str, ...] = ()
    """Why the diver file cannot be used, one sentence each."""
    stock: Stock | None = None
    """None when the kit names no stock file, or one that cannot be used."""
    stock_problems: tuple[str, ...] = ()
    """What is wrong with the stock file, one sentence each."""
    gear: Gear | None = None
    """None when the kit names no gear file, or one that cannot be used."""
    gear_problems: tuple[str, ...] = ()
    """Why the gear file cannot be used, one sentence each."""

    @property
    def problems(self) -> tuple[str, ...]:
        """What is wrong with the linked files, one sentence each: diver, gear file, stock."""
        return (*self.diver_problems, *self.gear_problems, *self.stock_problems)


NOTHING_LINKED = LinkedFiles()
"""For a kit that refers to no other file."""


@dataclass(frozen=True, slots=True)
class ResolvedKit(Kit):
    """A kit whose items taken from the gear file have the gear's values, and whose spares are `Spare`s.

    Only `resolve` makes one from a file's kit.
    """

    unresolved: Kit
    """What the file itself says."""
    linked: LinkedFiles
    lines: Lines = NO_LINES
    """Where everything stands in the file; none for a kit that was not read from one."""

    def worn_as(self, name: str) -> "ResolvedKit | None":
        """Give the kit that a float check names by its file; None when it is not there or cannot be read."""
        return self if name == self.linked.own else dict(self.linked.worn).get(name)


def resolve(unresolved: Kit, linked: LinkedFiles = NOTHING_LINKED, lines: Lines = NO_LINES) -> ResolvedKit:
    """Resolve a kit: fill in the gear's values, and keep what the other linked files say and the lines of its own."""
    items = tuple(map(worn_or_spare, with_gear(unresolved, linked.gear).items))
    return ResolvedKit(unresolved.header, items, unresolved, linked, lines, old_words=unresolved.old_words)
