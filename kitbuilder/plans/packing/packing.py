"""Pack the items of a journey into its bags: every limit of every leg holds as likely as asked, the bags used evenly.

In this order: as little mass as possible is left out that nothing can be done about, what is needed most first; what
is left, rented, worn, swapped or paid costs as little money, then takes as little mass away; in a packing that is
repaired, as few items as possible change; as little mass as possible goes against advice; the limit that is used most
is used as little as possible; the bags of one place differ as little as possible.
"""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from math import isfinite
from time import monotonic
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, total
from kitbuilder.plans.packing.chance import ROOM, chance_of, least_together, reached_at_most
from kitbuilder.plans.packing.charges import Charge, raised
from kitbuilder.plans.packing.choices import NO_ROOM, PIN_TOO_MUCH, mass_away_kg, refusal_of, why_missing
from kitbuilder.plans.packing.limits import (
    Closed,
    Limit,
    Unusable,
    closed_by,
    limit_of,
    places_of,
    totals_of,
)
from kitbuilder.plans.packing.model import AWAY, CENT, FULL, GRAM_KG, LARGEST, MONEY, Model
from kitbuilder.plans.packing.programme import GAPS, Solution, solve
from kitbuilder.plans.packing.records import (
    EXTRA,
    IN_BAGS,
    USUAL_LIKELIHOOD,
    Bag,
    PackingTask,
    PackItem,
    Placement,
    PlacementRule,
)

PINNED, BY_RULE, ONLY_BAG, ADVISED, EVEN = "pinned", "by rule", "only bag", "advised", "even"
"""Why an item is in its bag."""
TIME_LIMIT_S = 3.0
LEAST_LIKELIHOOD = 0.5
"""Below it a limit would be exceeded more often than kept, and a spread would make room."""
NEAR_KG = GAPS[AWAY] * GRAM_KG
"""How close to its bound what stays behind has to be to count as proved."""


class Placed(NamedTuple):
    """An item, and where it is."""

    item: PackItem
    placement: Placement
    mass: Figure | None
    """Of what is packed [kg]; None when nothing is."""
    why: str
    """One of the words above; empty when nothing is packed."""

    @property
    def rules(self) -> tuple[PlacementRule, ...]:
        """The rules that keep it from a place to which it could go otherwise."""
        return tuple(rule for rule in self.item.rules if not self.item.may_go <= rule.places)

    @property
    def advice(self) -> tuple[PlacementRule, ...]:
        """The advice that keeps it from a place to which it could go."""
        return tuple(rule for rule in self.item.advice if not self.item.places <= rule.places)

    @property
    def away_kg(self) -> float:
        """By how much the luggage is lighter for what is done with it; below zero when it is heavier."""
        option = self.placement.option
        return 0.0 if option is None else mass_away_kg(self.item, option)

    @property
    def approvals(self) -> tuple[PlacementRule, ...]:
        """The rules by which an airline has to agree first."""
        return tuple(rule for rule in self.item.rules if rule.needs_approval)


class Missing(NamedTuple):
    """An item that should come along, and found no place."""

    item: PackItem
    why: str
    """A word of `kitbuilder.plans.packing.choices`."""
    bag: str = ""
    """The bag that it would exceed least, where it is only short of room; empty for none."""
    chance: float | None = None
    """The probability that all limits of that bag would hold with it [1]."""

    @property
    def is_proposed(self) -> bool:
        """Whether leaving it at home is proposed: room is short, and the dive can be done without it."""
        return self.why in (NO_ROOM, PIN_TOO_MUCH) and self.item.need == EXTRA


