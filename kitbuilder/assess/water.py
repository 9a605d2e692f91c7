"""The water that a kit is used in, and its density."""

from dataclasses import dataclass
from functools import lru_cache

from kitbuilder.assess.figures import Figure, source_named
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Header
from kitbuilder.physics.water import seawater_density

USUAL_WATER = "ocean"
"""The preset when the kit does not say."""

MEASURED_DENSITY_SPREAD_KG_M3 = 0.5
"""A hydrometer is read to half a division. Common practice, no source."""


@dataclass(frozen=True, eq=False)
class Water:
    """The water and its density [kg/m3]. The same water is one object, so that figures in it can be kept."""

    name: str
    density: Figure
    temperature_k: float


def assess_water(header: Header) -> Water:
    """Give the density of a kit's water: as measured, else from salinity and temperature, the kit's or the preset's."""
    return _water(header.water or USUAL_WATER, header.salinity_kg_per_kg, header.temperature_k, header.density_kg_m3)


def water_named(name: str) -> Water:
    """Give a water of the catalogue, as its preset has it."""
    return _water(name, None, None, None)


@lru_cache(maxsize=256)
def _water(
    name: str, salinity_kg_per_kg: float | None, temperature_k: float | None, density_kg_m3: float | None
) -> Water:
    preset = catalogue().waters[name]
    if density_kg_m3 is not None:
        spread = {"measured density of the water": MEASURED_DENSITY_SPREAD_KG_M3}
        temperature = _stated(temperature_k, preset.temperature)
        return Water(name, Figure(density_kg_m3, spread, "measured, as the kit file says"), temperature.value)
    salinity = _stated(salinity_kg_per_kg, preset.salinity)
    temperature = _stated(temperature_k, preset.temperature)
    return Water(name, _density(name, salinity, temperature), temperature.value)


def _stated(value: float | None, preset: Value) -> Value:
    return preset if value is None else Value(value, value, value, "as the kit file says")


def _density(name: str, salinity: Value, temperature: Value) -> Figure:
    mean_salinity, mean_temperature = salinity.expected, temperature.expected
    density = seawater_density(mean_salinity, mean_temperature)
    saltier = seawater_density(salinity.high, mean_temperature) - seawater_density(salinity.low, mean_temperature)
    warmer = seawater_density(mean_salinity, temperature.high) - seawater_density(mean_salinity, temperature.low)
    # By the name of the water: what is not known of the sea is not what is not known of the lake.
    components = {
        source_named(f"salinity of {name} water", salinity): _per_range(saltier, salinity),
        source_named(f"temperature of {name} water", temperature): _per_range(warmer, temperature),
    }
    return Figure(density, components, "EOS-80 from salinity and temperature")


def _per_range(change: float, value: Value) -> float:
    """Give what a value adds to the spread when the figure changes by so much from its low to its high end."""
    return change * value.spread / (value.high - value.low) if value.high > value.low else 0.0
