"""The catalogue agrees with what the trade knows, with published tables and with reference libraries."""

from itertools import pairwise
from math import pi

import gsw
import pytest

from kitbuilder.catalogue import HoseBody, catalogue
from kitbuilder.units import INCH, ZERO_CELSIUS

TRADE = catalogue()
CM = 0.01
INCH_NAMES = 2 * CM
"""A 30 in hose is sold as 75 cm: names in inches and in centimetres differ by less than this."""


# --- hose bodies ------------------------------------------------------------------------------------------------------


def ring_mass_per_length(body: HoseBody, outside_diameter: float) -> float:
    """Mass of one metre of a tube: density times the area of a ring. [kg/m]"""
    return pi / 4 * (outside_diameter**2 - body.bore.value**2) * body.density.value


@pytest.mark.parametrize("body", TRADE.bodies.values(), ids=lambda body: f"{body.service} {body.name}")
def test_mass_per_length_follows_from_the_section(body: HoseBody) -> None:
    """Derived: mass of a ring, at the usual, the least and the largest outside diameter. The data are whole grams."""
    for outside_diameter, mass in (
        (body.outside_diameter.value, body.mass_per_length.value),
        (body.outside_diameter.low, body.mass_per_length.low),
        (body.outside_diameter.high, body.mass_per_length.high),
    ):
        assert ring_mass_per_length(body, outside_diameter) == pytest.approx(mass, abs=0.0005 + 1e-6)


def test_the_three_usual_bodies_are_there_for_each_pressure() -> None:
    """And of these only the braided ones are coarse. Common practice, no source."""
    usual = {(service, name) for service in ("LP", "HP") for name in ("rubber", "braided", "polyurethane")}
    assert usual <= TRADE.bodies.keys()
    assert {name for service, name in usual if TRADE.bodies[service, name].surface == "coarse"} == {"braided"}


def test_bodies_bear_their_pressure() -> None:
    """LP hoses carry 10 bar above ambient, HP hoses a full 300 bar cylinder. Common practice, no source."""
    for body in TRADE.bodies.values():
        assert body.rated_pressure.low >= {"LP": 10e5, "HP": 300e5}[body.service]


def test_a_rubber_hose_bends_least() -> None:
    """Of hoses of one service. Common practice, no source."""
    for service in ("LP", "HP"):
        rubber, braided, polyurethane = (
            TRADE.bodies[service, name].minimum_bend_radius.value for name in ("rubber", "braided", "polyurethane")
        )
        assert braided < polyurethane < rubber


def test_the_middle_of_a_braided_long_hose_floats() -> None:
    """Page titled "Hose routing" (doubles): a long hose floats. Here in sea water of 1025 kg/m3, filled with gas."""
    body = TRADE.bodies["LP", "braided"]
    displaced = pi / 4 * body.outside_diameter.value**2 * 1025
    gas = pi / 4 * body.bore.value**2 * TRADE.gas_density["LP"].value
    assert displaced > body.mass_per_length.value + gas


def test_gas_in_hoses() -> None:
    """LP: 1.205 kg/m3 of free air times 10.5. HP: CoolProp 8.0.0, air at 20 °C: 231.648 at 200, 322.847 at 300 bar."""
    assert TRADE.gas_density["LP"].value == pytest.approx(1.205 * 10.5, rel=0.01)
    assert TRADE.gas_density["HP"].value == pytest.approx(231.648, abs=0.05)
    assert TRADE.gas_density["HP"].high == pytest.approx(322.847, abs=0.2)


def test_a_braided_long_hose_is_about_thirty_percent_lighter_than_rubber() -> None:
    """210 cm with both ends, which weigh 28 to 42 g each. Common practice, no source."""
    ends = [TRADE.fittings[name] for name in ("LP 3/8", "second stage 9/16")]
    bare = 210 * CM - sum(end.envelope_length.value for end in ends)
    rubber, braided = (
        bare * TRADE.bodies["LP", name].mass_per_length.value + sum(end.mass.value for end in ends)
        for name in ("rubber", "braided")
    )
    assert all(0.028 <= end.mass.value <= 0.042 for end in ends)
    assert 1 - braided / rubber == pytest.approx(0.30, abs=0.03)


# --- lengths ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("service", ["LP", "HP"])
def test_stock_lengths(service: str) -> None:
    """15 cm is the shortest hose on sale; LP goes to 210 cm, HP to 90 cm. Common practice, no source."""
    lengths = TRADE.stock_lengths[service]
    assert lengths[0] == pytest.approx(15 * CM)
    assert lengths[-1] == pytest.approx({"LP": 210 * CM, "HP": 90 * CM}[service])
    assert all(shorter < longer for shorter, longer in pairwise(lengths))


