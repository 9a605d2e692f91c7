"""Cylinders: what they weigh and how they float, full and empty, and what is missing."""

from math import hypot, sqrt
from statistics import fmean

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, full_weight, gas_in, work_out_vessel
from kitbuilder.assess.figures import total
from kitbuilder.assess.gas.mixes import mix_of
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.gas_mix import gas_named
from kitbuilder.kit.items import Cylinder, Header
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import SALT, assessed, beside
from tests.each import each
from tests.laws import tried
from tests.physics.published import FOOT, Row
from tests.physics.test_cylinder import HANDBOOK, REJECTED

pytestmark = pytest.mark.usefixtures("usual_values")

BAR = 1e5
ROOM_K = 293.15
SEA = assess_water(Header(format=1, name="sea", layout="single", density_kg_m3=1025.0))
HEAD = f'format = 1\nname = "one cylinder"\nlayout = "single"\n{SALT}\n[[cylinder]]\ntag = "tank"\n'


def vessel(preset: str | None = "aluminium 11.1 L 207", **keys: object):
    found = work_out_vessel(Cylinder(tag="tank", preset=preset, **keys), SEA)  # type: ignore[arg-type]
    assert found is not None
    return found


# --- outside checks ---------------------------------------------------------------------------------------------------


def test_an_aluminium_cylinder_swings_from_sinking_to_floating() -> None:
    """Source: `tests/physics/cylinders_handbook.tsv`, aluminium 80 (found): -0.86 full, +1.81 kg empty.

    That one holds 11.03 L and weighs 15.1 kg with its valve; ours are both 0.1 larger and lighter, worth 0.15 kg.
    """
    aluminium = vessel()
    empty, full = aluminium.empty.buoyancy, full_weight(aluminium).buoyancy
    assert empty.value == pytest.approx(1.8, abs=0.15)
    assert full.value == pytest.approx(-0.8, abs=0.15)
    assert abs(empty.value - 1.81) < empty.spread
    assert abs(full.value + 0.86) < full.spread


SOUND = {name: row for name, row in HANDBOOK.items() if name not in REJECTED}


def weighed_as_printed(row: Row) -> Vessel:
    """A cylinder of the handbook on a scale; its mass seems to include the valve."""
    return vessel(
        None,
        metal=row["material"],
        volume_m3=float(row["volume_L"]) / 1e3,
        working_pressure_pa=float(row["service_bar"]) * BAR,
        mass_kg=float(row["dry_mass_kg"]),
    )


@each("name", SOUND)
def test_printed_cylinders_float_within_the_claimed_spread(name: str) -> None:
    """Source: `tests/physics/cylinders_handbook.tsv` (found), the rows that do not contradict themselves.

    Full, it holds the printed content: so many cubic feet of air of 1.205 kg/m3 (from memory).
    """
    row, found = SOUND[name], weighed_as_printed(SOUND[name]).empty.buoyancy
    gas = float(row["content_cuft"]) * FOOT**3 * 1.205
    assert abs(found.value - float(row["buoy_empty_salt_kg"])) <= found.spread
    assert abs(found.value - gas - float(row["buoy_full_salt_kg"])) <= found.spread


def test_the_claimed_spread_of_a_cylinder_is_no_wider_than_the_printed_rows_ask_for() -> None:
    """Their root mean square error, worked out again here, is at least 0.4 of the spread, which is two of them."""
    off = [(weighed_as_printed(row).empty.buoyancy.value - float(row["buoy_empty_salt_kg"])) for row in SOUND.values()]
    spreads = [weighed_as_printed(row).empty.buoyancy.spread for row in SOUND.values()]
    assert 0.4 < sqrt(fmean(each**2 for each in off)) / fmean(spreads) < 0.6


def test_two_cylinders_of_one_name_are_of_one_make() -> None:
    """What they displace beyond inside, metal and valve is the same in both; of two tags it is not known to be."""
    one, other = (vessel("steel 12 L 232 long").empty.buoyancy for _ in range(2))
    assert "outside of steel 12 L 232 long" in one.components
    assert total((one, other), "").components["outside of steel 12 L 232 long"] == pytest.approx(2 * 0.6e-3 * 1025)
    stamps = {"metal": "steel", "volume_m3": 0.012, "working_pressure_pa": 232 * BAR, "stamped_mass_kg": 14.0}
    assert "outside of tank" in vessel(None, **stamps).empty.buoyancy.components


def test_the_origin_says_what_a_cylinder_is_taken_to_displace() -> None:
    """Only its mass was weighed: how it floats was worked out."""
    weighed = vessel(mass_kg=14.75).empty
    assert weighed.mass.origin == "weighed"
    assert "weighed" not in weighed.buoyancy.origin
    for word in ("inside", "aluminium", "brass valve", "paint"):
        assert word in weighed.buoyancy.origin


