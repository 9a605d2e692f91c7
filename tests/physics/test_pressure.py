"""Pressure under water: the standard for depth gauges, and the equation of state of the ocean."""

import math

import gsw
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.pressure import depth_at_pressure, pressure_at_depth


@pytest.mark.parametrize("depth_m", [10.0, 40.0, 100.0, 300.0])
def test_ten_metres_on_a_depth_gauge_are_one_bar(depth_m: float) -> None:
    """Source: EN 13319 (found): 1 bar is 10 m; the density that makes it so, 1019.716 kg/m3, is computed."""
    over_surface_bar = (pressure_at_depth(depth_m, 1019.716) - pressure_at_depth(0.0, 1019.716)) / 1e5
    assert over_surface_bar == pytest.approx(depth_m / 10.0, rel=0.0005 / 1019.716)


@pytest.mark.parametrize("depth_m", [5.0, 30.0, 100.0, 350.0])
def test_the_ocean_agrees_to_a_thousandth(depth_m: float) -> None:
    """Source: TEOS-10 by the library gsw: water of 0 °C and 35.165 g/kg, 1028.1 kg/m3 at the surface, at 45 degrees."""
    ocean_pa = 1e4 * float(gsw.p_from_z(-depth_m, 45.0))
    assert pressure_at_depth(depth_m, 1028.1) - 101325.0 == pytest.approx(ocean_pa, rel=0.001)


def test_the_surface_is_one_standard_atmosphere() -> None:
    """Source: ISO 2533:1975, by definition."""
    assert pressure_at_depth(0.0, 1025.0) == 101325.0


@given(depth_m=st.floats(0.0, 349.0), more_m=st.floats(0.01, 1.0), density=st.floats(995.0, 1032.0))
def test_deeper_and_saltier_is_more(depth_m: float, more_m: float, density: float) -> None:
    """Pressure grows with depth and with density."""
    deeper_m = depth_m + more_m
    assert pressure_at_depth(depth_m, density) < pressure_at_depth(deeper_m, density)
    assert pressure_at_depth(deeper_m, density) < pressure_at_depth(deeper_m, density + 1.0)


@pytest.mark.parametrize(
    ("depth_m", "density"), [(-0.1, 1025.0), (350.1, 1025.0), (math.nan, 1025.0), (10.0, 0.0), (10.0, math.nan)]
)
def test_depths_above_the_water_and_beyond_divers_are_refused(depth_m: float, density: float) -> None:
    """A sign or a unit got wrong."""
    with pytest.raises(ValueError, match="zero"):
        pressure_at_depth(depth_m, density)


@given(depth_m=st.floats(0.0, 350.0), density=st.floats(995.0, 1240.0))
def test_a_depth_and_its_pressure_lead_to_each_other(depth_m: float, density: float) -> None:
    """There and back again; above the surface there is no depth."""
    assert depth_at_pressure(pressure_at_depth(depth_m, density), density) == pytest.approx(depth_m, abs=1e-9)
    assert depth_at_pressure(0.5e5, density) == 0.0