class Use(NamedTuple):
    """How far a limit is used, and how likely it holds."""

    limit: Limit
    mass: Figure
    """[kg]"""
    likelihood: float = USUAL_LIKELIHOOD
    """How likely it has to hold [1]."""

    @property
    def part(self) -> float:
        """The mean mass over the limit [1]."""
        return self.mass.value / self.limit.most_kg

    @property
    def chance(self) -> float:
        """The probability that it holds [1]."""
        return chance_of(self.mass, self.limit.most_kg)

    @property
    def room_kg(self) -> float:
        """What could be added, still holding as likely as asked, if its mass were known exactly."""
        return self.limit.most_kg - reached_at_most(self.mass, self.likelihood)


class PackedBag(NamedTuple):
    """A bag with what is in it."""

    bag: Bag
    items: tuple[Placed, ...]
    """The heaviest first."""
    mass: Figure
    """With the bag [kg]."""
    volume_m3: float
    """Of the items of which it is known."""
    use: Use | None
    """Of its own limit; None when it has none."""

    def has_room_for(self, item: PackItem) -> bool:
        """Say whether an item may go into the bag and is not too bulky for what is left of it, whatever it weighs."""
        fits = self.bag.volume_m3 is None or self.volume_m3 + (item.volume_m3 or 0.0) <= self.bag.volume_m3 + ROOM
        return fits and refusal_of(item, self.bag) is None


class Proof(NamedTuple):
    """What a packing comes to, and what no packing can be below."""

    comes_to: Mapping[str, int]
    """By stage, in the order in which they are made least; a word of `kitbuilder.plans.packing.model`."""
    bounds: Mapping[str, int]
    """Of each stage, those before it being as they are."""
    items_away: int
    """How many items have an option, each of which counts as one gram more."""

    @property
    def is_proved(self) -> bool:
        """Whether no packing is better: by more than `NEAR_KG` that stay behind, or a thousandth of a limit."""
        return all(found - self.bounds[stage] <= GAPS.get(stage, 0) for stage, found in self.comes_to.items())

    @property
    def price_at_least(self) -> float:
        """What has to be paid at least to take as much along."""
        return self.bounds.get(MONEY, 0) * CENT

    @property
    def away_at_least_kg(self) -> float:
        """What stays behind at least in every packing that costs as little [kg]."""
        return max(0, self.bounds.get(AWAY, 0) - self.items_away) * GRAM_KG

    @property
    def largest_use_at_least(self) -> float:
        """The largest use of a limit that no packing is below [1], as much being packed."""
        return self.bounds[LARGEST] / FULL


class Packing(NamedTuple):
    """Where everything goes."""

    task: PackingTask
    placed: tuple[Placed, ...]
    """All items that are dealt with, in the order of the task."""
    missing: tuple[Missing, ...]
    bags: tuple[PackedBag, ...]
    """All usable bags, in the order of the task; an empty one stays at home."""
    sums: tuple[Use, ...]
    """Of the limits that count several bags."""
    unusable: tuple[Unusable, ...]
    closed: Closed | None
    """Legs that leave no place to pack in."""
    bought: tuple[Charge, ...]
    """What is paid for, one for each leg and bag."""
    proof: Proof

    @property
    def instead(self) -> tuple[Placed, ...]:
        """What is left, rented, worn or swapped."""
        return tuple(placed for placed in self.placed if placed.placement.option is not None)

    @property
    def price(self) -> float:
        """What that and all that is bought costs, as far as it is known."""
        prices = (*self._prices, *(charge.costs for charge in self.bought))
        return sum(price for price in prices if price is not None)

    @property
    def is_priced(self) -> bool:
        """Whether anything that can be done has a price: then the cheapest is looked for, and else the least mass."""
        return MONEY in self.proof.comes_to

    @property
    def without_price(self) -> int:
        """For how many items the price of what is done is not known."""
        return sum(price is None for price in self._prices)

    @property
    def _prices(self) -> list[float | None]:
        return [placed.placement.option.price for placed in self.instead if placed.placement.option]

    @property
    def away_kg(self) -> float:
        """By how much the luggage is lighter for it."""
        return sum(placed.away_kg for placed in self.instead)

    @property
    def uses(self) -> tuple[Use, ...]:
        """All limits, of the bags that come along and of several together."""
        return (*(packed.use for packed in self.bags if packed.use and packed.items), *self.sums)

    @property
    def takes_bags(self) -> bool:
        """Whether any bag of the hold or the cabin can be used."""
        return any(packed.bag.place in IN_BAGS for packed in self.bags)

    @property
    def of_unknown_volume(self) -> tuple[Placed, ...]:
        """The items of unknown volume in bags whose volume is known."""
        inside = (placed for packed in self.bags if packed.bag.volume_m3 is not None for placed in packed.items)
        return tuple(placed for placed in inside if _volume(placed) is None)

    @property
    def chance_at_least(self) -> float:
        """The probability that all limits hold at once, or less."""
        return least_together(use.chance for use in self.uses)


