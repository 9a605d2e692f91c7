"""The page of a trip: what is read first, and what is left out."""

from dataclasses import replace

import pytest

from kitbuilder.kit.entry import Entry
from kitbuilder.kit.items import Other
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kit.trip import Leg, Luggage, Option
from kitbuilder.kitfile.read import read
from kitbuilder.plans.trip_packing import TripPacking, pack_trip
from kitbuilder.report.cells import format_line
from kitbuilder.report.numbers import System
from kitbuilder.report.trip import trip_page
from kitbuilder.report.trip_answer import trip_answer
from tests.kitfile.support import TRIPS
from tests.plans.test_trip_packing import BACKPACK, DUFFEL, FLIGHT, ITEMS, packed
from tests.report.pages import page_json, page_text

LATER = float("inf")


@pytest.fixture(scope="module")
def shipped() -> dict[str, TripPacking]:
    """The trips that come along, packed."""
    trips = {path.stem: read(path).contents for path in TRIPS}
    return {name: pack_trip(trip, LATER) for name, trip in trips.items() if isinstance(trip, ResolvedTrip)}


def test_bags_stay_a_table_at_80_columns_and_rows_with_nothing_are_left_out(shipped: dict[str, TripPacking]) -> None:
    """Two digits of a spread above 1 kg and those of one below stand below each other, which takes more room."""
    lines = page_text(trip_page("trip-wreck.toml", shipped["trip-wreck"]), width=80).splitlines()
    [row] = [line for line in lines if line.split()[:3] == ["large", "duffel", "hold"]]
    assert "20.00 kg" in row
    assert "over 99 %" in row
    assert max(map(len, lines)) <= 80
    assert not [line for line in lines if line.split()[:1] == ["leave"]]


LUGGAGE = [Luggage(tag=tag, mass_kg=1.0, goes="hold") for tag in ("one", "two", "three", "four")]
FULL = Leg(tag="flight", hold_piece_kg=3.7)
"""With a duffel of 2.6 kg, one piece of 1 kg has a place."""


@pytest.mark.parametrize(
    ("entries", "said"),
    [
        # 2.6 + 1.5 + 2.0 + 0.3 + 0.2 kg, as in `tests/plans/test_trip_home.py`
        ([DUFFEL, FLIGHT], "All 4 items fit: duffel 6.6 of 23 kg; every limit holds with over 99 %."),
        ([DUFFEL], "All 4 items fit. No limit is given."),
        ([], '4 items find no place: "suit", "jacket", "knife" and 1 more. Nothing is packed.'),
        (
            [DUFFEL, Leg(tag="flight", hold_piece_kg=7.5)],
            "All 4 items fit: duffel 6.6 of 7.5 kg; on the way home, wet, the limit of duffel holds with only 7 %.",
        ),
        (
            [DUFFEL, Leg(tag="flight", hold_piece_kg=6.0, way="out"), Option(item="jacket", do="rent", price=20)],
            "3 items fit if 1 other is left, rented or worn and you pay 20.00: duffel 4.6 of 6 kg; every limit holds "
            "with over 99 %.",
        ),
        (
            [DUFFEL, Leg(tag="flight", hold_piece_kg=6.0, way="out", price_per_kilogram=12)],
            "All 4 items fit if you pay 12.00: duffel 6.6 of 7 kg; every limit holds with over 99 %.",
        ),
    ],
)
def test_the_answer_comes_first_in_one_sentence(entries: list[Entry], said: str) -> None:
    """7 % from tables: 7.5 - 7.875 kg is 1.44 deviations of 0.26 kg below the mean."""
    found = packed(*entries)
    assert format_line(trip_answer(found), System.METRIC) == said
    assert said in " ".join(page_text(trip_page("x.toml", found), width=100).split())[:300]


def test_items_without_a_place_are_named_and_what_to_do_is_said_once() -> None:
    found = packed(DUFFEL, FULL, *LUGGAGE, items=ITEMS[:2])
    answer = format_line(trip_answer(found), System.METRIC)
    assert answer.startswith("3 items find no place: ")
    assert answer.endswith(". 1 item fits: duffel 3.6 of 3.7 kg; every limit holds with over 99 %.")
    words = " ".join(page_text(trip_page("x.toml", found)).split())
    assert words.count("There is no room left for it.") == 3
    assert words.count("Proposal: leave it at home") == 1


def test_an_item_without_a_mass_is_named_first_and_pounds_are_pounds() -> None:
    """6.6 kg are 14.55 lb, 23 kg 50.71 lb: 0.45359237 kg each (international pound)."""
    found = packed(DUFFEL, BACKPACK, FLIGHT, items=(*ITEMS, Other(tag="bag of tricks")))
    answer = format_line(trip_answer(found), System.IMPERIAL)
    assert answer.startswith('Not packed, because the mass is not known: "bag of tricks". 4 items fit: duffel ')
    assert " of 50.7 lb, backpack " in answer
    assert " of 17.6 lb; every limit" in answer


def test_what_is_given_without_a_spread_is_shown_without_one_and_as_no_certainty() -> None:
    """22 + 3 L of luggage in a bag of 90 L, in the words of the page; JSON has the numbers as they are."""
    clothes, soap = Luggage(tag="clothes", mass_kg=5.5, bulk_m3=0.022), Luggage(tag="soap", mass_kg=0.9, bulk_m3=0.003)
    found = packed(replace(DUFFEL, volume_m3=0.09), FLIGHT, clothes, soap, items=())
    words = " ".join(page_text(trip_page("x.toml", found)).split())
    assert "duffel 25.0 L 90.0 L over 99 %" in words
    assert page_json(trip_page("x.toml", found))["rooms"][0]["chance"] == 1.0
    no_bulk = packed(replace(DUFFEL, volume_m3=0.09), FLIGHT, replace(soap, bulk_m3=None), clothes, items=())
    words = " ".join(page_text(trip_page("x.toml", no_bulk)).split())
    assert 'Of these the volume is not known, so a bag may be too small: "soap".' in words
