"""The report of one kit: text and JSON say the same, and findings point at the right line of the file."""

import re
from collections import defaultdict
from typing import Any

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.report.check import check_page, kit_section
from kitbuilder.report.numbers import MEASURES, MINUS, System, shown
from kitbuilder.report.page import Page
from kitbuilder.units import convert
from tests.assess.kits import WHOLE, WRONG, changed, config, hose_text, lone_hose, with_keys
from tests.report.pages import page_json, page_text

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
ALL = [*WHOLE, WRONG]
WIDTHS = (60, 80, 100)


def page_of(kit: str, file: str = "kit.toml") -> Page:
    reading = read_kit(kit)
    assert reading.kit is not None
    return check_page([kit_section(file, assess(resolve(reading.kit, lines=reading.lines)))])


def text_of(kit: str, system: System = METRIC, width: int = 100) -> str:
    return page_text(page_of(kit), system, width)


def json_of(kit: str) -> dict[str, Any]:
    [found] = page_json(page_of(kit))["files"]
    return found


def joined(text: str) -> str:
    """The text with its lines joined, so that a wrapped sentence stands in it whole."""
    return " ".join(text.split())


def about(result: dict[str, Any]) -> str:
    return "kit" if result["item"] is None else f'"{result["item"]}"'


# --- text and JSON ----------------------------------------------------------------------------------------------------


def figures_agree(found: list[str], weight: dict[str, Any], measures: tuple[str, str], system: System) -> None:
    """Hold mass and buoyancy of a row, each "0.78", "±", "0.08", against JSON, which has three digits of a spread.

    A row has two of them at most.
    """
    mass, buoyancy = weight["mass_kg"], weight["buoyancy_kgf"]
    assert (found[1], found[4]) == ("±", "±")
    figures = [(mass, "value"), (mass, "spread"), (buoyancy, "value"), (buoyancy, "spread")]
    for number, (figure, key) in zip((found[0], found[2], found[3], found[5]), figures, strict=True):
        shape = MEASURES[measures[0] if figure is mass else measures[1]][system]
        spread = convert(figure["spread"], shape.unit, shape.dimension)
        decimals = min(shape.decimals, 1 if spread >= 0.995 else 2, 0 if spread >= 9.95 else 2)
        last_digits = 0.5 * 10.0 ** -(decimals if spread < 99.5 else -1) + 0.005 * spread
        said = convert(figure[key], shape.unit, shape.dimension)
        assert float(number.replace(MINUS, "-")) == pytest.approx(said, abs=last_digits)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_hoses_of_both_agree_to_the_last_digit(name: str, system: System) -> None:
    """Tag, length, mass and buoyancy with their spreads, and how it fits, one row per hose in the order of the file."""
    rows = text_of(config(name), system).splitlines()
    start = next(number for number, row in enumerate(rows) if row.split()[:2] == ["hose", "length"]) + 1
    unit = {METRIC: "g", IMPERIAL: "oz"}[system]
    assert rows[start - 1].split() == ["hose", "length", "mass", unit, "buoyancy", unit, "fit"]
    of_hoses = [row for row in rows[start : rows.index("", start)] if not row.startswith(" ")]  # others go on
    for row, hose in zip(of_hoses, json_of(config(name))["hoses"], strict=True):
        spoken = f"{hose['tag']} {shown(hose['length_m'], 'length', system)}".split()
        found = row.split()
        assert found[: len(spoken)] == spoken
        figures_agree(found[len(spoken) : len(spoken) + 6], hose, ("hose mass", "hose buoyancy"), system)
        verdict = verdict_word(hose["fit"]["verdict"]) if hose["fit"] else "run not measured"
        verdict = "does not connect; " if hose["joins"] is False else verdict
        assert " ".join(found[len(spoken) + 6 :]).startswith(verdict.removeprefix("fits, with "))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_totals_of_both_agree_to_the_last_digit(name: str, system: System) -> None:
    """As they are, were they all of one body, and everything."""
    text, data = text_of(config(name), system), json_of(config(name))
    rows = {"hoses as they are": data["all_hoses"], f"all {data['items']} items": data["everything"]}
    rows |= {f"if all were {body}": weight for body, weight in data["if_all"].items()}
    rows |= {f"of them {body}": weight for body, weight in data["by_body"].items() if len(data["by_body"]) > 1}
    assert data["items_weighed"] == data["items"]
    unit = {METRIC: "kg", IMPERIAL: "lb"}[system]
    assert re.search(rf"^ +mass {unit} +buoyancy {unit}$", text, re.MULTILINE)
    for label, weight in rows.items():
        [row] = [row for row in text.splitlines() if re.match(rf"\s*(\d+ )?{label} ", row)]
        figures_agree(row.split()[-6:], weight, ("mass", "buoyancy"), system)


