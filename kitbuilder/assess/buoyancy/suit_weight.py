"""Suits: foam that is squeezed on the way down, drysuits with their gas."""

import math
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.body import DiverBody
from kitbuilder.assess.figures import Figure, Weight, add_component, source_named
from kitbuilder.assess.scales import FRESH_KG_M3, scale_components
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Value, catalogue
from kitbuilder.kit.items import Drysuit, Suit
from kitbuilder.physics.estimation import condition
from kitbuilder.physics.suit import foam_volume

USUAL_FOAM = "standard"
ANY_DIVE = "from dive to dive: "
"""At the start of a source of spread that is another on every dive."""


class FoamWeight(NamedTuple):
    """An item of foam at the surface, and what of it depth can take away."""

    weight: Weight
    foam: Figure
    """Lift of the foam at the surface: what it displaces [kgf]."""


@lru_cache(maxsize=512)
def weigh_suit(suit: Suit, water: Water, body: DiverBody) -> FoamWeight:
    """Give a suit at the surface: from its weighed buoyancy, else from the body, its cut and its thickness."""
    trade, density = catalogue(), water.density.value
    foam = trade.foams[suit.foam or USUAL_FOAM]
    area = _covered(suit, body)
    stretch, thickness_spread = trade.body.foam_stretch, trade.limits["foam_thickness_spread"].value
    volume = foam_volume(area.value, 1.0, stretch.expected, suit.thickness_m)
    components = {source: share / area.value for source, share in area.components.items()}
    add_component(components, source_named("stretch of worn foam", stretch), stretch.spread / stretch.expected)
    add_component(components, f"thickness of {suit.tag}", thickness_spread / suit.thickness_m)
    relative = dict(components)
    predicted = _suit_mass(volume, relative, foam.density, area)
    mass = predicted if suit.mass_kg is None else _weighed_mass(suit, suit.mass_kg)
    if suit.buoyancy_kgf is not None:
        volume = (mass.value + suit.buoyancy_kgf) / FRESH_KG_M3
        # A mass that is off is off by as much in the bucket: the foam displaces what both say together.
        displaced = {source: share * density / FRESH_KG_M3 for source, share in mass.components.items()}
        in_water, half_digit = f"scale reading of {suit.tag} in water", suit.buoyancy_half_digit_kgf
        read = scale_components(in_water, suit.buoyancy_kgf, suit.buoyancy_spread_kgf, half_digit)
        for source, share in read.items():
            add_component(displaced, source, share * density / FRESH_KG_M3)
        lift = Figure(volume * density, displaced, "weighed")
    else:
        displaced = {source: share * volume * density for source, share in relative.items()}
        lift = Figure(volume * density, displaced, "body, cut and thickness")
        if suit.mass_kg is not None:
            lift = _narrowed_by_mass(lift, predicted, mass)
    floats = dict(lift.components)
    for source, share in mass.components.items():
        add_component(floats, source, -share)
    for source, share in water.density.components.items():
        add_component(floats, source, share * lift.value / density)
    return FoamWeight(Weight(mass, Figure(lift.value - mass.value, floats, lift.origin)), lift)


def _narrowed_by_mass(lift: Figure, predicted: Figure, weighed: Figure) -> Figure:
    """Say what the foam displaces, given its mass: a suit heavier than predicted has more foam, or denser foam."""
    observed = dict(predicted.components)
    for source, share in weighed.components.items():
        add_component(observed, source, -share)
    added, components = condition(lift.components, [observed], [weighed.value - predicted.value])
    return Figure(max(lift.value + added, 0.0), components, f"{lift.origin}, and mass")


def _covered(suit: Suit, body: DiverBody) -> Figure:
    """Give the area of the foam [m2]."""
    if suit.area_m2 is not None:
        spread = catalogue().limits["measured_area_spread"].value * suit.area_m2
        return Figure(suit.area_m2, {f"measured area of {suit.tag}": spread}, "as the kit file says")
    coverage = catalogue().cuts[suit.cut].coverage
    components = {source: share * coverage.expected for source, share in body.area.components.items()}
    add_component(components, source_named(f"coverage, {suit.cut}", coverage), coverage.spread * body.area.value)
    return Figure(coverage.expected * body.area.value, components, f"{suit.cut} on the area of the body")


def _weighed_mass(suit: Suit, mass_kg: float) -> Figure:
    source = f"scale reading of {suit.tag}"
    components = scale_components(source, mass_kg, suit.mass_spread_kg, suit.mass_half_digit_kg)
    return Figure(mass_kg, components, "weighed")


def _suit_mass(volume: float, relative: dict[str, float], foam: Value, area: Figure) -> Figure:
    """Estimate the mass of foam and linings from the body, the cut and the thickness."""
    lining = catalogue().body.foam_lining
    # The lining is stated over the whole body for a full suit; other cuts have as much of it as of foam.
    full = catalogue().cuts["full suit"].coverage.expected
    lined = area.value / full
    components = {source: share * volume * foam.expected for source, share in relative.items()}
    add_component(components, source_named("density of foam", foam), foam.spread * volume)
    add_component(components, source_named("linings of foam", lining), lining.spread * lined)
    return Figure(volume * foam.expected + lining.expected * lined, components, "body, cut and thickness")


def suit_gas(drysuit: Drysuit, water: Water) -> Figure | None:
    """Give the lift of the gas in a drysuit that just does not squeeze [kgf]; None when it is not known."""
    density, source = water.density.value, f"gas in {drysuit.tag}"
    if drysuit.suit_gas_m3 is not None:
        volume = drysuit.suit_gas_m3
        spread = catalogue().limits["suit_gas_spread"].value * volume
    elif drysuit.undersuit is not None:
        gas = catalogue().undersuits[drysuit.undersuit].gas
        volume, spread, source = gas.expected, gas.spread, source_named(source, gas)
    else:
        return None
    change = min(spread, catalogue().limits["suit_gas_change"].value * volume)
    # Together they are as uncertain as stated; what differs from dive to dive is no more known after a float check.
    components = {
        source: math.sqrt(spread**2 - change**2) * density,
        f"{ANY_DIVE}gas in {drysuit.tag}": change * density,
    }
    for source, share in water.density.components.items():
        add_component(components, source, share * volume)
    return Figure(volume * density, components, "gas of suit and undersuit")
