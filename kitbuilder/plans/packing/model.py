"""A packing as unknowns, limits and costs, in which every search and every check finds the same numbers."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from math import ceil, floor
from typing import NamedTuple

from kitbuilder.plans.packing.chance import ROOM
from kitbuilder.plans.packing.charges import FURTHER_PIECE, KILOGRAM, Charge, charges_of, fixed, sells_kilograms
from kitbuilder.plans.packing.choices import Choice, choices_of, mass_away_kg
from kitbuilder.plans.packing.limits import (
    HOLD_TOTAL,
    limit_of,
    pieces_of,
    places_of,
    totals_of,
    unusable_of,
)
from kitbuilder.plans.packing.margins import Load, MassLimit, load_of, shared_sources
from kitbuilder.plans.packing.records import (
    BODY,
    EXTRA,
    HOLD,
    NEEDED,
    PLACES,
    VITAL,
    Bag,
    Leg,
    PackingTask,
    Placement,
)

LEFT_VITAL, LEFT_NEEDED, LEFT_OUT, MONEY, AWAY, CHANGES, ADVICE, LARGEST, UNEVEN = (
    "vital mass left out",
    "needed mass left out",
    "mass left out",
    "money",
    "mass away",
    "changes",
    "mass against advice",
    "largest use",
    "uneven",
)
"""What is made least, in this order."""
STAGES = (LEFT_VITAL, LEFT_NEEDED, LEFT_OUT, MONEY, AWAY, CHANGES, ADVICE, LARGEST, UNEVEN)
OF_CHOICES = STAGES[:-2]
"""The stages whose cost is the sum of what each choice costs."""
LEFT = {LEFT_VITAL: VITAL, LEFT_NEEDED: NEEDED, LEFT_OUT: EXTRA}
GRAM_KG, CENT = 1e-3, 1e-2
"""The steps in which masses and money are compared."""
FULL = 100_000
"""Parts that a limit is divided in, to compare how much of each is used."""
BELOW = 0.01
"""Of such a part: rounding."""


class Pieces(NamedTuple):
    """A limit of the number of bags."""

    bags: tuple[int, ...]
    """Their unknowns."""
    further: int | None
    """The unknown that says how many further ones are bought; None where none can be."""
    most: int

    def is_kept(self, values: Sequence[float]) -> bool:
        """Say whether no more bags are taken along than may be."""
        return self.above(values) <= (0 if self.further is None else values[self.further])

    def above(self, values: Sequence[float]) -> float:
        """Give how many bags are above the limit, whatever is bought."""
        return max(0.0, sum(values[unknown] for unknown in self.bags) - self.most)


class Model:
    """A task and its unknowns: each choice zero or one, each usable bag one when it is taken along, what is bought."""

    def __init__(self, task: PackingTask, earlier: Mapping[int, Placement] | None = None) -> None:
        """Work out choices and limits.

        Args:
            task: What is packed.
            earlier: Where items are in the packing that is repaired, by number; None for a new packing.
        """
        self.task, self.earlier = task, earlier
        legs = tuple(leg._replace(hold_pieces=fixed(leg).hold_pieces) for leg in task.legs)
        self.unusable = tuple(found for bag in task.bags if (found := unusable_of(bag, legs, task.likelihood)))
        refused = {found.bag.tag for found in self.unusable}
        self.bags = tuple(bag for bag in task.bags if bag.tag not in refused)
        self.choices = tuple(choices_of(task, self.bags))
        self.charges = tuple(charges_of(task, self.bags))
        self.first_bag = len(self.choices)
        self.first_charge = self.first_bag + len(self.bags)
        self.size = self.first_charge + len(self.charges)

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
        likelihood = self.task.likelihood
        found = {unknown: load_of(mass, shared, likelihood) for unknown, mass in masses.items()}
        found |= {self.bag_unknown(bag.tag): load_of(bag.mass, shared, likelihood) for bag in self.bags}
        # A kilogram that is bought makes a bag a kilogram lighter.
        bought = ((unknown, charge) for unknown, charge in self._numbered_charges() if charge.what == KILOGRAM)
        return found | {unknown: Load(-1.0, 0.0, {}) for unknown, charge in bought}

    def _numbered_charges(self) -> Iterator[tuple[int, Charge]]:
        return enumerate(self.charges, self.first_charge)

    @cached_property
    def kilograms(self) -> Mapping[tuple[str, str], int]:
        """The kilograms that can be bought, by leg and bag."""
        numbered = self._numbered_charges()
        return {(charge.leg, charge.bag): unknown for unknown, charge in numbered if charge.what == KILOGRAM}

    def most_of(self, unknown: int) -> int:
        """Give the most that an unknown can be."""
        return self.charges[unknown - self.first_charge].number if unknown >= self.first_charge else 1

    @cached_property
    def limits(self) -> tuple[MassLimit, ...]:
        """All limits of mass: of each bag, then of sums of bags."""
        return (*self._of_bags(), *self._of_sums())

    def _of_bags(self) -> Iterator[MassLimit]:
        for bag in self.bags:
            for most_kg, bought in self._limits_of(bag):
                own = self.bag_unknown(bag.tag)
                yield MassLimit(self._loads_in([bag.tag], bought), most_kg, own, bag.tag)

    def _limits_of(self, bag: Bag) -> Iterator[tuple[float, Sequence[int]]]:
        """Give the strictest limit of a bag that no money raises, and each other with what can be bought beyond it."""
        limit = limit_of(bag, map(fixed, self.task.legs))
        if limit is not None:
            yield limit.most_kg, ()
        for leg in self._selling:
            if bag.place == HOLD and leg.hold_piece_kg is not None:
                bought = self.kilograms.get((leg.tag, bag.tag))
                yield leg.hold_piece_kg, () if bought is None else (bought,)

    @property
    def _selling(self) -> list[Leg]:
        return [leg for leg in self.task.legs if sells_kilograms(leg)]

    def _of_sums(self) -> Iterator[MassLimit]:
        sums: list[tuple[str, float, Sequence[int]]] = [
            (what, limit.most_kg, ()) for what, limit in totals_of(map(fixed, self.task.legs)).items()
        ]
        for leg in self._selling:
            if leg.hold_total_kg is not None:
                all_of_leg = [unknown for (tag, _), unknown in self.kilograms.items() if tag == leg.tag]
                sums.append((HOLD_TOTAL, leg.hold_total_kg, all_of_leg))
        for what, most_kg, bought in sums:
            tags = [bag.tag for bag in self.bags if bag.place in places_of(what)]
            if tags:
                yield MassLimit(self._loads_in(tags, bought), most_kg, None)

    @cached_property
    def limit_of_bag(self) -> Mapping[str, MassLimit]:
        """The strictest limit of each bag that has one, by its tag."""
        found = dict[str, MassLimit]()
        for limit in self.limits:
            if limit.bag and (limit.bag not in found or limit.most_kg < found[limit.bag].most_kg):
                found[limit.bag] = limit
        return found

    def _loads_in(self, tags: Sequence[str], bought: Sequence[int] = ()) -> dict[int, Load]:
        unknowns = [unknown for tag in tags for unknown in (*self.in_bag[tag], self.bag_unknown(tag))]
        return {unknown: self.loads[unknown] for unknown in (*unknowns, *bought)}

    @cached_property
    def pieces(self) -> tuple[Pieces, ...]:
        """Bags of which only so many may be taken along."""
        counts = [
            Pieces(self._bags_of(count.place), None, count.most) for count in pieces_of(map(fixed, self.task.legs))
        ]
        for leg in self.task.legs:
            if leg.price_per_piece is not None and leg.hold_pieces is not None:
                kinds = {(charge.leg, charge.what): unknown for unknown, charge in self._numbered_charges()}
                counts.append(Pieces(self._bags_of(HOLD), kinds.get((leg.tag, FURTHER_PIECE)), leg.hold_pieces))
        return tuple(counts)

    def _bags_of(self, place: str) -> tuple[int, ...]:
        return tuple(self.bag_unknown(bag.tag) for bag in self.bags if bag.place == place)

    @cached_property
    def volumes(self) -> Mapping[str, float]:
        """The volume of each bag that has one [m³]."""
        return {bag.tag: bag.volume_m3 for bag in self.bags if bag.volume_m3 is not None}

    @cached_property
    def compared(self) -> tuple[Mapping[int, MassLimit], ...]:
        """The bags that are to be used evenly, by unknown: those of one place that have a limit, two or more."""
        by_bag = self.limit_of_bag
        places = [[bag.tag for bag in self.bags if bag.place == place and bag.tag in by_bag] for place in PLACES]
        return tuple({self.bag_unknown(tag): by_bag[tag] for tag in tags} for tags in places if len(tags) > 1)

    # ---- costs ----

    @cached_property
    def stages(self) -> tuple[str, ...]:
        """What is made least, in order; what no choice has a cost in is left away."""
        return tuple(stage for stage in STAGES if stage not in OF_CHOICES or any(self.costs(stage)))

    def costs(self, stage: str) -> Sequence[int]:
        """Give what each unknown costs in one of the stages `OF_CHOICES`, in grams, cents or pieces."""
        return self._costs[stage]

    @cached_property
    def _costs(self) -> Mapping[str, Sequence[int]]:
        nothing = [0] * (self.size - self.first_bag)
        # Nothing is bought for nothing: a charge counts one cent at least.
        charged = [0] * len(self.bags) + [max(1, round(charge.price / CENT)) for charge in self.charges]
        return {
            stage: [*(self._cost(stage, choice) for choice in self.choices), *(charged if stage == MONEY else nothing)]
            for stage in OF_CHOICES
        }

    def _cost(self, stage: str, choice: Choice) -> int:
        item, option = self.task.items[choice.item], choice.placement.option
        if stage in LEFT:
            is_left = choice.placement.is_missing and item.need == LEFT[stage]
            return 1 + round(item.mass.value / GRAM_KG) if is_left else 0
        if stage == CHANGES:
            return int(self.earlier is not None and self.earlier.get(choice.item, choice.placement) != choice.placement)
        if stage == ADVICE:
            place = self._place_of.get(choice.placement.bag)
            is_against = choice.mass is not None and place is not None and place not in item.better
            return round(choice.mass.value / GRAM_KG) if choice.mass and is_against else 0
        if option is None:
            return 0
        if stage == MONEY:
            return round((option.price or 0.0) / CENT)
        return 1 + max(0, round(mass_away_kg(item, option) / GRAM_KG))

    @cached_property
    def _place_of(self) -> Mapping[str, str]:
        return {bag.tag: bag.place for bag in self.bags}

    def costs_alike(self, one: int, other: int) -> bool:
        """Say whether two choices cost the same in all of the stages `OF_CHOICES`."""
        return all(self.costs(stage)[one] == self.costs(stage)[other] for stage in self.stages if stage in OF_CHOICES)

    def at(self, item: int, placement: Placement) -> int | None:
        """Give the choice of an item that has a placement; None when it may not be there."""
        return next((unknown for unknown in self.of_item[item] if self.choices[unknown].placement == placement), None)

    def value(self, stage: str, values: Sequence[float]) -> int:
        """Give what a packing comes to in a stage."""
        if stage == LARGEST:
            return max((ceil(self.use(limit, values) - BELOW) for limit in self.limits), default=0)
        if stage == UNEVEN:
            return sum(self._uneven(limits, values) for limits in self.compared)
        return round(sum(cost * value for cost, value in zip(self.costs(stage), values, strict=True) if value))

    def use(self, limit: MassLimit, values: Sequence[float]) -> float:
        """Give how much of a limit the mean mass uses, in parts of `FULL`; more where more is bought."""
        packed = (load for unknown, load in limit.loads.items() if values[unknown] and unknown < self.first_charge)
        return sum(load.mass_kg for load in packed) * FULL / limit.most_kg

    def least_use(self, values: Sequence[float]) -> int:
        """Give what the largest use of a limit cannot be below, in parts of `FULL`: as much mass in all bags.

        Args:
            values: A packing; what it leaves out and takes away is the most that may stay behind.
        """
        bags = [bag for bag in self.bags if bag.place != BODY]
        limits = [self.limit_of_bag.get(bag.tag) for bag in bags]
        if not limits or None in limits:
            return 0
        items = (item.mass.value for item in self.task.items if BODY not in item.places)
        # A cost has one gram more than the mass for each item, and so is never below it.
        behind = sum(self.value(stage, values) for stage in (*LEFT, AWAY)) * GRAM_KG
        allowed = sum(limit.most_kg for limit in limits if limit)
        return max(0, floor((sum(items) - behind) * FULL / allowed))

    @cached_property
    def most_use(self) -> int:
        """The largest use of a limit that there can be, in parts of `FULL`."""
        return ceil(FULL * max((1 + self.for_sale_kg(limit) / limit.most_kg for limit in self.limits), default=1.0))

    def ends(self, limits: Mapping[int, MassLimit], values: Sequence[float]) -> tuple[float, float]:
        """Give the most and the least use of those bags that are taken along, in parts of `FULL`."""
        uses = [self.use(limit, values) for own, limit in limits.items() if values[own]]
        return (max(uses), min(uses)) if uses else (0.0, 0.0)

    def _uneven(self, limits: Mapping[int, MassLimit], values: Sequence[float]) -> int:
        most, least = self.ends(limits, values)
        return max(0, ceil(most - least - BELOW))

    # ---- packings ----

    def values_of(self, chosen: Sequence[int]) -> list[float]:
        """Give the unknowns of a packing: the choices made, the bags they need, and as little bought as they need."""
        values = [0.0] * self.size
        for unknown in chosen:
            values[unknown] = 1.0
            if bag := self.choices[unknown].placement.bag:
                values[self.bag_unknown(bag)] = 1.0
        if self.charges:
            self._buy(values)
        return values

    def _buy(self, values: list[float]) -> None:
        for limit in self.limits:  # those of a bag come first: what they take counts for the sums as well
            above = ceil(limit.reached_kg(values) - limit.most_kg - ROOM)
            for unknown in self.for_sale(limit) if above > 0 else ():
                more = min(above, self.most_of(unknown) - values[unknown])
                values[unknown] += more
                above -= round(more)
        for count in self.pieces:
            if count.further is not None:
                values[count.further] = count.above(values)

    def for_sale(self, limit: MassLimit) -> list[int]:
        """List what can be bought beyond a limit."""
        return [unknown for unknown in self.kilograms.values() if unknown in limit.loads]

    def for_sale_kg(self, limit: MassLimit) -> int:
        """Give by how much a limit can be raised for money [kg]."""
        return sum(map(self.most_of, self.for_sale(limit)))

    def is_allowed(self, values: Sequence[float]) -> bool:
        """Say whether a packing keeps all limits, those of mass with the probability asked for."""
        pieces = all(count.is_kept(values) for count in self.pieces)
        return pieces and self._has_room(values) and all(limit.is_kept(values) for limit in self.limits)

    def _has_room(self, values: Sequence[float]) -> bool:
        return all(
            sum(self.choices[unknown].volume_m3 for unknown in self.in_bag[bag] if values[unknown]) <= most + ROOM
            for bag, most in self.volumes.items()
        )
