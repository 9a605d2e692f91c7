"""Buoyancy: worked examples of diving texts, the loss of weight of lead, and a printed cylinder."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.buoyancy import buoyancy_kgf, displaced_volume

from .published import FOOT, INCH, POUND, Row, half_a_digit, rows

SEA_WATER = 64.0 * POUND / FOOT**3
"""kg/m3: 64 lb/ft3, the figure of diving texts."""
UNITS = {"lb ft3": (POUND, FOOT**3), "kg L": (1.0, 1e-3)}
"""Kilograms and cubic metres in the units of an example."""


@pytest.mark.parametrize("row", rows("buoyancy.tsv"), ids=lambda row: row["example"])
def test_worked_examples_come_out_as_printed(row: Row) -> None:
    """Source: the table beside this test, each example with its label."""
    kilogram, cubic_metre = UNITS[row["units"]]
    found_kgf = buoyancy_kgf(
        float(row["volume"]) * cubic_metre,
        float(row["mass"]) * kilogram,
        float(row["density"]) * kilogram / cubic_metre,
    )
    assert found_kgf / kilogram == pytest.approx(float(row["buoyancy"]), abs=half_a_digit(row["buoyancy"]))


def test_a_bag_of_28_and_a_half_litres_lifts_the_outboard_motor() -> None:
    """Source: example B of the table beside this test: 29.4 kg to lift in water of 1.03 kg/L."""
    assert displaced_volume(0.0, 29.4, 1030.0) == pytest.approx(28.5e-3, abs=0.05e-3)


def test_lead_loses_nine_percent_of_its_weight_in_the_sea() -> None:
    """Source: trade rule, from memory; density of lead 11340 kg/m3, handbook of chemistry, from memory."""
    assert buoyancy_kgf(1.0 / 11340.0, 1.0, 1025.0) == pytest.approx(-0.91, abs=0.005)


def test_the_metal_of_a_printed_aluminium_cylinder_is_aluminium() -> None:
    """Source: aluminium 80 in `cylinders_handbook.tsv`, as printed: 673 in3 inside, 33.3 lb empty, +4.0 lb in the sea.

    Alloys 6061 and 6351 are 2700 kg/m3 (EN 1999-1-1:2007, 3.2.5) to 2710 (memory); the mass seems to include the brass
    valve, so 4 %.
    """
    mass_kg = 33.3 * POUND
    outside_m3 = displaced_volume(mass_kg, 4.0 * POUND, SEA_WATER)
    assert mass_kg / (outside_m3 - 673.0 * INCH**3) == pytest.approx(2705.0, rel=0.04)


@given(mass_kg=st.floats(0.001, 500.0), volume_m3=st.floats(0.0, 0.5), density_kg_m3=st.floats(995.0, 1032.0))
def test_weighing_in_air_and_water_gives_the_volume_back(
    mass_kg: float, volume_m3: float, density_kg_m3: float
) -> None:
    """Hydrostatic weighing undoes the formula."""
    floats_kgf = buoyancy_kgf(volume_m3, mass_kg, density_kg_m3)
    assert displaced_volume(mass_kg, floats_kgf, density_kg_m3) == pytest.approx(volume_m3, rel=1e-9, abs=1e-12)


@given(mass_kg=st.floats(0.0, 500.0), volume_m3=st.floats(0.0001, 0.5))
def test_salt_water_carries_more_and_own_mass_carries_less(mass_kg: float, volume_m3: float) -> None:
    """The sign convention: plus floats."""
    fresh_kgf = buoyancy_kgf(volume_m3, mass_kg, 1000.0)
    assert buoyancy_kgf(volume_m3, mass_kg, 1025.0) > fresh_kgf
    assert buoyancy_kgf(volume_m3, mass_kg + 1.0, 1000.0) == pytest.approx(fresh_kgf - 1.0, abs=1e-9)


@pytest.mark.parametrize(
    ("volume_m3", "mass_kg", "density"),
    [(-0.001, 1.0, 1025.0), (0.001, -1.0, 1025.0), (0.001, 1.0, 0.0), (math.nan, 1.0, 1025.0), (0.001, math.nan, 1e3)],
)
def test_impossible_items_do_not_float(volume_m3: float, mass_kg: float, density: float) -> None:
    """A negative volume or mass is a slip of the pen."""
    with pytest.raises(ValueError, match="zero"):
        buoyancy_kgf(volume_m3, mass_kg, density)


def test_nothing_weighs_more_under_water_than_in_air() -> None:
    """Such a reading is a mistake at the scales."""
    with pytest.raises(ValueError, match="heavier under water"):
        displaced_volume(2.0, -2.1, 1025.0)