def test_a_twin_12_swings_by_six_kilograms_and_a_half() -> None:
    """Source: 24 L of air of 1.2 kg/m3 at 1 bar, times 232, over a compressibility of 1.05: 6.4 kg (memory).

    Air has 1.2 kg/m3 at 1.013 bar, so that is 0.1 kg too much.
    """
    steel = vessel("steel 12 L 232 long")
    filled, empty = (gas_in(steel, pressure, ROOM_K, "").value for pressure in (232 * BAR, 0.0))
    assert 2 * (filled - empty) == pytest.approx(6.4, abs=0.15)


@pytest.mark.parametrize(
    ("preset", "empty", "full"),
    [
        ("steel 7 L 232", -1.0, -2.9),
        ("steel 10 L 232", -0.9, -3.5),
        ("steel 12 L 232 long", -0.7, -3.9),
        ("steel 12 L 300", -4.5, -8.4),
        ("steel 15 L 232", -0.1, -4.1),
        ("aluminium 5.7 L 207", +0.8, -0.6),
        ("aluminium 13 L 228", +1.4, -2.1),
    ],
)
def test_customary_cylinders_float_as_calculated_apart(preset: str, empty: float, full: float) -> None:
    """Source: a separate calculation from the same trade sizes (derived), by a rounded compressibility; to 0.1 kg."""
    found = vessel(preset)
    assert found.empty.buoyancy.value == pytest.approx(empty, abs=0.15)
    assert full_weight(found).buoyancy.value == pytest.approx(full, abs=0.15)


# --- mass without volume ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "mass", "spread"),
    [
        ('mass = "14.3 kg"', 14.3, hypot(0.05, 1.959964 / sqrt(3) * 0.05)),
        ('metal = "steel"\nstamped_mass = "11.0 kg"', 11.0 + 0.75, hypot(0.1, 1.959964 / sqrt(3) * 0.15)),
    ],
)
def test_a_cylinder_of_no_known_volume_counts_by_its_mass_without_gas(keys: str, mass: float, spread: float) -> None:
    """By hand: a luggage scale of 50 g and half of its last digit; a stamp of 100 g and a valve of 0.6 to 0.9 kg."""
    found = assessed(HEAD + keys + "\n", beside())
    assert found.weights == (None,)
    assert (found.weighed, found.floating) == (1, 0)
    assert found.everything.mass.value == pytest.approx(mass)
    assert found.everything.mass.combined == pytest.approx(spread)
    assert found.everything.buoyancy.value == 0
    [missing] = [item for item in found.unchecked if item.rule == "totals"]
    assert "the cylinder has neither a preset nor all of its stamps, so only its mass without gas counts" in sentence(
        missing.because, System.METRIC
    )


# --- from what is given -----------------------------------------------------------------------------------------------


def test_stamps_by_hand() -> None:
    """12 L and 14.0 kg of steel of 7850 kg/m3, a valve of 0.75 kg of brass, in water of 1025 kg/m3."""
    stamped = vessel(None, metal="steel", volume_m3=0.012, working_pressure_pa=232 * BAR, stamped_mass_kg=14.0)
    assert stamped.empty.mass.value == pytest.approx(14.75)
    outside = 0.012 + 14.0 / 7850 + 0.75 / 8400
    assert stamped.empty.buoyancy.value == pytest.approx(1025 * outside - 14.75)
    assert (stamped.filled_pa, stamped.reserve_pa) == (232 * BAR, 50 * BAR)
    assert stamped.turn_pa == pytest.approx(232 * BAR * 2 / 3, rel=1e-3)


def test_a_weighed_mass_has_its_valve_in_it() -> None:
    """14.75 kg on the scale with the valve is 14.0 kg on the stamp; the scale is off by 50 g."""
    stamped, weighed = vessel(stamped_mass_kg=14.0), vessel(mass_kg=14.75)
    assert weighed.empty.mass.value == pytest.approx(stamped.empty.mass.value)
    assert weighed.empty.buoyancy.value == pytest.approx(stamped.empty.buoyancy.value)
    assert weighed.empty.mass.spread == pytest.approx(0.05)
    assert weighed.empty.buoyancy.spread < stamped.empty.buoyancy.spread < vessel().empty.buoyancy.spread


def test_a_valve_is_left_off_where_a_manifold_closes_the_cylinder() -> None:
    """0.6 to 0.9 kg of brass, of which sea water carries 1025/8400."""
    change = vessel(valve="none").empty.buoyancy.value - vessel().empty.buoyancy.value
    assert change == pytest.approx(0.75 * (1 - 1025 / 8400))


@pytest.mark.parametrize(
    ("keys", "oxygen", "helium", "argon"),
    [
        ({}, 0.2096, 0.0, 0.0092),
        ({"gas": gas_named("nitrox 32")}, 0.32, 0.0, 0.68 * 0.0092 / 0.7904),
        ({"gas": gas_named("trimix 18/45")}, 0.18, 0.45, 0.37 * 0.0092 / 0.7904),
        ({"gas": gas_named("oxygen")}, 1.0, 0.0, 0.0),
        ({"oxygen": 0.5}, 0.5, 0.0, 0.5 * 0.0092 / 0.7904),
        ({"nitrogen": 0.68}, 0.32, 0.0, 0.68 * 0.0092 / 0.7904),
    ],
)
def test_a_gas_by_its_parts(keys: dict[str, object], oxygen: float, helium: float, argon: float) -> None:
    """Argon comes with the nitrogen of air: dry air has 0.92 % of it beside 78.12 % of nitrogen (memory)."""
    mix = mix_of(Cylinder(tag="tank", **keys))  # type: ignore[arg-type]
    assert (mix.oxygen, mix.helium) == (pytest.approx(oxygen), pytest.approx(helium))
    assert mix.argon == pytest.approx(argon, abs=2e-6)
    assert sum(mix) == pytest.approx(1.0, abs=1e-9)


