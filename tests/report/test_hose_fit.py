"""How a hose fits: the words, the figures of the pane, and the object for programs.

Stand-offs come from tests/assess/fit; here only what is said of them is checked.
"""

import re
from dataclasses import replace

import jsonschema
import pytest

from kitbuilder.assess.fit.fit import Fit, rest_curve
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.hoses.joints import joints_of
from kitbuilder.kit.items import FirstStage
from kitbuilder.pictures.hose_curve import draw_hose_curve
from kitbuilder.report.cells import format_sentence
from kitbuilder.report.hose_fit import FIT, brief_fit, curve_words, fit_fields, fit_words, hose_fit_words, stock_words
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, Sentence
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import hose_figures, shipped
from tests.report.pages import page_json, page_text


def said(words: Sentence, system: System = System.METRIC) -> str:
    return format_sentence(words, system).replace("\N{NO-BREAK SPACE}", " ")


def fit(figures: HoseFigures) -> Fit:
    assert figures.fit is not None
    return figures.fit


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"length": "75 cm", "run": "80 cm"}, "too short by 5 ± 2 cm"),
        ({"length": "210 cm", "run": "50 cm"}, "too long: hangs in a loop"),
        ({"length": "75 cm", "run": "75 cm"}, "measure first: 0 ± 2 cm to spare"),
        ({"length": "75 cm", "run": "76 cm"}, "measure first: 1 ± 2 cm missing"),
        ({"length": "75 cm", "run": "72 cm", "span": "12 cm"}, "fits: bows out 4 cm (2 to 5)"),
        ({"length": "75 cm", "run": "70 cm", "span": "65 cm"}, "slack: bows out 12 cm (9 to 14)"),
    ],
)
def test_the_fit_in_a_few_words(keys: dict[str, str], words: str) -> None:
    """1.8 cm are uncertain. 3 cm over 12 and 5 over 65 bow out by (2 / pi) sqrt(slack x span), and 3/16 of slack over
    span more: 4.0 cm, from 2.5 to 5.2; 11.6 cm, from 9.3 to 13.6.
    """
    assert said(fit_words(hose_figures(**({"role": "other LP"} | keys)).fit)) == words


def test_a_hose_without_a_run_says_so():
    assert said(fit_words(None)) == "run not measured"


@pytest.mark.parametrize(
    ("run", "words"),
    [
        ("80 cm", "does not connect; too short by 5 ± 2 cm"),
        ("75 cm", "does not connect; 0 ± 2 cm to spare"),
        ("70 cm", "does not connect; bows out 12 cm (9 to 14)"),
        (None, "does not connect; run not measured"),
    ],
)
def test_a_hose_that_does_not_connect_never_fits(run: str | None, words: str):
    """A hose end 3/8-24 in a port 1/2-20."""
    keys = {"length": "75 cm", "run": run, "span": "65 cm"} if run else {"length": "75 cm"}
    figures = hose_figures(role="other LP", **keys)
    stage = FirstStage(tag="first", ports=("LP1 1/2-20 UNF",))
    joints = joints_of(replace(figures.hose, from_="first LP1", from_end="LP 3/8"), {"first": stage})
    assert said(hose_fit_words(figures._replace(joints=joints))) == words


def test_slack_on_purpose_is_to_spare_or_to_stow():
    found = fit(hose_figures(role="other LP", length="75 cm", run="72 cm"))
    hangs, stowed = (found._replace(trial=found.trial._replace(slack_by_design=how)) for how in ("hangs", "stowed"))
    assert said(fit_words(hangs)) == "fits: 3 ± 2 cm to spare"
    assert said(fit_words(stowed)) == "fits: 3 ± 2 cm to stow"


@pytest.mark.parametrize(
    ("keys", "words", "brief"),
    [
        ({"length": "50 cm", "run": "59 cm"}, "56 cm: 3 cm short", "56 cm: 3 cm short"),
        ({"length": "50 cm", "run": "57 cm"}, "56 cm: may be too short", "56 cm: perhaps short"),
        ({"length": "50 cm", "run": "55 cm"}, "56 cm: may be too short", "56 cm: perhaps short"),
        ({"length": "66 cm", "run": "65 cm", "span": "65 cm"}, "70 cm: bows out 12 cm", "70 cm: bows out 12 cm"),
        ({"length": "80 cm", "run": "65 cm", "span": "12 cm"}, "90 cm: a loop", "90 cm: a loop"),
    ],
)
def test_what_a_stock_length_would_give(keys: dict[str, str], words: str, brief: str) -> None:
    """The next longer one. 1.8 cm are uncertain: 1 cm short or to spare says nothing. 5 cm over 65 bow out 11.6 cm,
    25 cm over 12 are beyond three spans.
    """
    longer = fit(hose_figures(role="other LP", **keys)).longer
    assert longer is not None
    assert said(stock_words(longer)) == words
    assert said(stock_words(longer, brief=True)) == brief


