"""The divers of a pair, each with a kit, and what they are called."""

import os.path
from collections import Counter
from collections.abc import Sequence
from pathlib import PurePath
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.depths import deepest_of
from kitbuilder.kit.items import Item

METRIC = "metric"
FEWEST, MOST = 2, 3
"""How many divers a page is made for."""


class Member(NamedTuple):
    """One diver of the pair, in a kit."""

    name: str
    """What the diver is called, in short; no two of a pair have one name."""
    file: str
    """The kit file, as it was given."""
    assessment: Assessment

    @property
    def full_name(self) -> str:
        """The name in the diver file, once for each pair: that says who is meant by the short one."""
        given = _given_name(self.assessment)
        return given if given.startswith(f"{self.name} ") else self.name

    @property
    def units(self) -> str:
        """The units of this diver's gauges, "metric" or "imperial"; metric where the diver file does not say."""
        diver = self.assessment.kit.linked.diver
        return (diver.header.units if diver else None) or METRIC

    @property
    def by_tag(self) -> dict[str, Item]:
        """The items of the kit by tag."""
        return {item.tag: item for item in self.assessment.kit.items}


class Direction(NamedTuple):
    """One diver who gives something to another."""

    giver: Member
    receiver: Member

    @property
    def names(self) -> tuple[str, str]:
        """Who gives, and who receives."""
        return self.giver.name, self.receiver.name


class Missing(NamedTuple):
    """A value that is not given, and where it would stand."""

    file: str
    item: str | None
    """The tag of the item; None for the top of the file."""
    key: str
    because: str
    """What it would answer."""


def members_of(kits: Sequence[tuple[str, Assessment]]) -> tuple[Member, ...]:
    """Name the divers of some kits: by their diver files; by diver and kit file where two have one name.

    A name such as "Anna Schmidt" is "Anna" where nobody else is called that.

    Args:
        kits: The file of each kit, as it was given, and the kit.
    """
    names = _called(_distinct(kits))
    return tuple(Member(name, file, assessment) for name, (file, assessment) in zip(names, kits, strict=True))


def shared_names(kits: Sequence[tuple[str, Assessment]]) -> tuple[str, ...]:
    """Give the names that more than one of the divers has."""
    counted = Counter(name for _, assessment in kits if (name := _given_name(assessment)))
    return tuple(name for name, count in counted.items() if count > 1)


def kits_of_one_diver(kits: Sequence[tuple[str, Assessment]]) -> str:
    """Say which two kits belong to one diver, by the diver file that both name; empty where no two do.

    Args:
        kits: The path of each kit file, and the kit.
    """
    first: dict[PurePath, str] = {}
    for file, assessment in kits:
        named = assessment.kit.header.diver
        if named is None or assessment.kit.linked.diver is None:
            continue
        place = PurePath(os.path.normpath(PurePath(file).parent / named))
        if place in first:
            which = "both kits belong" if len(kits) == FEWEST else f"{first[place]} and {file} belong"
            return f"{which} to the diver of {named}; a pair is two people"
        first[place] = file
    return ""


def directions(members: Sequence[Member]) -> tuple[Direction, ...]:
    """Give every ordered pair of different divers, in the order of the divers."""
    return tuple(Direction(giver, receiver) for giver in members for receiver in members if giver is not receiver)


def common_depth(members: Sequence[Member]) -> float:
    """Give the greatest depth that all kits are meant for [m]."""
    return min(deepest_of(member.assessment.kit) for member in members)


def _called(names: Sequence[str]) -> list[str]:
    """Give the first word of each name, where it is a name and no other one begins with it."""
    firsts = [name.partition(" ")[0].casefold() for name in names]
    return [_first_name(name) if firsts.count(first) == 1 else name for name, first in zip(names, firsts, strict=True)]


def _first_name(name: str) -> str:
    """Give the first word of a name; all of it for a description, a title in front and a single word."""
    first, _, rest = name.partition(" ")
    is_name = first[:1].isupper() and not first.endswith(".") and " of " not in name and not rest.startswith("(")
    return first if is_name else name


def _given_name(assessment: Assessment) -> str:
    diver = assessment.kit.linked.diver
    return diver.header.name if diver else ""


def _distinct(kits: Sequence[tuple[str, Assessment]]) -> list[str]:
    """Give a name for each diver: the shortest way of naming that tells all of them apart."""
    given, shared = [_given_name(assessment) for _, assessment in kits], shared_names(kits)
    stems = [PurePath(file).stem for file, _ in kits]
    files = stems if len(set(stems)) == len(stems) else [file for file, _ in kits]
    own = [
        name if name and name not in shared else f"{name} ({file})" if name else f"diver of {file}"
        for name, file in zip(given, files, strict=True)
    ]
    return own if len(set(own)) == len(own) else [f"{name} ({file})" for name, (file, _) in zip(own, kits, strict=True)]
