"""Mass and buoyancy of the other items: from a weighing, else from their preset."""

from functools import lru_cache

from kitbuilder.assess.buoyancy.cylinder_weight import empty_mass_alone
from kitbuilder.assess.buoyancy.suit_weight import suit_gas
from kitbuilder.assess.figures import Figure, Weight, add_component, from_catalogue, source_named, total
from kitbuilder.assess.scales import FRESH_KG_M3, scale_components
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Preset, catalogue
from kitbuilder.kit.items import Cylinder, Device, Drysuit, FirstStage, Item, Lead, Other
from kitbuilder.physics.buoyancy import LEAD_DENSITY_KG_M3

SALT_KG_M3 = 1025.0
"""The water in which the catalogue states buoyancies."""


@lru_cache(maxsize=4096)
def weigh_item(item: Item, water: Water) -> Weight | None:
    """Give mass and buoyancy of an item that is not a hose; None when neither a preset nor a scale tells.

    An item weighed in air only takes its buoyancy from the preset, a solid one its density; one weighed in fresh water
    too needs no preset.
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
    mass = _bare_mass(item)
    if mass is None:
        return None
    buoyancy = _buoyancy(item, _preset_of(item), mass, water)
    return Weight(mass, buoyancy) if buoyancy else None


def mass_alone(item: Item) -> Figure | None:
    """Give the mass of an item whose buoyancy is not known, that of a cylinder without its gas [kg].

    Where a buoyancy is known, the mass stands beside it, and in a cylinder the gas is in both.
    """
    if isinstance(item, Cylinder):
        return empty_mass_alone(item)
    if not isinstance(item, (FirstStage, Device)):
        return None
    mass = _bare_mass(item)
    return _add_undersuit(item, mass) if isinstance(item, Drysuit) and mass else mass


def _preset_of(item: FirstStage | Device) -> Preset | None:
    return catalogue().presets.get((item.kind, item.preset or ""))


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
    gas, mass = suit_gas(drysuit, water), _add_undersuit(drysuit, shell.mass)
    if gas is None:
        return Weight(mass, shell.buoyancy)
    return Weight(mass, total((shell.buoyancy, gas), f"{shell.buoyancy.origin}, and the gas in it"))


def _add_undersuit(drysuit: Drysuit, shell: Figure) -> Figure:
    if not drysuit.undersuit:
        return shell
    worn = catalogue().undersuits[drysuit.undersuit].mass
    worn_mass = from_catalogue(f"mass of undersuit, {drysuit.undersuit}", worn)
    return total((shell, worn_mass), f"{shell.origin}, and undersuit")


def _bare_mass(item: FirstStage | Device) -> Figure | None:
    preset = _preset_of(item)
    if item.mass_kg is not None:
        source = f"scale reading of {item.tag}"
        components = scale_components(source, item.mass_kg, item.mass_spread_kg, item.mass_half_digit_kg)
        return Figure(item.mass_kg, components, "weighed")
    if preset is None:
        return None
    return from_catalogue(_make_of(preset, item), preset.mass, f"preset {preset.name}")


def _buoyancy(item: FirstStage | Device, preset: Preset | None, mass: Figure, water: Water) -> Figure | None:
    density = water.density.value
    if isinstance(item, Device) and item.buoyancy_kgf is not None:
        weighed = item.buoyancy_kgf
        volume = (mass.value + weighed) / FRESH_KG_M3
        # A mass that is off is off by as much in the bucket: only what the denser water adds is left of it.
        components = {source: share * (density / FRESH_KG_M3 - 1) for source, share in mass.components.items()}
        in_water = f"scale reading of {item.tag} in water"
        read = scale_components(in_water, weighed, item.buoyancy_spread_kgf, item.buoyancy_half_digit_kgf)
        for source, share in read.items():
            add_component(components, source, share * density / FRESH_KG_M3)
        return _with_water(volume, mass.value, components, "weighed in fresh water", water)
    if isinstance(item, Other) and (item.volume_m3 is not None or item.density_kg_m3 is not None):
        return _from_size(item, mass, water)
    if preset is None:
        return None
    if preset.density is not None:
        solid = preset.density.expected
        volume = mass.value / solid
        components = {source: share * (density / solid - 1) for source, share in mass.components.items()}
        source = source_named(f"density of {_named(preset, item)}", preset.density)
        add_component(components, source, -volume * density * preset.density.spread / solid)
        from_preset = f"preset {preset.name}"
        origin = from_preset if item.mass_kg is None else f"weighed mass, density of {from_preset}"
        return _with_water(volume, mass.value, components, origin, water)
    assert preset.buoyancy_salt is not None
    # Padding and trapped gas float as they do whatever the item weighs: a heavier one displaces as much more.
    volume = (mass.value + preset.buoyancy_salt.expected) / SALT_KG_M3
    components = {source: share * (density / SALT_KG_M3 - 1) for source, share in mass.components.items()}
    source = source_named(f"buoyancy of {_named(preset, item)}", preset.buoyancy_salt)
    add_component(components, source, preset.buoyancy_salt.spread * density / SALT_KG_M3)
    return _with_water(volume, mass.value, components, f"preset {preset.name}", water)


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


def _with_water(volume_m3: float, mass_kg: float, components: dict[str, float], origin: str, water: Water) -> Figure:
    for source, share in water.density.components.items():
        add_component(components, source, share * volume_m3)
    return Figure(volume_m3 * water.density.value - mass_kg, components, origin)


def _make_of(preset: Preset, item: Item) -> str:
    return f"make of {_named(preset, item)}"


def _named(preset: Preset, item: Item) -> str:
    """Give the tag of an item, and what it is where the tag does not say."""
    return item.tag if item.tag == preset.name else f"{item.tag}, {preset.name}"
