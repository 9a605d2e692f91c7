"""Packings by hand, packings drawn at random, and the best of those by trying all: without the program's search."""

import itertools
import random
from typing import NamedTuple

import numpy as np

from kitbuilder.assess.figures import Figure
from kitbuilder.plans.packing.packing import Packing, pack
from kitbuilder.plans.packing.records import (
    BODY,
    CABIN,
    EXTRA,
    HOLD,
    IN_BAGS,
    LEAVE,
    NEEDED,
    NEEDS,
    RENT,
    SWAP,
    VITAL,
    WEAR,
    Bag,
    Leg,
    Option,
    PackingTask,
    PackItem,
    Placement,
    PlacementRule,
)

DEVIATIONS_95, ONE_SIDED = 1.959964, 1.6448536270
"""Standard deviations of a normal distribution: 95 % to both sides, and to one (tables of the normal distribution)."""
ONE_SIDED_FOR = {0.5: 0.0, 0.7: 0.5244005127, 0.8: 0.8416212336, 0.95: ONE_SIDED, 0.999: 3.0902323062}
"""To one side, for other probabilities (the same tables)."""
NEAR = 1e-5
FULL = 100_000
LATER = float("inf")

# ---- made by hand ----

CABIN_ONLY = PlacementRule("spare cells", frozenset([CABIN]), "Spare cells stay in the cabin.")
HOLD_ONLY = PlacementRule("edges", frozenset([HOLD]), "Edges go in the hold.")
NO_FLIGHT = PlacementRule("filled cylinder", frozenset(), "A filled cylinder may not fly.")


IN_CABIN = PlacementRule("breakable", frozenset([CABIN, BODY]), "Bags in the hold are thrown.")
IN_HOLD = PlacementRule("bulky", frozenset([HOLD]), "It is in the way in the cabin.")


def kg(value: float, spread: float = 0.0, source: str = "") -> Figure:
    return Figure(value, {source or f"its own {value}": spread} if spread else {}, "given")


def item(tag: str, mass_kg: float, *rules: PlacementRule, spread: float = 0.0, **others) -> PackItem:
    return PackItem(tag, kg(mass_kg, spread, tag), rules=rules, **others)


def bag(tag: str, place: str = HOLD, mass_kg: float = 1.0, **others) -> Bag:
    return Bag(tag, place, kg(mass_kg), **others)


FLIGHT = Leg("flight", hold_piece_kg=23, cabin_piece_kg=8)
DUFFEL, RUCKSACK, VEST = bag("duffel", mass_kg=2.0), bag("rucksack", CABIN), bag("vest", BODY, volume_m3=0.002)


def packed(items, bags=(DUFFEL, RUCKSACK), legs=(FLIGHT,), earlier=None) -> Packing:
    return pack(PackingTask(tuple(items), tuple(bags), tuple(legs)), earlier, time_limit_s=LATER)


def where(packing: Packing) -> dict[str, str]:
    return {placed.item.tag: placed.placement.bag for placed in packing.placed}


def missing(packing: Packing) -> dict[str, str]:
    return {each.item.tag: each.why for each in packing.missing}


# ---- drawn, and all of them tried ----


def grams(draw: random.Random, low: int, high: int) -> float:
    return draw.randrange(low, high) / 1000


def figure(draw: random.Random, mass_kg: float, own: str) -> Figure:
    """A mass with a source of its own, and often one that it shares with others."""
    components = {}
    if draw.random() < 0.8:
        components[own] = mass_kg * draw.choice([0.02, 0.1, 0.4])
    if draw.random() < 0.5:
        components[draw.choice(["scale", "fabric"])] = mass_kg * draw.choice([0.05, 0.2])
    return Figure(mass_kg, components, "drawn")


