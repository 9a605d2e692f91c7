"""What of one diver's kit joins the other's: hoses on inflators and drysuits, first stages on cylinders."""

import dataclasses
from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.gas.feeds import first_stages_of
from kitbuilder.assess.gas.seating import Seat, connection_of, outlet_of, seat_of
from kitbuilder.assess.gear.sameness import does_for, record_of
from kitbuilder.assess.hoses.joints import joints_of
from kitbuilder.assess.hoses.ports import inlet_of
from kitbuilder.kit.items import Cylinder, Device, Drysuit, FirstStage, Hose, Jacket, SecondStage, Wing
from kitbuilder.kit.spare import Spare
from kitbuilder.plans.pair.members import Direction, Member, Missing

INFLATOR, DRYSUIT = "inflator", "drysuit"
FED = {INFLATOR: (Wing, Jacket), DRYSUIT: (Drysuit,)}
"""What a hose of the other can feed, apart from second stages."""
YES, WITH_ADAPTER, NO, UNKNOWN = "yes", "with adapter", "no", "not known"
OF_SEATING = {"yes": YES, "adapter": WITH_ADAPTER, "no": NO, "unknown": UNKNOWN}
BEST_FIRST = (YES, WITH_ADAPTER, UNKNOWN, NO)


class Fed(NamedTuple):
    """Whether a hose of one diver feeds the inflator or the drysuit of the other."""

    way: Direction
    function: str
    """`INFLATOR` or `DRYSUIT`."""
    device: str
    """The tag of what is fed."""
    hose: str | None
    """The tag of the hose; None where the giver has none for such a coupling."""
    answer: str
    """`YES`, `NO` or `UNKNOWN`."""
    reason: str
    """Why not, in a few words."""
    two_makes: bool
    """Whether coupling and nipple go together and are known to be of two makes."""


class Seated(NamedTuple):
    """Whether a regulator of one diver goes on a cylinder of the other."""

    way: Direction
    """Whose regulator, and whose cylinder."""
    first_stage: str
    cylinder: str
    answer: str
    """`YES`, `WITH_ADAPTER`, `NO` or `UNKNOWN`."""
    reason: str


class SharedHose(NamedTuple):
    """A hose of one diver that does for one of the other, and the other way round."""

    names: tuple[str, str]
    tags: tuple[str, str]
    role: str


# ---- what feeds what ----


def feedings(way: Direction) -> Iterator[Fed]:
    """Say of every bladder and drysuit of the receiver whether a hose of the giver feeds it."""
    for function, kinds in FED.items():
        for item in way.receiver.assessment.kit.items:
            if isinstance(item, kinds) and isinstance(item, Device):
                yield _fed(way, function, item)


def _fed(way: Direction, function: str, device: Device) -> Fed:
    by_tag = way.giver.by_tag
    hoses = [
        figures.hose
        for figures in way.giver.assessment.hoses
        if isinstance(by_tag.get(figures.hose.to or ""), (Wing, Jacket, Drysuit))
    ]
    # The hose for the same purpose first: it is long enough for it on the giver at least.
    hoses.sort(key=lambda hose: not isinstance(by_tag[hose.to or ""], FED[function]))
    tried = [_tried(way, function, device, hose) for hose in hoses]
    if not tried:
        return Fed(way, function, device.tag, None, NO, "no hose with a coupling", two_makes=False)
    return min(tried, key=lambda each: BEST_FIRST.index(each.answer))


def _tried(way: Direction, function: str, device: Device, hose: Hose) -> Fed:
    joints = joints_of(dataclasses.replace(hose, to=device.tag), {device.tag: device})
    answer = UNKNOWN if joints.inlet is None else NO if joints.reasons else YES
    reason = joints.reasons[0] if answer == NO else ""
    return Fed(way, function, device.tag, hose.tag, answer, reason, two_makes=bool(joints.is_of_two_makes))


# ---- what sits on what ----


