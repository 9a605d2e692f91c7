"""How long it takes until a burst hose has emptied a cylinder: an estimate, with its assumptions."""

from collections.abc import Callable, Sequence

from kitbuilder.assess.buoyancy.cylinder_weight import Mix, Vessel, filling_temperature
from kitbuilder.assess.figures import Range
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.physics.gas import ARGON_KG_PER_MOL, HELIUM_KG_PER_MOL, NITROGEN_KG_PER_MOL, OXYGEN_KG_PER_MOL
from kitbuilder.physics.orifice import choked_blow_down_time, critical_pressure_ratio, regulated_emptying_time
from kitbuilder.physics.pressure import ATMOSPHERE_PA
from kitbuilder.physics.spread import root_sum_square

PAIRED_HEAT, LONE_HEAT = 3.5, 2.5
"""Heat at constant pressure of a gas of two atoms and of one, over the gas constant: kinetic theory of gases."""


def time_to_empty(service: str, bore_m: float, vessels: Sequence[Vessel], ambient_pa: float) -> Range:
    """Give the time until second stages stop giving gas [s]: a hose torn off at its first stage, the valve left open.

    Args:
        service: "LP" or "HP", of the port.
        bore_m: Inner diameter of the hose.
        vessels: The cylinders that drain together, one at least; filled as the kit says.
        ambient_pa: Absolute pressure around the diver.
    """
    limits = catalogue().limits
    section = limits["hp_burst_orifice" if service == "HP" else "lp_burst_section"]
    time = _hp_time if service == "HP" else _lp_time

    def with_opening(diameter_m: float, discharge: float, intermediate_pa: float) -> float:
        return time(vessels, ambient_pa, intermediate_pa, min(diameter_m, bore_m), discharge)

    return _range_of(with_opening, (section, limits["burst_discharge"], limits["intermediate"]))


def molar_mass(mix: Mix) -> float:
    """Give the molar mass of a gas [kg/mol]."""
    return (
        mix.nitrogen * NITROGEN_KG_PER_MOL
        + mix.oxygen * OXYGEN_KG_PER_MOL
        + mix.helium * HELIUM_KG_PER_MOL
        + mix.argon * ARGON_KG_PER_MOL
    )


def heat_ratio(mix: Mix) -> float:
    """Give the ratio of the heats of a thin gas: 1.4 for air and nitrox, more with helium [1]."""
    heat = PAIRED_HEAT * (mix.nitrogen + mix.oxygen) + LONE_HEAT * (mix.helium + mix.argon)
    return heat / (heat - 1.0)


def _lp_time(
    vessels: Sequence[Vessel], ambient_pa: float, intermediate_pa: float, diameter_m: float, discharge: float
) -> float:
    """Work out the time while the first stage holds the pressure before the opening to the end."""
    volume, start = _together(vessels)
    end = ambient_pa + intermediate_pa
    if start <= end:
        return 0.0
    mix = vessels[0].mix
    return regulated_emptying_time(
        volume_m3=volume,
        start_pressure_pa=start,
        end_pressure_pa=end,
        regulated_pressure_pa=end,
        downstream_pressure_pa=ambient_pa,
        temperature_k=filling_temperature(vessels[0]),
        molar_mass_kg_mol=molar_mass(mix),
        heat_ratio=heat_ratio(mix),
        diameter_m=diameter_m,
        discharge=discharge,
    )


def _hp_time(
    vessels: Sequence[Vessel], ambient_pa: float, intermediate_pa: float, diameter_m: float, discharge: float
) -> float:
    """Work out the time while the cylinder's own pressure drives the gas out."""
    volume, start = _together(vessels)
    mix = vessels[0].mix
    ratio = heat_ratio(mix)
    # Deeper than about 80 m the flow is no longer choked for the last bar or two, which are left out.
    end = max(ambient_pa + intermediate_pa, ambient_pa / critical_pressure_ratio(ratio))
    if start <= end:
        return 0.0
    return choked_blow_down_time(
        volume_m3=volume,
        start_pressure_pa=start,
        end_pressure_pa=end,
        downstream_pressure_pa=ambient_pa,
        temperature_k=filling_temperature(vessels[0]),
        molar_mass_kg_mol=molar_mass(mix),
        heat_ratio=ratio,
        diameter_m=diameter_m,
        discharge=discharge,
    )


def _together(vessels: Sequence[Vessel]) -> tuple[float, float]:
    """Give volume [m3] and absolute pressure [Pa] of joined cylinders: they even out before anything else."""
    volume = sum(vessel.volume.value for vessel in vessels)
    held = sum(vessel.volume.value * vessel.filled_pa for vessel in vessels)
    return volume, held / volume + ATMOSPHERE_PA


def _range_of(time: Callable[..., float], inputs: tuple[Value, ...]) -> Range:
    """Give a time that falls as any of its inputs grows, with the ends that their ranges allow; none is negative."""
    middle = [each.value for each in inputs]
    value = time(*middle)
    shorter, longer = [], []
    for place, each in enumerate(inputs):
        before, after = middle[:place], middle[place + 1 :]
        shorter.append(value - time(*before, each.high, *after))
        longer.append(time(*before, each.low, *after) - value)
    # The inputs are independent of each other, so that their effects combine by root sum of squares.
    return Range(value, max(value - root_sum_square(shorter), 0.0), value + root_sum_square(longer))
