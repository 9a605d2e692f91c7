"""Kits side by side as text and as JSON."""

import re
from math import hypot
from typing import Any

import jsonschema
import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.figures import Figure, difference
from kitbuilder.kit.items import Kit
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.differences import differences
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.plans.side_by_side import SideBySide, set_side_by_side
from kitbuilder.report.compare import compare_page
from kitbuilder.report.compare_data import SHAPE
from kitbuilder.report.comparison import TOTALS, Comparison, is_marked
from kitbuilder.report.numbers import System, with_spread
from kitbuilder.report.shapes import DEFINITIONS
from tests.assess.kits import assessed, changed, config, hose_text, kit_of, lone_hose, shipped, with_keys, without
from tests.assess.kits import beside as worn_by
from tests.report.pages import page_json, page_text

SINGLE, TWINSET, SIDEMOUNT = (config(name) for name in ("warm-single", "twinset", "sidemount"))
CHANGED = with_keys(without(TWINSET, "gauge hose"), "wing hose", body="braided").replace("Twinset, coast", "Other")
FILES = ("left.toml", "right.toml", "third.toml", "fourth.toml")
LEAD = "lead for the stop"


def beside(*texts: str) -> SideBySide:
    return set_side_by_side([assessed(text) for text in texts])


def shown(found: SideBySide, **how: Any) -> Comparison:
    return Comparison(found, FILES[: len(found.kits)], **how)


def said(found: SideBySide, system: System = System.METRIC, width: int = 100, **how: Any) -> str:
    return page_text(compare_page(shown(found, **how)), system, width)


def cells(line: str) -> list[str]:
    return re.split(r"  +", line.removeprefix("*").strip())


def row(found: SideBySide, label: str, system: System = System.METRIC, **how: Any) -> tuple[bool, list[str]]:
    """Whether a line is marked, and its cells."""
    lines = (re.sub(r"± +", "± ", line) for line in said(found, system, **how).splitlines())
    [line] = [line for line in lines if line.removeprefix("*").strip().startswith(label)]
    return line.startswith("*"), cells(line)[1:]


def data(*texts: str) -> dict[str, Any]:
    """The JSON, which keeps to its shape."""
    found = page_json(compare_page(shown(beside(*texts))))
    jsonschema.Draft202012Validator(SHAPE | {"$defs": DEFINITIONS}).validate(found)
    return found


def block(found: SideBySide, label: str, **how: Any) -> list[str]:
    """The lines about one function."""
    blocks = (each.splitlines() for each in said(found, **how).split("\n\n"))
    [lines] = [lines for lines in blocks if any(cells(line)[0] == label for line in lines)]
    start = next(number for number, line in enumerate(lines) if cells(line)[0] == label)
    return lines[start:]


# --- parts ------------------------------------------------------------------------------------------------------------


def test_what_a_kit_does_not_have_is_called_none() -> None:
    """With what the other kit has in its column, marked."""
    lines = block(beside(SINGLE, TWINSET), "suit hose")
    assert [cells(line) for line in lines] == [
        ["suit hose", "none", "drysuit hose"],
        ["length and body", "75 cm rubber"],
    ]
    assert all(line.startswith("*") for line in lines)


def test_an_octopus_and_a_long_hose_stand_in_one_line() -> None:
    """Given: 90 cm against 210 cm, as the files say."""
    lines = block(beside(SINGLE, TWINSET), "given")
    assert [cells(line) for line in lines[:2]] == [
        ["given", "octopus hose", "long hose"],
        ["length and body", "90 cm rubber", "210 cm rubber"],
    ]


def test_an_asterisk_marks_what_differs_and_nothing_else() -> None:
    """The body of the wing hose differs; its ends and its fit do not, and stand there only when all is shown."""
    found = beside(TWINSET, CHANGED)
    marks = {cells(line)[0]: line[0] for line in block(found, "inflator hose")}
    assert marks == {"inflator hose": "*", "length and body": "*", "mass, buoyancy": "*"}
    everything = {cells(line)[0]: line[0] for line in block(found, "inflator hose", everything=True)}
    assert everything == marks | {"ends": " ", "fit": " ", "make": " "}


def test_equal_rows_are_counted_and_named() -> None:
    """Those of the gauge hose, which is gone, and of the wing hose, which is braided, are not among them."""
    found = beside(TWINSET, CHANGED)
    [line] = [line for line in said(found, width=1000).splitlines() if "rows are the same" in line]
    assert line.startswith(f"{len(found.equal_rows)} rows are the same: breathed and given, kept, suit hose, ")
    assert "inflator hose" not in line
    assert "rows are the same" not in said(found, everything=True)
    assert "No row differs: 21 rows are the same." in said(beside(TWINSET, TWINSET))


