"""The spare parts to bring for one kit, or one list without doubles for several: made from what the kits consist of."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import pi
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, from_catalogue, scaled, total
from kitbuilder.assess.findings import Amount, Tag, Words, words
from kitbuilder.assess.fit.hose_figures import weigh_in_kit
from kitbuilder.assess.gas.feeds import first_stages_of
from kitbuilder.assess.gas.seating import connection_of
from kitbuilder.assess.hoses.hose_weight import service_of
from kitbuilder.assess.hoses.joints import is_quick_disconnect, with_ends
from kitbuilder.assess.hoses.ports import ports_of
from kitbuilder.assess.trip.facts import travelling
from kitbuilder.assess.water import assess_water
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import ORingSize, bench_work
from kitbuilder.catalogue.spares import (
    BATTERY,
    DAY_BOAT,
    DIN_RENTED,
    FIN_STRAP,
    FIRST_STAGE,
    GAUGE_SWIVEL,
    GROUPS,
    HEX_KEY,
    HOSES,
    HP_HOSE,
    INFLATOR_HOSE,
    O_RING,
    OF_HOSES,
    OF_MASK,
    REMOTE,
    SECOND_STAGE,
    SECOND_STAGE_HOSE,
    SMALL_PARTS,
    SPANNER,
    YOKE_RENTED,
    SpareEntry,
    spares,
)
from kitbuilder.kit.items import Cylinder, Hose, Item, Other
from kitbuilder.kit.items import SecondStage as SecondStageItem
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.spare import Spare, in_hand
from kitbuilder.plans.changeover.build import Build, Joint, PluggedPort, Unbuildable, build_of

SHORT_M = 1.3
"""A longer hose is a long hose, and no spare for the others; chosen, no source."""
STRAPPED_FINS = ("fins, open heel rubber", "fins, light travel")
"""The presets of fins that have a strap."""


class KitToSupply(NamedTuple):
    """A kit that spares are brought for."""

    file: str
    kit: ResolvedKit
    rents_cylinders: bool
    """Whether its first stages sit on valves of rented cylinders."""


class SpareLine(NamedTuple):
    """One line of the list."""

    key: str
    """What makes it another spare than the others."""
    group: str
    """One of `GROUPS`: what is packed together."""
    what: Words
    pieces: int
    each: Figure
    """The mass of one piece [kg]."""
    why: str
    fits: tuple[str, ...]
    """What it is for in the kits: joints, spanners, devices."""
    origin: str
    serves: tuple[str, ...] = ()
    """The files of the kits that it is for."""
    size: float = 0.0
    """Of two that serve the same need, the larger one counts: of a hose its length [m], of a battery its energy [J]."""

    @property
    def mass(self) -> Figure:
        """The mass of all pieces [kg]."""
        return scaled(self.each, self.pieces)


class SparesList(NamedTuple):
    """What to bring, beside the spares that the kit files have already."""

    level: str
    files: tuple[str, ...]
    lines: tuple[SpareLine, ...]
    """Group by group; none at the level "none"."""
    in_kits: tuple[tuple[str, str], ...]
    """The spares of the kit files: file and tag."""
    not_built: tuple[tuple[str, Words], ...]
    """Kits whose joints contradict themselves, so that no O-rings and tools are listed for them, and why."""

    @property
    def mass(self) -> Figure:
        """The mass of all lines together [kg]."""
        return total((line.mass for line in self.lines), "sum of the spares")

    def of_group(self, group: str) -> tuple[SpareLine, ...]:
        """List the lines of a group."""
        return tuple(line for line in self.lines if line.group == group)


def kit_to_supply(file: str, kit: ResolvedKit) -> KitToSupply:
    """Take a kit by itself: its file says which cylinders are rented."""
    return KitToSupply(file, kit, any(isinstance(item, Cylinder) and item.rented for item in kit.items))


def list_spares(kits: Sequence[KitToSupply], level: str) -> SparesList:
    """List the spares for kits: of each the larger need, since one that serves both need not be there twice.

    Args:
        kits: One, or those that travel together.
        level: "none", `DAY_BOAT` or `REMOTE`.
    """
    carried = [item for supplied in kits for item in supplied.kit.items if isinstance(item, Spare)]
    found, not_built = dict[str, SpareLine](), []
    for supplied in kits if level in (DAY_BOAT, REMOTE) else ():
        try:
            build = build_of(supplied.kit)
        except Unbuildable as problem:
            build = None
            not_built += [(supplied.file, reason) for reason in problem.reasons]
        for line in _lines_for(supplied, build, level):
            before = found.get(line.key)
            found[line.key] = _larger(before, line._replace(serves=(supplied.file,)))
    have = {key for spare in carried for key in _keys_of(spare.item)}
    needed = [line for key, line in found.items() if key not in have]
    return SparesList(
        level,
        tuple(supplied.file for supplied in kits),
        tuple(sorted(needed, key=lambda line: GROUPS.index(line.group))),
        tuple((supplied.file, item.tag) for supplied in kits for item in supplied.kit.items if isinstance(item, Spare)),
        tuple(not_built),
    )


def _larger(before: SpareLine | None, line: SpareLine) -> SpareLine:
    """Join the needs of two kits for one spare."""
    if before is None:
        return line
    larger = max(before, line, key=lambda each: (each.size, each.each.value))
    return larger._replace(
        pieces=max(before.pieces, line.pieces),
        fits=tuple(dict.fromkeys((*before.fits, *line.fits))),
        serves=tuple(dict.fromkeys((*before.serves, *line.serves))),
    )


def _lines_for(supplied: KitToSupply, build: Build | None, level: str) -> Iterator[SpareLine]:
    """List what one kit calls for."""
    works = _joints(build) if build else []
    yield from _rings(supplied.kit, works)
    yield from _plugs(supplied.kit)
    needs = dict(_needs(supplied, works))
    for entry in spares().entries:
        if entry.level == REMOTE and level != REMOTE:
            continue
        if entry.need in OF_HOSES:
            yield from _hoses(supplied.kit, entry)
        elif entry.need == BATTERY:
            yield from _batteries(supplied.kit, entry)
        elif (fits := needs.get(entry.need)) is not None and not _has(supplied.kit, entry):
            assert entry.mass is not None
            each = from_catalogue(f"mass of {entry.name}", entry.mass)
            yield SpareLine(entry.name, entry.group, words(entry.name), 1, each, entry.why, fits, entry.origin)


# ---- O-rings and plugs ----


def _joints(build: Build) -> list[Joint | PluggedPort]:
    return [*build.screwed, *build.plugs]


def _rings(kit: ResolvedKit, joints: Iterable[Joint | PluggedPort]) -> Iterator[SpareLine]:
    known, rule = bench_work().o_rings, spares().rings
    at_joints, used_in = Counter[str](), dict[str, dict[str, None]]()
    for joint in joints:
        for size in joint.work.o_rings if joint.work else ():
            at_joints[size] += 1
            used_in.setdefault(size, {})[joint.work.name if joint.work else ""] = None
    for size, count in sorted(at_joints.items()):
        pieces = min(max(count, rule.least), rule.most)
        yield _ring(known[size], pieces, tuple(used_in[size]))
    connections = dict.fromkeys(name for stage in first_stages_of(kit) if (name := connection_of(stage)))
    faces = {ring: f"valve face, {name}" for name in connections if (ring := spares().faces.get(name))}
    for size, face in faces.items():
        yield _ring(known[size], rule.face, (face,))


def _ring(ring: ORingSize, pieces: int, fits: tuple[str, ...]) -> SpareLine:
    """Give O-rings of a size, with the mass of a torus: pi^2 / 4 x (inner diameter + section) x section^2."""
    rule = spares().rings
    volume_m3 = pi**2 / 4 * (ring.inner.value + ring.section.value) * ring.section.value**2
    origin = f"size: {ring.inner.origin}; density: {rule.density.origin}"
    mass = scaled(from_catalogue("density of O-rings", rule.density), volume_m3, origin)
    why = "are cut and wear; that of the valve face is lost most often"
    key = f"O-ring {ring.name}"
    return SpareLine(key, SMALL_PARTS, words(key), pieces, mass, why, fits, rule.origin)


def _plugs(kit: ResolvedKit) -> Iterator[SpareLine]:
    """List one plug for each kind of port: it closes the port of a hose that failed, and the dive can go on."""
    kinds = dict.fromkeys(
        (port.service, port.thread) for stage in first_stages_of(kit) for port in ports_of(stage).values()
    )
    why = "closes the port of a failed transmitter, gauge or inflator hose"
    for service, thread in sorted(kinds):
        key = f"plug {service} {thread}"
        each = from_catalogue("mass of a plug", spares().plug_mass)
        yield SpareLine(key, SMALL_PARTS, words(key), 1, each, why, (), spares().plug_origin)


# ---- what a kit has that calls for a spare ----


def _needs(supplied: KitToSupply, joints: Sequence[Joint | PluggedPort]) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Say what a kit has, each with what the spare then fits."""
    kit = supplied.kit
    presets = {item.preset for item in kit.items if isinstance(item, Other)}
    tools = sorted({tool for joint in joints for tool in _tools(joint)})
    rings = any(joint.work and joint.work.o_rings for joint in joints)
    connections = {connection_of(stage) or "" for stage in first_stages_of(kit)}
    there = {
        GAUGE_SWIVEL: any(joint.thread == "gauge swivel" for joint in joints),
        SECOND_STAGE: any(isinstance(item, SecondStageItem) for item in kit.items),
        OF_MASK: "mask" in presets,
        FIN_STRAP: bool(presets.intersection(STRAPPED_FINS)),
        O_RING: rings,
        FIRST_STAGE: bool(connections),
        DIN_RENTED: supplied.rents_cylinders and any(name.startswith("DIN") for name in connections),
        YOKE_RENTED: supplied.rents_cylinders and "yoke" in connections,
    }
    yield from ((need, ()) for need, is_so in there.items() if is_so)
    for need, wanted in ((HEX_KEY, True), (SPANNER, False)):
        if fits := tuple(tool for tool in tools if (HEX_KEY in tool) is wanted):
            yield need, fits


