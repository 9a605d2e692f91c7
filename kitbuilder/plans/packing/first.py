"""A packing to begin with, made item by item: a search that runs out of time still has this one."""

from collections.abc import Mapping, Sequence

from kitbuilder.plans.packing.chance import ROOM
from kitbuilder.plans.packing.margins import MassLimit, Sum
from kitbuilder.plans.packing.model import ADVICE, FULL, OF_CHOICES, Model


class _Bags:
    """Bags as they fill."""

    def __init__(self, model: Model) -> None:
        self._model = model
        self._sums = [Sum() for _ in model.limits]
        self._left_m3 = dict(model.volumes)
        self._taken: set[int] = set()

    def use_with(self, unknown: int, *, buys: bool = False) -> float | None:
        """Give the largest use of a limit with one more choice; None when a limit would not hold.

        Args:
            unknown: The choice.
            buys: Whether limits are as wide as money makes them.
        """
        choice = self._model.choices[unknown]
        if self._left_m3.get(choice.placement.bag, choice.volume_m3) + ROOM < choice.volume_m3:
            return None
        own = self._model.bag_unknown(choice.placement.bag)
        if own not in self._taken and not self._may_take(own, buys=buys):
            return None
        loads = [own] if own not in self._taken else []
        uses = [self._use(limit, total, [unknown, *loads], buys=buys) for limit, total in self._met(unknown)]
        return None if None in uses else max((use for use in uses if use is not None), default=0.0)

    def _met(self, unknown: int) -> list[tuple[MassLimit, Sum]]:
        pairs = zip(self._model.limits, self._sums, strict=True)
        return [(limit, total) for limit, total in pairs if unknown in limit.loads]

    def _may_take(self, own: int, *, buys: bool) -> bool:
        counts = [count for count in self._model.pieces if own in count.bags]
        further = {count: self._model.most_of(count.further) for count in counts if buys and count.further is not None}
        return all(len(self._taken.intersection(count.bags)) < count.most + further.get(count, 0) for count in counts)

    def _use(self, limit: MassLimit, total: Sum, unknowns: Sequence[int], *, buys: bool) -> float | None:
        heavy, mass_kg = total.with_more([limit.loads[unknown] for unknown in unknowns])
        more_kg = self._model.for_sale_kg(limit) if buys else 0
        return None if heavy > limit.most_kg + more_kg + ROOM else mass_kg * FULL / limit.most_kg

    def put(self, unknown: int) -> None:
        """Make a choice."""
        choice = self._model.choices[unknown]
        own = self._model.bag_unknown(choice.placement.bag)
        for limit, total in self._met(unknown):
            total.add(limit.loads[unknown])
            if own not in self._taken:
                total.add(limit.loads[own])
        self._taken.add(own)
        if choice.placement.bag in self._left_m3:
            self._left_m3[choice.placement.bag] -= choice.volume_m3


def first_packing(model: Model) -> list[int]:
    """Give a choice for each item, all limits kept.

    Where not everything fits as it is, the cheapest options that pack nothing are taken one after the other, until
    the rest fits; or as much is bought as helps, if that comes out better.
    """
    best = _with_options(model, buys=False)
    if model.charges and any(_costs(model, best)):
        best = min(best, _with_options(model, buys=True), key=lambda chosen: _costs(model, chosen))
    return best


def _with_options(model: Model, *, buys: bool) -> list[int]:
    best = _filled(model, {}, buys=buys)
    if not any(_costs(model, best)):
        return best
    cheapest = {item: option for item in model.of_item if (option := _cheapest(model, item)) is not None}
    taken = dict[int, int]()
    for item in sorted(cheapest, key=lambda item: _option_costs(model, cheapest[item])):
        taken[item] = cheapest[item]
        trial = _filled(model, taken, buys=buys)
        if _costs(model, trial) < _costs(model, best):
            best = trial
        if len(taken) == sum(model.choices[unknown].placement.option is not None for unknown in trial):
            break
    return best


def _filled(model: Model, taken: Mapping[int, int], *, buys: bool) -> list[int]:
    """Give a choice for each item, some being made: what has fewest bags first, then what is heaviest.

    An item stays where it was in the packing that is repaired, if it can. Else it goes where the limits are used
    least; where there is no room, it takes its cheapest option that packs nothing, and without one it is missing.
    """
    bags, earlier = _Bags(model), model.earlier or {}
    stays = {unknown for unknown, choice in enumerate(model.choices) if earlier.get(choice.item) == choice.placement}
    order = sorted(model.of_item.keys() - taken.keys(), key=lambda item: _hardest_first(model, item))
    order.sort(key=lambda item: not stays.intersection(model.of_item[item]))
    return [*taken.values(), *(_choose(model, bags, model.of_item[item], stays, buys=buys) for item in order)]


def _cheapest(model: Model, item: int) -> int | None:
    """Give the cheapest option of an item that packs nothing; None when it has none."""
    placements = {unknown: model.choices[unknown].placement for unknown in model.of_item[item]}
    unknowns = [unknown for unknown, placement in placements.items() if placement.option and not placement.bag]
    return min(unknowns, key=lambda unknown: _option_costs(model, unknown), default=None)


def _option_costs(model: Model, unknown: int) -> list[int]:
    return [model.costs(stage)[unknown] for stage in model.stages if stage in OF_CHOICES]


def _costs(model: Model, chosen: Sequence[int]) -> list[int]:
    """Give what choices cost in the stages before the use of limits, with all that they make one buy."""
    values = model.values_of(chosen)
    return [model.value(stage, values) for stage in model.stages if stage in OF_CHOICES]


def _hardest_first(model: Model, item: int) -> tuple[bool, int, bool, float]:
    packed = model.task.items[item]
    is_advised = any(model.costs(ADVICE)[unknown] for unknown in model.of_item[item])
    return not packed.pinned, len(model.of_item[item]), not is_advised, -packed.mass.value


def _choose(model: Model, bags: _Bags, unknowns: Sequence[int], stays: set[int], *, buys: bool) -> int:
    in_bags = [unknown for unknown in unknowns if model.choices[unknown].placement.bag]
    uses = {unknown: use for unknown in in_bags if (use := bags.use_with(unknown)) is not None}
    if buys and not uses:
        uses = {unknown: use for unknown in in_bags if (use := bags.use_with(unknown, buys=True)) is not None}
    kept = [unknown for unknown in unknowns if unknown in stays and (unknown in uses or unknown not in in_bags)]
    plain = [unknown for unknown in uses if model.choices[unknown].placement.option is None]
    advice = model.costs(ADVICE)
    for group in (kept, plain, list(uses)):
        if group:
            best = min(group, key=lambda unknown: (advice[unknown], uses.get(unknown, 0.0)))
            if best in uses:
                bags.put(best)
            return best
    options = [unknown for unknown in unknowns if unknown not in in_bags]
    return min(options, key=lambda unknown: _option_costs(model, unknown))
