"""The measures of the body that wears a kit: as given, else estimated from what is given, each with its spread.

What no estimate can take in: the soldiers of the survey are fitter and younger than divers, and single bodies lie about
an estimate in ways that go together (a broad chest is often a deep one), which count here as if they did not.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.body import (
    GIVEN,
    UNNAMED,
    between_sexes,
    mass_figure,
    sexes_of,
    stature_figure,
    usual_mass,
)
from kitbuilder.assess.figures import Figure, difference, from_catalogue, scaled, total
from kitbuilder.catalogue import Measure, Usual, Value, catalogue
from kitbuilder.kit.diver import DiverHeader
from kitbuilder.kit.items import Drysuit, Suit
from kitbuilder.kit.resolved import ResolvedKit

STATURE, MASS = "stature", "mass"
TAPES = {
    "chest": "chest circumference",
    "waist": "waist circumference",
    "back_length": "back length",
    "shoulders": "shoulder breadth",
    "neck": "neck base circumference",
}
"""The measure of the survey that each key of a diver file gives; stature and mass are apart."""
MEASURE_OF_KEY = TAPES | {"mass": "mass"}
"""What a key that can be doubted is called in a sentence."""

LEAST_OF_MEAN = 0.4
"""No measure is estimated smaller than this part of the survey's mean: straight lines do not end where bodies do."""
DOUBTFUL = 2.0
"""A given measure is implausible from this many spreads off what is expected; a spread is two standard deviations."""
LEANEST_KG_M2, HEAVIEST_KG_M2 = 13.0, 60.0
"""Mass over stature squared between which living bodies lie: from memory."""
OUTSIDE_SD = 3.0
"""Standard deviations from the mean beyond which the survey has next to no bodies."""
HOODS = ("hood", "hooded vest")
"""Cuts that cover the neck."""


class ImplausibleMeasure(NamedTuple):
    """A given measure that does not fit the others."""

    key: str
    """Of the diver file."""
    given: float
    """[m], or [kg] for the mass."""
    expected: Figure
    measure: str
    """What it is shown as: "length" or "body mass"."""


@dataclass(frozen=True, eq=False)
class Wearer:
    """The body that wears a kit, and what it wears. The same body is one object, so that figures of it can be kept."""

    who: str
    """The diver it belongs to: the unknowns of two bodies are independent, so their sources have this name."""
    sex: str | None
    measures: Mapping[str, Figure]
    """Stature and the measures of the survey, by name [m]."""
    neck_turn: Figure
    """How far the head turns to one side [rad]."""
    neck_back: Figure
    """How far it goes back [rad]."""
    suit: Figure
    """Thickness of what is worn over the trunk [m]."""
    is_given: bool
    """Whether stature, mass, sex or a tape measure is given."""
    implausible: tuple[ImplausibleMeasure, ...]
    outside_survey: tuple[str, ...]
    """The keys of stature and mass, where they are beyond nearly all of the survey's."""

    @property
    def is_outside_survey(self) -> bool:
        """Whether stature or mass is beyond nearly all of the survey's."""
        return bool(self.outside_survey)


def wearer_of(kit: ResolvedKit) -> Wearer:
    """Measure the wearer of a kit: the diver of its diver file, else any diver, in its suits and neck cover."""
    diver = kit.linked.diver
    foams = tuple((suit.tag, suit.cut, suit.thickness_m) for suit in kit.items if isinstance(suit, Suit))
    drysuits = tuple((suit.tag, suit.undersuit) for suit in kit.items if isinstance(suit, Drysuit))
    is_covered = kit.header.neck == "covered" or bool(drysuits) or any(cut in HOODS for _, cut, _ in foams)
    return _wearer(_given_by(diver.header) if diver else _GivenBody(), foams, drysuits, is_covered)


class _GivenBody(NamedTuple):
    who: str = UNNAMED
    sex: str | None = None
    stature_m: float | None = None
    mass_kg: float | None = None
    tapes: tuple[tuple[str, float], ...] = ()
    """Measures of the survey by name [m]."""
    neck: str = "free"

    @property
    def sexes(self) -> tuple[str, ...]:
        """The sexes it may have."""
        return sexes_of(self.sex)


def _given_by(header: DiverHeader) -> _GivenBody:
    given = ((name, getattr(header, f"{key}_m")) for key, name in TAPES.items())
    tapes = tuple((name, value) for name, value in given if value is not None)
    return _GivenBody(header.name, header.sex, header.stature_m, header.mass_kg, tapes, header.neck_turns or "free")


@lru_cache(maxsize=64)
def _wearer(
    given: _GivenBody,
    foams: tuple[tuple[str, str, float], ...],
    drysuits: tuple[tuple[str, str | None], ...],
    is_covered: bool,
) -> Wearer:
    return Wearer(
        who=given.who,
        sex=given.sex,
        measures=_measures(given),
        neck_turn=_neck("turn", given, is_covered=is_covered),
        neck_back=_neck("back", given, is_covered=is_covered),
        suit=total((*_foams(foams), *_drysuits(drysuits)), "suits of the kit"),
        is_given=any((given.sex, given.stature_m, given.mass_kg, given.tapes)),
        implausible=tuple(_implausible(given)),
        outside_survey=tuple(_outside(given)),
    )