def _tools(joint: Joint | PluggedPort) -> Iterator[str]:
    if joint.work:
        yield from (tool for tool in (joint.work.turn_with, joint.work.hold_with) if tool)


def _has(kit: ResolvedKit, entry: SpareEntry) -> bool:
    """Say whether a kit has the spare itself, worn or not: a back-up mask in the pocket."""
    return bool(entry.preset) and any(getattr(in_hand(item), "preset", None) == entry.preset for item in kit.items)


def _keys_of(item: Item) -> tuple[str, ...]:
    """Name the line of the list that a spare of a kit file does away with."""
    if isinstance(item, Hose):
        return (_hose_key(with_ends(item, {})),)
    preset = getattr(item, "preset", None)
    return tuple(entry.name for entry in spares().entries if entry.preset and entry.preset == preset)


# ---- batteries and hoses ----


def _batteries(kit: ResolvedKit, entry: SpareEntry) -> Iterator[SpareLine]:
    """List a battery, or a set of them, for each sort of device whose battery is small enough."""
    assert entry.mass is not None
    assert entry.up_to_j is not None
    for item in kit.items:
        battery = None if isinstance(item, Spare) else travelling(item).battery
        if battery is None or (battery.has_energy and (battery.high_j is None or battery.high_j > entry.up_to_j)):
            continue
        device = getattr(item, "preset", None) or item.tag
        # What the file gives of a battery tells two devices of one preset apart.
        given = f", {battery.high_j:.0f} J" if battery.is_given else ""
        what = words(f"{entry.name} for ", Tag(device))
        each = from_catalogue(f"mass of batteries for {device}", entry.mass)
        key = f"battery: {battery.type}, {device}{given}"
        line = SpareLine(key, entry.group, what, 1, each, entry.why, (item.tag,), entry.origin)
        yield line._replace(size=battery.high_j or 0.0)


