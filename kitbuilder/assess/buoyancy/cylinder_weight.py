"""Cylinders: what they hold, weigh and displace, from their stamps or a preset."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from kitbuilder.assess.figures import (
    Figure,
    Weight,
    add_component,
    difference,
    from_catalogue,
    scaled,
    source_named,
    total,
)
from kitbuilder.assess.gas.fillings import working_pressure_of
from kitbuilder.assess.gas.mixes import Mix, density_spread, mix_of
from kitbuilder.assess.scales import scale_components
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import CylinderPreset, Metal, Valve, catalogue
from kitbuilder.kit.items import Cylinder
from kitbuilder.physics.cylinder import external_volume
from kitbuilder.physics.gas import gas_density
from kitbuilder.physics.pressure import ATMOSPHERE_PA

USUAL_VALVE = "single outlet"
LEAST_SHELL_KG = 0.1
"""Taken when a cylinder is said to weigh no more than its valve, which a rule reports."""


@dataclass(frozen=True, eq=False)
class Vessel:
    """What is worked out of one cylinder. The same cylinder is one object, so that its gas can be kept."""

    cylinder: Cylinder
    metal: str
    volume: Figure
    """Water it holds [m3]."""
    working_pressure_pa: float
    empty: Weight
    """With its valve, without gas."""
    shell_mass_kg: float
    """Without valve."""
    mix: Mix
    filled_pa: float
    turn_pa: float
    reserve_pa: float
    diameter_m: float
    length_m: float


def preset_of(cylinder: Cylinder) -> CylinderPreset | None:
    """Give the catalogue's entry of a cylinder."""
    return catalogue().cylinders.get(cylinder.preset or "")


def mass_of_preset(preset: CylinderPreset) -> str:
    """Name the source of spread that is the mass of cylinders of one preset."""
    return f"mass of {preset.name}"


def missing_of(cylinder: Cylinder) -> str | None:
    """Give the key without which nothing can be worked out; None when there is enough."""
    if preset_of(cylinder):
        return None
    needed = {"metal": cylinder.metal, "volume": cylinder.volume_m3, "working_pressure": cylinder.working_pressure_pa}
    missing = next((key for key, value in needed.items() if value is None), None)
    if missing is None and cylinder.mass_kg is None and cylinder.stamped_mass_kg is None:
        return "stamped_mass"
    return missing


@lru_cache(maxsize=1024)
def work_out_vessel(cylinder: Cylinder, water: Water) -> Vessel | None:
    """Say what a cylinder is; None when `missing_of` names a key."""
    if missing_of(cylinder):
        return None
    preset = preset_of(cylinder)
    metal = catalogue().metals[cylinder.metal or (preset.metal if preset else "")]
    volume, shell = _volume(cylinder, preset), _shell_mass(cylinder, preset)
    working = working_pressure_of(cylinder) or 0.0
    filled = working if cylinder.filled_pa is None else cylinder.filled_pa
    limits = catalogue().limits
    outside = external_volume(volume.value, shell.value, metal.density.expected)
    return Vessel(
        cylinder,
        metal.name,
        volume,
        working,
        _empty(cylinder, volume, shell, metal, water),
        shell.value,
        mix_of(cylinder),
        filled,
        limits["turn"].value * filled if cylinder.turn_pa is None else cylinder.turn_pa,
        min(limits["reserve"].value, filled) if cylinder.reserve_pa is None else cylinder.reserve_pa,
        cylinder.diameter_m or (preset.diameter.value if preset else _usual_diameter(outside)),
        cylinder.length_m or (preset.length.value if preset else _usual_length(outside)),
    )


