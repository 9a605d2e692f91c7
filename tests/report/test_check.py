"""The report of one kit: text and JSON say the same, and findings point at the right line of the file."""

import json
import re
from typing import Any

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.reader import ParseResult, read_kit
from kitbuilder.report.check import WIDTH, check_json, check_text, problems_json, problems_text
from kitbuilder.report.numbers import System, digits, shown
from tests.assess.kits import WHOLE, WRONG, changed, config, hose_text, lone_hose, with_keys

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
ALL = [*WHOLE, WRONG]


def text_of(kit: str, system: System = METRIC) -> str:
    reading = read_kit(kit)
    assert reading.kit is not None
    return check_text("kit.toml", assess(resolve(reading.kit, lines=reading.lines)), system)


def json_of(kit: str, system: System = METRIC) -> dict[str, Any]:
    """As a program reads it, after a trip through JSON."""
    reading = read_kit(kit)
    assert reading.kit is not None
    found: dict[str, Any] = json.loads(
        json.dumps(check_json("kit.toml", assess(resolve(reading.kit, lines=reading.lines)), system))
    )
    return found


def joined(text: str) -> str:
    """The text with its lines joined, so that a wrapped sentence stands in it whole."""
    return " ".join(text.split())


# --- text and JSON ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_hoses_of_both_agree_to_the_last_digit(name: str, system: System) -> None:
    """Tag, length, mass and buoyancy with their spreads, and how it fits, one row a hose in the order of the file."""
    rows = text_of(config(name), system).splitlines()
    start = next(number for number, row in enumerate(rows) if row.split()[:2] == ["hose", "length"]) + 1
    hoses = json_of(config(name), system)["hoses"]
    table = [row for row in rows[start : rows.index("", start)] if not row.startswith(" " * 21)]  # without the details
    for row, hose in zip(table, hoses, strict=True):
        told = [hose["tag"], shown(hose["length_m"], "length", system)]
        for key, measure in (("mass_kg", "hose mass"), ("buoyancy_kgf", "hose buoyancy")):
            told += [digits(hose[key]["value"], measure, system), "±"]
            told += [digits(hose[key]["spread"], measure, system).lstrip("+")]
            told += [{METRIC: "g", IMPERIAL: "oz"}[system]]
        assert row.split() == [*" ".join(told).split(), *hose["fit_text"].split()]


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_totals_of_both_agree_to_the_last_digit(name: str, system: System) -> None:
    """As they are, were they all of one body, and everything."""
    text, data = text_of(config(name), system), json_of(config(name), system)
    rows = {"hoses as they are": data["all_hoses"], f"all {data['items']} items": data["everything"]}
    rows |= {f"if all were {body}": weight for body, weight in data["if_all"].items()}
    rows |= {f"of them {body}": weight for body, weight in data["by_body"].items() if len(data["by_body"]) > 1}
    assert data["items_weighed"] == data["items"]
    for label, weight in rows.items():
        [row] = [row for row in text.splitlines() if re.match(rf"\s*(\d+ )?{label} ", row)]
        told = []
        for key, measure in (("mass_kg", "mass"), ("buoyancy_kgf", "buoyancy")):
            told += [digits(weight[key]["value"], measure, system), "±"]
            told += [digits(weight[key]["spread"], measure, system).lstrip("+"), {METRIC: "kg", IMPERIAL: "lb"}[system]]
        assert row.split()[-len(told) :] == told


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_findings_of_both_agree_word_for_word(name: str, system: System) -> None:
    """Signal word, item, rule, line, and what, why and do, in the same order."""
    text, data = joined(text_of(config(name), system)), json_of(config(name), system)
    place = 0
    for finding in data["findings"]:
        thumb = ", a rule of thumb" if finding["rule_of_thumb"] else ""
        head = f"{finding['signal'].upper()} {finding['item'] or 'kit'}: {finding['rule']}"
        whole = joined(f"{head} (line {finding['line']}{thumb}) {finding['what']} {finding['why']} {finding['do']}")
        place = text.index(whole, place) + len(whole)
    for item in data["not_checked"]:
        told = f"{item['item'] or 'kit'}: {item['because']} Set {item['key']} (line {item['line']})."
        place = text.index(joined(told), place) + len(told)
    assert data["worst"] == (data["findings"][0]["signal"] if data["findings"] else None)


