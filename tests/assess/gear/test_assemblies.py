"""Assemblies in a gear file: read, renamed, edited, shown, and reported where not complete."""

from datetime import date
from pathlib import Path

import pytest

from kitbuilder.app.screens.editing import value_of
from kitbuilder.assess.gear.gear import report_on_gear
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import Gear, OwnedAssembly
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.report.gear import gear_page
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.kitfile.support import opened
from tests.report.pages import page_json, page_text

GEAR = """\
format = 1
holds = "gear"
name = "shelf"

[[first_stage]]
tag = "first"
preset = "brass, DIN, 2 LP 1 HP"

[[hose]]
tag = "hose, green"
body = "rubber"
length = "100 cm"
from_end = "LP 3/8"
to_end = "second stage 9/16"

[[second_stage]]
tag = "second"
preset = "plastic body"
condition = "out of use"

[[adapter]]
tag = "elbows"
adapter = "elbow 90"
pieces = 2

[[other]]
tag = "bag"

[[assembly]]
tag = "green"
parts = ["first", "hose, green"]
kept_in = "bag"
"""


def gear_of(text: str) -> Gear:
    reading = parse_as(text, GEAR_FILE)
    assert reading.gear is not None, [str(problem) for problem in reading.problems]
    return reading.gear


def found_in(parts: str, more: str = "") -> list[str]:
    """What is said of the assembly when it has these parts."""
    gear = gear_of(GEAR.replace('["first", "hose, green"]', parts) + more)
    findings = report_on_gear(gear, date(2026, 11, 29), {}).findings
    return [sentence(each.what, System.METRIC) for each in findings if each.rule == "assembly not complete"]


def test_an_assembly_names_items_of_its_file() -> None:
    [assembly] = gear_of(GEAR).assemblies
    assert assembly == OwnedAssembly(tag="green", parts=("first", "hose, green"), kept_in="bag")
    assert found_in('["first", "hose, green"]') == []


@pytest.mark.parametrize(
    ("parts", "what"),
    [
        ("[]", "the assembly names fewer than two parts"),
        ('["first"]', "the assembly names fewer than two parts"),
        ('["first", "gone"]', 'the part "gone" is not in the gear file'),
        ('["first", "second"]', 'the part "second" is out of use'),
        ('["first", "bag"]', 'the part "bag" is of the kind other item, which is not screwed on'),
        ('["first", "elbows"]', 'the part "elbows" stands for several pieces; give the piece that is built in '
                                'its own entry'),
    ],
)  # fmt: skip
def test_what_cannot_be_taken_as_one_is_reported(parts: str, what: str) -> None:
    assert found_in(parts) == [f"{what}."]


def test_a_part_of_two_assemblies_is_reported_for_both() -> None:
    more = '\n[[assembly]]\ntag = "blue"\nparts = ["first", "hose, green"]\n'
    assert len(found_in('["first", "hose, green"]', more)) == 4


@pytest.mark.parametrize(
    ("parts", "problem"),
    [
        ('"first"', 'found "first"'),
        ("[1]", "found 1 in the list"),
        ('["first", "first"]', '"first" appears twice'),
        ('["first", ""]', "found"),
    ],
)
def test_a_list_that_is_none_is_refused(parts: str, problem: str) -> None:
    [found] = parse_as(GEAR.replace('["first", "hose, green"]', parts), GEAR_FILE).problems
    assert problem in str(found)
    assert 'assembly "green", parts' in str(found)


def test_a_new_tag_reaches_the_assembly(tmp_path: Path) -> None:
    document = opened(tmp_path, GEAR, GEAR_FILE)
    document.rename_tag(1, "hose, blue")
    assert 'parts = ["first", "hose, blue"]' in document.text


def test_the_form_tells_tags_with_commas_apart(tmp_path: Path) -> None:
    """What it shows, typed again, is the same list."""
    document = opened(tmp_path, GEAR, GEAR_FILE)
    shown = document.raw_value(5, "parts")
    assert value_of(field_named(OwnedAssembly, "parts"), shown) == ["first", "hose, green"]
    assert value_of(field_named(OwnedAssembly, "parts"), "first, second") == ["first", "second"]


def test_the_gear_page_shows_what_is_kept_assembled() -> None:
    page = gear_page("gear.toml", report_on_gear(gear_of(GEAR), date(2026, 11, 29), {}), {}, ())
    assert "assembly, 1" in page_text(page)
    assert "first, hose, green" in page_text(page)
    [item] = [each for each in page_json(page)["items"] if each["kind"] == "assembly"]
    assert item["parts"] == ["first", "hose, green"]
