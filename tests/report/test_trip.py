"""The page of a trip: what is read first, and what is left out."""

import pytest

from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kitfile.read import read
from kitbuilder.plans.trip_packing import TripPacking, pack_trip
from kitbuilder.report.trip import trip_page
from tests.kitfile.support import TRIPS
from tests.report.pages import page_text

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
