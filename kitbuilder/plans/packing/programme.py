"""The best packing by integer programmes, one stage after another, each held where it came to."""

from collections.abc import Iterator, Mapping, Sequence
from math import ceil, inf
from time import monotonic
from typing import NamedTuple

from kitbuilder.plans.integer_programme import HALF, Constraint, Search, minimise, part_of
from kitbuilder.plans.packing.first import first_packing
from kitbuilder.plans.packing.level import level
from kitbuilder.plans.packing.margins import MassLimit
from kitbuilder.plans.packing.model import ADVICE, AWAY, FULL, LARGEST, OF_CHOICES, UNEVEN, Model
from kitbuilder.plans.packing.places import ByPlace

GAPS = {AWAY: 20, ADVICE: 20, LARGEST: FULL // 1000, UNEVEN: FULL // 1000}
"""How close to its bound a stage has to be, in grams and in parts of a limit; all else is exact."""
PART_BY_PLACE = 0.6
BEYOND = 10**9
"""A bound above all that a stage can come to."""
MOST_TANGENTS = 3
SLICE = 0.4
"""Packings are looked for along tangents so many times, each in such a part of the time that a stage has left."""
MOST_OF_IT = 0.75
"""Of the time that is left, a stage may take so much; the last may take all."""


class Solution(NamedTuple):
    """The best packing that was found."""

    values: Sequence[float]
    """The unknowns of the model."""
    comes_to: tuple[int, ...]
    """What it comes to in each stage."""
    bounds: tuple[int, ...]
    """What no packing can be below in each stage, those before it being as they are."""


def solve(model: Model, until: float, gaps: Mapping[str, int] = GAPS) -> Solution:
    """Find the best packing, or the best in time.

    Args:
        model: What is packed.
        until: When to stop, on the monotonic clock [s].
        gaps: How close to its bound a stage has to be; the bound itself where nothing is given.
    """
    values: Sequence[float] = level(model, first_packing(model))
    programme, bounds, held = _Programme(model), list[int](), dict[str, int]()
    for stage in model.stages:
        near, bound = gaps.get(stage, 0), model.least_use(values) if stage == LARGEST else 0
        if stage == LARGEST and bounds:  # what is packed may have changed
            values = level(model, [unknown for unknown in range(model.first_bag) if values[unknown]])
        if model.value(stage, values) - bound > near:
            share = until if stage == model.stages[-1] else part_of(until, MOST_OF_IT)
            if stage in OF_CHOICES and monotonic() < until:
                values, bound = ByPlace(model, values, held).solve_stage(
                    stage, values, part_of(share, PART_BY_PLACE), near
                )
            if model.value(stage, values) - bound > near:
                values, found = programme.solve_stage(stage, values, share, near)
                bound = max(bound, found)
        bounds.append(min(bound, model.value(stage, values)))
        programme.hold(stage, model.value(stage, values))
        held[stage] = model.value(stage, values)
    return Solution(values, tuple(model.value(stage, values) for stage in model.stages), tuple(bounds))


class _Programme:
    """The rows of a model, and what is held of it.

    The unknowns after those of the model: the largest use of a limit; then, for each group of bags that are compared,
    the most and the least use of a bag, and by how much these differ at most.
    """

    def __init__(self, model: Model) -> None:
        self._model = model
        self._largest = model.size
        self._ends = [self._largest + 1 + 3 * place for place in range(len(model.compared))]
        self._size = self._largest + 1 + 3 * len(self._ends)
        self._rows = [*self._items(), *self._bags(), *self._uses()]

    def _items(self) -> Iterator[Constraint]:
        for unknowns in self._model.of_item.values():
            yield [(unknown, 1.0) for unknown in unknowns], 1.0, 1.0

    def _bags(self) -> Iterator[Constraint]:
        for limit in self._model.limits:
            yield limit.mean_row()
        for bag, unknowns in self._model.in_bag.items():
            own = self._model.bag_unknown(bag)
            yield [*((unknown, 1.0) for unknown in unknowns), (own, -float(len(unknowns)))], -inf, 0.0
            yield [*((unknown, -1.0) for unknown in unknowns), (own, 1.0)], -inf, 0.0
            if bag in self._model.volumes:
                terms = [(unknown, self._model.choices[unknown].volume_m3 * LITRES) for unknown in unknowns]
                yield terms, -inf, self._model.volumes[bag] * LITRES
        for count in self._model.pieces:
            further = [] if count.further is None else [(count.further, -1.0)]
            yield [*((own, 1.0) for own in count.bags), *further], -inf, float(count.most)

    def _uses(self) -> Iterator[Constraint]:
        uses = {
            id(limit): [
                (unknown, load.mass_kg * FULL / limit.most_kg)
                for unknown, load in limit.loads.items()
                if unknown < self._model.first_charge
            ]
            for limit in self._model.limits
        }
        for limit in self._model.limits:
            yield [*uses[id(limit)], (self._largest, -1.0)], -inf, 0.0
        for high, limits in zip(self._ends, self._model.compared, strict=True):
            low, apart = high + 1, high + 2
            yield [(high, 1.0), (low, -1.0), (apart, -1.0)], -inf, 0.0
            for own, limit in limits.items():
                terms = uses[id(limit)]
                yield [*terms, (high, -1.0)], -inf, 0.0
                mine = dict(terms)
                mine[own] = mine[own] - self._model.most_use
                yield [*mine.items(), (low, -1.0)], -float(self._model.most_use), inf

    def hold(self, stage: str, value: int) -> None:
        """Let a stage be no more than it came to; half of one is room for the solver's own rounding."""
        terms = [(unknown, cost) for unknown, cost in enumerate(self._costs(stage)) if cost]
        self._rows.append((terms, -inf, value + HALF))

    def _costs(self, stage: str) -> list[float]:
        costs = [0.0] * self._size
        if stage == LARGEST:
            costs[self._largest] = 1.0
        elif stage == UNEVEN:
            for high in self._ends:
                costs[high + 2] = 1.0
        else:
            costs[: self._model.size] = map(float, self._model.costs(stage))
        return costs

    def solve_stage(self, stage: str, best: Sequence[float], until: float, gap: int) -> tuple[Sequence[float], int]:
        """Minimise one stage, beginning with a packing: give the best one, and the lower bound."""
        bounds = list[int]()
        for fixed in self._branches() if stage in (LARGEST, UNEVEN) else [[]]:
            # Most often the packing takes all bags along, so that the bounds of the other branches are enough.
            bound = self._relaxed(stage, fixed, until) if bounds else 0
            if self._model.value(stage, best) - bound > gap:
                best, bound = self._search(_Branch(stage, fixed, bound), best, until, gap)
            bounds.append(bound)
        return best, min(bounds)

    def _branches(self) -> list[list[Constraint]]:
        """Divide all packings: every bag is taken along; or one of them is not, for each.

        A search that may take a part of a bag along counts a part of its mass, and its bound is far too low.
        """
        bags = range(self._model.first_bag, self._model.first_charge)
        return [[([(own, 1.0)], 1.0, 1.0) for own in bags], *([([(own, 1.0)], 0.0, 0.0)] for own in bags)]

    def _relaxed(self, stage: str, fixed: list[Constraint], until: float) -> int:
        """Give a lower bound, from items that may be divided."""
        costs = self._costs(stage)
        real = frozenset(unknown for unknown, cost in enumerate(costs) if not cost)
        found = minimise(costs, [*self._rows, *fixed], self._most(), until, Search(real=real))
        return _nothing(until) if found is None else max(found[1], 0)

    def _search(self, branch: "_Branch", best: Sequence[float], until: float, gap: int) -> tuple[Sequence[float], int]:
        """Find the best packing of a branch, or give the one there is if that is better; and the branch's bound.

        What is found with the rows there are is a bound. If it breaks a limit, rows are added that keep it out, and
        tangents at it lead to packings near it that keep all limits.
        """
        stage, fixed, bound = branch
        enough, tangents = self._model.value(stage, best) - gap, MOST_TANGENTS
        is_inside = all(low <= best[terms[0][0]] <= high for terms, low, high in fixed)
        if not is_inside:  # what is no better by more than the gap need not be found
            fixed = [*fixed, (list(enumerate(self._costs(stage))), -inf, enough - HALF)]
        broken: list[float] = []
        while self._model.value(stage, best) - bound > gap:
            start = self._start(best) if is_inside else ()
            found = self._minimise(stage, fixed, until, Search(gap, start))
            if found is None:
                nothing = _nothing(until) if is_inside else min(_nothing(until), enough)
                return best, max(bound, nothing)
            values, bound = found[0], max(bound, found[1])
            if self._is_kept(values):
                return self._better(stage, best, values), bound
            if values == broken:  # the solver takes for kept what is broken by a rounding
                return best, bound
            broken, is_kept = values, False
            while tangents and not is_kept:
                tangents -= 1
                rows = [*fixed, *(limit.tangent(values) for limit in self._model.limits)]
                found = self._minimise(stage, rows, part_of(until, SLICE), Search(gap, start))
                if found is None:
                    break
                values, is_kept = found[0], self._is_kept(found[0])
            if is_kept:
                best = self._better(stage, best, values)
                is_inside = is_inside or best is values
        return best, bound

    def _minimise(
        self, stage: str, rows: list[Constraint], until: float, search: Search
    ) -> tuple[list[float], int] | None:
        real = frozenset(unknown for high in self._ends for unknown in (high, high + 1))
        search = search._replace(real=real)
        found = minimise(self._costs(stage), [*self._rows, *rows], self._most(), until, search)
        return None if found is None else ([float(round(value)) for value in found[0][: self._model.size]], found[1])

    def _is_kept(self, values: Sequence[float]) -> bool:
        """Say whether all limits of mass hold; rows that keep a packing out which breaks them are added."""
        broken = [limit for limit in self._model.limits if not limit.is_kept(values)]
        self._rows += [other.cut(self._moved(values, limit, other)) for limit in broken for other in self._like(limit)]
        return not broken

    def _like(self, limit: MassLimit) -> list[MassLimit]:
        """Give a limit and, for that of a bag, those of all others: what is too much in one may go to another next."""
        return [other for other in self._model.limits if other.bag] if limit.bag else [limit]

    def _moved(self, values: Sequence[float], of: MassLimit, to: MassLimit) -> list[float]:
        """Give the packing in which all that is in one bag is in another, as far as it may be there."""
        found = [0.0] * self._model.size
        for unknown in of.loads:
            if values[unknown] and unknown < self._model.first_bag:
                choice = self._model.choices[unknown]
                there = self._model.at(choice.item, choice.placement._replace(bag=to.bag)) if to.bag else unknown
                if there is not None:
                    found[there] = 1.0
        if to.only_if is not None:
            found[to.only_if] = 1.0
        return found if of is not to else list(values)

    def _better(self, stage: str, best: Sequence[float], values: Sequence[float]) -> Sequence[float]:
        return values if self._model.value(stage, values) < self._model.value(stage, best) else best

    def _most(self) -> list[float]:
        return [*map(float, map(self._model.most_of, range(self._model.size)))] + [float(self._model.most_use)] * (
            self._size - self._model.size
        )

    def _start(self, best: Sequence[float]) -> list[float]:
        """Give all unknowns of a packing."""
        start = [*best, float(self._model.value(LARGEST, best))]
        for limits in self._model.compared:
            high, low = self._model.ends(limits, best)
            start += [high, low, float(ceil(high - low))]
        return start


def _nothing(until: float) -> int:
    """Give the bound where no packing is found: beyond all there are, unless the time is up."""
    return BEYOND if monotonic() < until else 0


class _Branch(NamedTuple):
    """A part of all packings."""

    stage: str
    fixed: list[Constraint]
    """What holds in it."""
    bound: int
    """What no packing of it can be below."""


LITRES = 1000.0
"""In one m³: rows of numbers near one are kept best."""