def seating_of(way: Direction) -> Seated | None:
    """Say whether a regulator of the one goes on a cylinder of the other, the best that there is; None without one."""
    stages = [stage for stage in first_stages_of(way.giver.assessment.kit) if not _is_of_a_stage(stage, way.giver)]
    cylinders = [item for item in way.receiver.assessment.kit.items if isinstance(item, Cylinder)]
    worn = [cylinder for cylinder in cylinders if cylinder.carried != "stage"]
    found = [_seated(way, stage, cylinder) for stage in stages for cylinder in worn]
    return min(found, key=lambda each: BEST_FIRST.index(each.answer), default=None)


def _is_of_a_stage(stage: FirstStage, member: Member) -> bool:
    on = member.by_tag.get(stage.on or "")
    return isinstance(on, Cylinder) and on.carried == "stage"


def _seated(way: Direction, stage: FirstStage, cylinder: Cylinder) -> Seated:
    kit = way.receiver.assessment.kit
    guest = dataclasses.replace(stage, tag=f"{stage.tag} of {way.giver.name}", on=cylinder.tag)
    seat = seat_of(guest, dataclasses.replace(kit, items=(*kit.items, guest)), (cylinder,))
    return Seated(way, stage.tag, cylinder.tag, *_judged(seat))


def _judged(seat: Seat | None) -> tuple[str, str]:
    if seat is None or seat.seating is None:
        return UNKNOWN, ""
    if seat.filled_pa is not None and seat.filled_pa > seat.weaker.limit.value:
        return NO, f"the filling is above the limit of {seat.weaker.name}"
    answer = OF_SEATING[seat.seating.fits]
    return answer, "" if answer == YES else f"{seat.seating.connection} on {seat.seating.outlet}"


# ---- what fits both ----


def inlets_of_second_stages(member: Member) -> frozenset[str]:
    """Name the inlets of a diver's second stages, as far as they are known."""
    stages = [item for item in member.assessment.kit.items if isinstance(item, SecondStage)]
    return frozenset(inlet for stage in stages if (inlet := inlet_of(stage)))


def shared_hoses(one: Member, other: Member) -> Iterator[SharedHose]:
    """Give the hoses of two divers that can replace each other, each once."""
    free = list(other.assessment.hoses)
    for figures in one.assessment.hoses:
        match = next((each for each in free if _is_alike(figures.hose, each.hose)), None)
        if match is not None:
            free.remove(match)
            yield SharedHose((one.name, other.name), (figures.hose.tag, match.hose.tag), figures.hose.role)


def _is_alike(one: Hose, other: Hose) -> bool:
    records = record_of(one), record_of(other)
    return all(records) and does_for(*records) and does_for(*reversed(records))  # type: ignore[arg-type]


class SparePart(NamedTuple):
    """A spare of one diver that does for a part of the other."""

    way: Direction
    """Who carries the spare, and whose part it does for."""
    spare: str
    part: str
    """Their tags."""


def spares_for(way: Direction) -> Iterator[SparePart]:
    """Give the spares of the one that do for a part of the other, each with the first such part."""
    parts = [(item.tag, record_of(item)) for item in way.receiver.assessment.kit.items if not isinstance(item, Spare)]
    for spare in way.giver.assessment.kit.items:
        record = record_of(spare.item) if isinstance(spare, Spare) else None
        for tag, part in parts:
            if record is not None and part is not None and does_for(record, part):
                yield SparePart(way, spare.tag, tag)
                break


# ---- what would say more ----


def missing_of_joining(way: Direction, fed: Fed | None = None) -> Iterator[Missing]:
    """Name what would say whether a hose feeds a device, or a regulator goes on a cylinder."""
    if fed is not None:
        if fed.answer == UNKNOWN:
            yield Missing(way.receiver.file, fed.device, "inlet", f"whether {way.giver.name} can feed it")
        return
    for stage in first_stages_of(way.giver.assessment.kit):
        if connection_of(stage) is None:
            yield Missing(way.giver.file, stage.tag, "connection", "which valves it goes on")
    for item in way.receiver.assessment.kit.items:
        if isinstance(item, Cylinder) and item.carried != "stage" and outlet_of(item) is None:
            yield Missing(way.receiver.file, item.tag, "outlet", "which regulators go on it")
