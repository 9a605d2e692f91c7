"""The gear file at the smallest and the usual terminal size, and items of it on the bench."""

from datetime import date

from textual.pilot import Pilot
from textual.widgets import Static

from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.gear_screen import GearScreen
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.form_panel import Form
from tests.app.conftest import (
    DAY,
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


def lines_of(screen: GearScreen) -> str:
    """What stands below the panes."""
    return str(screen.query_one("#owned-lines", Static).content)


def tags_of(screen: GearScreen) -> list[str]:
    return [item.tag for item in screen.gear.items]


async def add(pilot: Pilot, words: str) -> None:
    """Add the item that is found first."""
    await press(pilot, "a")
    await type_in(pilot, words, "enter")


# ---- pictures ----


async def test_opening(opened, pictured):
    async with opened("gear") as pilot:
        await pictured(pilot, "", SMALL, LARGE)
        await press(pilot, "home")
        await pictured(pilot, "what to buy")
        for words, tag in (("due", "black"), ("out of use", "octopus 100"), ("its date missing", "gauge B")):
            await put_cursor(pilot, "#owned", tag)
            await pictured(pilot, words)
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "m")
        await put_cursor(pilot, "#owned", "long 150")
        await pictured(pilot, "imperial units")
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Shelf)


async def test_another_day(opened, pictured):
    """A day that is none is not taken."""
    async with opened("gear", LARGE) as pilot:
        gear = pilot.app.screen
        await press(pilot, "D")
        await pictured(pilot, "asking")
        await type_in(pilot, "soon", "enter")
        assert pilot.app.screen is not gear
        await press(pilot, "escape")
        assert (pilot.app.screen, gear.day) == (gear, DAY)
        await press(pilot, "D")
        await type_in(pilot, "2030-06", "enter")
        assert gear.day == date(2030, 6, 1)
        await pictured(pilot, "in 2030")


async def test_typing_a_date(opened, pictured):
    async with opened("gear", LARGE) as pilot:
        await put_cursor(pilot, "#owned", "black")
        await put_cursor_on_key(pilot, "serviced")
        await press(pilot, "enter")
        await type_in(pilot, "spring")
        assert pilot.app.screen.query(".wrong")
        assert 'found "spring". Write a year, a month or a day in' in screen_text(pilot.app)
        await type_in(pilot, "2026-03-02")
        assert not pilot.app.screen.query(".wrong")
        await pictured(pilot, "")


async def test_adding_and_copying(opened, pictured):
    """A new item stands below the one under the cursor, and can be taken out again."""
    async with opened("gear") as pilot:
        gear = pilot.app.screen
        await put_cursor(pilot, "#owned", "lead, 1 kg")
        await press(pilot, "ctrl+d")
        await pictured(pilot, "a copy")
        await press(pilot, "ctrl+z")
        await put_cursor(pilot, "#owned", "gauge 61")
        await press(pilot, "a")
        await pictured(pilot, "asking what")
        await type_in(pilot, "gauge hose", "enter")
        await pictured(pilot, "a new hose")
        await press(pilot, "ctrl+z", "left")
        await put_cursor(pilot, "#owned", "LP plugs")
        await put_cursor_on_key(pilot, "kept_in")
        await press(pilot, "enter")
        await pictured(pilot, "asking where it is kept")
        await press(pilot, "escape", "left", "a")
        await type_in(pilot, "plug 1/2-20", "enter")
        tags = tags_of(gear)
        assert tags[tags.index("LP plugs") + 1] == "plug"
        assert gear.gear.item("plug").thread == "1/2-20 UNF"
        await press(pilot, "left", "delete")
        assert gear.gear.item("plug") is None


async def test_an_empty_gear_file(opened, pictured, kits):
    (kits / "gear.toml").write_text('format = 1\nholds = "gear"\nname = "Gear"\n')
    async with opened("gear", LARGE) as pilot:
        await pictured(pilot, "")


# ---- what becomes of the file ----


async def test_a_service_is_written_and_all_follows(opened, kits):
    """Serviced today, it is due no more; undone, it is. A new tag names the kits that have the old one."""
    async with opened("gear", LARGE) as pilot:
        gear = pilot.app.screen
        before = (kits / "gear.toml").read_text()
        await put_cursor(pilot, "#owned", "black")
        assert 'CAUTION  "black": service of a regulator' in lines_of(gear)
        await fill_in(pilot, "serviced", "2027-01-10")
        assert "service of a regulator" not in lines_of(gear)
        await press(pilot, "ctrl+s")
        after = (kits / "gear.toml").read_text()
        assert after == before.replace('"2025-12-20"', '"2027-01-10"')
        await press(pilot, "ctrl+z")
        assert 'CAUTION  "black": service of a regulator' in lines_of(gear)
        pilot.app.clear_notifications()
        await put_cursor(pilot, "#owned", "grey")
        await fill_in(pilot, "tag", "silver")
        assert gear.gear.items[0].tag == "silver"
        assert told(pilot.app) == "The old tag is still used in cold-single.toml, sidemount.toml, twinset.toml."


async def test_every_sort_of_item_can_be_added_and_leaving_asks(opened):
    """A hose by its role, a suit by its cut, an O-ring by its size, lead by nothing, the rest by a preset."""
    async with opened("gear") as pilot:
        gear = pilot.app.screen
        count = len(gear.gear.items)
        for number, kind in enumerate(("hose", "foam suit", "O-ring", "lead", "other item", "cylinder"), 1):
            await add(pilot, kind)
            assert len(gear.gear.items) == count + number
            assert gear.record.title == kind
        await press(pilot, "escape")
        assert pilot.app.screen is not gear
        await press(pilot, "d", "enter")
        assert isinstance(pilot.app.screen, Shelf)


# ---- on the bench ----


async def test_the_bench_offers_the_items_of_the_gear_file(opened):
    """Those of the kind, with what they are; the chosen one is written, and what it weighs comes from the gear file."""
    async with opened("cold-single", LARGE) as pilot:
        bench = pilot.app.screen
        await put_cursor(pilot, "#items", "necklace hose")
        await put_cursor_on_key(pilot, "owned")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, Choose)
        words = [choice.word for choice in pilot.app.screen._choices]
        assert "necklace 61" in words
        assert "grey" not in words
        await type_in(pilot, "necklace 61", "enter")
        assert bench.record.owned == "necklace 61"
        await put_cursor(pilot, "#items", "transmitter")
        notes = {row.field.key: row.note for row in bench.query_one(Form).rows}
        assert notes["mass"] == "0.16 kg, from the gear file", "weighed once, for the gear file"


async def test_without_a_gear_file_the_tag_is_typed(opened):
    async with opened("warm-single") as pilot:
        await put_cursor_on_key(pilot, "owned")
        await press(pilot, "enter")
        assert pilot.app.screen.query_one(Form).is_editing
