"""A kit as it is built: its parts, and the joints between them.

A part is whatever is screwed on or off as one: a first stage, a hose, a device, an adapter. A joint holds a slot of one
part to a slot of another: the port of a first stage to an end of a hose. Plugs are no parts: one plug of a thread is as
good as another, so a port is plugged or it is not.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from kitbuilder.assess.findings import Amount, Tag, Words, words
from kitbuilder.assess.gas.oxygen_clean import GasContact, gas_contacts
from kitbuilder.assess.gear.sameness import HoseRecord, Piece, Record, adapter_record, record_of
from kitbuilder.assess.gear.shortage import pieces_in
from kitbuilder.assess.hoses.hose_weight import ends_of, service_of
from kitbuilder.assess.hoses.joints import is_quick_disconnect, items_with_ends
from kitbuilder.assess.hoses.ports import inlet_of, port_reference, ports_of
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import DEVICE, HOSE, INSTRUMENT, PLUG, PORT, JointWork, bench_work
from kitbuilder.kit.gear import WATCHED, Gear, Owned, OwnedAdapter
from kitbuilder.kit.items import Device, FirstStage, Hose, Item, Lead, split_port
from kitbuilder.kit.resolved import ResolvedKit

ADAPTER = OwnedAdapter.kind
FROM, TO, INLET, HOSE_SIDE, FAR_SIDE = "from", "to", "inlet", "hose side", "far side"
"""The slots of hoses, devices and adapters; those of a first stage are its ports."""


class Part(NamedTuple):
    """One part of a kit, or of the gear file."""

    key: str
    """Its name, once only in its build or its gear file."""
    kind: str
    """A table of the kit file, or "adapter"."""
    item: Item | Owned | str
    """What the file says of it; of an adapter in a kit, the name in the catalogue."""
    record: Record
    """What decides whether it does for another."""
    owned: str | None = None
    """Which item of the gear file it is."""
    is_clean: bool = False
    """Whether it is known to be clean for gas rich in oxygen."""
    contact: GasContact | None = None
    """What gas it meets in its kit; None where that is not known, and for a part of the gear file."""
    kept_in: str = ""
    """Where it is kept, from the gear file."""
    is_watched: bool = False
    """Whether the gear file says that it is to be watched."""
    notes: str = ""
    """What the gear file notes of it."""

    @property
    def must_be_clean(self) -> bool:
        """Whether it is used with gas so rich that it has to be clean for oxygen."""
        return self.contact is not None and self.contact.must_be_clean

    @property
    def piece(self) -> Piece:
        """The part as one that is at hand, or one that is needed."""
        return Piece(self.record, self.owned, is_clean=self.is_clean, must_be_clean=self.must_be_clean)


class Joint(NamedTuple):
    """Two parts screwed or clicked together; the one nearer to the cylinder first."""

    inner: str
    """Key of a part."""
    inner_slot: str
    outer: str
    outer_slot: str
    at: str
    """ "port" or "device": which end of a hose it is at."""
    part: str
    """ "hose" or "instrument"."""
    thread: str
    service: str

    @property
    def work(self) -> JointWork | None:
        """What it takes; None when nothing is known of such a joint."""
        return bench_work().joint(self.at, self.part, self.thread, self.service)

    @property
    def is_coupling(self) -> bool:
        """Whether it clicks on by hand."""
        return is_quick_disconnect(self.thread)


class PluggedPort(NamedTuple):
    """A plugged port."""

    stage: str
    """Key of the first stage."""
    port: str
    thread: str

    @property
    def service(self) -> str:
        """ "LP" or "HP"."""
        return self.port[:2]

    @property
    def kind(self) -> str:
        """Its pressure and thread: "LP 3/8-24 UNF"."""
        return f"{self.service} {self.thread}"

    @property
    def work(self) -> JointWork | None:
        """What it takes."""
        return bench_work().joint(PORT, PLUG, self.thread, self.service)


class Build(NamedTuple):
    """A kit put together."""

    kit: ResolvedKit
    parts: dict[str, Part]
    joints: tuple[Joint, ...]
    plugs: tuple[PluggedPort, ...]

    @property
    def screwed(self) -> tuple[Joint, ...]:
        """The joints that take a tool."""
        return tuple(joint for joint in self.joints if not joint.is_coupling)

    @property
    def couplings(self) -> tuple[Joint, ...]:
        """The joints that click on by hand."""
        return tuple(joint for joint in self.joints if joint.is_coupling)


class Unbuildable(Exception):
    """A kit cannot be assembled, or must not be; one sentence for each reason."""

    def __init__(self, kit: ResolvedKit, reasons: tuple[Words, ...]) -> None:
        """Keep whose reasons they are."""
        super().__init__(kit.header.name)
        self.kit, self.reasons = kit, reasons


def build_of(kit: ResolvedKit, gear: Gear | None = None, known: Mapping[int, str] | None = None) -> Build:
    """Give the parts and joints of a kit.

    Args:
        kit: The kit.
        gear: What the diver owns: tells which of its items are clean for oxygen.
        known: Which item of the gear file each item of the kit is, by its number, beyond what the kit says itself.

    Raises:
        Unbuildable: A port is used twice or is not there, or an item is fed twice or in two places.
    """
    if reasons := (*_contradictions(kit), *_in_two_places(kit)):
        raise Unbuildable(kit, reasons)
    parts = {part.key: part for part in _parts(kit, gear, known or {})}
    return Build(kit, parts, tuple(_joints(kit)), tuple(_plugs(kit)))


# ---- parts ----


def _parts(kit: ResolvedKit, gear: Gear | None, known: Mapping[int, str]) -> Iterator[Part]:
    contacts = gas_contacts(kit)
    for number, item in enumerate(items_with_ends(kit.items)):
        part = _part_of(item)
        if part is None:
            continue
        owned = known.get(number, item.owned)
        entry = gear.item(owned) if gear else None
        if entry is not None and entry.kind == item.kind:
            part = part._replace(is_clean=bool(entry.oxygen_clean), kept_in=entry.kept_in or "")
        yield part._replace(owned=owned, contact=contacts.get(item.tag))
        if isinstance(item, Hose):
            for end, name in ((FROM, item.from_adapter), (TO, item.to_adapter)):
                if name:
                    yield Part(
                        adapter_key(item.tag, end),
                        ADAPTER,
                        name,
                        adapter_record(name),
                        is_clean=part.is_clean,
                        contact=contacts.get(item.tag),
                    )


def _part_of(item: Item) -> Part | None:
    """Give an item that is part of the regulators; None for any other."""
    record = record_of(item)
    if record is None or (isinstance(item, Device) and not (inlet_of(item) or port_reference(item))):
        return None
    return Part(item.tag, item.kind, item, record)


def store_parts(gear: Gear, but: frozenset[str]) -> Iterator[Part]:
    """Give the parts in a gear file that can be built with, one for each piece.

    Args:
        gear: What the diver owns.
        but: Tags of items that are somewhere else.
    """
    for entry, number, piece in pieces_in(gear):
        if entry.tag not in but:
            yield Part(
                entry.tag if number == 0 else f"{entry.tag}, piece {number + 1} ",
                entry.kind,
                entry,
                piece.record,
                owned=entry.tag,
                is_clean=piece.is_clean,
                kept_in=entry.kept_in or "",
                is_watched=entry.condition == WATCHED,
                notes=entry.notes or "",
            )


def named(part: Part) -> tuple[str, ...]:
    """Name a part in a sentence by its tag; an adapter of a kit, which has none, by what it is and where."""
    if part.kind != ADAPTER or not isinstance(part.item, str):
        return (Tag(part.key.strip()),)
    hose, end = hose_and_end(part.key)
    return (f"the {part.item} of ", Tag(hose), " at its port" if end == FROM else "")


def called(part: Part) -> str:
    """Name a part where it stands alone, without quotes."""
    return "".join(named(part))


def described(part: Part) -> Words:
    """Say what a part is, for somebody who has to find one or to buy one."""
    item, record = part.item, part.record
    if isinstance(record, HoseRecord):
        length = Amount(record.length_m, "length")
        return words(f"{record.service} hose, {record.body}, ", length, f", {record.from_end} to {record.to_end}")
    if isinstance(item, FirstStage):
        return words(item.preset or f"first stage with {', '.join(record.fits) or 'ports not known'}")
    if isinstance(item, str):
        return words(item)
    return words(record.preset or f"{item.title}, inlet {', '.join(record.fits) or 'not known'}")


def adapter_key(hose: str, end: str) -> str:
    """Give the key of the adapter at an end of a hose; with a space behind, which no tag has."""
    return f"{hose}, {end} "


def hose_and_end(key: str) -> tuple[str, str]:
    """Give the tag of the hose an adapter sits on, and at which end, by the adapter's key."""
    hose, _, end = key.strip().rpartition(", ")
    return hose, end