def drawn_item(draw: random.Random, number: int, tags: list[str]) -> PackItem:
    mass_kg = grams(draw, 100, 6000)
    own = f"item {number}"
    may_go = draw.choice([IN_BAGS, IN_BAGS, IN_BAGS, frozenset([HOLD]), frozenset([CABIN, BODY])])
    rules = [PlacementRule("edge", frozenset([HOLD, BODY]), "It has an edge.")] if draw.random() < 0.1 else []
    options = []
    if draw.random() < 0.5:
        options.append(Option(draw.choice([LEAVE, RENT, WEAR]), draw.choice([None, 0.0, 5.0, 12.5])))
    if draw.random() < 0.3:
        lighter = figure(draw, round(mass_kg * 500) / 1000, own)
        options.append(Option(SWAP, draw.choice([None, 3.0, 20.0]), lighter, volume_m3=0.002))
    pinned = draw.choice(tags) if draw.random() < 0.1 else ""
    volume = draw.choice([None, 0.001, 0.005, 0.012])
    return PackItem(
        f"item {number}",
        figure(draw, mass_kg, own),
        volume,
        may_go,
        tuple(rules),
        pinned,
        options=tuple(options),
        advice=draw.choice([(), (), (IN_CABIN,), (IN_HOLD,), (IN_CABIN, IN_HOLD)]),
        need=draw.choice(NEEDS),
    )


def drawn_task(draw: random.Random) -> PackingTask:
    """Three to five items, one to three bags, one or two legs."""
    places = draw.choice([[HOLD], [HOLD, CABIN], [HOLD, CABIN], [HOLD, HOLD], [HOLD, HOLD, CABIN], [HOLD, CABIN, BODY]])
    bags = tuple(
        Bag(f"bag {n}", place, figure(draw, grams(draw, 100, 2000), f"bag {n}"), draw.choice([None, 0.015, 0.03]))
        for n, place in enumerate(places)
    )
    items = tuple(drawn_item(draw, n, [bag.tag for bag in bags]) for n in range(draw.randrange(3, 6)))
    mass = sum(item.mass.value for item in items)
    legs = tuple(
        Leg(
            f"leg {n}",
            hold_piece_kg=round(mass * draw.choice([0.4, 0.7, 1.0, 1.3]), 2),
            hold_total_kg=draw.choice([None, round(mass * draw.choice([0.7, 1.0]), 2)]),
            hold_pieces=draw.choice([None, None, 1]),
            cabin_piece_kg=draw.choice([None, round(mass * draw.choice([0.2, 0.5, 0.8]), 2)]),
            total_kg=draw.choice([None, None, round(mass * 1.1, 2)]),
            handling_kg=draw.choice([None, round(mass * 0.8, 2)]),
            price_per_kilogram=draw.choice([None, None, 2.5, 6.0]),
            price_per_piece=draw.choice([None, 7.0]),
        )
        for n in range(draw.choice([1, 2]))
    )
    return PackingTask(items, bags, legs, draw.choice([0.95, 0.95, 0.7, 0.999]))


class Best(NamedTuple):
    """What the best packing comes to."""

    vital_g: int
    needed_g: int
    left_out_g: int
    cents: int
    away_g: int
    changes: int
    against_g: int
    largest: float
    """Of the limits, the largest part used."""
    uneven: float


def ways_of(item: PackItem, bags: tuple[Bag, ...]) -> list[tuple[Placement, Figure | None, float]]:
    """Every placement of an item that the rules allow, whatever the limits say."""
    places = set(item.may_go)
    for rule in item.rules:
        places &= rule.places
    allowed = [bag.tag for bag in bags if bag.place in places and item.pinned in ("", bag.tag)]
    ways = [(Placement(tag), item.mass, item.volume_m3 or 0.0) for tag in allowed]
    for option in () if item.pinned else item.options:
        if option.instead is None:
            ways.append((Placement("", option), None, 0.0))
        else:
            ways += [(Placement(tag, option), option.instead, option.volume_m3 or 0.0) for tag in allowed]
    return [*ways, (Placement(), None, 0.0)]


