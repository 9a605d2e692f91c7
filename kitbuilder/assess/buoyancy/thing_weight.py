"""What the other things weigh and how they float: weighed, else as their preset."""

from functools import lru_cache

from kitbuilder.assess.buoyancy.scales import FRESH_KG_M3, scale_spread
from kitbuilder.assess.buoyancy.suit_weight import suit_gas
from kitbuilder.assess.figures import Figure, Weight, total, widen
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Preset, catalogue
from kitbuilder.kit.things import Device, Drysuit, FirstStage, Lead, Other, Thing
from kitbuilder.physics.buoyancy import LEAD_DENSITY_KG_M3

SALT_KG_M3 = 1025.0
"""The water in which the catalogue states buoyancies."""


@lru_cache(maxsize=4096)
def weigh_thing(thing: Thing, water: Water) -> Weight | None:
    """Mass and buoyancy of a thing that is not a hose; None when neither a preset nor a scale tells.

    A thing weighed in air only takes its volume from the preset; one weighed in fresh water too needs no preset.
    A drysuit has its gas in it, when that is told. Cylinders and suits of foam are worked out by themselves.
    """
    if isinstance(thing, Lead):
        return _weigh_lead(thing, water)
    if not isinstance(thing, (FirstStage, Device)):
        return None
    bare = _weigh_bare(thing, water)
    return _with_undersuit(thing, bare, water) if isinstance(thing, Drysuit) and bare else bare


def foam_of(thing: Thing, weight: Weight) -> Figure | None:
    """Lift of the foam of a thing, all of it at the surface [kgf]; None for a thing that depth does not squeeze."""
    preset = catalogue().presets.get((thing.kind, getattr(thing, "preset", None) or ""))
    if preset is None or not preset.is_foam:
        return None
    return total((weight.buoyancy, weight.mass), "foam")


def _weigh_bare(thing: FirstStage | Device, water: Water) -> Weight | None:
    preset = catalogue().presets.get((thing.kind, thing.preset or ""))
    mass = _mass(thing, preset)
    if mass is None:
        return None
    buoyancy = _buoyancy(thing, preset, mass, water)
    return Weight(mass, buoyancy) if buoyancy else None


def lead_mass(lead: Lead) -> float:
    """All pieces of an entry of the kit together [kg]."""
    return lead.mass_kg * (lead.pieces or 1)


def weigh_lead(mass_kg: float, water: Water) -> Weight:
    """Lead by the number cast on it."""
    density = water.density.value
    shares = {LEAD_SOURCE: catalogue().limits["lead_tolerance"].value * mass_kg}
    floats = {source: share * (density / LEAD_DENSITY_KG_M3 - 1) for source, share in shares.items()}
    mass = Figure(mass_kg, shares, "as cast on it")
    return Weight(mass, _with_water(mass_kg / LEAD_DENSITY_KG_M3, mass_kg, floats, mass.origin, water))


LEAD_SOURCE = "lead against the number cast on it"


def _weigh_lead(lead: Lead, water: Water) -> Weight:
    return weigh_lead(lead_mass(lead), water)


def _with_undersuit(drysuit: Drysuit, shell: Weight, water: Water) -> Weight:
    """With the undersuit, which is neutral without its gas, and the gas."""
    gas, mass = suit_gas(drysuit, water), shell.mass
    if drysuit.undersuit:
        worn = catalogue().undersuits[drysuit.undersuit].mass
        source = f"mass of undersuit, {drysuit.undersuit}"
        mass = total((mass, Figure(worn.value, {source: worn.spread}, "")), f"{mass.origin}, and undersuit")
    if gas is None:
        return Weight(mass, shell.buoyancy)
    return Weight(mass, total((shell.buoyancy, gas), f"{shell.buoyancy.origin}, and the gas in it"))


def _mass(thing: FirstStage | Device, preset: Preset | None) -> Figure | None:
    if thing.mass_kg is not None:
        return Figure(thing.mass_kg, {f"scale reading of {thing.tag}": scale_spread(thing.mass_kg)}, "weighed")
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
        shares[f"scale reading of {thing.tag} in water"] = scale_spread(weighed)
        return _with_water(volume, mass.value, shares, "weighed in fresh water", water)
    if isinstance(thing, Other) and (thing.volume_m3 is not None or thing.density_kg_m3 is not None):
        return _from_size(thing, mass, water)
    if preset is None:
        return None
    if preset.density is not None:
        volume = mass.value / preset.density.value
        shares = {source: share * (density / preset.density.value - 1) for source, share in mass.shares.items()}
        widen(shares, _source(preset, thing), _density_share(preset, mass.value, density))
        return _with_water(volume, mass.value, shares, mass.origin, water)
    assert preset.buoyancy_salt is not None
    volume = (preset.mass.value + preset.buoyancy_salt.value) / SALT_KG_M3
    shares = {f"buoyancy of {_named(preset, thing)}": preset.buoyancy_salt.spread}
    return _with_water(volume, mass.value, shares, mass.origin, water)


def _from_size(thing: Other, mass: Figure, water: Water) -> Figure:
    """From its volume, or from the density of what it is made of."""
    density = water.density.value
    if thing.volume_m3 is not None:
        spread = catalogue().limits["volume_spread"].value * thing.volume_m3
        shares = {source: -share for source, share in mass.shares.items()}
        widen(shares, f"volume of {thing.tag}", spread * density)
        return _with_water(thing.volume_m3, mass.value, shares, "from its volume", water)
    assert thing.density_kg_m3 is not None
    shares = {source: share * (density / thing.density_kg_m3 - 1) for source, share in mass.shares.items()}
    return _with_water(mass.value / thing.density_kg_m3, mass.value, shares, "from its density", water)


def _density_share(preset: Preset, mass_kg: float, water_density: float) -> float:
    assert preset.density is not None
    lightest, heaviest = preset.density.low, preset.density.high
    return mass_kg * water_density * (1 / lightest - 1 / heaviest) / 2


def _with_water(volume_m3: float, mass_kg: float, shares: dict[str, float], origin: str, water: Water) -> Figure:
    for source, share in water.density.shares.items():
        widen(shares, source, share * volume_m3)
    return Figure(volume_m3 * water.density.value - mass_kg, shares, origin)


def _source(preset: Preset, thing: Thing) -> str:
    return f"make of {_named(preset, thing)}"


def _named(preset: Preset, thing: Thing) -> str:
    """The tag of a thing, and what it is where the tag does not say."""
    return thing.tag if thing.tag == preset.name else f"{thing.tag}, {preset.name}"
