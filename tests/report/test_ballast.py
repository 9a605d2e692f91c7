"""The ballast of one kit in several waters and with several cylinders: text and JSON agree on every lead."""

import json
import re
from typing import Any

import jsonschema
import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import difference
from kitbuilder.assess.findings import Unchecked
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.plans.ballast import Ballast, ask_ballast, missing_for_lead
from kitbuilder.report.balance import balance_section
from kitbuilder.report.ballast import OWN, SHAPE, ballast_page
from kitbuilder.report.numbers import System, shown, with_spread
from kitbuilder.report.page import Page
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import CONFIGS, PLAIN, WHOLE, WRONG, beside, changed, config, float_check, kit_of, lone_hose
from tests.report.pages import page_json, page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
UNIT = {METRIC: "kg", IMPERIAL: "lb"}
ALL = [*WHOLE, WRONG]
EVIL = "\\u001b[2J\\u202e[red]x"


def asked(name: str) -> Ballast:
    """What is answered for a kit that comes with the program, when nothing is named."""
    kit = kit_of(config(name))
    return ask_ballast(resolve(kit, resolve_at(CONFIGS / f"{name}.toml", kit).linked))


def text_of(name: str, system: System, width: int = 100) -> str:
    return page_text(ballast_page(f"{name}.toml", asked(name), ()), system, width)


def data_of(found: Ballast, missing: tuple[Unchecked, ...] = ()) -> dict[str, Any]:
    """As a program reads it, after a trip through JSON and held against its shape."""
    data: dict[str, Any] = json.loads(json.dumps(page_json(ballast_page("x", found, missing)), allow_nan=False))
    jsonschema.Draft202012Validator({**SHAPE, "$defs": DEFINITIONS}).validate(data)
    return data


def rows_below(text: str, head: str) -> list[str]:
    """The rows of a table of one line each, from the line after its head to the next blank line."""
    lines = text.splitlines()
    start = next(number for number, line in enumerate(lines) if line.split()[:2] == head.split()) + 1
    return lines[start : lines.index("", start)]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_text_and_json_agree_on_every_lead(name: str, system: System) -> None:
    """Water by water, cylinder by cylinder: lead, pieces, and how heavy it is at depth."""
    rows = rows_below(text_of(name, system), "water cylinders")
    for row, found, answer in zip(rows, asked(name).answers, data_of(asked(name))["answers"], strict=True):
        # JSON is in SI, whatever units the reader asks for; so are its pieces.
        pieces = answer["balance"]["pieces"]
        assert row.split()[0] == answer["water"]
        assert f"  {answer['cylinders'] or OWN}  " in row
        assert figures_in(row, system) == [
            in_units(answer["balance"]["lead_needed_kg"], system),
            in_units(answer["full_at_depth_kgf"], system),
        ]
        counts = [int(count) for count in re.findall(r"(\d+) × [\d.]+ (?:kg|lb)", row)]
        taken = found.balance.pieces.imperial.counts
        assert counts == ([p["count"] for p in pieces] if system is METRIC else [count for _, count in taken])


def figures_in(row: str, system: System) -> list[tuple[float, float]]:
    """Every value with its spread in a row."""
    found = re.findall(rf"([−+]?\d+(?:\.\d)?) ± +(\d+(?:\.\d)?) {UNIT[system]}", row)
    return [(float(value.replace("−", "-")), float(spread)) for value, spread in found]


def in_units(figure: dict[str, float], system: System) -> tuple[float, float]:
    """A figure of JSON in the reader's units: within half of the last digit shown, and of the last digit of JSON."""
    pound = {METRIC: 1.0, IMPERIAL: 0.45359237}[system]
    last_digit = 0.1 if figure["spread"] / pound < 9.95 else 1.0  # two digits of the spread at most
    within = last_digit / 2 + 0.005 / pound + 1e-9
    shown_figure: tuple[float, float] = pytest.approx((figure["value"] / pound, figure["spread"] / pound), abs=within)
    return shown_figure


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_changes_of_both_agree(name: str, system: System) -> None:
    """What each answer asks for beyond the first, in which body and suit cancel."""
    found = asked(name)
    answers = data_of(found)["answers"]
    rows = text_of(name, system).partition("The change alone")[2].splitlines()[2:]
    for number, (answer, said) in enumerate(zip(found.answers, answers, strict=True)):
        change = difference(answer.balance.lead, found.answers[0].balance.lead, "")
        assert said["change_of_lead_kg"]["value"] == pytest.approx(change.value, abs=change.spread / 100)
        assert said["change_of_lead_kg"]["spread"] == pytest.approx(change.spread, rel=0.005)
        if number:
            words = rows[number - 1].split()
            assert words[0] == answer.water
            assert " ".join(words[1:]).startswith(answer.cylinder or OWN)
            assert rows[number - 1].replace("±  ", "± ").endswith(f" {with_spread(change, 'lead change', system)}")


@pytest.mark.parametrize("name", ALL)
def test_json_has_all_of_the_balance_of_each_answer(name: str) -> None:
    """As `check` has it for the kit as it is."""
    found = asked(name)
    for answer, said in zip(found.answers, data_of(found)["answers"], strict=True):
        assert said["balance"] == page_json(Page([balance_section(answer.balance)]))["balance"]
        assert (said["water"], said["cylinders"]) == (answer.water, answer.cylinder)


