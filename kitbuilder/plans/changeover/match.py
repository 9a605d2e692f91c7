"""Which part of one build becomes which part of another: the least work.

Lexicographic: first the fewest parts got from elsewhere, then the fewest joints undone, then the fewest made, then the
fewest parts fetched. Whatever is undone or made counts once: a screwed joint, a plug, a coupling, and a first stage on
its valve. A first stage comes off its valve when one of its ports is opened; the couplings of its hoses come off first.
"""

from typing import NamedTuple

from kitbuilder.kit.items import FirstStage, Hose
from kitbuilder.plans.changeover.build import Assembly, Build, Joint, JointEnds, Part, PluggedPort, ends_of_joint
from kitbuilder.plans.changeover.cylinders import same_valves
from kitbuilder.plans.changeover.programme import FROM_SOURCE, FROM_STORE, Programme

TIME_LIMIT_S = 10.0


class Match(NamedTuple):
    """Which source each part of the target is made of."""

    source: Build
    target: Build
    store: dict[str, Part]
    """The spare parts that are available, outside the source kit, by key."""
    taken: dict[str, str]
    """The key of a part of the source, by that of the target's."""
    fetched: dict[str, str]
    """The key of a part of the store, by that of the target's."""
    is_proved: bool
    """Whether no less work is possible; else the time was up and this is the best found so far."""
    valves: dict[str, str]
    """Which cylinder of the target each one of the source is, by tag."""
    left_alone: tuple[str, ...] = ()
    """The first stages of the source that stay on their valves, with all that is in their ports."""
    left_on_stages: tuple[str, ...] = ()
    """The first stages that are left over together with the stage that they sit on."""

    @property
    def bought(self) -> tuple[str, ...]:
        """The keys of the target's parts that neither the source nor the gear file has."""
        return tuple(key for key in self.target.parts if key not in self.taken and key not in self.fetched)

    @property
    def left_over(self) -> tuple[str, ...]:
        """The keys of the source's parts that the target has no use for."""
        used = set(self.taken.values())
        return tuple(key for key in self.source.parts if key not in used)

    @property
    def becomes(self) -> dict[str, str]:
        """The key of the target's part, by that of the source's."""
        return {source: target for target, source in self.taken.items()}

    @property
    def kept(self) -> tuple[Joint, ...]:
        """The screwed joints of the source that are joints of the target, too."""
        becomes, wanted = self.becomes, {ends_of_joint(joint) for joint in self.target.screwed}
        return tuple(joint for joint in self.source.screwed if _carried(joint, becomes) in wanted)

    @property
    def stored_together(self) -> tuple[Joint, ...]:
        """The screwed joints between two parts that are both left over: they stay as they are."""
        idle = set(self.left_over)
        return tuple(joint for joint in self.source.screwed if {joint.inner, joint.outer} <= idle)

    @property
    def undone(self) -> tuple[Joint, ...]:
        """The screwed joints that have to be undone."""
        stay = {*self.kept, *self.stored_together}
        return tuple(joint for joint in self.source.screwed if joint not in stay)

    @property
    def made(self) -> tuple[Joint, ...]:
        """The screwed joints of the target that have to be made."""
        becomes = self.becomes
        there = {_carried(joint, becomes) for joint in self.kept} | {ends_of_joint(joint) for joint in self.assembled}
        return tuple(joint for joint in self.target.screwed if ends_of_joint(joint) not in there)

    @property
    def assembled(self) -> tuple[Joint, ...]:
        """The screwed joints of the target between two parts of one assembly from the gear file: they are made."""
        of = {want: self.store[key].assembly for want, key in self.fetched.items()}
        joints = (joint for joint in self.target.screwed if of.get(joint.inner))
        return tuple(joint for joint in joints if of[joint.inner] == of.get(joint.outer))

    @property
    def assemblies(self) -> dict[Assembly, tuple[str, ...]]:
        """The assemblies of the gear file that parts are fetched from, with the keys of the target's parts."""
        found: dict[Assembly, tuple[str, ...]] = {}
        for want, key in self.fetched.items():
            if (assembly := self.store[key].assembly) is not None:
                found[assembly] = (*found.get(assembly, ()), want)
        return found

    @property
    def taken_apart(self) -> int:
        """How many joints of assemblies are undone at least: what is fetched comes off what is not used with it."""
        pieces = sum(map(len, self.assemblies.values())) - len(self.assembled)
        return pieces - sum(len(keys) == len(assembly.parts) for assembly, keys in self.assemblies.items())

    @property
    def couplings_kept(self) -> tuple[Joint, ...]:
        """The couplings of the source that stay on: they are couplings of the target, and their hose is left alone."""
        becomes, wanted = self.becomes, {ends_of_joint(joint): joint for joint in self.target.couplings}
        alone = {becomes[stage] for stage in self.left_alone}
        return tuple(
            joint
            for joint in self.source.couplings
            if (other := wanted.get(_carried(joint, becomes) or NOWHERE)) is not None
            and self.source.root(joint.inner) in (*self.left_alone, *self.source.without_stage)
            and self.target.root(other.inner) in (*alone, *self.target.without_stage)
        )

    @property
    def couplings_off(self) -> tuple[Joint, ...]:
        """The couplings of the source that come off."""
        kept = self.couplings_kept
        return tuple(joint for joint in self.source.couplings if joint not in kept)

    @property
    def couplings_on(self) -> tuple[Joint, ...]:
        """The couplings of the target that go on."""
        there = {_carried(joint, self.becomes) for joint in self.couplings_kept}
        return tuple(joint for joint in self.target.couplings if ends_of_joint(joint) not in there)

    @property
    def off_valves(self) -> tuple[str, ...]:
        """The first stages of the source that come off their valves."""
        stay = {*self.left_alone, *self.left_on_stages}
        return tuple(stage for stage in self.source.valves if stage not in stay)

    @property
    def on_valves(self) -> tuple[str, ...]:
        """The first stages of the target that are put on their valves."""
        there = {self.becomes[stage] for stage in self.left_alone}
        return tuple(stage for stage in self.target.valves if stage not in there)

    @property
    def plugs_out(self) -> tuple[PluggedPort, ...]:
        """The plugs of the source that come out."""
        becomes, wanted = self.becomes, {(plug.stage, plug.port) for plug in self.target.plugs}
        return tuple(
            plug
            for plug in self.source.plugs
            if plug.stage in becomes and (becomes[plug.stage], plug.port) not in wanted
        )

    @property
    def caps_out(self) -> tuple[PluggedPort, ...]:
        """Plugs that come out of first stages that were put away, or are new: all their ports are closed."""
        return tuple(
            PluggedPort(joint.inner, joint.inner_slot, joint.thread)
            for joint in self.made
            if joint.inner not in self.taken and self.target.parts[joint.inner].kind == FirstStage.kind
        )

    @property
    def plugs_in(self) -> tuple[PluggedPort, ...]:
        """The plugs of the target that go in; a part from the gear file or newly bought has them in already."""
        there = {(plug.stage, plug.port) for plug in self.source.plugs}
        stay = (plug for plug in self.target.plugs if plug.stage in self.taken)
        return tuple(plug for plug in stay if (self.taken[plug.stage], plug.port) not in there)

    @property
    def open_in_store(self) -> tuple[PluggedPort, ...]:
        """The ports of first stages left over that lose their hose: they are closed before they are put away."""
        becomes = self.becomes
        return tuple(
            PluggedPort(joint.inner, joint.inner_slot, joint.thread)
            for joint in self.undone
            if joint.inner not in becomes and self.source.parts[joint.inner].kind == FirstStage.kind
        )

    @property
    def is_worked_on(self) -> bool:
        """Whether a joint, a plug, a coupling or a first stage is undone or made."""
        return any(self.cost[1:3])

    @property
    def worked_on_hoses(self) -> frozenset[str]:
        """The hoses of the target at which a joint is made, or whose first stage is put on, by key."""
        touched = {key for joint in (*self.made, *self.couplings_on) for key in (joint.inner, joint.outer)}
        on = set(self.on_valves)
        hoses = (key for key, part in self.target.parts.items() if part.kind == Hose.kind)
        return frozenset(key for key in hoses if key in touched or self.target.root(key) in on)

    @property
    def cost(self) -> tuple[int, int, int, int]:
        """Parts bought, joints undone, joints made, parts taken from the gear file: minimised in this order."""
        screwed = len(self.undone) + len(self.plugs_out) + len(self.caps_out) + self.taken_apart
        undone = screwed + len(self.couplings_off) + len(self.off_valves)
        made = len(self.made) + len(self.plugs_in) + len(self.couplings_on) + len(self.on_valves)
        return len(self.bought), undone, made, len(self.fetched)


