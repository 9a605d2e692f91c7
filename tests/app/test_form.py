"""The form: its folded keys, the cursor from item to item, the help, and values that are asked back."""

import shutil

from textual.widgets import Static

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.fit_screen import FitScreen
from kitbuilder.app.screens.gear_screen import GearScreen
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.form_panel import Form
from tests.app.conftest import (
    LARGE,
    SMALL,
    fill_in,
    press,
    put_cursor,
    put_cursor_on_key,
    screen_text,
    told,
    type_in,
)
from tests.report.test_form_lines import IN_A_PANE


def key_of(pilot) -> str:
    """The key under the cursor; empty on the line that keys are folded under."""
    row = pilot.app.screen.query_one(Form).selected
    return row.field.key if row else ""


def help_of(pilot) -> str:
    """What is said about the key under the cursor."""
    return str(pilot.app.screen.query_one("#help", Static).content)


async def test_the_cursor_stays_on_its_key_and_open_stays_open(opened):
    """A key that the next item folds away leaves the cursor on the last line; further on it is back on the key."""
    async with opened("twinset", LARGE) as pilot:
        form = pilot.app.screen.query_one(Form)
        assert form.size.width - 3 == IN_A_PANE["120 columns"]
        await put_cursor_on_key(pilot, "rest_run")
        await put_cursor(pilot, "#items", "wing hose")
        assert key_of(pilot) == ""
        assert help_of(pilot).startswith('"rest run" is among them. ')
        await put_cursor(pilot, "#items", "long hose")
        assert key_of(pilot) == "rest_run"
        await put_cursor(pilot, "#items", "right cylinder")
        assert key_of(pilot) == "tag", "a cylinder has no run"

        await put_cursor(pilot, "#items", "long hose")
        assert "\n   make" not in (closed := screen_text(pilot.app))
        await press(pilot, "right", "end", "enter")
        assert key_of(pilot) == "", "the cursor stays on the line, so that enter closes it again"
        assert help_of(pilot) == "Enter hides the keys below."
        opened_form = screen_text(pilot.app)
        assert (" make   " in opened_form, " make   " in closed) == (True, False)
        await put_cursor_on_key(pilot, "make")
        assert help_of(pilot).endswith("Default: none.")
        await put_cursor(pilot, "#items", "wing hose")
        assert key_of(pilot) == "make"
        await press(pilot, "end")
        await put_cursor_on_key(pilot, "tag")
        form.go_to("")
        await press(pilot, "end", "home")
        assert key_of(pilot) == "tag"


async def test_a_finding_leads_to_a_key_that_is_folded_away(opened):
    async with opened("sidemount") as pilot:
        form = pilot.app.screen.query_one(Form)
        assert pilot.app.screen.query_one("#help").display is False, "the help takes no room until it is of use"
        form.go_to("notes")
        await press(pilot)
        assert key_of(pilot) == "notes"
        assert pilot.app.screen.query_one("#help").display
        assert pilot.app.screen.query_one("#form").size.width - 3 == IN_A_PANE["80 columns"]


async def test_taking_a_hose_of_the_gear_file(opened):
    """It brings its length along, in one edit; the list starts with what can be joined and is free."""
    async with opened("twinset", LARGE) as pilot:
        bench = pilot.app.screen
        assert isinstance(bench, Bench)
        before = bench.document.text
        await put_cursor(pilot, "#items", "necklace hose")
        await put_cursor_on_key(pilot, "owned")
        await press(pilot, "enter")
        listed = screen_text(pilot.app)
        assert "gauge 61" not in listed, "a hose of high pressure cannot be joined to a second stage"
        await type_in(pilot, "necklace 61, braided", "enter")
        assert (bench.record.owned, bench.record.body, bench.record.length_m) == (
            "necklace 61, braided",
            "braided",
            0.61,
        )
        assert "unlike the gear file" not in {finding.rule for finding in bench.assessment.findings}
        assert "in the gear file: body" in told(pilot.app)
        await press(pilot, "ctrl+z")
        assert bench.document.text == before


