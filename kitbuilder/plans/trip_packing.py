"""How a trip is packed: what it brings goes into its bags on the way out, dry, and comes home in the same bags, wet."""

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from kitbuilder.assess.figures import Figure, total
from kitbuilder.assess.findings import Finding
from kitbuilder.assess.scales import scale_components
from kitbuilder.assess.trip.facts import facts_of
from kitbuilder.catalogue.air_rules import AirRule, air_rules
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.spare import Spare
from kitbuilder.kit.trip import Bag, Leg, Luggage
from kitbuilder.plans.bag_room import BagRoom, room_in_bags
from kitbuilder.plans.packing.chance import ROOM
from kitbuilder.plans.packing.packing import TIME_LIMIT_S, PackedBag, Packing, Use, pack
from kitbuilder.plans.packing.records import (
    BODY,
    EXTRA,
    IN_BAGS,
    NEEDED,
    PLACES,
    USUAL_LIKELIHOOD,
    VITAL,
    WEAR,
    PackingTask,
    PackItem,
    PlacementRule,
)
from kitbuilder.plans.packing.records import Bag as PackBag
from kitbuilder.plans.packing.records import Leg as PackLeg
from kitbuilder.plans.packing.records import Option as PackOption
from kitbuilder.plans.trip_home import BagHome, findings_of_way_home, way_home
from kitbuilder.plans.trip_spares import findings_with_spares
from kitbuilder.plans.trip_weighing import BagWeighing, weighing_priorities
from kitbuilder.plans.trip_weights import TripItem, TripWeights, weigh_trip

HANDLING = "handling"
"""The published limit that counts for a leg that does not state its own."""
UNPAID_LIMIT_S = 1.0
"""What leaving items instead of paying would be is a second answer: it may not take long."""


class PlaceMass(NamedTuple):
    """What the bags of one place weigh, with all that is in them."""

    place: str
    dry: Figure
    """On the way out [kg]."""
    home: Figure
    """On the way home [kg]."""


class RuleThatDecides(NamedTuple):
    """A published rule that keeps items from a place, or asks the airline for its approval."""

    rule: AirRule
    tags: tuple[str, ...]
    """The items that are brought and that it is about."""
    is_approved: bool
    """Whether every airline has given the approval that it asks for."""


class AgainstAdvice(NamedTuple):
    """An item that had better travel elsewhere."""

    tag: str
    bag: str
    rule: AirRule


