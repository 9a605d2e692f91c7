"""Cylinders, suits, bodies and places agree with what the trade knows, with handbooks, and with themselves."""

import re
from itertools import pairwise
from math import hypot, pi, sqrt
from statistics import NormalDist

import pytest

from kitbuilder.catalogue import CylinderPreset, Value, catalogue
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.gas_mix import AIR
from kitbuilder.kit.items import KINDS, LAYOUTS, Cylinder, Drysuit, Header, Wing
from kitbuilder.physics.cylinder import least_shell_mass
from tests.each import each

TRADE = catalogue()
LITRE, BAR, CM = 1e-3, 1e5, 0.01
FOOT = 0.3048
SEA = 1025.0
"""Density of sea water that divers calculate with [kg/m3]. Common practice, no source."""

EVERY_CYLINDER = pytest.mark.parametrize("preset", TRADE.cylinders.values(), ids=lambda preset: preset.name)


# --- metals, valves, foams --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("metal", "least", "most"),
    [
        # Plain and low-alloy steels, and wrought alloys of aluminium with magnesium and silicon, in handbooks of
        # engineering materials. From memory.
        ("steel", 7750, 7880),
        ("aluminium", 2660, 2730),
    ],
)
def test_metals_have_the_density_of_handbooks(metal: str, least: float, most: float) -> None:
    density = TRADE.metals[metal].density
    assert least <= density.low <= density.high <= most
    assert density.high - density.low < 0.02 * density.value


@pytest.mark.parametrize(("metal", "least", "most"), [("steel", 0.9e9, 1.3e9), ("aluminium", 0.28e9, 0.4e9)])
def test_metals_have_the_strength_of_handbooks(metal: str, least: float, most: float) -> None:
    """Quenched and tempered low-alloy steel; aluminium with magnesium and silicon, artificially aged. From memory."""
    assert least <= TRADE.metals[metal].strength.value <= most


def test_valves_are_of_brass() -> None:
    """8400 to 8730 kg/m3 in handbooks, from memory. Two outlets weigh more than one, and less than two valves."""
    for valve in TRADE.valves.values():
        assert 8400 <= valve.density.low <= valve.density.high <= 8730
    none, one, two = (TRADE.valves[name].mass for name in ("none", "single outlet", "two outlets"))
    assert (none.low, none.high) == (0, 0)
    assert none.high < one.low < one.high < two.low < two.high < 2 * one.high


def test_foams_grow_firmer() -> None:
    """Closed-cell foam rubber of suits has 150 to 450 kg/m3. Common practice, no source."""
    soft, standard, firm = (TRADE.foams[name].density for name in ("soft", "standard", "firm"))
    assert soft.low >= 150
    assert soft.value < standard.value < firm.value
    assert soft.high <= standard.high <= firm.low <= firm.high <= 450


# --- cylinders --------------------------------------------------------------------------------------------------------


@EVERY_CYLINDER
def test_a_cylinder_is_what_its_name_says(preset: CylinderPreset) -> None:
    """Metal, litres and bar; the litres of a name may be rounded to half a litre."""
    metal, litres, bar = re.match(r"(\w+) ([\d.]+) L (\d+)", preset.name).groups()
    assert preset.metal == metal
    assert preset.volume.value == pytest.approx(float(litres) * LITRE, abs=0.25 * LITRE)
    assert preset.working_pressure.value == pytest.approx(float(bar) * BAR)


@EVERY_CYLINDER
def test_a_cylinder_is_as_heavy_as_its_metal_must_be(preset: CylinderPreset) -> None:
    """The lightest of a name bears one and a half times its working pressure, at which cylinders are tested."""
    metal = TRADE.metals[preset.metal]
    least = least_shell_mass(
        preset.volume.high, 1.5 * preset.working_pressure.value, metal.density.value, metal.strength.value
    )
    assert preset.mass.low > least
    # A tube bears its pressure all around with twice the tension it has lengthwise: 2 p V rho / sigma, any textbook of
    # the mechanics of materials. Ends and a foot add to it, a safe cylinder is not stressed to its last, and yet none
    # is made five times too heavy.
    tube = 2 * preset.working_pressure.value * preset.volume.value * metal.density.value / metal.strength.value
    assert tube < preset.mass.low
    assert preset.mass.high < 6 * tube


