"""The changeover: the checklist as it shows, and ticks that outlive the screen."""

from pathlib import Path

import pytest

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.changeover import ChangeoverScreen, Steps
from kitbuilder.app.screens.dialogs import Page
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.kitfile.ticks import read_ticks, ticks_path
from tests.app.conftest import screen_text, settle

PAIRS = [("twinset", "sidemount"), ("sidemount", "cold-single"), ("cold-single", "twinset")]


async def open_changeover(app: KitbuilderApp, pilot, source: str, target: str) -> None:
    """Over the shelf, as a person does."""
    await settle(pilot)
    shelf = app.screen
    assert isinstance(shelf, Shelf)
    names = [book.path.stem for book in shelf._books]
    shelf.query_one("#books").highlighted = names.index(source)
    await pilot.press("c")
    await settle(pilot)
    await pilot.press(*f"{target}.toml", "enter")
    await settle(pilot)


def kept(kits: Path, source: str = "twinset", target: str = "sidemount") -> frozenset[str]:
    return read_ticks(ticks_path(kits / f"{source}.toml", kits / f"{target}.toml"))


@pytest.mark.parametrize(("source", "target"), PAIRS)
async def test_opening(app_on, screen, size, source, target):
    app = app_on()
    async with app.run_test(size=size) as pilot:
        await open_changeover(app, pilot, source, target)
        assert isinstance(app.screen, ChangeoverScreen)
        assert screen_text(app) == screen


async def test_ticked_half_way(app_on, screen, size):
    app = app_on()
    async with app.run_test(size=size) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        steps = app.screen.plan.steps
        first_joint = next(step.number for step in steps if step.verb == "undo")
        for _ in range(first_joint - 1):
            await pilot.press("space")
        await settle(pilot)
        assert screen_text(app) == screen


@pytest.mark.parametrize("key", ["h", "y", "o", "question_mark"])
async def test_pages(app_on, screen, key):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press(key)
        await settle(pilot)
        assert isinstance(app.screen, Page)
        assert screen_text(app) == screen


async def test_ticks_outlive_the_app(app_on, kits):
    """Two steps are done, the plug is pulled; the next time it goes on with the third."""
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press("space", "space")
        await settle(pilot)
    assert len(kept(kits)) == 2
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        assert "2 of " in screen_text(app)
        assert app.screen.step.number == 3


async def test_a_tick_is_taken_back(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press("space", "up", "enter")
        await settle(pilot)
    assert kept(kits) == frozenset()


async def test_a_step_that_changed_is_open_again(app_on, kits):
    """Ticks go by the sentence: an edit of a kit opens what it changed and nothing else."""
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        for _ in app.screen.plan.steps:
            await pilot.press("space")
        await settle(pilot)
        every = len(app.screen.plan.steps)
    assert len(kept(kits)) == every
    path = kits / "sidemount.toml"
    path.write_text(path.read_text().replace('tag        = "right gauge hose"', 'tag        = "right HP hose"'))
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        open_steps = [step for step in app.screen.plan.steps if "right HP hose" in str(step.what)]
        assert f"{every - len(open_steps)} of {every} done" in screen_text(app)


async def test_beginning_anew_asks_first(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press("space", "N", "k")
        await settle(pilot)
        assert len(kept(kits)) == 1
        await pilot.press("N", "t")
        await settle(pilot)
        assert kept(kits) == frozenset()


async def test_printing_writes_the_ticked_checklist(app_on, kits):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press("space", "P", "enter")
        await settle(pilot)
    text = (kits / "twinset-to-sidemount.txt").read_text()
    assert text.count("[x]") == 1
    assert "never certifies" in text


async def test_a_kit_that_could_hurt_is_refused(app_on, screen):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "wrong-on-purpose")
        assert isinstance(app.screen, Page)
        assert screen_text(app) == screen


async def test_headings_are_stepped_over(app_on):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press("home", "space")
        await settle(pilot)
        assert app.screen.query_one(Steps).highlighted == 1
        assert app.screen.step.number == 1


async def test_back_to_the_shelf(app_on):
    app = app_on()
    async with app.run_test(size=(80, 24)) as pilot:
        await open_changeover(app, pilot, "twinset", "sidemount")
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Shelf)
