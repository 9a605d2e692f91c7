"""The model's bodies against tapes over real ones: bias, spread, and what is published of both.

The body survey ANSUR II of 2012 (report NATICK/TR-15/007) measured its bodies with tapes, which are strings over a body
as hoses are. Constants of the landmarks were set by tapes of the median man; the other five bodies are a check, though
no blind one: whoever chose the places on the skin had seen all tapes.
"""

from itertools import pairwise
from math import dist, pi
from pathlib import Path
from statistics import fmean

import pytest

from kitbuilder.assess.fit.routed_hose import landmark_spread, measure_route, point_of
from kitbuilder.catalogue import catalogue
from tests.assess.fit.bodies import STATURE_AND_MASS, percentile
from tests.assess.fit.tapes import MM, PUBLISHED, Row, Tape, fits, laid, numbers, rows, summary, table, tapes
from tests.assess.fit.test_measures import PUBLISHED as SURVEY
from tests.each import each

ROOT = Path(__file__).parents[3]
COUNTED = [row for row in rows() if row.counts == "yes"]
BIAS = 0.07
"""No tape may be further off than this in the mean of a sex: what is left after the corrections, with names below."""
HALF_HOSE_M = 0.006
"""From the skin to the middle of a hose of 12 mm: catalogue/bodies.toml, rubber, LP."""


def test_the_published_table_is_up_to_date() -> None:
    """`python -m tests.assess.fit.tapes` writes it again."""
    assert PUBLISHED.read_text(encoding="utf-8") == table()


def test_the_page_for_contributors_says_the_same() -> None:
    """Each line of the short table; the same command prints them."""
    page = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert [line for line in summary() if line not in page] == []


@each("key", fits())
def test_what_the_survey_says_goes_through_its_means(key: tuple[str, str]) -> None:
    """As least squares do, at the mean stature and mass; to half a millimetre, the digits of the factors."""
    fit = fits()[key]
    stature, mass = (float(SURVEY[of, key[1]]["mean"]) for of in ("stature", "mass"))
    assert fit.at(stature * MM, mass) == pytest.approx(fit.mean, abs=0.5)


def test_a_tape_that_the_landmarks_are_made_of_does_not_count() -> None:
    """A measure within a landmark, or within an estimate of one, proves nothing; each exception says why."""
    places = (*catalogue().landmarks.values(), *catalogue().skin.values())
    made_of = {name for mark in places for terms in (mark.right, mark.forward, mark.up) for name, _ in terms.times}
    assert not [tape.name for tape in tapes() if tape.measure in made_of and tape.counts != "no"]
    assert all(tape.why for tape in tapes() if tape.counts == "no")
    assert len(COUNTED) > 50


@pytest.mark.parametrize("sex", ["male", "female"])
@pytest.mark.parametrize("tape", [tape for tape in tapes() if tape.counts != "no"], ids=lambda tape: tape.name)
def test_no_tape_is_off_by_much_in_the_mean_of_small_median_and_large(tape: Tape, sex: str) -> None:
    """Before the corrections: 12 to 20 % along and round the shoulders, 13 % across the back."""
    assert abs(fmean(row.residual for row in COUNTED if row.tape == tape and row.sex == sex)) <= BIAS


@pytest.mark.parametrize("tape", [tape for tape in tapes() if tape.counts == "set"], ids=lambda tape: tape.name)
def test_what_was_set_by_the_median_man_is_right_for_him(tape: Tape) -> None:
    """To 3 %: fewer constants were set than tapes."""
    assert abs(laid(tape, "male", 50).residual) <= 0.03


def test_taut_is_what_tapes_are_over_straight_lines() -> None:
    """In the mean of all that counts the tapes are neither longer nor shorter than pulled hoses: to 1 %."""
    assert abs(fmean(row.residual for row in COUNTED)) <= 0.01


def test_the_spread_of_a_run_covers_single_bodies() -> None:
    """Spread means 95 %: so many tapes of single bodies lie within it, and hardly more."""
    assert 0.945 <= fmean(row.odds_within for row in COUNTED) <= 0.965