def filled_part(preset: CylinderPreset) -> float:
    """Water and metal of a cylinder, over the volume of a plain closed one of its outside diameter and length."""
    inside = preset.volume.value + preset.mass.value / TRADE.metals[preset.metal].density.value
    return inside / (pi / 4 * preset.diameter.value**2 * preset.length.value)


@EVERY_CYLINDER
def test_a_cylinder_has_room_for_what_is_in_it(preset: CylinderPreset) -> None:
    """Water and metal fit into a plain closed cylinder, which is the most that diameter and length can have."""
    assert filled_part(preset) <= 1


@EVERY_CYLINDER
def test_a_cylinder_has_no_room_for_more(preset: CylinderPreset) -> None:
    """Water and metal are no less than the slimmest shape has: two half spheres for ends, and 6 cm of a thin neck."""
    assert filled_part(preset) >= 1 - (6 * CM + preset.diameter.value / 3) / preset.length.value


@EVERY_CYLINDER
def test_volumes_are_known_better_than_masses(preset: CylinderPreset) -> None:
    """A stamp tells the least a cylinder holds; masses of one name differ by a tenth. Common practice, no source."""
    assert preset.volume.spread < 0.03 * preset.volume.value
    assert 0.05 < (preset.mass.high - preset.mass.low) / 2 / preset.mass.value < 0.12


@pytest.mark.parametrize(
    ("litres", "cubic_feet"), [("5.7 L", 40), ("7 L", 50), ("9 L", 63), ("11.1 L", 80), ("13 L", 100)]
)
def test_cylinders_called_by_their_cubic_feet(litres: str, cubic_feet: float) -> None:
    """Of free air, when full: counted as an ideal gas a little more than its name, as air is harder to squeeze."""
    preset = next(preset for preset in TRADE.cylinders.values() if preset.name.startswith(f"aluminium {litres}"))
    assert f"called {cubic_feet} by its cubic feet" in preset.note
    ideal = preset.volume.value * (preset.working_pressure.value / 101325 + 1) / FOOT**3
    assert 1.0 < ideal / cubic_feet < 1.08


@pytest.mark.parametrize(
    ("name", "lowest", "highest"),
    [
        ("aluminium 5.7 L 207", 0.3, 1.5),
        ("aluminium 11.1 L 207", 1.3, 2.5),
        ("steel 12 L 232 long", -1.6, 0.5),
        ("steel 12 L 300", -5.5, -3.0),
        ("steel 7 L 300", -4.0, -2.0),
    ],
)
def test_empty_cylinders_float_as_the_trade_expects(name: str, lowest: float, highest: float) -> None:
    """Without gas, with a single valve, in sea water [kgf]: aluminium up, steel of 300 bar down. Common practice."""
    preset, valve = TRADE.cylinders[name], TRADE.valves["single outlet"]
    bare = SEA * (preset.volume.value + preset.mass.value / TRADE.metals[preset.metal].density.value)
    floats = bare - preset.mass.value + valve.mass.value * (SEA / valve.density.value - 1)
    assert lowest < floats < highest


def test_cylinders_of_one_sort_grow_with_their_litres() -> None:
    """Of a metal and a pressure: more water, more mass. And at a higher pressure, more mass for the same water."""
    sorts: dict[tuple[str, float], list[CylinderPreset]] = {}
    for preset in TRADE.cylinders.values():
        sorts.setdefault((preset.metal, preset.working_pressure.value), []).append(preset)
    for presets in sorts.values():
        for smaller, larger in pairwise(sorted(presets, key=lambda preset: preset.volume.value)):
            assert smaller.volume.value == larger.volume.value or smaller.mass.value < larger.mass.value
    for litres in (7, 10, 12):
        at_232, at_300 = (
            max(
                preset.mass.value
                for preset in sorts["steel", bar * BAR]
                if preset.volume.value == pytest.approx(litres * LITRE)
            )
            for bar in (232.0, 300.0)
        )
        assert 1.1 < at_300 / at_232 < 1.5


# --- suits ------------------------------------------------------------------------------------------------------------


