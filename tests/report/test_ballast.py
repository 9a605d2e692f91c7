"""The ballast of one kit in several waters and with several cylinders: text and JSON agree on every lead."""

import json
import re
from typing import Any

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.figures import difference
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.plans.ballast import Ballast, ask_ballast
from kitbuilder.report.balance import format_lead, format_pieces, step_rows
from kitbuilder.report.ballast import OWN, RULES, ballast_json, ballast_text
from kitbuilder.report.numbers import System, digits, with_spread
from tests.assess.kits import CONFIGS, PLAIN, WHOLE, WRONG, beside, changed, config, float_check, kit_of, lone_hose

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
UNIT = {METRIC: "kg", IMPERIAL: "lb"}
ALL = [*WHOLE, WRONG]
WIDTH = 110
EVIL = "\\u001b[2J\\u202e[red]x"


def asked(name: str) -> Ballast:
    """What is answered for a kit that comes with the program, when nothing is named."""
    kit = kit_of(config(name))
    return ask_ballast(resolve(kit, resolve_at(CONFIGS / f"{name}.toml", kit).linked))


def text_of(name: str, system: System) -> str:
    return ballast_text(f"{name}.toml", asked(name), (), system)


def json_of(name: str) -> dict[str, Any]:
    """As a program reads it, after a trip through JSON."""
    found: dict[str, Any] = json.loads(
        json.dumps(ballast_json(f"{name}.toml", asked(name), (), METRIC), allow_nan=False)
    )
    return found


def table(text: str) -> list[str]:
    """The rows of the answers."""
    lines = text.splitlines()
    start = next(number for number, line in enumerate(lines) if line.split()[:2] == ["water", "cylinders"]) + 1
    return lines[start : lines.index("", start)]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_text_and_json_agree_on_every_lead(name: str, system: System) -> None:
    """Water by water, cylinder by cylinder: lead, pieces, and how heavy it is at depth."""
    water = ""
    for row, answer in zip(table(text_of(name, system)), json_of(name)["answers"], strict=True):
        cylinder = OWN if answer["cylinders"] is None else f"with {answer['cylinders']}"
        lead, heavy, pieces = answer["lead_needed_kg"], answer["full_at_depth_kgf"], answer["pieces"]
        assert f"  {cylinder}  " in row
        assert f" {with_digits(lead, 'lead', system)}  " in row
        assert f" {with_digits(heavy, 'lift', system)}" in row
        assert [int(count) for count in re.findall(r"(\d+) × [\d.]+ (?:kg|lb)", row)] == [p["count"] for p in pieces]
        assert row.startswith("  " + ("" if answer["water"] == water else answer["water"]).ljust(9))
        water = answer["water"]


def with_digits(figure: dict[str, float], measure: str, system: System) -> str:
    spread = digits(figure["spread"], measure, system).lstrip("+")
    return f"{digits(figure['value'], measure, system)} ± {spread} {UNIT[system]}"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_changes_of_both_agree(name: str, system: System) -> None:
    """What each answer asks for beyond the first, in which body and suit cancel."""
    text, found = text_of(name, system), asked(name)
    for answer, told in zip(found.answers, json_of(name)["answers"], strict=True):
        change = difference(answer.balance.lead, found.answers[0].balance.lead, "")
        assert told["change_of_lead_kg"]["value"] == change.value
        assert told["change_of_lead_kg"]["spread"] == change.spread
        label = answer.water if answer.cylinder is None else f"{answer.water}, {answer.cylinder}"
        line = f"    {label:<40} {with_digits(told['change_of_lead_kg'], 'lift', system).rpartition(' ')[0]:>11} "
        assert (line + f"{UNIT[system]} of lead" in text) is (answer is not found.answers[0])


@pytest.mark.parametrize("name", ALL)
def test_json_has_the_whole_balance_of_each_answer(name: str) -> None:
    """As `check` has it for the kit as it is."""
    found, answers = asked(name), json_of(name)["answers"]
    for answer, told in zip(found.answers, answers, strict=True):
        assert told["lead_needed_kg"]["value"] == answer.balance.lead.value
        assert [moment["buoyancy_kgf"]["value"] for moment in told["moments"]] == [
            moment.buoyancy.value for moment in answer.balance.moments
        ]
        assert (told["water"], told["cylinders"]) == (answer.water, answer.cylinder)


