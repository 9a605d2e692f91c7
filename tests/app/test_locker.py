"""The locker at the smallest and the usual terminal size, and things of it on the bench."""

from collections.abc import Awaitable, Callable
from datetime import date
from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.locker import LockerScreen
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.form import Form
from kitbuilder.app.widgets.things import Things
from kitbuilder.kit.files import LOCKER_FILE
from kitbuilder.kitfile.document import Document
from tests.app.conftest import row_with, screen_text, settle

DAY = date(2027, 1, 15)
"""In the middle of January 2027 a few things of the locker that comes along are due."""

Opened = Callable[..., Awaitable[str]]


def locker_screen(kits: Path, day: date = DAY) -> LockerScreen:
    return LockerScreen(Document(kits / "locker.toml", LOCKER_FILE), day)


async def opened(pilot: Pilot, kits: Path, day: date = DAY) -> LockerScreen:
    """The locker of the folder, open on a day."""
    screen = locker_screen(kits, day)
    pilot.app.switch_screen(screen)
    await settle(pilot)
    return screen


@pytest.fixture
def locker(app_on, size, kits) -> Opened:
    """The screen of the locker after some keys, the cursor on a thing."""

    async def press(*keys: str, on: str = "", day: date = DAY) -> str:
        app = app_on()
        async with app.run_test(size=size) as pilot:
            screen = await opened(pilot, kits, day)
            if on:
                listing = screen.query_one("#owned")
                listing.highlighted = row_with(listing, on)
                await settle(pilot)
            await pilot.press(*keys)
            await settle(pilot)
            return screen_text(app)

    return press


def lines_of(screen: LockerScreen) -> str:
    """What stands below the panes."""
    return str(screen.query_one("#owned-lines", Static).content)


async def select(pilot: Pilot, listing: str, text: str) -> None:
    """Put the cursor of a list on the first row that has a text."""
    rows = pilot.app.screen.query_one(listing)
    rows.highlighted = row_with(rows, text)
    await settle(pilot)


# ---- pictures ----


async def test_opening(locker, screen):
    assert await locker() == screen


async def test_the_locker_itself_tells_what_to_get(locker, screen):
    assert await locker("home") == screen


async def test_a_thing_that_is_due(locker, screen):
    assert await locker(on="black") == screen


async def test_a_thing_out_of_use_that_a_kit_has(locker, screen):
    assert await locker(on="octopus 100") == screen


async def test_a_thing_whose_date_is_missing(locker, screen):
    assert await locker(on="gauge B") == screen


async def test_typing_a_date(locker, screen):
    assert await locker("right", "home", *["down"] * 5, "enter", *"2026-03-02", on="black") == screen


async def test_a_date_that_is_none(locker, screen):
    assert await locker("right", "home", *["down"] * 5, "enter", *"spring", on="black") == screen


async def test_where_a_thing_is_kept(locker, screen):
    assert await locker("right", "end", "up", "enter", on="LP plugs") == screen


async def test_asking_what_to_add(locker, screen):
    assert await locker("a") == screen


async def test_asking_which_plug(locker, screen):
    assert await locker("a", *"plug", "enter") == screen


async def test_a_new_hose(locker, screen):
    assert await locker("a", *"hose", "enter", *"gauge", "enter", on="gauge 61") == screen


async def test_a_copy(locker, screen):
    assert await locker("c", on="lead, 1 kg") == screen


async def test_asking_for_the_day(locker, screen):
    assert await locker("D") == screen


async def test_another_day(locker, screen):
    assert await locker("D", *"2030-06", "enter") == screen


async def test_imperial_units(locker, screen):
    assert await locker("m", on="long 150") == screen


async def test_every_key(locker, screen):
    assert await locker("question_mark") == screen


async def test_an_empty_locker(locker, screen, kits):
    (kits / "locker.toml").write_text('format = 1\nholds = "locker"\nname = "Locker"\n')
    assert await locker() == screen


# ---- what becomes of the file ----