class Tables:
    """Packings side by side: what each has in each bag."""

    def __init__(self, task: PackingTask) -> None:
        self.task = task
        self.ways = [ways_of(item, task.bags) for item in task.items]
        ranges = [range(len(ways)) for ways in self.ways]
        self.packings = np.array(list(itertools.product(*ranges)))
        sources = {s for ways in self.ways for _, mass, _ in ways if mass for s in mass.components}
        sources |= {source for bag in task.bags for source in bag.mass.components}
        self.sources = sorted(sources)
        self.used = [self._per_way(lambda way, b=bag: float(way[0].bag == b.tag)).sum(1) > 0 for bag in task.bags]

    def _per_way(self, value) -> np.ndarray:
        """A value of the way that each packing takes, item by item."""
        columns = [np.array([value(way) for way in ways])[self.packings[:, n]] for n, ways in enumerate(self.ways)]
        return np.stack(columns, axis=1)

    def sum_over(self, bags: list[Bag], of_mass, of_bag) -> np.ndarray:
        tags = {bag.tag for bag in bags}
        items = self._per_way(lambda way: of_mass(way[1]) if way[0].bag in tags else 0.0).sum(1)
        return items + sum(
            used * of_bag(bag) for used, bag in zip(self.used, self.task.bags, strict=True) if bag.tag in tags
        )

    def mean(self, bags: list[Bag]) -> np.ndarray:
        return self.sum_over(bags, lambda mass: mass.value, lambda bag: bag.mass.value)

    def reached(self, bags: list[Bag]) -> np.ndarray:
        variance = 0.0
        for source in self.sources:
            share = self.sum_over(
                bags,
                lambda mass, s=source: mass.components.get(s, 0.0),
                lambda bag, s=source: bag.mass.components.get(s, 0.0),
            )
            variance = variance + (share / DEVIATIONS_95) ** 2
        return self.mean(bags) + ONE_SIDED_FOR[self.task.likelihood] * np.sqrt(variance)

    def volume(self, bag: Bag) -> np.ndarray:
        return self._per_way(lambda way: way[2] if way[0].bag == bag.tag else 0.0).sum(1)

    def cost(self, value) -> np.ndarray:
        columns = [
            np.array([value(item, way[0]) for way in ways])[self.packings[:, n]]
            for n, (item, ways) in enumerate(zip(self.task.items, self.ways, strict=True))
        ]
        return np.stack(columns, axis=1).sum(1)


def least(values: list[float | None]) -> float | None:
    return min((value for value in values if value is not None), default=None)


class MostKg(NamedTuple):
    """A limit of mass of bags."""

    bags: list[Bag]
    most_kg: float
    leg: Leg | None
    """The leg that sells kilograms beyond it; None when none does."""

    @property
    def is_of_one(self) -> bool:
        return len(self.bags) == 1


def limits_of(task: PackingTask) -> list[MostKg]:
    """Every limit of mass of every leg."""
    found = []
    hold, cabin = ([bag for bag in task.bags if bag.place == place] for place in (HOLD, CABIN))
    for leg in task.legs:
        seller = None if leg.price_per_kilogram is None else leg
        found += [([bag], leg.hold_piece_kg, seller) for bag in hold]
        found += [([bag], leg.handling_kg, None) for bag in hold]
        found += [([bag], leg.cabin_piece_kg, None) for bag in cabin]
        found += [(hold, leg.hold_total_kg, seller), (hold + cabin, leg.total_kg, None)]
    return [MostKg(bags, most_kg, leg) for bags, most_kg, leg in found if bags and most_kg is not None]


def bought_cents(tables: Tables, task: PackingTask, leg: Leg) -> np.ndarray:
    """What each packing pays on a leg for kilograms begun and further pieces."""
    hold = [(bag, used) for bag, used in zip(task.bags, tables.used, strict=True) if bag.place == HOLD]
    cents = np.zeros(len(tables.packings))
    if leg.price_per_kilogram is not None:
        of_bags = [np.ceil(tables.reached([bag]) - leg.hold_piece_kg - NEAR) for bag, _ in hold]
        kilograms = sum(np.maximum(0, each) for each in of_bags)
        if leg.hold_total_kg is not None and hold:
            together = np.ceil(tables.reached([bag for bag, _ in hold]) - leg.hold_total_kg - NEAR)
            kilograms = np.maximum(kilograms, together)
        cents += kilograms * round(leg.price_per_kilogram * 100)
    if leg.price_per_piece is not None and leg.hold_pieces is not None:
        further = sum(used.astype(int) for _, used in hold) - leg.hold_pieces
        cents += np.maximum(0, further) * round(leg.price_per_piece * 100)
    return cents