@each("tape", sorted({row.tape.name for row in COUNTED}))
def test_the_spread_covers_most_single_bodies_of_every_tape(tape: str) -> None:
    """The worst is the tape from fold to fold, which changes most with how the shoulders are held."""
    assert fmean(row.odds_within for row in COUNTED if row.tape.name == tape) >= 0.8


def test_the_error_of_landmarks_grows_as_that_of_a_sum() -> None:
    """Four times the run, twice the error: each landmark errs by itself."""
    assert landmark_spread(2.4) == pytest.approx(2 * landmark_spread(0.6))
    assert landmark_spread(1.0) == pytest.approx(catalogue().limits["landmark_spread"].value)


# ---- what hoses are led by ----


@each("who", STATURE_AND_MASS)
def test_a_hose_pulled_round_the_neck_is_as_long_as_the_neck_and_itself(who: tuple[str, int]) -> None:
    """Half the girth between base and larynx, and half a turn of the hose's own radius. To 2 mm.

    Before: a tenth too long for men, a seventh for women.
    """
    values = numbers(percentile(*who))
    ring = ("left of the neck", "behind the neck", "right of the neck")
    points = [point_of(catalogue().landmarks[name], values) for name in ring]
    pulled = catalogue().limits["taut"].value * sum(dist(*ends) for ends in pairwise(points))
    girth = (values["neck circumference"] + values["neck base circumference"]) / 2
    assert pulled == pytest.approx(girth / 2 + pi * HALF_HOSE_M, abs=2 * MM)


@each("who", STATURE_AND_MASS)
def test_the_strap_lies_on_the_shoulder(who: tuple[str, int]) -> None:
    """A third of the way from neck to arm the ridge is below C7 and above the point of the shoulder; the strap is thin.

    Before: 1.5 cm above C7, a good 4 cm off the skin.
    """
    values = numbers(percentile(*who))
    height = point_of(catalogue().landmarks["right shoulder by the neck"], values)[2]
    assert values["acromion height"] - values["C7 height"] < height < 0


@each("name", sorted(catalogue().routes))
def test_a_pulled_hose_that_goes_behind_the_neck_lies_on_its_side_too(name: str) -> None:
    """It slips off the strap: from behind the neck to the mouth the side of the neck is the short way."""
    path = catalogue().routes[name].in_use
    if "behind the neck" in path and path[-1] == "mouth from the right":
        assert path[path.index("behind the neck") + 1] == "right of the neck"


@each("who", STATURE_AND_MASS)
def test_the_arm_reaches_the_inflator_overhead(who: tuple[str, int]) -> None:
    """The corrugated hose ends before the hand does, of small bodies too: the survey's overhead reach."""
    values = numbers(percentile(*who))
    reach = next(laid(tape, *who) for tape in tapes() if tape.name == "overhead reach")
    held = point_of(catalogue().landmarks["inflator held overhead"], values)[2]
    assert held < reach.measured - 2 * reach.single


@each("who", STATURE_AND_MASS)
@each("name", sorted(catalogue().routes))
def test_the_landmarks_of_every_run_have_the_spread_of_its_length(name: str, who: tuple[str, int]) -> None:
    """6.5 cm for a run of one metre; 2.5 cm for the gauge of a stage, 9 cm for a long hose."""
    route = catalogue().routes[name]
    laid_out = measure_route(route, route.layouts[0], percentile(*who))
    assert laid_out is not None
    for need in laid_out.needs:
        share = need.length.components[f"landmarks of the route {name}"]
        assert share == pytest.approx(0.065 * need.length.value**0.5)


def test_a_row_says_what_it_is() -> None:
    """The median man's back: 477 mm by the survey's fit, by hand from its factors."""
    row: Row = laid(next(tape for tape in tapes() if tape.name == "back length"), "male", 50)
    assert row.measured == pytest.approx((171.4210 + 0.1321 * 1755 + 0.8670 * 84.6) * MM)
    assert row.single == pytest.approx(20.7 * MM)
    assert row.counts == "set"
    assert row.given == "stature and mass"
