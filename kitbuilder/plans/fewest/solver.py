"""The least set by integer programmes: whole numbers in, a proved choice out; nothing here knows what a hose is.

First as few runs as possible are left without a hose, then one cost after another is made least, each with those before
it held where they are. What has no candidate in common is solved apart, which changes nothing in the answer: costs add
up, and sums keep the order of what is added.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

from kitbuilder.plans.integer_programme import HALF, Constraint, minimise

Costs = tuple[int, ...]
LEFT_OUT = -1
"""In the place of a cost: how many runs are left without a hose."""


class HoseKind(NamedTuple):
    """A kind of hose, as the solver sees it."""

    serves: frozenset[int]
    """The runs it does for."""
    pieces: int | None
    """How many there are; None when any number is."""
    costs: Costs
    """Of one piece, in whole numbers."""


class Task(NamedTuple):
    """Runs of kits that are never used at the same time, and the kinds of hose there are for them."""

    kits: Mapping[int, int]
    """The kit of each run."""
    kinds: Mapping[int, HoseKind]
    stages: tuple[int, ...]
    """The places of the costs, in the order in which they are made least."""
    until: float
    """When to stop, on the monotonic clock [s]."""
    alike: frozenset[int] = frozenset()
    """Kinds of which there may be no more than so many together."""
    most_alike: int = 0

    def is_endless(self, kind: int) -> bool:
        """Say whether any number of a kind may be taken."""
        return self.kinds[kind].pieces is None and kind not in self.alike


class Solution(NamedTuple):
    """The best that was found for a task."""

    pieces: dict[int, int]
    """How many of each kind."""
    serves: dict[int, int]
    """The kind that serves each run; a run that nothing serves is missing."""
    values: tuple[int, ...]
    """How many runs are left out, then each cost in the order of the stages."""
    bounds: tuple[int, ...]
    """The lower bound of each, with those before it fixed; as far as the time limit allowed."""

    @property
    def is_proved(self) -> bool:
        """Whether nothing better is possible."""
        return self.values == self.bounds


def clusters(task: Task) -> Iterator[Task]:
    """Give the task in parts that have no kind of hose in common."""
    group = {run: run for run in task.kits}
    members = {run: [run] for run in task.kits}
    for kind in task.kinds.values():
        for one, other in pairwise(kind.serves):
            _join(group, members, one, other)
    for runs in members.values():
        kinds = {number: kind for number, kind in task.kinds.items() if not kind.serves.isdisjoint(runs)}
        yield task._replace(kits={run: task.kits[run] for run in runs}, kinds=kinds)


def _join(group: dict[int, int], members: dict[int, list[int]], one: int, other: int) -> None:
    keep, drop = sorted((group[one], group[other]))
    if keep != drop:
        moved = members.pop(drop)
        members[keep] += moved
        group.update(dict.fromkeys(moved, keep))


def solve(task: Task) -> Solution | None:
    """Find the best choice for a task, or the best in time; None when nothing was found."""
    programme = _Programme(task, _without_dominated(task))
    stages = (LEFT_OUT, *task.stages)
    found: Solution | None = None
    for place, stage in enumerate(stages):
        if found is None or found.values[place] > 0:  # what is zero already cannot be less
            solved = programme.solve_stage(stage)
            if solved is None:
                return found
            pieces, serves, bound = solved
            values = tuple(_value(each, task, pieces, serves) for each in stages)
            found = Solution(pieces, serves, values, (*(found.bounds if found else ()), bound))
        else:
            found = found._replace(bounds=(*found.bounds, 0))
        if found.bounds[place] < found.values[place]:
            return found
        programme.hold(stage, found.values[place])
    return found


def _value(stage: int, task: Task, pieces: dict[int, int], serves: dict[int, int]) -> int:
    if stage == LEFT_OUT:
        return len(task.kits) - len(serves)
    return sum(count * task.kinds[kind].costs[stage] for kind, count in pieces.items())


def _without_dominated(task: Task) -> dict[int, HoseKind]:
    """Give the kinds without those in whose place any number of another does as much and costs no more."""
    kept: dict[int, HoseKind] = {}
    endless: list[HoseKind] = []
    # Endless kinds come first, the cheapest ahead: whatever can replace a kind is known before the kind is judged.
    for number, kind in sorted(task.kinds.items(), key=lambda item: (not task.is_endless(item[0]), item[1].costs)):
        if any(_does_instead(other, kind) for other in endless):
            continue
        kept[number] = kind
        if task.is_endless(number):
            endless.append(kind)
    return kept


def _does_instead(other: HoseKind, kind: HoseKind) -> bool:
    return kind.serves <= other.serves and all(
        theirs <= own for theirs, own in zip(other.costs, kind.costs, strict=True)
    )


class _Programme:
    """The integer programme of a task, and what is held of it.

    The unknowns: a kind serves a run, zero or one; a run is left out, zero or one; how many pieces of a kind.
    """

    def __init__(self, task: Task, kinds: Mapping[int, HoseKind]) -> None:
        self._task, self._kinds = task, kinds
        self._pairs = [(run, number) for number, kind in kinds.items() for run in sorted(kind.serves)]
        self._first_out = len(self._pairs)
        self._first_piece = self._first_out + len(task.kits)
        self._rows: list[Constraint] = [*self._each_run(), *self._each_kit(), *self._together()]

    def _each_run(self) -> Iterator[Constraint]:
        """Require that each run is served by one kind or left out."""
        terms: dict[int, list[tuple[int, float]]] = {
            run: [(self._first_out + place, 1.0)] for place, run in enumerate(self._task.kits)
        }
        for place, (run, _) in enumerate(self._pairs):
            terms[run].append((place, 1.0))
        for each in terms.values():
            yield each, 1.0, 1.0

    def _each_kit(self) -> Iterator[Constraint]:
        """Require a piece of each kind for each run that it serves in one kit: a kit uses all its hoses at once."""
        places = dict(self._places())
        terms: dict[tuple[int, int], list[tuple[int, float]]] = defaultdict(list)
        for place, (run, number) in enumerate(self._pairs):
            terms[number, self._task.kits[run]].append((place, 1.0))
        for (number, _), each in terms.items():
            yield [*each, (places[number], -1.0)], float("-inf"), 0.0

    def _together(self) -> Iterator[Constraint]:
        """Limit the number of pieces of kinds that are alike."""
        terms = [(place, 1.0) for number, place in self._places() if number in self._task.alike]
        if terms:
            yield terms, float("-inf"), float(self._task.most_alike)

    def _places(self) -> Iterator[tuple[int, int]]:
        return ((number, self._first_piece + place) for place, number in enumerate(self._kinds))

    def hold(self, stage: int, value: int) -> None:
        """Let a cost be no more than it came to; half of one is room for the solver's own rounding."""
        terms = [(place, cost) for place, cost in enumerate(self._costs(stage)) if cost]
        self._rows.append((terms, float("-inf"), value + 0.5))

    def _costs(self, stage: int) -> list[float]:
        if stage == LEFT_OUT:
            return [0.0] * self._first_out + [1.0] * len(self._task.kits) + [0.0] * len(self._kinds)
        return [0.0] * self._first_piece + [float(kind.costs[stage]) for kind in self._kinds.values()]

    def _most(self) -> list[float]:
        """Give the most each unknown can be: a run with a kind of which there is any number is never left out."""
        endless = (kind for number, kind in self._kinds.items() if self._task.is_endless(number))
        always = frozenset[int]().union(*(kind.serves for kind in endless))
        out = [0.0 if run in always else 1.0 for run in self._task.kits]
        return [1.0] * self._first_out + out + [float(self._most_pieces(kind)) for kind in self._kinds.values()]

    def _most_pieces(self, kind: HoseKind) -> int:
        at_once = max(Counter(self._task.kits[run] for run in kind.serves).values(), default=0)
        return at_once if kind.pieces is None else min(kind.pieces, at_once)

    def solve_stage(self, stage: int) -> tuple[dict[int, int], dict[int, int], int] | None:
        """Minimise one cost: give the pieces, the runs they serve, and the lower bound of the cost."""
        found = minimise(self._costs(stage), self._rows, self._most(), self._task.until)
        if found is None:
            return None
        values, bound = found
        serves = {run: number for (run, number), value in zip(self._pairs, values, strict=False) if value > HALF}
        counts = zip(self._kinds, values[self._first_piece :], strict=True)
        return {number: round(count) for number, count in counts if count > HALF}, serves, bound