@pytest.mark.parametrize("name", ALL)
def test_the_findings_of_both_agree_word_for_word(name: str) -> None:
    """Signal word, items, rule, lines, and what, why and do, in the same order; items that share why and do "
    "together."""
    text, data = joined(text_of(config(name))), json_of(config(name))
    place = 0
    together: dict[tuple[object, ...], list[dict[str, Any]]] = defaultdict(list)
    for finding in data["findings"]:
        keys = ("signal", "rule", "rule_of_thumb", "why", "do")
        together[finding["item"] is None, *(finding[key] for key in keys)].append(finding)
    for (_, signal, rule, is_thumb, why, do), found in together.items():
        lines = f"line{'s' if len(found) > 1 else ''} {', '.join(str(each['line']) for each in found)}"
        thumb = "; a rule of thumb" if is_thumb else ""
        whats = {each["what"][0].upper() + each["what"][1:] for each in found}
        if len(whats) > 1:
            whats = {f"{about(each)}: {each['what']}": None for each in found}  # type: ignore[assignment]  # in order
        head = f"{signal.upper()} {', '.join(map(about, found))}: {rule} ({lines}{thumb})"
        whole = joined(f"{head} {' '.join(whats)} {why} {do}")
        place = text.index(whole, place) + len(whole)
    for item in data["not_checked"]:
        spoken = f"{about(item)}: {item['because']} Set {item['key']} (line {item['line']})."
        place = text.index(joined(spoken), place) + len(spoken)
    assert data["worst"] == (data["findings"][0]["signal"] if data["findings"] else None)


@pytest.mark.parametrize("name", ALL)
def test_the_count_of_findings_is_the_count(name: str) -> None:
    """Each signal word with its number, the worst first, one of a kind in the singular."""
    data, text = json_of(config(name)), text_of(config(name))
    [line] = [line for line in text.splitlines() if line.startswith("Findings: ")]
    signals = [finding["signal"] for finding in data["findings"]]
    counts = {word: signals.count(word) for word in ("danger", "warning", "caution", "notice")}
    spoken = [f"{count} {word}{'' if count == 1 else 's'}" for word, count in counts.items() if count]
    assert line == f"Findings: {', '.join(spoken)}"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("name", ALL)
def test_the_lead_of_both_agrees_to_the_last_digit(name: str, system: System) -> None:
    """Lead needed with its spread, and the pieces to take."""
    balance = json_of(config(name))["balance"]
    lead, kg = balance["lead_needed_kg"], {METRIC: "kg", IMPERIAL: "lb"}[system]
    lines = [" ".join(line.split()) for line in text_of(config(name), system).splitlines()]
    [found] = [match for line in lines if (match := re.fullmatch(rf"lead needed (\S+) ± (\S+) {kg}", line))]
    # Two digits of the spread are shown, and JSON has three of it.
    size = convert(lead["spread"], kg, "mass")
    within = (0.05 if size < 9.95 else 0.5) + 0.005 * size
    assert float(found[1].replace(MINUS, "-")) == pytest.approx(convert(lead["value"], kg, "mass"), abs=within)
    assert float(found[2]) == pytest.approx(size, abs=within)
    [pieces] = [line for line in lines if line.startswith("pieces to take ")]
    if system is METRIC:  # JSON has metric pieces; a reader of pounds gets pieces in pounds
        counts = [int(count) for count in re.findall(r"(\d+) × ", pieces)]
        assert counts == [piece["count"] for piece in balance["pieces"]]


def test_a_kit_without_a_cylinder_has_no_balance() -> None:
    """Null for programs, no word of lead for people, and what is missing among what was not checked."""
    assert json_of(lone_hose())["balance"] is None
    assert "lead needed" not in text_of(lone_hose())
    assert "kit: lead and balance: the kit has no cylinder." in joined(text_of(lone_hose()))


