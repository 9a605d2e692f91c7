"""What the other things weigh and how they float: weighed, else as their preset."""

from functools import lru_cache

from kitbuilder.assess.figures import Figure, Weight
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Preset, catalogue
from kitbuilder.kit.things import Device, FirstStage, Thing

SALT_KG_M3 = 1025.0
"""The water in which the catalogue states buoyancies."""
FRESH_KG_M3 = 999.0
"""A bucket of tap water at 15 to 20 °C (IAPWS-95 gives 999.1 to 998.2)."""


@lru_cache(maxsize=4096)
def weigh_thing(thing: Thing, water: Water) -> Weight | None:
    """Mass and buoyancy of a thing that is not a hose; None when neither a preset nor a scale tells.

    A thing weighed in air only takes its volume from the preset; one weighed in fresh water too needs no preset.
    """
    if not isinstance(thing, (FirstStage, Device)):
        return None
    preset = catalogue().presets.get((thing.kind, thing.preset or ""))
    mass = _mass(thing, preset)
    if mass is None:
        return None
    buoyancy = _buoyancy(thing, preset, mass, water)
    return Weight(mass, buoyancy) if buoyancy else None


def _mass(thing: FirstStage | Device, preset: Preset | None) -> Figure | None:
    if thing.mass_kg is not None:
        return Figure(
            thing.mass_kg, {f"scale reading of {thing.tag}": catalogue().limits["scale_spread"].value}, "weighed"
        )
    if preset is None:
        return None
    return Figure(preset.mass.value, {_source(preset, thing): preset.mass.spread}, f"preset {preset.name}")


def _buoyancy(thing: FirstStage | Device, preset: Preset | None, mass: Figure, water: Water) -> Figure | None:
    density = water.density.value
    weighed = thing.buoyancy_kgf if isinstance(thing, Device) else None
    if weighed is not None:
        volume = (mass.value + weighed) / FRESH_KG_M3
        # A mass that is off is off by as much in the bucket: only what the denser water adds is left of it.
        shares = {source: share * (density / FRESH_KG_M3 - 1) for source, share in mass.shares.items()}
        shares[f"scale reading of {thing.tag} in water"] = catalogue().limits["scale_spread"].value
        return _with_water(volume, mass.value, shares, "weighed in fresh water", water)
    if preset is None:
        return None
    if preset.density is not None:
        volume = mass.value / preset.density.value
        shares = {source: share * (density / preset.density.value - 1) for source, share in mass.shares.items()}
        _widen(shares, _source(preset, thing), _density_share(preset, mass.value, density))
        return _with_water(volume, mass.value, shares, mass.origin, water)
    assert preset.buoyancy_salt is not None
    volume = (preset.mass.value + preset.buoyancy_salt.value) / SALT_KG_M3
    shares = {f"buoyancy of {preset.name} {thing.tag}": preset.buoyancy_salt.spread}
    return _with_water(volume, mass.value, shares, mass.origin, water)


def _density_share(preset: Preset, mass_kg: float, water_density: float) -> float:
    assert preset.density is not None
    lightest, heaviest = preset.density.low, preset.density.high
    return mass_kg * water_density * (1 / lightest - 1 / heaviest) / 2


def _with_water(volume_m3: float, mass_kg: float, shares: dict[str, float], origin: str, water: Water) -> Figure:
    for source, share in water.density.shares.items():
        _widen(shares, source, share * volume_m3)
    return Figure(volume_m3 * water.density.value - mass_kg, shares, origin)


def _source(preset: Preset, thing: Thing) -> str:
    return f"make of {thing.title} {thing.tag}, {preset.name}"


def _widen(shares: dict[str, float], source: str, share: float) -> None:
    shares[source] = shares.get(source, 0.0) + share
