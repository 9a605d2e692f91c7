"""How a hose fits: the words, the figures of the pane, and the object for programs.

Stand-offs come from tests/assess/fit; here only what is said of them is checked.
"""

import re

import jsonschema
import pytest

from kitbuilder.assess.fit.fit import Fit, StockOption
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.report.cells import format_sentence
from kitbuilder.report.hose_fit import FIT, brief_fit, fit_fields, fit_words, stock_words
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, Sentence
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import hose_figures
from tests.report.pages import page_json, page_text


def said(words: Sentence, system: System = System.METRIC) -> str:
    return format_sentence(words, system).replace("\N{NO-BREAK SPACE}", " ")


def fit(figures: HoseFigures) -> Fit:
    assert figures.fit is not None
    return figures.fit


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ({"length": "75 cm", "run": "80 cm"}, "too short by 5 cm"),
        ({"length": "210 cm", "run": "50 cm"}, "too long: hangs in a loop"),
        ({"length": "75 cm", "run": "75 cm"}, "right: bows out 0 cm (0 to 7)"),
    ],
)
def test_the_fit_in_a_few_words(keys: dict[str, str], words: str) -> None:
    """75 cm on 75 cm has no slack: what it may bow out is what 1.8 cm of uncertainty allow."""
    assert said(fit_words(hose_figures(**keys).fit)) == words


def test_a_hose_without_a_run_says_so():
    assert said(fit_words(None)) == "run not measured"


def test_slack_on_purpose_is_to_spare_or_to_stow():
    found = fit(hose_figures(length="75 cm", run="74 cm"))
    assert said(fit_words(found._replace(slack_by_design="hangs"))) == "right: 1 cm to spare"
    assert said(fit_words(found._replace(slack_by_design="stowed", is_estimated=True))) == (
        "right: 1 cm to stow, estimated"
    )


@pytest.mark.parametrize(
    ("option", "words", "brief"),
    [
        (StockOption(0.55, -0.03, None, "too short"), "55 cm: 3 cm short", "55 cm: 3 cm short"),
        (StockOption(0.7, 0.05, 0.15, "right"), "70 cm: bows out 15 cm", "70 cm: 15 cm out"),
        (StockOption(0.9, 0.25, None, "right"), "90 cm: 25 cm to spare", "90 cm: 25 cm to spare"),
        (StockOption(0.9, 0.25, None, "too long"), "90 cm: a loop", "90 cm: a loop"),
    ],
)
def test_what_a_stock_length_would_give(option: StockOption, words: str, brief: str) -> None:
    assert said(stock_words(option)) == words
    assert said(stock_words(option, brief=True)) == brief


def test_the_fields_of_a_hose_that_is_too_short():
    """Too short by 5 cm: no bow, no bend, and which stock length would cover the run."""
    figures = hose_figures(length="75 cm", run="80 cm")
    lines = page_text(Page([fit_fields(figures.hose, fit(figures))])).splitlines()
    assert lines[0].split(maxsplit=1) == ["fit", "too short"]
    assert lines[1].split() == ["slack", "−5", "±", "2", "cm"]
    assert not any(line.startswith(("bows out", "bend radius", "slack at rest")) for line in lines)
    assert any(line.startswith("stock that fits") for line in lines)


def test_slack_at_rest_is_shown_where_it_was_measured():
    figures = hose_figures(length="75 cm", run="74 cm", rest_run="73.5 cm")
    text = page_text(Page([fit_fields(figures.hose, fit(figures))]))
    assert re.search(r"^slack at rest +\+2 ± 2 cm$", text, re.MULTILINE)
    assert "stock that fits" not in text


def test_programs_find_every_key_of_every_fit():
    for keys in ({"run": "80 cm"}, {"run": "70 cm"}, {"run": "20 cm"}):
        figures = hose_figures(length="75 cm", **keys)
        found = page_json(Page([fit_fields(figures.hose, fit(figures))]))
        jsonschema.validate(found, FIT | {"$defs": DEFINITIONS})
    short = hose_figures(length="75 cm", run="80 cm")
    found = page_json(Page([fit_fields(short.hose, fit(short))]))
    assert found["slack_m"]["value"] == pytest.approx(-0.05)
    assert found["run_m"]["value"] == pytest.approx(0.8)
    assert (found["verdict"], found["stand_off_m"], found["tightest_radius_m"]) == ("too short", None, None)


def test_the_brief_form_keeps_slack_bend_and_the_lengths_around():
    found = fit(hose_figures(length="75 cm", run="80 cm"))
    lines = [said(words) for words in brief_fit(found)]
    assert lines[0] == "slack −5 ± 2 cm"
    assert lines[1].startswith("or ")
    assert found.shorter is not None
    assert found.longer is not None
    for option in (found.shorter, found.longer):
        assert said(stock_words(option, brief=True)) in lines[1]
