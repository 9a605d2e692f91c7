"""Which part of one build becomes which part of another: the least work, by an integer programme.

Lexicographic: first the fewest parts got from elsewhere, then the fewest joints undone, then the fewest made, then the
fewest parts fetched. Couplings do not count: all of them come off before the first spanner is taken up.
"""

from itertools import count
from time import monotonic
from typing import NamedTuple

from kitbuilder.assess.gear.sameness import serves
from kitbuilder.kit.items import FirstStage
from kitbuilder.plans.changeover.build import Build, Joint, Part, PluggedPort
from kitbuilder.plans.integer_programme import HALF, Constraint, minimise

TIME_LIMIT_S = 10.0


class Match(NamedTuple):
    """Which source each part of the target is made of."""

    source: Build
    target: Build
    store: dict[str, Part]
    """The spare parts at hand, outside the source kit, by key."""
    taken: dict[str, str]
    """The key of a part of the source, by that of the target's."""
    fetched: dict[str, str]
    """The key of a part of the store, by that of the target's."""
    is_proved: bool
    """Whether no less work is possible; else the time was up and this is the best found so far."""

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
        there = {_carried(joint, becomes) for joint in self.kept}
        return tuple(joint for joint in self.target.screwed if ends_of_joint(joint) not in there)

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
            for joint in self.target.screwed
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
    def cost(self) -> tuple[int, int, int, int]:
        """Parts bought, joints undone, joints made, parts taken from the gear file: minimised in this order."""
        undone = len(self.undone) + len(self.plugs_out) + len(self.caps_out)
        made = len(self.made) + len(self.plugs_in)
        return len(self.bought), undone, made, len(self.fetched)


def match_builds(source: Build, target: Build, store: tuple[Part, ...] = (), limit_s: float = TIME_LIMIT_S) -> Match:
    """Find the least work that turns one build into another.

    Args:
        source: What is built now.
        target: What is to be built.
        store: The spare parts at hand; their keys differ from those of the source.
        limit_s: When to stop and give the best found so far.
    """
    sources = [("source", part) for part in source.parts.values()] + [("store", part) for part in store]
    pairs = [
        _Pair(number, place, part.key, want.key)
        for number, (place, part) in enumerate(sources)
        for want in target.parts.values()
        if serves(part.piece, want.piece)
    ]
    chosen, is_proved = _solve(source, target, pairs, limit_s)
    taken = {pair.want: pair.have for pair in chosen if pair.place == "source"}
    fetched = {pair.want: pair.have for pair in chosen if pair.place == "store"}
    return Match(source, target, {part.key: part for part in store}, taken, fetched, is_proved)


class _Pair(NamedTuple):
    """A part at hand that does for one that is wanted."""

    number: int
    """Of the part at hand, among all sources."""
    place: str
    have: str
    want: str


def _solve(source: Build, target: Build, pairs: list[_Pair], limit_s: float) -> tuple[list[_Pair], bool]:
    """Give the pairs to choose, and whether none better are possible.

    The unknowns, each zero or one: a pair is chosen; a joint of the source is kept as a joint of the target; a joint
    of the source stays since both its parts are left over.
    """
    if not pairs:
        return [], True
    by_want = {(pair.have, pair.want): place for place, pair in enumerate(pairs) if pair.place == "source"}
    kept = list(_keepable(source, target, by_want))
    idle = list(source.screwed)
    rows = [*_once(pairs), *_kept_rows(kept, len(pairs)), *_idle_rows(idle, pairs, len(pairs) + len(kept))]
    gains = _gains(source, target, pairs, len(kept), len(idle))
    found = minimise([-gain for gain in gains], rows, [1.0] * len(gains), monotonic() + limit_s)
    if found is None:
        return [], False
    values, bound = found
    least = round(sum(-gain * round(value) for gain, value in zip(gains, values, strict=True)))
    return [pair for place, pair in enumerate(pairs) if values[place] > HALF], bound == least


_NO_LEAST = float("-inf")


def _once(pairs: list[_Pair]) -> list[Constraint]:
    """Require that each part at hand is used once, and that each one wanted is made of one."""
    rows: dict[object, list[tuple[int, float]]] = {}
    for place, pair in enumerate(pairs):
        rows.setdefault(("have", pair.number), []).append((place, 1.0))
        rows.setdefault(("want", pair.want), []).append((place, 1.0))
    return [(terms, _NO_LEAST, 1.0) for terms in rows.values()]