@pytest.mark.parametrize("system", System)
def test_the_first_row_is_the_kit_as_it_is(system: System) -> None:
    """The lead that `check` prints, and what would narrow it."""
    found = asked("twinset")
    own = assess(resolve(found.kit, resolve_at(CONFIGS / "twinset.toml", found.kit).linked)).balance
    assert own is not None
    text = text_of("twinset", system)
    first = rows_below(text, "water cylinders")[0]
    assert with_spread(own.lead, "lead", system) in first
    assert getattr(own.pieces.words, system.value) in first
    for step in own.measurement_priorities:
        assert re.search(rf"{re.escape(step.what)} +{shown(step.spread_after_kg, 'lead', system)}\n", text)
    assert f"· twinset · {found.own}" in text.splitlines()[1]


def test_the_part_of_the_lift_is_that_of_the_balance() -> None:
    """By hand: what the kit weighs at depth over what the wing lifts."""
    found = asked("twinset")
    row = rows_below(text_of("twinset", METRIC), "water cylinders")[0]
    own = found.answers[0].balance
    assert own.buoyancy_model.lift is not None
    assert row.endswith(f" {-100 * own.full_at_depth.value / own.buoyancy_model.lift.value:.0f} %")


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("name", ALL)
def test_the_text_keeps_within_its_width(name: str, width: int, system: System) -> None:
    """And has every word at every width, except that blocks of rows have no head for what names them."""
    text = text_of(name, system, width)
    assert max(map(len, text.splitlines())) <= width
    assert set(text_of(name, system).split()) - set(text.split()) <= {"water"}


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_answers_stand_in_columns(name: str, system: System) -> None:
    """The first sign of ± below the other, and so the second."""
    rows = rows_below(text_of(name, system), "water cylinders")
    ends = [[found.end() for found in re.finditer(rf" ± +[\d.]+ {UNIT[system]}", row)] for row in rows]
    assert len(ends[0]) == 2
    assert all(row == ends[0] for row in ends)


def test_a_kit_without_a_cylinder_has_no_answer_and_says_why() -> None:
    """For people and for programs."""
    kit = resolve(kit_of(lone_hose()), beside())
    found, missing = ask_ballast(kit), missing_for_lead(kit)
    assert found.answers == ()
    text = page_text(ballast_page("kit.toml", found, missing))
    assert "The lead cannot be worked out." in text
    assert "\nNot given: lead and balance: the kit has no cylinder." in text
    data = data_of(found, missing)
    assert data["answers"] == []
    assert [said.startswith("lead and balance: the kit has no cylinder.") for said in data["not_given"]] == [True]


def test_what_is_not_given_is_wrapped_as_one_sentence() -> None:
    """The number and its unit of a long sentence stand in its next line, without the words in front again."""
    kit = kit_of(config(WRONG))
    kit = resolve(kit, resolve_at(CONFIGS / f"{WRONG}.toml", kit).linked)
    found, missing = ask_ballast(kit), missing_for_lead(resolve(kit.unresolved))
    text = page_text(ballast_page("kit.toml", found, missing))
    assert text.count("Not given: ") == len(missing) == 1
    said = data_of(found, missing)["not_given"]
    assert f"Not given: {said[0]}" in " ".join(text.split())


def test_what_is_not_given_names_its_item() -> None:
    """Of a camera of known mass nobody knows how it floats."""
    kit = resolve(kit_of(PLAIN + '\n[[other]]\ntag = "camera"\nmass = "1.2 kg"\n'), beside())
    found, missing = ask_ballast(kit), missing_for_lead(kit)
    assert '\nNot given: "camera": buoyancy: ' in page_text(ballast_page("kit.toml", found, missing))
    assert [said.startswith('"camera": buoyancy: ') for said in data_of(found, missing)["not_given"]] == [True]


def test_a_float_check_is_named_and_narrows_the_lead() -> None:
    """The answer says where it comes from."""
    kit = kit_of(PLAIN)
    text = page_text(ballast_page("own.toml", ask_ballast(resolve(kit, beside(float_check()))), ()))
    assert "Based on 1 float check and " in text
    assert "make another float check" in text or "make a float check" not in text


@pytest.mark.parametrize("system", System)
def test_nothing_from_a_file_reaches_the_terminal_as_a_command(system: System) -> None:
    """Names, tags and file names may hold anything."""
    text = changed(PLAIN, ('"plain"', f'"{EVIL}"')) + f'\n[[other]]\ntag = "{EVIL}"\nmass = "1 kg"\n'
    text = text.replace('tag = "tank"', f'tag = "{EVIL} tank"').replace('tag = "suit"', f'tag = "{EVIL} suit"')
    kit = resolve(kit_of(text), beside())
    printed = page_text(ballast_page("a\x1b.toml", ask_ballast(kit), assess(kit).unchecked), system)
    assert all(line.isprintable() for line in printed.splitlines())
    assert r"\x1b[2J\u202e[red]x" in printed


def test_linked_files_that_are_not_used_are_named() -> None:
    """Below the name of the kit."""
    kit = resolve(kit_of(PLAIN), resolve_at(CONFIGS.parent / "kit.toml", changed_header()).linked)
    assert "\nNot used: nobody.toml is not in this folder." in page_text(ballast_page("x", ask_ballast(kit), ()))


def changed_header():
    return kit_of(changed(PLAIN, ("layout =", 'diver = "nobody.toml"\nlayout =')))