@pytest.mark.parametrize("everything", [False, True])
def test_a_kit_beside_itself_has_no_mark(everything: bool) -> None:
    lines = said(beside(TWINSET, TWINSET), everything=everything).splitlines()
    assert [line for line in lines if line.startswith("*") and not line.startswith("* differs")] == []


@pytest.mark.parametrize("system", System)
def test_no_mark_stands_at_a_difference_of_zero(system: System) -> None:
    """A suit hose of 5 cm more weighs some grams more: too little for the sums of all items, which are in 10 g."""
    found = beside(TWINSET, with_keys(TWINSET, "drysuit hose", length="80 cm"))
    assert any(total.differs for total in found.totals)
    for total in found.totals:
        is_different, [*_, change] = row(found, TOTALS[total.name][0], system)
        is_zero = not re.sub("±.*", "", change).strip("0. +−")
        assert not (is_different and is_zero), total.name
    marked = {total.name for total in found.totals if is_marked(total, 0)}
    assert {"hoses_mass_kg"} <= marked < {total.name for total in found.totals if total.differs}


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
    line = block(bare, "suit hose")[1]
    assert line.startswith("*")
    assert cells(line) == ["length and body", "75 cm rubber", "75 cm rubber without its ends"]


def test_json_has_every_row_with_the_items_of_each_kit() -> None:
    """By tags and files; a kit without one is left out."""
    found = data(SINGLE, TWINSET)
    rows = {tuple(each["functions"]): each for each in found["rows"]}
    given = rows["given",]
    assert [(each["file"], each["tag"], each["leads_to"], each["length_m"]) for each in given["kits"]] == [
        ("left.toml", "octopus hose", "octopus", 0.9),
        ("right.toml", "long hose", "primary", 2.1),
    ]
    assert (given["equal"], "length" in given["differs_in"]) == (False, True)
    assert [each["file"] for each in rows["suit hose",]["kits"]] == ["right.toml"]
    assert (rows["mask",]["equal"], rows["mask",]["differs_in"]) == (True, [])
    assert found["changes"] is None


