"""Gas through a hose: a table, the library fluids, the differential equation, and laws."""

import importlib
import math
from types import ModuleType
from typing import Any

import fluids
import numpy as np
import pytest
from fluids.compressible import P_isothermal_critical_flow
from fluids.friction import friction_factor as library_friction_factor
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.constants import R as MOLAR_GAS_CONSTANT
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from kitbuilder.physics.pipe_flow import (
    AIR_VISCOSITY_PA_S,
    Choked,
    friction_factor,
    hose_pressure_drop,
    isothermal_outlet_pressure,
    peak_inspiratory_flow,
)
from tests.each import each

from .published import Row, half_a_digit, rows

BAR = 1e5
MM = 1e-3
LITRE_PER_MINUTE = 1e-3 / 60.0

AIR_KG_PER_MOL = 0.0289655
WARM_K = 293.15
AIR_J_PER_KG_K = MOLAR_GAS_CONSTANT / AIR_KG_PER_MOL
MINUTE_VOLUME = 62.5 * LITRE_PER_MINUTE
FLOWS = {"peak": peak_inspiratory_flow(MINUTE_VOLUME), "mean_insp": 2 * MINUTE_VOLUME, "mean": MINUTE_VOLUME}

TABLE = rows("hose_flow.tsv")


def gas_library() -> ModuleType:
    """CoolProp, loaded by the tests that ask it: it takes two seconds, and every worker reads this file."""
    return importlib.import_module("CoolProp.CoolProp")


def air_drop(**changes: float) -> float:
    """The loss of a hose of 2.1 m and 6 mm at 4 bar, at the peak of a breath, but for what is changed."""
    usual: dict[str, float] = {
        "supply_pressure_pa": 13.5 * BAR,
        "ambient_pressure_pa": 4.0 * BAR,
        "flow_m3_s": FLOWS["peak"],
        "length_m": 2.1,
        "bore_m": 6.0 * MM,
        "roughness_m": 0.0,
        "molar_mass_kg_mol": AIR_KG_PER_MOL,
        "viscosity_pa_s": AIR_VISCOSITY_PA_S,
        "temperature_k": WARM_K,
    }
    return hose_pressure_drop(**(usual | changes))


def row_drop(row: Row) -> float:
    return air_drop(
        supply_pressure_pa=float(row["supply_bar"]) * BAR,
        ambient_pressure_pa=float(row["ambient_bar"]) * BAR,
        flow_m3_s=FLOWS[row["flow"]],
        length_m=float(row["length_m"]),
        bore_m=float(row["bore_mm"]) * MM,
        roughness_m=float(row["roughness_um"]) * 1e-6,
    )


def name_of(row: Row) -> str:
    return "-".join(row[key] for key in ("ambient_bar", "flow", "length_m", "bore_mm", "roughness_um"))


def test_the_breathing_machine_of_the_standard_peaks_where_a_sine_does() -> None:
    """Source: EN 250:2014, 6.7.1, 25 breaths of 2.5 L; the slope of the sine is taken on a grid."""
    minutes = np.linspace(0.0, 1.0, 500_001)
    lungs = 2.5 / 2.0 * (1.0 - np.cos(2.0 * np.pi * 25.0 * minutes))
    steepest = float(np.gradient(lungs, minutes).max())
    assert peak_inspiratory_flow(25.0 * 2.5 * LITRE_PER_MINUTE) == pytest.approx(steepest * LITRE_PER_MINUTE, rel=1e-6)


@each("row", TABLE)
def test_a_separate_calculation_gives_the_same_loss(row: Row) -> None:
    """Source: the table beside this test; good to half its last digit."""
    assert FLOWS[row["flow"]] / LITRE_PER_MINUTE == pytest.approx(
        float(row["flow_L_per_min"]), abs=half_a_digit(row["flow_L_per_min"])
    )
    assert row_drop(row) / BAR == pytest.approx(float(row["drop_bar"]), abs=half_a_digit(row["drop_bar"]))
    relative = float(row["roughness_um"]) * 1e-3 / float(row["bore_mm"])
    assert friction_factor(float(row["reynolds"]), relative) == pytest.approx(
        float(row["friction_factor"]), abs=half_a_digit(row["friction_factor"])
    )


def test_the_table_is_whole() -> None:
    assert len(TABLE) == 83


