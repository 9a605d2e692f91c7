"""Gas that leaves through a small opening: mass flow, and how long a vessel takes to empty that way.

The gas is ideal and its flow to the narrowest place frictionless and adiabatic; a coefficient of discharge stands for
all that is not so. Left out are the hose behind the opening and a first stage that cannot follow. A cylinder that
empties within minutes cools by tens of kelvin. Cold gas has less pressure, so the cylinder is empty sooner: the two
shares at the end of this module say how much sooner at most.
"""

import math

MOLAR_GAS_CONSTANT = 8.314462618
"""J/(mol K), exact since 2019, cut after ten digits (CODATA 2018)."""


def critical_pressure_ratio(heat_ratio: float) -> float:
    """Give the pressure behind an opening, over that before it, at which the flow chokes.

    Args:
        heat_ratio: ratio of the heats at constant pressure and at constant volume, above 1; air 1.4 [1].

    Returns:
        Pressure ratio, below 1 [1].

    Raises:
        ValueError: a ratio of heats that is not above 1.

    Valid: an ideal gas of constant heats.

    Source: API RP 520 part I, critical flow pressure: (2 / (k + 1))^(k / (k - 1)), from memory; also in the
    documentation of fluids 1.3.1, `P_critical_flow`.
    """
    _demand_heat_ratio(heat_ratio)
    return float((2.0 / (heat_ratio + 1.0)) ** (heat_ratio / (heat_ratio - 1.0)))


def orifice_mass_flow(
    upstream_pressure_pa: float,
    downstream_pressure_pa: float,
    temperature_k: float,
    molar_mass_kg_mol: float,
    heat_ratio: float,
    diameter_m: float,
    discharge: float,
) -> float:
    """Give the mass flow of a gas through a round opening, choked or not.

    Args:
        upstream_pressure_pa: absolute pressure before the opening [Pa].
        downstream_pressure_pa: absolute pressure behind it, 0 to that before it [Pa].
        temperature_k: temperature of the gas at rest before the opening [K].
        molar_mass_kg_mol: molar mass of the gas [kg/mol].
        heat_ratio: ratio of the heats at constant pressure and at constant volume, above 1; air 1.4 [1].
        diameter_m: diameter of the opening [m].
        discharge: coefficient of discharge: real flow over that of a frictionless nozzle, above 0 to 1 [1].

    Returns:
        Mass flow [kg/s].

    Raises:
        ValueError: a pressure behind the opening outside its range, a ratio of heats that is not above 1, a coefficient
            of discharge outside its range, or another argument that is not above 0.

    Valid: an ideal gas of constant heats, steady flow from a vessel that is wide against the opening. A real gas of up
    to 232 bar is off by several per cent, which is little beside the coefficient of discharge.

    Source: gas dynamics, isentropic flow through a converging nozzle, from memory; API RP 520 part I has the same as
    sizing equations for critical and subcritical flow.
    """
    _demand_above_zero("a pressure before an opening", upstream_pressure_pa)
    if not 0.0 <= downstream_pressure_pa <= upstream_pressure_pa:
        raise ValueError(
            f"a pressure behind an opening lies from 0 to the {upstream_pressure_pa} Pa before it, "
            f"not {downstream_pressure_pa}"
        )
    opening = _flowing_area(diameter_m, discharge)
    speed = _thermal_speed(temperature_k, molar_mass_kg_mol)
    ratio = max(downstream_pressure_pa / upstream_pressure_pa, critical_pressure_ratio(heat_ratio))
    return opening * upstream_pressure_pa / speed * _flow_number(ratio, heat_ratio)


