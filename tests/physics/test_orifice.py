"""Gas through an opening: relief valves of the library fluids, the differential equation, worked examples, and laws."""

import math
from typing import Any

import fluids
import pytest
from fluids.compressible import P_critical_flow, is_critical_flow
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import R as MOLAR_GAS_CONSTANT
from scipy.integrate import quad, solve_ivp

from kitbuilder.physics.orifice import (
    choked_blow_down_time,
    cold_share_of_blow_down,
    cold_share_of_regulated_emptying,
    critical_pressure_ratio,
    orifice_mass_flow,
    regulated_emptying_time,
)

BAR = 1e5
MM = 1e-3
AIR: dict[str, float] = {"temperature_k": 293.15, "molar_mass_kg_mol": 0.0289655, "heat_ratio": 1.4}
HEATS = st.floats(1.05, 5 / 3)
DIAMETERS = st.floats(0.1, 10.0).map(lambda diameter: diameter * MM)
PRESSURES = st.floats(2.0, 300.0).map(lambda pressure: pressure * BAR)
SHARES = st.floats(0.01, 0.99)
MORE = st.floats(1.01, 3.0)


def flow(**changes: float) -> float:
    """Air of 10 bar into the atmosphere through 4 mm, but for what is changed."""
    usual = {"upstream_pressure_pa": 10 * BAR, "downstream_pressure_pa": BAR, "diameter_m": 4 * MM, "discharge": 0.8}
    return orifice_mass_flow(**(AIR | usual | changes))


def blow_down(**changes: float) -> float:
    """A cylinder of 10 L from 200 to 10 bar through half a millimetre into the atmosphere."""
    usual = {
        "volume_m3": 0.010,
        "start_pressure_pa": 200 * BAR,
        "end_pressure_pa": 10 * BAR,
        "downstream_pressure_pa": BAR,
        "diameter_m": 0.5 * MM,
        "discharge": 0.8,
    }
    return choked_blow_down_time(**(AIR | usual | changes))


def regulated(**changes: float) -> float:
    """The same cylinder through 4 mm behind a valve that holds 10 bar."""
    usual = {
        "volume_m3": 0.010,
        "start_pressure_pa": 200 * BAR,
        "end_pressure_pa": 10 * BAR,
        "regulated_pressure_pa": 10 * BAR,
        "downstream_pressure_pa": BAR,
        "diameter_m": 4 * MM,
        "discharge": 0.8,
    }
    return regulated_emptying_time(**(AIR | usual | changes))


# --- against the library fluids ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(("heat_ratio", "ratio"), [(1.4, 0.528), (5 / 3, 0.487), (1.3, 0.546)])
def test_the_critical_ratio_is_that_of_the_tables(heat_ratio: float, ratio: float) -> None:
    """Source: tables of isentropic flow at Mach 1, p/p0 to three digits: air 0.528, helium 0.487 (from memory)."""
    assert critical_pressure_ratio(heat_ratio) == pytest.approx(ratio, abs=5e-4)


@given(HEATS, PRESSURES)
def test_the_critical_pressure_is_that_of_a_public_library(heat_ratio: float, pressure: float) -> None:
    """Source: fluids.P_critical_flow."""
    assert critical_pressure_ratio(heat_ratio) * pressure == pytest.approx(P_critical_flow(pressure, heat_ratio))


@pytest.mark.parametrize(("downstream", "area"), [(101325.0, 0.0036990460646834414), (532e3, 0.004248358775943481)])
def test_the_worked_examples_of_a_public_library_come_out(downstream: float, area: float) -> None:
    """Source: docstring of fluids.API520_A_g, examples 1 and 2 of API 520; Z of 0.90 is put into the molar mass.

    Its constants are rounded to three or four digits.
    """
    diameter = math.sqrt(4 * area / math.pi)
    found = orifice_mass_flow(670e3, downstream, 348.0, 0.051 / 0.90, 1.11, diameter, 0.975)
    assert found == pytest.approx(24270 / 3600, rel=1.5e-3)


@given(HEATS, PRESSURES, SHARES, DIAMETERS)
def test_a_relief_valve_sized_by_a_public_library_passes_the_flow(
    heat_ratio: float, pressure: float, share: float, diameter: float
) -> None:
    """Source: fluids.API520_A_g, inverted: the area it asks for the flow is the area of the opening."""
    found = orifice_mass_flow(pressure, share * pressure, 293.15, 0.028, heat_ratio, diameter, 0.8)
    area = fluids.API520_A_g(found, 293.15, 1.0, 28.0, heat_ratio, pressure, share * pressure, Kd=0.8)
    assert area == pytest.approx(math.pi / 4 * diameter**2, rel=1.5e-3)


@given(HEATS, PRESSURES, SHARES)
def test_a_choked_flow_does_not_feel_what_is_behind_it(heat_ratio: float, pressure: float, share: float) -> None:
    """Source of where it is choked: fluids.is_critical_flow."""
    into_vacuum = flow(upstream_pressure_pa=pressure, downstream_pressure_pa=0.0, heat_ratio=heat_ratio)
    found = flow(upstream_pressure_pa=pressure, downstream_pressure_pa=share * pressure, heat_ratio=heat_ratio)
    if is_critical_flow(pressure, share * pressure, heat_ratio):
        assert found == pytest.approx(into_vacuum, rel=1e-9)
    else:
        assert found <= into_vacuum * (1 + 1e-12)