def test_the_worked_example_of_a_public_library_comes_out() -> None:
    """Source: docstring of fluids.isothermal_gas: 11.3 kg/m3 at the inlet, 10 bar down to 9 bar, 145.48 kg/s."""
    outlet = isothermal_outlet_pressure(1e6, 145.4847572636031, 1000.0, 0.5, 0.00185, 1e6 / 11.3, 1.0)
    assert outlet == pytest.approx(9e5, rel=1e-13)


@each("reynolds", [2320.0, 2500.0, 4e3, 1e4, 4.5e4, 3e5, 1e6, 1e7, 1e8])
@each("roughness", [0.0, 1e-6, 1e-4, 1.7e-3, 0.0083, 0.05])
def test_turbulent_friction_is_that_of_a_public_library(reynolds: float, roughness: float) -> None:
    """Source: fluids.friction, good to 1e-9; and Colebrook's equation for 1 / sqrt(f), solved with scipy."""

    def colebrook(root: float) -> float:
        return root + 2.0 * math.log10(roughness / 3.7 + 2.51 / reynolds * root)

    found = friction_factor(reynolds, roughness)
    assert found == pytest.approx(library_friction_factor(reynolds, roughness), rel=1e-9)
    assert found == pytest.approx(brentq(colebrook, 1.0, 20.0, xtol=1e-15, rtol=1e-15) ** -2, rel=5e-15)


@pytest.mark.parametrize("reynolds", [1e-3, 1.0, 500.0, 2039.0])
def test_laminar_friction_is_that_of_a_public_library(reynolds: float) -> None:
    """Source: fluids.friction, which calls flow laminar up to 2040 only."""
    assert friction_factor(reynolds, 0.01) == pytest.approx(library_friction_factor(reynolds, 0.01), rel=1e-15)


def test_a_slow_flow_loses_what_hagen_and_poiseuille_say() -> None:
    """Source: 128 viscosity L Q / (pi D^4), flow counted at the pressure in the hose."""
    flow = LITRE_PER_MINUTE
    expected = 128.0 * AIR_VISCOSITY_PA_S * 2.1 * flow * 4.0 / 13.5 / (math.pi * 0.006**4)
    assert air_drop(flow_m3_s=flow) == pytest.approx(expected, rel=1e-4)


@given(
    inlet=st.floats(1e4, 3e7),
    share_left=st.floats(0.05, 0.999),
    resistance=st.floats(0.01, 500.0),
    bore=st.floats(1e-3, 1.0),
    specific=st.floats(100.0, 5000.0),
    temperature=st.floats(250.0, 350.0),
)
def test_the_flow_a_public_library_finds_between_two_pressures_leads_back_to_them(
    inlet: float, share_left: float, resistance: float, bore: float, specific: float, temperature: float
) -> None:
    """Source: fluids.isothermal_gas, given the density at the inlet, which is what its formula needs."""
    factor, outlet = 0.02, inlet * share_left
    length = resistance * bore / factor
    # Near choking the outlet pressure hangs on the last digits of the flow.
    assume(outlet > 1.02 * P_isothermal_critical_flow(inlet, factor, bore, length))
    density = inlet / (specific * temperature)
    mass_flow = fluids.isothermal_gas(density, factor, P1=inlet, P2=outlet, L=length, D=bore)
    found = isothermal_outlet_pressure(inlet, mass_flow, length, bore, factor, specific, temperature)
    assert found == pytest.approx(outlet, rel=2e-11)


@pytest.mark.parametrize("resistance", [0.1, 1.0, 7.0, 30.0, 100.0, 500.0])
def test_a_pipe_chokes_at_the_flow_a_public_library_says(resistance: float) -> None:
    """Source: fluids: lowest outlet pressure, and the flow that belongs to it."""
    bore, factor, inlet = 4.0 * MM, 0.02, 15.5 * BAR
    length = resistance * bore / factor
    lowest = P_isothermal_critical_flow(inlet, factor, bore, length)
    density = inlet / (AIR_J_PER_KG_K * WARM_K)
    most = fluids.isothermal_gas(density, factor, P1=inlet, P2=lowest * (1 + 1e-9), L=length, D=bore)

    def outlet(mass_flow: float) -> float:
        return isothermal_outlet_pressure(inlet, mass_flow, length, bore, factor, AIR_J_PER_KG_K, WARM_K)

    # At the edge the pressure goes with the root of what is missing of the flow.
    assert outlet(most * (1 - 1e-10)) == pytest.approx(lowest, abs=2e-5 * inlet)
    with pytest.raises(Choked):
        outlet(most * (1 + 1e-9))


