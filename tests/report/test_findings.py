"""Findings and what could not be checked: their words, and their objects for programs."""

import jsonschema

from kitbuilder.assess.findings import Amount, Finding, Signal, Unchecked, words
from kitbuilder.kit.gear import Gear, GearHeader
from kitbuilder.kit.items import Kit
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.report.findings import (
    FINDING,
    UNCHECKED,
    brief_entry,
    counted,
    finding_entries,
    result_page,
    unchecked_entries,
)
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, Statements
from kitbuilder.report.shapes import listed, record
from kitbuilder.report.words import CAUTIONS
from tests.assess.kits import config
from tests.report.pages import page_json, page_text

SHAPE = record(findings=listed(FINDING), not_checked=listed(UNCHECKED))

SHORT = Finding(
    Signal.WARNING,
    0,
    "length",
    words("it is ", Amount(0.05, "length"), " short of its run"),
    words("A short hose pulls at the second stage."),
    words("Take the next stock length"),
    rule="slack",
    rule_of_thumb=True,
    line=12,
)
NO_LEAD = Finding(
    Signal.DANGER, None, None, words("no lead"), words("It floats"), words("Add lead!"), rule="lead", line=1
)
NO_RUN = Unchecked(0, "run", words("whether it is long enough: its run is not measured"), rule="slack", line=14)
ELSEWHERE = Unchecked(None, "", words("float check 2: look into the diver file"), rule="float check")


def kit() -> Kit:
    found = read_kit(config("warm-single")).kit
    assert found is not None
    return found


def tag() -> str:
    return kit().items[0].tag


def test_a_finding_says_what_why_and_what_to_do_below_its_head():
    assert page_text(Page([finding_entries([SHORT], kit())]), width=60).splitlines() == [
        "Findings: 1 warning",
        f'  WARNING  "{tag()}": slack (line 12; a rule of thumb)',
        "           It is 5 cm short of its run.",
        "           A short hose pulls at the second stage.",
        "           Take the next stock length.",
    ]


def test_a_finding_about_all_of_it_names_no_item():
    text = page_text(Page([finding_entries([NO_LEAD], kit())]))
    assert "DANGER  kit: lead (line 1)" in text
    assert text.count("Add lead!") == 1
    assert "Add lead!." not in text
    owned = Gear(GearHeader(format=1, holds="gear", name="the cellar"), ())
    assert "DANGER  gear: lead" in page_text(Page([finding_entries([NO_LEAD], owned)]))


def test_without_findings_none_is_written():
    assert page_text(Page([finding_entries([], kit()), unchecked_entries([], kit())])) == "Findings: none\n"


def test_what_could_not_be_checked_says_which_key_would_help():
    assert page_text(Page([unchecked_entries([NO_RUN, ELSEWHERE], kit())])).splitlines() == [
        "Not checked: 2",
        f'  -  "{tag()}": whether it is long enough: its run is not measured. Set run (line 14).',
        "  -  kit: float check 2: look into the diver file.",
    ]


def test_findings_are_counted_the_worst_first():
    assert counted([SHORT, NO_LEAD, SHORT]) == "1 danger, 2 warnings"
    assert counted([]) == "none"


def test_programs_get_the_same_with_the_tag_and_the_signal():
    page = Page([finding_entries([SHORT, NO_LEAD], kit()), unchecked_entries([NO_RUN, ELSEWHERE], kit())])
    found = page_json(page)
    jsonschema.validate(found, SHAPE)
    assert found["findings"][0] == {
        "signal": "warning",
        "rule": "slack",
        "rule_of_thumb": True,
        "item": tag(),
        "key": "length",
        "line": 12,
        "what": "it is 5 cm short of its run.",
        "why": "A short hose pulls at the second stage.",
        "do": "Take the next stock length.",
    }
    assert (found["findings"][1]["item"], found["findings"][1]["key"]) == (None, None)
    assert found["not_checked"][0] == {
        "rule": "slack",
        "item": tag(),
        "key": "run",
        "line": 14,
        "because": "whether it is long enough: its run is not measured.",
    }
    assert (found["not_checked"][1]["key"], found["not_checked"][1]["line"]) == (None, None)


def test_in_a_list_a_finding_is_one_paragraph():
    def row(result: Finding | Unchecked, *, with_why: bool) -> str:
        return page_text(Page([Statements("", [brief_entry(result, kit(), with_why=with_why)])]), width=160).strip()

    said = f'WARNING  "{tag()}": it is 5 cm short of its run. Take the next stock length. (rule of thumb)'
    assert row(SHORT, with_why=False) == said
    assert "its run. A short hose pulls at the second stage. Take" in row(SHORT, with_why=True)
    assert row(NO_RUN, with_why=True).endswith("is not measured. Set run.")


def test_items_with_the_same_finding_are_listed_together_and_apart_in_json():
    """Why and what to do are written once; what is wrong once as well where it is the same of all."""
    second = kit().items[1].tag
    other = SHORT._replace(item=1, line=20)
    same = page_text(Page([finding_entries([SHORT, NO_LEAD, other], kit())]), width=90).splitlines()
    assert same == [
        "Findings: 1 danger, 2 warnings",
        f'  WARNING  "{tag()}", "{second}": slack (lines 12, 20; a rule of thumb)',
        "           It is 5 cm short of its run.",
        "           A short hose pulls at the second stage.",
        "           Take the next stock length.",
        "  DANGER   kit: lead (line 1)",
        "           No lead.",
        "           It floats.",
        "           Add lead!",
    ]
    shorter = other._replace(what=words("it is ", Amount(0.02, "length"), " short of its run"))
    page = Page([finding_entries([SHORT, shorter], kit())])
    assert page_text(page, width=90).splitlines()[1:4] == [
        f'  WARNING  "{tag()}", "{second}": slack (lines 12, 20; a rule of thumb)',
        f'           "{tag()}": it is 5 cm short of its run.',
        f'           "{second}": it is 2 cm short of its run.',
    ]
    assert [(found["item"], found["line"]) for found in page_json(page)["findings"]] == [(tag(), 12), (second, 20)]
    elsewhere = other._replace(do=words("Hold it"))
    assert len(page_text(Page([finding_entries([SHORT, elsewhere], kit())]), width=90).splitlines()) == 9


def test_a_finding_in_full_has_its_parts_apart_and_the_cautions():
    paragraphs = page_text(result_page(SHORT), System.IMPERIAL, 1000).split("\n\n")
    assert paragraphs == [
        "WARNING  slack, line 12 of the file",
        "It is 2.0 in short of its run.",
        "Why: A short hose pulls at the second stage.",
        "Do: Take the next stock length.",
        "This is a rule of thumb: common practice, no source.",
        f"{CAUTIONS}\n",
    ]
    assert page_text(result_page(NO_RUN)).endswith("\n\nSet run, line 14 of the file.\n")