class TripPacking(NamedTuple):
    """A trip, what it weighs, and where everything goes."""

    trip: ResolvedTrip
    weights: TripWeights
    findings_of_file: tuple[Finding, ...]
    """Of the trip whatever its packing, the worst first."""
    findings_home: tuple[Finding, ...]
    """Limits that may not hold on the way home, and what to do."""
    packing: Packing
    bags_home: tuple[BagHome, ...]
    """Of the bags that come along."""
    sums_home: tuple[Use, ...]
    """Of the limits of the legs home that count several bags."""
    places: tuple[PlaceMass, ...]
    """Of the places that a bag goes to."""
    rules: tuple[RuleThatDecides, ...]
    """In the order of the items."""
    against_advice: tuple[AgainstAdvice, ...]
    rooms: tuple[BagRoom, ...]
    """Of the bags whose volume is known."""
    weigh_first: tuple[BagWeighing, ...]
    """What narrows the mass of all that is packed most, first."""
    unpaid: Packing | None = None
    """What leaving the least would be instead of buying kilograms or bags; None where nothing is bought, or where
    something would stay behind that most dives need."""

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, the worst first."""
        return tuple(sorted((*self.findings_of_file, *self.findings_home), key=lambda finding: -finding.signal))

    @property
    def water(self) -> Figure:
        """What the gear brings home beside its dry mass [kg]."""
        brought = (item.water for item in self.weights.of(Fate.BRING))
        return total((water for water in brought if water), "water in the gear on the way home")

    def uses_of(self, bag: str) -> tuple[Use, ...]:
        """Give the use of the limit of a bag, on the way out and on the way home; none for a bag without a limit."""
        out = (packed.use for packed in self.packing.bags if packed.bag.tag == bag and packed.items)
        home = (packed.use for packed in self.bags_home if packed.bag.tag == bag)
        return tuple(use for use in (*out, *home) if use)

    def uses_of_sum(self, what: str) -> tuple[Use, ...]:
        """Give the use of a limit that counts several bags, on both ways."""
        return tuple(use for use in (*self.packing.sums, *self.sums_home) if use.limit.what == what)

    @property
    def price_home(self) -> float:
        """What is paid again on the way home, if as much is bought on the legs that go both ways."""
        home = {leg.tag for leg in self.trip.legs if leg.is_home}
        return sum(charge.costs for charge in self.packing.bought if charge.leg in home)

    @property
    def is_packed(self) -> bool:
        """Whether every kit is there, all has a mass and a bag, and every limit holds as likely as asked, both ways."""
        home = (*(bag.use for bag in self.bags_home if bag.use), *self.sums_home)
        without = self.trip.missing_kits or self.packing.missing or self.weights.unknown
        return all_hold(home) and not without


def all_hold(uses: Iterable[Use]) -> bool:
    """Say whether limits hold at 95 %."""
    return all(use.room_kg >= -ROOM for use in uses)


def pack_trip(
    trip: ResolvedTrip, time_limit_s: float = TIME_LIMIT_S, earlier: TripPacking | None = None
) -> TripPacking:
    """Weigh a trip and pack it for the way out.

    Args:
        trip: The trip with its kits.
        time_limit_s: After this the best packing found so far is given [s]; see `pack`.
        earlier: A packing to change as little as possible, such as one of which an item was moved.
    """
    weights = weigh_trip(trip)
    packing = pack(packing_task(trip, weights), earlier.packing if earlier else None, time_limit_s)
    unpaid = _without_buying(packing.task, min(time_limit_s, UNPAID_LIMIT_S)) if packing.bought else None
    return packed_trip(trip, weights, packing)._replace(unpaid=unpaid)


def _without_buying(task: PackingTask, time_limit_s: float) -> Packing | None:
    legs = tuple(leg._replace(price_per_kilogram=None, price_per_piece=None) for leg in task.legs)
    found = pack(task._replace(legs=legs), time_limit_s=time_limit_s)
    return found if all(each.is_proposed for each in found.missing) else None


def packed_trip(
    trip: ResolvedTrip, weights: TripWeights, packing: Packing, findings: tuple[Finding, ...] | None = None
) -> TripPacking:
    """Work out what follows from a packing: both ways, the rules that decide, what is against advice.

    Args:
        trip: The trip.
        weights: What it weighs.
        packing: Of the task that `packing_task` makes of them, or of one with the same items in the same order.
        findings: Of the file, where they are known.
    """
    brought = [item for item in weights.of(Fate.BRING) if item.mass]
    bag_of = {id(placed.item): placed.placement.bag for placed in packing.placed}
    pairs = [*zip(packing.task.items, brought, strict=True)]
    where = [(item, packed.tag, bag_of.get(id(packed), "")) for packed, item in pairs]
    bags = [packed for packed in packing.bags if packed.items]
    home = way_home(
        packing,
        ((item, packed, bag) for (packed, item), (_, _, bag) in zip(pairs, where, strict=True)),
        (_leg(leg) for leg in trip.legs if leg.is_home),
    )
    return TripPacking(
        trip=trip,
        weights=weights,
        findings_of_file=findings_with_spares(trip, weights.spares) if findings is None else findings,
        findings_home=findings_of_way_home(home, trip),
        packing=packing,
        bags_home=home.bags,
        sums_home=home.sums,
        places=tuple(_places(bags, home.bags)),
        rules=_rules_that_decide((item, name) for item, name, _ in where),
        against_advice=tuple(_against_advice(where, {packed.bag.tag: packed.bag.place for packed in bags})),
        rooms=tuple(room_in_bags(bags, ((item, bag) for item, _, bag in where))),
        weigh_first=weighing_priorities(weights, (packed.bag for packed in bags)),
    )


def packing_task(trip: ResolvedTrip, weights: TripWeights) -> PackingTask:
    """Give what is to be packed for the way out: all that is brought and has a mass, the bags, the legs out.

    Only rules narrow where an item may go; advice gives way to them, to every limit and to money.
    """
    brought = [item for item in weights.of(Fate.BRING) if item.mass]
    count = Counter(item.tag for item in brought)
    place_of = {bag.tag: bag.goes for bag in trip.bags}
    return PackingTask(
        items=tuple(_item(item, is_only=count[item.tag] == 1, pinned_to=place_of.get(item.bag)) for item in brought),
        bags=tuple(map(_bag, trip.bags)),
        legs=tuple(_leg(leg) for leg in trip.legs if leg.is_out),
        likelihood=trip.header.likelihood or USUAL_LIKELIHOOD,
    )


def _item(item: TripItem, *, is_only: bool, pinned_to: str | None) -> PackItem:
    """Give an item to pack; where several have its tag, the name says whose it is.

    Args:
        item: The item of the trip.
        is_only: Whether no other item has its tag.
        pinned_to: The place of the bag that it has to go into; None for any bag.
    """
    assert item.mass is not None
    luggage = item.item if isinstance(item.item, Luggage) else None
    # Nothing is worn on board that nobody asked for.
    wanted = IN_BAGS | ({BODY} if pinned_to == BODY else set())
    return PackItem(
        tag=item.tag if is_only else f"{item.tag} ({item.file or 'luggage'})",
        mass=item.mass,
        volume_m3=item.room.value if item.room else None,
        may_go=frozenset((luggage.goes,)) if luggage and luggage.goes else wanted,
        rules=tuple(_rules(item)),
        pinned=item.bag,
        options=tuple(_options(item)),
        advice=tuple(
            PlacementRule(rule.name, frozenset(rule.may_go), rule.why)
            for rule in item.placement.rules
            if rule.is_advice
        ),
        need=_need(item),
    )


def _options(item: TripItem) -> Iterator[PackOption]:
    """Give what may be done with an item; on the body goes only what the rules allow there."""
    allowed = all(BODY in rule.may_go for rule in item.placement.rules if not rule.is_advice)
    for option in item.options:
        if option.do != WEAR or allowed:
            yield PackOption(option.do, option.price)


def _need(item: TripItem) -> str:
    if isinstance(item.item, Luggage | Spare):
        return EXTRA
    facts = facts_of(item.item)
    return VITAL if facts.vital_as else EXTRA if facts.is_extra else NEEDED


def _rules(item: TripItem) -> Iterator[PlacementRule]:
    for rule in item.placement.rules:
        if not rule.is_advice:
            asks = rule.needs_approval and item.placement.needs_approval
            yield PlacementRule(rule.name, frozenset(rule.may_go), rule.why, asks)


def _bag(bag: Bag) -> PackBag:
    read = scale_components(f"scale reading of {bag.tag}", bag.mass_kg, bag.mass_spread_kg, bag.mass_half_digit_kg)
    mass = Figure(bag.mass_kg, read if bag.mass_kg else {}, "weighed")  # pockets of a jacket weigh nothing of their own
    return PackBag(bag.tag, bag.goes, mass, bag.volume_m3, _edges(bag.size_m), bag.most_kg)


def _leg(leg: Leg) -> PackLeg:
    usual = air_rules().limits[HANDLING].value.value
    # Where each piece may weigh less anyway, whatever is paid, the usual limit says nothing more.
    decides = leg.hold_piece_kg is None or leg.hold_piece_kg > usual or leg.price_per_kilogram is not None
    return PackLeg(
        tag=leg.tag,
        hold_piece_kg=leg.hold_piece_kg,
        hold_total_kg=leg.hold_total_kg,
        hold_pieces=leg.hold_pieces,
        hold_edges_m=leg.hold_edges_m,
        handling_kg=usual if leg.handling_kg is None and decides else leg.handling_kg,
        cabin_piece_kg=leg.cabin_piece_kg,
        cabin_total_kg=leg.cabin_total_kg,
        cabin_pieces=leg.cabin_pieces,
        cabin_edges_m=_edges(leg.cabin_size_m),
        total_kg=leg.total_kg,
        price_per_kilogram=leg.price_per_kilogram,
        price_per_piece=leg.price_per_piece,
    )


def _edges(size_m: tuple[float, ...]) -> tuple[float, float, float] | None:
    if not size_m:
        return None
    long, wide, high = size_m
    return long, wide, high


def _places(bags: Iterable[PackedBag], home: Iterable[BagHome]) -> Iterator[PlaceMass]:
    dry, wet = list(bags), list(home)
    for place in PLACES:
        if any(packed.bag.place == place for packed in dry):
            origin = f"sum of all bags: {place}"
            yield PlaceMass(
                place,
                total((packed.mass for packed in dry if packed.bag.place == place), origin),
                total((bag.mass for bag in wet if bag.bag.place == place), f"{origin}, with water"),
            )


def _rules_that_decide(items: Iterable[tuple[TripItem, str]]) -> tuple[RuleThatDecides, ...]:
    tags = dict[tuple[AirRule, bool], tuple[str, ...]]()
    for item, name in items:
        for rule in item.placement.rules:
            if not rule.is_advice and (rule.needs_approval or not set(rule.may_go) >= IN_BAGS):
                is_approved = rule.needs_approval and item.placement.is_approved
                tags[rule, is_approved] = (*tags.get((rule, is_approved), ()), name)
    return tuple(RuleThatDecides(rule, names, is_approved) for (rule, is_approved), names in tags.items())


def _against_advice(where: Iterable[tuple[TripItem, str, str]], places: dict[str, str]) -> Iterator[AgainstAdvice]:
    for item, name, bag in where:
        for rule in item.placement.rules:
            if bag and rule.is_advice and places[bag] not in rule.may_go:
                yield AgainstAdvice(name, bag, rule)