def test_coverage_by_shares_of_the_body() -> None:
    """Head 7, hands 5, feet 7, trunk 35 % of the area of a body, as in the measurements of 1915, from memory."""
    coverage = {name: cut.coverage for name, cut in TRADE.cuts.items()}
    assert coverage["full suit"].value == pytest.approx(1 - 0.07 - 0.05 - 0.07)
    assert coverage["two-piece"].value - coverage["full suit"].value == pytest.approx(0.35, abs=0.02)
    assert coverage["vest"].low <= 0.35 <= coverage["vest"].high
    assert coverage["vest"].value < coverage["hooded vest"].value < coverage["shorty"].value
    assert coverage["hooded vest"].value - coverage["vest"].value == pytest.approx(0.07, abs=0.01)
    for name, share in (("hood", 0.07), ("boots", 0.07), ("gloves", 0.05)):
        assert coverage[name].low <= share <= coverage[name].value + 0.005
        assert coverage[name].value == pytest.approx(share, abs=0.015)


def test_undersuits_grow_warmer() -> None:
    """A heavier one holds more gas, litres of it. Common practice, no source."""
    light, medium, heavy = (TRADE.undersuits[name] for name in ("light", "medium", "heavy"))
    assert light.mass.value < medium.mass.value < heavy.mass.value
    assert light.gas.high <= medium.gas.low < medium.gas.high <= heavy.gas.low
    assert 3 * LITRE < light.gas.low < heavy.gas.high < 20 * LITRE


def test_what_foam_presets_float() -> None:
    """What depth squeezes floats at the surface, and is worn where there are no hoses."""
    foams = [preset for preset in TRADE.presets.values() if preset.is_foam]
    assert {preset.place for preset in foams} == {"head", "hands", "feet"}
    for preset in foams:
        assert preset.buoyancy_salt is not None
        assert preset.buoyancy_salt.low > 0


def test_bladders_lift_what_the_trade_says() -> None:
    """8 to 27 kg; a twinset wants more than one cylinder, a travel jacket has least. Common practice, no source."""
    lifts = {key: preset.lift for key, preset in TRADE.presets.items() if preset.lift is not None}
    assert {kind for kind, _ in lifts} == {"wing", "jacket"}
    assert all(8 <= lift.low < lift.high <= 27 for lift in lifts.values())
    assert lifts["wing", "single-cylinder wing"].high <= lifts["wing", "twinset wing"].low
    assert lifts["jacket", "travel jacket"].value == min(lift.value for lift in lifts.values())


# --- the body and its air ---------------------------------------------------------------------------------------------


def test_the_density_of_bodies_follows_from_those_that_floated() -> None:
    """69 % of 98 men float in sea water and 7 % in fresh water at resting lung volume, taken as a normal distribution.

    Fresh water 997 to 1000, sea water 1022 to 1027 kg/m3: which was used changes the answer by a few kilograms.
    """
    density = TRADE.body.density["male"]
    for fresh, sea in ((1000.0, 1025.0), (998.0, 1024.0), (997.0, 1022.0), (1000.0, 1027.0)):
        in_sea, in_fresh = NormalDist().inv_cdf(0.69), NormalDist().inv_cdf(0.07)
        deviation = (sea - fresh) / (in_sea - in_fresh)
        mean = sea - in_sea * deviation
        assert density.value == pytest.approx(mean, abs=4)
        assert density.spread == pytest.approx(2 * deviation, abs=3)


def test_women_are_less_dense_by_their_share_of_fat() -> None:
    """10.5 and 11.9 points more: table H-1 of Dietary Reference Intakes; American Journal of Clinical Nutrition 90
    (2009) 1457, abstract (both found). Fat of 900 in all else of 1100 kg/m3: textbooks, from memory.

    Without a sex it is half one and half the other: the mean of both, with the deviation of such a mixture.
    """
    men, women, either = (TRADE.body.density[sex] for sex in ("male", "female", ""))
    for points in (0.105, 0.119):
        moved = 1 / (1 / men.value + points * (1 / 900 - 1 / 1100))
        assert women.value == pytest.approx(moved, abs=3)
    assert women.spread > men.spread
    assert either.value == pytest.approx((men.value + women.value) / 2, abs=1)
    apart = 1.959964 * (men.value - women.value) / 2
    assert either.spread == pytest.approx(hypot(men.spread / sqrt(2), women.spread / sqrt(2), apart), abs=1)
    assert all("assumed" in each.origin for each in (women, either))