def best_by_trying(task: PackingTask, earlier: dict[str, Placement] | None = None) -> Best:
    """Try every packing, and give what the best of those that keep all limits comes to."""
    tables, limits = Tables(task), limits_of(task)
    allowed = np.ones(len(tables.packings), bool)
    for limit in limits:
        if limit.leg is None:
            allowed &= tables.reached(limit.bags) <= limit.most_kg + NEAR
    for used, bag in zip(tables.used, task.bags, strict=True):
        if bag.volume_m3 is not None:
            allowed &= ~used | (tables.volume(bag) <= bag.volume_m3 + NEAR)
    if (most := least([leg.hold_pieces for leg in task.legs if leg.price_per_piece is None])) is not None:
        pieces = sum(used.astype(int) for used, bag in zip(tables.used, task.bags, strict=True) if bag.place == HOLD)
        allowed &= pieces <= most

    def away(item: PackItem, placement: Placement) -> int:
        instead = placement.option.instead.value if placement.option.instead else 0.0
        return 1 + max(0, round((item.mass.value - instead) * 1000))

    def left(need: str) -> np.ndarray:
        return tables.cost(lambda i, p: 1 + round(i.mass.value * 1000) if p == Placement() and i.need == need else 0)

    place_of = {bag.tag: bag.place for bag in task.bags}

    def better(item: PackItem) -> set[str]:
        allowed = {place for place in item.may_go if all(place in rule.places for rule in item.rules)}
        return {place for place in allowed if all(place in advice.places for advice in item.advice)} or allowed

    def against(item: PackItem, placement: Placement) -> int:
        instead = placement.option.instead if placement.option else None
        is_against = placement.bag and place_of[placement.bag] not in better(item)
        return round((instead or item.mass).value * 1000) if is_against else 0

    cents = tables.cost(lambda _, p: round((p.option.price or 0.0) * 100) if p.option else 0)
    costs = [
        *map(left, (VITAL, NEEDED, EXTRA)),
        cents + sum(bought_cents(tables, task, leg) for leg in task.legs),
        tables.cost(lambda i, p: away(i, p) if p.option else 0),
        tables.cost(lambda i, p: int(p != (earlier or {}).get(i.tag, p))),
        tables.cost(against),
    ]
    for cost in costs:
        allowed &= cost == cost[allowed].min()
    uses = [tables.mean(limit.bags) / limit.most_kg for limit in limits]
    largest = np.max(uses, axis=0) if uses else np.zeros(len(allowed))
    lowest = largest[allowed].min()
    within = allowed & (largest <= lowest + 1.01 / FULL)
    uneven = np.zeros(len(allowed))
    for place in (HOLD, CABIN):
        strictest = {}
        for bag, used in zip(task.bags, tables.used, strict=True):
            own = least([limit.most_kg for limit in limits if limit.bags == [bag] and own_limit(task, bag, limit)])
            if bag.place == place and own is not None:
                strictest[bag.tag] = (tables.mean([bag]) / own, used)
        if len(strictest) > 1:
            alike = list(strictest.values())
            high = np.max([np.where(used, use, -np.inf) for use, used in alike], axis=0)
            low = np.min([np.where(used, use, np.inf) for use, used in alike], axis=0)
            uneven += np.where(high >= low, high - low, 0.0)
    return Best(*(int(cost[allowed][0]) for cost in costs), float(lowest), float(uneven[within].min()))


def own_limit(task: PackingTask, bag: Bag, limit: MostKg) -> bool:
    """Say whether a limit is one of a single bag, and not that of a sum of which there is only one."""
    pieces = {HOLD: ("hold_piece_kg", "handling_kg"), CABIN: ("cabin_piece_kg",)}.get(bag.place, ())
    return limit.most_kg in [getattr(leg, key) for leg in task.legs for key in pieces]
