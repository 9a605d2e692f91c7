"""Moving an item of a trip: what changes at once, what is refused, and that the repair leaves the rest alone."""

from dataclasses import replace

import pytest

from kitbuilder.kit.items import Gauge
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.trip import Bag, Leave, Leg, Luggage, Pin, Rent
from kitbuilder.plans.packing import choices
from kitbuilder.plans.trip_moves import OTHER_PLACE, Whereabouts, entries_away, whereabouts, why_not_into, with_moved
from kitbuilder.plans.trip_packing import TripPacking, pack_trip
from tests.plans.test_trip_packing import BACKPACK, DUFFEL, FLIGHT, GRAM, ITEMS, LATER, POCKETS, bag_of, packed

CLOTHES = Luggage(tag="clothes", mass_kg=6.0, bulk_m3=0.02)
SMALL = Bag(tag="small", goes="hold", mass_kg=1.0, volume_m3=0.01)
ENTRIES = (DUFFEL, BACKPACK, POCKETS, SMALL, FLIGHT, CLOTHES, Leave(item="jacket"))


def item_named(found: TripPacking, tag: str) -> Whereabouts:
    return next(each for each in whereabouts(found) if each.item.tag == tag)


def masses_kg(found: TripPacking) -> dict[str, float]:
    return {packed.bag.tag: packed.mass.value for packed in found.packing.bags}


def test_every_item_is_somewhere() -> None:
    found = packed(*ENTRIES)
    everything = whereabouts(found)
    assert [each.item for each in everything] == list(found.weights.items)
    for each in everything:
        is_packed = each.item.fate is Fate.BRING
        assert (each.number is not None) == is_packed
        assert bool(each.bag) == is_packed
    assert item_named(found, "jacket").item.fate is Fate.LEAVE


def test_a_move_takes_the_mass_from_one_bag_to_the_other_and_leaves_the_rest() -> None:
    found = packed(*ENTRIES)
    where = item_named(found, "suit")
    assert where.bag and where.item.mass
    there = "backpack" if where.bag != "backpack" else "duffel"
    shown = with_moved(found, where, there)
    before, after = masses_kg(found), masses_kg(shown)
    assert after[there] - before[there] == pytest.approx(where.item.mass.value, abs=GRAM)
    assert before[where.bag] - after[where.bag] == pytest.approx(where.item.mass.value, abs=GRAM)
    assert {bag: mass for bag, mass in after.items() if bag not in (there, where.bag)} == {
        bag: mass for bag, mass in before.items() if bag not in (there, where.bag)
    }
    assert {**bag_of(found), "suit": there} == bag_of(shown)
    assert not shown.packing.proof.is_proved
    # The way home follows: 1.5 kg of a 3 mm suit come home with the water that it holds.
    home = {each.bag.tag: each.mass.value for each in shown.bags_home}
    assert where.item.water
    assert home[there] - after[there] >= where.item.water.value - GRAM


def test_the_repair_keeps_what_was_not_moved() -> None:
    found = packed(*ENTRIES)
    where = item_named(found, "computer")
    there = "duffel" if where.bag != "duffel" else "backpack"
    shown = with_moved(found, where, there)
    trip = found.trip
    pinned = ResolvedTrip(trip.header, (*trip.items, Pin(item="computer", bag=there)), trip.kits)
    repaired = pack_trip(pinned, LATER, earlier=shown)
    assert bag_of(repaired) == bag_of(shown)
    assert repaired.packing.proof.is_proved


def test_an_item_without_a_place_is_moved_into_a_bag() -> None:
    """Suit, jacket and computer come first: 3.7 kg in a bag of 0.9 kg. Neither piece of 6 kg finds room in 9 kg beside
    them; one can be put there all the same, and makes 10.6 kg.
    """
    other = Luggage(tag="books", mass_kg=6.0)
    found = packed(BACKPACK, Leg(tag="flight", cabin_piece_kg=9.0), CLOTHES, other)
    left = next(each for each in whereabouts(found) if each.missing and each.item.tag in ("clothes", "books"))
    shown = with_moved(found, left, "backpack")
    assert item_named(shown, left.item.tag).bag == "backpack"
    assert masses_kg(shown)["backpack"] == pytest.approx(10.6, abs=GRAM)
    assert not any(each.item.tag == left.item.tag for each in shown.packing.missing)


@pytest.mark.parametrize(
    ("tag", "bag", "why"),
    [
        ("knife", "backpack", choices.PIN_REFUSED),
        ("clothes", "small", choices.TOO_BULKY),
        ("suit", "nosuch", choices.PIN_UNUSABLE),
        ("clothes", "light", choices.TOO_HEAVY),
        ("papers", "duffel", OTHER_PLACE),
        ("suit", "pockets", None),
        ("clothes", "duffel", None),
    ],
)
def test_a_move_is_refused_by_rules_by_the_file_and_by_what_is_too_heavy_alone(
    tag: str, bag: str, why: str | None
) -> None:
    light = Bag(tag="light", goes="hold", mass_kg=1.0, most_kg=6.5)
    papers = Luggage(tag="papers", mass_kg=0.2, goes="cabin")
    found = packed(*ENTRIES, light, papers)
    refused = why_not_into(found, item_named(found, tag), bag)
    assert (refused.why if refused else None) == why
    if why == choices.PIN_REFUSED:
        assert refused is not None
        assert refused.rules


def test_what_is_not_packed_cannot_be_moved() -> None:
    found = packed(*ENTRIES)
    with pytest.raises(ValueError, match="belt is not packed"):
        with_moved(found, item_named(found, "belt"), "duffel")
    with pytest.raises(KeyError):
        with_moved(found, item_named(found, "suit"), "nosuch")


@pytest.mark.parametrize(
    ("tag", "kinds"),
    [("jacket", [Leave]), ("knife", [Rent, Leave]), ("belt", [Rent]), ("suit", [])],
)
def test_what_keeps_one_item_away_is_found_unless_it_is_about_others_too(tag: str, kinds: list[type]) -> None:
    """The belt is the only lead, so that the entry for every lead is about it alone."""
    others = (Rent(item="knife"), Leave(item="knife"), Rent(every="gauge"))
    items = (*ITEMS, Gauge(tag="one"), Gauge(tag="two"))
    found = packed(*ENTRIES, *others, items=items)
    assert entries_away(found.trip, item_named(found, "one").item) == ()
    entries = entries_away(found.trip, item_named(found, tag).item)
    assert [type(found.trip.items[number]) for number in entries] == kinds


def test_a_rule_keeps_what_is_left_at_home_from_a_bag_as_well() -> None:
    found = packed(*ENTRIES, Leave(item="knife"))
    refused = why_not_into(found, item_named(found, "knife"), "backpack")
    assert refused is not None
    assert (refused.why, [rule.rule for rule in refused.rules]) == (choices.PIN_REFUSED, ["edge, point or tool"])
    assert why_not_into(found, item_named(found, "knife"), "duffel") is None


def test_spares_that_are_packed_together_are_pinned_by_their_tag() -> None:
    """They belong to no kit and are no luggage of the file; a pin of theirs leads somewhere."""
    pin = Pin(item="spares: batteries", bag="backpack")
    found = packed(DUFFEL, BACKPACK, FLIGHT)
    header = replace(found.trip.header, spares="day boat")
    pinned = pack_trip(ResolvedTrip(header, (*found.trip.items, pin), found.trip.kits), LATER)
    assert item_named(pinned, "spares: batteries").bag == "backpack"
    assert not any(finding.key == "item" for finding in pinned.findings)
