"""Whole tasks from opening to saving: once with keys only, once with the mouse only."""

import json
from pathlib import Path

import pytest
from textual.screen import ModalScreen
from textual.widgets import OptionList

from kitbuilder.app.widgets.figures_table import Figures
from kitbuilder.app.widgets.findings_list import Findings
from kitbuilder.app.widgets.picture import HosePicture
from kitbuilder.assess.assessment import assess
from kitbuilder.assess.fit.hose_figures import BODIES
from kitbuilder.kit.items import FirstStage, Hose, SecondStage
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.report.form import form_rows
from kitbuilder.report.numbers import System
from tests.app.conftest import KITS, SMALL, click_key, fill_in, press, put_cursor, row_with, settle
from tests.commands.run import run


def check(path) -> dict:
    """What the command says about a file."""
    [found] = json.loads(run("check", "--json", str(path), cwd=Path.cwd()).stdout)["result"]["files"]
    return found


def check_text(path, units: str) -> str:
    """The text of the command, its runs of spaces made one."""
    return " ".join(run("check", str(path), "--units", units, cwd=Path.cwd()).stdout.split())


def figures(app) -> str:
    """The figures on the screen, each with spread, their runs of spaces made one."""
    return " ".join(str(app.screen.query_one(Figures).render()).split())


async def test_the_tour_of_the_readme_with_keys_only(app_on, kits):
    """Rubber to braided and 61 to 75 cm: mass, buoyancy and skin change; undo; save another; the command agrees.

    It hangs below the chin on purpose, so that its slack is no fault.
    """
    original = (kits / "sidemount.toml").read_bytes()
    app = app_on()
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        before, before_findings = figures(app), app.screen.assessment.findings
        await pilot.press(*["down"] * 4, "right", *["down"] * 3, "enter", "down", "enter")
        await pilot.press(*["down"] * 3, "enter")
        await pilot.press(*"75 cm", "enter")
        await settle(pilot)
        edited, edited_findings = figures(app), app.screen.assessment.findings
        assert edited != before
        rules = {finding.rule for finding in edited_findings} - {finding.rule for finding in before_findings}
        assert rules == {"coarse on the neck", "unlike the gear file", "more than the gear file has"}
        await pilot.press("ctrl+z", "ctrl+z")
        await settle(pilot)
        assert not app.screen.document.is_dirty
        assert app.screen.assessment.findings == before_findings
        await pilot.press("ctrl+y", "ctrl+y", "S", *"other.toml", "enter")
        await settle(pilot)
    assert (kits / "sidemount.toml").read_bytes() == original
    saved = (kits / "other.toml").read_bytes()
    changed = [(old, new) for old, new in zip(original.splitlines(), saved.splitlines(), strict=True) if old != new]
    assert changed == [
        (b'body       = "rubber"', b'body       = "braided"'),
        (b'length     = "61 cm"', b'length     = "75 cm"'),
    ]
    assert {finding["rule"] for finding in check(kits / "other.toml")["findings"]} >= rules


async def test_after_an_edit_the_screen_agrees_with_the_command_to_the_last_digit(opened, kits, monkeypatch):
    """Every figure of the pane, the hose's own among them, and how the hose fits, stand in what `check` prints."""
    monkeypatch.setenv("COLUMNS", "100")  # so that no cell of a table is wrapped
    async with opened("sidemount") as pilot:
        await put_cursor(pilot, "#items", "short hose")
        await fill_in(pilot, "body", "braided")
        await fill_in(pilot, "length", "75 cm")
        await press(pilot, "ctrl+s", "left")  # in a small terminal, a form in use takes lines of the figures
        for units in ("metric", "imperial"):
            assert_agreement(pilot.app, check_text(kits / "sidemount.toml", units))
            await press(pilot, "m")


def assert_agreement(app, printed: str) -> None:
    """Every figure and the fit of the selected hose stand in what was printed."""
    own, head, *totals = str(app.screen.query_one(Figures).render()).splitlines()
    fit = str(app.screen.query_one(HosePicture).render()).splitlines()[0]
    assert len(totals) == len(BODIES) + 2
    assert " ".join(head.split()) in printed
    for row in totals:
        assert " ".join(row.split()[-6:]) in printed
    mass, buoyancy = own.removeprefix("this hose").split(",")
    unit = mass.split()[-1]
    assert f"mass {unit} buoyancy {unit}" in printed
    hose = next(line for line in printed.split(" hose ") if line.startswith(("75 cm", "29.5 in")))
    assert f"{mass.removesuffix(unit).strip()} {buoyancy.removesuffix(unit).strip()} {fit}" in hose


