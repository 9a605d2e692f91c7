"""Two kits side by side as text and as JSON."""

import re
from math import hypot
from typing import Any

import jsonschema
import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.side_by_side import SideBySide, set_side_by_side
from kitbuilder.report.compare import SHAPE, compare_page
from kitbuilder.report.numbers import System, shown, with_spread
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import assessed, changed, config, kit_of, lone_hose, shipped, with_keys, without
from tests.assess.kits import beside as worn_by
from tests.report.pages import page_json, page_text

TWINSET, SIDEMOUNT = config("twinset"), config("sidemount")
CHANGED = with_keys(without(TWINSET, "gauge hose"), "wing hose", body="braided")
FILES = ("left.toml", "right.toml")
LEAD = "lead for the stop"


def beside(left: str, right: str) -> SideBySide:
    return set_side_by_side(assessed(left), assessed(right))


def said(found: SideBySide, system: System = System.METRIC, width: int = 100) -> str:
    return page_text(compare_page(found, FILES), system, width)


def row(found: SideBySide, label: str, system: System = System.METRIC) -> tuple[bool, list[str]]:
    """Whether a line is marked, and its cells."""
    lines = (re.sub(r"± +", "± ", line) for line in said(found, system).splitlines())
    [line] = [line for line in lines if line.removeprefix("*").strip().startswith(label)]
    return line.startswith("*"), re.split(r"  +", line.removeprefix("*").strip())[1:]


def data(left: str, right: str) -> dict[str, Any]:
    """The JSON, which keeps to its shape."""
    found = page_json(compare_page(beside(left, right), FILES))
    jsonschema.Draft202012Validator(SHAPE | {"$defs": DEFINITIONS}).validate(found)
    return found


def pairs_of(found: SideBySide) -> list[list[str]]:
    """The lines of each pair of hoses."""
    return [block.splitlines() for block in said(found).split("\n\n") if "length and body" in block]


# --- hoses ------------------------------------------------------------------------------------------------------------


def test_a_missing_hose_is_called_none_and_leads() -> None:
    """With what the other kit has in its column; every line of the pair is marked."""
    first = pairs_of(beside(TWINSET, CHANGED))[0]
    assert re.split(r"  +", first[0]) == ["*", "gauge", "gauge hose", "none"]
    assert re.split(r"  +", first[1].strip()) == ["*", "length and body", "61 cm rubber"]
    assert len(first) == 5
    assert all(line.startswith("*") for line in first)


def test_an_asterisk_marks_what_differs_and_nothing_else() -> None:
    """The body of the wing hose differs; its ends and its fit do not."""
    [pair] = [lines for lines in pairs_of(beside(TWINSET, CHANGED)) if "wing inflator" in lines[0]]
    assert {re.split(r"  +", line[1:].strip())[0]: line[0] for line in pair} == {
        "wing inflator": "*",
        "length and body": "*",
        "ends": " ",
        "fit": " ",
        "mass, buoyancy": "*",
    }
    assert "* differs." in said(beside(TWINSET, CHANGED))


def test_an_equal_pair_takes_two_lines() -> None:
    """Its name and its build; the rest is the same in both, and nothing is marked."""
    found = beside(TWINSET, TWINSET)
    assert [len(lines) for lines in pairs_of(found)] == [2] * 5
    assert [line for line in said(found).splitlines() if line.startswith("*")] == [
        "* differs. A difference is right minus left; what both kits share cancels out."
    ]


def test_kits_of_different_water_and_layout_are_marked() -> None:
    found = beside(TWINSET, changed(TWINSET, ('"ocean"', '"fresh"'), ('"twinset"', '"sidemount"')))
    assert row(found, "layout") == (True, ["twinset", "sidemount"])
    is_marked, [left, right] = row(found, "water")
    assert is_marked
    assert left == "ocean water, 1026 kg/m³"
    assert right.startswith("fresh water, ")


def test_a_hose_without_its_ends_says_so() -> None:
    """75 cm end to end are not 75 cm without the ends."""
    bare = beside(TWINSET, with_keys(TWINSET, "drysuit hose", measured="hose only"))
    [line] = [lines[1] for lines in pairs_of(bare) if "drysuit" in lines[0]]
    assert re.split(r"  +", line) == ["*", "length and body", "75 cm rubber", "75 cm rubber without its ends"]


@pytest.mark.parametrize("system", System)
def test_text_and_json_agree(system: System) -> None:
    """Pairs in the same order, with the figures of each hose."""
    found, compared = data(TWINSET, CHANGED), beside(TWINSET, CHANGED)
    heads = [lines[0] for lines in pairs_of(compared)]
    assert [pair["role"] for pair in found["pairs"]] == [re.split(r"  +", head[3:])[0] for head in heads]
    assert [not pair["equal"] for pair in found["pairs"]] == [head.startswith("*") for head in heads]
    [wing] = [pair for pair in found["pairs"] if pair["role"] == "wing inflator"]
    assert wing["differs_in"] == ["body"]
    text = said(compared, system)
    for side in ("left", "right"):
        mass, buoyancy = wing[side]["mass_kg"]["value"], wing[side]["buoyancy_kgf"]["value"]
        mass_digits = shown(mass, "hose mass", system).split()[0]
        buoyancy_digits = shown(buoyancy, "hose buoyancy", system).split()[0]
        assert re.search(rf"{mass_digits} ± \S+ \w+,\s+{re.escape(buoyancy_digits)} ± ", text)


