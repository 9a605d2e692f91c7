"""The card: lead of the kit as it is used there, pieces that are enough, inlets as the standards have them."""

import shutil
from pathlib import Path

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import Figure
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kitfile.read import read
from kitbuilder.plans.ballast import with_cylinders, with_water
from kitbuilder.plans.rental_card import RentalCard, make_card, make_trip_cards
from kitbuilder.plans.rented_there import kit_there
from tests.assess.kits import CONFIGS, changed, with_keys

ALUMINIUM = "aluminium 11.1 L 207"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for path in CONFIGS.glob("*.toml"):
        shutil.copy(path, tmp_path)
    return tmp_path


def kit_at(path: Path) -> ResolvedKit:
    kit = read(path).resolved
    assert kit is not None
    return kit


def trip_at(folder: Path, more: str = "") -> ResolvedTrip:
    path = folder / "trip-reef.toml"
    path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    trip = read(path).contents
    assert isinstance(trip, ResolvedTrip)
    return trip


def lead(kit: ResolvedKit) -> Figure:
    balance = assess(kit).balance
    assert balance is not None
    return balance.lead


def lead_of(card: RentalCard, cylinder: str = ALUMINIUM) -> float:
    return next(each.balance.lead.value for each in card.leads if each.cylinder == cylinder)


def test_the_pieces_are_enough_and_no_more_than_one_too_many(folder: Path) -> None:
    """Whole kilograms and whole pounds: a kilogram or a pound less would be short by more than a breath."""
    breath = catalogue().limits["breath_makes_up"].value
    steps = {"kilograms": 1.0, "pounds": 0.45359237}
    for name in ("warm-single", "cold-single", "twinset", "sidemount"):
        for found in make_card(kit_at(folder / f"{name}.toml")).leads:
            for pieces in found.pieces:
                wanted = max(0.0, found.balance.lead.value - breath)
                assert wanted - 1e-9 <= pieces.take.mass_kg < wanted + steps[pieces.cast_in]
                if pieces.ready:
                    assert pieces.ready.mass_kg >= found.balance.certain_kg - 1e-9


def test_another_suit_is_that_of_another_file(folder: Path) -> None:
    """The suit of 3 mm was weighed; one of 5 mm is another, and its weight is not known."""
    path = folder / "warm-single.toml"
    card = make_card(kit_at(path))
    [change] = [each.change for each in card.suits if each.what == "full suit, 5 mm"]
    now = lead(with_cylinders(kit_at(path), ALUMINIUM)).value
    path.write_text(with_keys(path.read_text(encoding="utf-8"), "suit", thickness="5 mm", mass=None), encoding="utf-8")
    assert change.value == pytest.approx(lead(with_cylinders(kit_at(path), ALUMINIUM)).value - now)
    assert change.value > 0


def test_another_water_is_that_of_another_file(folder: Path) -> None:
    kit = kit_at(folder / "warm-single.toml")
    card = make_card(kit)
    now = with_cylinders(kit, ALUMINIUM)
    changes = {each.what: each.change.value for each in card.waters}
    assert changes == {
        water: pytest.approx(lead(with_water(now, water)).value - lead(now).value) for water in ("salty sea", "fresh")
    }


# ---- a trip ----


def test_what_stays_at_home_is_not_in_the_lead(folder: Path) -> None:
    """Without its fins the kit of the trip needs as much lead as a file without them."""
    [card] = make_trip_cards(trip_at(folder, '\n[[leave]]\nitem = "fins"\n'))
    path = folder / "warm-single.toml"
    text = path.read_text(encoding="utf-8")
    fins = '[[other]]\ntag    = "fins"\npreset = "fins, light travel"\n'
    path.write_text(changed(text, (fins, ""), ('"ocean"', '"salty sea"')), encoding="utf-8")
    assert lead_of(card) == pytest.approx(lead(with_cylinders(kit_at(path), ALUMINIUM)).value)


def test_a_rented_jacket_is_that_of_its_preset(folder: Path) -> None:
    trip = trip_at(folder, '\n[[rent]]\nitem = "jacket"\npreset = "standard jacket"\n')
    there = kit_there(trip, trip.kits[0])
    [jacket] = [item for item in there.items if item.tag == "jacket"]
    assert (jacket.preset, jacket.mass_kg) == ("standard jacket", None)
    [card] = make_trip_cards(trip)
    path = folder / "warm-single.toml"
    text = with_keys(path.read_text(encoding="utf-8"), "jacket", preset="standard jacket")
    path.write_text(changed(text, ('"ocean"', '"salty sea"')), encoding="utf-8")
    assert lead_of(card) == pytest.approx(lead(with_cylinders(kit_at(path), ALUMINIUM)).value)


def test_a_cylinder_that_only_the_trip_names_comes_first(folder: Path) -> None:
    path = folder / "trip-reef.toml"
    path.write_text(changed(path.read_text(encoding="utf-8"), (f'"{ALUMINIUM}"', '"steel 8.5 L 232"')))
    [card] = make_trip_cards(trip_at(folder))
    assert [(each.cylinder, each.is_of_trip) for each in card.leads][:2] == [
        ("steel 8.5 L 232", True),
        (ALUMINIUM, False),
    ]


# ---- inlets and couplings ----


@pytest.mark.parametrize(
    ("connection", "fits"),
    [
        ("yoke", {"yoke": "yes", "DIN 232 with insert": "yes", "DIN 232": "adapter"}),
        ("DIN 300", {"yoke": "adapter", "DIN 232 with insert": "yes", "DIN 232": "yes"}),
    ],
)
def test_which_valves_an_inlet_goes_on(connection: str, fits: dict[str, str], folder: Path) -> None:
    """EN ISO 12209:2013, scope: convertible outlets take both, with the insert in or out; a clamp holds no thread."""
    path = folder / "warm-single.toml"
    text = with_keys(path.read_text(encoding="utf-8"), "first", connection=connection)
    path.write_text(text, encoding="utf-8")
    card = make_card(kit_at(path))
    assert {each.outlet: each.fits for each in card.inlets} == fits
    assert {each.tags for each in card.inlets} == {("first",)}


def test_an_inlet_that_is_not_known_is_named(folder: Path) -> None:
    path = folder / "warm-single.toml"
    text = with_keys(path.read_text(encoding="utf-8"), "first", preset=None, ports=["LP1 3/8-24 UNF"])
    path.write_text(text, encoding="utf-8")
    card = make_card(kit_at(path))
    assert (card.inlets, card.without_connection) == ((), ("first",))


def test_couplings_are_those_of_what_is_fed_by_hand(folder: Path) -> None:
    path = folder / "warm-single.toml"
    text = with_keys(path.read_text(encoding="utf-8"), "jacket", preset="standard jacket, large-bore inflator")
    path.write_text(text, encoding="utf-8")
    found = [(each.tag, each.inlet) for each in make_card(kit_at(path)).couplings]
    assert found == [("jacket", "large-bore nipple")]