async def test_the_filter_finds_a_key_that_is_folded_away(opened):
    """By the line that it is folded under; enter there shows it."""
    async with opened("twinset") as pilot:
        form = pilot.app.screen.query_one(Form)
        await press(pilot, "right", "slash")
        await type_in(pilot, "bore", "enter")
        assert (form.listing.option_count, key_of(pilot)) == (1, "")
        await press(pilot, "enter", "down")
        assert (form.listing.option_count, key_of(pilot)) == (2, "bore")


async def test_a_choice_that_is_not_made_starts_on_the_first_word(opened):
    async with opened("warm-single") as pilot:
        await put_cursor_on_key(pilot, "measured")
        await press(pilot, "enter", "enter")
        assert pilot.app.screen.record.measured == "end to end"


async def test_a_slip_in_a_gear_file_is_asked_back(opened):
    """What was typed instead is not asked about again."""
    async with opened("gear", SMALL) as pilot:
        gear = pilot.app.screen
        assert isinstance(gear, GearScreen)
        await put_cursor(pilot, "#owned", "gauge A")
        await put_cursor_on_key(pilot, "mass")
        await press(pilot, "enter")
        await type_in(pilot, "2.2 kg", "enter")
        said = " ".join(line[39:].strip() for line in screen_text(pilot.app).splitlines())
        assert "Its mass, 2.20 kg, is far from the 0.15 kg to 0.30 kg of its preset brass gauge." in said
        assert "Press enter again to keep it, or type another value." in said, "a long sentence is not cut"
        assert not gear.document.is_dirty
        await type_in(pilot, "0.22 kg", "enter")
        assert gear.record.mass_kg == 0.22


async def test_a_slip_in_a_diver_file_is_asked_back(opened):
    async with opened("diver") as pilot:
        screen = pilot.app.screen
        assert isinstance(screen, DiverScreen)
        await fill_in(pilot, "mass", "182 kg")
        assert not screen.document.is_dirty
        await press(pilot, "enter")
        assert screen.diver.header.mass_kg == 182.0


async def test_a_slip_while_measuring_is_asked_back(opened):
    """A run of 6.1 cm for a hose of 61 cm: the comma slipped."""
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        await press(pilot, "t", "enter")
        await type_in(pilot, "6.1 cm", "enter")
        assert "The run measured by string, 6 cm," in " ".join(screen_text(pilot.app).split())
        assert not bench.document.is_dirty
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, FitScreen)
        assert not bench.document.is_dirty


async def test_a_file_name_needs_no_ending(opened, kits):
    """When it is renamed, and when it is saved under another name."""
    shutil.copy(kits / "sidemount.toml", kits / "a.toml")
    async with opened() as pilot:
        assert isinstance(pilot.app.screen, Shelf)
        await press(pilot, "home", "R")
        await type_in(pilot, "b", "enter")
        assert (kits / "b.toml").exists()
        assert not (kits / "a.toml").exists()
        await press(pilot, "enter")
        await press(pilot, "S")
        await type_in(pilot, "c", "enter")
        assert (kits / "c.toml").read_bytes() == (kits / "b.toml").read_bytes()
        assert pilot.app.screen.document.path.name == "c.toml"


async def test_the_cursor_stays_in_view_when_a_value_is_kept_and_the_findings_grow(opened):
    """A hose of 8 cm is asked back first; kept, it brings a warning that takes more lines than there were."""
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        await put_cursor(pilot, "#items", "long hose")
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter")
        await type_in(pilot, "8 cm", "enter")
        said = bench.query(".said").first(Static)
        assert "8 cm is far from what is usual for the role long hose" in str(said.render())
        assert not bench.document.is_dirty
        await press(pilot, "enter")
        assert bench.has_class("-in-form")
        assert "▸ length       8 cm" in screen_text(pilot.app)
        await press(pilot, "home")
        await pilot.resize_terminal(*LARGE)
        await put_cursor_on_key(pilot, "length")
        await pilot.resize_terminal(*SMALL)
        await press(pilot)
        assert "▸ length       8 cm" in screen_text(pilot.app)