def test_json_has_si_units_and_metric_sentences() -> None:
    """Whatever the reader's units are: the page of JSON knows none."""
    found = json_of(config("sidemount"))
    assert found["hoses"][0]["length_m"] == pytest.approx(2.1)
    assert any(" kg" in finding["what"] for finding in found["findings"])
    assert not any(" lb" in finding["what"] for finding in found["findings"])


def test_the_fit_in_json() -> None:
    """75 cm on a run of 70 cm over 38 cm: 5 cm to spare, more at rest; by landmarks where the run was not measured."""
    fit = json_of(config("warm-single"))["hoses"][0]["fit"]
    assert (fit["verdict"]["outcome"], fit["verdict"]["has_too_much_slack"]) == ("fits", True)
    assert fit["span_m"] == pytest.approx(0.38)
    assert (fit["run_m"]["value"], fit["run_is_estimated"]) == (pytest.approx(0.7), False)
    assert fit["slack_m"]["value"] == pytest.approx(0.05)
    assert fit["stand_off_m"]["low"] < fit["stand_off_m"]["value"] < fit["stand_off_m"]["high"]
    assert fit["stock_that_fits_m"] == pytest.approx(0.75)
    by_landmarks = json_of(lone_hose())["hoses"][0]["fit"]
    assert by_landmarks["run_is_estimated"]
    assert by_landmarks["run_m"]["origin"] == "landmarks"
    no_route_is_usual = changed(lone_hose(), ('layout = "single"', 'layout = "twinset"'))
    assert json_of(no_route_is_usual)["hoses"][0]["fit"] is None


@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", ALL)
def test_text_keeps_within_its_width_and_divides_no_word(name: str, width: int) -> None:
    """So that nothing is wrapped a second time; every word of the widest text is there."""
    for system in System:
        assert max(map(len, text_of(config(name), system, width).splitlines())) <= width
    widest = set(text_of(config(name), width=1000).split())
    assert set(text_of(config(name), width=width).split()) <= widest


def test_findings_stand_before_the_figures_and_what_was_not_checked_after_them() -> None:
    """A file is checked for what is wrong with it."""
    text = text_of(config(WRONG))
    places = [text.index(part) for part in ("\nFindings: ", "\nhose ", "\nLead and balance", "\nNot checked: ")]
    assert places == sorted(places)


def test_a_hose_that_does_not_fit_is_explained() -> None:
    """Slack, free span and bend, and the stock lengths around it; one that fits closely is not named again."""
    text, title = text_of(config(WRONG)), "Hoses to measure, hold or change"
    part = text[text.index(title) : text.index("mass kg", text.index(title))]
    hoses = [hose for hose in json_of(config(WRONG))["hoses"] if hose["fit"]]
    wrong = [hose["tag"] for hose in hoses if hose["joins"] is False or verdict_word(hose["fit"]["verdict"]) != "fits"]
    assert re.findall(r'^  -  "(.*?)": ', part, re.MULTILINE) == wrong
    assert '"primary hose": does not connect; too short by 5 ± 2 cm\n' in part
    assert title not in text_of(config("sidemount"))


def verdict_word(verdict: dict[str, Any]) -> str:
    """What people read of a verdict, worked out from its JSON."""
    if verdict["outcome"] == "cannot be said yet":
        return "measure first"
    slack = ", with slack" if verdict["has_too_much_slack"] else ""
    return str(verdict["fault"]) if verdict["outcome"] == "does not fit" else f"fits{slack}"


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
    """The first and the last but one line of the item with a tag, counted from zero."""
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
    for finding in json_of(text)["findings"]:
        assert all(finding[part].isprintable() for part in ("what", "why", "do"))


def test_the_name_of_a_file_is_only_shown() -> None:
    """It may hold anything but a slash."""
    assert page_text(page_of(config("twinset"), "\x1b[2J.toml")).startswith("\\x1b[2J.toml\n")


def test_a_missing_value_says_which_key_to_set() -> None:
    """And on which line: that of the item, which lacks it."""
    text = with_keys(lone_hose(), "hose", from_="first LP1", to="primary") + hose_text(tag="other", run="70 cm")
    because = "whether the length fits: the run was not measured. By landmarks it is"
    assert re.search(rf'"hose": {because} [^.]*\. Set run \(line 6\)\.', joined(text_of(text)))