def pack(task: PackingTask, earlier: Packing | None = None, time_limit_s: float = TIME_LIMIT_S) -> Packing:
    """Find the best packing.

    Args:
        task: What is packed; tags of bags are unique.
        earlier: A packing to change as little as possible, such as one of which an item was moved.
        time_limit_s: After this the best packing found so far is given, with its bounds [s]. With 0 it is one made
            item by item and evened, without the solver: ready within a frame, to be shown until the best one is.

    Raises:
        ValueError: A mass, volume, limit or price is below zero or not finite, or the likelihood is no share from one
            half.
    """
    _require_sound(task)
    model = Model(task, None if earlier is None else _placements(task, earlier))
    return _packing(model, solve(model, monotonic() + time_limit_s))


def _require_sound(task: PackingTask) -> None:
    if not LEAST_LIKELIHOOD <= task.likelihood < 1:
        raise ValueError(f"likelihood: a number from {LEAST_LIKELIHOOD} to below 1 is needed, not {task.likelihood}")
    for name, value in _quantities(task):
        if value is not None and not (isfinite(value) and value >= 0):
            raise ValueError(f"{name}: zero or a positive number is needed, not {value}")


def _quantities(task: PackingTask) -> Iterator[tuple[str, float | None]]:
    for item in task.items:
        yield item.tag, item.mass.value
        yield item.tag, item.volume_m3
        for option in item.options:
            yield item.tag, option.price
            yield item.tag, option.volume_m3
            yield item.tag, option.instead.value if option.instead else None
    for bag in task.bags:
        yield from ((bag.tag, value) for value in (bag.mass.value, bag.volume_m3, bag.most_kg))
    for leg in task.legs:
        numbers = (value for value in leg[1:] if not isinstance(value, tuple))
        yield from ((leg.tag, value) for value in numbers)


def _placements(task: PackingTask, earlier: Packing) -> dict[int, Placement]:
    """Give the earlier placement of each item that had one, by number; items of one tag in their order."""
    found = defaultdict[str, list[Placement]](list)
    for placed in earlier.placed:
        found[placed.item.tag].append(placed.placement)
    numbers = ((number, found[item.tag]) for number, item in enumerate(task.items))
    return {number: placements.pop(0) for number, placements in numbers if placements}


# ---- the answer ----


def _packing(model: Model, solution: Solution) -> Packing:
    task, stages = model.task, model.stages
    placed, missing = list[Placed](), list[Missing]()
    for number, unknowns in sorted(model.of_item.items()):
        unknown = next(unknown for unknown in unknowns if solution.values[unknown])
        item, placement = task.items[number], model.choices[unknown].placement
        if placement.is_missing:
            missing.append(Missing(item, why_missing(task, model.bags, item)))
        else:
            placed.append(Placed(item, placement, model.choices[unknown].mass, _why(model, number, placement)))
    bought = tuple(_bought(model, solution))
    bags = tuple(packed_bag(task, bag, placed, bought) for bag in model.bags)
    sums = tuple(sums_of(task, bags, bought))
    return Packing(
        task=task,
        placed=tuple(placed),
        missing=tuple(_nearest(each, bags, sums) for each in missing),
        bags=bags,
        sums=sums,
        unusable=model.unusable,
        closed=closed_by(task.legs),
        bought=bought,
        proof=Proof(
            dict(zip(stages, solution.comes_to, strict=True)),
            dict(zip(stages, solution.bounds, strict=True)),
            sum(bool(item.options) for item in task.items),
        ),
    )


