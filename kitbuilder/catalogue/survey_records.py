"""Readers for the survey of bodies: what is usual, and how one measure is estimated from others."""

from kitbuilder.catalogue.body_entries import Measure, MeasureEstimate, Statistics, Survey, Usual
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable

SEXES = ("male", "female")
TERMS = {
    "per_stature": "stature",
    "per_kg": "mass",
    "per_chest": "chest circumference",
    "per_waist": "waist circumference",
}
"""What each factor of an estimate multiplies."""
ESTIMATES = {
    "by_stature": ("per_stature",),
    "with_mass": ("per_stature", "per_kg"),
    "with_chest": ("per_stature", "per_chest"),
    "with_waist": ("per_waist",),
}
"""The factors of each estimate; every measure has the first."""


def make_survey(document: CatalogueTable) -> Survey:
    """Make the survey.

    Raises:
        CatalogueError: A mean or a deviation is not positive, or an estimate or one of its factors is missing.
    """
    return Survey(
        stature=_usual_of_both(document.table("stature"), "length"),
        mass=_usual_of_both(document.table("mass"), "mass"),
        measures={measure.name: measure for measure in map(_make_measure, document.tables("measure"))},
        origin=document.text("origin"),
    )


def _usual_of_both(table: CatalogueTable, dimension: str) -> dict[str, Usual]:
    usual = {sex: _usual(table.table(sex), dimension) for sex in SEXES}
    table.finish()
    return usual


def _usual(table: CatalogueTable, dimension: str) -> Usual:
    usual = Usual(_positive(table, "mean", dimension), _positive(table, "sd", dimension))
    table.finish()
    return usual


def _positive(table: CatalogueTable, key: str, dimension: str) -> float:
    value = table.quantity(key, dimension)
    if value <= 0:
        raise CatalogueError(f"{table.place}, {key}: is not above zero")
    return value


def _make_measure(table: CatalogueTable) -> Measure:
    measure = Measure(table.text("name"), table.text("where"), {sex: _statistics(table.table(sex)) for sex in SEXES})
    table.finish()
    return measure


def _statistics(table: CatalogueTable) -> Statistics:
    first, *others = ESTIMATES
    names = (first, *(name for name in others if name in table))
    found = Statistics(
        mean=_positive(table, "mean", "length"),
        sd=_positive(table, "sd", "length"),
        estimates=tuple(_estimate(table.table(name), ESTIMATES[name]) for name in names),
    )
    table.finish()
    return found


def _estimate(table: CatalogueTable, terms: tuple[str, ...]) -> MeasureEstimate:
    estimate = MeasureEstimate(
        plus=table.quantity("plus", "length"),
        times={TERMS[term]: _factor(table, term) for term in terms},
        sd=_positive(table, "sd", "length"),
    )
    table.finish()
    return estimate


def _factor(table: CatalogueTable, term: str) -> float:
    return table.quantity(term, "length") if term == "per_kg" else table.number(term)
