"""The trim in words: which way a level diver turns, how the diver comes to lie, and what would level the diver."""

import json
import re
from typing import Any

import pytest

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.trim import Pitch, Shift, Trim
from kitbuilder.assess.figures import Figure
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.trim_section import brief_trim_page, trim_page, trim_section
from tests.assess.kits import PLAIN, WHOLE, WRONG, balance_of, kit_of, shipped, swapped, without
from tests.report.pages import page_json, page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
ALL = [*WHOLE, WRONG]
NARROW = 31
"""Columns beside the plot in a terminal of 80."""


def of_config(name: str) -> Balance:
    """The balance of a kit that comes with the program."""
    found = shipped(name).balance
    assert found is not None
    return found


def section_lines(trim: Trim, system: System = METRIC) -> list[str]:
    """The lines of the section, their runs of spaces made one."""
    return [" ".join(line.split()) for line in page_text(Page([trim_section(trim)]), system, 120).splitlines()]


def turn(moment: Figure, system: System) -> str:
    """A moment in words, by hand: a pound-foot is 0.45359237 times 0.3048 kg·m; plus puts the head down."""
    factor, unit = {METRIC: (1.0, "kg·m"), IMPERIAL: (0.45359237 * 0.3048, "lb·ft")}[system]
    way = "down" if moment.value > 0 else "up"
    decimals = 1 if moment.spread / factor < 9.95 else 0  # two digits of the spread at most
    return f"head-{way} {abs(moment.value) / factor:.{decimals}f} ± {moment.spread / factor:.{decimals}f} {unit}"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_trim_in_rows(name: str, system: System) -> None:
    """Which way a level diver turns at both ends, by kit and by body."""
    trim = of_config(name).trim
    lines = section_lines(trim, system)
    assert any(line.startswith(f"gas full {turn(trim.start.moment, system)}") for line in lines)
    assert any(line.startswith(f"reserve {turn(trim.end.moment, system)}") for line in lines)
    assert f"kit, gas full {turn(trim.start.kit, system)}" in lines
    assert f"kit, reserve {turn(trim.end.kit, system)}" in lines
    assert f"body alone {turn(trim.end.body, system)}" in lines


def pitch(at: float, low: float, high: float, *, steady: bool = True) -> Pitch:
    moment = Figure(-1.2, {"all": 0.4}, "")
    return Pitch("filled", moment, moment, moment, at, low, high, steady)


@pytest.mark.parametrize(
    ("found", "words"),
    [
        (pitch(0.2, 0.05, 0.35), "head-up 11° (3° to 20°)"),
        (pitch(0.2, -0.05, 0.35), "head-up 11° (head-down 3° to 20°)"),
        (pitch(-0.2, -0.35, 0.05), "head-down 11° (20° to head-up 3°)"),
        (pitch(0.004, -0.004, 0.2), "level (level to head-up 11°)"),
        (pitch(0.0, -0.9, 0.9), "at any pitch"),
        (pitch(0.2, -0.05, 0.35, steady=False), "only fins hold it level"),
    ],
)
def test_how_a_diver_comes_to_lie(found: Pitch, words: str) -> None:
    """0.2 rad are 11.5 degrees; what may be off by a right angle is not named, nor where the diver turns away from."""
    trim = Trim((), found, found, Shift(None, 0.0))
    assert f"gas full head-up 1.2 ± 0.4 kg·m {words}" in section_lines(trim)
    assert f"gas full head-up 8.7 ± 2.9 lb·ft {words}" in section_lines(trim, IMPERIAL)
    assert f"head-up 1.2 ± 0.4 kg·m; left alone: {words}" in " ".join(page_text(trim_page(trim)).split())


