"""From kits to whole numbers for the solver, and from its choice back to hoses."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Range
from kitbuilder.plans.fewest.answer import COUNT, MASS, MASS_STEP_KG, PRICE, PRICE_STEP, Assignment, SecondBest, SetHose
from kitbuilder.plans.fewest.candidates import (
    CandidateHose,
    HoseSources,
    Spec,
    candidates_for,
    length_on,
    mass_of,
    why_it_serves,
)
from kitbuilder.plans.fewest.reasons import NO_TIME, Unserved, ranges_of, reason_for, runs_apart, unserved_of
from kitbuilder.plans.fewest.runs import Lengths, Run, runs_of
from kitbuilder.plans.fewest.solver import HoseKind, Solution, Task, clusters, solve

COSTS = {COUNT: (0, 4), MASS: (1,), PRICE: (2, 3)}
"""The places of what is made least. Of two sets of one size that with fewer hoses to buy, since nobody buys another to
save a gram; of two of one price that with fewer hoses without a price, since those count as free.
"""
MOST_MORE = 1
"""How many hoses more than the best a second best may have to be worth telling: one hose is what a spare costs."""


class Search:
    """The runs, the hoses there are for them, and the task that comes of it."""

    def __init__(
        self,
        kits: Sequence[tuple[str, Assessment]],
        sources: HoseSources,
        order: tuple[str, ...],
        *,
        any_body: bool,
        until: float,
    ) -> None:
        """Find the runs of some kits, the hoses there may be for them, and which serves which."""
        self.runs = runs_of(kits)
        self.candidates = candidates_for(self.runs, sources)
        self._alike: dict[Spec, set[int]] = {}
        for number, candidate in enumerate(self.candidates):
            self._alike.setdefault(candidate.spec.unweighed, set()).add(number)
        self._heaviest = _heaviest_owned(self.candidates)
        self.any_body = any_body
        self.lengths = Lengths()
        self._stages = tuple(place for name in order for place in COSTS[name])
        self._until = until
        self.task = self.task_for(any_body=any_body)
        self.parts = tuple(clusters(self.task))

    def task_for(self, *, any_body: bool) -> Task:
        """Give the runs that have any hose that would do, for the solver."""
        kinds = {}
        for number, candidate in enumerate(self.candidates):
            serves = frozenset(
                run.number for run in self.runs if why_it_serves(run, candidate, self.lengths, any_body=any_body)
            )
            if serves:
                kinds[number] = HoseKind(serves, candidate.pieces, _costs(candidate, self._heaviest))
        served = frozenset().union(*(kind.serves for kind in kinds.values()))
        kit_of = {run.number: run.kit for run in self.runs if run.number in served}
        return Task(kit_of, kinds, self._stages, self._until)

    def suited(self, run: Run) -> list[CandidateHose]:
        """Give the hoses that would serve a run."""
        return [self.candidates[number] for number, kind in self.task.kinds.items() if run.number in kind.serves]

    def hoses(self, choices: Iterable[Solution]) -> tuple[SetHose, ...]:
        """Give the hoses that were chosen, each with the runs it serves."""
        found = [hose for choice in choices for hose in self._hoses_of(choice)]
        return tuple(
            sorted(found, key=lambda hose: (hose.candidate.spec.service != "LP", hose.candidate.spec.length_m))
        )

    def _hoses_of(self, choice: Solution) -> Iterator[SetHose]:
        for number, pieces in choice.pieces.items():
            served: list[list[Run]] = [[] for _ in range(pieces)]
            in_kit: Counter[int] = Counter()
            for run in self.runs:
                if choice.serves.get(run.number) == number:
                    served[in_kit[run.kit]].append(run)
                    in_kit[run.kit] += 1
            for piece, runs in enumerate(filter(None, served)):  # found in haste, there may be needless ones
                yield self._hose(self.candidates[number], piece, runs)

    def _hose(self, candidate: CandidateHose, piece: int, runs: Sequence[Run]) -> SetHose:
        tag = candidate.tags[min(piece, len(candidate.tags) - 1)] if candidate.tags else ""
        mass = mass_of(candidate.spec, f"{tag or candidate.spec} {piece}")
        return SetHose(candidate, tag, mass, tuple(self._assignment(run, candidate) for run in runs), None)

    def _assignment(self, run: Run, candidate: CandidateHose) -> Assignment:
        option = self.lengths.tried(run, length_on(run, candidate.spec))
        why = why_it_serves(run, candidate, self.lengths, any_body=self.any_body)
        return Assignment(run, why, option.odds if option else None)

    def with_reasons(self, hoses: Sequence[SetHose], solved: Sequence[tuple[Task, Solution]]) -> tuple[SetHose, ...]:
        """Give the hoses with the runs that force them, in each part of the task with as many such runs as hoses."""
        forcing: list[Run] = []
        for part, choice in solved:
            served = part._replace(kits={run: part.kits[run] for run in choice.serves})
            apart = runs_apart(served)
            if len(apart) == sum(choice.pieces.values()):
                forcing += [self.runs[number] for number in apart]
        ranges = ranges_of({run.number: self.suited(run) for run in forcing})
        numbers = {run.number for run in forcing}
        return tuple(self._with_reason(hose, numbers, forcing, ranges) for hose in hoses)

    def _with_reason(
        self, hose: SetHose, numbers: set[int], forcing: Sequence[Run], ranges: dict[int, Range]
    ) -> SetHose:
        own = next((assignment.run for assignment in hose.serves if assignment.run.number in numbers), None)
        if own is None:
            return hose
        return hose._replace(reason=reason_for(own, forcing, ranges, any_body=self.any_body))

    def unserved_runs(self, found: Sequence[tuple[Task, Solution | None]]) -> Iterator[Unserved]:
        """Give the runs without a hose, and why."""
        served = {run for _, choice in found if choice for run in choice.serves}
        no_time = {run for part, choice in found if choice is None for run in part.kits}
        for run in self.runs:
            if run.number in no_time:
                yield Unserved(run, None, NO_TIME)
            elif run.number not in served:
                yield unserved_of(run, self.candidates, self.suited(run), self.lengths, any_body=self.any_body)

    def second_best(self, solved: Sequence[tuple[Task, Solution]], hoses: tuple[SetHose, ...]) -> SecondBest | None:
        """Give the best set that has fewer of some hoses that are alike than the best has, if it costs little more.

        Every other set is such a one, or has all the hoses of the best set and needless ones. None when there is
        none, or it is not proved in time.
        """
        best: tuple[tuple[int, ...], int, Solution] | None = None
        for place, (part, choice) in enumerate(solved):
            for alike in {frozenset(self._alike[self.candidates[kind].spec.unweighed]) for kind in choice.pieces}:
                pieces = sum(count for kind, count in choice.pieces.items() if kind in alike)
                other = solve(part._replace(alike=alike, most_alike=pieces - 1))
                if other is None or not other.is_proved:
                    return None  # the time was up: which of the others is best is not known
                # A set that leaves more runs without a hose is no second best.
                if other.values[0] > choice.values[0]:
                    continue
                more = tuple(new - old for new, old in zip(other.values, choice.values, strict=True))
                if best is None or (more, place) < best[:2]:
                    best = more, place, other
        if best is None:
            return None
        _, place, other = best
        others = self.hoses([other if place == here else choice for here, (_, choice) in enumerate(solved)])
        if len(others) > len(hoses) + MOST_MORE:
            return None
        before, after = (Counter(self.candidates.index(hose.candidate) for hose in each) for each in (hoses, others))
        return SecondBest(others, self._listed(before - after), self._listed(after - before))

    def _listed(self, counts: Counter[int]) -> tuple[CandidateHose, ...]:
        return tuple(self.candidates[number] for number in counts.elements())


def _costs(candidate: CandidateHose, heaviest: dict[Spec, float]) -> tuple[int, ...]:
    """Give the costs in whole numbers; a hose to buy counts as no lighter than an equal one that was weighed."""
    mass, price = candidate.mass.value, candidate.price or 0.0
    if not candidate.is_owned:
        mass = max(mass, heaviest.get(candidate.spec, 0.0))
    unpriced, bought = candidate.price is None, not candidate.is_owned
    return 1, round(mass / MASS_STEP_KG), round(price / PRICE_STEP), int(unpriced), int(bought)


def _heaviest_owned(candidates: Sequence[CandidateHose]) -> dict[Spec, float]:
    found: dict[Spec, float] = {}
    for candidate in candidates:
        if candidate.is_owned:
            spec = candidate.spec.unweighed
            found[spec] = max(found.get(spec, 0.0), candidate.mass.value)
    return found
