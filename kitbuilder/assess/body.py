"""The body in the water: size, area, and how it floats, from its mass and published statistics."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from kitbuilder.assess.figures import Figure, add_component, scaled, source_named, total
from kitbuilder.assess.water import Water
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver
from kitbuilder.physics.suit import body_area, body_area_heavy

SEXES = ("male", "female")
UNNAMED = "the diver"
"""Whose body it is where no diver file is named."""
GIVEN = "diver file"
"""The origin of a measure that is given."""
STATURE_SPREAD_M = 0.01
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
    """Give the body of a diver; where stature or mass is not given, that of the survey with its wide spread."""
    header = diver.header if diver else None
    if header is None:
        return _body(UNNAMED)
    return _body(header.name, header.sex, header.stature_m, header.mass_kg)


@lru_cache(maxsize=64)
def _body(who: str, sex: str | None = None, stature_m: float | None = None, mass_kg: float | None = None) -> DiverBody:
    stature, mass = stature_figure(who, sex, stature_m), mass_figure(who, sex, stature_m, mass_kg)
    is_given = stature_m is not None and mass_kg is not None
    return DiverBody(who, stature, mass, _area(who, stature, mass), is_given, sex or "")


def stature_figure(who: str, sex: str | None, stature_m: float | None) -> Figure:
    """Give the stature of a diver [m]: as given, else that of the survey's bodies of that sex, or of both."""
    source, survey = stature_of(who), catalogue().survey
    if stature_m is not None:
        return Figure(stature_m, {source: STATURE_SPREAD_M}, GIVEN)
    usual = (survey.stature[each] for each in sexes_of(sex))
    return between_sexes(who, [Figure(each.mean, {source: 2 * each.sd}, survey.origin) for each in usual])


def mass_figure(who: str, sex: str | None, stature_m: float | None, mass_kg: float | None) -> Figure:
    """Give the mass of a diver [kg]: as given, else `usual_mass`."""
    if mass_kg is None:
        return usual_mass(who, sex, stature_m)
    return Figure(mass_kg, {mass_of(who): catalogue().limits["body_scale_spread"].value}, GIVEN)


def usual_mass(who: str, sex: str | None, stature_m: float | None) -> Figure:
    """Give the mass of bodies that are built as those of the survey, of a stature where that is given [kg]."""
    survey, figures = catalogue().survey, []
    for each in sexes_of(sex):
        mass = survey.mass[each]
        factor = 1.0 if stature_m is None else (stature_m / survey.stature[each].mean) ** 2
        figures.append(Figure(mass.mean * factor, {mass_of(who): 2 * mass.sd * factor}, survey.origin))
    return between_sexes(who, figures)


def sexes_of(sex: str | None) -> tuple[str, ...]:
    """Give the sexes that a diver may have."""
    return (sex,) if sex else SEXES


def between_sexes(who: str, figures: Sequence[Figure]) -> Figure:
    """Give the figure of one sex; where that is not given the middle, and how far either sex is from it.

    Both are taken to be as likely: half the difference is one standard deviation, and a share is two.
    """
    if len(figures) == 1:
        return figures[0]
    one, other = figures
    middle = scaled(total(figures, one.origin), 0.5)
    components = dict(middle.components)
    add_component(components, sex_of(who), one.value - other.value)
    return middle._replace(components=components)


def stature_of(who: str) -> str:
    """Give the source of spread that is a diver's stature."""
    return f"stature of {who}"


def mass_of(who: str) -> str:
    """Give the source of spread that is a diver's mass."""
    return f"mass of {who}"


def sex_of(who: str) -> str:
    """Give the source of spread that is a diver's sex, where that is not given."""
    return f"sex of {who}"


def _area(who: str, stature: Figure, mass: Figure) -> Figure:
    """Estimate the skin area by `body_area`; for a heavy body go half way to the formula for heavy ones."""
    area = body_area(stature.value, mass.value)
    components = {f"body area of {who}": 0.0}
    if mass.value / stature.value**2 >= HEAVY_KG_M2 and mass.value >= HEAVY_KG:
        heavy = body_area_heavy(mass.value)
        area, components = (area + heavy) / 2, {f"body area of {who}": abs(heavy - area) / 2}
    add_component(components, f"body area of {who}", catalogue().limits["body_area_scatter"].value * area)
    # 0.725 and 0.425 are the exponents of stature and mass in the formula: what they are off by in parts.
    for figure, exponent in ((stature, 0.725), (mass, 0.425)):
        for source, share in figure.components.items():
            add_component(components, source, exponent * area * share / figure.value)
    return Figure(area, components, "formula of 1916 from stature and mass")


def body_buoyancy(body: DiverBody, water: Water) -> Figure:
    """Say how the body alone floats, in the middle of a quiet breath [kgf]."""
    facts, density = catalogue().body, water.density.value
    own = facts.density[body.sex]
    volume = body.mass.value / own.value + facts.breath.expected
    by_density = body.mass.value * density * (1 / own.low - 1 / own.high) / 2
    breath = source_named(f"breath of {body.who}", facts.breath)
    components = {f"density of {body.who}": by_density, breath: density * facts.breath.spread}
    for source, share in body.mass.components.items():
        add_component(components, source, share * (density / own.value - 1))
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