def choked_blow_down_time(
    volume_m3: float,
    start_pressure_pa: float,
    end_pressure_pa: float,
    downstream_pressure_pa: float,
    temperature_k: float,
    molar_mass_kg_mol: float,
    heat_ratio: float,
    diameter_m: float,
    discharge: float,
) -> float:
    """Give the time in which a vessel empties from one pressure to another, at one temperature and choked throughout.

    The flow goes with the pressure that is left, so the pressure falls by the same share in equal times.

    Args:
        volume_m3: volume of the vessel [m3].
        start_pressure_pa: absolute pressure in it before [Pa].
        end_pressure_pa: absolute pressure in it after; not above that before [Pa].
        downstream_pressure_pa: absolute pressure behind the opening [Pa].
        temperature_k: temperature of the gas, kept by the walls [K].
        molar_mass_kg_mol: molar mass of the gas [kg/mol].
        heat_ratio: ratio of the heats at constant pressure and at constant volume, above 1; air 1.4 [1].
        diameter_m: diameter of the opening [m].
        discharge: coefficient of discharge, above 0 to 1 [1].

    Returns:
        Time [s].

    Raises:
        ValueError: pressures that rise, a flow that would not be choked to the end, or an argument outside its range as
            in `orifice_mass_flow`.

    Valid: an ideal gas that stays at one temperature: slow emptying. Emptied within minutes it grows cold and takes the
    share of this time that lies between `cold_share_of_blow_down` and 1.

    Source: derived from the choked flow of `orifice_mass_flow` and dm = V M / (R T) dp; any text on gas dynamics has it
    as the isothermal blow-down of a vessel.
    """
    _demand_above_zero("a volume", volume_m3)
    _demand_falling(start_pressure_pa, end_pressure_pa)
    critical = critical_pressure_ratio(heat_ratio)
    # The last digit of a pressure that was worked out to lie just on the edge does not matter.
    if not 0.0 <= downstream_pressure_pa <= end_pressure_pa * critical * (1.0 + 1e-12):
        raise ValueError(
            f"the flow is choked to the end while the pressure behind it lies from 0 to {end_pressure_pa * critical} "
            f"Pa, not at {downstream_pressure_pa}"
        )
    opening = _flowing_area(diameter_m, discharge)
    speed = _thermal_speed(temperature_k, molar_mass_kg_mol)
    rate = opening * speed / volume_m3 * _flow_number(critical, heat_ratio)
    return math.log(start_pressure_pa / end_pressure_pa) / rate


def regulated_emptying_time(
    volume_m3: float,
    start_pressure_pa: float,
    end_pressure_pa: float,
    regulated_pressure_pa: float,
    downstream_pressure_pa: float,
    temperature_k: float,
    molar_mass_kg_mol: float,
    heat_ratio: float,
    diameter_m: float,
    discharge: float,
) -> float:
    """Give the time in which a vessel empties through an opening behind a valve that holds one pressure before it.

    Args:
        volume_m3: volume of the vessel [m3].
        start_pressure_pa: absolute pressure in it before [Pa].
        end_pressure_pa: absolute pressure in it after; from that which the valve holds to that before [Pa].
        regulated_pressure_pa: absolute pressure that the valve holds before the opening [Pa].
        downstream_pressure_pa: absolute pressure behind the opening, 0 to that before it [Pa].
        temperature_k: temperature of the gas, in the vessel and before the opening [K].
        molar_mass_kg_mol: molar mass of the gas [kg/mol].
        heat_ratio: ratio of the heats at constant pressure and at constant volume, above 1; air 1.4 [1].
        diameter_m: diameter of the opening [m].
        discharge: coefficient of discharge, above 0 to 1 [1].

    Returns:
        Time [s].

    Raises:
        ValueError: pressures that rise, an end below what the valve holds, or an argument outside its range as in
            `orifice_mass_flow`.

    Valid: an ideal gas at one temperature, and a valve that follows whatever the flow; one that cannot makes it slower.
    A cylinder that grows cold takes the share of this time that lies between `cold_share_of_regulated_emptying` and 1.

    Source: derived: gas that leaves, V M / (R T) times the fall in pressure, over the flow of `orifice_mass_flow`.
    """
    _demand_above_zero("a volume", volume_m3)
    _demand_falling(start_pressure_pa, end_pressure_pa)
    if not end_pressure_pa >= regulated_pressure_pa:
        raise ValueError(
            f"a valve holds {regulated_pressure_pa} Pa no longer than there are as many, not {end_pressure_pa}"
        )
    flow = orifice_mass_flow(
        regulated_pressure_pa,
        downstream_pressure_pa,
        temperature_k,
        molar_mass_kg_mol,
        heat_ratio,
        diameter_m,
        discharge,
    )
    if not flow > 0.0:
        raise ValueError(f"nothing flows from {regulated_pressure_pa} to {downstream_pressure_pa} Pa")
    leaves = volume_m3 * (start_pressure_pa - end_pressure_pa) / _thermal_speed(temperature_k, molar_mass_kg_mol) ** 2
    return leaves / flow


