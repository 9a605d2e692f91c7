"""The integer programme of the match: what is chosen, what then stays as it is, and what each of it is worth.

The unknowns, each zero or one: an available part becomes one that is wanted; a joint of the source is kept; one stays
since both its parts are left over; a first stage is left alone on its valve; a stage that is left over keeps its first
stage; a coupling stays on; a joint of an assembly from the gear file is used; an assembly is taken complete.
"""

from collections.abc import Iterable
from time import monotonic
from typing import NamedTuple

from kitbuilder.assess.gear.sameness import serves
from kitbuilder.kit.items import FirstStage
from kitbuilder.plans.changeover.build import Build, Joint, Part
from kitbuilder.plans.integer_programme import HALF, Constraint, minimise

FROM_SOURCE, FROM_STORE = "source", "store"
"""Where an available part comes from."""
_NO_LEAST = float("-inf")


class Pair(NamedTuple):
    """An available part that does for one that is wanted."""

    place: str
    """One of the words above."""
    have: Part
    want: str


class Choice(NamedTuple):
    """What a programme comes to."""

    pairs: list[Pair]
    is_proved: bool
    """Whether none better are possible."""
    gain: int
    """What all that is chosen is worth together."""


class Weights(NamedTuple):
    """What one part fetched less, one joint made less, one undone less, and one part bought less are worth.

    Each exceeds all that the smaller ones can add up to, so that one programme decides the four in order.
    """

    near: int
    make: int
    undo: int
    get: int


def weights_for(source: Build, target: Build) -> Weights:
    """Give the weights for two builds."""
    near = 1
    make = near * (1 + len(target.parts))
    undo = make * (1 + len(target.joints) + len(target.plugs) + len(target.valves))
    of_source = len(source.joints) + len(source.plugs) + len(source.valves)
    # A first stage from elsewhere has its ports opened; each part out of an assembly is taken off the others.
    get = undo * (1 + of_source + len(target.joints) + len(target.parts))
    return Weights(near, make, undo, get)


