"""The list to take to a counter."""

import jsonschema
import pytest

from kitbuilder.catalogue import catalogue
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.shapes import DEFINITIONS, record
from kitbuilder.report.shopping import SHOPPING_KEYS, HosesToBuy, ShoppingTotal, shopping_section
from tests.report.pages import page_json, page_text

FITTINGS = catalogue().fittings
HOSE = HosesToBuy(
    pieces=2,
    tags=("primary hose", "octopus hose"),
    length_m=0.75,
    measured=None,
    is_made=False,
    service="LP",
    body="rubber",
    at_first_stage=FITTINGS["LP 3/8"],
    at_device=FITTINGS["second stage 9/16"],
)
PRICED = HOSE._replace(price=51.0, stock_tag="B-75")
EUROS = ShoppingTotal(51.0, 0, "EUR")
UNPRICED = ShoppingTotal(None, 2, None)


def lines(hoses, total, system=System.METRIC, width=100):
    return page_text(Page([shopping_section(hoses, total)]), system, width).splitlines()


def data(hoses, total):
    found = page_json(Page([shopping_section(hoses, total)]))
    jsonschema.Draft202012Validator(record(**SHOPPING_KEYS) | {"$defs": DEFINITIONS}).validate(found)
    return found


def test_all_that_a_shop_has_to_know_stands_in_the_list():
    assert lines([PRICED], EUROS) == [
        "To buy",
        '  2 × 75 cm (30 in), LP, rubber, "B-75", 51.00 EUR',
        "    First stage end: LP 3/8 (male 3/8-24 UNF)",
        "    Other end: second stage 9/16 (female 9/16-18 UNF)",
        '    For "primary hose", "octopus hose"',
        "",
        "  Together 51.00 EUR",
    ]


def test_inches_come_first_in_imperial_units():
    assert lines([PRICED], EUROS, System.IMPERIAL)[1].startswith("  2 × 30 in (75 cm), LP")


def test_what_has_no_price_is_counted():
    assert lines([PRICED, HOSE], EUROS._replace(without_price=2))[-1] == "  Together 51.00 EUR, and 2 without a price"
    assert not any("Together" in line for line in lines([HOSE], UNPRICED))


def test_a_price_without_a_currency_is_a_number():
    assert lines([PRICED], ShoppingTotal(51.0, 0, None))[1].endswith('"B-75", 51.00')


def test_a_hose_that_has_to_be_made_is_reported_in_the_reader_s_unit():
    made = HOSE._replace(length_m=0.77, is_made=True)
    assert lines([made], UNPRICED)[1] == "  2 × 77 cm, made to measure, LP, rubber"
    assert lines([made], UNPRICED, System.IMPERIAL)[1] == "  2 × 30.3 in, made to measure, LP, rubber"


def test_a_hose_sold_without_its_ends_is_asked_for_so():
    assert " without its ends, LP" in lines([HOSE._replace(measured="hose only")], UNPRICED)[1]


def test_an_empty_list_says_why():
    assert lines([], UNPRICED._replace(without_price=0)) == ["To buy: nothing"]
    assert data([], UNPRICED._replace(without_price=0)) == {
        "to_buy": [],
        "price": None,
        "currency": None,
        "hoses_without_price": 0,
    }


def test_json_has_the_same_in_metres():
    found = data([PRICED], EUROS)
    [item] = found["to_buy"]
    assert item == {
        "count": 2,
        "for": ["primary hose", "octopus hose"],
        "length_m": 0.75,
        "measured": None,
        "is_made": False,
        "oxygen_clean": False,
        "service": "LP",
        "body": "rubber",
        "first_stage_end": {"name": "LP 3/8", "joint": "3/8-24 UNF", "gender": "male"},
        "device_end": {"name": "second stage 9/16", "joint": "9/16-18 UNF", "gender": "female"},
        "adapters": [],
        "or_adapters": [],
        "only_from_maker": False,
        "odds": None,
        "stock_tag": "B-75",
        "price": 51.0,
    }
    assert (found["price"], found["currency"], found["hoses_without_price"]) == (51.0, "EUR", 0)


@pytest.mark.parametrize("width", [60, 80, 100])
def test_nothing_from_a_file_is_obeyed_and_no_line_is_too_long(width):
    evil = HOSE._replace(tags=("\x1b[2J\u202e hose",) * 5, stock_tag="\x1b[2J", price=1.0)
    found = lines([evil], ShoppingTotal(1.0, 0, "\x1b[2JEUR"), width=width)
    assert all(line.isprintable() and len(line) <= width for line in found)
    assert any(r"\x1b[2JEUR" in line for line in found)
