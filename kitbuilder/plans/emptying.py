"""How long it takes until a burst hose has emptied a cylinder: an estimate, with its assumptions."""

from collections.abc import Sequence

from kitbuilder.assess.buoyancy.cylinder_weight import Vessel, filling_temperature
from kitbuilder.assess.combined_range import combined_range
from kitbuilder.assess.figures import Range
from kitbuilder.assess.gas.mixes import heat_ratio, molar_mass
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.physics.orifice import (
    choked_blow_down_time,
    cold_share_of_blow_down,
    cold_share_of_regulated_emptying,
    critical_pressure_ratio,
    regulated_emptying_time,
)
from kitbuilder.physics.pressure import ATMOSPHERE_PA

COLD = Value(0.0, 0.0, 1.0, "derived from the ends: walls that keep the gas warm, and walls that give off no heat")
"""How much of the cooling takes place that expanding gas has by itself. A cold cylinder is empty sooner."""


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

    def with_opening(diameter_m: float, discharge: float, intermediate_pa: float, cold: float) -> float:
        warm, cold_share = time(vessels, ambient_pa, intermediate_pa, min(diameter_m, bore_m), discharge)
        return warm * (1.0 - cold * (1.0 - cold_share))

    return combined_range(with_opening, (section, limits["burst_discharge"], limits["intermediate"], COLD))


def _lp_time(
    vessels: Sequence[Vessel], ambient_pa: float, intermediate_pa: float, diameter_m: float, discharge: float
) -> tuple[float, float]:
    """Work out the time while the first stage holds the pressure to the end; and the share of it that cold leaves."""
    volume, start = _together(vessels)
    end = ambient_pa + intermediate_pa
    if start <= end:
        return 0.0, 1.0
    mix = vessels[0].mix
    time = regulated_emptying_time(
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
    return time, cold_share_of_regulated_emptying(start, end, heat_ratio(mix))


def _hp_time(
    vessels: Sequence[Vessel], ambient_pa: float, intermediate_pa: float, diameter_m: float, discharge: float
) -> tuple[float, float]:
    """Work out the time while the cylinder's own pressure drives the gas out; and the share of it that cold leaves."""
    volume, start = _together(vessels)
    mix = vessels[0].mix
    ratio = heat_ratio(mix)
    # Deeper than about 80 m the flow is no longer choked for the last bar or two, which are left out.
    end = max(ambient_pa + intermediate_pa, ambient_pa / critical_pressure_ratio(ratio))
    if start <= end:
        return 0.0, 1.0
    time = choked_blow_down_time(
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
    return time, cold_share_of_blow_down(start, end, ratio)


def _together(vessels: Sequence[Vessel]) -> tuple[float, float]:
    """Give volume [m3] and absolute pressure [Pa] of joined cylinders: they even out before anything else."""
    volume = sum(vessel.volume.value for vessel in vessels)
    held = sum(vessel.volume.value * vessel.filled_pa for vessel in vessels)
    return volume, held / volume + ATMOSPHERE_PA
