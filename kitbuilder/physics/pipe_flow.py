"""Pressure lost by gas that flows through a hose: steady, isothermal, compressible flow in a straight round pipe.

Left out are end fittings, bends, swelling under pressure, the gas that must be set going at each breath, and warming
or cooling on the way. The gas is ideal: for air of up to 16 bar that puts the loss off by at most 0.3 %, close to
choking by 0.7 % (measured against the densities of a real gas).
"""

import math
from collections.abc import Callable

MOLAR_GAS_CONSTANT = 8.314462618
"""J/(mol K), exact since 2019, cut after ten digits (CODATA 2018)."""
AIR_VISCOSITY_PA_S = 1.825e-5
"""Air at 293.15 K, 1 to 16 bar: value from memory; within 1.1 % of CoolProp 8.0.0 over that range."""

LARGEST_LAMINAR_REYNOLDS = 2320.0
"""Flow in a pipe is taken as laminar below this."""
LARGEST_RELATIVE_ROUGHNESS = 0.05
"""Where the charts of the friction factor end."""

MOST_STEPS = 200
"""Far more than Newton's method takes: a dozen at most, at the edge of choking about 30."""


class Choked(ValueError):
    """A pipe that cannot pass the flow asked of it, however low the pressure at its outlet."""


def peak_inspiratory_flow(minute_volume_m3_s: float) -> float:
    """Give the greatest flow while breathing in, when breathing is a sine.

    Args:
        minute_volume_m3_s: gas breathed in over a long time, divided by that time [m3/s].

    Returns:
        Peak flow, at the pressure at which the minute volume is counted [m3/s].

    Raises:
        ValueError: a minute volume that is not above 0.

    Valid: sinusoidal breathing, as of the breathing machine: 62.5 L/min, 25 breaths of 2.5 L at 6 bar.

    Source: EN 250:2014, 6.7.1 (breathing); calculus (largest slope of a sine).
    """
    _demand_above_zero("a minute volume", minute_volume_m3_s)
    return math.pi * minute_volume_m3_s


def friction_factor(reynolds: float, relative_roughness: float) -> float:
    """Give the friction factor after Darcy, four times that after Fanning.

    Args:
        reynolds: Reynolds number of the pipe [1].
        relative_roughness: height of the roughness over the bore, 0 to 0.05 [1].

    Returns:
        Darcy friction factor [1].

    Raises:
        ValueError: a Reynolds number that is not above 0, or a roughness outside its range.

    Valid: round pipes. Between 2320 and about 4000 real flow is neither laminar nor steady; the turbulent value given
    there is the greater one.

    Source: Hagen and Poiseuille's law, 64 / Re, below 2320; above, Journal of the Institution of Civil Engineers 11
    (1939) 133: 1 / sqrt(f) = -2 lg(roughness / 3.7 + 2.51 / (Re sqrt(f))).
    """
    _demand_above_zero("a Reynolds number", reynolds)
    if not 0.0 <= relative_roughness <= LARGEST_RELATIVE_ROUGHNESS:
        raise ValueError(
            f"a relative roughness lies from 0 to {LARGEST_RELATIVE_ROUGHNESS:g}, not {relative_roughness}"
        )
    if reynolds < LARGEST_LAMINAR_REYNOLDS:
        return 64.0 / reynolds

    # Solved for 1/sqrt(f): written so, the equation rises and bends downwards, as `_root_above` requires.
    def colebrook(root: float) -> tuple[float, float]:
        inner = relative_roughness / 3.7 + 2.51 / reynolds * root
        return root + 2.0 * math.log10(inner), 1.0 + 2.0 / math.log(10.0) * 2.51 / reynolds / inner

    return _root_above(1.0, colebrook) ** -2


def isothermal_outlet_pressure(
    inlet_pressure_pa: float,
    mass_flow_kg_s: float,
    length_m: float,
    bore_m: float,
    friction_factor: float,
    gas_constant_j_kg_k: float,
    temperature_k: float,
) -> float:
    """Give the pressure at the end of a pipe through which an ideal gas flows at one temperature.

    With G the mass flow over the cross-section, P1^2 - P2^2 = G^2 R T (f L / D + 2 ln(P1 / P2)).

    Args:
        inlet_pressure_pa: absolute pressure at the inlet [Pa].
        mass_flow_kg_s: mass flow [kg/s].
        length_m: length, 0 or more [m].
        bore_m: inside diameter [m].
        friction_factor: Darcy friction factor, the same all along, 0 or more [1].
        gas_constant_j_kg_k: specific gas constant, that of moles over the molar mass [J/(kg K)].
        temperature_k: temperature [K].

    Returns:
        Absolute pressure at the outlet [Pa].

    Raises:
        Choked: no outlet pressure, however low, draws this flow.
        ValueError: a negative length or friction factor, or another argument that is not above 0.

    Valid: steady flow in a level pipe of constant bore, up to the outlet speed sqrt(R T) at which it chokes.

    Source: Chemical engineering, vol. 1, 6th ed. (1999), 4.5.2, isothermal flow of an ideal gas in a horizontal pipe,
    from memory; also in the documentation of fluids 1.3.1, `isothermal_gas`.
    """
    share = _lost_share(
        inlet_pressure_pa, mass_flow_kg_s, length_m, bore_m, friction_factor, gas_constant_j_kg_k, temperature_k
    )
    return inlet_pressure_pa * (1.0 - share)