def _keepable(source: Build, target: Build, by_want: dict[tuple[str, str], int]) -> list[tuple[int, int]]:
    """Give, for each joint that could be kept as another, the two pairs that must be chosen for it."""
    wanted: dict[tuple[str, str], list[Joint]] = {}
    for joint in target.screwed:
        wanted.setdefault((joint.inner_slot, joint.outer_slot), []).append(joint)
    return [
        (by_want[joint.inner, other.inner], by_want[joint.outer, other.outer])
        for joint in source.screwed
        for other in wanted.get((joint.inner_slot, joint.outer_slot), ())
        if (joint.inner, other.inner) in by_want and (joint.outer, other.outer) in by_want
    ]


def _kept_rows(kept: list[tuple[int, int]], first: int) -> list[Constraint]:
    """Require that a joint is kept only if both its parts become the right ones."""
    return [
        ([(number, 1.0), (pair, -1.0)], _NO_LEAST, 0.0)
        for number, both in zip(count(first), kept, strict=False)
        for pair in both
    ]


def _idle_rows(idle: list[Joint], pairs: list[_Pair], first: int) -> list[Constraint]:
    """Require that a joint stays by itself only if neither of its parts is used."""
    uses: dict[str, list[tuple[int, float]]] = {}
    for place, pair in enumerate(pairs):
        if pair.place == "source":
            uses.setdefault(pair.have, []).append((place, 1.0))
    return [
        ([(number, 1.0), *uses.get(key, [])], _NO_LEAST, 1.0)
        for number, joint in zip(count(first), idle, strict=False)
        for key in (joint.inner, joint.outer)
    ]


def _gains(source: Build, target: Build, pairs: list[_Pair], kept: int, idle: int) -> list[int]:
    """Say what each unknown is worth, so that the least cost is the greatest gain; see the head of this file."""
    # Each weight exceeds all that the smaller ones can add up to: one programme decides the four costs in order.
    near = 1
    make = near * (1 + len(target.parts))
    undo = make * (1 + len(target.screwed) + len(target.plugs))
    get = undo * (1 + len(source.screwed) + len(source.plugs) + len(target.screwed))
    plugs = _plug_gains(source, target)
    of_pairs = [get + _taken_gain(pair, plugs, near, make, undo) for pair in pairs]
    return [*of_pairs, *[undo + make] * kept, *[undo] * idle]


def _taken_gain(pair: _Pair, plugs: dict[tuple[str, str], tuple[int, int]], near: int, make: int, undo: int) -> int:
    """Give the gain of a part of the source over one of the store, or a new one."""
    if pair.place != "source":
        return 0
    less_undone, more_made = plugs.get((pair.have, pair.want), (0, 0))
    return near + undo * less_undone - make * more_made


def _plug_gains(source: Build, target: Build) -> dict[tuple[str, str], tuple[int, int]]:
    """Count the plugs that need not come out, and those that go in, for a first stage of the source kept in the target.

    For one from the gear file or newly bought, which has all its ports closed.
    """
    stages = [[key for key, part in where.parts.items() if part.kind == FirstStage.kind] for where in (source, target)]
    plugged = {(key, port) for key, port, _ in source.plugs}
    wanted = {(key, port) for key, port, _ in target.plugs}
    used = {(joint.inner, joint.inner_slot) for joint in target.screwed}
    gains = {}
    for have in stages[0]:
        for want in stages[1]:
            out = sum(key == have and (want, port) not in wanted for key, port in plugged)
            into = sum(key == want and (have, port) not in plugged for key, port in wanted)
            gains[have, want] = sum(key == want for key, _ in used) - out, into
    return gains


JointEnds = tuple[str, str, str, str]


def ends_of_joint(joint: Joint) -> JointEnds:
    """Say where a joint is: parts and slots."""
    return joint.inner, joint.inner_slot, joint.outer, joint.outer_slot


def _carried(joint: Joint, becomes: dict[str, str]) -> JointEnds | None:
    """Say where a joint of the source is once its parts have become the target's; None if one of them is left over."""
    inner, outer = becomes.get(joint.inner), becomes.get(joint.outer)
    return (inner, joint.inner_slot, outer, joint.outer_slot) if inner and outer else None
