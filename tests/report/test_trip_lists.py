"""The lists of the trip screen: every item stands in one group, and what needs attention has a signal word."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitbuilder.assess.findings import Signal
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip, TripKit
from kitbuilder.kit.trip import Leave, Leg, Luggage, Pin
from kitbuilder.kitfile.read import read
from kitbuilder.plans.packing.packing import pack
from kitbuilder.plans.packing.records import LEAVE, Option
from kitbuilder.plans.trip_moves import why_not_into
from kitbuilder.plans.trip_packing import TripPacking, pack_trip, packed_trip
from kitbuilder.report.layout import lay_out, list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Amount
from kitbuilder.report.trip_about import about_item, about_place, bag_choices, refused_words, state_words
from kitbuilder.report.trip_lists import Group, PlaceRow, bars_for, item_rows, item_table, place_rows, place_table
from tests.kitfile.support import TRIPS
from tests.plans.test_trip_packing import BACKPACK, DUFFEL, FLIGHT, POCKETS, bag_of, packed

NARROW, WIDE = bars_for(80, plain=True), bars_for(120, plain=True)
CLOTHES = Luggage(tag="clothes", mass_kg=6.0)


def row_of(found: TripPacking, group: Group, tag: str = "") -> PlaceRow:
    rows = place_rows(found.trip, found, WIDE)
    return next(row for row in rows if row.group is group and tag in ("", row.tag))


def said(found: TripPacking, row: PlaceRow) -> str:
    return " ".join(plain(line).strip() for line in lay_out(about_place(found, row), 78, System.METRIC))


@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_every_item_of_a_shipped_trip_stands_in_one_group(path: Path) -> None:
    trip = read(path).contents
    assert isinstance(trip, ResolvedTrip)
    found = pack_trip(trip, 0)
    rows = place_rows(trip, found, NARROW)
    groups = [row for row in rows if row.group not in (Group.TRIP, Group.SUM, Group.LEG)]
    shown = [item.is_of for row in groups for item in item_rows(trip, found, row)]
    assert sorted(shown) == sorted((item.file, item.tag) for item in found.weights.items)
    assert sum(row.where is not None for row in item_rows(trip, found, rows[0])) == len(shown)
    for row in groups:
        assert row.cells[-1] == len(item_rows(trip, found, row))


@pytest.mark.parametrize("width", [77, 117, 197])
@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_no_number_is_cut_at_any_width(path: Path, width: int) -> None:
    trip = read(path).contents
    assert isinstance(trip, ResolvedTrip)
    found = pack_trip(trip, 0)
    bars = bars_for(width, plain=True)
    rows = place_rows(trip, found, bars)
    head, lines = list_rows(place_table(rows, bars), width, System.METRIC)
    assert max(len(plain(line)) for line in (head, *lines)) <= width
    assert not any("…" in plain(line) for line in lines)


def test_before_the_packing_is_known_the_bags_stand_there_without_numbers() -> None:
    found = packed(DUFFEL, BACKPACK, FLIGHT)
    rows = place_rows(found.trip, None, NARROW)
    assert [row.tag for row in rows if row.group is Group.BAG] == ["duffel", "backpack"]
    assert not any(isinstance(cell, Amount) for row in rows for cell in row.cells)
    assert item_rows(found.trip, None, rows[0]) == []


def test_what_has_no_place_and_a_bag_that_cannot_be_used_are_warnings() -> None:
    """6 kg of clothes and a bag of 0.9 kg are more than a limit of 5 kg; the duffel may not come at all."""
    found = packed(DUFFEL, BACKPACK, Leg(tag="flight", hold_pieces=0, cabin_piece_kg=5.0), CLOTHES)
    assert row_of(found, Group.BAG, "duffel").signal is Signal.WARNING
    assert "no piece is allowed there" in said(found, row_of(found, Group.BAG, "duffel"))
    without = row_of(found, Group.NO_PLACE)
    assert without.signal is Signal.WARNING
    [clothes] = [row for row in item_rows(found.trip, found, without) if row.name == "clothes"]
    assert clothes.signal is Signal.WARNING
    words = " ".join(plain(line) for line in lay_out(about_item(found, clothes), 200, System.METRIC))
    assert "It is heavier than every limit allows." in words
    assert "without a place" in state_words(found)


def test_a_limit_that_may_not_hold_on_the_way_home_is_a_warning() -> None:
    """The suit of 1.5 kg comes home wet: a bag that just fits on the way out is too heavy then."""
    found = packed(
        DUFFEL, Leg(tag="out", way="out", hold_piece_kg=23.0), Leg(tag="home", way="home", hold_piece_kg=7.0)
    )
    row = row_of(found, Group.BAG, "duffel")
    out, home = found.uses_of("duffel")
    assert out.chance > 0.95 > home.chance
    assert row.signal is Signal.WARNING
    assert state_words(found) == "a limit may not hold"


def test_the_title_says_in_few_words_how_it_stands() -> None:
    assert state_words(packed(DUFFEL, FLIGHT)).startswith("packed, limits hold: ")
    assert state_words(packed(DUFFEL)) == "packed, no limit given"
    assert state_words(packed(DUFFEL, items=())) == "nothing to pack"


def test_a_trip_that_lacks_a_kit_is_not_called_packed() -> None:
    """The rest fits; an entry about an item of the kit that cannot be read may well be right."""
    here = packed(DUFFEL, FLIGHT, Pin(item="first stage", bag="duffel"), items=()).trip
    gone = TripKit("gone.toml", None, ("gone.toml is not in this folder.",))
    found = pack_trip(replace(here, kits=(*here.kits, gone)))
    assert not found.is_packed
    assert state_words(found) == "a kit is missing"
    assert [finding.rule for finding in found.findings] == ["kits of the trip"]


def test_a_bag_that_stays_empty_stays_at_home() -> None:
    found = packed(DUFFEL, POCKETS, FLIGHT)
    row = row_of(found, Group.BAG, "pockets")
    assert row.cells[2:4] == [None, "stays home"]
    assert said(found, row) == '"pockets" is empty, so it stays at home.'


def test_entries_about_no_item_can_be_reached() -> None:
    found = packed(DUFFEL, FLIGHT, Leave(item="nosuch"))
    [row] = [row for row in item_rows(found.trip, found, row_of(found, Group.TRIP)) if row.where is None]
    entry = found.trip.items[row.entry or 0]
    assert isinstance(entry, Leave)
    [words] = lay_out(about_item(found, row), 200, System.METRIC)
    assert plain(words) == '"nosuch": item left at home, an entry of the trip file. Its keys are in the form.'


def test_the_list_of_bags_says_what_is_refused_and_why() -> None:
    found = packed(DUFFEL, BACKPACK, POCKETS, FLIGHT)
    [knife] = [row for row in item_rows(found.trip, found, row_of(found, Group.TRIP)) if row.name == "knife"]
    assert knife.where
    notes = {choice.word: choice.note for choice in bag_choices(found.trip, found, knife.where, System.METRIC)}
    assert notes["backpack"] == "no: a rule forbids it there"
    assert notes["duffel"].startswith("it is here; hold, ")
    assert "any bag" not in notes
    assert notes["leave it at home"] == "not packed"
    refused = why_not_into(found, knife.where, "backpack")
    assert refused is not None
    words = refused_words(knife.where, "backpack", refused)
    assert words.startswith('"knife" stays out of "backpack": a rule forbids it there. ')
    assert all(rule.why in words for rule in refused.rules)


def test_what_is_left_to_keep_the_limits_has_its_row() -> None:
    """A bag of 0.9 kg takes nothing more than 1 kg of all that is there: the suit is left at home for it."""
    found = packed(BACKPACK, Leg(tag="flight", cabin_piece_kg=2.0))
    task = found.packing.task
    items = tuple(item._replace(options=(Option(LEAVE),)) if item.tag == "suit" else item for item in task.items)
    found = packed_trip(found.trip, found.weights, pack(task._replace(items=items), time_limit_s=0.0))
    row = row_of(found, Group.INSTEAD)
    [suit] = item_rows(found.trip, found, row)
    assert (suit.name, suit.cells[-1], row.cells[-1]) == ("suit", "leave it at home", 1)
    assert "suit" not in {item.name for item in item_rows(found.trip, found, row_of(found, Group.NO_PLACE))}
    words = plain(lay_out(about_item(found, suit), 200, System.METRIC)[0])
    assert words == '"suit": to keep the limits, leave it at home.'


def test_sums_of_several_bags_have_their_row() -> None:
    found = packed(DUFFEL, BACKPACK, Leg(tag="flight", total_kg=30.0))
    row = row_of(found, Group.SUM)
    [use] = found.packing.sums
    assert row.cells[0] == "hold and cabin"
    assert {item.name for item in item_rows(found.trip, found, row)} == set(bag_of(found))
    assert "of 30.00 kg" in said(found, row)
    assert use.mass.value == pytest.approx(sum(each.mass.value for each in found.packing.bags if each.items))


def test_rented_items_are_listed_with_the_entry_that_decides() -> None:
    found = packed(DUFFEL, FLIGHT)
    rows = item_rows(found.trip, found, row_of(found, Group.RENT))
    assert [(row.name, row.entry) for row in rows] == [("cylinder", 0), ("belt", 1)]
    assert all(row.where and row.where.item.fate is Fate.RENT for row in rows)
    assert item_table(rows, row_of(found, Group.RENT)).columns[-1].head == "where"
