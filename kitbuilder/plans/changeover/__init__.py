"""From one built kit to another: the least work, and the steps to do it by."""

from collections.abc import Iterator
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Signal, Words, words
from kitbuilder.kit.locker import Locker
from kitbuilder.plans.changeover.build import Build, Joint, Unbuildable, build_of, store_parts
from kitbuilder.plans.changeover.match import Match, match_builds
from kitbuilder.plans.changeover.steps import Step, rings_of, steps_of, tools_of

__all__ = ["Changeover", "Fate", "Joint", "Match", "Step", "Unbuildable", "plan_changeover"]

OF_JOINTS = (
    "thread at the port",
    "thread at the device",
    "pressure class",
    "coding defeated",
    "pressure at the device",
)
"""The rules whose dangers keep a kit from being planned: following the steps would build what lets go."""

STAYS, MOVES, FETCHED, GOT, STORED = "stays", "moves", "from the locker", "to get", "put away"


class Fate(NamedTuple):
    """What becomes of a hose."""

    becomes: str
    """Its tag in the target; empty for one that is put away."""
    is_now: str
    """Its tag in the source or in the locker; empty for one that has to be got."""
    before: str
    """The port it leaves from now; empty when it hangs on none."""
    after: str
    """The port it will leave from."""
    what: str
    """One of the words above."""
    instead_of: str
    """The hose of the source that leaves this port for it; empty when none does."""


class Changeover(NamedTuple):
    """How one kit is rebuilt as another."""

    source: Assessment
    target: Assessment
    match: Match
    steps: tuple[Step, ...]
    fates: tuple[Fate, ...]
    """Of the hoses: those of the target in its order, then those that are put away."""

    @property
    def tools(self) -> tuple[str, ...]:
        """The spanners and keys it takes."""
        return tools_of(self.match)

    @property
    def rings(self) -> dict[str, int]:
        """How many O-rings of each size the joints to be made have."""
        return dict(sorted(rings_of(self.match).items()))


def plan_changeover(source: Assessment, target: Assessment, locker: Locker | None = None) -> Changeover:
    """The least work that rebuilds one kit as another, and its steps.

    Args:
        source: The kit that is built.
        target: The kit that is to be built.
        locker: What the diver owns besides; that of the target unless said.

    Raises:
        Unbuildable: A kit contradicts itself, or the target has a joint that could hurt.
    """
    locker = locker or target.beside.locker or source.beside.locker
    if dangers := tuple(_dangers(target)):
        raise Unbuildable(target.kit, dangers)
    before, after = build_of(source.kit, locker), build_of(target.kit, locker)
    built = frozenset(part.owned for part in before.parts.values() if part.owned)
    store = tuple(store_parts(locker, built)) if locker else ()
    match = match_builds(before, after, store)
    return Changeover(source, target, match, steps_of(match, target.hoses), tuple(_fates(match)))


def _dangers(assessment: Assessment) -> Iterator[Words]:
    for finding in assessment.findings:
        if finding.signal is Signal.DANGER and finding.rule in OF_JOINTS:
            tag = "the kit" if finding.thing is None else assessment.kit.things[finding.thing].tag
            yield words(f"{tag}: ", *finding.what, ". ", *finding.do)


def _fates(match: Match) -> Iterator[Fate]:
    ports_before, ports_after = _ports(match.source), _ports(match.target)
    for key, part in match.target.parts.items():
        if part.kind == "hose":
            yield _fate(match, key, ports_before, ports_after)
    for key in match.left_over:
        if match.source.parts[key].kind == "hose":
            yield Fate("", key, " ".join(ports_before.get(key, ())), "", STORED, "")


def _fate(match: Match, key: str, before: dict[str, tuple[str, str]], after: dict[str, tuple[str, str]]) -> Fate:
    place = after.get(key)
    now = match.taken.get(key)
    there = before.get(now or "")
    carried = (match.becomes.get(there[0]), there[1]) if there else None
    got = FETCHED if key in match.fetched else GOT
    left = next((hose for hose, port in before.items() if place and _lands(match, port) == place), "")
    return Fate(
        becomes=key,
        is_now=now or match.fetched.get(key, ""),
        before=" ".join(there or ()),
        after=" ".join(place or ()),
        what=got if now is None else STAYS if carried == place else MOVES,
        instead_of=left if left and left != now else "",
    )


def _lands(match: Match, port: tuple[str, str]) -> tuple[str, str] | None:
    """The port of the target that a port of the source becomes."""
    stage = match.becomes.get(port[0])
    return (stage, port[1]) if stage else None


def _ports(build: Build) -> dict[str, tuple[str, str]]:
    """The first stage and the port each hose leaves from, by its key; past an adapter."""
    inward = {joint.outer: joint for joint in build.screwed if joint.at == "port"}
    ports = {}
    for key, part in build.parts.items():
        joint = inward.get(key) if part.kind == "hose" else None
        while joint is not None and build.parts[joint.inner].kind == "adapter":
            joint = inward.get(joint.inner)
        if joint is not None:
            ports[key] = joint.inner, joint.inner_slot
    return ports
