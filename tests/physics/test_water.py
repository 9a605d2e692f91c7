"""Density of water: the published check values of its own equation, and the newer equation beside it."""

import math

import gsw
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.water import eos80_density, seawater_density

from .published import ZERO_CELSIUS, Row, half_a_digit, rows

OCEAN_SALINITY = 35.16504e-3
"""kg/kg; 35 practical in water of reference composition, TEOS-10 manual (2010), 2.4."""


@pytest.mark.parametrize(
    "row", rows("water_eos80.tsv"), ids=lambda row: f"S{row['practical_salinity']} T{row['temperature_c68']}"
)
def test_the_published_check_values_come_out(row: Row) -> None:
    """Source: Unesco technical papers in marine science 44 and 36, at atmospheric pressure."""
    density = eos80_density(float(row["practical_salinity"]), float(row["temperature_c68"]))
    assert density == pytest.approx(float(row["density_kg_m3"]), abs=float(row["tolerance_kg_m3"]))


@pytest.mark.parametrize("row", rows("water_pure.tsv"), ids=lambda row: f"{row['source']} {row['temperature_c']}")
def test_water_without_salt_is_pure_water(row: Row) -> None:
    """Source: IAPWS-95, and the formula of 1975; the table says which tolerance belongs to which and why."""
    density = seawater_density(0.0, float(row["temperature_c"]) + ZERO_CELSIUS)
    assert density == pytest.approx(float(row["density_kg_m3"]), abs=float(row["tolerance_kg_m3"]))


@pytest.mark.parametrize(
    ("salt_g_per_kg", "celsius", "bound_kg_m3"),
    [
        # Where people dive; both equations are fits to measurements that scatter by about 0.004 kg/m3.
        ((0.0, 40.0), (0.0, 35.0), 0.006),
        # The whole range of validity: the older fit is weakest in its corners.
        ((0.0, 42.19), (-2.0, 40.0), 0.012),
    ],
)
def test_the_newer_equation_differs_by_no_more_than_the_docstring_says(
    salt_g_per_kg: tuple[float, float], celsius: tuple[float, float], bound_kg_m3: float
) -> None:
    """Source: TEOS-10 in full (Gibbs function), the reference library of its authors."""
    worst = max(
        abs(seawater_density(salt / 1000.0, warmth + ZERO_CELSIUS) - gsw.rho_t_exact(salt, warmth, 0.0))
        for salt in _steps(*salt_g_per_kg, 40)
        for warmth in _steps(*celsius, 40)
    )
    assert worst < bound_kg_m3


def test_salinity_and_temperature_are_taken_to_the_scales_of_the_equation() -> None:
    """Source: TEOS-10 manual 2.4 (35 practical is 35.16504 g/kg); T68 is 1.00024 T90. The check value is the 25 °C row.

    Left unconverted, the salt would be off by 0.12 kg/m3 and the temperature by 0.0018 kg/m3.
    """
    temperature_k = 25.0 / 1.00024 + ZERO_CELSIUS
    assert seawater_density(OCEAN_SALINITY, temperature_k) == pytest.approx(1023.3431, abs=half_a_digit("1023.3431"))


@given(salt=st.floats(0.0, 0.041), celsius=st.floats(4.0, 39.0))
def test_more_salt_is_denser_and_more_warmth_is_lighter(salt: float, celsius: float) -> None:
    """Above 4 °C, where fresh water is densest; source: any table of water."""
    temperature_k = celsius + ZERO_CELSIUS
    density = seawater_density(salt, temperature_k)
    assert seawater_density(salt + 0.001, temperature_k) > density + 0.5
    assert seawater_density(salt, temperature_k + 1.0) < density


@pytest.mark.parametrize("celsius", [-2.0, 40.0])
def test_the_ends_of_the_range_count_as_inside(celsius: float) -> None:
    """A plain 40 °C is 40.01 on the older scale and must not be refused for that."""
    assert 990.0 < seawater_density(OCEAN_SALINITY, celsius + ZERO_CELSIUS) < 1030.0


@pytest.mark.parametrize(
    ("salt", "temperature_k"), [(-0.001, 288.0), (0.043, 288.0), (0.035, 270.0), (0.035, 314.0), (35.0, 288.0)]
)
def test_outside_its_range_the_equation_is_not_used(salt: float, temperature_k: float) -> None:
    """Salt in grams instead of a mass fraction is caught the same way."""
    with pytest.raises(ValueError, match="lies from"):
        seawater_density(salt, temperature_k)


@pytest.mark.parametrize(("salinity", "temperature"), [(math.nan, 10.0), (35.0, math.nan)])
def test_not_a_number_is_refused(salinity: float, temperature: float) -> None:
    """It compares false with every bound, so it is the easiest to let through."""
    with pytest.raises(ValueError, match="lies from"):
        eos80_density(salinity, temperature)


def _steps(first: float, last: float, count: int) -> list[float]:
    return [first + (last - first) * step / count for step in range(count + 1)]