def match_builds(source: Build, target: Build, store: tuple[Part, ...] = (), limit_s: float = TIME_LIMIT_S) -> Match:
    """Find the least work that turns one build into another.

    Args:
        source: What is built now.
        target: What is to be built.
        store: The spare parts that are available; their keys differ from those of the source.
        limit_s: When to stop and give the best found so far.
    """
    valves = same_valves(source, target)
    choice = Programme(source, target, store, valves).solve(limit_s)
    taken = {pair.want: pair.have.key for pair in choice.pairs if pair.place == FROM_SOURCE}
    fetched = {pair.want: pair.have.key for pair in choice.pairs if pair.place == FROM_STORE}
    match = Match(source, target, {part.key: part for part in store}, taken, fetched, choice.is_proved, valves)
    return match._replace(left_alone=_left_alone(match), left_on_stages=_left_on_stages(match))


NOWHERE: JointEnds = ("", "", "", "")


def _left_alone(match: Match) -> tuple[str, ...]:
    """Give the first stages that become one on the same valve, with the same joints and plugs at their ports."""
    becomes, kept = match.becomes, set(match.kept)
    there = {_carried(joint, becomes) for joint in kept}
    return tuple(
        stage
        for stage, valve in match.source.valves.items()
        if (want := becomes.get(stage)) is not None
        and match.valves.get(valve) == match.target.valves[want]
        and match.source.plugged(stage) == match.target.plugged(want)
        and kept.issuperset(match.source.at_ports_of(stage))
        and there.issuperset(map(ends_of_joint, match.target.at_ports_of(want)))
    )


def _left_on_stages(match: Match) -> tuple[str, ...]:
    """Give the first stages that are left over with their stage, and lose nothing that is in their ports."""
    idle, together = set(match.left_over), set(match.stored_together)
    return tuple(
        stage
        for stage in match.source.on_stages
        if stage in idle
        and match.source.valves[stage] not in match.valves
        and together.issuperset(match.source.at_ports_of(stage))
    )


def _carried(joint: Joint, becomes: dict[str, str]) -> JointEnds | None:
    """Say where a joint of the source is once its parts have become the target's; None if one of them is left over."""
    inner, outer = becomes.get(joint.inner), becomes.get(joint.outer)
    return (inner, joint.inner_slot, outer, joint.outer_slot) if inner and outer else None
