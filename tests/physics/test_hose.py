"""Mass and volume of a hose: printed tube masses, hand values of diving hoses, measures defined as cylinders."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.hose import bore_volume, mass_per_length, ring_area, solid_volume, tube_volume

from .published import INCH, Row, half_a_digit, rows


@pytest.mark.parametrize("row", rows("tubes.tsv"), ids=lambda row: f"{row['outside_mm']} x {row['wall_mm']}")
def test_printed_masses_of_steel_tube_come_out_to_their_last_digit(row: Row) -> None:
    """Source: a steel tube weight sheet (found) and EN 10220 (from memory), at 7850 kg/m3."""
    outside_m, wall_m = float(row["outside_mm"]) / 1e3, float(row["wall_mm"]) / 1e3
    mass_kg_per_m = mass_per_length(outside_m, outside_m - 2.0 * wall_m, 7850.0)
    assert mass_kg_per_m == pytest.approx(float(row["mass_kg_per_m"]), abs=half_a_digit(row["mass_kg_per_m"]))


@pytest.mark.parametrize("row", rows("hoses.tsv"), ids=lambda row: row["body"])
def test_diving_hoses_weigh_and_float_as_worked_by_hand(row: Row) -> None:
    """Source: hand values from typical sizes (memory and derived), printed to the gram."""
    outside_m, bore_m = float(row["outside_mm"]) / 1e3, float(row["bore_mm"]) / 1e3
    mass_kg = mass_per_length(outside_m, bore_m, float(row["density_kg_m3"]))
    assert mass_kg * 1e3 == pytest.approx(float(row["mass_g_per_m"]), abs=0.5)
    for water, column in ((1000.0, "buoyancy_fresh_g_per_m"), (1025.0, "buoyancy_salt_g_per_m")):
        floats_kg = water * tube_volume(outside_m, 1.0) - mass_kg
        assert floats_kg * 1e3 == pytest.approx(float(row[column]), abs=0.5)


def test_a_wine_gallon_is_a_cylinder_seven_inches_wide_and_six_deep() -> None:
    """Source: English statute 5 Anne c. 27 (1706): such a vessel, or 231 cubic inches, which takes pi as 22/7."""
    pi_as_22_7 = 22.0 / 7.0 / math.pi
    assert tube_volume(7.0 * INCH, 6.0 * INCH) * pi_as_22_7 == pytest.approx(231.0 * INCH**3, rel=1e-12)


def test_the_bore_of_a_thick_wire_gauge_holds_its_printed_area() -> None:
    """Source: ASTM B258, from memory: gauge 0000 is 11.684 mm across and 107.2 mm2 in area."""
    assert bore_volume(11.684e-3, 1.0) == pytest.approx(107.2e-6, abs=0.05e-6)


def test_a_kilogram_of_brass_is_about_118_millilitres() -> None:
    """Source: C36000 brass, 8490 to 8500 kg/m3, printed as 0.307 lb/in3."""
    pounds_per_cubic_inch = 0.45359237 / INCH**3
    assert solid_volume(1.0, 0.307 * pounds_per_cubic_inch) == pytest.approx(117.7e-6, rel=0.001)


@given(outside_m=st.floats(5e-3, 0.05), share=st.floats(0.01, 0.999), length_m=st.floats(0.01, 5.0))
def test_wall_and_bore_fill_the_tube(outside_m: float, share: float, length_m: float) -> None:
    """Source: geometry; the wall is worked another way than the two cylinders."""
    bore_m = outside_m * share
    wall_m3 = ring_area(outside_m, bore_m) * length_m
    whole_m3 = tube_volume(outside_m, length_m)
    assert wall_m3 + bore_volume(bore_m, length_m) == pytest.approx(whole_m3, rel=1e-12)


@pytest.mark.parametrize(
    ("formula", "arguments"),
    [
        (ring_area, (0.012, 0.012)),
        (ring_area, (0.012, 0.0)),
        (ring_area, (math.nan, 0.006)),
        (ring_area, (0.012, math.nan)),
        (mass_per_length, (0.0064, 0.012, 1300.0)),
        (mass_per_length, (0.012, 0.0064, 0.0)),
        (tube_volume, (0.0, 1.0)),
        (tube_volume, (0.012, -1.0)),
        (bore_volume, (-0.0064, 1.0)),
        (bore_volume, (0.0064, math.nan)),
        (solid_volume, (-0.1, 8500.0)),
        (solid_volume, (0.1, 0.0)),
    ],
)
def test_impossible_sizes_are_refused(formula: Callable[..., float], arguments: tuple[float, ...]) -> None:
    """A bore as wide as the hose, nothing at all, or not a number."""
    with pytest.raises(ValueError, match=r"above zero|zero or more|below the outside"):
        formula(*arguments)
