"""Two kits side by side as text and as JSON."""

import json
from typing import Any

import pytest

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.plans.side_by_side import SideBySide, set_side_by_side
from kitbuilder.report.compare import Line, compare_json, compare_text, pair_lines, total_lines
from kitbuilder.report.numbers import System, shown, with_spread
from tests.assess.kits import assessed, changed, config, lone_hose, shipped, with_keys, without

TWINSET = config("twinset")
CHANGED = with_keys(without(TWINSET, "gauge hose"), "wing hose", body="braided")


def beside(left: str, right: str) -> SideBySide:
    return set_side_by_side(assessed(left), assessed(right))


def text(left: str, right: str, system: System = System.METRIC) -> str:
    return compare_text(beside(left, right), ("left.toml", "right.toml"), system)


def data(left: str, right: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(json.dumps(compare_json(beside(left, right), ("left.toml", "right.toml"))))
    return found


def test_a_missing_hose_is_called_none_and_leads() -> None:
    """With what the other kit has in its column."""
    lines = (
        *pair_lines(beside(TWINSET, CHANGED), System.METRIC),
        *total_lines(beside(TWINSET, CHANGED), System.METRIC),
    )
    assert (lines[0].label, lines[0].left, lines[0].right) == ("gauge", "gauge hose", "none")
    assert (lines[1].left, lines[1].right) == ("61 cm rubber", "")
    assert all(line.differs for line in lines[: next(n for n, line in enumerate(lines[1:], 1) if line.is_head)])


def test_an_asterisk_marks_what_differs_and_nothing_else() -> None:
    """The body of the wing hose differs; its ends and its fit do not."""
    rows = text(TWINSET, CHANGED).splitlines()
    start = next(number for number, row in enumerate(rows) if row.startswith("* wing inflator"))
    marks = {row[2:24].strip(): row[0] for row in rows[start : rows.index("", start)]}
    assert marks == {
        "wing inflator": "*",
        "length and body": "*",
        "ends": " ",
        "fit": " ",
        "mass, buoyancy": "*",
    }
    assert "* differs" in rows


def test_an_equal_pair_takes_two_lines() -> None:
    """Its name and its build; the rest is the same in both."""
    hoses, totals = (lines(beside(TWINSET, TWINSET), System.METRIC) for lines in (pair_lines, total_lines))
    assert [line.is_head for line in hoses] == [True, False] * 5
    assert not any(line.differs for line in (*hoses, *totals))


def test_kits_of_different_water_and_layout_are_marked() -> None:
    """In the heading."""
    other = changed(TWINSET, ('"ocean"', '"fresh"'), ('"twinset"', '"sidemount"'))
    rows = text(TWINSET, other).splitlines()
    assert [row[0] for row in rows[:4]] == [" ", " ", "*", "*"]
    assert "ocean water, 1026 kg/m³" in rows[3]
    assert "fresh water, " in rows[3]


@pytest.mark.parametrize("system", System)
def test_text_and_json_agree(system: System) -> None:
    """Pairs in the same order, with the figures of each hose."""
    found = data(TWINSET, CHANGED)
    lines = pair_lines(beside(TWINSET, CHANGED), system)
    heads = [line for line in lines if line.is_head]
    assert [pair["role"] for pair in found["pairs"]] == [line.label for line in heads]
    assert [not pair["equal"] for pair in found["pairs"]] == [line.differs for line in heads]
    [wing] = [pair for pair in found["pairs"] if pair["role"] == "wing inflator"]
    assert wing["differs_in"] == ["body"]
    place = next(number for number, line in enumerate(lines) if line.label == "wing inflator")
    told = next(line for line in lines[place:] if line.label.strip() == "mass, buoyancy")
    for side, cell in (("left", told.left), ("right", told.right)):
        mass, buoyancy = wing[side]["mass_kg"], wing[side]["buoyancy_kgf"]
        assert cell == f"{shown(mass, 'hose mass', system)}, {shown(buoyancy, 'hose buoyancy', system)}"


# --- the lead ---------------------------------------------------------------------------------------------------------


def lead_line(found: SideBySide, system: System = System.METRIC) -> Line:
    [line] = [line for line in total_lines(found, system) if line.label == "lead for the stop"]
    return line._replace(right=line.right.replace("\N{NO-BREAK SPACE}", " "))


@pytest.mark.parametrize("system", System)
def test_the_lead_of_both_and_how_much_more_the_right_one_asks_for(system: System) -> None:
    """The difference is surer than either: body and suit are the same diver's."""
    left, right = shipped("twinset"), shipped("sidemount")
    line = lead_line(set_side_by_side(left, right), system)
    of_left, of_right = lead_of(left), lead_of(right)
    change = difference(of_right, of_left, "")
    assert line.left == with_spread(of_left, "lead", system)
    assert line.right == f"{with_spread(of_right, 'lead', system)} ({with_spread(change, 'lift', system)})"
    assert line.differs
    assert change.spread < (of_left.spread**2 + of_right.spread**2) ** 0.5


def lead_of(assessment: Assessment) -> Figure:
    assert assessment.balance is not None
    return assessment.balance.lead


def test_the_lead_of_one_kit_beside_itself_does_not_differ() -> None:
    """Nought, and surely so."""
    line = lead_line(beside(TWINSET, TWINSET))
    assert not line.differs
    assert line.right.endswith("(0.0 ± 0.0 kg)")


def test_a_kit_whose_lead_is_not_known_says_so() -> None:
    """No cylinder, no lead; two such kits do not differ in it."""
    line = lead_line(beside(lone_hose(), TWINSET))
    assert (line.left, line.differs) == ("not known", True)
    assert line.right == with_spread(lead_of(assessed(TWINSET)), "lead", System.METRIC)
    assert lead_line(beside(lone_hose(), lone_hose()))[1:4] == ("not known", "not known", False)


def test_the_lead_of_both_is_in_json() -> None:
    """As the balance of each has it; null where it is not known."""
    found = data(TWINSET, lone_hose())
    assert found["left"]["lead_needed_kg"] == lead_of(assessed(TWINSET)).value
    assert found["right"]["lead_needed_kg"] is None


def test_names_from_files_are_only_shown() -> None:
    """A name that would clear the screen is written out."""
    evil = changed(TWINSET, ('"Twinset, coast"', '"\\u001b[2J"')).replace('"wing hose"', '"\\u202ewing"')
    shown_text = compare_text(beside(TWINSET, evil), ("a\x1b.toml", "b.toml"), System.METRIC)
    assert all(line.isprintable() for line in shown_text.splitlines())
    assert r"\u202ewing" in shown_text