@pytest.mark.parametrize("name", ALL)
def test_the_count_of_findings_is_the_count(name: str) -> None:
    """Each signal word with its number, the worst first, one of a kind in the singular."""
    data, text = json_of(config(name)), text_of(config(name))
    [line] = [line for line in text.splitlines() if line.startswith("Findings: ")]
    signals = [finding["signal"] for finding in data["findings"]]
    counts = {word: signals.count(word) for word in ("danger", "warning", "caution", "notice")}
    told = [f"{count} {word}{'' if count == 1 else 's'}" for word, count in counts.items() if count]
    assert line == f"Findings: {', '.join(told)}"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_lead_of_both_agrees_to_the_last_digit(name: str, system: System) -> None:
    """Lead needed with its spread, and the pieces to take."""
    balance = json_of(config(name), system)["balance"]
    lead, kg = balance["lead_needed_kg"], {METRIC: "kg", IMPERIAL: "lb"}[system]
    needed = f"{digits(lead['value'], 'lead', system)} ± {digits(lead['spread'], 'lead', system)} {kg}"
    [line] = [line for line in text_of(config(name), system).splitlines() if line.startswith("Lead: ")]
    assert line.startswith(f"Lead: {needed}; take ")
    counts = [int(count) for count in re.findall(r"(\d+) × ", line)]
    assert counts == [piece["count"] for piece in balance["pieces"]]


def test_a_kit_without_a_cylinder_has_no_balance() -> None:
    """Null for programs, no word of lead for people, and what is missing among what was not checked."""
    assert json_of(lone_hose())["balance"] is None
    assert "Lead: " not in text_of(lone_hose())
    assert "kit: lead and balance: the kit has no cylinder." in joined(text_of(lone_hose()))


def test_json_has_si_units_whatever_the_reader_s() -> None:
    """Only the sentences change."""
    metric, imperial = json_of(config("sidemount")), json_of(config("sidemount"), IMPERIAL)
    assert metric["hoses"][0]["length_m"] == imperial["hoses"][0]["length_m"] == pytest.approx(2.1)
    assert metric["everything"] == imperial["everything"]
    assert metric["findings"][0]["what"] != imperial["findings"][0]["what"]
    assert " lb " in imperial["findings"][0]["what"]


def test_the_fit_in_json() -> None:
    """75 cm on a run of 70 cm over 38 cm: 5 cm of slack, right; by landmarks where the run was not measured."""
    fit = json_of(config("warm-single"))["hoses"][0]["fit"]
    assert (fit["verdict"], fit["span_m"]) == ("right", pytest.approx(0.38))
    assert (fit["run_m"]["value"], fit["run_is_estimated"]) == (pytest.approx(0.7), False)
    assert fit["slack_m"]["value"] == pytest.approx(0.05)
    assert fit["stand_off_m"]["low"] < fit["stand_off_m"]["value"] < fit["stand_off_m"]["high"]
    assert fit["stock_that_fits_m"] == pytest.approx(0.7)
    by_landmarks = json_of(lone_hose())["hoses"][0]["fit"]
    assert by_landmarks["run_is_estimated"]
    assert by_landmarks["run_m"]["origin"] == "landmarks"
    no_route_is_usual = changed(lone_hose(), ('layout = "single"', 'layout = "twinset"'))
    assert json_of(no_route_is_usual)["hoses"][0]["fit"] is None


def test_text_keeps_within_its_width() -> None:
    """A hundred columns, so that nothing is wrapped a second time; in inches the table of hoses is a little wider."""
    for name in ALL:
        assert max(map(len, text_of(config(name)).splitlines())) <= WIDTH
        lines = text_of(config(name), IMPERIAL).splitlines()
        start = next(number for number, line in enumerate(lines) if line.startswith("Lead: "))
        assert max(map(len, lines[start:])) <= WIDTH


def test_a_kit_without_hoses_says_so() -> None:
    """And has no table of none."""
    text = text_of('format = 1\nname = "empty"\nlayout = "single"\n')
    assert "no hoses" in text
    assert "Findings: none" in text