async def test_a_service_is_written_and_all_follows(app_on, kits):
    """Serviced today, it is due no more; undone, it is."""
    app = app_on()
    async with app.run_test(size=(120, 40)) as pilot:
        screen = await opened(pilot, kits)
        before = (kits / "locker.toml").read_text()
        await select(pilot, "#owned", "black")
        assert "CAUTION: service of a regulator" in lines_of(screen)
        screen.query_one(Form).go_to("serviced")
        await pilot.press("enter", *"2027-01-10", "enter")
        await settle(pilot)
        assert "service of a regulator" not in lines_of(screen)
        await pilot.press("s")
        after = (kits / "locker.toml").read_text()
        assert after == before.replace('"2025-12-20"', '"2027-01-10"')
        await pilot.press("u")
        await settle(pilot)
        assert "CAUTION: service of a regulator" in lines_of(screen)


async def test_a_new_thing_stands_below_the_one_under_the_cursor(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, kits)
        await select(pilot, "#owned", "LP plugs")
        await pilot.press("a", *"plug", "enter", *"1/2-20", "enter")
        await settle(pilot)
        tags = [thing.tag for thing in screen.locker.things]
        assert tags[tags.index("LP plugs") + 1] == "plug"
        assert screen.locker.thing("plug").thread == "1/2-20 UNF"
        await pilot.press("d")
        await settle(pilot)
        assert screen.locker.thing("plug") is None


@pytest.mark.parametrize("kind", ["hose", "foam suit", "O-ring", "lead", "other thing", "cylinder"])
async def test_every_sort_of_thing_can_be_added(app_on, kits, kind):
    """By what it is for, its cut, its size, its preset, or nothing at all."""
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, kits)
        count = len(screen.locker.things)
        await pilot.press("a", *kind, "enter")
        await settle(pilot)
        if isinstance(app.screen, Choose):
            await pilot.press("enter")
            await settle(pilot)
        assert len(screen.locker.things) == count + 1
        assert screen.record.title == kind


async def test_a_new_tag_names_the_kits_that_have_the_old_one(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, kits)
        screen.query_one(Form).go_to("tag")
        await pilot.press("enter", *"silver", "enter")
        await settle(pilot)
        assert screen.locker.things[0].tag == "silver"
        (told,) = [note.message for note in app._notifications]
        assert told == "The old tag still stands in cold-single.toml, sidemount.toml, twinset.toml."


async def test_a_day_that_is_none_is_not_taken(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, kits)
        await pilot.press("D", *"soon", "enter")
        await settle(pilot)
        assert app.screen is not screen
        await pilot.press("escape")
        await settle(pilot)
        assert (app.screen, screen.day) == (screen, DAY)


async def test_back_to_the_kits(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(pilot, kits)
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Shelf)


async def test_leaving_asks_about_edits_that_are_not_saved(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(pilot, kits)
        await pilot.press("c", "escape")
        await settle(pilot)
        assert app.screen is not screen
        await pilot.press("d")
        await settle(pilot)
        assert isinstance(app.screen, Shelf)


# ---- on the bench ----


async def test_the_bench_offers_the_things_of_the_locker(app_on):
    """Those of the kind, with what they are; the chosen one is written."""
    app = app_on("cold-single")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await select(pilot, "#things", "necklace hose")
        app.screen.query_one(Form).go_to("owned")
        await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, Choose)
        words = [choice.word for choice in app.screen._choices]
        assert "necklace 61" in words
        assert "grey" not in words
        await pilot.press(*"necklace 61", "enter")
        await settle(pilot)
        assert app.screen.record.owned == "necklace 61"


async def test_the_bench_says_what_comes_from_the_locker(app_on):
    """The mass of the sender was weighed once, for the locker."""
    app = app_on("cold-single")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        things = app.screen.query_one(Things)
        things.highlighted = row_with(things, "transmitter")
        await settle(pilot)
        notes = {row.field.key: row.note for row in app.screen.query_one(Form).rows}
        assert notes["mass"] == "0.16 kg, from the locker"


async def test_without_a_locker_the_tag_is_typed(app_on):
    app = app_on("warm-single")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        app.screen.query_one(Form).go_to("owned")
        await pilot.press("enter")
        await settle(pilot)
        assert app.screen.query_one(Form).is_editing