async def test_change_undo_and_save_with_the_mouse_only(app_on, kits):
    app = app_on()

    async def click_row(listing: str, text: str) -> None:
        found = app.screen.query_one(listing, OptionList)
        line = row_with(found, text) - found.scroll_offset.y + (1 if found.styles.border_top[0] else 0)
        goes_first = found.highlighted != row_with(found, text) and not isinstance(app.screen, ModalScreen)
        for _ in range(1 + goes_first):  # the first goes to the row, the second opens it
            await pilot.click(found, offset=(6, line))
            await settle(pilot)

    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)
        await click_row("#books", "Sidemount")
        await click_row("#items", "short hose")
        assert app.screen.assessment.kit.items[app.screen.item].tag == "short hose"
        await click_row("#rows", "body")
        await click_row("#choices", "braided")
        await click_key(pilot, "Longer")
        await click_key(pilot, "Longer")
        await click_key(pilot, "Longer")
        hose = app.screen.assessment.kit.items[app.screen.item]
        assert (hose.body, round(hose.length_m, 6)) == ("braided", 0.75)
        await click_key(pilot, "Undo")
        assert round(app.screen.assessment.kit.items[app.screen.item].length_m, 6) == 0.70
        await click_row("#findings", "coarse")
        assert app.focused.id == "rows"
        await click_key(pilot, "Save")
    text = (kits / "sidemount.toml").read_text()
    assert 'body       = "braided"' in text
    assert 'length     = "70 cm"' in text


async def test_an_inch_measure_and_a_new_tag_are_kept_as_typed(opened, kits):
    """A new tag takes its references along."""
    async with opened("sidemount") as pilot:
        await fill_in(pilot, "length", "6 ft 11 in")
        assert abs(pilot.app.screen.record.length_m - (6 * 12 + 11) * 0.0254) < 1e-9
        await press(pilot, "left", "up")
        await fill_in(pilot, "tag", "right stage")
        await press(pilot, "ctrl+s")
    text = (kits / "sidemount.toml").read_text()
    assert 'length   = "6 ft 11 in"' in text
    assert text.count('"right stage LP1"') == 1
    assert text.count('"right stage HP1"') == 1
    assert '"right LP' not in text


@pytest.mark.parametrize("name", KITS)
def test_every_finding_is_about_a_key_that_the_form_of_its_item_has(kits, name):
    """So that there is a field to go to; one without a key says where to look."""
    path = kits / f"{name}.toml"
    kit = Document(path).reading.kit
    assessment = assess(resolve_at(path, kit))
    for result in (*assessment.findings, *assessment.unchecked):
        rows = form_rows(kit, {}, result.item, System.METRIC, lambda _field: "")
        assert not result.key or result.key in [row.field.key for row in rows]


async def test_findings_lead_to_their_fields(opened):
    """One for each kind of item, with a key and without, found and not checked."""
    async with opened("wrong-on-purpose") as pilot:
        bench, findings = pilot.app.screen, pilot.app.screen.query_one(Findings)
        await press(pilot, "full_stop", "down", "full_stop", "enter")
        assert_at_field(pilot.app, findings.results[2])
        kinds: dict[tuple, int] = {}
        for number, result in enumerate(findings.results):
            about = None if result.item is None else type(bench.kit.items[result.item])
            kinds.setdefault((about, result.key is None, type(result)), number)
        assert {kind for kind, _, _ in kinds} > {None, Hose, FirstStage, SecondStage}
        for number in kinds.values():
            findings.focus()
            findings.highlighted = number
            await press(pilot, "enter")
            assert_at_field(pilot.app, findings.results[number])


def assert_at_field(app, result) -> None:
    """The form of the item is shown, the cursor on the key."""
    assert app.screen.item == result.item
    assert app.focused.id == "rows"
    if result.key:
        assert app.screen.query_one("Form").selected.field.key == result.key
