"""The page of swaps: a row for each, what they bring, hoses last, and the words of the picture."""

import json

import jsonschema
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.pictures.canvas import text_lines
from kitbuilder.pictures.front import draw_front
from kitbuilder.plans.rental_card import make_card
from kitbuilder.plans.swaps.options import RENTED
from kitbuilder.plans.swaps.swaps import Swaps, plan_swaps
from kitbuilder.report.numbers import System, with_spread
from kitbuilder.report.page import Page
from kitbuilder.report.rental_card import SHAPE as CARD
from kitbuilder.report.rental_card import card_page
from kitbuilder.report.shapes import DEFINITIONS
from kitbuilder.report.swap_pictures import front_data
from kitbuilder.report.swaps import set_page, sets_table, swap_page, swaps_page, swaps_table
from kitbuilder.report.swaps_data import SHAPE
from tests.assess.kits import shipped
from tests.laws import tried
from tests.report.pages import page_json, page_text
from tests.report.test_any_kit import divers, kits, stocks


@pytest.fixture(scope="module")
def plan() -> Swaps:
    return plan_swaps(shipped("warm-single").kit)


@pytest.fixture(scope="module")
def cold() -> Swaps:
    return plan_swaps(shipped("cold-single").kit)


def flat(page: Page) -> str:
    return " ".join(page_text(page).split())


def test_each_swap_has_a_row_in_the_list(plan: Swaps) -> None:
    table = swaps_table(plan)
    assert len(table.rows) == len(plan.swaps)
    assert len(page_json(swaps_page("kit.toml", plan))["swaps"]) == len(plan.swaps)


def test_the_text_says_what_hoses_save_against_the_rest(plan: Swaps) -> None:
    """Four rubber hoses of 75, 90, 61 and 80 cm: at most 105 less 64 g/m of 2.26 m, and 107 less 42 g/m of 0.8 m."""
    assert plan.hoses is not None
    assert 0.10 < plan.hoses.effect.saved.value < 0.041 * 2.26 + 0.065 * 0.80
    assert "All hoses together (4 lighter hoses) save 0.13 kg. Each of these alone saves more:" in flat(
        swaps_page("kit.toml", plan)
    )
    first = plan.swaps[0].effect.saved
    assert f'{with_spread(first, "mass", System.METRIC)}, "' in flat(swaps_page("kit.toml", plan)), "as in the table"
    assert "with cylinders empty" in flat(swaps_page("kit.toml", plan))


def test_without_other_swaps_hoses_are_not_called_last(plan: Swaps) -> None:
    hoses_only = plan._replace(swaps=tuple(swap for swap in plan.swaps if swap.is_of_hose), sets=())
    said = flat(swaps_page("kit.toml", hoses_only))
    assert "more than any other swap" in said
    assert "Swap hoses last" not in said


def test_what_a_swap_brings_and_takes_away_is_said(cold: Swaps) -> None:
    """A plate that sinks less leaves a flooded drysuit less heavy."""
    lightest = next(swap for swap in cold.swaps if swap.option.new == "back-plate, carbon or soft")
    said = flat(swap_page(cold, lightest))
    assert "No longer found" in said
    assert "flooded" in said


def test_what_is_given_up_is_said(plan: Swaps) -> None:
    jacket = next(swap for swap in plan.swaps if swap.option.kind == RENTED and swap.tags == ("jacket",))
    assert "gives up a jacket that is known to fit" in flat(swap_page(plan, jacket))


def test_a_hose_says_what_becomes_of_its_fit(cold: Swaps) -> None:
    hose = next(swap for swap in cold.swaps if swap.is_of_hose)
    assert " fit fits " in flat(swap_page(cold, hose))


def test_each_set_has_a_page(plan: Swaps) -> None:
    for found in plan.sets:
        said = flat(set_page(plan, found))
        assert all(swap.tags[0] in said for swap in found.swaps)


@pytest.mark.parametrize("system", System)
def test_every_letter_of_the_picture_stands_in_the_table(system: System, cold: Swaps) -> None:
    data = front_data(cold, system)
    letters = [row[0] for row in sets_table(cold).rows]
    assert [letter for _, letter in data.points] == letters
    lines = text_lines(draw_front(data, 60, 16))
    assert all(any(f"{letter}" in line[8:] for line in lines[:-1]) for letter in letters)


def test_an_axis_has_no_part_below_zero_that_nothing_needs(plan: Swaps) -> None:
    assert front_data(plan, System.METRIC).y_ticks[0] == (0.0, "0")


def test_small_changes_are_drawn_in_grams(plan: Swaps) -> None:
    """Of the lead, which no set changes by a kilogram here; the bag is in kilograms."""
    assert all(abs(found.effect.lead.value) < 1 for found in plan.sets if found.effect.lead)
    data = front_data(plan, System.METRIC)
    assert (data.x_ticks[-1][1].split()[-1], data.y_ticks[-1][1].split()[-1]) == ("g", "kg")


@tried(6)
@given(kit=kits, diver=st.none() | divers, stock=st.none() | stocks, system=st.sampled_from(System))
def test_any_kit_has_its_swaps_and_its_card(kit, diver, stock, system) -> None:
    """Whatever a file may say; no line is too long, and JSON keeps to its shape."""
    resolved = resolve(kit, LinkedFiles("own.toml", diver, (), stock=stock))
    plan = plan_swaps(resolved)
    card = card_page("own.toml", [make_card(resolved)], ())
    for page, shape in ((swaps_page("own.toml", plan), SHAPE), (card, CARD)):
        lines = page_text(page, system, 60).splitlines()
        assert not {"nan", "inf"} & set(" ".join(lines).lower().split())
        assert max(map(len, lines)) <= 60
        jsonschema.validate(json.loads(json.dumps(page_json(page), allow_nan=False)), shape | {"$defs": DEFINITIONS})
    assert len(draw_front(front_data(plan, system), 40, 10)) == 10
