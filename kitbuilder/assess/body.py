"""The body in the water: size, area, and how it floats, from its mass and published statistics."""

from dataclasses import dataclass
from functools import lru_cache

from kitbuilder.assess.figures import Figure, add_component, source_named
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver
from kitbuilder.physics.suit import body_area, body_area_heavy

HEAVY_KG_M2, HEAVY_KG = 30.0, 50.0
"""Mass over stature squared, and mass, from which the older formula of area falls short."""


@dataclass(frozen=True, eq=False)
class DiverBody:
    """What is known of a body, without water. The same body is one object, so that figures of it can be kept."""

    who: str
    """The diver it belongs to: what is not known of one body is not what is not known of another."""
    stature: Figure
    """[m]"""
    mass: Figure
    """[kg]"""
    area: Figure
    """[m2]"""
    is_given: bool
    """Whether the diver file gives both stature and mass."""
    sex: str
    """"male", "female", or nothing where it is not given."""


def assess_body(diver: Diver | None) -> DiverBody:
    """Give the body of a diver; an average one with a wide spread where nothing is given."""
    header = diver.header if diver else None
    if header is None:
        return _body("the diver", None, None, "")
    return _body(header.name, header.stature_m, header.mass_kg, header.sex or "")


@lru_cache(maxsize=64)
def _body(who: str, stature_m: float | None, mass_kg: float | None, sex: str) -> DiverBody:
    usual, limits = catalogue().body, catalogue().limits
    stature = Figure(
        usual.stature.value if stature_m is None else stature_m,
        {stature_of(who): usual.stature.spread if stature_m is None else 0.01},
        usual.stature.origin if stature_m is None else "diver file",
    )
    mass = Figure(
        usual.mass.value if mass_kg is None else mass_kg,
        {mass_of(who): usual.mass.spread if mass_kg is None else limits["body_scale_spread"].value},
        usual.mass.origin if mass_kg is None else "diver file",
    )
    is_given = stature_m is not None and mass_kg is not None
    return DiverBody(who, stature, mass, _area(who, stature, mass), is_given, sex)


def stature_of(who: str) -> str:
    """Give the source of spread that is a diver's stature."""
    return f"stature of {who}"


def mass_of(who: str) -> str:
    """Give the source of spread that is a diver's mass."""
    return f"mass of {who}"


def _area(who: str, stature: Figure, mass: Figure) -> Figure:
    """Estimate the skin area by `body_area`; for a heavy body go half way to the formula for heavy ones."""
    area = body_area(stature.value, mass.value)
    components = {f"body area of {who}": 0.0}
    if mass.value / stature.value**2 >= HEAVY_KG_M2 and mass.value >= HEAVY_KG:
        heavy = body_area_heavy(mass.value)
        area, components = (area + heavy) / 2, {f"body area of {who}": abs(heavy - area) / 2}
    add_component(components, f"body area of {who}", catalogue().limits["body_area_scatter"].value * area)
    # 0.725 and 0.425 are the exponents of stature and mass in the formula: what they are off by in parts.
    add_component(components, stature_of(who), 0.725 * area * stature.spread / stature.value)
    add_component(components, mass_of(who), 0.425 * area * mass.spread / mass.value)
    return Figure(area, components, "formula of 1916 from stature and mass")


def body_buoyancy(body: DiverBody, water: Water) -> Figure:
    """Say how the body alone floats, in the middle of a quiet breath [kgf]."""
    facts, density = catalogue().body, water.density.value
    own = facts.density[body.sex]
    volume = body.mass.value / own.value + facts.breath.expected
    by_density = body.mass.value * density * (1 / own.low - 1 / own.high) / 2
    breath = source_named(f"breath of {body.who}", facts.breath)
    components = {f"density of {body.who}": by_density, breath: density * facts.breath.spread}
    add_component(components, mass_of(body.who), body.mass.spread * (density / own.value - 1))
    for source, share in water.density.components.items():
        add_component(components, source, share * volume)
    return Figure(density * volume - body.mass.value, components, FLOTATION[body.sex])


FLOTATION = {
    "male": "published flotation of 98 men",
    "female": "published flotation of 98 men, since none of women is known; moved by the larger share of fat of women "
    "and widened, which is assumed",
    "": "published flotation of 98 men, widened to cover women, whose flotation is assumed: the sex is not given",
}
"""What is said of the origin of a body's buoyancy, by sex."""