@lru_cache(maxsize=1024)
def gas_in(vessel: Vessel, pressure_pa: float, temperature_k: float, reading: str) -> Figure:
    """Give the mass of the gas at a pressure above the atmosphere [kg].

    Args:
        vessel: What holds it.
        pressure_pa: As a gauge shows it.
        temperature_k: Of the gas.
        reading: The name of the reading, such as "filling"; readings of one name are off by as much.

    Raises:
        ValueError: Outside the range of the equation of state.
    """
    absolute = pressure_pa + ATMOSPHERE_PA
    density = gas_density(*vessel.mix, absolute, temperature_k)
    step = catalogue().limits["gauge_spread"].value
    lower = max(absolute - step, ATMOSPHERE_PA)
    slope = (density - gas_density(*vessel.mix, lower, temperature_k)) / (absolute - lower) if absolute > lower else 0.0
    volume = vessel.volume
    components = {source: share * density for source, share in volume.components.items()}
    add_component(components, f"{reading} of {vessel.cylinder.tag}, gauge", step * slope * volume.value)
    add_component(components, "equation of state of the gas", density_spread(vessel.mix) * density * volume.value)
    return Figure(density * volume.value, components, "equation of state")


def surface_volume(vessel: Vessel, pressure_pa: float, reading: str) -> Figure:
    """Give the volume that a cylinder lets out at the surface, from a gauge pressure down to none [m3].

    At one temperature, that of the filling; what stays in the open cylinder is not counted.

    Args:
        vessel: What holds it.
        pressure_pa: As a gauge shows it.
        reading: The name of the reading, as for `gas_in`.

    Raises:
        ValueError: Outside the range of the equation of state.
    """
    temperature_k = filling_temperature(vessel)
    held, left = (gas_in(vessel, each, temperature_k, reading) for each in (pressure_pa, 0.0))
    outside = gas_density(*vessel.mix, ATMOSPHERE_PA, temperature_k)
    return scaled(difference(held, left, ""), 1.0 / outside, "equation of state, as much as comes out at the surface")


def pressure_of_volume(vessels: Sequence[Vessel], volume_m3: float) -> float | None:
    """Give the gauge pressure at which cylinders together let out a volume at the surface [Pa].

    Each has the same pressure, found by halving. None where they cannot hold so much at the highest pressure that is
    worked out here.

    Args:
        vessels: The cylinders.
        volume_m3: At the surface.

    Raises:
        ValueError: Outside the range of the equation of state.
    """

    def let_out(pressure_pa: float) -> float:
        return sum(surface_volume(each, pressure_pa, "").value for each in vessels)

    low, high = 0.0, HIGHEST_FILLING_PA
    if not vessels or let_out(high) < volume_m3:
        return None
    while high - low > PRESSURE_STEP_PA:
        middle = (low + high) / 2
        low, high = (middle, high) if let_out(middle) < volume_m3 else (low, middle)
    return high


HIGHEST_FILLING_PA = 300e5
"""Up to which a pressure is looked for: the highest that a kit file gives as working pressure."""
PRESSURE_STEP_PA = 1e3
"""How near a pressure is found: a hundredth of a bar."""


def filling_temperature(vessel: Vessel) -> float:
    """Give the temperature of the gas when the filling was read [K]."""
    return vessel.cylinder.temperature_k or catalogue().limits["filling"].value


def full_weight(vessel: Vessel) -> Weight:
    """Give a cylinder with its valve and its filling."""
    gas = gas_in(vessel, vessel.filled_pa, filling_temperature(vessel), "filling")
    sinking = Figure(-gas.value, {source: -share for source, share in gas.components.items()}, "")
    return Weight(
        total((vessel.empty.mass, gas), f"{vessel.empty.mass.origin}, with its gas"),
        total((vessel.empty.buoyancy, sinking), f"{vessel.empty.buoyancy.origin}, with its gas"),
    )


def empty_mass_alone(cylinder: Cylinder) -> Figure | None:
    """Give the mass of a cylinder with its valve and without gas, weighed or stamped; None where neither is known [kg].

    It needs no volume, and so is known of a cylinder of which `work_out_vessel` gives nothing.
    """
    preset = preset_of(cylinder)
    if cylinder.mass_kg is None and cylinder.stamped_mass_kg is None and preset is None:
        return None
    return _with_valve(cylinder, _shell_mass(cylinder, preset))


