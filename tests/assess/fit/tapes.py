"""Tapes of the body survey laid over the model's bodies, beside what the survey measured.

The survey's tapes are strings over bodies, as hoses are. `python -m tests.assess.fit.tapes` writes the comparison to
`kitbuilder/catalogue/tapes.tsv`; a test says when that file is out of date.
"""

import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from itertools import pairwise
from math import dist, erf, hypot, sqrt
from pathlib import Path
from statistics import fmean
from typing import NamedTuple

import kitbuilder.catalogue
from kitbuilder.assess.fit.measures import Wearer
from kitbuilder.assess.fit.routed_hose import landmark_spread, point_of
from kitbuilder.catalogue import Landmark, catalogue
from kitbuilder.catalogue.route_records import make_skin
from kitbuilder.catalogue.table import CatalogueTable
from tests.assess.fit.bodies import STATURE_AND_MASS, body

FOLDER = Path(__file__).parent
PUBLISHED = Path(kitbuilder.catalogue.__file__).parent / "tapes.tsv"
MM = 0.001
COUNTS = {"yes": "yes", "set": "all but the median man", "no": "no"}
HEAD = """\
# Tapes of the body survey ANSUR II of 2012 (report NATICK/TR-15/007) beside the same paths over the model's body.
# Made by `python -m tests.assess.fit.tapes`; the paths stand in tests/assess/fit/tapes.toml. Lengths in mm.
#
# percentile   of stature and of mass, of which the body is made
# given        what the model was given, and what the survey's tape was estimated from
# model        the path over the model's body
# tape         what the survey's bodies of this stature and mass measure in the mean: a least-squares fit
# residual     model less tape
# single       standard deviation of single bodies about that mean
# counts       yes; set: it set constants of the landmarks; no: part of the model, or no hose goes there
"""


class Tape(NamedTuple):
    """A tape of the survey as a path over the model's body."""

    name: str
    measure: str
    path: tuple[str, ...]
    times: int
    plus: tuple[str, ...]
    less: tuple[str, ...]
    counts: str
    why: str


class Fit(NamedTuple):
    """What the survey says of a measure of one sex, from stature and perhaps mass. [mm, kg]"""

    mean: float
    plus: float
    per_stature: float
    per_kg: float
    sd: float
    """Of single bodies about the fit."""
    takes_mass: bool

    def at(self, stature_m: float, mass_kg: float) -> float:
        """The mean of all bodies of this stature and mass. [mm]"""
        return self.plus + self.per_stature * stature_m / MM + self.per_kg * mass_kg


class Row(NamedTuple):
    """One tape over one body. [m]"""

    tape: Tape
    sex: str
    percentile: int
    given: str
    model: float
    measured: float
    single: float
    """Standard deviation of single bodies about what was measured."""
    spread: float
    """What the model says of its own path from the measures it estimates; without its landmarks."""

    @property
    def counts(self) -> str:
        """Whether the row is a check: the median man is not where he set a constant."""
        if self.tape.counts == "set" and (self.sex, self.percentile) != ("male", 50):
            return "yes"
        return self.tape.counts

    @property
    def residual(self) -> float:
        """Model less tape, as a part of the tape."""
        return (self.model - self.measured) / self.measured

    @property
    def odds_within(self) -> float:
        """The odds that a single body's tape lies within the spread that the model gives a run as long as this tape."""
        spread, off = hypot(self.spread, landmark_spread(self.model)), self.model - self.measured
        return _below((spread + off) / self.single) - _below((off - spread) / self.single)


def _below(deviations: float) -> float:
    return (1 + erf(deviations / sqrt(2))) / 2


@cache
def tapes() -> tuple[Tape, ...]:
    """The tapes, as their file has them."""
    return tuple(
        Tape(
            row["name"],
            row.get("measure", row["name"]),
            tuple(row["path"]),
            row.get("times", 1),
            tuple(row.get("plus", ())),
            tuple(row.get("less", ())),
            row["counts"],
            row.get("why", ""),
        )
        for row in _document()["tape"]
    )


@cache
def skin() -> dict[str, Landmark]:
    """All places on bare skin: those that landmarks lie on, and those for tapes alone."""
    table = CatalogueTable({"skin": _document()["skin"]}, "tapes.toml")
    return make_skin(table.tables("skin"), ("stature", *catalogue().survey.measures), catalogue().skin)


@cache
def fits() -> dict[tuple[str, str], Fit]:
    """What the survey says of each tape, by measure and sex: from stature and mass where that was fitted."""
    lines = (FOLDER / "survey_tapes.tsv").read_text(encoding="utf-8").splitlines()
    keys, *given = (line.split("\t") for line in lines if not line.startswith("#"))
    rows = [dict(zip(keys, row, strict=True)) for row in given]
    stature = {row["sex"]: row for row in rows if row["measure"] == "stature"}
    return {(row["measure"], row["sex"]): _fit(row, stature[row["sex"]]) for row in rows}


