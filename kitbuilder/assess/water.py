"""The water a kit is dived in, and its density."""

from dataclasses import dataclass

from kitbuilder.assess.figures import Figure
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.things import Header
from kitbuilder.physics.water import seawater_density

USUAL_WATER = "ocean"
"""The preset when the kit does not say."""

MEASURED_DENSITY_SPREAD_KG_M3 = 0.5
"""A hydrometer is read to half a division. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Water:
    """The water and its density [kg/m3]."""

    name: str
    density: Figure


def assess_water(header: Header) -> Water:
    """The density of a kit's water: as measured, else from salinity and temperature, the kit's or the preset's."""
    preset = catalogue().waters[header.water or USUAL_WATER]
    if header.density_kg_m3 is not None:
        spread = {"water": MEASURED_DENSITY_SPREAD_KG_M3}
        return Water(preset.name, Figure(header.density_kg_m3, spread, "measured, as the kit file says"))
    salinity = _stated(header.salinity_kg_per_kg, preset.salinity)
    temperature = _stated(header.temperature_k, preset.temperature)
    return Water(preset.name, _density(salinity, temperature))


def _stated(value: float | None, preset: Value) -> Value:
    return preset if value is None else Value(value, value, value, "as the kit file says")


def _density(salinity: Value, temperature: Value) -> Figure:
    density = seawater_density(salinity.value, temperature.value)
    by_salinity = (
        seawater_density(salinity.high, temperature.value) - seawater_density(salinity.low, temperature.value)
    ) / 2
    by_temperature = (
        seawater_density(salinity.value, temperature.high) - seawater_density(salinity.value, temperature.low)
    ) / 2
    shares = {"salinity of the water": by_salinity, "temperature of the water": by_temperature}
    return Figure(density, shares, "EOS-80 from salinity and temperature")