def test_a_long_thin_hose_chokes_at_six_bar() -> None:
    """Source: header of hose_flow.tsv, with the greatest flow and the pressure at which it leaves."""
    with pytest.raises(Choked, match="does not pass a bore"):
        air_drop(supply_pressure_pa=15.5 * BAR, ambient_pressure_pa=6.0 * BAR, bore_m=4.0 * MM)
    mass_flow = FLOWS["peak"] * 6.0 * BAR / (AIR_J_PER_KG_K * WARM_K)
    factor = friction_factor(4.0 * mass_flow / (math.pi * 4.0 * MM * AIR_VISCOSITY_PA_S), 0.0)

    def outlet(flow: float) -> float:
        return isothermal_outlet_pressure(15.5 * BAR, flow, 2.1, 4.0 * MM, factor, AIR_J_PER_KG_K, WARM_K)

    assert outlet(0.0206945) > 477734.108766
    with pytest.raises(Choked):
        outlet(0.0206955)


def test_a_hose_that_would_end_below_the_pressure_around_it_is_choked_too() -> None:
    """Source: the table has 9.30 bar lost of 9.5 at 1.5 m and 6 bar; a little longer, and nothing is left."""
    at_six_bar = {"supply_pressure_pa": 15.5 * BAR, "ambient_pressure_pa": 6.0 * BAR, "bore_m": 4.0 * MM}
    assert air_drop(**at_six_bar, length_m=1.5) < 9.5 * BAR
    with pytest.raises(Choked, match="above ambient"):
        air_drop(**at_six_bar, length_m=1.51)


def integrated(row: Row, density: Any, slope: Any) -> float:
    """The loss of a table's hose by the momentum equation, with densities and their slope over the pressure."""
    supply, ambient = float(row["supply_bar"]) * BAR, float(row["ambient_bar"]) * BAR
    bore = float(row["bore_mm"]) * MM
    flux = FLOWS[row["flow"]] * density(ambient) / (math.pi / 4.0 * bore**2)
    factor = library_friction_factor(flux * bore / AIR_VISCOSITY_PA_S, float(row["roughness_um"]) * 1e-6 / bore)

    def along(_: float, pressure: Any) -> list[float]:
        here = density(pressure[0])
        friction = factor * flux**2 / (2.0 * bore * here)
        return [-friction / (1.0 - flux**2 * slope(pressure[0]) / here**2)]

    done = solve_ivp(along, (0.0, float(row["length_m"])), [supply], method="DOP853", rtol=1e-11, atol=1e-4)
    assert done.success
    return supply - float(done.y[0][-1])


@each("row", TABLE)
def test_the_loss_solves_the_momentum_equation(row: Row) -> None:
    """Source: dp (1 - G^2 (d density / dp) / density^2) = -f G^2 / (2 D density) dx, integrated with scipy."""
    warm = AIR_J_PER_KG_K * WARM_K
    expected = integrated(row, lambda pressure: pressure / warm, lambda _: 1.0 / warm)
    assert row_drop(row) == pytest.approx(expected, rel=1e-9)


@each("row", TABLE)
def test_a_real_gas_loses_as_much_within_a_few_parts_in_a_thousand(row: Row) -> None:
    """Source: the same equation with the densities of air of CoolProp (Helmholtz energy equation)."""
    coolprop = gas_library()
    state = coolprop.AbstractState("HEOS", "Air")
    state.specify_phase(coolprop.iphase_gas)

    def density(pressure: float) -> float:
        state.update(coolprop.PT_INPUTS, pressure, WARM_K)
        return float(state.rhomass())

    def slope(pressure: float) -> float:
        state.update(coolprop.PT_INPUTS, pressure, WARM_K)
        return float(state.first_partial_deriv(coolprop.iDmass, coolprop.iP, coolprop.iT))

    is_nearly_choked = float(row["outlet_bar"]) < 0.5 * float(row["supply_bar"])
    assert row_drop(row) == pytest.approx(integrated(row, density, slope), rel=7e-3 if is_nearly_choked else 3e-3)


@pytest.mark.parametrize("pressure_bar", [1.0, 4.0, 10.0, 16.0])
def test_the_viscosity_of_air_is_that_of_a_reference_library(pressure_bar: float) -> None:
    """Source: CoolProp, air; its published uncertainty is 1 % and more."""
    expected = gas_library().PropsSI("V", "P|gas", pressure_bar * BAR, "T", WARM_K, "Air")
    assert pytest.approx(expected, rel=0.011) == AIR_VISCOSITY_PA_S


