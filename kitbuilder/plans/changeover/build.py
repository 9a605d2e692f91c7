"""A kit as it is built: its parts, and the joints between them.

A part is whatever is screwed on or off as one: a first stage, a hose, a device, an adapter. A joint holds a slot of one
part to a slot of another: the port of a first stage to an end of a hose. Plugs are no parts: one plug of a thread is as
good as another, so a port is plugged or it is not.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from kitbuilder.assess.assembly import STAGE
from kitbuilder.assess.findings import Amount, Tag, Words, words
from kitbuilder.assess.gas.feeds import first_stages_of
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.assess.gas.oxygen_clean import GasContact, gas_contacts
from kitbuilder.assess.gear.sameness import HoseRecord, Piece, Record, adapter_record, record_of
from kitbuilder.assess.gear.shortage import pieces_in
from kitbuilder.assess.hoses.hose_weight import ends_of, service_of
from kitbuilder.assess.hoses.joints import is_quick_disconnect, items_with_ends
from kitbuilder.assess.hoses.ports import inlet_of, port_reference, ports_of
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import DEVICE, HOSE, INSTRUMENT, PLUG, PORT, JointWork, bench_work
from kitbuilder.kit.gear import WATCHED, Gear, Owned, OwnedAdapter, pieces_of
from kitbuilder.kit.items import Cylinder, Device, FirstStage, Hose, Item, split_port
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.contradictions import contradictions_in

ADAPTER = OwnedAdapter.kind
FROM, TO, INLET, HOSE_SIDE, FAR_SIDE = "from", "to", "inlet", "hose side", "far side"
"""The slots of hoses, devices and adapters; those of a first stage are its ports."""


class Assembly(NamedTuple):
    """Parts that the gear file keeps screwed together."""

    tag: str
    parts: frozenset[str]
    """Their tags in the gear file."""
    kept_in: str = ""


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
    assembly: Assembly | None = None
    """What it is kept screwed together with, when all of that is available."""

    @property
    def must_be_clean(self) -> bool:
        """Whether it is used with gas so rich that it has to be clean for oxygen."""
        return self.contact is not None and self.contact.must_be_clean

    @property
    def piece(self) -> Piece:
        """The part as one that is available, or one that is needed."""
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


JointEnds = tuple[str, str, str, str]


def ends_of_joint(joint: Joint) -> JointEnds:
    """Say where a joint is: parts and slots."""
    return joint.inner, joint.inner_slot, joint.outer, joint.outer_slot


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
    valves: dict[str, str]
    """The tag of the cylinder that a first stage sits on, by key; of one that is not known, `unknown_valve`."""

    roots: dict[str, str]
    """The part nearest to the cylinder that each part hangs on, by keys: of a hose in a port, its first stage."""

    def root(self, key: str) -> str:
        """Give the part nearest to the cylinder that a part hangs on: itself where nothing is nearer."""
        return self.roots.get(key, key)

    def at_ports_of(self, stage: str) -> tuple[Joint, ...]:
        """Give the joints that are opened only with a first stage off its valve: at its ports and adapters."""
        return tuple(joint for joint in self.screwed if joint.at == PORT and self.root(joint.inner) == stage)

    @property
    def without_stage(self) -> frozenset[str]:
        """What parts hang on that hang on no first stage, by key."""
        return frozenset(self.parts) - frozenset(self.valves)

    @property
    def on_stages(self) -> tuple[str, ...]:
        """The first stages that sit on a cylinder carried as a stage, by key."""
        stages = {item.tag for item in self.kit.items if isinstance(item, Cylinder) and item.carried == STAGE}
        return tuple(stage for stage, valve in self.valves.items() if valve in stages)

    def plugged(self, stage: str) -> frozenset[str]:
        """Give the plugged ports of a first stage."""
        return frozenset(plug.port for plug in self.plugs if plug.stage == stage)

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
    if reasons := contradictions_in(kit):
        raise Unbuildable(kit, reasons)
    parts = {part.key: part for part in _parts(kit, gear, known or {})}
    joints = tuple(_joints(kit))
    return Build(kit, parts, joints, tuple(_plugs(kit)), _valves(kit), _roots(joints))


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


def store_parts(gear: Gear, but: frozenset[str], used: frozenset[tuple[str, int]] = frozenset()) -> Iterator[Part]:
    """Give the parts in a gear file that can be built with, one for each piece.

    Args:
        gear: What the diver owns.
        but: Tags of items that are somewhere else.
        used: Pieces that are somewhere else: the tag of the entry, and which piece of it.
    """
    assemblies = _assemblies_in(gear, but)
    for entry, number, piece in pieces_in(gear):
        if entry.tag not in but and (entry.tag, number) not in used:
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
                assembly=assemblies.get(entry.tag),
            )


def _assemblies_in(gear: Gear, but: frozenset[str]) -> dict[str, Assembly]:
    """Give the assembly of each item, by tag, where all of it is available; one that is broken up holds nothing."""
    loose = {entry.tag for entry, _, _ in pieces_in(gear) if entry.tag not in but and pieces_of(entry) == 1}
    found: dict[str, Assembly] = {}
    for entry in gear.assemblies:
        if len(entry.parts) > 1 and loose.issuperset(entry.parts) and not found.keys() & set(entry.parts):
            assembly = Assembly(entry.tag, frozenset(entry.parts), entry.kept_in or "")
            found.update(dict.fromkeys(entry.parts, assembly))
    return found


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


def _roots(joints: tuple[Joint, ...]) -> dict[str, str]:
    nearer = {joint.outer: joint.inner for joint in joints}
    roots = {}
    for key in nearer:
        way = [key]
        while (before := nearer.get(way[-1])) is not None and before not in way:
            way.append(before)
        roots[key] = way[-1]
    return roots


def unknown_valve(stage: str) -> str:
    """Name the cylinder of a first stage of which it is not known; with a space behind, which no tag has."""
    return f"{stage} "


def _valves(kit: ResolvedKit) -> dict[str, str]:
    found = ((stage.tag, cylinder_of(stage, kit)) for stage in first_stages_of(kit))
    return {tag: cylinder.tag if cylinder else unknown_valve(tag) for tag, cylinder in found}
