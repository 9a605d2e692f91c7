"""What is taken for a key that a file does not have, and where that comes from."""

from collections import Counter
from typing import Any

import pytest

from kitbuilder.assess.defaults import Default, default_in_diver, default_in_kit, default_in_trip
from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import ByUnits
from kitbuilder.assess.fit.routes import ranked_routes
from kitbuilder.assess.fit.stock_lengths import inches_sold_by
from kitbuilder.assess.rules.context import FREE, PLUGGED, TAKEN, port_states
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.fields import field_named, fields_of
from kitbuilder.kit.items import FirstStage
from kitbuilder.kitfile.read import read_written
from tests.assess.kits import PLAIN, WHOLE, WRONG, assessed, config, kit_of, with_keys
from tests.kitfile.support import GOOD_TRIP

TWINSET = assessed(config("twinset"))


def default_of(tag: str, key: str, text: str = config("twinset")) -> Default | None:
    assessment = assessed(text)
    [number] = [number for number, item in enumerate(assessment.kit.items) if item.tag == tag]
    return default_in_kit(assessment, number, field_named(type(assessment.kit.items[number]), key))


@pytest.mark.parametrize(
    ("preset", "key", "value"),
    [("steel 12 L 232 long", "volume", 0.012), ("steel 12 L 232 long", "working_pressure", 232e5)],
)
def test_a_preset_says_what_its_name_says(preset: str, key: str, value: float) -> None:
    text = with_keys(config("twinset"), "left cylinder", preset=preset)
    found = default_of("left cylinder", key, text)
    assert found is not None
    assert found.source == "preset"
    amount = found.value.value if isinstance(found.value, Figure) else found.value
    assert amount == pytest.approx(value, rel=0.01)


def test_two_thirds_of_the_filling_are_left_when_turning() -> None:
    """To three digits, as the catalogue has it."""
    text = with_keys(config("twinset"), "left cylinder", filled="210 bar", turn=None)
    assert default_of("left cylinder", "turn", text) == Default(
        pytest.approx(140e5, rel=1e-3), "pressure", "two thirds"
    )


@pytest.mark.parametrize("role", sorted(catalogue().roles))
@pytest.mark.parametrize("layout", ["single", "twinset", "sidemount"])
def test_every_route_is_ranked_once_and_the_usual_ones_come_first(role: str, layout: str) -> None:
    ranked = ranked_routes(role, layout)
    assert sorted(choice.route.name for choice in ranked) == sorted(catalogue().routes)
    usual = [choice.is_usual for choice in ranked]
    assert usual == sorted(usual, reverse=True)
    for route, is_usual in ranked:
        assert is_usual == (role in route.roles and layout in route.layouts)
    of_role = [role in choice.route.roles for choice in ranked]
    assert of_role == sorted(of_role, reverse=True)


@pytest.mark.parametrize(
    ("length_m", "inches"), [(0.75, 30), (2.10, 84), (0.762, None), (0.751, None), (0.7500000004, 30)]
)
def test_inches_are_those_by_which_a_hose_is_sold(length_m: float, inches: int | None) -> None:
    """30 in and 84 in are customary names of hoses of 75 and 210 cm (trade usage)."""
    assert inches_sold_by(length_m) == inches


def test_a_port_is_free_plugged_or_taken() -> None:
    states = {state.reference: state for state in port_states(TWINSET.kit.items)}
    hoses = {hose.from_: (hose.tag,) for hose in TWINSET.kit.hoses}
    assert {reference: states[reference].taken_by for reference in hoses} == hoses
    plugged = {
        f"{stage.tag} {name}" for stage in TWINSET.kit.items if isinstance(stage, FirstStage) for name in stage.plugged
    }
    assert {state.reference for state in states.values() if state.is_plugged} == plugged
    assert len(states) == 14, "two turrets of 5 LP and 2 HP"
    assert Counter(state.state for state in states.values()) == {TAKEN: 5, PLUGGED: 9}, "as the file lists them"


def test_a_port_that_a_file_fills_twice_names_both_and_a_plug_gives_way() -> None:
    """The file says LP1 twice; that it calls LP1 plugged as well takes nothing out of it."""
    text = with_keys(config("warm-single"), "octopus hose", from_="first LP1")
    kit = kit_of(with_keys(text, "first", plugged=["LP1", "HP2"]))
    states = {state.port.name: state for state in port_states(kit.items)}
    assert (states["LP1"].taken_by, states["LP1"].state) == (("primary hose", "octopus hose"), TAKEN)
    assert (states["LP2"].taken_by, states["LP2"].state) == ((), FREE)
    assert (states["HP2"].taken_by, states["HP2"].state) == ((), PLUGGED)