# ---- joints ----


def _joints(kit: ResolvedKit) -> Iterator[Joint]:
    items = {item.tag: item for item in items_with_ends(kit.items)}
    for item in items.values():
        if isinstance(item, Hose):
            yield from _joints_at_port(item, items)
            yield from _joints_at_device(item, items)
        elif reference := port_reference(item):
            tag, name = split_port(reference)
            stage = items.get(tag)
            if isinstance(stage, FirstStage):
                port = ports_of(stage)[name]
                yield Joint(tag, name, item.tag, INLET, PORT, INSTRUMENT, port.thread, port.service)


def _joints_at_port(hose: Hose, items: dict[str, Item]) -> Iterator[Joint]:
    tag, name = split_port(hose.from_ or "")
    stage, end, service = items.get(tag), ends_of(hose).at_first_stage, service_of(hose)
    if hose.from_adapter:
        adapter = adapter_key(hose.tag, FROM)
        yield Joint(adapter, HOSE_SIDE, hose.tag, FROM, PORT, HOSE, end.joint, service)
        if isinstance(stage, FirstStage):
            yield Joint(tag, name, adapter, FAR_SIDE, PORT, HOSE, ports_of(stage)[name].thread, service)
    elif isinstance(stage, FirstStage):
        yield Joint(tag, name, hose.tag, FROM, PORT, HOSE, ports_of(stage)[name].thread, service)