# --- lines ------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ALL)
def test_findings_point_at_the_key_they_speak_of(name: str) -> None:
    """At the line of the key; where it is left out, at the table of the item; for the whole kit, at the top."""
    lines = config(name).splitlines()
    data = json_of(config(name))
    for item in (*data["findings"], *data["not_checked"]):
        if item["item"] is None:
            assert item["line"] <= next(number for number, row in enumerate(lines) if row.startswith("[["))
            continue
        start, end = block_of(lines, item["item"])
        keys = [number for number in range(start, end) if re.match(rf"{item['key']}\s*=", lines[number])]
        assert item["line"] == (keys[0] if keys else start) + 1


def block_of(lines: list[str], tag: str) -> tuple[int, int]:
    """The first and the last but one line of the item with a tag, counted from nought."""
    [found] = [number for number, row in enumerate(lines) if re.match(rf'tag\s*= "{tag}"', row)]
    start = max(number for number in range(found) if lines[number].startswith("[["))
    return start, next((n for n in range(found, len(lines)) if lines[n].startswith("[[")), len(lines))


def test_lines_follow_when_the_file_grows_above_them() -> None:
    """A comment of three lines on top moves every line by three."""
    before, after = (json_of(text)["findings"] for text in (config(WRONG), "# a\n# b\n# c\n" + config(WRONG)))
    moved = [(new["line"] - old["line"]) for old, new in zip(before, after, strict=True) if old["item"]]
    assert set(moved) == {3}


def test_each_hose_has_its_line() -> None:
    """Where its table begins."""
    lines = config("sidemount").splitlines()
    for hose in json_of(config("sidemount"))["hoses"]:
        assert lines[hose["line"] - 1] == "[[hose]]"
        assert f'"{hose["tag"]}"' in lines[hose["line"]]


# --- what comes from files --------------------------------------------------------------------------------------------

EVIL = "\\u001b[2J\\u202e[red]x"


@pytest.mark.parametrize("system", System)
def test_nothing_from_a_file_reaches_the_terminal_as_a_command(system: System) -> None:
    """Name, tags, makes and references may hold anything; every line of the text can be printed."""
    text = changed(config(WRONG), ('name   = "Wrong on purpose"', f'name = "{EVIL}"'))
    text = changed(
        text, ('to       = "third second stage"', f'to = "{EVIL}"'), ('make     = "blue"', f'make = "{EVIL}"')
    )
    text = text.replace('"spare hose"', f'"spare {EVIL}"').replace("old first", f"old {EVIL}")
    shown_text = text_of(text, system)
    assert all(line.isprintable() for line in shown_text.splitlines())
    assert shown_text.count(r"\x1b[2J\u202e[red]x") > 5
    for finding in json_of(text, system)["findings"]:
        assert all(finding[part].isprintable() for part in ("what", "why", "do"))


def test_the_name_of_a_file_is_only_shown() -> None:
    """It may hold anything but a slash."""
    reading = read_kit(config("twinset"))
    assert reading.kit is not None
    assert check_text("\x1b[2J.toml", assess(resolve(reading.kit)), METRIC).startswith("\\x1b[2J.toml\n")


def test_problems_of_a_file_are_printable_too() -> None:
    """One line a problem, with file and line in front."""
    reading: ParseResult = read_kit(f'format = 1\nname = "x"\nlayout = "{EVIL}"\n"{EVIL}" = 3\n')
    assert reading.kit is None
    text = problems_text("a\x1b[31m.toml", reading.problems)
    assert all(line.isprintable() for line in text.splitlines())
    assert [line.split(": ")[0] for line in text.splitlines()] == [r"a\x1b[31m.toml:3", r"a\x1b[31m.toml:4"]
    data = problems_json("a.toml", reading.problems)
    assert [problem["line"] for problem in data["problems"]] == [3, 4]
    assert all(problem["found"] and problem["accepted"] for problem in data["problems"])


def test_a_missing_value_says_which_key_to_set() -> None:
    """And on which line: that of the item, which lacks it."""
    text = with_keys(lone_hose(), "hose", from_="first LP1", to="primary") + hose_text(tag="other", run="70 cm")
    assert (
        "hose: whether its length surely fits: the run was not measured but estimated from landmarks. Set run (line 6)."
        in joined(text_of(text))
    )
