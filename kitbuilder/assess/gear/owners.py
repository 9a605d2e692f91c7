"""Whose kits are: parts of one diver are not available to another, unless that is asked for."""

from collections.abc import Iterable
from typing import NamedTuple

from kitbuilder.kit.resolved import ResolvedKit


class Owners(NamedTuple):
    """The divers that some kits belong to."""

    names: tuple[str, ...]
    """What they are called, each once, in the order of the kits; a kit without a diver file goes by its gear file."""
    share_gear: bool
    """Whether all kits take their items from one gear file."""

    @property
    def are_several(self) -> bool:
        """Whether the kits belong to more than one diver."""
        return len(self.names) > 1

    @property
    def are_apart(self) -> bool:
        """Whether what one of them owns is not available to the others."""
        return self.are_several and not self.share_gear


def owners_of(kits: Iterable[ResolvedKit]) -> Owners:
    """Say whose some kits are. A kit that names neither diver nor gear file belongs to whoever asks."""
    known = [kit for kit in kits if kit.linked.diver or kit.linked.gear]
    apart: list[ResolvedKit] = []
    for kit in known:
        if all(_are_of_two(kit, other) for other in apart):
            apart.append(kit)
    first, *others = [kit.linked.gear for kit in known] or [None]
    return Owners(tuple(map(_name_of, apart)), share_gear=first is not None and all(gear == first for gear in others))


def _are_of_two(one: ResolvedKit, other: ResolvedKit) -> bool:
    """Say whether two kits name two different divers, or else two different gear files."""
    pairs = ((one.linked.diver, other.linked.diver), (one.linked.gear, other.linked.gear))
    return any(first is not None and second is not None and first != second for first, second in pairs)


def _name_of(kit: ResolvedKit) -> str:
    diver, gear = kit.linked.diver, kit.linked.gear
    return diver.header.name if diver else gear.header.name if gear else ""
