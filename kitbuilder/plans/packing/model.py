"""A packing as unknowns, limits and costs, in which every search and every check finds the same numbers."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from math import ceil

from kitbuilder.plans.packing.chance import ROOM
from kitbuilder.plans.packing.choices import Choice, choices_of, mass_away_kg
from kitbuilder.plans.packing.limits import limit_of, pieces_of, places_of, totals_of, unusable_of
from kitbuilder.plans.packing.margins import Load, MassLimit, load_of, shared_sources
from kitbuilder.plans.packing.records import PLACES, PackingTask, Placement

LEFT_OUT, MONEY, AWAY, CHANGES, LARGEST, UNEVEN = (
    "mass left out",
    "money",
    "mass away",
    "changes",
    "largest use",
    "uneven",
)
"""What is made least, in this order."""
STAGES = (LEFT_OUT, MONEY, AWAY, CHANGES, LARGEST, UNEVEN)
GRAM_KG, CENT = 1e-3, 1e-2
"""The steps in which masses and money are compared."""
FULL = 100_000
"""Parts that a limit is divided in, to compare how much of each is used."""
BELOW = 0.01
"""Of such a part: rounding."""


class Model:
    """A task, and the unknowns it has: each choice zero or one, then each usable bag, one when it is taken along."""

    def __init__(self, task: PackingTask, earlier: Mapping[int, Placement] | None = None) -> None:
        """Work out choices and limits.

        Args:
            task: What is packed.
            earlier: Where items are in the packing that is repaired, by number; None for a new packing.
        """
        self.task, self.earlier = task, earlier
        self.unusable = tuple(found for bag in task.bags if (found := unusable_of(bag, task.legs)))
        refused = {found.bag.tag for found in self.unusable}
        self.bags = tuple(bag for bag in task.bags if bag.tag not in refused)
        self.choices = tuple(choices_of(task, self.bags))
        self.first_bag = len(self.choices)
        self.size = self.first_bag + len(self.bags)

    def bag_unknown(self, tag: str) -> int:
        """Give the unknown that says whether a bag is taken along."""
        return self._bag_unknowns[tag]

    @cached_property
    def _bag_unknowns(self) -> dict[str, int]:
        return {bag.tag: self.first_bag + number for number, bag in enumerate(self.bags)}

    @cached_property
    def of_item(self) -> Mapping[int, tuple[int, ...]]:
        """The choices of each item."""
        found = defaultdict[int, list[int]](list)
        for unknown, choice in enumerate(self.choices):
            found[choice.item].append(unknown)
        return {item: tuple(unknowns) for item, unknowns in found.items()}

    @cached_property
    def in_bag(self) -> Mapping[str, tuple[int, ...]]:
        """The choices that are in each bag."""
        found: dict[str, list[int]] = {bag.tag: [] for bag in self.bags}
        for unknown, choice in enumerate(self.choices):
            if choice.placement.bag:
                found[choice.placement.bag].append(unknown)
        return {bag: tuple(unknowns) for bag, unknowns in found.items()}

    @cached_property
    def loads(self) -> Mapping[int, Load]:
        """What each unknown weighs; those that weigh nothing are missing."""
        masses = {unknown: choice.mass for unknown, choice in enumerate(self.choices) if choice.mass is not None}
        items = ([masses[unknown] for unknown in each if unknown in masses] for each in self.of_item.values())
        shared = shared_sources([*items, *([bag.mass] for bag in self.bags)])
        found = {unknown: load_of(mass, shared) for unknown, mass in masses.items()}
        return found | {self.bag_unknown(bag.tag): load_of(bag.mass, shared) for bag in self.bags}

    @cached_property
    def limits(self) -> tuple[MassLimit, ...]:
        """All limits of mass: of each bag, then of sums of bags."""
        return (*self._of_bags(), *self._of_sums())

    def _of_bags(self) -> Iterator[MassLimit]:
        for bag in self.bags:
            limit = limit_of(bag, self.task.legs)
            if limit is not None:
                own = self.bag_unknown(bag.tag)
                yield MassLimit(self._loads_in([bag.tag]), limit.most_kg, own, bag.tag)

    def _of_sums(self) -> Iterator[MassLimit]:
        for what, limit in totals_of(self.task.legs).items():
            tags = [bag.tag for bag in self.bags if bag.place in places_of(what)]
            if tags:
                yield MassLimit(self._loads_in(tags), limit.most_kg, None)

    def _loads_in(self, tags: Sequence[str]) -> dict[int, Load]:
        unknowns = (unknown for tag in tags for unknown in (*self.in_bag[tag], self.bag_unknown(tag)))
        return {unknown: self.loads[unknown] for unknown in unknowns}

    @cached_property
    def pieces(self) -> tuple[tuple[tuple[int, ...], int], ...]:
        """Bags of which only so many may be taken along, by their unknowns."""
        return tuple(
            (tuple(self.bag_unknown(bag.tag) for bag in self.bags if bag.place == count.place), count.most)
            for count in pieces_of(self.task.legs)
        )

    @cached_property
    def volumes(self) -> Mapping[str, float]:
        """The volume of each bag that has one [m³]."""
        return {bag.tag: bag.volume_m3 for bag in self.bags if bag.volume_m3 is not None}

    @cached_property
    def compared(self) -> tuple[Mapping[int, MassLimit], ...]:
        """The bags that are to be used evenly, by unknown: those of one place that have a limit, two or more."""
        by_bag = {limit.bag: limit for limit in self.limits if limit.bag}
        places = [[bag.tag for bag in self.bags if bag.place == place and bag.tag in by_bag] for place in PLACES]
        return tuple({self.bag_unknown(tag): by_bag[tag] for tag in tags} for tags in places if len(tags) > 1)

    # ---- costs ----

    @cached_property
    def stages(self) -> tuple[str, ...]:
        """What is made least, in order; what no choice has a cost in is left away."""
        priced = {stage for stage in STAGES[:4] if any(self.cost(stage, choice) for choice in self.choices)}
        return tuple(stage for stage in STAGES if stage in priced or stage in (LARGEST, UNEVEN))

    def cost(self, stage: str, choice: Choice) -> int:
        """Give what a choice costs in one of the first four stages, in grams, cents or pieces."""
        item, option = self.task.items[choice.item], choice.placement.option
        if stage == LEFT_OUT:
            return 1 + round(item.mass.value / GRAM_KG) if choice.placement.is_missing else 0
        if stage == CHANGES:
            return int(self.earlier is not None and self.earlier.get(choice.item, choice.placement) != choice.placement)
        if option is None:
            return 0
        if stage == MONEY:
            return round((option.price or 0.0) / CENT)
        return 1 + max(0, round(mass_away_kg(item, option) / GRAM_KG))

    def costs_alike(self, one: int, other: int) -> bool:
        """Say whether two choices cost the same in all of the first four stages."""
        first, second = self.choices[one], self.choices[other]
        return all(self.cost(stage, first) == self.cost(stage, second) for stage in self.stages if stage in STAGES[:4])

    def at(self, item: int, placement: Placement) -> int | None:
        """Give the choice of an item that has a placement; None when it may not be there."""
        return next((unknown for unknown in self.of_item[item] if self.choices[unknown].placement == placement), None)

    def value(self, stage: str, values: Sequence[float]) -> int:
        """Give what a packing comes to in a stage."""
        if stage == LARGEST:
            return max((ceil(self.use(limit, values) - BELOW) for limit in self.limits), default=0)
        if stage == UNEVEN:
            return sum(self._uneven(limits, values) for limits in self.compared)
        return sum(self.cost(stage, choice) for choice, value in zip(self.choices, values, strict=False) if value)

    def use(self, limit: MassLimit, values: Sequence[float]) -> float:
        """Give how much of a limit the mean mass uses, in parts of `FULL`."""
        mass = sum(load.mass_kg for unknown, load in limit.loads.items() if values[unknown])
        return mass * FULL / limit.most_kg

    def ends(self, limits: Mapping[int, MassLimit], values: Sequence[float]) -> tuple[float, float]:
        """Give the most and the least use of those bags that are taken along, in parts of `FULL`."""
        uses = [self.use(limit, values) for own, limit in limits.items() if values[own]]
        return (max(uses), min(uses)) if uses else (0.0, 0.0)

    def _uneven(self, limits: Mapping[int, MassLimit], values: Sequence[float]) -> int:
        most, least = self.ends(limits, values)
        return max(0, ceil(most - least - BELOW))

    # ---- packings ----

    def values_of(self, chosen: Sequence[int]) -> list[float]:
        """Give the unknowns of a packing: the choices made, and the bags that they need."""
        values = [0.0] * self.size
        for unknown in chosen:
            values[unknown] = 1.0
            if bag := self.choices[unknown].placement.bag:
                values[self.bag_unknown(bag)] = 1.0
        return values

    def is_allowed(self, values: Sequence[float]) -> bool:
        """Say whether a packing keeps all limits, those of mass at 95 %."""
        pieces = all(sum(values[unknown] for unknown in unknowns) <= most for unknowns, most in self.pieces)
        return pieces and self._has_room(values) and all(limit.is_kept(values) for limit in self.limits)

    def _has_room(self, values: Sequence[float]) -> bool:
        return all(
            sum(self.choices[unknown].volume_m3 for unknown in self.in_bag[bag] if values[unknown]) <= most + ROOM
            for bag, most in self.volumes.items()
        )
