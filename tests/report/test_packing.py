"""The page of a packing: text and JSON say the same, and every word of the plan has words here."""

import json
import random
from typing import Any

import jsonschema
import pytest

from kitbuilder.plans.packing import choices as why
from kitbuilder.plans.packing.packing import Packing, pack
from kitbuilder.plans.packing.records import BODY, CABIN, HOLD, LEAVE, RENT, SWAP, Leg, Option, PackingTask
from kitbuilder.report.numbers import System
from kitbuilder.report.packing import SHAPE, packing_page
from kitbuilder.report.packing_missing import MISSING_WORDS
from kitbuilder.report.shapes import DEFINITIONS
from tests.plans.packing_cases import (
    CABIN_ONLY,
    DUFFEL,
    HOLD_ONLY,
    NO_FLIGHT,
    RUCKSACK,
    VEST,
    bag,
    drawn_task,
    item,
    kg,
)
from tests.report.pages import page_json, page_text

LATER = float("inf")


def data_of(found: Packing) -> dict[str, Any]:
    """As a program reads it, held against its shape."""
    data: dict[str, Any] = json.loads(json.dumps(page_json(packing_page(found, "EUR")), allow_nan=False))
    jsonschema.Draft202012Validator({**SHAPE, "$defs": DEFINITIONS}).validate(data)
    return data


@pytest.fixture(scope="module")
def tight() -> Packing:
    """11 kg in the hold and 15 kg together: fins stay, the lamp is rented, the wing swapped, the knife is left over."""
    items = (
        item("cells", 0.4, CABIN_ONLY._replace(needs_approval=True), spread=0.02),
        item("knife", 0.3, HOLD_ONLY, spread=0.05),
        item("suit", 6.8, spread=0.8),
        item("fins", 2.2, spread=0.2, options=(Option(LEAVE),)),
        item("lamp", 1.0, options=(Option(RENT, 5.0),)),
        item("wing", 3.0, options=(Option(SWAP, 30.0, kg(1.1, 0.1), name="travel wing"),)),
        item("cylinder", 12.0, NO_FLIGHT),
        item("camera", 3.0, pinned="rucksack"),
    )
    legs = (
        Leg("long haul", hold_piece_kg=23, cabin_piece_kg=8),
        Leg("island hop", hold_piece_kg=11, cabin_piece_kg=6, total_kg=15),
    )
    return pack(PackingTask(items, (DUFFEL, RUCKSACK, bag("chest", mass_kg=30)), legs), time_limit_s=LATER)


def test_the_page_answers_what_where_why_and_how_likely(tight):
    words = " ".join(page_text(packing_page(tight, "EUR"), width=200).split())
    for said in (
        "4 items in 2 bags. 2 items found no place. Each limit holds with a probability of 95 % or more",
        '"cylinder": It may not fly. A filled cylinder may not fly. Rent it there',
        "wing swap it for travel wing 1.90 kg 30.00 EUR",
        "camera 3.00 ± 0.00 kg pinned here",
        "cells 0.40 ± 0.02 kg Spare cells stay in the cabin.",
        'One piece in the hold: "long haul" would allow 23.00 kg; the strictest leg counts.',
        '"chest" is heavier than its limit when empty, by "island hop".',
        "Confirm limits and rules with the airline",
    ):
        assert said in words


def test_an_item_that_is_short_of_room_says_how_likely_it_would_hold(tight):
    """15 kg together: 14.3 + 0.3 kg, spread 0.81 kg. (15 - 14.6) / (0.808/1.96) = 0.970 deviations: 83 % (tables)."""
    knife = next(each for each in data_of(tight)["missing"] if each["tag"] == "knife")
    assert (knife["why"], knife["bag"]) == (why.NO_ROOM, "duffel")
    assert knife["chance"] == pytest.approx(0.834, abs=0.001)
    assert 'In "duffel" as well, all limits would hold with a probability of 83 %.' in page_text(packing_page(tight))


def test_json_has_every_item_once(tight):
    data = data_of(tight)
    inside = [each["tag"] for packed in data["bags"] for each in packed["items"]]
    away = [each["tag"] for each in data["instead"] if each["do"] != SWAP]
    assert sorted(inside + away + [each["tag"] for each in data["missing"]]) == sorted(
        each.tag for each in tight.task.items
    )
    assert data["price"] == 35.0
    assert [each["tag"] for each in data["approvals"]] == ["cells"]


def test_every_reason_has_words():
    reasons = {value for name, value in vars(why).items() if name.isupper() and isinstance(value, str)}
    assert set(MISSING_WORDS) == reasons


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [40, 80, 120])
def test_any_packing_has_a_page(system, width):
    for case in range(6):
        found = pack(drawn_task(random.Random(9000 + case)), time_limit_s=LATER)
        data_of(found)
        lines = page_text(packing_page(found), system, width).splitlines()
        assert max(map(len, lines)) <= width


def test_a_packing_that_is_not_proved_says_so():
    found = pack(PackingTask((item("mask", 0.3), item("fins", 1.9)), (DUFFEL, VEST), ()), time_limit_s=0.0)
    unproved = found._replace(
        proof=found.proof._replace(comes_to={"largest use": 90_000}, bounds={"largest use": 85_000})
    )
    words = " ".join(page_text(packing_page(unproved)).split())
    assert "The best found in the time allowed; a better one may exist." in words
    assert "at least 85 % of the tightest limit is used" in words


@pytest.mark.parametrize("bags", [(), (DUFFEL,)])
def test_nothing_packed_is_said(bags):
    assert "Nothing is packed." in page_text(packing_page(pack(PackingTask((), bags, ()))))


def test_legs_that_contradict_are_named():
    legs = (Leg("no hold", hold_pieces=0), Leg("no cabin", cabin_pieces=0))
    words = page_text(packing_page(pack(PackingTask((item("mask", 0.3),), (DUFFEL, RUCKSACK), legs))))
    assert 'The legs contradict each other: "no hold" takes nothing in the hold, "no cabin" nothing' in words
    assert {bag.place for bag in (DUFFEL, RUCKSACK)} == {HOLD, CABIN}


def test_a_leg_that_takes_nothing_is_said_once_for_all_items():
    """With a limit of zero nothing is said of missing limits, of contradictions, or of a proof."""
    items = (item("mask", 0.3), item("fins", 1.9), item("papers", 0.2, may_go=frozenset({BODY})))
    found = pack(PackingTask(items, (DUFFEL, RUCKSACK, VEST), (Leg("bus", hold_piece_kg=0.0, cabin_pieces=0),)))
    words = " ".join(page_text(packing_page(found)).split())
    assert '"bus" takes nothing, neither in the hold nor in the cabin.' in words
    assert words.count("No bag can be used.") == 1
    assert '"mask", "fins": No bag can be used. See why under the bags that cannot be used.' in words
    assert not [each for each in ("No limit is given", "contradict", "Proved") if each in words]
    assert [each["tag"] for each in data_of(found)["missing"]] == ["mask", "fins"]
