"""A page as JSON: SI, honest digits, keys that name their unit."""

import json
from datetime import date
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from kitbuilder.assess.figures import Figure, Range, from_catalogue
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.catalogue import Value
from kitbuilder.report.answer import Answer
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Amounts,
    BothUnits,
    Column,
    Duration,
    Estimate,
    Fact,
    Facts,
    Interval,
    Page,
    Section,
    Series,
    Share,
    Statement,
    Statements,
    StockLength,
    Table,
    Tag,
    Values,
    only_data,
    text,
)
from kitbuilder.report.renderers.json import page_data, render, rounded
from kitbuilder.report.shapes import DEFINITIONS, FIGURE


def data_of(*rows):
    return page_data(Page([only_data(*rows)]))


def figure_of(value: float, spread: float):
    return data_of(("mass_kg", Estimate(Figure(value, {"own": spread}, "weighed"), "mass")))["mass_kg"]


def test_an_amount_loses_the_noise_of_arithmetic():
    """28 in is 0.7112 m exactly (the inch is 25.4 mm: ISO 31-1:1992, annex A)."""
    assert data_of(("length_m", Amount(28 * 0.0254, "length"))) == {"length_m": 0.7112}


def test_a_figure_has_the_digits_of_its_spread_and_one_more():
    """JCGM 100:2008, 7.2.6: a spread to two digits, further ones against rounding errors."""
    assert figure_of(3.2384917, 2.7181828) == {"value": 3.24, "spread": 2.72, "origin": "weighed"}
    assert figure_of(0.28213, 0.00046123) == {"value": 0.28213, "spread": 0.000461, "origin": "weighed"}
    assert figure_of(1 / 3, 0.0) == {"value": 0.333333, "spread": 0.0, "origin": "weighed"}


def test_a_lopsided_figure_has_the_ends_of_its_range_too():
    """From 12.2 to 14.2 to 15.5 kg: the mean is 14.025; 95 % lie from 12.3 to 15.435, covered a little wider."""
    lopsided = from_catalogue("mass", Value(14.2, 12.2, 15.5, "an example"))
    data = data_of(("mass_kg", Estimate(lopsided, "mass")))["mass_kg"]
    assert data["value"] == pytest.approx(14.025, abs=0.006)
    assert (data["low"], data["high"]) == (pytest.approx(12.3, abs=0.1), pytest.approx(15.435, abs=0.12))
    assert data["spread"] == pytest.approx((data["high"] - data["low"]) / 2, abs=0.01)
    Draft202012Validator(FIGURE | {"$defs": DEFINITIONS}).validate(data)
    # One end alone says nothing.
    del data["low"]
    assert not Draft202012Validator(FIGURE | {"$defs": DEFINITIONS}).is_valid(data)


@given(value=st.floats(-1e6, 1e6), spread=st.floats(1e-8, 1e6))
def test_rounding_costs_less_than_a_hundredth_of_the_spread(value, spread):
    found = figure_of(value, spread)
    assert abs(found["value"] - value) <= 0.005 * spread * 1.001 + 1e-9
    assert found["spread"] == pytest.approx(spread, rel=0.006)


@given(st.floats(-1e9, 1e9))
def test_a_number_keeps_six_digits(value):
    assert rounded(value) == pytest.approx(value, rel=1e-5, abs=0)


def test_there_is_no_minus_zero():
    assert json.dumps(rounded(-0.0)) == "0.0"


def test_a_key_that_does_not_name_its_unit_is_refused():
    with pytest.raises(AssertionError, match="'_m'"):
        data_of(("length", Amount(1.0, "length")))
    with pytest.raises(AssertionError, match="'_m'"):
        data_of(("length", StockLength(0.75)))
    with pytest.raises(AssertionError, match="'_kg'"):
        data_of(("masses", Values([Amount(1.0, "mass")])))
    with pytest.raises(AssertionError, match="'_s'"):
        data_of(("time", Duration(Range(80.0, 43.0, 180.0))))


def test_a_time_is_in_seconds_and_a_share_keeps_its_spread():
    """However they are written for people."""
    assert data_of(("time_s", Duration(Range(200.0, 106.5, 461.0)))) == {
        "time_s": {"value": 200.0, "low": 106.5, "high": 461.0}
    }
    half = Figure(0.5, {"filling": 0.0071}, "filling, by mass")
    assert data_of(("gas_left", Share(half))) == {
        "gas_left": {"value": 0.5, "spread": 0.0071, "origin": "filling, by mass"}
    }


def test_a_value_in_both_units_is_in_si_once():
    pair = data_of(("length_m", StockLength(30 * 0.0254)), ("other_m", BothUnits(Amount(0.7, "length"))))
    assert pair == {"length_m": 0.762, "other_m": 0.7}


def test_a_share_with_a_spread_is_a_figure():
    found = data_of(("lost", Share(Figure(0.5, {"gauge": 0.034}, "read off"))), ("kept", Share(0.5)))
    assert found == {"lost": {"value": 0.5, "spread": 0.034, "origin": "read off"}, "kept": 0.5}


def test_a_key_stands_once():
    with pytest.raises(AssertionError, match="twice"):
        page_data(Page([only_data(("name", "a")), only_data(("name", "b"))]))


def test_every_kind_of_part_has_its_place():
    page = Page(
        [
            text("A heading"),
            text("Slack of ", Tag("long hose"), ": ", Amount(0.05, "slack"), key="says"),
            Section("Hoses", [Table("hoses", [Column("tag", "hose"), Column("", "fit")], [[Tag("long"), "fits"]])]),
            Section("Water", [Facts([Fact("name", "water", "fresh")])], key="water"),
            Series("kits", [Section("A", [only_data(("name", Tag("A")))])]),
            Statements(
                "steps", [Statement(("Fit it.",), data=[Fact("verb", "", "fit"), Fact("odds", "", Share(0.123456))])]
            ),
            only_data(
                ("day", date(2026, 3, 1)),
                ("signal", Signal.CAUTION),
                ("known", None),
                ("lengths_m", Values([Amount(0.7, "length")])),
                ("gauges_pa", Amounts((232e5, 200e5), "pressure")),
                ("gap_m", Interval(Range(0.11, 0.09, 0.13), "length")),
            ),
        ]
    )
    assert page_data(page) == {
        "says": 'Slack of "long hose": +5 cm',
        "hoses": [{"tag": "long"}],
        "water": {"name": "fresh"},
        "kits": [{"name": "A"}],
        "steps": [{"verb": "fit", "odds": 0.1235}],
        "day": "2026-03-01",
        "signal": "caution",
        "known": None,
        "lengths_m": [0.7],
        "gauges_pa": [23.2e6, 20e6],
        "gap_m": {"value": 0.11, "low": 0.09, "high": 0.13},
    }


def test_the_envelope_is_the_same_without_an_answer():
    """And nothing in it depends on the reader's units or width."""
    empty = Answer("check", (), (), None)
    assert json.loads(render(empty, System.METRIC, 80)) == {
        "format": 1,
        "command": "check",
        "files": [],
        "problems": [],
        "result": None,
    }
    assert render(empty, System.IMPERIAL, 60) == render(empty, System.METRIC, 80)


def test_what_is_not_finite_is_refused():
    """JSON has no word for it."""
    with pytest.raises(ValueError, match=r"[Oo]ut of range"):
        render(Answer("check", (), (), Page([only_data(("length_m", Amount(inf, "length")))])), System.METRIC, 80)