def _with_valve(cylinder: Cylinder, shell: Figure) -> Figure:
    valve = catalogue().valves[cylinder.valve or USUAL_VALVE]
    components = dict(shell.components)
    add_component(components, _mass_of(valve), valve.mass.spread)
    return Figure(shell.value + valve.mass.expected, components, shell.origin)


def _volume(cylinder: Cylinder, preset: CylinderPreset | None) -> Figure:
    if cylinder.volume_m3 is not None and cylinder.volume_spread_m3 is not None:
        components = {f"rated capacity of {cylinder.tag}": cylinder.volume_spread_m3}
        return Figure(cylinder.volume_m3, components, "from its rated capacity")
    if cylinder.volume_m3 is not None:
        spread = catalogue().limits["stamped_volume_spread"].value * cylinder.volume_m3
        return Figure(cylinder.volume_m3, {f"stamped volume of {cylinder.tag}": spread}, "as stamped")
    assert preset is not None
    return from_catalogue(f"volume of {preset.name}", preset.volume, f"preset {preset.name}")


def _shell_mass(cylinder: Cylinder, preset: CylinderPreset | None) -> Figure:
    """Give the mass of the metal alone: weighed less the valve, as stamped, or as the preset."""
    limits, valve = catalogue().limits, catalogue().valves[cylinder.valve or USUAL_VALVE]
    if cylinder.mass_kg is not None:
        source, half_digit = f"scale reading of {cylinder.tag}", cylinder.mass_half_digit_kg
        components = scale_components(source, cylinder.mass_kg, cylinder.mass_spread_kg, half_digit)
        add_component(components, _mass_of(valve), -valve.mass.spread)
        return Figure(max(cylinder.mass_kg - valve.mass.expected, LEAST_SHELL_KG), components, "weighed")
    if cylinder.stamped_mass_kg is not None:
        components = {f"stamped mass of {cylinder.tag}": limits["stamp_spread"].value}
        return Figure(cylinder.stamped_mass_kg, components, "as stamped")
    assert preset is not None
    return from_catalogue(mass_of_preset(preset), preset.mass, f"preset {preset.name}")


def _mass_of(valve: Valve) -> str:
    return source_named(f"mass of valve, {valve.name}", valve.mass)


def _empty(cylinder: Cylinder, volume: Figure, shell: Figure, metal: Metal, water: Water) -> Weight:
    """Give mass and buoyancy with the valve, without gas.

    It displaces what it holds, its metal and a valve of brass. Paint, a neck of another metal and a stamp that rounds
    are not known: how far printed cylinders are off from this is what the outside adds to the spread.
    """
    solid = metal.density.expected
    valve, density = catalogue().valves[cylinder.valve or USUAL_VALVE], water.density.value
    mass = _with_valve(cylinder, shell)
    outside = external_volume(volume.value, shell.value, solid) + valve.mass.expected / valve.density.value
    components = {source: share * (density / solid - 1) for source, share in shell.components.items()}
    add_component(components, _mass_of(valve), valve.mass.spread * (density / valve.density.value - 1))
    for source, share in volume.components.items():
        add_component(components, source, share * density)
    by_metal = -density * shell.value * metal.density.spread / solid**2
    add_component(components, source_named("density of the metal", metal.density), by_metal)
    # Cylinders of one preset are of one make, so that a twinset is off by twice as much.
    outside_of = f"outside of {cylinder.preset or cylinder.tag}"
    add_component(components, outside_of, density * catalogue().limits["cylinder_outside_spread"].value)
    for source, share in water.density.components.items():
        add_component(components, source, share * outside)
    origin = f"displaces its inside, its {metal.name} and a brass valve, without paint"
    return Weight(mass, Figure(density * outside - mass.value, components, origin))


def _usual_diameter(outside_m3: float) -> float:
    """Estimate the diameter of a cylinder four times as long as wide, as most are."""
    return float((outside_m3 / 3.1) ** (1 / 3))


def _usual_length(outside_m3: float) -> float:
    return 4 * _usual_diameter(outside_m3)