@pytest.mark.parametrize(
    ("role", "layout", "shortest", "longest"),
    [
        ("primary", "single", 50, 75),
        ("wing inflator", "single", 50, 75),
        ("wing inflator", "twinset", 50, 75),
        ("jacket inflator", "single", 50, 75),
        ("alternate", "single", 90, 100),
    ],
)
def test_customary_lengths_lie_in_the_usual_range(role: str, layout: str, shortest: float, longest: float) -> None:
    """50 to 75 cm for primary and inflator, 90 to 100 cm for the alternate. Common practice, no source."""
    low, high = TRADE.roles[role].customary[layout]
    assert shortest * CM <= low < high < longest * CM + INCH_NAMES


@pytest.mark.parametrize(
    ("role", "layout", "length"),
    [
        ("primary", "single", 75),
        ("alternate", "single", 90),
        ("drysuit", "single", 90),
        ("drysuit", "single", 100),
        ("long hose", "single", 150),
        ("long hose", "twinset", 150),
        ("long hose", "twinset", 210),
        ("long hose", "sidemount", 210),
        ("gauge", "sidemount", 15),
        ("stage gauge", "single", 15),
        ("stage second stage", "twinset", 100),
    ],
)
def test_the_lengths_everybody_buys_are_customary(role: str, layout: str, length: float) -> None:
    """And are in stock. Common practice, no source."""
    low, high = TRADE.roles[role].customary[layout]
    assert low <= length * CM <= high
    assert any(stock == pytest.approx(length * CM) for stock in TRADE.stock_lengths[TRADE.roles[role].service])


@pytest.mark.parametrize("inches", [22, 24, 26, 30, 36, 39, 40, 60, 84])
def test_hoses_named_in_inches_are_customary_somewhere(inches: int) -> None:
    """From the articles "Standard hose lengths" and "Hose Routing for Twin Tanks"; 30 and 36 in: common practice."""
    ranges = [lengths for role in TRADE.roles.values() for lengths in role.customary.values()]
    assert any(low - 1e-9 <= inches * INCH <= high + 1e-9 for low, high in ranges)


def test_every_custom_can_be_bought() -> None:
    """At least one stock length lies in each customary range."""
    for role in TRADE.roles.values():
        for low, high in role.customary.values():
            assert any(low - 1e-9 <= length <= high + 1e-9 for length in TRADE.stock_lengths[role.service]), role.name


def test_hoses_at_the_neck() -> None:
    """Those that pass behind it in use: article "Hose Routing for Twin Tanks", page "Hose routing" (doubles)."""
    assert {role.name for role in TRADE.roles.values() if role.crosses_neck} == {
        "long hose",
        "necklace",
        "stage second stage",
    }


def test_two_ends_take_three_to_six_centimetres() -> None:
    """Of the stated length of a hose. Common practice, no source."""
    for end in TRADE.fittings.values():
        assert 2 * end.envelope_length.low >= 3 * CM
        assert 2 * end.envelope_length.high <= 6 * CM


# --- threads ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "basic_pitch_diameter_mm"),
    [("3/8-24 UNF", 8.837), ("7/16-20 UNF", 10.287), ("1/2-20 UNF", 11.874), ("9/16-18 UNF", 13.371)],
)
def test_unified_threads_have_their_published_pitch_diameter(name: str, basic_pitch_diameter_mm: float) -> None:
    """ANSI B1.1 as printed in a tap catalogue of 2022, p. 61. The profile of 60 degrees gives d - 3/8 sqrt(3) P."""
    thread = TRADE.threads[name]
    pitch_diameter = thread.major.value - 3 / 8 * 3**0.5 * thread.pitch.value
    assert pitch_diameter == pytest.approx(basic_pitch_diameter_mm / 1000, abs=1.5e-6)


def test_pipe_thread_has_its_published_minor_diameter() -> None:
    """Mechanical Engineer's Data Handbook, p. 313: 20.587 mm for G 5/8; the 55 degree profile gives d - 1.280654 P."""
    thread = TRADE.threads["G 5/8"]
    assert thread.major.value - 1.280654 * thread.pitch.value == pytest.approx(20.587e-3, abs=1e-6)
    assert thread.pitch.value == pytest.approx(1.814e-3, abs=0.5e-6)


@pytest.mark.parametrize("name", ["M25x2", "M26x2"])
def test_metric_threads_have_the_tolerances_of_grade_6(name: str) -> None:
    """From memory of ISO 965-1: internal pitch-diameter tolerance is 1.32 times the external one, within rounding."""
    tolerances = TRADE.threads[name].tolerances
    assert tolerances["TD2"] / tolerances["Td2"] == pytest.approx(1.32, abs=0.01)
    assert TRADE.threads[name].major.value == pytest.approx(float(name[1:3]) / 1000)
    assert TRADE.threads[name].pitch.value == pytest.approx(2e-3)


# --- limits -----------------------------------------------------------------------------------------------------------


def test_stand_off() -> None:
    """20 cm below the body at most, caution at 10 cm. Common practice, no source."""
    assert TRADE.limits["stand_off_warning"].value == pytest.approx(20 * CM)
    assert TRADE.limits["stand_off_caution"].value == pytest.approx(10 * CM)


