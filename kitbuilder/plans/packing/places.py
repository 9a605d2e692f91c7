"""The bags of each place taken together: a bound that is found at once, and a packing near it.

Which bag of a place an item is in matters little to what has to stay behind, and a search over all bags tries the same
packing with bags exchanged again and again. Here an item has a place and no bag. What all bags of a place can take is
no less than what they can take one by one, so that the least cost of this programme is a bound; and its items are then
put into the bags one by one, with a little room held back for the margins that add up less well there.

For the bags of a place, margins are no less than a sum over items: the root of the squares of single items lies above
the chord from zero to the most that a bag has room for, and shared sources count in one direction (Cauchy and Schwarz).
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from math import hypot, inf, sqrt
from typing import NamedTuple

from kitbuilder.plans.integer_programme import HALF, Constraint, Search, minimise, part_of
from kitbuilder.plans.packing.level import best_exchange, movable
from kitbuilder.plans.packing.margins import Load, MassLimit, Sum
from kitbuilder.plans.packing.model import OF_CHOICES, Model
from kitbuilder.plans.packing.records import PLACES

HELD_BACK, FINEST_PART = (1.0, 1.4, 2.0, 3.0), 0.15
"""Room is held back in parts of what the margins of a packing exceed their linear bound by: these in turn, and then
finer ones between one that failed and one that did not."""
FOR_BOUND, FOR_TRIAL = 0.5, 0.3
"""Of the time that is left, the search for a bound may take so much, and each for a packing."""
ROUGH = 50
"""How close to the best a packing is looked for while more room is held back than may be needed, in grams or cents."""
MOST_EXCHANGES = 200
FINE_KG = 1e-4


class _Kind(NamedTuple):
    """One way to deal with an item, whatever the bag."""

    item: int
    place: str
    """Empty when nothing is packed."""
    unknowns: tuple[int, ...]
    """The choices of the model, one for each bag."""


class Near(NamedTuple):
    """What the bags of each place can do together."""

    values: Sequence[float]
    """The best packing of the model that was found."""
    bound: int
    """What no packing can be below in the stage."""


class ByPlace:
    """A model whose items have places and no bags."""

    def __init__(self, model: Model, values: Sequence[float], held: Mapping[str, int]) -> None:
        """Write the rows.

        Args:
            model: What is packed.
            values: A packing; the margins are as close as they can be for packings that are like this one.
            held: What stages may come to at most.
        """
        self._model = model
        self._kinds = tuple(_kinds(model))
        self._first_bag = len(self._kinds)
        self._first_charge = self._first_bag + len(model.bags)
        self._size = self._first_charge + len(model.charges)
        limits = [*self._capacities(values), *self._sums(values)]
        self._slack = {number: slack for number, (_, slack) in enumerate(limits)}
        self._rows = [*(row for row, _ in limits), *self._items(), *self._others()]
        self._rows += [self._hold(stage, value) for stage, value in held.items() if stage in OF_CHOICES]

    # ---- rows ----

    def _items(self) -> Iterator[Constraint]:
        of_item = defaultdict[int, list[tuple[int, float]]](list)
        for number, kind in enumerate(self._kinds):
            of_item[kind.item].append((number, 1.0))
        for terms in of_item.values():
            yield terms, 1.0, 1.0

    def _capacities(self, values: Sequence[float]) -> Iterator[tuple[Constraint, float]]:
        """Limit what the bags of a place take together, by each group of limits that all of them have."""
        for place in PLACES:
            tags = [bag.tag for bag in self._model.bags if bag.place == place]
            limits = [[limit for limit in self._model.limits if limit.bag == tag] for tag in tags]
            for group in zip(*limits, strict=False) if tags else ():
                factors, slack = _linear(group, values, self._model)
                terms = [(number, factors[kind.unknowns[0]]) for number, kind in self._in([place])]
                for limit in group:
                    assert limit.only_if is not None
                    room = max(0.0, limit.most_kg - factors[limit.only_if])
                    terms.append((self._bag(limit.only_if), -room))
                    terms += [(self._charge(unknown), -1.0) for unknown in self._model.for_sale(limit)]
                yield (terms, -inf, 0.0), slack

    def _sums(self, values: Sequence[float]) -> Iterator[tuple[Constraint, float]]:
        for limit in self._model.limits:
            if not limit.bag:
                factors, slack = _linear([limit], values, self._model)
                places = {bag.place for bag in self._model.bags if self._model.bag_unknown(bag.tag) in limit.loads}
                terms = [(number, factors[kind.unknowns[0]]) for number, kind in self._in(places)]
                terms += [
                    (self._bag(own), factors[own])
                    for own in range(self._model.first_bag, self._model.first_charge)
                    if own in factors
                ]
                terms += [(self._charge(unknown), -1.0) for unknown in self._model.for_sale(limit)]
                yield (terms, -inf, limit.most_kg), slack

    def _others(self) -> Iterator[Constraint]:
        for count in self._model.pieces:
            further = [] if count.further is None else [(self._charge(count.further), -1.0)]
            yield [*((self._bag(own), 1.0) for own in count.bags), *further], -inf, float(count.most)
        for place in PLACES:
            bags = [bag for bag in self._model.bags if bag.place == place]
            if bags and all(bag.tag in self._model.volumes for bag in bags):
                terms = [(n, self._model.choices[kind.unknowns[0]].volume_m3 * LITRES) for n, kind in self._in([place])]
                owns = [(bag, self._bag(self._model.bag_unknown(bag.tag))) for bag in bags]
                yield [*terms, *((own, -self._model.volumes[bag.tag] * LITRES) for bag, own in owns)], -inf, 0.0

    def _in(self, places: Sequence[str] | set[str]) -> Iterator[tuple[int, _Kind]]:
        return ((number, kind) for number, kind in enumerate(self._kinds) if kind.place in places)

    def _bag(self, unknown: int) -> int:
        return unknown - self._model.first_bag + self._first_bag

    def _charge(self, unknown: int) -> int:
        return unknown - self._model.first_charge + self._first_charge

    # ---- stages ----

    def _hold(self, stage: str, value: int) -> Constraint:
        return [(unknown, cost) for unknown, cost in enumerate(self._costs(stage)) if cost], -inf, value + HALF

    def _costs(self, stage: str) -> list[float]:
        """Give the least that each way can cost: changes count by bag, all else by place."""
        costs = self._model.costs(stage)
        kinds = [float(min(costs[unknown] for unknown in kind.unknowns)) for kind in self._kinds]
        return [*kinds, *map(float, costs[self._model.first_bag :])]

    def solve_stage(self, stage: str, best: Sequence[float], until: float, gap: int) -> Near:
        """Minimise one stage, beginning with a packing."""
        trial, bound = self._trial(stage, best, part_of(until, FOR_BOUND), Search(gap // 2), 0.0)
        best, failed = trial or best, 0.0
        parts = list(HELD_BACK) if trial is None and self._slack else []
        while parts and self._model.value(stage, best) - bound > gap:
            part = parts.pop(0)
            rough = Search(max(gap, ROUGH)) if gap else Search()
            trial, _ = self._trial(stage, best, part_of(until, FOR_TRIAL), rough, part)
            if trial is None:
                failed = part
            else:
                best = trial
                parts = [(failed + part) / 2] if part - failed > FINEST_PART else []
        return Near(best, bound)

    def _trial(
        self, stage: str, best: Sequence[float], until: float, search: Search, part: float
    ) -> tuple[Sequence[float] | None, int]:
        """Find places with a part of the margins held back as room: a packing that is better, if any, and a bound.

        The bound holds for all packings where nothing is held back.
        """
        rows = [
            (terms, low, high - part * self._slack.get(number, 0.0))
            for number, (terms, low, high) in enumerate(self._rows)
        ]
        most = [1.0] * self._first_charge + [float(charge.number) for charge in self._model.charges]
        found = minimise(self._costs(stage), rows, most, until, search)
        if found is None:
            return None, 0
        trial = self._in_bags([round(value) for value in found[0]])
        return (trial if trial and self._is_better(stage, trial, best) else None), found[1]

    def _is_better(self, stage: str, trial: Sequence[float], best: Sequence[float]) -> bool:
        """Say whether a packing is better in a stage and no worse in those before it."""
        before = OF_CHOICES[: OF_CHOICES.index(stage)]
        return self._model.value(stage, trial) < self._model.value(stage, best) and all(
            self._model.value(each, trial) <= self._model.value(each, best) for each in before
        )

    # ---- into bags ----

    def _in_bags(self, found: Sequence[int]) -> Sequence[float] | None:
        """Put the items of each place into its bags; None when that is not found."""
        more_kg = {
            unknown: found[self._charge(unknown)] for unknown in range(self._model.first_charge, self._model.size)
        }
        bags = _Heights(self._model, more_kg)
        chosen = [kind for number, kind in enumerate(self._kinds) if found[number]]
        chosen.sort(key=lambda kind: (len(kind.unknowns), -self._model.task.items[kind.item].mass.value))
        current = {kind.item: bags.put_lowest(kind.unknowns) for kind in chosen}
        for _ in range(MOST_EXCHANGES):
            values = self._model.values_of(list(current.values()))
            if self._model.is_allowed(values):
                return values
            changed = next(self._exchanges(bags, current), None)
            if changed is None:
                return None
            current |= changed
        return None

    def _exchanges(self, bags: "_Heights", current: dict[int, int]) -> Iterator[dict[int, int]]:
        """Give exchanges between two bags that lower the higher one and cost nothing, those first that differ most."""
        heights = bags.of(current)
        limits = self._model.limit_of_bag
        pairs = [
            (heights[full] - heights[empty], full, empty)
            for full in heights
            for empty in heights
            if heights[full] - heights[empty] > FINE_KG
        ]
        for apart, full, empty in sorted(pairs, reverse=True):
            there = movable(self._model, current, limits[full], limits[empty])
            back = movable(self._model, current, limits[empty], limits[full])
            exchange = best_exchange(there, back, apart / 2)
            changed = {
                self._model.choices[unknown].item: unknown
                for unknown in (exchange.given, exchange.taken)
                if unknown is not None
            }
            after = bags.of(current | changed) if changed else heights
            if max(after[full], after[empty]) < heights[full] - FINE_KG:
                yield changed


class _Heights:
    """How far bags are above or below their limits as they fill."""

    def __init__(self, model: Model, more_kg: Mapping[int, int]) -> None:
        """Begin with empty bags.

        Args:
            model: What is packed.
            more_kg: What is bought, by unknown.
        """
        self._model = model
        self._limits = [
            (limit, limit.most_kg + sum(more_kg[unknown] for unknown in model.for_sale(limit)))
            for limit in model.limits
            if limit.bag
        ]
        self._sums = {bag.tag: Sum([model.loads[model.bag_unknown(bag.tag)]]) for bag in model.bags}
        self._left_m3 = dict(model.volumes)

    def put_lowest(self, unknowns: Sequence[int]) -> int:
        """Choose the bag that is lowest below its limits with one more item; one that is too small comes last."""
        if not self._model.choices[unknowns[0]].placement.bag:
            return unknowns[0]
        best = min(unknowns, key=self._height_with)
        bag = self._model.choices[best].placement.bag
        self._sums[bag].add(self._model.loads[best])
        if bag in self._left_m3:
            self._left_m3[bag] -= self._model.choices[best].volume_m3
        return best

    def _height_with(self, unknown: int) -> tuple[bool, float]:
        choice = self._model.choices[unknown]
        bag = choice.placement.bag
        reached, _ = self._sums[bag].with_more([self._model.loads[unknown]])
        is_full = self._left_m3.get(bag, inf) < choice.volume_m3
        return is_full, max((reached - most_kg for limit, most_kg in self._limits if limit.bag == bag), default=-inf)

    def of(self, current: Mapping[int, int]) -> dict[str, float]:
        """Give how far each bag with a limit is above it in a packing [kg]."""
        loads: dict[str, list[Load]] = {
            bag.tag: [self._model.loads[self._model.bag_unknown(bag.tag)]] for bag in self._model.bags
        }
        for unknown in current.values():
            if bag := self._model.choices[unknown].placement.bag:
                loads[bag].append(self._model.loads[unknown])
        reached = {bag: Sum(each).most_kg for bag, each in loads.items()}
        found = dict[str, float]()
        for limit, most_kg in self._limits:
            found[limit.bag] = max(found.get(limit.bag, -inf), reached[limit.bag] - most_kg)
        return found


def _kinds(model: Model) -> Iterator[_Kind]:
    place_of = {bag.tag: bag.place for bag in model.bags}
    for item, unknowns in model.of_item.items():
        groups = defaultdict[tuple[str, int], list[int]](list)
        for unknown in unknowns:
            placement = model.choices[unknown].placement
            groups[place_of.get(placement.bag, ""), id(placement.option)].append(unknown)
        for (place, _), each in groups.items():
            yield _Kind(item, place, tuple(each))


def _linear(group: Sequence[MassLimit], values: Sequence[float], model: Model) -> tuple[dict[int, float], float]:
    """Give what each unknown adds at least to the mass of bags and their margins, and what that is short of here [kg].

    Args:
        group: The limits of all bags of a place, or the limit of a sum of bags.
        values: The packing that the bound is to be close to.
        model: What is packed.
    """
    packed = [[each for each in limit.loads if values[each] and each < model.first_charge] for limit in group]
    sums = [Sum(map(limit.loads.__getitem__, each)) for limit, each in zip(group, packed, strict=True)]
    own, shared = sum(each.parts[0] for each in sums), defaultdict[str, float](float)
    for each in sums:
        for source, part in each.parts[1].items():
            shared[source] += part
    norm = hypot(own, *shared.values())
    largest = max(sqrt(limit.most_own(model.for_sale_kg(limit))) for limit in group)
    factors = dict[int, float]()
    for unknown, load in ((unknown, load) for limit in group for unknown, load in limit.loads.items()):
        alone = load.own * own / largest if largest else 0.0
        common = sum(part * shared.get(source, 0.0) for source, part in load.shared.items())
        factors[unknown] = load.mass_kg + ((alone + common) / norm if norm else 0.0)
    reached = sum(each.most_kg for each in sums)
    linear = sum(factors[unknown] for each in packed for unknown in each)
    return factors, reached - linear


LITRES = 1000.0
"""In one m³: rows of numbers near one are kept best."""