@pytest.mark.parametrize("name", [*WHOLE, WRONG])
def test_what_is_taken_is_words_or_an_amount_with_a_measure(name: str) -> None:
    """Of every key of every item."""
    assessment = assessed(config(name))
    for number, item in enumerate(assessment.kit.items):
        for field in fields_of(type(item)):
            assert_sound(default_in_kit(assessment, number, field))


USUAL_LEAD = ByUnits("1 kg", "1 lb, 2 lb, 3 lb, 4 lb, 5 lb")


def assert_sound(found: Default | None) -> None:
    if found is not None:
        is_amount = isinstance(found.value, (Figure, Range, float, int))
        assert is_amount == bool(found.measure)
        assert found.value not in ("", ())


@pytest.mark.parametrize(
    ("key", "value", "source"),
    [
        ("sex", "midway between both", ""),
        ("lead_sizes", USUAL_LEAD, ""),
        ("stature", None, "taken"),
        ("chest", None, "estimated"),
    ],
)
def test_what_is_taken_of_a_diver(key: str, value: Any, source: str) -> None:
    found = default_in_diver(Diver(DiverHeader(format=1, holds="diver", name="somebody"), ()), False, key)
    assert found is not None
    assert_sound(found)
    assert found.source == source
    assert value is None or found.value == value


def test_a_plain_kit_has_the_usual_water() -> None:
    water = field_named(type(assessed(PLAIN).kit.header), "water")
    assert default_in_kit(assessed(PLAIN), None, water) == Default("ocean", source="as usual")


def test_what_is_taken_for_gas_and_pressure() -> None:
    """Depths as far as the gas can be breathed there, limits of practice, and the connection of the preset."""
    stage = with_keys(config("twinset"), "stage", deepest=None)
    assert default_of("stage", "deepest", stage) == Default("not known")
    assert default_of("stage", "shallowest", stage) == Default(0.0, "depth", "as usual")
    assert default_of("left cylinder", "deepest") == Default(45.0, "depth", "as usual")
    assert default_of("left post", "connection") == Default("DIN", source="preset")
    assert default_of("left cylinder", "outlet") == Default("not known")
    of_300 = with_keys(config("twinset"), "left cylinder", preset="steel 12 L 300")
    assert default_of("left cylinder", "outlet", of_300) == Default("DIN 300", source="as usual")
    limits = {
        key: default_in_kit(TWINSET, None, field_named(type(TWINSET.kit.header), key))
        for key in ("oxygen_limit", "oxygen_highest", "oxygen_lowest")
    }
    assert {key: found and found.value for key, found in limits.items()} == pytest.approx(
        {"oxygen_limit": 1.4e5, "oxygen_highest": 1.6e5, "oxygen_lowest": 0.16e5}
    )


@pytest.mark.parametrize(
    ("key", "changes", "value", "source"),
    [
        ("from_end", {}, "LP 3/8", "as usual"),
        ("from_end", {"right post": {"ports": ["LP1 1/2-20 UNF"]}}, "LP 1/2", "as its port or its device takes"),
        ("to_end", {}, "second stage 9/16", "as usual"),
        ("to_end", {"primary": {"inlet": "1/2"}}, "second stage 1/2", "as its port or its device takes"),
    ],
)
def test_an_end_is_taken_as_one_that_joins(key: str, changes: dict[str, Any], value: str, source: str) -> None:
    """A half-inch port takes a half-inch end; an inlet of 1/2 a hose end of 1/2."""
    text = config("twinset")
    for tag, keys in changes.items():
        text = with_keys(text, tag, **keys)
    assert default_of("long hose", key, text) == Default(value, source=source)


def test_what_is_taken_for_travel_is_that_of_the_preset() -> None:
    """From memory: the pack of a canister has 70 to 160 Wh, a canister breaks and does not cut."""
    torch = with_keys(config("twinset"), "canister torch", battery=None)
    assert default_of("canister torch", "battery_type", torch) == Default("lithium ion", source="preset")
    assert default_of("canister torch", "breakable", torch) == Default("yes", source="preset")
    assert default_of("canister torch", "sharp", torch) == Default("no", source="preset")
    energy = default_of("canister torch", "battery", torch)
    assert energy is not None
    assert isinstance(energy.value, Range)
    assert (energy.value.low, energy.value.high) == pytest.approx((70 * 3600, 160 * 3600))
    assert default_of("plate", "battery_type") == Default("none", source="preset")
    assert default_of("plate", "battery") is None


@pytest.mark.parametrize("entry", [None, *range(7)])
def test_what_is_taken_of_a_trip_is_words_or_an_amount(entry: int | None) -> None:
    """Of every key of every kind of entry; a limit that a leg may give is that of the published rules."""
    trip = read_written(GOOD_TRIP).trip
    assert trip is not None
    record = trip.header if entry is None else trip.items[entry]
    for field in fields_of(type(record)):
        assert_sound(default_in_trip(trip, entry, field.key))
