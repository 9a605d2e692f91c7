"""Make a packing more even by exchanges between two bags, so that a search has little left to do but prove it."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import NamedTuple

from kitbuilder.plans.packing.margins import MassLimit
from kitbuilder.plans.packing.model import FULL, LARGEST, MONEY, UNEVEN, Model

MOST_STEPS = 300
CLOSE = FULL // 20_000
"""Bags whose uses differ by less are even enough."""


class Exchange(NamedTuple):
    """An item to another bag, and one back; None for none."""

    off: float
    """How far it misses the difference that would make both even [kg]."""
    given: int | None
    """The choice that the item of the fuller bag has."""
    taken: int | None


def level(model: Model, chosen: Sequence[int]) -> list[float]:
    """Make bags more even by exchanges as long as one brings two bags closer, at no cost in earlier stages.

    Args:
        model: What is packed.
        chosen: A choice for each item; its packing keeps all limits.
    """
    current = {model.choices[unknown].item: unknown for unknown in chosen}
    values = best = model.values_of(chosen)
    for _ in range(MOST_STEPS):
        for changed in _exchanges(model, current, values):
            trial = current | {model.choices[unknown].item: unknown for unknown in changed}
            tried = model.values_of(list(trial.values()))
            if model.is_allowed(tried) and model.value(MONEY, tried) <= model.value(MONEY, values):
                current, values = trial, tried
                break
        else:
            break
        # A bag that comes along or stays at home changes the uses by its own mass, for which an exchange is blind.
        best = min(best, values, key=lambda each: (model.value(LARGEST, each), model.value(UNEVEN, each)))
    return best


def _exchanges(model: Model, current: dict[int, int], values: Sequence[float]) -> Iterator[list[int]]:
    """Give the best exchange between each two bags, those first that differ most."""
    limits = list(model.limit_of_bag.values())
    use_of = {limit.bag: model.use(limit, values) for limit in limits}
    pairs = [sorted(pair, key=lambda limit: -use_of[limit.bag]) for pair in combinations(limits, 2)]
    for full, empty in sorted(pairs, key=lambda pair: use_of[pair[1].bag] - use_of[pair[0].bag]):
        # The mass that would have to go over for both to be used alike.
        uses = use_of[full.bag], use_of[empty.bag]
        over = (uses[0] - uses[1]) / FULL / (1 / full.most_kg + 1 / empty.most_kg)
        best = best_exchange(movable(model, current, full, empty), movable(model, current, empty, full), over)
        if best.off < over - over * CLOSE / max(uses[0] - uses[1], CLOSE):
            yield [unknown for unknown in (best.given, best.taken) if unknown is not None]


def movable(model: Model, current: dict[int, int], of: MassLimit, to: MassLimit) -> list[tuple[float, int]]:
    """Give what could go from one bag to the other at no cost: masses, and the choices that it would have there."""
    found = []
    for item, unknown in current.items():
        placement = model.choices[unknown].placement
        if placement.bag == of.bag:
            there = model.at(item, placement._replace(bag=to.bag))
            if there is not None and model.costs_alike(unknown, there):
                found.append((model.loads[unknown].mass_kg, there))
    return sorted(found)


def best_exchange(given: list[tuple[float, int]], taken: list[tuple[float, int]], over: float) -> Exchange:
    """Find the exchange that moves closest to a mass."""
    masses = [mass for mass, _ in taken]
    best = Exchange(over, None, None)
    for mass, unknown in [*given, (0.0, None)]:
        near = bisect_left(masses, mass - over)
        backs = [*taken[max(near - 1, 0) : near + 1], (0.0, None)]
        for back, other in backs:
            best = min(best, Exchange(abs(mass - back - over), unknown, other), key=lambda each: each.off)
    return best
