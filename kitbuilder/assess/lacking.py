"""What a kit needs more than a locker has: each thing takes an entry that is the same thing, and some find none."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.context import ports_of
from kitbuilder.assess.fit import is_one_stock_length
from kitbuilder.assess.hose_weight import ends_of
from kitbuilder.assess.on_body.advice import length_as_stated
from kitbuilder.kit.locker import (
    Locker,
    Owned,
    OwnedAdapter,
    OwnedHose,
    OwnedLead,
    Plug,
    pieces_of,
    service_of_plug,
)
from kitbuilder.kit.owned import differing
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.things import FirstStage, Gauge, Hose, Lead, SecondStage, Thing, Transmitter

SINGLE = (Hose, FirstStage, SecondStage, Gauge, Transmitter)
"""The things of a kit that are looked for one by one; plugs, adapters and lead are counted."""
TOLD_BY_ENDS = {"length_m", "measured", "from_end", "to_end", "swivel_pin", "mass_kg"}
"""What is compared of a hose apart: its length by how it is stated, its ends as they are when the kit does not say.
The swivel pin can be put in; two weighings differ by what a scale is off."""


class Lack(NamedTuple):
    """So many things of one kind that a locker does not have."""

    kind: str
    """The table of the locker that would hold it."""
    pieces: int
    what: str
    """Its preset, thread, adapter; empty for hoses, for lead and where nothing is told."""
    tags: tuple[str, ...]
    """The things of the kit that it is for."""
    hose: Hose | None = None
    mass_kg: float | None = None
    """Of one piece of lead."""


class Taking(NamedTuple):
    """Which entry of a locker each thing of a kit is, and what is left to get."""

    taken: tuple[tuple[int, str], ...]
    """The number of a thing of the kit, and the tag in the locker."""
    lacks: tuple[Lack, ...]


def take_from(locker: Locker, kit: ResolvedKit) -> Taking:
    """What of a locker a kit takes: what it names by `owned`, else a thing that is the same."""
    taken = dict(_claimed(locker, kit))
    free = [entry for entry in locker.in_use if entry.tag not in taken.values()]
    holder: dict[str, int] = {}
    for number, thing in enumerate(kit.things):
        if isinstance(thing, SINGLE) and number not in taken:
            _find_place(number, kit, free, holder, set())
    taken |= {number: tag for tag, number in holder.items()}
    lacks: dict[object, Lack] = {}
    for number, thing in enumerate(kit.things):
        if not isinstance(thing, SINGLE) or number in taken:
            continue
        key, lack = _lack(thing)
        known = lacks.get(key)
        lacks[key] = known._replace(pieces=known.pieces + 1, tags=(*known.tags, thing.tag)) if known else lack
    return Taking(tuple(sorted(taken.items())), (*lacks.values(), *_counted_lacks(locker, kit)))


def is_same_hose(owned: OwnedHose, hose: Hose) -> bool:
    """Whether a hose of the locker is what a kit asks for: body, stock length and ends."""
    ends = ends_of(hose)
    wanted = hose.body, ends.at_first_stage.name, ends.at_device.name
    return (
        (owned.body, owned.from_end, owned.to_end) == wanted
        and is_same_length(owned, hose)
        and not set(differing(hose, owned)) - TOLD_BY_ENDS
    )


def is_same_length(owned: OwnedHose, hose: Hose) -> bool:
    """Whether both are of one stock length, however it is stated: 56 cm and 22 in are one."""
    length_m = length_as_stated(owned.length_m, owned.measured, hose)
    return is_one_stock_length(length_m, hose.length_m)


def _claimed(locker: Locker, kit: ResolvedKit) -> Iterator[tuple[int, str]]:
    """What is named by `owned`; a thing cannot be in two places, so the first that names it has it."""
    free = {entry.tag: entry.kind for entry in locker.things}
    for number, thing in enumerate(kit.things):
        if isinstance(thing, SINGLE) and thing.owned and free.get(thing.owned) == thing.kind:
            del free[thing.owned]
            yield number, thing.owned


def _find_place(number: int, kit: ResolvedKit, free: list[Owned], holder: dict[str, int], seen: set[str]) -> bool:
    """Give a thing an entry that is the same, moving others to another of theirs where that makes room.

    So that as many things as can be find one, in whatever order the files have them.
    """
    for entry in free:
        if entry.tag in seen or not _is_same(entry, kit.things[number]):
            continue
        seen.add(entry.tag)
        if entry.tag not in holder or _find_place(holder[entry.tag], kit, free, holder, seen):
            holder[entry.tag] = number
            return True
    return False


def _is_same(entry: Owned, thing: Thing) -> bool:
    if isinstance(thing, Hose):
        return isinstance(entry, OwnedHose) and is_same_hose(entry, thing)
    if entry.kind != thing.kind:
        return False
    return getattr(entry, "preset", None) == getattr(thing, "preset", None) and not differing(thing, entry)


def _lack(thing: Thing) -> tuple[object, Lack]:
    """What to get for a thing; equal ones have equal keys."""
    if isinstance(thing, Hose):
        ends = ends_of(thing)
        key = thing.body, thing.length_m, thing.measured, ends.at_first_stage.name, ends.at_device.name
        return key, Lack(thing.kind, 1, "", (thing.tag,), thing)
    what = getattr(thing, "preset", None) or getattr(thing, "inlet", None) or ""
    return (thing.kind, what), Lack(thing.kind, 1, what, (thing.tag,))


# ---- what is counted ----


def _counted_lacks(locker: Locker, kit: ResolvedKit) -> Iterator[Lack]:
    yield from _missing(Plug, _plugs(kit), plugs_in(locker))
    yield from _missing(OwnedAdapter, _adapters(kit), _adapters_in(locker))
    for mass_kg, pieces, tags in _missing_lead(locker, kit):
        yield Lack(OwnedLead.kind, pieces, "", tags, mass_kg=mass_kg)


Wanted = dict[str, tuple[int, tuple[str, ...]]]
"""How many of each are wanted, and the tags of what they are for."""


def _missing(record: type[Owned], wanted: Wanted, owned: Counter[str]) -> Iterator[Lack]:
    for what, (pieces, tags) in wanted.items():
        if pieces > owned[what]:
            yield Lack(record.kind, pieces - owned[what], what, tags)


def plugs_in(locker: Locker) -> Counter[str]:
    """The plugs that can be built with, by pressure and thread: "LP 3/8-24 UNF". An LP plug never closes an HP port."""
    owned: Counter[str] = Counter()
    for entry in locker.in_use:
        if isinstance(entry, Plug):
            owned[f"{service_of_plug(entry)} {entry.thread}"] += pieces_of(entry)
    return owned


def _adapters_in(locker: Locker) -> Counter[str]:
    owned: Counter[str] = Counter()
    for entry in locker.in_use:
        if isinstance(entry, OwnedAdapter):
            owned[entry.adapter] += pieces_of(entry)
    return owned


def _plugs(kit: ResolvedKit) -> Wanted:
    """The plugged ports by pressure and thread."""
    wanted: Wanted = {}
    for stage in kit.things:
        if not isinstance(stage, FirstStage):
            continue
        known = ports_of(stage)
        for name in stage.plugged:
            if name in known:
                _count_in(wanted, f"{known[name].service} {known[name].thread}", stage.tag)
    return wanted


def _adapters(kit: ResolvedKit) -> Wanted:
    wanted: Wanted = {}
    for hose in kit.hoses:
        for adapter in (hose.from_adapter, hose.to_adapter):
            if adapter:
                _count_in(wanted, adapter, hose.tag)
    return wanted


def _count_in(wanted: Wanted, what: str, tag: str) -> None:
    pieces, tags = wanted.get(what, (0, ()))
    wanted[what] = pieces + 1, tags if tag in tags else (*tags, tag)


def _missing_lead(locker: Locker, kit: ResolvedKit) -> Iterator[tuple[float, int, tuple[str, ...]]]:
    """By the mass of a piece, to the gram."""
    owned: Counter[int] = Counter()
    for entry in locker.in_use:
        if isinstance(entry, OwnedLead):
            owned[round(entry.mass_kg * 1000)] += pieces_of(entry)
    wanted: dict[int, tuple[int, tuple[str, ...]]] = {}
    for lead in kit.things:
        if isinstance(lead, Lead):
            pieces, tags = wanted.get(round(lead.mass_kg * 1000), (0, ()))
            wanted[round(lead.mass_kg * 1000)] = pieces + (lead.pieces or 1), (*tags, lead.tag)
    for grams, (pieces, tags) in wanted.items():
        if pieces > owned[grams]:
            yield grams / 1000, pieces - owned[grams], tags
