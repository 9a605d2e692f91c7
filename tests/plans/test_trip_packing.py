"""How a trip is packed: bags and items weigh the same, the strictest leg counts, rules decide and advice does not."""

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from kitbuilder.catalogue.air_rules import SHARP
from kitbuilder.kit.entry import Entry
from kitbuilder.kit.items import Cylinder, Header, Item, Jacket, Kit, Lead, Other, Suit
from kitbuilder.kit.resolved import resolve
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip, TripKit
from kitbuilder.kit.trip import Bag, Leave, Leg, Luggage, Option, OwnRule, Pin, Rent, TripHeader
from kitbuilder.kitfile.read import read
from kitbuilder.plans.packing.choices import MAY_NOT_FLY, NO_BAG, NO_ROOM, RULES_CONTRADICT, TOO_HEAVY
from kitbuilder.plans.packing.limits import HANDLING, PIECE, TOO_HEAVY_EMPTY, ZERO_LIMIT
from kitbuilder.plans.packing.packing import BY_RULE, PINNED
from kitbuilder.plans.trip_packing import TripPacking, pack_trip
from tests.kitfile.support import TRIPS

GRAM = 0.001
LATER = float("inf")
ITEMS: tuple[Item, ...] = (
    Cylinder(tag="cylinder", preset="steel 12 L 232 long", mass_kg=15.0),
    Lead(tag="belt", mass_kg=1, pieces=4),
    Suit(tag="suit", cut="full suit", thickness_m=0.003, mass_kg=1.5),
    Jacket(tag="jacket", preset="travel jacket", mass_kg=2.0),
    Other(tag="knife", preset="knife", mass_kg=0.3),
    Other(tag="computer", preset="wrist computer", mass_kg=0.2),
)
RENTED = (Rent(every="cylinder"), Rent(every="lead"))
DUFFEL = Bag(tag="duffel", goes="hold", mass_kg=2.6)
BACKPACK = Bag(tag="backpack", goes="cabin", mass_kg=0.9)
POCKETS = Bag(tag="pockets", goes="body", mass_kg=0.0)
FLIGHT = Leg(tag="flight", hold_piece_kg=23.0, cabin_piece_kg=8.0)


def packed(*entries: Entry, items: tuple[Item, ...] = ITEMS) -> TripPacking:
    """A trip whose cylinder and lead are rented, packed."""
    kit = resolve(Kit(Header(format=1, name="kit", layout="single"), items))
    header = TripHeader(format=1, holds="trip", name="x", kits=("kit.toml",))
    return pack_trip(ResolvedTrip(header, (*RENTED, *entries), (TripKit("kit.toml", kit),)), LATER)


def bag_of(found: TripPacking) -> dict[str, str]:
    return {placed.item.tag: placed.placement.bag for placed in found.packing.placed}


# ---- the trips that come along ----


@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_every_item_has_a_bag_and_every_limit_holds_both_ways(path: Path) -> None:
    trip = read(path).contents
    assert isinstance(trip, ResolvedTrip)
    found = pack_trip(trip, LATER)
    assert found.is_packed
    assert found.packing.proof.is_proved
    assert found.packing.uses
    home = [bag.use for bag in found.bags_home if bag.use]
    assert min(use.chance for use in (*found.packing.uses, *home, *found.sums_home)) >= 0.95
    assert {item.tag for item in found.weights.of(Fate.BRING)} == set(bag_of(found))


@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_bags_weigh_what_the_items_in_them_and_the_empty_bags_weigh(path: Path) -> None:
    """To the gram, on both ways, by bag and by place."""
    trip = read(path).contents
    assert isinstance(trip, ResolvedTrip)
    found = pack_trip(trip, LATER)
    empty = sum(bag.mass_kg for bag in trip.bags)
    dry = sum(bag.mass.value for bag in found.packing.bags)
    home = sum(bag.mass.value for bag in found.bags_home)
    assert dry == pytest.approx(found.weights.dry(Fate.BRING).value + empty, abs=GRAM)
    assert home == pytest.approx(found.weights.home.value + empty, abs=GRAM)
    assert home - dry == pytest.approx(found.water.value, abs=GRAM)
    assert sum(place.dry.value for place in found.places) == pytest.approx(dry, abs=GRAM)
    assert sum(place.home.value for place in found.places) == pytest.approx(home, abs=GRAM)
    for bag in found.packing.bags:
        inside = sum(placed.item.mass.value for placed in bag.items)
        assert bag.mass.value == pytest.approx(bag.bag.mass.value + inside, abs=GRAM)


# ---- what counts ----


def test_what_is_rented_or_left_is_not_packed() -> None:
    found = packed(DUFFEL, BACKPACK, FLIGHT, Leave(item="knife"))
    assert set(bag_of(found)) == {"suit", "jacket", "computer"}