# --- totals -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
def test_the_totals_are_those_of_the_kits(system: System) -> None:
    """With their spreads, and the difference between them, which is more certain where both kits share something."""
    found = beside(TWINSET, SIDEMOUNT)
    for label, weight in (("hoses", "all_hoses"), ("all items", "everything")):
        for name in ("mass", "buoyancy"):
            of = f"{name} of {'the ' if label == 'hoses' else ''}{label}"
            left, right = (getattr(getattr(side, weight), name) for side in (found.left, found.right))
            is_marked, cells = row(found, of, system)
            assert is_marked
            assert cells == [
                with_spread(left, name, system),
                with_spread(right, name, system),
                with_spread(difference(right, left, ""), "buoyancy", system),
            ]


def lead_of(assessment: Assessment) -> Figure:
    assert assessment.balance is not None
    return assessment.balance.lead


@pytest.mark.parametrize("system", System)
def test_the_lead_of_both_and_how_much_more_the_right_one_needs(system: System) -> None:
    """The difference is more certain than either: body and suit are the same diver's."""
    left, right = shipped("twinset"), shipped("sidemount")
    of_left, of_right = lead_of(left), lead_of(right)
    change = difference(of_right, of_left, "")
    cells = [with_spread(of_left, "lead", system), with_spread(of_right, "lead", system)]
    assert row(set_side_by_side(left, right), LEAD, system) == (True, [*cells, with_spread(change, "lift", system)])
    assert change.spread < hypot(of_left.spread, of_right.spread)


def test_a_kit_beside_itself_does_not_differ() -> None:
    """Zero, and certainly so."""
    is_marked, cells = row(beside(TWINSET, TWINSET), LEAD)
    assert not is_marked
    assert cells[2] == "0.0 ± 0.0 kg"


def test_the_order_of_a_file_is_no_difference() -> None:
    """The same items the other way round: nothing differs, and the difference is zero without a spread."""
    kit = kit_of(SIDEMOUNT)
    found = set_side_by_side(assess(resolve(kit)), assess(resolve(Kit(kit.header, kit.items[::-1]))))
    for label in ("mass of the hoses", "buoyancy of the hoses", "mass of all items", "buoyancy of all items"):
        is_marked, cells = row(found, label)
        assert not is_marked
        assert cells[2] == "0.00 ± 0.00 kg"


def test_a_kit_whose_lead_is_not_known_says_so() -> None:
    """No cylinder, no lead; two such kits do not differ in it."""
    one = row(beside(lone_hose(), TWINSET), LEAD)
    assert one == (True, ["not known", with_spread(lead_of(assessed(TWINSET)), "lead", System.METRIC)])
    assert row(beside(lone_hose(), lone_hose()), LEAD) == (False, ["not known", "not known"])


def test_the_figures_of_both_and_their_difference_are_in_json() -> None:
    """As the balance of each has them; null where it is not known."""
    found = data(TWINSET, SIDEMOUNT)
    left, right = assessed(TWINSET), assessed(SIDEMOUNT)
    change = difference(lead_of(right), lead_of(left), "")
    assert found["left"]["lead_needed_kg"]["value"] == pytest.approx(
        lead_of(left).value, abs=lead_of(left).spread / 100
    )
    assert found["right_less_left"]["lead_needed_kg"]["spread"] == pytest.approx(change.spread, rel=0.01)
    assert found["right"]["everything_mass_kg"]["value"] == pytest.approx(right.everything.mass.value, abs=0.01)
    unknown = data(TWINSET, lone_hose())
    assert unknown["right"]["lead_needed_kg"] is None
    assert unknown["right_less_left"]["lead_needed_kg"] is None


# --- who wears them, and what a file may say --------------------------------------------------------------------------


def test_who_wears_the_kits_is_said_when_either_kit_says() -> None:
    somebody, nobody = assess(resolve(kit_of(TWINSET), worn_by())), assessed(SIDEMOUNT)
    assert row(set_side_by_side(somebody, nobody), "worn by") == (True, ["somebody, 82 kg", "no diver file"])
    assert row(set_side_by_side(somebody, somebody), "worn by") == (False, ["somebody, 82 kg", "somebody, 82 kg"])
    assert "worn by" not in said(set_side_by_side(nobody, nobody))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_is_too_long_and_no_number_is_parted(width: int, system: System) -> None:
    found = set_side_by_side(shipped("cold-single"), shipped("sidemount"))
    lines = said(found, system, width).splitlines()
    assert max(map(len, lines)) <= width
    assert not any(line.endswith("±") or line.strip().startswith("±") for line in lines)


def test_names_from_files_are_only_shown() -> None:
    """A name that would clear the screen is written out."""
    evil = changed(TWINSET, ('"Twinset, coast"', '"\\u001b[2J"')).replace('"wing hose"', '"\\u202ewing"')
    shown_text = page_text(compare_page(beside(TWINSET, evil), ("a\x1b.toml", "b.toml")))
    assert all(line.isprintable() for line in shown_text.splitlines())
    assert r"\u202ewing" in shown_text
    assert r"\x1b[2J" in shown_text
