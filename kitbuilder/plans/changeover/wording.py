"""The names of parts, ports and valves in the steps of a changeover."""

from collections.abc import Iterable

from kitbuilder.assess.findings import Tag, Words, words
from kitbuilder.assess.gas.oxygen import cylinder_of
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


def listed(names: Iterable[Words], between: str = ", ") -> Words:
    """Put names one after the other."""
    return tuple(piece for number, name in enumerate(names) for piece in ((between, *name) if number else name))
