"""What a kit needs and a gear file lacks: each item takes an entry that is the same; what finds none is missing."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from kitbuilder.assess.gas.oxygen_clean import needs_clean
from kitbuilder.assess.gear.sameness import Piece, adapter_record, allot, record_of
from kitbuilder.assess.hoses.hose_weight import ends_of
from kitbuilder.assess.hoses.joints import items_with_ends, joints_of, right_hose
from kitbuilder.assess.hoses.ports import ports_of
from kitbuilder.kit.gear import Gear, Owned, OwnedAdapter, OwnedLead, Plug, pieces_of, service_of_plug
from kitbuilder.kit.items import FirstStage, Gauge, Hose, Item, Lead, SecondStage, Transmitter
from kitbuilder.kit.resolved import ResolvedKit

SINGLE = (Hose, FirstStage, SecondStage, Gauge, Transmitter)
"""The items of a kit that are matched one by one; plugs, adapters and lead are counted."""


class Shortage(NamedTuple):
    """So many items of one kind that a gear file does not have."""

    kind: str
    """The table of the gear file that would hold it."""
    pieces: int
    what: str
    """Its preset, thread, adapter; empty for hoses, for lead and where nothing is given."""
    tags: tuple[str, ...]
    """The items of the kit that it is for."""
    hose: Hose | None = None
    mass_kg: float | None = None
    """Of one piece of lead."""
    must_be_clean: bool = False
    """Whether it is used with gas so rich in oxygen that it has to be clean for it."""


class Allocation(NamedTuple):
    """Which entry of a gear file each item of a kit is, and what is still missing."""

    taken: tuple[tuple[int, str], ...]
    """The number of an item of the kit, and the tag in the gear file."""
    shortages: tuple[Shortage, ...]


class Stored(NamedTuple):
    """One piece of a gear file that can be built with."""

    entry: Owned
    number: int
    """Of the piece among those of its entry, from 0."""
    piece: Piece


def pieces_in(gear: Gear) -> Iterator[Stored]:
    """Give every piece of a gear file that can be built with and is screwed on: what is out of use cannot."""
    for entry in gear.in_use:
        if record := record_of(entry):
            piece = Piece(record, entry.tag, is_clean=bool(entry.oxygen_clean))
            yield from (Stored(entry, number, piece) for number in range(pieces_of(entry)))


def allocate_from(gear: Gear, kit: ResolvedKit) -> Allocation:
    """Give what a kit takes from a gear file, and what is missing.

    An item that names an entry by `owned` takes that one and no other; any other item takes one that does for it. An
    entry that several items name is the first one's, and the others take what does for them.
    """
    rich, stored = needs_clean(kit), tuple(pieces_in(gear))
    taken = _taken(stored, _needs(kit, rich))
    shortages: dict[object, Shortage] = {}
    by_tag = {item.tag: item for item in kit.items}
    for number, item in _single(kit):
        if number in taken:
            continue
        to_buy = _that_joins(item, by_tag) if isinstance(item, Hose) else item
        key, shortage = _shortage(to_buy, must_be_clean=item.tag in rich)
        known = shortages.get(key)
        shortages[key] = known._replace(pieces=known.pieces + 1, tags=(*known.tags, item.tag)) if known else shortage
    return Allocation(tuple(sorted(taken.items())), (*shortages.values(), *_counted_shortages(gear, kit, stored, rich)))


def built_of(gear: Gear, kit: ResolvedKit) -> dict[int, str]:
    """Give the tag in the gear file of each item of a kit that is built already, by its number.

    Oxygen cleanliness does not matter here: what is built is built.
    """
    return _taken(tuple(pieces_in(gear)), _needs(kit, frozenset()))


def _single(kit: ResolvedKit) -> Iterator[tuple[int, Item]]:
    """Give the items that are looked for one by one, with their numbers: what is rented is neither owned nor bought."""
    items = enumerate(items_with_ends(kit.items))
    return ((number, item) for number, item in items if isinstance(item, SINGLE) and not item.rented)


def _needs(kit: ResolvedKit, rich: frozenset[str]) -> dict[int, Piece]:
    """Give the items that are looked for one by one, by number; those with these tags have to be clean for oxygen."""
    needs, named = {}, set[tuple[str, str]]()
    for number, item in _single(kit):
        record, owned = record_of(item), item.owned
        assert record is not None, "what is looked for one by one is screwed on"
        if owned is not None and (item.kind, owned) in named:
            owned = None
        elif owned is not None:
            named.add((item.kind, owned))
        needs[number] = Piece(record, owned, must_be_clean=item.tag in rich)
    return needs


def _taken(stored: Sequence[Stored], wants: dict[int, Piece]) -> dict[int, str]:
    numbers = list(wants)
    found = allot([each.piece for each in stored], list(wants.values()))
    return {numbers[place]: stored[number].entry.tag for place, number in found.items()}


def _that_joins(hose: Hose, by_tag: Mapping[str, Item]) -> Hose:
    """Give the hose to buy: one that joins its port and its device, whatever ends the kit writes."""
    return right_hose(joints_of(hose, by_tag)) or hose


def _shortage(item: Item, *, must_be_clean: bool) -> tuple[object, Shortage]:
    """Say what to get for an item; equal ones have equal keys."""
    if isinstance(item, Hose):
        ends = ends_of(item)
        key = (
            item.body,
            item.length_m,
            item.measured,
            ends.at_first_stage.name,
            ends.at_device.name,
            must_be_clean,
        )
        return key, Shortage(item.kind, 1, "", (item.tag,), item, must_be_clean=must_be_clean)
    what = getattr(item, "preset", None) or getattr(item, "inlet", None) or ""
    return (item.kind, what, must_be_clean), Shortage(item.kind, 1, what, (item.tag,), must_be_clean=must_be_clean)


# ---- what is counted ----


def _counted_shortages(
    gear: Gear, kit: ResolvedKit, stored: Sequence[Stored], rich: frozenset[str]
) -> Iterator[Shortage]:
    plugs = plugs_in(gear)
    for what, (pieces, tags) in _plugs(kit).items():
        if pieces > plugs[what]:
            yield Shortage(Plug.kind, pieces - plugs[what], what, tags)
    yield from _missing_adapters(kit, stored, rich)
    for mass_kg, pieces, tags in _missing_lead(gear, kit):
        yield Shortage(OwnedLead.kind, pieces, "", tags, mass_kg=mass_kg)


Wanted = dict[str, tuple[int, tuple[str, ...]]]
"""How many of each are wanted, and the tags of what they are for."""


def plugs_in(gear: Gear) -> Counter[str]:
    """Count the usable plugs by pressure and thread: "LP 3/8-24 UNF". An LP plug never closes an HP port."""
    owned: Counter[str] = Counter()
    for entry in gear.in_use:
        if isinstance(entry, Plug):
            owned[f"{service_of_plug(entry)} {entry.thread}"] += pieces_of(entry)
    return owned


def _plugs(kit: ResolvedKit) -> Wanted:
    """Give the plugged ports by pressure and thread."""
    wanted: Wanted = {}
    for stage in kit.items:
        if not isinstance(stage, FirstStage):
            continue
        known = ports_of(stage)
        for name in stage.plugged:
            if name in known:
                _count_in(wanted, f"{known[name].service} {known[name].thread}", stage.tag)
    return wanted


def _missing_adapters(kit: ResolvedKit, stored: Sequence[Stored], rich: frozenset[str]) -> Iterator[Shortage]:
    """Find the missing adapters by name; those that have to be clean are counted apart."""
    wanted = [(hose, name) for hose in kit.hoses for name in (hose.from_adapter, hose.to_adapter) if name]
    wants = [Piece(adapter_record(name), must_be_clean=hose.tag in rich) for hose, name in wanted]
    found = allot([each.piece for each in stored], wants)
    shortages: dict[tuple[str, bool], Shortage] = {}
    for place, (hose, name) in enumerate(wanted):
        key = name, wants[place].must_be_clean
        known = shortages.setdefault(key, Shortage(OwnedAdapter.kind, 0, name, (), must_be_clean=key[1]))
        tags = known.tags if hose.tag in known.tags else (*known.tags, hose.tag)
        shortages[key] = known._replace(pieces=known.pieces + (place not in found), tags=tags)
    yield from (shortage for shortage in shortages.values() if shortage.pieces)


def _count_in(wanted: Wanted, what: str, tag: str) -> None:
    pieces, tags = wanted.get(what, (0, ()))
    wanted[what] = pieces + 1, tags if tag in tags else (*tags, tag)


def _missing_lead(gear: Gear, kit: ResolvedKit) -> Iterator[tuple[float, int, tuple[str, ...]]]:
    """Find the missing lead by the mass of a piece, to the gram."""
    owned: Counter[int] = Counter()
    for entry in gear.in_use:
        if isinstance(entry, OwnedLead):
            owned[round(entry.mass_kg * 1000)] += pieces_of(entry)
    wanted: dict[int, tuple[int, tuple[str, ...]]] = {}
    for lead in kit.items:
        if isinstance(lead, Lead):
            pieces, tags = wanted.get(round(lead.mass_kg * 1000), (0, ()))
            wanted[round(lead.mass_kg * 1000)] = pieces + (lead.pieces or 1), (*tags, lead.tag)
    for grams, (pieces, tags) in wanted.items():
        if pieces > owned[grams]:
            yield grams / 1000, pieces - owned[grams], tags