@pytest.mark.parametrize(
    ("shift", "words"),
    [
        (
            Shift(0.1, 1.4, at_waist_kg=2.0),
            "move all lead 10 cm towards the head, or 1.4 kg of lead from the waist to the",
        ),
        (Shift(-0.1, -1.4, at_waist_kg=1.4), "10 cm towards the feet, or 1.4 kg of lead from the waist to the ankles."),
        (Shift(0.1, 5.4, at_waist_kg=2.0), "move all lead 10 cm towards the head."),
        (
            Shift(0.8, 1.4, leaves_body=True, at_waist_kg=2.0),
            "move 1.4 kg of lead from the waist to the upper cylinder.",
        ),
        (
            Shift(0.8, 5.4, leaves_body=True, at_waist_kg=2.0),
            "move cylinders, lead or other heavy items towards the head.",
        ),
        (Shift(None, -5.4), "move cylinders, lead or other heavy items towards the feet."),
    ],
)
def test_no_more_lead_is_moved_than_there_is_nor_farther_than_the_body(shift: Shift, words: str) -> None:
    """What cannot be done is not advised; of what can, both ways are named."""
    turned = pitch(0.2, 0.1, 0.3)
    assert words in " ".join(section_lines(Trim((), turned, turned, shift)))


def test_lead_that_would_have_to_move_too_far_is_not_asked_to() -> None:
    """A little lead would have to leave the diver; a kit without lead has none to move."""
    usual = balance_of(kit_of(PLAIN))
    assert re.search("To level the diver: .*move all lead ", " ".join(section_lines(usual.trim)))
    none = balance_of(kit_of(without(PLAIN, "belt")))
    little = balance_of(swapped(kit_of(PLAIN), "belt", mass_kg=0.1, pieces=1))
    for found in (none, little):
        said = " ".join(section_lines(found.trim))
        assert "all lead" not in said
        assert "move cylinders, lead or other heavy items towards the " in said


@pytest.mark.parametrize(("moment_kgf_m", "may_be_level"), [(0.3, True), (-0.39, True), (0.41, False), (-1.2, False)])
def test_lead_is_moved_by_what_is_known_to_turn_the_diver(moment_kgf_m: float, may_be_level: bool) -> None:
    """A turn of less than its spread of 0.4 kg·m may be none: to move lead by it is to move it by chance."""
    turned = pitch(0.2, 0.1, 0.3)
    turned = turned._replace(moment=turned.moment._replace(value=moment_kgf_m))
    said = " ".join(section_lines(Trim((), turned, turned, Shift(0.1, 0.5))))
    assert ("try it first, it may be level already; by these figures move all lead 10 cm" in said) == may_be_level


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_where_room_is_scarce_both_ends_are_left(name: str, system: System) -> None:
    """They fit beside the plot in a terminal of 80 columns, in a line each where the numbers are short."""
    trim = of_config(name).trim
    lines = page_text(brief_trim_page(trim), system, NARROW).splitlines()
    full, end = turn(trim.start.moment, system), turn(trim.end.moment, system)
    assert " ".join(" ".join(lines).split()) == f"full {full} end {end}"
    assert max(map(len, lines)) <= NARROW
    if system is METRIC:
        assert len(lines) == 2


@pytest.mark.parametrize("name", ALL)
def test_json_has_both_ends_and_the_shift(name: str) -> None:
    """Radians and kgf·m, with their signs: plus puts the head down."""
    trim = of_config(name).trim
    said: dict[str, Any] = json.loads(json.dumps(page_json(Page([trim_section(trim)]))))["trim"]
    for key, end in (("gas_full", trim.start), ("reserve", trim.end)):
        angles = (end.pitch_rad, end.pitch_low_rad, end.pitch_high_rad)
        assert tuple(said[key][name] for name in ("pitch_rad", "low_rad", "high_rad")) == pytest.approx(
            angles, rel=1e-5
        )
        for name_of, moment in (("moment", end.moment), ("kit_moment", end.kit), ("body_moment", end.body)):
            assert said[key][f"{name_of}_kgf_m"]["value"] == pytest.approx(moment.value, abs=moment.spread / 100)
        assert said[key]["steady"] is end.is_steady
    assert said["shift"]["waist_to_upper_cylinder_kg"] == pytest.approx(trim.shift.pieces, rel=1e-5)
    assert said["shift"]["all_lead_m"] == pytest.approx(trim.shift.lead_m, rel=1e-5)