def test_rules_and_pins_decide_and_advice_does_not() -> None:
    """A knife flies in the hold alone; a computer had better be in the cabin, and goes where it is pinned."""
    found = packed(DUFFEL, BACKPACK, FLIGHT, Pin(item="computer", bag="duffel"))
    placed = {each.item.tag: each for each in found.packing.placed}
    assert (placed["knife"].placement.bag, placed["knife"].why) == ("duffel", BY_RULE)
    assert (placed["computer"].placement.bag, placed["computer"].why) == ("duffel", PINNED)
    assert {(each.tag, each.bag) for each in found.against_advice} >= {("computer", "duffel")}
    assert all(each.rule.is_advice for each in found.against_advice)


def test_in_the_cabin_nothing_is_against_advice() -> None:
    found = packed(DUFFEL, BACKPACK, FLIGHT, Pin(item="computer", bag="backpack"))
    assert "computer" not in {each.tag for each in found.against_advice}


def test_the_body_carries_only_what_the_trip_says() -> None:
    entries = (DUFFEL, BACKPACK, POCKETS, FLIGHT, Luggage(tag="papers", mass_kg=0.5, goes="body"))
    assert [tag for tag, bag in bag_of(packed(*entries)).items() if bag == "pockets"] == ["papers"]
    pinned = bag_of(packed(*entries, Pin(item="computer", bag="pockets")))
    assert {tag for tag, bag in pinned.items() if bag == "pockets"} == {"papers", "computer"}


def test_the_strictest_leg_of_the_way_out_counts() -> None:
    strict = Leg(tag="hop", hold_piece_kg=15.0, way="out")
    found = packed(DUFFEL, FLIGHT, strict, Leg(tag="ferry", hold_piece_kg=9.0, way="home"))
    [use] = found.packing.uses
    assert (use.limit.most_kg, use.limit.what, use.limit.leg) == (15.0, PIECE, "hop")
    [home] = found.bags_home
    assert home.use is not None
    assert (home.use.limit.most_kg, home.use.limit.leg) == (9.0, "ferry")


def test_the_usual_handling_limit_counts_where_a_leg_states_none() -> None:
    """32 kg, from the published page that `air_rules.toml` names."""
    [use] = packed(DUFFEL, Leg(tag="flight")).packing.uses
    assert (use.limit.most_kg, use.limit.what) == (32.0, HANDLING)
    [own] = packed(DUFFEL, Leg(tag="flight", handling_kg=40.0)).packing.uses
    assert own.limit.most_kg == 40.0


def test_a_limit_that_only_the_wet_gear_exceeds_is_seen() -> None:
    """Dry 2.6 + 1.5 + 2.0 + 0.3 + 0.2 = 6.6 kg; the water adds 1.28 kg, 0.55 of the suit and 0.225 of the jacket."""
    found = packed(DUFFEL, Leg(tag="flight", hold_piece_kg=7.5))
    assert not found.packing.missing
    [home] = found.bags_home
    assert home.mass.value == pytest.approx(7.875, abs=GRAM)
    assert not found.is_packed


def test_items_of_one_tag_are_named_with_their_kit() -> None:
    found = packed(DUFFEL, FLIGHT)
    two = replace(found.trip, kits=(*found.trip.kits, found.trip.kits[0]._replace(file="two.toml")))
    tags = set(bag_of(pack_trip(two, LATER)))
    assert {"suit (kit.toml)", "suit (two.toml)"} <= tags
    assert len(tags) == 8


def test_an_item_without_a_mass_is_named_and_not_packed() -> None:
    found = packed(DUFFEL, FLIGHT, items=(*ITEMS, Other(tag="box")))
    assert [item.tag for item in found.weights.unknown] == ["box"]
    assert "box" not in bag_of(found)
    assert not found.is_packed


def test_an_approval_that_the_airline_has_given_is_not_asked_again() -> None:
    """120 Wh: above 100 Wh, so that the airline has to approve it."""
    lamp = Luggage(tag="lamp", mass_kg=1.0, battery_j=120 * 3600.0)
    [placed] = [each for each in packed(DUFFEL, FLIGHT, lamp).packing.placed if each.approvals]
    assert placed.item.tag == "lamp"
    assert [each.tags for each in packed(DUFFEL, FLIGHT, lamp).rules if each.rule.needs_approval] == [("lamp",)]
    approved = packed(DUFFEL, replace(FLIGHT, approved=("lamp",)), lamp)
    assert not [each for each in approved.packing.placed if each.approvals]
    assert [(each.tags, each.is_approved) for each in approved.rules if each.rule.needs_approval] == [(("lamp",), True)]