def test_the_middle_of_a_breath() -> None:
    """Half of half a litre, between out and in."""
    breath = TRADE.body.breath
    assert (breath.low, breath.value, breath.high) == pytest.approx((0, 0.25 * LITRE, 0.5 * LITRE))


def test_air() -> None:
    """Nothing is left over; within 0.05 % of the standard atmosphere of ISO 2533: 78.084, 20.948 and 0.934 %."""
    air = {name: part.value for name, part in TRADE.body.air.items()}
    assert sum(air.values()) == pytest.approx(1, abs=1e-9)
    assert air == pytest.approx({"nitrogen": 0.78084, "oxygen": 0.20948, "argon": 0.00934}, abs=5e-4)
    # Molar mass of the standard atmosphere, ISO 2533: 28.9645 g/mol. Carbon dioxide, which is left out, has 0.01 of it.
    molar = {"nitrogen": 28.0134, "oxygen": 31.9988, "argon": 39.948}
    assert sum(part * molar[name] for name, part in air.items()) == pytest.approx(28.9645, abs=0.015)
    assert air["oxygen"] == AIR.oxygen
    assert AIR.helium == 0


# --- places -----------------------------------------------------------------------------------------------------------

SHOULDERS = 0.82
"""Height of the acromion over stature: body survey ANSUR II of 2012."""


def height(name: str) -> Value:
    """How high a place is above the ground, as a part of stature."""
    along = TRADE.places[name].along
    return Value(SHOULDERS - along.value, SHOULDERS - along.high, SHOULDERS - along.low, along.origin)


def test_places_lie_as_they_do_on_a_body() -> None:
    """From head to feet."""
    downward = ["head", "mouth", "behind the neck", "armpit", "chest", "waist", "hips", "thighs", "ankles", "feet"]
    heights = [height(name).value for name in downward]
    assert heights == sorted(heights, reverse=True)
    assert height("head").high < 1.0
    assert height("upper cylinder").value > height("back").value > height("lower cylinder").value


@pytest.mark.parametrize(("name", "measured"), [("armpit", 0.76), ("waist", 0.60), ("ankles", 0.05)])
def test_places_lie_at_measured_heights(name: str, measured: float) -> None:
    """Armpit, crest of the hip (where a belt lies) and ankle over stature: body survey ANSUR II of 2012."""
    assert height(name).low <= measured <= height(name).high


def test_the_middle_of_a_body_is_its_middle() -> None:
    """A body balances at 55 to 57 % of its stature: any textbook of biomechanics, from memory."""
    assert height("whole body").value == pytest.approx(0.56, abs=0.02)


def test_places_lie_in_front_and_behind() -> None:
    """What is worn on the back is behind the middle, what is held or hung below the chest is in front of it."""
    for name in ("back", "behind the neck", "upper cylinder", "lower cylinder", "back cylinder", "seat"):
        assert TRADE.places[name].behind.low > 0
    for name in ("mouth", "chest", "hands", "side cylinder", "stage cylinder"):
        assert TRADE.places[name].behind.high < 0
    for name in ("head", "waist", "ankles", "feet", "whole body"):
        assert TRADE.places[name].behind.value == 0


def test_no_place_lies_off_the_diver() -> None:
    """Arms stretched out and fins pointed included."""
    for place in TRADE.places.values():
        assert -0.30 < place.along.low <= place.along.high < 1.0
        assert -0.5 < place.behind.low <= place.behind.high < 0.5
        assert place.along.spread > 0
        assert place.behind.spread > 0


@pytest.mark.parametrize("layout", LAYOUTS)
def test_every_kind_of_item_has_a_usual_place(layout: str) -> None:
    """A cylinder by how it is carried, which are the words of the kit file."""
    usual = TRADE.usual_places[layout]
    carried = field_named(Cylinder, "carried").choices
    assert usual.keys() == (KINDS.keys() - {"cylinder"}) | set(carried)
    assert set(usual.values()) <= TRADE.places.keys()
    assert {way for way in usual if TRADE.places[usual[way]].hangs_from} == set(carried)