def test_the_fields_of_a_hose_that_is_too_short():
    """Too short by 5 cm: no bow, no bend, and which stock length would cover the run."""
    figures = hose_figures(role="other LP", length="75 cm", run="80 cm")
    lines = page_text(Page([fit_fields(figures.hose, fit(figures))])).splitlines()
    assert lines[0].split(maxsplit=1) == ["fit", "too short"]
    assert lines[1].split() == ["decided", "by", "as", "measured"]
    assert lines[2].split() == ["slack", "−5", "±", "2", "cm"]
    assert not any(line.startswith(("bows out", "bend radius", "slack at rest")) for line in lines)
    assert any(line.startswith("certain to reach") for line in lines)


def test_slack_at_rest_is_shown_where_it_differs():
    figures = hose_figures(role="other LP", length="75 cm", run="73 cm", rest_run="72.5 cm")
    text = page_text(Page([fit_fields(figures.hose, fit(figures))]))
    assert re.search(r"^slack at rest +\+2 ± 2 cm$", text, re.MULTILINE)
    assert "certain to reach" not in text


def test_programs_find_every_key_of_every_fit():
    for keys in ({"run": "80 cm"}, {"run": "70 cm"}, {"run": "20 cm"}):
        figures = hose_figures(role="other LP", length="75 cm", **keys)
        found = page_json(Page([fit_fields(figures.hose, fit(figures))]))
        jsonschema.validate(found, FIT | {"$defs": DEFINITIONS})
    short = hose_figures(role="other LP", length="75 cm", run="80 cm")
    found = page_json(Page([fit_fields(short.hose, fit(short))]))
    assert found["slack_m"]["value"] == pytest.approx(-0.05)
    assert found["run_m"]["value"] == pytest.approx(0.8)
    assert (found["verdict"]["outcome"], found["verdict"]["fault"]) == ("does not fit", "too short")
    assert (found["stand_off_m"], found["tightest_radius_m"]) == (None, None)


def test_the_brief_form_keeps_slack_bend_and_the_lengths_around():
    found = fit(hose_figures(role="other LP", length="75 cm", run="80 cm"))
    lines = [said(words) for words in brief_fit(found)]
    assert lines[0] == "slack at rest −5 ± 2 cm"
    assert lines[1].startswith("or ")
    assert found.shorter is not None
    assert found.longer is not None
    for option in (found.shorter, found.longer):
        assert said(stock_words(option, brief=True)) in lines[1]


@pytest.mark.parametrize("plain", [False, True], ids=["dots", "plain"])
def test_the_pictures_of_hoses_at_rest(screen, plain):
    """Read with the eye: the hoses of a twinset that lie in a curve, at both sizes of the pane, with their lengths."""
    lines = []
    for figures in shipped("twinset").hoses:
        points = rest_curve(figures.fit, 97) if figures.fit else ()
        if points:
            words = curve_words(figures.hose, figures.fit, System.METRIC)
            for size in ((38, 4), (43, 9)):
                lines += [figures.hose.tag, *draw_hose_curve(points, *size, words=words, plain=plain), ""]
    assert len(lines) > 60
    assert "\n".join([*(line.rstrip() for line in lines), ""]) == screen


def test_the_lengths_in_the_picture_are_those_of_the_hose():
    """As the file has them, with the slack that is left: 210 less 25 stowed is 3 more than 182."""
    [long] = [figures for figures in shipped("twinset").hoses if figures.hose.tag == "long hose"]
    words = curve_words(long.hose, long.fit, System.METRIC)
    assert (words.hose, words.run, words.slack, words.span) == ("hose 210 cm", "run 182 cm", "slack 3 cm", "span 60 cm")
    assert long.fit.stowed_m == pytest.approx(0.25)
