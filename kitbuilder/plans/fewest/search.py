"""From kits to whole numbers for the solver, and from its choice back to hoses."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Range
from kitbuilder.plans.fewest.least import Choice, Kind, Task, clusters, solve
from kitbuilder.plans.fewest.offers import Offer, Sources, Spec, mass_of, offers_for, why_it_serves
from kitbuilder.plans.fewest.reasons import NO_TIME, Miss, miss_of, ranges_of, reason_for, runs_apart
from kitbuilder.plans.fewest.records import COUNT, MASS, MASS_STEP_KG, PRICE, PRICE_STEP, SecondBest, Serving, SetHose
from kitbuilder.plans.fewest.runs import Lengths, Run, runs_of

COSTS = {COUNT: (0, 4), MASS: (1,), PRICE: (2, 3)}
"""The places of what is made least. Of two sets of one size that with fewer hoses to buy, since nobody buys another to
save a gram; of two of one price that with fewer hoses whose price is not told, since that counts as nothing.
"""
MOST_MORE = 1
"""How many hoses more than the best a second best may have to be worth telling: one hose is what a spare costs."""


class Search:
    """The runs, the hoses there are for them, and the task that comes of it."""

    def __init__(
        self,
        kits: Sequence[tuple[str, Assessment]],
        sources: Sources,
        order: tuple[str, ...],
        *,
        any_body: bool,
        until: float,
    ) -> None:
        """Find the runs of some kits, the hoses there may be for them, and which serves which."""
        self.runs = runs_of(kits)
        self.offers = offers_for(self.runs, sources)
        self._alike: dict[Spec, set[int]] = {}
        for number, offer in enumerate(self.offers):
            self._alike.setdefault(offer.spec.unweighed, set()).add(number)
        self._heaviest = _heaviest_owned(self.offers)
        self.any_body = any_body
        self.lengths = Lengths()
        self._stages = tuple(place for name in order for place in COSTS[name])
        self._until = until
        self.task = self.task_for(any_body=any_body)
        self.parts = tuple(clusters(self.task))

    def task_for(self, *, any_body: bool) -> Task:
        """The runs that have any hose that would do, for the solver."""
        kinds = {}
        for number, offer in enumerate(self.offers):
            serves = frozenset(
                run.number for run in self.runs if why_it_serves(run, offer, self.lengths, any_body=any_body)
            )
            if serves:
                kinds[number] = Kind(serves, offer.pieces, _costs(offer, self._heaviest))
        served = frozenset().union(*(kind.serves for kind in kinds.values()))
        kit_of = {run.number: run.kit for run in self.runs if run.number in served}
        return Task(kit_of, kinds, self._stages, self._until)

    def candidates(self, run: Run) -> list[Offer]:
        """The hoses that would serve a run."""
        return [self.offers[number] for number, kind in self.task.kinds.items() if run.number in kind.serves]

    def hoses(self, choices: Iterable[Choice]) -> tuple[SetHose, ...]:
        """The hoses that were chosen, each with the runs it serves."""
        found = [hose for choice in choices for hose in self._hoses_of(choice)]
        return tuple(sorted(found, key=lambda hose: (hose.offer.spec.service != "LP", hose.offer.spec.length_m)))

    def _hoses_of(self, choice: Choice) -> Iterator[SetHose]:
        for number, pieces in choice.pieces.items():
            served: list[list[Run]] = [[] for _ in range(pieces)]
            in_kit: Counter[int] = Counter()
            for run in self.runs:
                if choice.serves.get(run.number) == number:
                    served[in_kit[run.kit]].append(run)
                    in_kit[run.kit] += 1
            for piece, runs in enumerate(filter(None, served)):  # found in haste, there may be needless ones
                yield self._hose(self.offers[number], piece, runs)

    def _hose(self, offer: Offer, piece: int, runs: Sequence[Run]) -> SetHose:
        tag = offer.tags[min(piece, len(offer.tags) - 1)] if offer.tags else ""
        mass = mass_of(offer.spec, f"{tag or offer.spec} {piece}")
        serves = (Serving(run, why_it_serves(run, offer, self.lengths, any_body=self.any_body)) for run in runs)
        return SetHose(offer, tag, mass, tuple(serves), None)

    def with_reasons(self, hoses: Sequence[SetHose], solved: Sequence[tuple[Task, Choice]]) -> tuple[SetHose, ...]:
        """The hoses with the runs that force them, in each part of the task where these are as many as the hoses."""
        forcing: list[Run] = []
        for part, choice in solved:
            served = part._replace(kits={run: part.kits[run] for run in choice.serves})
            apart = runs_apart(served)
            if len(apart) == sum(choice.pieces.values()):
                forcing += [self.runs[number] for number in apart]
        ranges = ranges_of({run.number: self.candidates(run) for run in forcing})
        numbers = {run.number for run in forcing}
        return tuple(self._with_reason(hose, numbers, forcing, ranges) for hose in hoses)

    def _with_reason(
        self, hose: SetHose, numbers: set[int], forcing: Sequence[Run], ranges: dict[int, Range]
    ) -> SetHose:
        own = next((serving.run for serving in hose.serves if serving.run.number in numbers), None)
        if own is None:
            return hose
        return hose._replace(reason=reason_for(own, forcing, ranges, any_body=self.any_body))

    def misses(self, found: Sequence[tuple[Task, Choice | None]]) -> Iterator[Miss]:
        """The runs without a hose, and why."""
        served = {run for _, choice in found if choice for run in choice.serves}
        no_time = {run for part, choice in found if choice is None for run in part.kits}
        for run in self.runs:
            if run.number in no_time:
                yield Miss(run, None, NO_TIME, 0.0, 0.0)
            elif run.number not in served:
                yield miss_of(run, self.offers, self.candidates(run), self.lengths, any_body=self.any_body)

    def second_best(self, solved: Sequence[tuple[Task, Choice]], hoses: tuple[SetHose, ...]) -> SecondBest | None:
        """The best set that has fewer of some hoses that are alike than the best has, if it costs little more.

        Every other set is such a one, or has all the hoses of the best and needless ones besides. None when there is
        none, or it is not proved in time.
        """
        best: tuple[tuple[int, ...], int, Choice] | None = None
        for place, (part, choice) in enumerate(solved):
            for alike in {frozenset(self._alike[self.offers[kind].spec.unweighed]) for kind in choice.pieces}:
                pieces = sum(count for kind, count in choice.pieces.items() if kind in alike)
                other = solve(part._replace(alike=alike, most_alike=pieces - 1))
                if other is None or not other.is_proved:
                    return None  # the time was up: which of the others is best is not known
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
        before, after = (Counter(self.offers.index(hose.offer) for hose in each) for each in (hoses, others))
        return SecondBest(others, self._listed(before - after), self._listed(after - before))

    def _listed(self, counts: Counter[int]) -> tuple[Offer, ...]:
        return tuple(self.offers[number] for number in counts.elements())


def _costs(offer: Offer, heaviest: dict[Spec, float]) -> tuple[int, ...]:
    """In whole numbers; a hose to be had counts as no lighter than one that is owned and alike: that was weighed."""
    mass, price = offer.mass.value, offer.price or 0.0
    if not offer.is_owned:
        mass = max(mass, heaviest.get(offer.spec, 0.0))
    unpriced, bought = offer.price is None, not offer.is_owned
    return 1, round(mass / MASS_STEP_KG), round(price / PRICE_STEP), int(unpriced), int(bought)


def _heaviest_owned(offers: Sequence[Offer]) -> dict[Spec, float]:
    found: dict[Spec, float] = {}
    for offer in offers:
        if offer.is_owned:
            spec = offer.spec.unweighed
            found[spec] = max(found.get(spec, 0.0), offer.mass.value)
    return found