def _joints_at_device(hose: Hose, items: dict[str, Item]) -> Iterator[Joint]:
    device, end, service = items.get(hose.to or ""), ends_of(hose).at_device, service_of(hose)
    is_fed = isinstance(device, Device) and inlet_of(device) is not None
    if hose.to_adapter:
        adapter = adapter_key(hose.tag, TO)
        yield Joint(hose.tag, TO, adapter, HOSE_SIDE, DEVICE, HOSE, end.joint, service)
        if is_fed:
            far = catalogue().adapters[hose.to_adapter].far_side[0]
            yield Joint(adapter, FAR_SIDE, hose.to or "", INLET, DEVICE, HOSE, far, service)
    elif is_fed:
        yield Joint(hose.tag, TO, hose.to or "", INLET, DEVICE, HOSE, end.joint, service)


def _plugs(kit: ResolvedKit) -> Iterator[PluggedPort]:
    taken = {split_port(reference) for item in kit.items if (reference := port_reference(item))}
    for stage in kit.items:
        if isinstance(stage, FirstStage):
            ports = ports_of(stage)
            for name in stage.plugged:
                if name in ports and (stage.tag, name) not in taken:
                    yield PluggedPort(stage.tag, name, ports[name].thread)


# ---- what cannot be built ----


def _contradictions(kit: ResolvedKit) -> Iterator[Words]:
    items = {item.tag: item for item in kit.items}
    taken: dict[str, str] = {}
    fed: dict[str, str] = {}
    for item in kit.items:
        reference = port_reference(item)
        if reference:
            yield from _port_contradictions(item.tag, reference, items, taken)
        if isinstance(item, Hose) and isinstance(items.get(item.to or ""), Device):
            yield from _fed_twice(item, items, fed)


def _port_contradictions(tag: str, reference: str, items: dict[str, Item], taken: dict[str, str]) -> Iterator[Words]:
    stage_tag, name = split_port(reference)
    stage = items.get(stage_tag)
    place = f"{stage_tag} {name}"
    if not isinstance(stage, FirstStage):
        yield words(Tag(tag), " leaves from ", Tag(reference), ", but there is no first stage ", Tag(stage_tag), ".")
    elif name not in ports_of(stage):
        known = ", ".join(ports_of(stage)) or "not known"
        yield words(
            Tag(tag),
            " leaves from ",
            Tag(reference),
            ", but ",
            Tag(stage_tag),
            " has no port ",
            Tag(name),
            f". Its ports are: {known}.",
        )
    elif place in taken:
        yield words(Tag(reference), " is used twice: by ", Tag(taken[place]), " and by ", Tag(tag), ".")
    taken.setdefault(place, tag)


def _in_two_places(kit: ResolvedKit) -> Iterator[Words]:
    """Give items of the kit that are said to be one item of the gear file."""
    first: dict[tuple[str, str], str] = {}
    for item in kit.items:
        if item.owned and not isinstance(item, Lead):
            other = first.setdefault((item.kind, item.owned), item.tag)
            if other != item.tag:
                both = Tag(other), " and ", Tag(item.tag)
                yield words(*both, " are both ", Tag(item.owned), " of the gear file, which is one item.")


def _fed_twice(hose: Hose, items: dict[str, Item], fed: dict[str, str]) -> Iterator[Words]:
    assert hose.to is not None
    if hose.to in fed:
        yield words(Tag(hose.to), " is fed twice: by ", Tag(fed[hose.to]), " and by ", Tag(hose.tag), ".")
    elif port_reference(items[hose.to]):
        yield words(Tag(hose.to), " sits in a port, and ", Tag(hose.tag), " feeds it as well.")
    fed.setdefault(hose.to, hose.tag)