def test_a_rule_that_decides_is_named_once_with_its_items() -> None:
    """The knife and a tool fly in the hold only; a battery of 50 Wh in its device flies everywhere."""
    torch = Luggage(tag="torch", mass_kg=0.2, battery_j=50 * 3600.0)
    found = packed(DUFFEL, BACKPACK, FLIGHT, Luggage(tag="spanner", mass_kg=0.3, sharp=True), torch)
    assert [(each.rule.about, each.tags) for each in found.rules] == [(SHARP, ("knife", "spanner"))]


# ---- trips that cannot be packed ----


def why_missing(found: TripPacking) -> set[str]:
    return {missing.why for missing in found.packing.missing}


def test_without_bags_nothing_is_packed() -> None:
    found = packed(FLIGHT)
    assert why_missing(found) == {NO_BAG}
    assert found.places == ()


def test_a_bag_that_is_too_heavy_when_empty_is_not_used() -> None:
    found = packed(DUFFEL, BACKPACK, Leg(tag="flight", hold_piece_kg=2.0))
    assert [(each.bag.tag, each.why) for each in found.packing.unusable] == [("duffel", TOO_HEAVY_EMPTY)]
    assert not found.is_packed, "the knife may go nowhere else"


def test_limits_of_zero_are_limits() -> None:
    found = packed(DUFFEL, BACKPACK, Leg(tag="flight", hold_piece_kg=0.0, cabin_total_kg=0.0))
    assert {each.why for each in found.packing.unusable} == {ZERO_LIMIT}
    assert len(found.packing.missing) == 4


def test_an_item_heavier_than_every_limit_is_named() -> None:
    found = packed(DUFFEL, BACKPACK, FLIGHT, Luggage(tag="anchor", mass_kg=40.0))
    assert [(each.item.tag, each.why) for each in found.packing.missing] == [("anchor", TOO_HEAVY)]


def test_what_finds_no_room_is_as_light_as_possible() -> None:
    """6.85 kg, and 6.75 kg are allowed: 0.2 kg less is enough, and leaves room for the spread.

    The computer weighs that, but no dive is done without it: a shirt of 0.25 kg goes, and not the knife of 0.3 kg.
    """
    shirt = Luggage(tag="shirt", mass_kg=0.25, mass_spread_kg=0.0)
    found = packed(DUFFEL, Leg(tag="flight", hold_piece_kg=6.75), shirt)
    assert why_missing(found) == {NO_ROOM}
    assert [(each.item.tag, each.is_proposed) for each in found.packing.missing] == [("shirt", True)]


def test_what_the_dive_takes_is_left_only_when_nothing_else_is_there() -> None:
    """6.6 kg in 5 kg: without the knife 6.3, without the suit as well 4.8; the jacket alone would be heavier."""
    found = packed(DUFFEL, Leg(tag="flight", hold_piece_kg=5.0))
    gone = {each.item.tag: each.is_proposed for each in found.packing.missing}
    assert "computer" not in gone
    assert gone == {"suit": False, "knife": True}


# ---- options, prices and rules of the airline ----


def test_options_of_items_and_luggage_are_taken_before_anything_is_left_out() -> None:
    """6.6 kg and 3 kg of clothes in 7 kg: 2.6 kg have to go. Suit and jacket to rent cost 22, the clothes 20."""
    clothes = Luggage(tag="clothes", mass_kg=3.0)
    options = (
        Option(item="clothes", do="rent", price=20.0),
        Option(every="suit", do="rent", price=12.0),
        Option(item="jacket", do="rent", price=10.0),
    )
    found = packed(DUFFEL, Leg(tag="flight", hold_piece_kg=7.0), clothes, *options).packing
    assert (found.missing, found.price) == ((), 20.0)
    assert [placed.item.tag for placed in found.instead] == ["clothes"]


def test_an_edge_is_not_worn() -> None:
    found = packed(DUFFEL, Leg(tag="flight", hold_piece_kg=6.5), Option(item="knife", do="wear"))
    assert not found.packing.instead
    assert "option" in {finding.rule for finding in found.findings}


def test_a_leg_that_sells_kilograms_sells_them_up_to_the_usual_handling_limit() -> None:
    """32 kg, from the published page that `air_rules.toml` names; 6.6 kg and 26 kg of lead are too much for it."""
    leg = Leg(tag="flight", hold_piece_kg=23.0, price_per_kilogram=10.0)
    found = packed(DUFFEL, leg, Luggage(tag="books", mass_kg=20.0, mass_spread_kg=0.0)).packing
    assert [(each.number, each.bag, each.costs) for each in found.bought] == [(4, "duffel", 40.0)]
    heavy = packed(DUFFEL, leg, Luggage(tag="books", mass_kg=26.0))
    assert [each.item.tag for each in heavy.packing.missing] == ["books"]


