"""Mass and buoyancy of the other items: from a weighing, else from their preset."""

from functools import lru_cache

from kitbuilder.assess.buoyancy.scales import FRESH_KG_M3, scale_spread
from kitbuilder.assess.buoyancy.suit_weight import suit_gas
from kitbuilder.assess.figures import Figure, Weight, add_component, total
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Preset, catalogue
from kitbuilder.kit.items import Device, Drysuit, FirstStage, Item, Lead, Other
from kitbuilder.physics.buoyancy import LEAD_DENSITY_KG_M3

SALT_KG_M3 = 1025.0
"""The water in which the catalogue states buoyancies."""


@lru_cache(maxsize=4096)
def weigh_item(item: Item, water: Water) -> Weight | None:
    """Give mass and buoyancy of an item that is not a hose; None when neither a preset nor a scale tells.

    An item weighed in air only takes its volume from the preset; one weighed in fresh water too needs no preset.
    A drysuit has its gas in it, when that is given. Cylinders and suits of foam are worked out by themselves.
    """
    if isinstance(item, Lead):
        return _weigh_lead(item, water)
    if not isinstance(item, (FirstStage, Device)):
        return None
    bare = _weigh_bare(item, water)
    return _with_undersuit(item, bare, water) if isinstance(item, Drysuit) and bare else bare


def foam_of(item: Item, weight: Weight) -> Figure | None:
    """Give the lift of the foam of an item, all of it at the surface [kgf]; None for an item without foam."""
    preset = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    if preset is None or not preset.is_foam:
        return None
    return total((weight.buoyancy, weight.mass), "foam")


def _weigh_bare(item: FirstStage | Device, water: Water) -> Weight | None:
    preset = catalogue().presets.get((item.kind, item.preset or ""))
    mass = _mass(item, preset)
    if mass is None:
        return None
    buoyancy = _buoyancy(item, preset, mass, water)
    return Weight(mass, buoyancy) if buoyancy else None


def lead_mass(lead: Lead) -> float:
    """Give all pieces of an entry of the kit together [kg]."""
    return lead.mass_kg * (lead.pieces or 1)


def weigh_lead(mass_kg: float, water: Water) -> Weight:
    """Give lead by the number cast on it."""
    density = water.density.value
    components = {LEAD_SOURCE: catalogue().limits["lead_tolerance"].value * mass_kg}
    floats = {source: share * (density / LEAD_DENSITY_KG_M3 - 1) for source, share in components.items()}
    mass = Figure(mass_kg, components, "as cast on it")
    return Weight(mass, _with_water(mass_kg / LEAD_DENSITY_KG_M3, mass_kg, floats, mass.origin, water))


LEAD_SOURCE = "lead against the number cast on it"


def _weigh_lead(lead: Lead, water: Water) -> Weight:
    return weigh_lead(lead_mass(lead), water)


def _with_undersuit(drysuit: Drysuit, shell: Weight, water: Water) -> Weight:
    """Add the undersuit, which is neutral without its gas, and the gas."""
    gas, mass = suit_gas(drysuit, water), shell.mass
    if drysuit.undersuit:
        worn = catalogue().undersuits[drysuit.undersuit].mass
        source = f"mass of undersuit, {drysuit.undersuit}"
        mass = total((mass, Figure(worn.value, {source: worn.spread}, "")), f"{mass.origin}, and undersuit")
    if gas is None:
        return Weight(mass, shell.buoyancy)
    return Weight(mass, total((shell.buoyancy, gas), f"{shell.buoyancy.origin}, and the gas in it"))


def _mass(item: FirstStage | Device, preset: Preset | None) -> Figure | None:
    if item.mass_kg is not None:
        spread = scale_spread(item.mass_kg, item.mass_spread_kg)
        return Figure(item.mass_kg, {f"scale reading of {item.tag}": spread}, "weighed")
    if preset is None:
        return None
    return Figure(preset.mass.value, {_source(preset, item): preset.mass.spread}, f"preset {preset.name}")


def _buoyancy(item: FirstStage | Device, preset: Preset | None, mass: Figure, water: Water) -> Figure | None:
    density = water.density.value
    if isinstance(item, Device) and item.buoyancy_kgf is not None:
        weighed = item.buoyancy_kgf
        volume = (mass.value + weighed) / FRESH_KG_M3
        # A mass that is off is off by as much in the bucket: only what the denser water adds is left of it.
        components = {source: share * (density / FRESH_KG_M3 - 1) for source, share in mass.components.items()}
        components[f"scale reading of {item.tag} in water"] = scale_spread(weighed, item.buoyancy_spread_kgf)
        return _with_water(volume, mass.value, components, "weighed in fresh water", water)
    if isinstance(item, Other) and (item.volume_m3 is not None or item.density_kg_m3 is not None):
        return _from_size(item, mass, water)
    if preset is None:
        return None
    if preset.density is not None:
        volume = mass.value / preset.density.value
        components = {source: share * (density / preset.density.value - 1) for source, share in mass.components.items()}
        add_component(components, _source(preset, item), _density_share(preset, mass.value, density))
        return _with_water(volume, mass.value, components, mass.origin, water)
    assert preset.buoyancy_salt is not None
    volume = (preset.mass.value + preset.buoyancy_salt.value) / SALT_KG_M3
    components = {f"buoyancy of {_named(preset, item)}": preset.buoyancy_salt.spread}
    return _with_water(volume, mass.value, components, mass.origin, water)


def _from_size(item: Other, mass: Figure, water: Water) -> Figure:
    """Work out the buoyancy from the volume, or from the density of the material."""
    density = water.density.value
    if item.volume_m3 is not None:
        spread = catalogue().limits["volume_spread"].value * item.volume_m3
        components = {source: -share for source, share in mass.components.items()}
        add_component(components, f"volume of {item.tag}", spread * density)
        return _with_water(item.volume_m3, mass.value, components, "from its volume", water)
    assert item.density_kg_m3 is not None
    components = {source: share * (density / item.density_kg_m3 - 1) for source, share in mass.components.items()}
    return _with_water(mass.value / item.density_kg_m3, mass.value, components, "from its density", water)


def _density_share(preset: Preset, mass_kg: float, water_density: float) -> float:
    assert preset.density is not None
    lightest, heaviest = preset.density.low, preset.density.high
    return mass_kg * water_density * (1 / lightest - 1 / heaviest) / 2


def _with_water(volume_m3: float, mass_kg: float, components: dict[str, float], origin: str, water: Water) -> Figure:
    for source, share in water.density.components.items():
        add_component(components, source, share * volume_m3)
    return Figure(volume_m3 * water.density.value - mass_kg, components, origin)


def _source(preset: Preset, item: Item) -> str:
    return f"make of {_named(preset, item)}"


def _named(preset: Preset, item: Item) -> str:
    """Give the tag of an item, and what it is where the tag does not say."""
    return item.tag if item.tag == preset.name else f"{item.tag}, {preset.name}"