# ---- the body ----


def _measures(given: _GivenBody) -> dict[str, Figure]:
    survey, known = catalogue().survey.measures, _known(given)
    measures = {name: known[name] if name in known else _estimated(of, given) for name, of in survey.items()}
    return {STATURE: known[STATURE]} | measures


def _known(given: _GivenBody) -> dict[str, Figure]:
    """Give what estimates are made from: all given measures, and stature, from the survey when it is not given."""
    known = {STATURE: stature_figure(given.who, given.sex, given.stature_m)}
    if given.mass_kg is not None:
        known[MASS] = mass_figure(given.who, given.sex, given.stature_m, given.mass_kg)
    for name, value in given.tapes:
        spread = catalogue().limits["tape_spread"].value
        known[name] = Figure(value, {_source(name, given): spread}, GIVEN)
    return known


def _source(name: str, given: _GivenBody) -> str:
    return f"{name} of {given.who}"


def _estimated(measure: Measure, given: _GivenBody) -> Figure:
    return between_sexes(given.who, [_estimated_of(sex, measure, given._replace(sex=sex)) for sex in given.sexes])


def _estimated_of(sex: str, measure: Measure, given: _GivenBody) -> Figure:
    """Estimate a measure from what is known, by the estimate with the smallest spread of single bodies."""
    statistics, known = measure.of[sex], _known(given)
    made = [estimate for estimate in statistics.estimates if estimate.times.keys() <= known.keys()]
    best = min(made, key=lambda estimate: estimate.sd)
    own = Figure(best.plus, {_source(measure.name, given): 2 * best.sd}, "")
    terms = (scaled(known[name], factor) for name, factor in best.times.items())
    figure = total((own, *terms), catalogue().survey.origin)
    return figure._replace(value=max(figure.value, LEAST_OF_MEAN * statistics.mean))


# ---- the neck and the suit ----


def _neck(what: str, given: _GivenBody, *, is_covered: bool) -> Figure:
    """Say how far the head goes, less what a hood or a seal takes off [rad]."""
    limits = catalogue().limits
    free = _figure(f"neck {what} of {given.who}", limits[f"neck_{what}_{given.neck}"])
    if not is_covered:
        return free
    return difference(free, _figure(f"cover of the neck of {given.who}", limits["neck_covered"]), free.origin)


def _figure(source: str, value: Value) -> Figure:
    return from_catalogue(source, value)


def _foams(foams: tuple[tuple[str, str, float], ...]) -> Iterator[Figure]:
    """Give the foam over the trunk [m]; its spread is that of the suit's own weight."""
    spread = catalogue().limits["foam_thickness_spread"].value
    for tag, name, thickness_m in foams:
        cut = catalogue().cuts[name]
        if cut.place in ("trunk", "whole body"):
            layers = 2 if cut.coverage.value > 1 else 1  # more foam than body: it lies double on the trunk
            yield Figure(layers * thickness_m, {f"thickness of {tag}": layers * spread}, "")


def _drysuits(drysuits: tuple[tuple[str, str | None], ...]) -> Iterator[Figure]:
    """Add up the shell and what is worn below it; without an undersuit in the file there is nothing below it [m]."""
    for tag, undersuit in drysuits:
        yield _figure(f"shell of {tag}", catalogue().limits["shell"])
        if undersuit:
            yield _figure(f"loft below {tag}", catalogue().undersuits[undersuit].loft)


# ---- what does not go together ----


def _implausible(given: _GivenBody) -> Iterator[ImplausibleMeasure]:
    """Compare each given tape with the others; a mass with the stature, and report only what no living body has."""
    survey, known = catalogue().survey.measures, dict(given.tapes)
    for key, name in TAPES.items():
        if name not in known:
            continue
        expected = _estimated(survey[name], given)  # no measure is estimated from itself
        if abs(known[name] - expected.value) > DOUBTFUL * expected.spread:
            yield ImplausibleMeasure(key, known[name], expected, "length")
    if given.mass_kg is not None and given.stature_m is not None:
        index = given.mass_kg / given.stature_m**2
        if not LEANEST_KG_M2 <= index <= HEAVIEST_KG_M2:
            yield ImplausibleMeasure(
                "mass", given.mass_kg, usual_mass(given.who, given.sex, given.stature_m), "body mass"
            )


def _outside(given: _GivenBody) -> Iterator[str]:
    survey = catalogue().survey
    if _is_beyond(given, given.stature_m, survey.stature):
        yield "stature"
    if _is_beyond(given, given.mass_kg, survey.mass):
        yield "mass"


def _is_beyond(given: _GivenBody, value: float | None, by_sex: Mapping[str, Usual]) -> bool:
    usual = [by_sex[sex] for sex in given.sexes]
    low = min(each.mean - OUTSIDE_SD * each.sd for each in usual)
    high = max(each.mean + OUTSIDE_SD * each.sd for each in usual)
    return value is not None and not low <= value <= high