@pytest.mark.parametrize("system", System)
def test_the_first_row_is_the_kit_as_it_is(system: System) -> None:
    """The lead that `check` prints, and what would make it surer."""
    found = asked("twinset")
    own = assess(resolve(found.kit, resolve_at(CONFIGS / "twinset.toml", found.kit).linked)).balance
    assert own is not None
    first, text = table(text_of("twinset", system))[0], text_of("twinset", system)
    assert format_lead(own, system) in first
    assert format_pieces(own.pieces) in first
    for what, value in step_rows(own, system):
        assert f"    {what:<60} {value}" in text
    assert f"· twinset · {found.own}" in text.splitlines()[1]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_text_keeps_within_its_width_and_in_columns(name: str, system: System) -> None:
    """A hundred and ten columns; the first sign of ± below the other, and so the second."""
    text = text_of(name, system)
    assert max(map(len, text.splitlines())) <= WIDTH
    ends = [[found.end() for found in re.finditer(rf" ± +[\d.]+ {UNIT[system]}", row)] for row in table(text)]
    assert len(ends[0]) == 2
    assert all(row == ends[0] for row in ends)


def test_a_kit_without_a_cylinder_has_no_answer_and_says_why() -> None:
    """For people and for programs."""
    kit = kit_of(lone_hose())
    found = ask_ballast(resolve(kit, beside()))
    missing = tuple(result for result in assess(resolve(kit)).unchecked if result.rule in RULES)
    assert found.answers == ()
    text = ballast_text("kit.toml", found, missing, METRIC)
    assert "The lead cannot be worked out." in text
    assert "  Not told: lead and balance: the kit has no cylinder." in text
    data = ballast_json("kit.toml", found, missing, METRIC)
    assert data["answers"] == []
    assert [told.startswith("lead and balance: the kit has no cylinder.") for told in data["not_told"]] == [True]


def test_what_is_not_told_is_wrapped_as_one_sentence() -> None:
    """The number and its unit of a long sentence stand in its next line, without the words in front again."""
    kit = kit_of(config(WRONG))
    found = ask_ballast(resolve(kit, resolve_at(CONFIGS / f"{WRONG}.toml", kit).linked))
    missing = tuple(result for result in assess(resolve(kit)).unchecked if result.rule in RULES)
    text = ballast_text("kit.toml", found, missing, METRIC)
    assert text.count("Not told: ") == len(missing) == 1
    told = ballast_json("kit.toml", found, missing, METRIC)["not_told"]
    assert f"Not told: {told[0]}" in " ".join(text.split())


def test_a_float_check_is_told_and_makes_it_surer() -> None:
    """The answer says where it comes from."""
    kit = kit_of(PLAIN)
    text = ballast_text("own.toml", ask_ballast(resolve(kit, beside(float_check()))), (), METRIC)
    assert "From 1 float check and " in text
    assert "make another float check" in text or "make a float check" not in text


@pytest.mark.parametrize("system", System)
def test_nothing_from_a_file_reaches_the_terminal_as_a_command(system: System) -> None:
    """Names, tags and file names may hold anything."""
    text = changed(PLAIN, ('"plain"', f'"{EVIL}"')) + f'\n[[other]]\ntag = "{EVIL}"\nmass = "1 kg"\n'
    text = text.replace('tag = "tank"', f'tag = "{EVIL} tank"').replace('tag = "suit"', f'tag = "{EVIL} suit"')
    kit = kit_of(text)
    printed = ballast_text("a\x1b.toml", ask_ballast(resolve(kit, beside())), assess(resolve(kit)).unchecked, system)
    assert all(line.isprintable() for line in printed.splitlines())
    assert r"\x1b[2J\u202e[red]x" in printed


def test_json_has_si_units_whatever_the_reader_s() -> None:
    """Only the sentences of what is missing change."""
    found = asked("sidemount")
    metric, imperial = (ballast_json("x", found, (), system) for system in (METRIC, IMPERIAL))
    assert metric == imperial
    lead = metric["answers"][0]["lead_needed_kg"]
    assert with_digits(lead, "lead", METRIC) == with_spread(found.answers[0].balance.lead, "lead", METRIC)