def cold_share_of_blow_down(start_pressure_pa: float, end_pressure_pa: float, heat_ratio: float) -> float:
    """Give the time of a choked blow-down without any heat from the walls, over that at one temperature.

    With x = end / start, (2 / (k - 1)) (x^(-(k - 1) / (2 k)) - 1) / ln(1 / x).

    Args:
        start_pressure_pa: absolute pressure before [Pa].
        end_pressure_pa: absolute pressure after; not above that before [Pa].
        heat_ratio: ratio of the heats at constant pressure and at constant volume, above 1; air 1.4 [1].

    Returns:
        Share of `choked_blow_down_time` [1]. Below 1 while more than about a hundredth of the pressure is left.

    Raises:
        ValueError: pressures that rise, or a ratio of heats that is not above 1.

    Valid: an ideal gas of constant heats. Real walls give off heat, so that a real cylinder lies between this and 1.

    Source: derived: the gas that is left expands with p V^k constant and T with p^((k - 1) / k), and leaves by the
    choked flow of `orifice_mass_flow`.
    """
    _demand_falling(start_pressure_pa, end_pressure_pa)
    _demand_heat_ratio(heat_ratio)
    fall = math.log(start_pressure_pa / end_pressure_pa)
    if not fall > 0.0:
        return 1.0 / heat_ratio
    return 2.0 / (heat_ratio - 1.0) * math.expm1(fall * (heat_ratio - 1.0) / (2.0 * heat_ratio)) / fall


def cold_share_of_regulated_emptying(start_pressure_pa: float, end_pressure_pa: float, heat_ratio: float) -> float:
    """Give the time of an emptying behind a valve without any heat from the walls, over that at one temperature.

    With x = end / start, (2 / (k + 1)) (1 - x^((k + 1) / (2 k))) / (1 - x).

    Args:
        start_pressure_pa: absolute pressure before [Pa].
        end_pressure_pa: absolute pressure after; not above that before [Pa].
        heat_ratio: ratio of the heats at constant pressure and at constant volume, above 1; air 1.4 [1].

    Returns:
        Share of `regulated_emptying_time`, below 1 [1].

    Raises:
        ValueError: pressures that rise, or a ratio of heats that is not above 1.

    Valid: an ideal gas of constant heats that is as cold before the opening as in the vessel. Real walls give off heat,
    so that a real cylinder lies between this and 1.

    Source: derived: as `cold_share_of_blow_down`, with the pressure before the opening held.
    """
    _demand_falling(start_pressure_pa, end_pressure_pa)
    _demand_heat_ratio(heat_ratio)
    fall = math.log(start_pressure_pa / end_pressure_pa)
    if not fall > 0.0:
        return 1.0 / heat_ratio
    exponent = (heat_ratio + 1.0) / (2.0 * heat_ratio)
    return 2.0 / (heat_ratio + 1.0) * math.expm1(-fall * exponent) / math.expm1(-fall)


def _flow_number(ratio: float, heat_ratio: float) -> float:
    """Give the flow per area over pressure before the opening, in units of 1 / sqrt(R T), at a ratio of pressures."""
    bracket = ratio ** (2.0 / heat_ratio) - ratio ** ((heat_ratio + 1.0) / heat_ratio)
    # Only rounding can leave the bracket below zero, where the two pressures are nearly equal.
    return math.sqrt(2.0 * heat_ratio / (heat_ratio - 1.0) * max(bracket, 0.0))


def _thermal_speed(temperature_k: float, molar_mass_kg_mol: float) -> float:
    """Give the root of R T [m/s], with R that of the gas."""
    _demand_above_zero("a temperature", temperature_k)
    _demand_above_zero("a molar mass", molar_mass_kg_mol)
    return math.sqrt(MOLAR_GAS_CONSTANT / molar_mass_kg_mol * temperature_k)


def _flowing_area(diameter_m: float, discharge: float) -> float:
    """Give the area of the opening times its coefficient of discharge [m2]."""
    _demand_above_zero("a diameter", diameter_m)
    if not 0.0 < discharge <= 1.0:
        raise ValueError(f"a coefficient of discharge lies above 0 and up to 1, not {discharge}")
    return discharge * math.pi / 4.0 * diameter_m * diameter_m


def _demand_falling(start_pa: float, end_pa: float) -> None:
    if not 0.0 < end_pa <= start_pa:
        raise ValueError(
            f"a vessel empties from a pressure to one above zero and not above it, not {start_pa} to {end_pa} Pa"
        )


def _demand_heat_ratio(heat_ratio: float) -> None:
    if not heat_ratio > 1.0:
        raise ValueError(f"a ratio of heats is above 1, not {heat_ratio}")


def _demand_above_zero(what: str, value: float) -> None:
    if not value > 0.0:
        raise ValueError(f"{what} is above zero, not {value}")