HOSES = st.fixed_dictionaries(
    {
        "flow_m3_s": st.floats(1.0, 300.0).map(lambda flow: flow * LITRE_PER_MINUTE),
        "length_m": st.floats(0.1, 3.0),
        "bore_m": st.floats(3.0, 10.0).map(lambda bore: bore * MM),
        "roughness_m": st.floats(0.0, 50e-6),
    }
)
MORE = st.floats(1.01, 2.0)


def loss(hose: dict[str, float], **changes: float) -> float:
    """The loss of a hose; without end when it is choked."""
    try:
        return air_drop(**(hose | changes))
    except Choked:
        return math.inf


@given(HOSES, MORE)
def test_more_length_and_more_flow_lose_more_and_a_wider_bore_less(hose: dict[str, float], more: float) -> None:
    """Source: physics of friction."""
    here = loss(hose)
    assume(here < math.inf)
    assert loss(hose, length_m=hose["length_m"] * more) > here
    assert loss(hose, flow_m3_s=hose["flow_m3_s"] * more) > here
    assert loss(hose, bore_m=hose["bore_m"] * more) < here


@given(HOSES, st.floats(1e-6, 50e-6))
def test_a_rougher_bore_loses_more_once_the_flow_is_turbulent(hose: dict[str, float], more_m: float) -> None:
    """Source: Colebrook's equation; laminar flow does not feel the wall's roughness."""
    mass_flow = hose["flow_m3_s"] * 4.0 * BAR / (AIR_J_PER_KG_K * WARM_K)
    is_laminar = 4.0 * mass_flow / (math.pi * hose["bore_m"] * AIR_VISCOSITY_PA_S) < 2320.0
    smooth, rough = loss(hose), loss(hose, roughness_m=hose["roughness_m"] + more_m)
    assume(smooth < math.inf)
    assert rough == smooth if is_laminar else rough > smooth


@given(HOSES, st.floats(0.05, 0.95))
def test_two_hoses_in_a_row_lose_what_one_long_hose_loses(hose: dict[str, float], share: float) -> None:
    """Source: the equation integrated over a part and the rest; the second is fed with what the first leaves."""
    whole = loss(hose)
    assume(whole < 0.8 * 9.5 * BAR)
    first = loss(hose, length_m=share * hose["length_m"])
    second = loss(hose, length_m=(1.0 - share) * hose["length_m"], supply_pressure_pa=13.5 * BAR - first)
    assert first + second == pytest.approx(whole, rel=1e-10)


def test_a_hose_of_no_length_loses_nothing() -> None:
    assert air_drop(length_m=0.0) == 0.0


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("supply_pressure_pa", 4.0 * BAR),
        ("ambient_pressure_pa", 0.0),
        ("flow_m3_s", 0.0),
        ("length_m", -0.1),
        ("bore_m", 0.0),
        ("bore_m", math.nan),
        ("roughness_m", -1e-6),
        ("roughness_m", 0.4 * MM),
        ("molar_mass_kg_mol", 0.0),
        ("viscosity_pa_s", 0.0),
        ("temperature_k", 0.0),
    ],
)
def test_what_is_no_hose_or_no_gas_is_refused(name: str, value: float) -> None:
    with pytest.raises(ValueError, match=r"above zero|zero or more|lies from|does not flow") as caught:
        air_drop(**{name: value})
    assert not isinstance(caught.value, Choked)


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("ambient_pressure_pa", "an ambient pressure"),
        ("flow_m3_s", "a flow"),
        ("bore_m", "a bore"),
        ("molar_mass_kg_mol", "a molar mass"),
        ("viscosity_pa_s", "a viscosity"),
        ("temperature_k", "a temperature"),
    ],
)
def test_a_refusal_names_what_was_given(name: str, says: str) -> None:
    """And not a number that is made from it, such as the Reynolds number, which the caller never gave."""
    with pytest.raises(ValueError, match=f"^{says} is above zero, not -1"):
        air_drop(**{name: -1.0})


@pytest.mark.parametrize("place", range(7))
def test_what_is_no_pipe_is_refused(place: int) -> None:
    arguments = [1e6, 0.01, 1.0, 0.006, 0.02, 287.0, 293.0]
    arguments[place] = -1.0
    with pytest.raises(ValueError, match=r"above zero|zero or more"):
        isothermal_outlet_pressure(*arguments)


def test_no_flow_has_no_peak_and_no_friction() -> None:
    with pytest.raises(ValueError, match="above zero"):
        peak_inspiratory_flow(0.0)
    with pytest.raises(ValueError, match="above zero"):
        friction_factor(0.0, 0.0)