def test_parts_that_do_not_add_up_are_scaled_until_they_do() -> None:
    """32 and 72 % are counted as 32/104 and 72/104; a rule reports it."""
    mix = mix_of(Cylinder(tag="tank", oxygen=0.32, nitrogen=0.72))
    assert mix.oxygen == pytest.approx(0.32 / 1.04)


# --- what is missing --------------------------------------------------------------------------------------------------

STAMPS = {"metal": "steel", "volume": "12 L", "working_pressure": "232 bar", "stamped_mass": "14 kg"}


@pytest.mark.parametrize("missing", STAMPS)
def test_the_key_that_is_missing_is_named(missing: str) -> None:
    """Without it neither weight nor balance is worked out, and both say so."""
    found = assessed(
        HEAD + "".join(f'{key} = "{value}"\n' for key, value in STAMPS.items() if key != missing), beside()
    )
    assert found.weights == (None,)
    assert found.balance is None
    [item] = [item for item in found.unchecked if item.rule == "totals"]
    assert (item.item, item.key) == (0, missing)
    assert "neither a preset nor all of its stamps" in sentence(item.because, System.METRIC)


def test_all_stamps_are_enough() -> None:
    """No preset is needed."""
    found = assessed(HEAD + "".join(f'{key} = "{value}"\n' for key, value in STAMPS.items()), beside())
    assert found.balance is not None
    assert not [item for item in found.unchecked if item.rule == "totals"]


# --- what holds for every cylinder ------------------------------------------------------------------------------------

PRESETS = st.sampled_from(("steel 12 L 232 long", "steel 7 L 300", "aluminium 11.1 L 207", "aluminium 5.7 L 207"))


@given(preset=PRESETS, pressures=st.tuples(st.floats(0, 305), st.floats(0, 305)), helium=st.floats(0, 0.8))
@tried(30)
def test_more_pressure_is_never_lighter(preset: str, pressures: tuple[float, float], helium: float) -> None:
    """Nor does it float more."""
    low, high = (
        full_weight(vessel(preset, filled_pa=bar * BAR, oxygen=0.2, helium=helium)) for bar in sorted(pressures)
    )
    assert low.mass.value <= high.mass.value
    assert low.buoyancy.value >= high.buoyancy.value


@given(preset=PRESETS, filled=st.floats(0, 305), celsius=st.floats(0, 40))
@tried(30)
def test_gas_counts_whole_in_mass_and_in_buoyancy(preset: str, filled: float, celsius: float) -> None:
    """It displaces nothing that the cylinder does not."""
    found = vessel(preset, filled_pa=filled * BAR, temperature_k=273.15 + celsius)
    full = full_weight(found)
    assert full.mass.value - found.empty.mass.value == pytest.approx(
        found.empty.buoyancy.value - full.buoyancy.value, abs=1e-9
    )


@given(
    mass=st.none() | st.floats(0.5, 45.0),
    stamped=st.none() | st.floats(0.5, 40.0),
    volume=st.floats(0.0003, 0.03),
    pressures=st.tuples(*[st.none() | st.floats(0.0, 305e5)] * 3),
    parts=st.tuples(*[st.none() | st.floats(0.0, 1.0)] * 3),
    water=st.floats(990, 1250),
    deepest=st.floats(3, 100),
)
@tried(60)
def test_whatever_the_format_lets_pass_is_worked_out(
    mass: float | None,
    stamped: float | None,
    volume: float,
    pressures: tuple[float | None, ...],
    parts: tuple[float | None, ...],
    water: float,
    deepest: float,
) -> None:
    """Absurd values are for the rules to find, never a reason to stop."""
    keys = {
        "mass": (mass, "kg"),
        "stamped_mass": (stamped, "kg"),
        "volume": (volume * 1e3, "L"),
        **dict(zip(("filled", "turn", "reserve"), ((p and p / BAR, "bar") for p in pressures), strict=True)),
        **dict(zip(("oxygen", "helium", "nitrogen"), ((p and p * 100, "%") for p in parts), strict=True)),
    }
    rows = "".join(f'{key} = "{value:.6f} {unit}"\n' for key, (value, unit) in keys.items() if value is not None)
    head = HEAD.replace(SALT, f'density = "{water:.3f} kg/m3"\ndeepest = "{deepest:.3f} m"')
    assert assessed(f'{head}preset = "steel 12 L 232 long"\n{rows}', beside()).balance is not None