def test_only_cylinders_hang_from_a_place() -> None:
    hangs = {place.name for place in TRADE.places.values() if place.hangs_from}
    assert hangs == {"back cylinder", "side cylinder", "stage cylinder"}
    assert not hangs & {preset.place for preset in TRADE.presets.values()}
    assert not hangs & {cut.place for cut in TRADE.cuts.values()}


def test_first_stages_sit_at_the_valves() -> None:
    """Behind the neck, and in sidemount in the armpit, where the valves of side cylinders are."""
    assert {layout: TRADE.usual_places[layout]["first_stage"] for layout in LAYOUTS} == {
        "single": "behind the neck",
        "twinset": "behind the neck",
        "sidemount": "armpit",
    }


# --- names, and what a file may say -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "table", ["metals", "valves", "cylinders", "foams", "cuts", "undersuits", "places", "waters", "limits"]
)
def test_names_are_distinguished(table: str) -> None:
    """By ear as well: no two differ only in case and spaces. Each stands under its own name."""
    entries = getattr(TRADE, table)
    heard = [re.sub(r"\W", "", name.lower()) for name in entries]
    assert len(set(heard)) == len(heard) > 1
    assert all(name == getattr(entry, "name", name) == name.strip() for name, entry in entries.items())
    assert not any(sign in name for name in entries for sign in '"\\')


WITHIN = [
    *(
        (f"{preset.name}, {key}", Cylinder, key, value)
        for preset in TRADE.cylinders.values()
        for key, value in (
            ("volume", preset.volume),
            ("working_pressure", preset.working_pressure),
            ("stamped_mass", preset.mass),
            ("diameter", preset.diameter),
            ("length", preset.length),
        )
    ),
    *((f"{key}, lift", Wing, "lift", preset.lift) for key, preset in TRADE.presets.items() if preset.lift),
    *((f"{undersuit.name}, gas", Drysuit, "suit_gas", undersuit.gas) for undersuit in TRADE.undersuits.values()),
    *((f"{place.name}, behind", Wing, "behind", place.behind) for place in TRADE.places.values()),
    ("deepest", Header, "deepest", TRADE.limits["deepest"]),
    ("stop", Header, "stop", TRADE.limits["stop"]),
    ("reserve", Cylinder, "reserve", TRADE.limits["reserve"]),
    ("filling", Cylinder, "temperature", TRADE.limits["filling"]),
]


@each(("record", "key", "value"), [row[1:] for row in WITHIN])
def test_a_file_may_say_what_the_catalogue_says(record: type, key: str, value: Value) -> None:
    """What is taken unsaid can also be written down, with the same limits."""
    field = field_named(record, key)
    assert field.lowest is not None
    assert field.highest is not None
    assert field.lowest <= value.low <= value.high <= field.highest


# --- limits -----------------------------------------------------------------------------------------------------------


def test_a_third_is_kept() -> None:
    """A third out, a third back: turned at two thirds. Common practice, no source."""
    assert TRADE.limits["turn"].value == pytest.approx(2 / 3, abs=5e-4)


def test_stop_reserve_and_lead_of_the_encyclopedia() -> None:
    """A stop at 3 to 5 m, a check with 35 to 50 bar, 2 to 15 kg of lead.

    Source: encyclopedia article titled "Diving weighting system" (found).
    """
    stop, reserve = TRADE.limits["stop"], TRADE.limits["reserve"]
    assert stop.low == 3
    assert stop.value == 5
    assert (reserve.low, reserve.high) == pytest.approx((35 * BAR, 50 * BAR))
    assert reserve.value == reserve.high
    assert TRADE.limits["lead_most_usual"].value == 15


def test_a_small_scale_is_finer_than_a_large_one() -> None:
    """And a whole body is weighed coarsest."""
    limits = TRADE.limits
    spreads = [
        limits[name].value for name in ("scale_spread", "large_scale_spread", "stamp_spread", "body_scale_spread")
    ]
    assert spreads == sorted(spreads)
    assert limits["float_check_pieces_spread"].value < limits["float_check_spread"].value
