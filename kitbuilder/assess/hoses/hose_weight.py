"""What a hose weighs and how it floats, as it is and with another body."""

from typing import NamedTuple

from kitbuilder.assess.figures import Figure, Weight, difference, source_named, total
from kitbuilder.assess.scales import scale_components
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import Adapter, Fitting, HoseBody, catalogue
from kitbuilder.kit.items import Hose
from kitbuilder.physics.buoyancy import buoyancy_kgf
from kitbuilder.physics.hose import bore_volume, ring_area, solid_volume, tube_volume


class HoseEnds(NamedTuple):
    """The fittings and adapters of a hose, those the file does not name taken as usual for its role."""

    at_first_stage: Fitting
    at_device: Fitting
    adapters: tuple[Adapter, ...]


def service_of(hose: Hose) -> str:
    """Give "LP" or "HP", by the hose's role."""
    return catalogue().roles[hose.role].service


def ends_of(hose: Hose) -> HoseEnds:
    """Give the ends of a hose, as the file says or as usual for its role."""
    trade = catalogue()
    role = trade.roles[hose.role]
    named = (hose.from_adapter, hose.to_adapter)
    return HoseEnds(
        trade.fittings[hose.from_end or role.from_end],
        trade.fittings[hose.to_end or role.to_end],
        tuple(trade.adapters[name] for name in named if name),
    )


def end_to_end(hose: Hose, ends: HoseEnds) -> Figure:
    """Give the length from the sealing face of one end to that of the other, without adapters [m]."""
    components = {f"stated length of {hose.tag}": catalogue().limits["length_spread"].value}
    if hose.measured != "hose only":
        return Figure(hose.length_m, components, "stated end to end")
    added = 0.0
    for fitting in (ends.at_first_stage, ends.at_device):
        added += fitting.envelope_length.expected
        _add(components, _envelope_of(fitting), fitting.envelope_length.spread)
    return Figure(hose.length_m + added, components, "stated without ends; usual length of the ends added")


def reach(hose: Hose) -> Figure:
    """Give the run the hose can cover: end to end, with its adapters [m]."""
    ends = ends_of(hose)
    length = end_to_end(hose, ends)
    components = dict(length.components)
    value = length.value
    for adapter in ends.adapters:
        value += adapter.length.expected
        source = source_named(f"length of the adapter {adapter.name}", adapter.length)
        _add(components, source, adapter.length.spread)
    return Figure(value, components, length.origin)


def weigh_hose(hose: Hose, body_name: str, water: Water) -> Weight:
    """Give mass and buoyancy of a hose filled with gas, with the body named.

    A weighed mass counts for the body it was weighed with; another body is lighter or heavier than that by as much as
    the catalogue says.
    """
    bodies, service, ends = catalogue().bodies, service_of(hose), ends_of(hose)
    body, bare = bodies[service, body_name], bare_length(hose, ends)
    dry = _computed_mass(body, ends, bare)
    if hose.mass_kg is not None:
        weighed = _weighed_mass(hose, ends)
        own = _computed_mass(bodies[service, hose.body], ends, bare)
        dry = (
            weighed if body_name == hose.body else total((weighed, difference(dry, own, "")), f"weighed as {hose.body}")
        )
    if dry.value <= 0:  # weighed lighter than any hose of that kind: there is nothing to carry over
        dry = _computed_mass(body, ends, bare)
    return Weight(dry, _buoyancy(body, ends, dry, bare, water))


def bare_length(hose: Hose, ends: HoseEnds) -> Figure:
    """Give the length of the body alone, from one end to the other [m]."""
    components = {f"stated length of {hose.tag}": catalogue().limits["length_spread"].value}
    if hose.measured == "hose only":
        return Figure(hose.length_m, components, "stated without ends")
    covered = 0.0
    for fitting in (ends.at_first_stage, ends.at_device):
        covered += fitting.envelope_length.expected
        _add(components, _envelope_of(fitting), -fitting.envelope_length.spread)
    return Figure(
        max(0.0, hose.length_m - covered), components, "stated end to end; usual length of the ends taken off"
    )


def _parts(ends: HoseEnds) -> tuple[Fitting | Adapter, ...]:
    return (ends.at_first_stage, ends.at_device, *ends.adapters)


def _computed_mass(body: HoseBody, ends: HoseEnds, bare: Figure) -> Figure:
    per_metre = body.mass_per_length
    wall = ring_area(body.outside_diameter.expected, body.bore.value)
    components = {
        _diameter_of(body): per_metre.spread * bare.value,
        _density_of(body): wall * body.density.spread * bare.value,
    }
    for source, share in bare.components.items():
        _add(components, source, share * per_metre.expected)
    value = per_metre.expected * bare.value
    for part in _parts(ends):
        value += part.mass.expected
        _add(components, _mass_of(part), part.mass.spread)
    return Figure(value, components, f"computed from {body.name} and both ends")


def _weighed_mass(hose: Hose, ends: HoseEnds) -> Figure:
    assert hose.mass_kg is not None
    source = f"scale reading of {hose.tag}"
    components = scale_components(source, hose.mass_kg, hose.mass_spread_kg, hose.mass_half_digit_kg)
    value = hose.mass_kg
    for adapter in ends.adapters:
        value += adapter.mass.expected
        _add(components, _mass_of(adapter), adapter.mass.spread)
    return Figure(value, components, "weighed" if not ends.adapters else "weighed; adapters computed")


def _buoyancy(body: HoseBody, ends: HoseEnds, dry: Figure, bare: Figure, water: Water) -> Figure:
    """Subtract mass and gas from the displaced water. A thicker body is heavier too, which partly cancels."""
    density, gas = water.density.value, catalogue().gas_density[body.service]
    outside, bore = body.outside_diameter, bore_volume(body.bore.value, bare.value)
    volume = tube_volume(outside.expected, bare.value)
    volume_spread = 2 * volume * outside.spread / outside.expected
    components = {source: -share for source, share in dry.components.items()}
    _add(components, _diameter_of(body), volume_spread * density)
    _add(components, source_named(f"gas in {body.service} hoses", gas), -gas.spread * bore)
    for source, share in bare.components.items():
        _add(components, source, share * tube_volume(outside.expected, 1.0) * density)
    for part in _parts(ends):
        volume += solid_volume(part.mass.expected, part.density.value)
        _add(components, _mass_of(part), part.mass.spread / part.density.value * density)
    for source, share in water.density.components.items():
        _add(components, source, share * volume)
    # Nothing of its volume was weighed, whatever its mass rests on.
    computed = f"computed from {body.name} and both ends"
    origin = computed if dry.origin == computed else f"mass {dry.origin}; volume {computed}"
    return Figure(buoyancy_kgf(volume, dry.value + gas.expected * bore, density), components, origin)


def _diameter_of(body: HoseBody) -> str:
    return source_named(f"outside diameter of {body.service} {body.name} hose", body.outside_diameter)


def _density_of(body: HoseBody) -> str:
    return source_named(f"density of {body.service} {body.name} hose", body.density)


def _mass_of(part: Fitting | Adapter) -> str:
    return source_named(f"mass of {part.name}", part.mass)


def _envelope_of(fitting: Fitting) -> str:
    return source_named(f"length of the end {fitting.name}", fitting.envelope_length)


def _add(components: dict[str, float], source: str, share: float) -> None:
    components[source] = components.get(source, 0.0) + share