def _fit(row: Mapping[str, str], stature: Mapping[str, str]) -> Fit:
    """The fit by stature and mass; without one, the line that the correlation with stature gives."""
    mean = float(row["mean"])
    if row["plus"]:
        plus, per_stature, per_kg, sd = (float(row[key]) for key in ("plus", "per_stature", "per_kg", "sd_fit"))
        return Fit(mean, plus, per_stature, per_kg, sd, takes_mass=True)
    slope = float(row["r_with_stature"]) * float(row["sd"]) / float(stature["sd"])
    return Fit(mean, mean - slope * float(stature["mean"]), slope, 0.0, float(row["sd_fit"]), takes_mass=False)


def rows() -> Iterator[Row]:
    """Each tape over small, median and large men and women."""
    for tape in tapes():
        for sex, percentile in STATURE_AND_MASS:
            yield laid(tape, sex, percentile)


def laid(tape: Tape, sex: str, percentile: int) -> Row:
    """One tape over one body, of which the model is given just what the survey's fit takes."""
    stature_m, mass_kg = STATURE_AND_MASS[sex, percentile]
    fit = fits()[tape.measure, sex]
    wearer = body(sex, stature_m, mass_kg if fit.takes_mass else None)
    values = numbers(wearer)

    def of(measure: str) -> float:
        return fits()[measure, sex].at(stature_m, mass_kg) * MM if (measure, sex) in fits() else values[measure]

    measured = of(tape.measure) + sum(map(of, tape.plus)) - sum(map(of, tape.less))
    given = "stature and mass" if fit.takes_mass else "stature"
    return Row(tape, sex, percentile, given, length(tape, values), measured, fit.sd * MM, spread(tape, wearer))


def numbers(wearer: Wearer) -> dict[str, float]:
    """The measures of a body without a suit. [m]"""
    return {name: figure.value for name, figure in wearer.measures.items()} | {"suit": 0.0}


def length(tape: Tape, values: Mapping[str, float]) -> float:
    """The length of a tape over a body of these measures, as little longer than straight as a pulled hose. [m]"""
    points = [point_of(skin()[name], values) for name in tape.path]
    return catalogue().limits["taut"].value * tape.times * sum(dist(*ends) for ends in pairwise(points))


def spread(tape: Tape, wearer: Wearer) -> float:
    """What the model's unknowns of a body make of a tape: twice the standard deviation. [m]"""
    values, shares = numbers(wearer), dict[str, float]()
    for name, figure in wearer.measures.items():
        moved = values | {name: values[name] + 0.01 * figure.spread}
        change = (length(tape, moved) - length(tape, values)) / (0.01 * figure.spread)
        for source, share in figure.components.items():
            shares[source] = shares.get(source, 0.0) + change * share
    return hypot(*shares.values())


def _document() -> dict[str, list[dict[str, str]]]:
    return tomllib.loads((FOLDER / "tapes.toml").read_text(encoding="utf-8"))


def table() -> str:
    """The comparison as it is published."""
    lines = [HEAD + "tape\tsex\tpercentile\tgiven\tmodel\ttape\tresidual\tresidual_percent\tsingle\tcounts"]
    for row in rows():
        off = row.model - row.measured
        lengths = f"{row.model / MM:.0f}\t{row.measured / MM:.0f}\t{off / MM:+.0f}\t{100 * row.residual:+.1f}"
        who = f"{row.tape.name}\t{row.sex}\t{row.percentile}\t{row.given}"
        lines.append(f"{who}\t{lengths}\t{row.single / MM:.0f}\t{row.counts}")
    return "\n".join(lines) + "\n"


def summary() -> list[str]:
    """A line of Markdown for each tape: how far the model is off for men and for women, and single bodies scatter."""
    lines = []
    for tape in tapes():
        of = {sex: [row for row in rows() if row.tape == tape and row.sex == sex] for sex in ("male", "female")}
        men, women = (100 * fmean(row.residual for row in found) for found in of.values())
        single = 100 * fmean(row.single / row.measured for found in of.values() for row in found)
        off = f"{_signed(men)} % | {_signed(women)} %"
        lines.append(f"| {tape.name} | {off} | {single:.0f} % | {COUNTS[tape.counts]} |")
    return lines


def _signed(number: float) -> str:
    """A whole number with its sign, and zero without one."""
    return f"{round(number):+d}" if round(number) else "0"


if __name__ == "__main__":
    PUBLISHED.write_text(table(), encoding="utf-8")
    print(*summary(), sep="\n")
