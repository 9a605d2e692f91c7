"""The names of parts, ports and valves in the steps of a changeover."""

from collections.abc import Iterable, Iterator

from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.gas.oxygen import cylinder_of
from kitbuilder.assess.hoses.joints import joints_of
from kitbuilder.kit.items import FirstStage
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.plans.changeover.build import ADAPTER, Part, PluggedPort, called, named
from kitbuilder.plans.changeover.match import Match
from kitbuilder.plans.changeover.step import JointSlot


def with_owned(part: Part, owned: str | None) -> Words:
    """Say what a part is called, with its tag in the gear where that is another; a first stage goes by its place."""
    has_two = owned and owned != called(part) and part.kind not in (ADAPTER, FirstStage.kind)
    return words(*named(part), " (", Tag(owned), ")") if owned and has_two else named(part)


def name_after(match: Match, key: str) -> Words:
    """Name a part of the target, with its tag in the gear file."""
    if key in match.taken:
        owned = match.source.parts[match.taken[key]].owned
    else:
        owned = match.store[match.fetched[key]].owned if key in match.fetched else None
    return with_owned(match.target.parts[key], owned)


def name_before(match: Match, key: str) -> Words:
    """Name a part of the source, with its tag in the gear file."""
    part = match.source.parts[key]
    return with_owned(part, part.owned)


def place_of(match: Match, key: str, slot: str = "") -> JointSlot:
    """Say where a part of the target comes from."""
    if key in match.taken:
        return JointSlot("source", match.taken[key], slot)
    if key in match.fetched:
        return JointSlot("store", match.fetched[key], slot)
    return JointSlot("new", key, slot)


def format_caution(part: Part) -> Words:
    """Say that a part is to be watched, and why, as the gear file has it; nothing of any other."""
    if not part.is_watched:
        return ()
    return words(" It is to be watched: ", Tag(part.notes), ".") if part.notes else words(" It is to be watched.")


def format_port(plug: PluggedPort) -> Words:
    """Name a port in a sentence."""
    return words(Tag(plug.stage), f" {plug.port}")


def format_plug(plug: PluggedPort) -> str:
    """Say what plug a port takes."""
    return f"an {plug.service} plug ({plug.thread})"


def format_valve(stage: FirstStage, kit: ResolvedKit) -> Words:
    """Name the valve that a first stage sits on."""
    cylinder = cylinder_of(stage, kit)
    return words("the valve of ", Tag(cylinder.tag)) if cylinder else words("its valve")


TWO_MAKES = " They are of two makes: press and release the inflator ten times. It must start and stop each time."


def format_makes(hose: str, hoses: Iterable[HoseFigures]) -> str:
    """Say what to try where the coupling of a hose and its nipple are of two makes; nothing of any other."""
    return TWO_MAKES if any(each.hose.tag == hose and each.joints.is_of_two_makes for each in hoses) else ""


def without_joint(*kits: ResolvedKit) -> Iterator[Words]:
    """Name the joints of kits that no step speaks of: the device has neither an inlet nor a preset."""
    for hose, device in dict.fromkeys(pair for kit in kits for pair in _unknown_joints(kit)):
        what = words("The joint between ", Tag(hose), " and ", Tag(device), " is not in this plan: ")
        yield (*what, Tag(device), " has no inlet and no preset. Write one of them.")


def _unknown_joints(kit: ResolvedKit) -> Iterator[tuple[str, str]]:
    items = {item.tag: item for item in kit.items}
    for hose in kit.hoses:
        joints = joints_of(hose, items)
        if joints.device is not None and joints.inlet is None:
            yield hose.tag, joints.device.tag


def listed(names: Iterable[Words], between: str = ", ") -> Words:
    """Put names one after the other."""
    return tuple(piece for number, name in enumerate(names) for piece in ((between, *name) if number else name))