def test_air_by_hand() -> None:
    """Source: text on gas dynamics: choked air passes 0.0404 p A / sqrt(T) (from memory, three digits)."""
    expected = 0.8 * 0.0404 * 10 * BAR * math.pi / 4 * (4 * MM) ** 2 / math.sqrt(293.15)
    assert flow() == pytest.approx(expected, rel=2e-3)


# --- against the differential equation --------------------------------------------------------------------------------


def library_flow(pressure: float, diameter: float) -> float:
    """Flow of air into the atmosphere [kg/s], from the area that fluids.API520_A_g asks for 1 kg/s."""
    area = fluids.API520_A_g(1.0, 293.15, 1.0, 28.9655, 1.4, pressure, BAR, Kd=0.8)
    return math.pi / 4 * diameter**2 / area


def integrated(diameter: float, before_the_opening: Any) -> float:
    """Time from 200 to 10 bar [s], integrated by scipy with the flow of the library fluids."""
    per_pascal = 0.010 * 0.0289655 / (MOLAR_GAS_CONSTANT * 293.15)

    def fall(_time: float, pressure: Any) -> list[float]:
        return [-library_flow(before_the_opening(pressure[0]), diameter) / per_pascal]

    def empty(_time: float, pressure: Any) -> float:
        return float(pressure[0] - 10 * BAR)

    empty.terminal = True  # type: ignore[attr-defined]
    found = solve_ivp(fall, (0.0, 1e5), [200 * BAR], events=empty, rtol=1e-9, atol=1.0)
    return float(found.t_events[0][0])


def test_a_vessel_blows_down_as_the_differential_equation_does() -> None:
    """Source: scipy.integrate.solve_ivp over the flow of fluids.API520_A_g."""
    assert blow_down() == pytest.approx(integrated(0.5 * MM, lambda pressure: pressure), rel=1.5e-3)


def test_a_regulated_vessel_empties_as_the_differential_equation_does() -> None:
    """Source: as above, with 10 bar before the opening all the time."""
    assert regulated() == pytest.approx(integrated(4 * MM, lambda _pressure: 10 * BAR), rel=1.5e-3)


# --- laws -------------------------------------------------------------------------------------------------------------


@given(DIAMETERS, MORE)
def test_a_wider_opening_passes_more_by_its_area(diameter: float, more: float) -> None:
    assert flow(diameter_m=more * diameter) == pytest.approx(more**2 * flow(diameter_m=diameter))
    assert blow_down(diameter_m=more * diameter) == pytest.approx(blow_down(diameter_m=diameter) / more**2)
    assert regulated(diameter_m=more * diameter) == pytest.approx(regulated(diameter_m=diameter) / more**2)


@given(PRESSURES, MORE)
def test_more_pressure_passes_more(pressure: float, more: float) -> None:
    assert flow(upstream_pressure_pa=more * pressure) > flow(upstream_pressure_pa=pressure)


@given(PRESSURES, SHARES, SHARES)
def test_less_pressure_behind_never_passes_less(pressure: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    into = [flow(upstream_pressure_pa=pressure, downstream_pressure_pa=share * pressure) for share in (low, high)]
    assert into[0] >= into[1] * (1 - 1e-12)


@given(st.lists(st.floats(10.0, 300.0), min_size=3, max_size=3).map(sorted))
def test_times_over_stages_of_pressure_add_up(pressures: list[float]) -> None:
    low, middle, high = (pressure * BAR for pressure in pressures)
    for time in (blow_down, regulated):
        whole = time(start_pressure_pa=high, end_pressure_pa=low)
        parts = [
            time(start_pressure_pa=high, end_pressure_pa=middle),
            time(start_pressure_pa=middle, end_pressure_pa=low),
        ]
        assert whole == pytest.approx(sum(parts), rel=1e-9, abs=1e-9)
        assert whole >= 0.0


@given(MORE)
def test_time_goes_with_the_volume_and_lighter_gas_leaves_sooner(more: float) -> None:
    for time in (blow_down, regulated):
        assert time(volume_m3=0.010 * more) == pytest.approx(more * time())
        assert time(molar_mass_kg_mol=AIR["molar_mass_kg_mol"] / more) == pytest.approx(time() / math.sqrt(more))


def test_equal_pressures_pass_nothing() -> None:
    assert flow(downstream_pressure_pa=10 * BAR) == 0.0


# --- what is refused --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("upstream_pressure_pa", 0.0),
        ("downstream_pressure_pa", -1.0),
        ("downstream_pressure_pa", 11 * BAR),
        ("temperature_k", 0.0),
        ("molar_mass_kg_mol", -0.029),
        ("heat_ratio", 1.0),
        ("diameter_m", 0.0),
        ("discharge", 0.0),
        ("discharge", 1.01),
        ("diameter_m", math.nan),
    ],
)
def test_a_flow_outside_its_range_is_refused(name: str, value: float) -> None:
    with pytest.raises(ValueError, match=r"above zero|lies|above 1"):
        flow(**{name: value})


