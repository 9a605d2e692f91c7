"""The diver's page: the list of float checks, what one shows of body and kit, and how one is made."""

from dataclasses import replace

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.float_checks import evaluate_check
from kitbuilder.kit.diver import FloatCheck
from kitbuilder.kit.resolved import resolve
from kitbuilder.report.balance import details_page
from kitbuilder.report.diver import check_page, checks_list, first_check
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System, with_spread
from tests.assess.kits import beside, float_check, shipped
from tests.report.pages import page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
PANE = 78
"""Columns of the pane in a terminal of 80, beside its scroll bar."""
EVIL = "\x1b[2J\u202e[red]x"


def listed(*checks: FloatCheck, width: int = 40) -> list[str]:
    """The rows of the list, their runs of spaces made one."""
    diver = beside(*checks).diver
    assert diver is not None
    return [" ".join(plain(row).split()) for row in list_rows(checks_list(diver), width, METRIC)[1]]


def test_a_float_check_in_the_list_says_whether_it_counts() -> None:
    """Its tag, with nothing in it that a terminal would obey."""
    assert listed(float_check("pier")) == ["diver", "pier"]
    assert listed(float_check(EVIL, excluded=True)) == ["diver", r"\x1b[2J\u202e[red]x not counted"]
    assert listed(float_check("pier", seen=None)) == ["diver", "pier not counted"]


def test_a_long_tag_does_not_hide_that_a_check_is_not_counted() -> None:
    """The tag is cut."""
    assert listed(float_check("a very long tag of a float check", excluded=True), width=28)[1].endswith("… not counted")


@pytest.mark.parametrize("system", System)
def test_a_float_check_shows_the_same_as_on_the_balance_of_its_kit(system: System) -> None:
    """With what is computed without it."""
    check = float_check("pier", kit="twinset.toml", lead_kg=2.0)
    kit = resolve(shipped("twinset").kit, beside(check)._replace(own="twinset.toml"))
    seen = evaluate_check(check, kit)
    balance = assess(kit).balance
    assert seen is not None
    assert seen.computed is not None
    assert balance is not None
    shows, computed, *_ = page_text(check_page(check, kit, seen), system).splitlines()
    result = shows.removeprefix("What it shows: ").removesuffix(".")
    assert f"pier         {result}" in page_text(details_page(balance), system)
    assert computed == f"Computed without it: {with_spread(seen.computed, 'lift', system)} with the lead it names."


def test_a_float_check_that_is_not_counted_says_why() -> None:
    """In a sentence."""
    check = float_check("pier", kit="twinset.toml", lead_kg=2.0, excluded=True)
    kit = resolve(shipped("twinset").kit, beside(check)._replace(own="twinset.toml"))
    first = page_text(check_page(check, kit, evaluate_check(check, kit))).splitlines()[0]
    assert first.startswith("This check is not counted, the diver file excludes it; floated ")


def test_a_float_check_in_a_kit_that_is_gone_says_so() -> None:
    """By its file name, in quotes."""
    gone = float_check("pier", kit="gone.toml")
    assert page_text(check_page(gone, None, None)).startswith(
        'The kit "gone.toml" is not in this folder or cannot be read.'
    )
    assert page_text(check_page(replace(gone, kit=EVIL), None, None)).replace("\n", "").isprintable()


def test_a_check_that_the_diver_does_not_have_is_not_looked_at() -> None:
    """As while a new one is typed."""
    kit = resolve(shipped("twinset").kit, beside(float_check("pier", kit="twinset.toml")))
    assert evaluate_check(float_check("quay"), kit) is None


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, PANE, 118])
def test_the_procedure_fits_its_pane_and_says_when_to_stop(width: int, system: System) -> None:
    """In the reader's units; it stands alone where no check is selected."""
    lines = page_text(check_page(None, None, None), system, width).splitlines()
    said = " ".join(" ".join(lines).split())
    assert max(map(len, lines)) <= width
    assert {METRIC: "at about 5 m, beside a line", IMPERIAL: "at about 16 ft, beside a line"}[system] in said
    assert "with a buddy" in said
    assert "Stop if anything is wrong" in said


@pytest.mark.parametrize(
    ("system", "pressures"),
    [(METRIC, "Begin with about 50 bar. At 35 bar end"), (IMPERIAL, "Begin with about 725 psi. At 508 psi end")],
)
def test_the_procedure_keeps_a_diver_out_of_trouble(system: System, pressures: str) -> None:
    """No stop owed, own spare lead, a lowest pressure, wing and suit empty.

    Source: encyclopedia article titled "Diving weighting system": weight check with 35 to 50 bar.
    """
    said = " ".join(page_text(check_page(None, None, None), system).split())
    assert "Choose a dive that needs no stop" in said
    assert "Never make it on a dive that needs a stop" in said
    assert "Carry spare lead for the check" in said
    assert "Leave the buddy's ballast alone" in said
    assert pressures in said
    assert "Let all gas out of the wing first, then out of the drysuit" in said
    assert "the pressure of each gas, stages apart" in said


def test_a_new_check_asks_for_the_pressure_of_stages_where_there_are_any() -> None:
    """The twinset has a stage of 50 bar beside its cylinders of 60; the warm single has none."""
    twinset, single = (first_check(f"{name}.toml", "pier", shipped(name).kit) for name in ("twinset", "warm-single"))
    assert (twinset["pressure"], twinset["stage_pressure"]) == ("60 bar", "50 bar")
    assert "stage_pressure" not in single
