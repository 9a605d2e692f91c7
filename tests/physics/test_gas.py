"""Density of breathing gas: an equation of state, a printed table, and what holds for every gas."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.gas import compressibility, gas_density

from .published import INCH, POUND, ZERO_CELSIUS, Row, rows

BAR = 1e5
ATMOSPHERE = 101325.0
POUND_PER_SQUARE_INCH = POUND * 9.80665 / INCH**2
AIR = (0.7812, 0.2096, 0.0, 0.0092)
"""Mole fractions of nitrogen, oxygen, helium, argon in dry air, J. Phys. Chem. Ref. Data 29 (2000) 331, from memory."""
MOLAR_GAS_CONSTANT = 8.314462618

Mix = tuple[float, float, float]

TABLE = rows("gas_density.tsv")
GASES = list(dict.fromkeys(row["gas"] for row in TABLE))
PRESSURES = st.floats(1.0 * BAR, 308.0 * BAR)
TEMPERATURES = st.floats(270.0, 315.0)
MIXES = st.tuples(st.floats(0.0, 0.95), st.floats(0.0, 0.95)).map(
    lambda components: (
        (1.0 - components[0]) * (1.0 - components[1]),
        (1.0 - components[0]) * components[1],
        components[0],
    )
)
"""Nitrogen, oxygen, helium; some nitrogen in each, so that there is something to exchange."""


@pytest.mark.parametrize("gas", GASES)
def test_the_equation_of_state_comes_out(gas: str) -> None:
    """Source: the table says which equations; 1 to 300 bar, 0 to 40 °C."""
    states = [row for row in TABLE if row["gas"] == gas]
    assert len(states) == 35
    far = {(row["pressure_bar"], row["temperature_c"]): off for row in states if (off := _off(row)) > 1.0}
    assert far == {}


@pytest.mark.parametrize("row", rows("gas_air_z.tsv"), ids=lambda row: f"{row['pressure_bar']} bar")
def test_air_is_as_compressible_as_the_handbook_prints(row: Row) -> None:
    """Source: handbook of chemical engineering, from memory; the table argues for 0.2 %. Argon counts as oxygen."""
    nitrogen, oxygen, helium, argon = AIR
    pressure_pa = float(row["pressure_bar"]) * BAR
    factor = compressibility(nitrogen, oxygen + argon, helium, pressure_pa, float(row["temperature_k"]))
    assert factor == pytest.approx(float(row["compressibility"]), rel=0.002)


def test_random_gases_agree_with_the_equation_of_state_itself() -> None:
    """Source: CoolProp as installed, which holds for states and mixes that are in no table."""
    coolprop = pytest.importorskip("CoolProp")
    dice = random.Random(20)
    for number in range(60):
        # Every part below zero takes a gas away, so that pairs and pure gases come up too.
        parts = [max(0.0, dice.uniform(-0.5, 1.0)) for _ in range(3)]
        parts[number % 3] += 0.2
        nitrogen, oxygen, helium = (part / sum(parts) for part in parts)
        pressure_pa, temperature_k = dice.uniform(1.0, 310.0) * BAR, dice.uniform(270.0, 317.0)
        named = {"Nitrogen": nitrogen, "Oxygen": oxygen, "Helium": helium}
        present = {name: fraction for name, fraction in named.items() if fraction}
        state = coolprop.AbstractState("HEOS", "&".join(present))
        state.set_mole_fractions(list(present.values()))
        state.specify_phase(coolprop.iphase_gas)
        state.update(coolprop.PT_INPUTS, pressure_pa, temperature_k)
        density = gas_density(nitrogen, oxygen, helium, 0.0, pressure_pa, temperature_k)
        assert density == pytest.approx(state.rhomass(), rel=0.0004), (present, pressure_pa, temperature_k)


def test_air_in_a_room_weighs_what_every_handbook_says() -> None:
    """Source: handbook of chemistry and physics, dry air at 20 °C and 1 atm, 1.204 to 1.205 kg/m3, from memory."""
    assert 1.204 <= gas_density(*AIR, ATMOSPHERE, 20.0 + ZERO_CELSIUS) <= 1.205


def test_a_full_cylinder_of_80_cubic_feet_holds_2_63_kg_of_air() -> None:
    """Source: aluminium 80 in `cylinders_handbook.tsv`: 11.03 L, 3000 psi; 2.630 kg at 70 °F, computed, CoolProp 8.0.0.

    The gauge shows pressure over one atmosphere, so that is added. 0.2 % as for air as one fluid, of which the mass was
    computed; without the atmosphere the mass would be 0.4 % less.
    """
    pressure_pa = 3000.0 * POUND_PER_SQUARE_INCH + ATMOSPHERE
    temperature_k = (70.0 - 32.0) / 1.8 + ZERO_CELSIUS
    assert 11.03e-3 * gas_density(*AIR, pressure_pa, temperature_k) == pytest.approx(2.630, rel=0.002)


@pytest.mark.parametrize(
    ("mix", "virial_cm3_per_mol"), [((1.0, 0.0, 0.0), -4.0), ((0.0, 1.0, 0.0), -16.0), ((0.0, 0.0, 1.0), 12.0)]
)
def test_a_thin_gas_leaves_the_ideal_gas_as_its_second_virial_coefficient_says(
    mix: Mix, virial_cm3_per_mol: float
) -> None:
    """Source: handbook of chemistry and physics, second virial coefficients at 300 K, from memory.

    Half a printed unit, 1 cm3/mol for the measurements, and the third coefficient (to 1500 cm6/mol2), which is worth up
    to 0.6 cm3/mol at 10 bar.
    """
    pressure_pa, temperature_k = 10.0 * BAR, 300.0
    excess = compressibility(*mix, pressure_pa, temperature_k) - 1.0
    virial = excess * MOLAR_GAS_CONSTANT * temperature_k / pressure_pa
    assert virial * 1e6 == pytest.approx(virial_cm3_per_mol, abs=2.1)


@given(mix=MIXES, temperature_k=TEMPERATURES)
def test_at_the_surface_every_gas_is_nearly_ideal(mix: Mix, temperature_k: float) -> None:
    """Oxygen at 270 K leaves it most, -23 cm3/mol or 0.10 %; source: second virial coefficients, from memory."""
    assert compressibility(*mix, 1.0 * BAR, temperature_k) == pytest.approx(1.0, abs=0.0012)
    molar_mass = sum(part * kilograms for part, kilograms in zip(mix, (0.028014, 0.031998, 0.0040026), strict=True))
    ideal = 1.0 * BAR * molar_mass / (MOLAR_GAS_CONSTANT * temperature_k)
    assert gas_density(*mix, 0.0, 1.0 * BAR, temperature_k) == pytest.approx(ideal, rel=0.0013)


@given(mix=MIXES, pressure_pa=PRESSURES, temperature_k=TEMPERATURES)
def test_pressure_makes_a_gas_denser_and_warmth_makes_it_lighter(
    mix: Mix, pressure_pa: float, temperature_k: float
) -> None:
    """Source: mechanical stability, and gases far above their critical temperature expand when heated."""
    density = gas_density(*mix, 0.0, pressure_pa, temperature_k)
    assert gas_density(*mix, 0.0, pressure_pa + 1.0 * BAR, temperature_k) > density
    assert gas_density(*mix, 0.0, pressure_pa, temperature_k + 1.0) < density


@given(mix=MIXES, pressure_pa=PRESSURES, temperature_k=TEMPERATURES)
def test_oxygen_for_nitrogen_is_heavier_and_helium_for_either_is_lighter(
    mix: Mix, pressure_pa: float, temperature_k: float
) -> None:
    """Source: molar masses 28, 32 and 4 g/mol; compressibility does not outweigh them."""
    nitrogen, oxygen, helium = mix
    moved = nitrogen / 2.0
    density = gas_density(*mix, 0.0, pressure_pa, temperature_k)
    assert gas_density(nitrogen - moved, oxygen + moved, helium, 0.0, pressure_pa, temperature_k) > density
    assert gas_density(nitrogen - moved, oxygen, helium + moved, 0.0, pressure_pa, temperature_k) < density
    assert gas_density(nitrogen, 0.0, helium + oxygen, 0.0, pressure_pa, temperature_k) <= density


@given(mix=MIXES, pressure_pa=PRESSURES, temperature_k=TEMPERATURES)
def test_a_trace_of_a_gas_makes_no_jump(mix: Mix, pressure_pa: float, temperature_k: float) -> None:
    """What a gas is not in is skipped; with a billionth of it, it is not, and the answer must be the same."""
    nitrogen, oxygen, _ = mix
    total = nitrogen + oxygen
    dry = (nitrogen / total, oxygen / total)
    without = compressibility(*dry, 0.0, pressure_pa, temperature_k)
    assert compressibility(*dry, 1e-9, pressure_pa, temperature_k) == pytest.approx(without, rel=1e-8)


@pytest.mark.parametrize("pressure_pa", [1.0 * BAR, 310.0 * BAR])
@pytest.mark.parametrize("temperature_k", [270.0, 317.0])
def test_the_ends_of_the_range_count_as_inside(pressure_pa: float, temperature_k: float) -> None:
    assert gas_density(*AIR, pressure_pa, temperature_k) > 1.0


@pytest.mark.parametrize(
    ("pressure_pa", "temperature_k", "what"),
    [
        (0.0, 293.15, "pressure"),
        (0.999e5, 293.15, "pressure"),
        (310.1e5, 293.15, "pressure"),
        (232.0, 293.15, "not 0.00232 bar"),
        (-1e5, 293.15, "pressure"),
        (math.nan, 293.15, "pressure"),
        (math.inf, 293.15, "pressure"),
        (232e5, 269.9, "temperature"),
        (232e5, 317.1, "temperature"),
        (232e5, 20.0, "not 20 K"),
        (232e5, math.nan, "temperature"),
    ],
)
def test_outside_its_range_the_fit_is_not_used(pressure_pa: float, temperature_k: float, what: str) -> None:
    """Bar for pascal and Celsius for kelvin are caught the same way."""
    with pytest.raises(ValueError, match=rf"lies from.*{what}|{what}.*lies from"):
        gas_density(*AIR, pressure_pa, temperature_k)
    with pytest.raises(ValueError, match=rf"lies from.*{what}|{what}.*lies from"):
        compressibility(0.79, 0.21, 0.0, pressure_pa, temperature_k)


@pytest.mark.parametrize(
    ("fractions", "what"),
    [
        ((0.79, 0.22, 0.0, 0.0), "add up to 1, not 1.01"),
        ((0.79, 0.209, 0.0, 0.0), "add up to 1, not 0.999"),
        ((79.0, 21.0, 0.0, 0.0), "add up to 1, not 100"),
        ((0.0, 0.0, 0.0, 0.0), "add up to 1"),
        ((math.inf, 0.0, 0.0, 0.0), "add up to 1"),
        ((-0.01, 1.01, 0.0, 0.0), "nitrogen .* zero or more"),
        ((1.01, -0.01, 0.0, 0.0), "oxygen .* zero or more"),
        ((1.01, 0.0, -0.01, 0.0), "helium .* zero or more"),
        ((math.nan, 1.0, 0.0, 0.0), "nitrogen .* zero or more"),
    ],
)
def test_what_is_no_gas_is_refused(fractions: tuple[float, float, float, float], what: str) -> None:
    with pytest.raises(ValueError, match=what):
        gas_density(*fractions, 232.0 * BAR, 293.15)
    with pytest.raises(ValueError, match=what):
        compressibility(*fractions[:3], 232.0 * BAR, 293.15)


@pytest.mark.parametrize("argon", [-0.01, math.nan])
def test_argon_is_looked_at_too(argon: float) -> None:
    """Taken as oxygen, a negative part of it could hide behind the oxygen."""
    with pytest.raises(ValueError, match=r"argon .* zero or more"):
        gas_density(0.79, 0.22, 0.0, argon, 232.0 * BAR, 293.15)


def test_fractions_that_are_rounded_are_taken() -> None:
    """One part in a million is let through, either way."""
    assert gas_density(0.7812003, 0.2096003, 0.0, 0.0092003, 232.0 * BAR, 293.15) > 0.0
    assert gas_density(0.7811997, 0.2095997, 0.0, 0.0091997, 232.0 * BAR, 293.15) > 0.0


def _off(row: Row) -> float:
    """How far the density of a row is off, in its own tolerance."""
    fractions = (float(row[name]) for name in ("nitrogen", "oxygen", "helium", "argon"))
    density = gas_density(*fractions, float(row["pressure_bar"]) * BAR, float(row["temperature_c"]) + ZERO_CELSIUS)
    expected = float(row["density_kg_m3"])
    return abs(density - expected) / (float(row["tolerance"]) * expected)