def hose_pressure_drop(
    supply_pressure_pa: float,
    ambient_pressure_pa: float,
    flow_m3_s: float,
    length_m: float,
    bore_m: float,
    roughness_m: float,
    molar_mass_kg_mol: float,
    viscosity_pa_s: float,
    temperature_k: float,
) -> float:
    """Give the pressure lost along a hose at a steady flow of gas.

    Args:
        supply_pressure_pa: absolute pressure at the inlet of the hose, while it flows [Pa].
        ambient_pressure_pa: absolute pressure around the diver, below that of the supply [Pa].
        flow_m3_s: flow, counted at ambient pressure [m3/s].
        length_m: length of the bore, 0 or more [m].
        bore_m: inside diameter [m].
        roughness_m: height of the roughness of the bore, 0 to 0.05 bores [m].
        molar_mass_kg_mol: molar mass of the gas [kg/mol].
        viscosity_pa_s: dynamic viscosity of the gas; for air `AIR_VISCOSITY_PA_S` [Pa s].
        temperature_k: temperature of the gas [K].

    Returns:
        Pressure at the inlet minus pressure at the outlet [Pa].

    Raises:
        Choked: the hose cannot pass this flow into this ambient pressure.
        ValueError: a negative length or roughness, a roughness above 0.05 bores, an ambient pressure that is not below
            that of the supply, or another argument that is not above 0.

    Valid: a straight hose without its end fittings; for what is left out see the top of this module.

    Source: the sources of `isothermal_outlet_pressure` and `friction_factor`; Reynolds number 4 m / (pi D viscosity).
    """
    _demand_above_zero("an ambient pressure", ambient_pressure_pa)
    if not supply_pressure_pa > ambient_pressure_pa:
        raise ValueError(
            f"a supply of {supply_pressure_pa} Pa does not flow against {ambient_pressure_pa} Pa around it"
        )
    _demand_above_zero("a flow", flow_m3_s)
    _demand_above_zero("a bore", bore_m)
    _demand_above_zero("a molar mass", molar_mass_kg_mol)
    _demand_above_zero("a viscosity", viscosity_pa_s)
    _demand_above_zero("a temperature", temperature_k)
    gas_constant = MOLAR_GAS_CONSTANT / molar_mass_kg_mol
    mass_flow = flow_m3_s * ambient_pressure_pa / (gas_constant * temperature_k)
    reynolds = 4.0 * mass_flow / (math.pi * bore_m * viscosity_pa_s)
    friction = friction_factor(reynolds, roughness_m / bore_m)
    share = _lost_share(supply_pressure_pa, mass_flow, length_m, bore_m, friction, gas_constant, temperature_k)
    drop_pa = supply_pressure_pa * share
    if not drop_pa < supply_pressure_pa - ambient_pressure_pa:
        raise Choked(f"{flow_m3_s} m3/s would lose {drop_pa} Pa in the hose, more than the supply is above ambient")
    return drop_pa


def _lost_share(
    inlet_pressure_pa: float,
    mass_flow_kg_s: float,
    length_m: float,
    bore_m: float,
    friction: float,
    gas_constant_j_kg_k: float,
    temperature_k: float,
) -> float:
    """Give the part of the inlet pressure that is lost; computed apart, so that a small loss keeps its digits."""
    _demand_above_zero("an inlet pressure", inlet_pressure_pa)
    _demand_above_zero("a mass flow", mass_flow_kg_s)
    _demand_above_zero("a bore", bore_m)
    _demand_above_zero("a gas constant", gas_constant_j_kg_k)
    _demand_above_zero("a temperature", temperature_k)
    if not length_m >= 0.0:
        raise ValueError(f"a length is zero or more, not {length_m}")
    if not friction >= 0.0:
        raise ValueError(f"a friction factor is zero or more, not {friction}")
    flux = mass_flow_kg_s / (math.pi / 4.0 * bore_m * bore_m)
    # Speed at the inlet over that at which the flow chokes, and the same squared.
    speed = flux * math.sqrt(gas_constant_j_kg_k * temperature_k) / inlet_pressure_pa
    square = speed * speed
    resistance = friction * length_m / bore_m

    def balance(share: float) -> tuple[float, float]:
        left = 1.0 - share
        excess = share * (2.0 - share) - square * (resistance - 2.0 * math.log1p(-share))
        return excess, 2.0 * left - 2.0 * square / left

    # The balance rises up to the share at which the flow chokes; if it is still below zero there, it never gets to it.
    if not (speed < 1.0 and balance(1.0 - speed)[0] >= 0.0):
        raise Choked(
            f"{mass_flow_kg_s} kg/s does not pass a bore of {bore_m} m over {length_m} m from {inlet_pressure_pa} Pa"
        )
    # Rounding may carry the root past the share at which the flow chokes.
    return min(_root_above(0.0, balance), 1.0 - speed)


def _root_above(start: float, value_and_slope: Callable[[float], tuple[float, float]]) -> float:
    """Give the root of a function that is negative at the start, rises to its root and bends downwards.

    There a tangent lies above the function, so a step of Newton's method never passes the root: the start and the
    root are the bracket, and the search ends when rounding stops its climb.
    """
    place = start
    for _ in range(MOST_STEPS):
        value, slope = value_and_slope(place)
        if not slope > 0.0:
            break
        further = place - value / slope
        # From below, Newton's steps never pass the root of such a function: one that does not rise is rounding.
        if not further > place:
            break
        place = further
    return place


def _demand_above_zero(what: str, value: float) -> None:
    if not value > 0.0:
        raise ValueError(f"{what} is above zero, not {value}")