def test_a_long_hose_begins_between_the_longest_plain_and_the_shortest_long_one() -> None:
    """100 and 150 cm. Common practice, no source."""
    long_hoses = [low for low, _ in TRADE.roles["long hose"].customary.values()]
    others = [high for role in TRADE.roles.values() if role.name != "long hose" for _, high in role.customary.values()]
    assert max(others) < TRADE.limits["long_hose"].value < min(long_hoses)


def test_an_lp_port_shows_its_pressure() -> None:
    """Above the 10 bar of an LP port at the surface, far below a cylinder. Common practice, no source."""
    assert 10e5 < TRADE.limits["port_pressure_unmarked"].value < 16e5


# --- devices and waters -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "name", "lowest", "highest"),
    [
        ("first_stage", "brass, DIN, 4 LP 2 HP", -0.75, -0.44),
        ("first_stage", "brass, yoke, 4 LP 2 HP", -0.97, -0.61),
        ("first_stage", "titanium, DIN, 4 LP 2 HP", -0.42, -0.27),
        ("other", "back-plate, steel 3 mm", -2.52, -1.91),
        ("other", "back-plate, aluminium", -0.74, -0.50),
        ("other", "cylinder bands", -2.26, -1.04),
        ("other", "cam band", -0.26, -0.16),
        ("other", "manifold", -2.46, -1.76),
    ],
)
def test_solid_items_float_as_the_trade_expects(kind: str, name: str, lowest: float, highest: float) -> None:
    """Buoyancy in sea water [kgf], lightest and heaviest of each sort. Common practice, no source."""
    preset = TRADE.presets[kind, name]
    assert preset.density is not None
    per_mass = 1025 / preset.density.value - 1
    assert preset.mass.high * per_mass == pytest.approx(lowest, abs=0.006)
    assert preset.mass.low * per_mass == pytest.approx(highest, abs=0.006)


def test_an_aluminium_plate_saves_about_one_and_a_half_kilograms() -> None:
    """About 1.4 kg against the same plate in steel. Common practice, no source."""
    steel, aluminium = (TRADE.presets["other", f"back-plate, {metal}"].mass for metal in ("steel 3 mm", "aluminium"))
    assert steel.value - aluminium.value == pytest.approx(1.4, abs=0.3)


def test_what_has_a_buoyancy_is_denser_than_foam_and_lighter_than_brass() -> None:
    """Fresh foam has 150 kg/m3 or more, brass at most 8500 kg/m3. Common practice, no source."""
    for preset in TRADE.presets.values():
        if preset.buoyancy_salt is not None:
            for mass, buoyancy in (
                (preset.mass.low, preset.buoyancy_salt.high),
                (preset.mass.high, preset.buoyancy_salt.low),
            ):
                assert 150 < mass / (mass + buoyancy) * 1025 < 8500, preset.name


@pytest.mark.parametrize(
    ("kind", "lighter", "heavier"),
    [
        ("first_stage", "titanium, DIN, 4 LP 2 HP", "brass, DIN, 4 LP 2 HP"),
        ("first_stage", "brass, DIN, 4 LP 2 HP", "brass, yoke, 4 LP 2 HP"),
        ("second_stage", "plastic body", "metal body"),
        ("gauge", "brass gauge", "console of 2 or 3"),
        ("wing", "single-cylinder wing", "twinset wing"),
        ("jacket", "travel jacket", "standard jacket"),
        ("other", "fins, light travel", "fins, open heel rubber"),
        ("other", "back-plate, steel 3 mm", "back-plate, steel 6 mm"),
    ],
)
def test_what_is_lighter_than_what(kind: str, lighter: str, heavier: str) -> None:
    """At the low end of the range and at the high end. Common practice, no source."""
    light, heavy = TRADE.presets[kind, lighter].mass, TRADE.presets[kind, heavier].mass
    assert light.low <= heavy.low
    assert light.high <= heavy.high


@pytest.mark.parametrize("name", ["fresh", "brackish", "ocean"])
def test_waters_have_the_densities_divers_reckon_with(name: str) -> None:
    """1000, 1005 to 1010 and 1025 kg/m3: common practice, no source. Density from gsw 3.6, TEOS-10 at the surface."""
    water = TRADE.waters[name]
    density = gsw.rho_t_exact(water.salinity.value * 1000, water.temperature.value - ZERO_CELSIUS, 0)
    low, high = {"fresh": (998.5, 1000.5), "brackish": (1005, 1010), "ocean": (1024, 1027)}[name]
    assert low <= density <= high


def test_the_ocean_has_practical_salinity_35() -> None:
    """gsw 3.6, TEOS-10 reference salinity: 35.16504 g/kg."""
    assert TRADE.waters["ocean"].salinity.value == pytest.approx(gsw.SR_from_SP(35.0) / 1000, abs=1e-6)


def test_waters_grow_saltier() -> None:
    """Fresh has none, and the salty sea more than any ocean."""
    fresh, brackish, ocean, salty = (
        TRADE.waters[name].salinity for name in ("fresh", "brackish", "ocean", "salty sea")
    )
    assert fresh.value == 0
    assert fresh.high < brackish.low < brackish.high < ocean.low < ocean.high < salty.low
