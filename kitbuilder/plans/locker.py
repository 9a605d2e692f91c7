"""A locker among the kits of its folder: where each thing is used, and what each kit needs more than is there."""

from collections import defaultdict
from collections.abc import Iterable
from typing import NamedTuple

from kitbuilder.assess.gear.lacking import Lack, take_from
from kitbuilder.kit.locker import Locker
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kit.things import Kit


class Use(NamedTuple):
    """One place in which a thing of the locker is used."""

    file: str
    """The file name of the kit."""
    tag: str
    """Of the thing in that kit."""


Uses = dict[str, tuple[Use, ...]]
"""Where the things of a locker are used, by their tags there; what is used nowhere is missing."""


class Needs(NamedTuple):
    """One kit held against a locker."""

    name: str
    """What the kit is called."""
    taken: tuple[tuple[str, str], ...]
    """The tags, in the kit and in the locker, of what is taken."""
    lacks: tuple[Lack, ...]
    """What is to be got: single things in the order of the kit, then plugs, adapters and lead."""


def uses_of(locker: Locker, kits: Iterable[tuple[str, Kit]]) -> Uses:
    """Where the things of a locker are used.

    Args:
        locker: The locker.
        kits: The kits that name it, by file name.
    """
    known = {(entry.kind, entry.tag) for entry in locker.things}
    uses: dict[str, list[Use]] = defaultdict(list)
    for file, kit in kits:
        for thing in kit.things:
            if thing.owned and (thing.kind, thing.owned) in known:
                uses[thing.owned].append(Use(file, thing.tag))
    return {tag: tuple(found) for tag, found in uses.items()}


def kits_using(uses: Uses) -> dict[str, tuple[str, ...]]:
    """The kits that use a thing, each once, by its tag."""
    return {tag: tuple(dict.fromkeys(use.file for use in found)) for tag, found in uses.items()}


def needs_of(kit: ResolvedKit, locker: Locker) -> Needs:
    """What a kit needs more than a locker has, and what it takes from there.

    Args:
        kit: The kit.
        locker: The locker, which may be another than the one the kit names.
    """
    taking = take_from(locker, resolve(kit.written, kit.linked._replace(locker=locker), kit.lines))
    taken = tuple((kit.things[number].tag, tag) for number, tag in taking.taken)
    return Needs(kit.header.name, taken, taking.lacks)