@pytest.mark.parametrize(
    "changes",
    [
        {"volume_m3": 0.0},
        {"end_pressure_pa": 201 * BAR},
        {"end_pressure_pa": 0.0},
        {"downstream_pressure_pa": 6 * BAR},  # not choked at 10 bar: 0.528 of it is 5.3
        {"downstream_pressure_pa": -1.0},
        {"heat_ratio": 0.9},
        {"discharge": 2.0},
    ],
)
def test_a_blow_down_outside_its_range_is_refused(changes: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=r"above zero|lies|above 1"):
        blow_down(**changes)


@pytest.mark.parametrize(
    "changes",
    [
        {"volume_m3": -1.0},
        {"end_pressure_pa": 201 * BAR},
        {"end_pressure_pa": 9 * BAR},
        {"downstream_pressure_pa": 10 * BAR},
        {"downstream_pressure_pa": 11 * BAR},
        {"discharge": 0.0},
    ],
)
def test_a_regulated_emptying_outside_its_range_is_refused(changes: dict[str, float]) -> None:
    with pytest.raises(ValueError, match=r"above zero|lies|holds|nothing flows"):
        regulated(**changes)


# --- a cylinder that grows cold ---------------------------------------------------------------------------------------


def without_heat(start: float, end: float, heat_ratio: float, before_the_opening: float | None) -> float:
    """The time of an emptying without heat from the walls over that at one temperature, both integrated by scipy.

    The mass left goes with p^(1/k), its temperature with p^((k-1)/k); the flow with the pressure before the opening and
    one over the root of the temperature. Units and the opening cancel.
    """

    def time(k: float, cools: bool) -> float:
        def per_pressure(pressure: float) -> float:
            share = pressure / start
            mass_per_pressure = share ** (1 / k - 1) / k if cools else 1.0
            root_of_temperature = share ** ((k - 1) / (2 * k)) if cools else 1.0
            return mass_per_pressure * root_of_temperature / (before_the_opening or pressure)

        found, _ = quad(per_pressure, end, start, epsrel=1e-10)
        return float(found)

    return time(heat_ratio, True) / time(heat_ratio, False)


@given(HEATS, st.floats(20.0, 300.0), st.floats(0.02, 0.98))
def test_a_cold_cylinder_takes_the_share_of_the_differential_equation(heat: float, start: float, left: float) -> None:
    """Source: first law of thermodynamics for the gas that stays, any text on thermodynamics; integrated by scipy."""
    end = start * left
    found = cold_share_of_blow_down(start * BAR, end * BAR, heat)
    assert found == pytest.approx(without_heat(start, end, heat, None), rel=1e-6)
    found = cold_share_of_regulated_emptying(start * BAR, end * BAR, heat)
    assert found == pytest.approx(without_heat(start, end, heat, 10.0), rel=1e-6)


@given(st.floats(1.3, 1.667), st.floats(40.0, 300.0))
def test_cold_makes_a_cylinder_empty_sooner_not_later(heat: float, start: float) -> None:
    """Down to the 10.5 bar at which second stages stop at the surface: cold gas has less pressure for the same mass."""
    for share in (cold_share_of_blow_down, cold_share_of_regulated_emptying):
        assert share(start * BAR, 10.5 * BAR, heat) < 1.0


def test_air_without_heat_by_hand() -> None:
    """From 232 to 10.5 bar, k = 1.4: x = 0.04526; x^(6/7) = 0.07045; (2 / 2.4) (1 - 0.07045) / (1 - 0.04526) = 0.8113.

    Blow-down: ln(1 / x) = 3.0953; x^(-1/7) = 1.5561; 5 * 0.5561 / 3.0953 = 0.8983.
    """
    assert cold_share_of_regulated_emptying(232 * BAR, 10.5 * BAR, 1.4) == pytest.approx(0.8113, abs=1e-4)
    assert cold_share_of_blow_down(232 * BAR, 10.5 * BAR, 1.4) == pytest.approx(0.8983, abs=1e-4)


@pytest.mark.parametrize("share", [cold_share_of_blow_down, cold_share_of_regulated_emptying])
def test_the_first_gas_leaves_by_one_over_the_ratio_of_heats(share: Any) -> None:
    """Right at the start the pressure falls k times as fast: dp / p = k dm / m."""
    assert share(200 * BAR, 200 * BAR, 1.4) == pytest.approx(1 / 1.4)
    assert share(200 * BAR, 199.999 * BAR, 1.4) == pytest.approx(1 / 1.4, rel=1e-5)
    for start, end, heat in ((10 * BAR, 20 * BAR, 1.4), (10 * BAR, 0.0, 1.4), (20 * BAR, 10 * BAR, 1.0)):
        with pytest.raises(ValueError, match=r"empties from|ratio of heats"):
            share(start, end, heat)