# --- sums -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("system", System)
def test_the_sums_are_those_of_the_kits(system: System) -> None:
    """With their spreads, and the difference between them, which is more certain where both kits share something."""
    found = beside(TWINSET, SIDEMOUNT)
    for label, weight, word in (("the hoses", "all_hoses", "hose "), ("all items", "everything", "")):
        for name in ("mass", "buoyancy"):
            left, right = (getattr(getattr(side, weight), name) for side in found.kits)
            change = difference(right, left, "")
            is_marked, parts = row(found, f"{name} of {label}", system)
            assert is_marked is (abs(change.value) > change.spread)
            assert parts == [
                with_spread(left, f"{word}{name}", system),
                with_spread(right, f"{word}{name}", system),
                with_spread(change, f"{word}buoyancy", system),
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
    parts = [with_spread(of_left, "lead", system), with_spread(of_right, "lead", system)]
    is_marked = abs(change.value) > change.spread
    found = set_side_by_side([left, right])
    assert row(found, LEAD, system) == (is_marked, [*parts, with_spread(change, "lift", system)])
    assert change.spread < hypot(of_left.spread, of_right.spread)


def test_lead_carried_has_no_spread() -> None:
    """By the files: 4 kg on a belt, and 2 kg that cannot be dropped."""
    assert row(beside(SINGLE, TWINSET), "lead carried") == (True, ["4.0 kg", "2.0 kg", "−2.0 kg"])
    assert row(beside(SINGLE, TWINSET), "of it droppable") == (True, ["4.0 kg", "0.0 kg", "−4.0 kg"])


def test_the_order_of_a_file_is_no_difference() -> None:
    """The same items the other way round: nothing differs, and the difference is zero without a spread."""
    kit = kit_of(SIDEMOUNT)
    found = set_side_by_side([assess(resolve(kit)), assess(resolve(Kit(kit.header, kit.items[::-1])))])
    for label, zero in (("hoses", "0 ± 0 g"), ("items", "0.00 ± 0.00 kg")):
        for name in ("mass of", "buoyancy of"):
            is_marked, parts = row(found, f"{name} {'the' if label == 'hoses' else 'all'} {label}")
            assert not is_marked
            assert parts[2] == zero


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
    needed = found["kits"][0]["lead_needed_kg"]["value"]
    assert needed == pytest.approx(lead_of(left).value, abs=lead_of(left).spread / 100)
    assert found["less_first"][0]["lead_needed_kg"]["spread"] == pytest.approx(change.spread, rel=0.01)
    assert found["kits"][1]["everything_mass_kg"]["value"] == pytest.approx(right.everything.mass.value, abs=0.01)
    assert (found["kits"][1]["lead_carried_kg"], found["less_first"][0]["lead_carried_kg"]) == (6.0, 4.0)
    unknown = data(TWINSET, lone_hose())
    assert unknown["kits"][1]["lead_needed_kg"] is None
    assert unknown["less_first"][0]["lead_needed_kg"] is None


# --- findings, and versions -------------------------------------------------------------------------------------------

SHORT = with_keys(TWINSET, "long hose", length="150 cm")
"""Too short for its run of 182 cm."""


def test_findings_that_only_one_has() -> None:
    found = beside(changed(SHORT, ("Twinset, coast", "Short")), TWINSET)
    text = said(found)
    own, _, other = text.partition("Findings only in Twinset, coast")
    assert re.search(r'Findings only in Short: \d+\n +WARNING +"long hose": the hose is too short', own)
    assert '"long hose"' not in other.partition("* differs")[0]
    rules = [(each["file"], each["rule"], each["item"]) for each in data(SHORT, TWINSET)["findings_not_in_all"]]
    assert ("left.toml", "too short", "long hose") in rules


def versions(old: str, new: str) -> Comparison:
    changes = differences(read_kit(old), read_kit(new))
    return shown(beside(old, new), changes=changes)


def test_what_changed_between_two_versions_and_what_follows() -> None:
    """By key, before and now; a finding that is new; an item that went."""
    page = compare_page(versions(TWINSET, without(SHORT, "mask")))
    text = page_text(page)
    assert [cells(line) for line in text.split("Changes: 2\n")[1].splitlines()[:3]] == [
        ["item", "key", "before", "now"],
        ["long hose", "length", "210 cm", "150 cm"],
        ["mask", "removed"],
    ]
    assert re.search(r'Findings that are new: \d+\n +WARNING +"long hose": the hose is too short', text)
    found = page_json(page)
    jsonschema.Draft202012Validator(SHAPE | {"$defs": DEFINITIONS}).validate(found)
    assert found["changes"] == [
        {"way": "set", "item": "long hose", "key": "length", "before": "210 cm", "after": "150 cm"},
        {"way": "removed", "item": "mask", "key": None, "before": None, "after": None},
    ]


def test_an_item_that_changed_beside_one_that_came_is_not_another_item() -> None:
    """The hood is thicker, and a spare mask stands above it: one key and one item."""
    new = changed(TWINSET, ('thickness = "5 mm"', 'thickness = "7 mm"'))
    new = new.replace(
        '[[suit]]\ntag       = "hood"', '[[other]]\ntag = "spare"\npreset = "spare mask"\n\n[[suit]]\ntag = "hood"'
    )
    found = page_json(compare_page(versions(TWINSET, new)))["changes"]
    assert sorted((each["way"], each["item"], each["key"] or "") for each in found) == [
        ("added", "spare", ""),
        ("set", "hood", "thickness"),
    ]


def test_a_file_against_itself_says_the_same() -> None:
    text = page_text(compare_page(versions(TWINSET, TWINSET)))
    assert "Changes: none; the two files say the same" in text
    assert "Findings that are gone: none" in text
    assert "Findings that are new: none" in text


# --- three and four kits, who wears them, and what a file may say -----------------------------------------------------


def test_three_kits_stand_below_each_other_under_each_function() -> None:
    """A row for each kit, in their order; also for those without one."""
    found = beside(SINGLE, TWINSET, SIDEMOUNT)
    lines = said(found, width=200).splitlines()
    start = lines.index("*  given")
    assert [re.split("  +|; ", line.strip())[:3] for line in lines[start + 1 : start + 4]] == [
        ["Reef single, warm water", "octopus hose", "90 cm rubber"],
        ["Twinset, coast", "long hose", "210 cm rubber"],
        ["Sidemount, sea", "long hose", "210 cm rubber"],
    ]
    start = lines.index("*  manifold")
    assert [cells(line) for line in lines[start + 1 : start + 4]] == [
        ["Reef single, warm water", "none"],
        ["Twinset, coast", "manifold"],
        ["Sidemount, sea", "none"],
    ]


def test_two_and_three_kits_have_the_same_order_and_the_same_labels() -> None:
    """Those of the app: the parts by function, then the sums, then findings; what kits are by the same names."""
    fresh = changed(TWINSET, ('"ocean"', '"fresh"'))
    for kits in ((SINGLE, fresh), (SINGLE, fresh, SIDEMOUNT)):
        labels = [cells(line)[0] for line in said(beside(*kits)).splitlines() if line]
        wanted = ["layout", "water", "breathed", "mass of the hoses", LEAD]
        places = [labels.index(label) for label in wanted]
        first_finding = next(place for place, label in enumerate(labels) if label.startswith("Findings "))
        assert [*places, first_finding] == sorted([*places, first_finding])
        assert "kit" not in labels


def test_a_difference_is_at_most_one_off_from_its_columns_as_the_page_says() -> None:
    """In the last digit: of 3.24 and 2.46 kg it is 0.78, shown as 3.2, 2.5 and 0.8."""
    found = beside(SINGLE, TWINSET)
    assert "it can be one off in its last digit from the difference" in " ".join(said(found).split())
    for total in found.totals:
        _, shown_cells = row(found, TOTALS[total.name][0])
        numbers = [cell.partition(" ")[0].replace("−", "-") for cell in shown_cells]
        left, right, change = map(float, numbers)
        last = 0.1 ** min(len(number.partition(".")[2]) for number in numbers)
        assert abs(right - left - change) < 1.01 * last, total.name


def test_kits_of_one_name_are_numbered() -> None:
    text = said(beside(SINGLE, TWINSET, TWINSET))
    assert "1 Reef single, warm water" in text
    assert "2 Twinset, coast" in text
    assert "3 Twinset, coast" in text


def test_who_wears_the_kits_is_said_when_they_differ() -> None:
    somebody, nobody = assess(resolve(kit_of(TWINSET), worn_by())), assessed(SIDEMOUNT)
    both = set_side_by_side([somebody, nobody])
    assert row(both, "worn by") == (True, ["somebody, 82 kg", "no diver file"])
    same = set_side_by_side([somebody, somebody])
    assert row(same, "worn by", everything=True) == (False, ["somebody, 82 kg", "somebody, 82 kg"])
    assert "worn by" not in said(same)
    assert "worn by" not in said(set_side_by_side([nobody, nobody]), everything=True)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("kits", [2, 4])
def test_no_line_is_too_long_and_no_number_is_parted(width: int, system: System, kits: int) -> None:
    names = ("cold-single", "sidemount", "wrong-on-purpose", "warm-single")[:kits]
    found = set_side_by_side([shipped(name) for name in names])
    lines = said(found, system, width).splitlines()
    assert max(map(len, lines)) <= width
    assert not any(line.endswith("±") or line.strip().startswith("±") for line in lines)


def test_two_kits_at_80_columns_stand_in_columns_with_whole_labels() -> None:
    found = beside(SINGLE, TWINSET)
    lines = said(found, width=80).splitlines()
    assert any(cells(line) == ["Reef single, warm water", "Twinset, coast"] for line in lines)
    for function in found.rows:
        label = " and ".join(function.functions)
        assert function.is_equal or any(re.match(rf"\*  {label}(  |$)", line) for line in lines), label


def test_a_spare_and_a_bore_leave_two_kits_in_columns() -> None:
    """A cell of a number alone would make its column one of numbers, which does not wrap."""
    spare = hose_text(tag="spare", in_spares=True, bore="5 mm")
    left = with_keys(SINGLE, "primary hose", bore="4 mm") + spare
    found = beside(left, with_keys(TWINSET, "long hose", bore="6 mm"))
    lines = said(found, width=80, everything=True).splitlines()
    assert any(cells(line) == ["breathed", "primary hose", "long hose"] for line in lines)
    assert any(cells(line) == ["bore", "4.0 mm", "6.0 mm"] for line in lines)
    assert any(cells(line) == ["spare", "75 cm rubber, primary", "none"] for line in lines)


def test_names_from_files_are_only_shown() -> None:
    """A name that would clear the screen is written out."""
    evil = changed(TWINSET, ('"Twinset, coast"', '"\\u001b[2J"')).replace('"wing hose"', '"\\u202ewing"')
    for others in ((TWINSET,), (TWINSET, SINGLE)):
        found = beside(evil, *others)
        page = compare_page(Comparison(found, ("a\x1b.toml", *FILES[: len(others)]), everything=True))
        shown_text = page_text(page)
        assert all(line.isprintable() for line in shown_text.splitlines())
        assert r"\u202ewing" in shown_text
        assert r"\x1b[2J" in shown_text
