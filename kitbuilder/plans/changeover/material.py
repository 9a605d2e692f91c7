"""What a changeover takes: O-rings, plugs, spanners, and the items beside the regulators that come off and go on."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.findings import Amount, Tag, Words, words
from kitbuilder.kit.items import Item, Lead, Suit
from kitbuilder.kit.spare import Spare
from kitbuilder.plans.changeover.build import Build, Joint, PluggedPort
from kitbuilder.plans.changeover.match import Match

OUT, IN, CLOSING = "out", "in", "closing"


class PlugMove(NamedTuple):
    """Plugs of one thread that come out, that go in, or that close a first stage which is put away."""

    what: str
    """One of the words above."""
    service: str
    """"LP" or "HP"."""
    thread: str
    ports: tuple[PluggedPort, ...]


def plug_moves_of(match: Match) -> Iterator[PlugMove]:
    """Give the plugs that a changeover moves, those that come out first. A port closed for storage may have a cap."""
    moves = {OUT: (*match.plugs_out, *match.caps_out), IN: match.plugs_in, CLOSING: match.open_in_store}
    for what, plugs in moves.items():
        for service, thread in dict.fromkeys((plug.service, plug.thread) for plug in plugs):
            ports = tuple(plug for plug in plugs if (plug.service, plug.thread) == (service, thread))
            yield PlugMove(what, service, thread, ports)


def rings_of(match: Match) -> Counter[str]:
    """Count the O-rings of each size in the joints and plugs to be fitted."""
    rings = Counter[str]()
    joints: list[Joint | PluggedPort] = [*match.made, *match.plugs_in]
    for joint in joints:
        if joint.work:
            rings.update(joint.work.o_rings)
    return rings


def tools_of(match: Match) -> tuple[str, ...]:
    """List the spanners and keys for the joints to be undone and made."""
    joints: list[Joint | PluggedPort] = [*match.undone, *match.plugs_out, *match.caps_out, *match.made, *match.plugs_in]
    works = [joint.work for joint in joints if joint.work]
    return tuple(sorted({tool for work in works for tool in (work.turn_with, work.hold_with) if tool}))


def rest_of(source: Build, target: Build, gone: frozenset[str]) -> tuple[tuple[Words, ...], tuple[Words, ...]]:
    """List what else comes off and goes on: everything but the regulators, lead by its mass.

    Args:
        source: What is built now.
        target: What is to be built.
        gone: The tags of what has left the source before, as part of a stage.
    """
    before, after = _others(source, gone), _others(target, frozenset())
    return tuple(_counted(before - after)), tuple(_counted(after - before))


def _others(build: Build, gone: frozenset[str]) -> Counter[Words]:
    found = Counter[Words]()
    for item in build.kit.items:
        if item.tag not in build.parts and item.tag not in gone and not isinstance(item, Spare):
            found[_what_else(item)] += (item.pieces or 1) if isinstance(item, Lead) else 1
    return found


def _what_else(item: Item) -> Words:
    """Name an item so that the same item has the same name in both kits; lead to the last digit shown."""
    if isinstance(item, Lead):
        return words("lead of ", Amount(round(item.mass_kg, 2), "mass"))
    if isinstance(item, Suit):
        return words(f"{item.cut} of ", Amount(item.thickness_m, "thickness"))
    if not item.owned and (preset := getattr(item, "preset", None)):
        return words(preset)
    return words(Tag(item.owned or item.tag))


def _counted(items: Counter[Words]) -> Iterator[Words]:
    for name, pieces in sorted(items.items(), key=lambda item: str(item[0])):
        yield words(f"{pieces} × ", *name) if pieces > 1 else name