def _hoses(kit: ResolvedKit, entry: SpareEntry) -> Iterator[SpareLine]:
    """List a hose like the longest of the kit, for each pair of ends that it has."""
    by_tag, water = {item.tag: item for item in kit.items}, assess_water(kit.header)
    longest = dict[str, Hose]()
    for hose in (with_ends(hose, by_tag) for hose in kit.hoses):
        key = _hose_key(hose)
        is_longer = key not in longest or hose.length_m > longest[key].length_m
        if _need_of(hose, by_tag) == entry.need and is_longer:
            longest[key] = hose
    for key, hose in longest.items():
        what = words(f"{key}, {hose.body}, ", Amount(hose.length_m, "length"))
        mass = weigh_in_kit(hose, water, by_tag).mass
        yield SpareLine(key, HOSES, what, 1, mass, entry.why, (hose.tag,), entry.origin, size=hose.length_m)


def _hose_key(hose: Hose) -> str:
    return f"{service_of(hose)} hose, {hose.from_end} to {hose.to_end}"


def _need_of(hose: Hose, by_tag: dict[str, Item]) -> str:
    """Say which need a spare like a hose answers; empty where none does."""
    if service_of(hose) == "HP":
        return HP_HOSE
    if is_quick_disconnect(catalogue().fittings[hose.to_end or ""].joint):
        return INFLATOR_HOSE
    is_short = isinstance(by_tag.get(hose.to or ""), SecondStageItem) and hose.length_m <= SHORT_M
    return SECOND_STAGE_HOSE if is_short else ""
