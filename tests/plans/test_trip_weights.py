"""What a trip weighs: sums are those of the items, and the water on the way home is that of the items that travel."""

from dataclasses import replace
from pathlib import Path

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.items import Cylinder, Header, Item, Jacket, Kit, Lead, Other, Suit
from kitbuilder.kit.resolved import resolve
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip, TripKit
from kitbuilder.kit.trip import Bag, Leave, Leg, Luggage, Pin, Rent, TripHeader
from kitbuilder.kitfile.read import read
from kitbuilder.plans.trip_weights import weigh_trip
from tests.kitfile.support import TRIPS

ITEMS: tuple[Item, ...] = (
    Cylinder(tag="cylinder", preset="steel 12 L 232 long", mass_kg=15.0),
    Lead(tag="belt", mass_kg=1, pieces=4),
    Suit(tag="suit", cut="full suit", thickness_m=0.003, mass_kg=1.5),
    Jacket(tag="jacket", preset="travel jacket", mass_kg=2.0),
    Other(tag="knife", preset="knife", mass_kg=0.3),
    Other(tag="box"),
)
ENTRIES = (
    Rent(every="lead"),
    Leave(item="knife"),
    Luggage(tag="clothes", mass_kg=5.0, mass_spread_kg=0.2),
    Bag(tag="duffel", goes="hold", mass_kg=2.6),
    Bag(tag="backpack", goes="cabin", mass_kg=0.9),
    Leg(tag="flight"),
    Pin(item="jacket", bag="backpack"),
    Pin(item="clothes", bag="duffel"),
)


def trip(**header: float) -> ResolvedTrip:
    """A trip whose cylinder is brought and whose lead is rented."""
    kit = resolve(Kit(Header(format=1, name="kit", layout="single"), ITEMS))
    head = TripHeader(format=1, holds="trip", name="x", kits=("kit.toml",), **header)  # type: ignore[arg-type]
    return ResolvedTrip(head, ENTRIES, (TripKit("kit.toml", kit),))


def test_sums_are_those_of_the_items() -> None:
    """By hand: 15 + 1.5 + 2 + 5 kg are brought, 4 kg rented, 0.3 kg left; the box has no mass."""
    weights = weigh_trip(trip())
    assert weights.dry(Fate.BRING).value == pytest.approx(23.5)
    assert weights.dry(Fate.RENT).value == pytest.approx(4.0)
    assert weights.dry(Fate.LEAVE).value == pytest.approx(0.3)
    assert [item.tag for item in weights.unknown] == ["box"]
    assert {item.tag: item.bag for item in weights.items if item.bag} == {"jacket": "backpack", "clothes": "duffel"}


def test_a_cylinder_travels_without_its_gas() -> None:
    """15 kg as weighed; full it is heavier by its gas, about 12 L x 232 bar x 1.2 kg/m3 = 3.3 kg of air."""
    found = trip()
    kit = found.kits[0].kit
    assert kit is not None
    full = assess(kit).masses[0]
    assert full is not None
    [cylinder] = [item for item in weigh_trip(found).items if item.tag == "cylinder"]
    assert cylinder.mass is not None
    assert full.value - cylinder.mass.value == pytest.approx(3.3, abs=0.4)


def test_the_water_on_the_way_home_is_that_of_what_travels() -> None:
    """Foam 55 % of 1.5 kg and jacket 22.5 % of 2 kg, the middles of the ranges: 0.825 + 0.45 kg."""
    weights = weigh_trip(trip())
    assert {item.tag for item in weights.items if item.water} == {"suit", "jacket"}
    assert weights.home.value - weights.dry(Fate.BRING).value == pytest.approx(1.275)
    assert weights.home.spread > weights.dry(Fate.BRING).spread


def test_the_water_that_the_file_gives_is_shared_out() -> None:
    """In the proportion of the estimates, with the spread of the reading."""
    weights = weigh_trip(trip(wet_kg=2.0, wet_spread_kg=0.5))
    water = {item.tag: item.water for item in weights.items if item.water}
    assert sum(figure.value for figure in water.values()) == pytest.approx(2.0)
    assert sum(figure.spread for figure in water.values()) == pytest.approx(0.5), "one source"
    assert water["suit"].value / water["jacket"].value == pytest.approx(0.825 / 0.45)
    assert weigh_trip(trip(wet_kg=0.0)).home.value == pytest.approx(23.5)


@pytest.mark.parametrize("path", TRIPS, ids=lambda path: path.stem)
def test_the_trips_that_come_along_have_every_mass(path: Path) -> None:
    """Every item that is brought, none of them a cylinder or lead, and less than the hold and the cabin allow."""
    found = read(path).contents
    assert isinstance(found, ResolvedTrip)
    weights = weigh_trip(found)
    assert weights.unknown == ()
    assert not [item for item in weights.of(Fate.BRING) if isinstance(item.item, Cylinder | Lead)]
    bags = sum(bag.mass_kg for bag in found.bags)
    allowed = {"trip-reef": 23 + 8, "trip-wreck": 35 + 7}[path.stem]
    assert weights.home.value + weights.home.spread + bags < allowed


def test_the_kits_come_first_and_the_luggage_last() -> None:
    found = trip()
    two = replace(found, kits=(*found.kits, found.kits[0]._replace(file="two.toml")))
    files = [item.file for item in weigh_trip(two).items]
    assert files == ["kit.toml"] * len(ITEMS) + ["two.toml"] * len(ITEMS) + [""]