class Programme:
    """One programme: unknowns are added with their gain and with what they require."""

    def __init__(self, source: Build, target: Build, store: Iterable[Part], valves: dict[str, str]) -> None:
        """Write the programme.

        Args:
            source: What is built now.
            target: What is to be built.
            store: The spare parts that are available.
            valves: Which cylinder of the target each one of the source is, by tag.
        """
        self.source, self.target, self.valves = source, target, valves
        self.worth = weights_for(source, target)
        available = [(FROM_SOURCE, part) for part in source.parts.values()] + [(FROM_STORE, part) for part in store]
        self.pairs = [
            Pair(place, part, want.key)
            for place, part in available
            for want in target.parts.values()
            if serves(part.piece, want.piece)
        ]
        self.of = {(pair.place, pair.have.key, pair.want): number for number, pair in enumerate(self.pairs)}
        self.gains: list[int] = []
        self.rows: list[Constraint] = []
        self._choose_parts()
        self._keep_joints()
        self._leave_stages_alone()
        self._leave_couplings_on()
        self._use_assemblies()

    def solve(self, limit_s: float) -> Choice:
        """Give the pairs to choose, within a time [s]."""
        if not self.gains:
            return Choice([], is_proved=True, gain=0)
        costs = [-gain for gain in self.gains]
        found = minimise(costs, self.rows, [1.0] * len(costs), monotonic() + limit_s)
        if found is None:
            return Choice([], is_proved=False, gain=0)
        values, bound = found
        least = round(sum(cost * round(value) for cost, value in zip(costs, values, strict=True)))
        pairs = [pair for number, pair in enumerate(self.pairs) if values[number] > HALF]
        return Choice(pairs, is_proved=bound == least, gain=-least)

    # ---- unknowns ----

    def _add(self, gain: int) -> int:
        self.gains.append(gain)
        return len(self.gains) - 1

    def _only_with(self, unknown: int, *needed: Iterable[int]) -> None:
        """Require that an unknown is one only if, of each group, one is."""
        for group in needed:
            self.rows.append(([(unknown, 1.0), *((each, -1.0) for each in group)], _NO_LEAST, 0.0))

    def _only_without(self, unknown: int, others: Iterable[int]) -> None:
        """Require that an unknown is one only if none of the others is, of which at most one can be."""
        self.rows.append(([(unknown, 1.0), *((each, 1.0) for each in others)], _NO_LEAST, 1.0))

    def _choose_parts(self) -> None:
        """Take each available part once, and make each one wanted of one."""
        plugs = _plug_gains(self.source, self.target)
        used: dict[object, list[tuple[int, float]]] = {}
        for pair in self.pairs:
            number = self._add(self.worth.get + self._gain_of(pair, plugs))
            used.setdefault((pair.place, pair.have.key), []).append((number, 1.0))
            used.setdefault(pair.want, []).append((number, 1.0))
        self.rows += [(terms, _NO_LEAST, 1.0) for terms in used.values()]
        self.uses = {have: [number for number, _ in terms] for have, terms in used.items()}

    def _gain_of(self, pair: Pair, plugs: dict[tuple[str, str], tuple[int, int]]) -> int:
        """Give the gain of a part of the source over one of the store, or a new one."""
        if pair.place == FROM_STORE:
            return -self.worth.undo if pair.have.assembly else 0
        less_undone, more_made = plugs.get((pair.have.key, pair.want), (0, 0))
        return self.worth.near + self.worth.undo * less_undone - self.worth.make * more_made

    def _keep_joints(self) -> None:
        """Keep a screwed joint as one of the target, or leave it between two parts that are left over."""
        self.kept_from: dict[Joint, list[int]] = {joint: [] for joint in self.source.screwed}
        self.kept_as: dict[Joint, list[int]] = {joint: [] for joint in self.target.screwed}
        self.idle: dict[Joint, int] = {}
        for joint in self.source.screwed:
            for other in self.target.screwed:
                if (both := self._both(joint, other)) is not None:
                    unknown = self._add(self.worth.undo + self.worth.make)
                    self._only_with(unknown, *([each] for each in both))
                    self.kept_from[joint].append(unknown)
                    self.kept_as[other].append(unknown)
            self.idle[joint] = self._add(self.worth.undo)
            for key in (joint.inner, joint.outer):
                self._only_without(self.idle[joint], self._uses_of(key))

    def _both(self, joint: Joint, other: Joint) -> tuple[int, int] | None:
        """Give the two pairs that must be chosen for a joint to be another; None where they cannot be one."""
        if (joint.inner_slot, joint.outer_slot) != (other.inner_slot, other.outer_slot):
            return None
        inner = self.of.get((FROM_SOURCE, joint.inner, other.inner))
        outer = self.of.get((FROM_SOURCE, joint.outer, other.outer))
        return None if inner is None or outer is None else (inner, outer)

    def _uses_of(self, key: str) -> list[int]:
        return self.uses.get((FROM_SOURCE, key), [])

    def _leave_stages_alone(self) -> None:
        """Leave a first stage on its valve when that stays and no port is opened, or when its stage is left over."""
        self.alone_from: dict[str, list[int]] = {stage: [] for stage in self.source.valves}
        self.alone_as: dict[str, list[int]] = {stage: [] for stage in self.target.valves}
        for pair in self.pairs:
            have, want = pair.have.key, pair.want
            if pair.place != FROM_SOURCE or pair.have.kind != FirstStage.kind or not self._may_stay(have, want):
                continue
            unknown = self._add(self.worth.undo + self.worth.make)
            self._only_with(unknown, [self.of[FROM_SOURCE, have, want]])
            self._only_with(unknown, *(self.kept_from[joint] for joint in self.source.at_ports_of(have)))
            self._only_with(unknown, *(self.kept_as[joint] for joint in self.target.at_ports_of(want)))
            self.alone_from[have].append(unknown)
            self.alone_as[want].append(unknown)
        for stage in self.source.on_stages:
            if self.source.valves[stage] not in self.valves:
                unknown = self._add(self.worth.undo)
                self._only_without(unknown, self._uses_of(stage))
                self._only_with(unknown, *([self.idle[joint]] for joint in self.source.at_ports_of(stage)))

    def _may_stay(self, have: str, want: str) -> bool:
        is_there = self.valves.get(self.source.valves[have]) == self.target.valves[want]
        return is_there and self.source.plugged(have) == self.target.plugged(want)

    def _leave_couplings_on(self) -> None:
        """Leave a coupling on whose first stage is left alone."""
        for joint in self.source.couplings:
            for other in self.target.couplings:
                both = self._both(joint, other)
                if both is None:
                    continue
                unknown = self._add(self.worth.undo + self.worth.make)
                self._only_with(unknown, *([each] for each in both))
                for alone, root in (
                    (self.alone_from, self.source.root(joint.inner)),
                    (self.alone_as, self.target.root(other.inner)),
                ):
                    if root in alone:
                        self._only_with(unknown, alone[root])

    def _use_assemblies(self) -> None:
        """Keep the joints of what is assembled in the gear file, and take it complete where that is less work."""
        together: dict[str, list[Pair]] = {}
        for pair in self.pairs:
            if pair.have.assembly:
                together.setdefault(pair.have.assembly.tag, []).append(pair)
        for pairs in together.values():
            by_want: dict[str, list[int]] = {}
            by_have: dict[str, list[int]] = {}
            for pair in pairs:
                number = self.of[FROM_STORE, pair.have.key, pair.want]
                by_want.setdefault(pair.want, []).append(number)
                by_have.setdefault(pair.have.key, []).append(number)
            for joint in self.target.screwed:
                if joint.inner in by_want and joint.outer in by_want:
                    opens = self.target.parts[joint.inner].kind == FirstStage.kind
                    unknown = self._add(self.worth.undo * (2 if opens else 1) + self.worth.make)
                    self._only_with(unknown, by_want[joint.inner], by_want[joint.outer])
            assembly = pairs[0].have.assembly
            if assembly is not None and len(by_have) == len(assembly.parts):
                self._only_with(self._add(self.worth.undo), *by_have.values())


def _plug_gains(source: Build, target: Build) -> dict[tuple[str, str], tuple[int, int]]:
    """Count the plugs that need not come out, and those that go in, for a first stage of the source kept in the target.

    For one from the gear file or newly bought, which has all its ports closed.
    """
    stages = [[key for key, part in where.parts.items() if part.kind == FirstStage.kind] for where in (source, target)]
    used = [joint.inner for joint in target.screwed]
    gains = {}
    for have in stages[0]:
        for want in stages[1]:
            before, after = source.plugged(have), target.plugged(want)
            gains[have, want] = used.count(want) - len(before - after), len(after - before)
    return gains