def _bought(model: Model, solution: Solution) -> Iterator[Charge]:
    # Kilograms that count for all bags may as well be bought for one: what is shown is the least that each bag needs.
    values = model.values_of([unknown for unknown in range(model.first_bag) if solution.values[unknown]])
    for charge, value in zip(model.charges, values[model.first_charge :], strict=True):
        if value:
            yield charge._replace(number=round(value))


def _why(model: Model, number: int, placement: Placement) -> str:
    """Say why an item is in its bag: the strongest reason that there is."""
    item = model.task.items[number]
    if not placement.bag:
        return ""
    if item.pinned:
        return PINNED
    if any(not item.may_go <= rule.places for rule in item.rules):
        return BY_RULE
    bags = {model.choices[unknown].placement.bag for unknown in model.of_item[number]} - {""}
    if len(bags) == 1:
        return ONLY_BAG
    places = {bag.place for bag in model.bags if bag.tag in bags}
    place = next(bag.place for bag in model.bags if bag.tag == placement.bag)
    return ADVISED if place in item.better and not places <= item.better else EVEN


def _nearest(missing: Missing, bags: tuple[PackedBag, ...], sums: tuple[Use, ...]) -> Missing:
    """Say how likely all limits would hold with an item in the bag that comes nearest, if only room is short."""
    if missing.why not in (NO_ROOM, PIN_TOO_MUCH):
        return missing
    item = missing.item
    chances = {
        packed.bag.tag: min((_chance_with(item, use) for use in _met(packed, sums)), default=1.0)
        for packed in bags
        if packed.items and packed.has_room_for(item) and item.pinned in ("", packed.bag.tag)
    }
    best = max(chances, key=lambda tag: chances[tag], default="")
    return missing._replace(bag=best, chance=chances.get(best))


def _met(packed: PackedBag, sums: tuple[Use, ...]) -> Iterator[Use]:
    if packed.use:
        yield packed.use
    yield from (use for use in sums if packed.bag.place in places_of(use.limit.what))


def _chance_with(item: PackItem, use: Use) -> float:
    return chance_of(total((use.mass, item.mass), "sum"), use.limit.most_kg)


def packed_bag(task: PackingTask, bag: Bag, placed: list[Placed], bought: tuple[Charge, ...]) -> PackedBag:
    """Give a bag with what was placed into it, the heaviest first, and how far that uses its limit."""
    inside = [each for each in placed if each.placement.bag == bag.tag]
    inside.sort(key=lambda each: -each.mass.value if each.mass else 0.0)
    mass = total((bag.mass, *(each.mass for each in inside if each.mass)), "sum")
    volumes = [_volume(each) for each in inside]
    known = [volume for volume in volumes if volume is not None]
    limit = limit_of(bag, (raised(leg, bought, bag.tag) for leg in task.legs))
    use = Use(limit, mass, task.likelihood) if limit else None
    return PackedBag(bag, tuple(inside), mass, sum(known), use)


def _volume(placed: Placed) -> float | None:
    option = placed.placement.option
    return placed.item.volume_m3 if option is None else option.volume_m3


def sums_of(task: PackingTask, bags: tuple[PackedBag, ...], bought: tuple[Charge, ...]) -> Iterator[Use]:
    """Give the uses of the limits that count several bags."""
    for what, limit in totals_of(raised(leg, bought, "") for leg in task.legs).items():
        taken = [packed.mass for packed in bags if packed.bag.place in places_of(what) and packed.items]
        if taken:
            yield Use(limit, total(taken, "sum"), task.likelihood)