@pytest.mark.parametrize(
    ("limit_kg", "entries", "left"),
    [
        # 6.6 kg and 2 kg of clothes; with a kilogram beyond 8.0 kg all fits, without it 0.6 kg have to stay
        (8.0, [], ["clothes"]),
        (8.0, [Option(item="jacket", do="leave", price=30)], ["jacket"]),
        # without the clothes 0.3 kg more is too much, and a jacket is needed
        (6.3, [], None),
        (9.0, [], None),
    ],
)
def test_what_is_bought_is_compared_with_what_would_stay_behind(
    limit_kg: float, entries: list[Entry], left: list[str] | None
) -> None:
    leg = Leg(tag="flight", way="out", hold_piece_kg=limit_kg, price_per_kilogram=10)
    found = packed(DUFFEL, leg, Luggage(tag="clothes", mass_kg=2.0), *entries)
    unpaid = found.unpaid
    away = unpaid and [*(each.item.tag for each in (*unpaid.missing, *unpaid.instead))]
    assert away == left


def test_a_trip_may_ask_for_less_or_more_than_95_percent() -> None:
    found = packed(DUFFEL, BACKPACK, FLIGHT)
    less = pack_trip(replace(found.trip, header=replace(found.trip.header, likelihood=0.8)), LATER)
    assert (found.packing.task.likelihood, less.packing.task.likelihood) == (0.95, 0.8)
    [use] = [bag.use for bag in less.bags_home if bag.bag.tag == "duffel"]
    assert use is not None
    assert use.likelihood == 0.8


def test_the_airlines_own_rule_decides_and_is_shown_with_its_source() -> None:
    rule = OwnRule(item="jacket", goes="cabin", source="letter of the airline", read=date(2031, 4, 2))
    refused = OwnRule(item="camera", goes="nowhere")
    found = packed(DUFFEL, BACKPACK, FLIGHT, rule, refused, Luggage(tag="camera", mass_kg=1.0))
    assert bag_of(found)["jacket"] == "backpack"
    shown = {each.tags: each.rule for each in found.rules}
    assert (shown[("jacket",)].origin, shown[("jacket",)].read) == ("letter of the airline", "2031-04-02")
    assert [(each.item.tag, each.why) for each in found.packing.missing] == [("camera", MAY_NOT_FLY)]
    assert "may not fly" in " ".join(str(word) for finding in found.findings for word in finding.what)


def test_the_mask_and_the_regulators_of_the_wreck_trip_travel_in_the_cabin() -> None:
    """They weigh, with gauge and hoses, 3.4 kg, and the canister torch 1.9 kg; 6 kg are free."""
    trip = read(next(path for path in TRIPS if path.stem == "trip-wreck")).contents
    assert isinstance(trip, ResolvedTrip)
    found = pack_trip(trip, LATER)
    cabin = {tag for tag, there in bag_of(found).items() if there == "backpack"}
    assert cabin >= {"mask", "left post", "right post", "primary", "necklace", "long hose", "gauge", "canister torch"}
    assert found.against_advice == ()


def test_rules_that_contradict_leave_no_place() -> None:
    """Spare batteries may not be in the hold, where the trip wants them."""
    spare = Luggage(tag="cells", mass_kg=0.1, battery_j=36000.0, spare=True, goes="hold")
    found = packed(DUFFEL, BACKPACK, FLIGHT, spare)
    assert [(each.item.tag, each.why) for each in found.packing.missing] == [("cells", RULES_CONTRADICT)]


def test_a_battery_of_unknown_energy_is_a_finding() -> None:
    found = packed(DUFFEL, BACKPACK, FLIGHT, Luggage(tag="lamp", mass_kg=1.0, battery_type="lithium ion"))
    assert "batteries" in {finding.rule for finding in found.findings}


def test_many_items_and_bags_are_packed_in_the_time_allowed() -> None:
    """300 items of 50 to 349 g in 12 bags; the sums still agree."""
    luggage = [Luggage(tag=f"item {number}", mass_kg=0.05 + number / 1000) for number in range(300)]
    bags = [Bag(tag=f"bag {number}", goes="hold", mass_kg=1.0) for number in range(12)]
    kit = TripHeader(format=1, holds="trip", name="x", kits=())
    found = pack_trip(ResolvedTrip(kit, (*bags, *luggage, FLIGHT), ()), time_limit_s=0.5)
    assert not found.packing.missing
    carried = sum(bag.mass.value for bag in found.packing.bags if bag.items)
    used = sum(bool(bag.items) for bag in found.packing.bags)
    assert carried == pytest.approx(used + sum(0.05 + number / 1000 for number in range(300)), abs=GRAM)
