"""Long work says how far it is, lets keys through, and stops with esc."""

import shutil
from threading import Event

from kitbuilder.app.screens import fewest_screen, kit_pairs, shelf
from kitbuilder.app.screens.changeover_screen import ChangeoverScreen
from kitbuilder.app.screens.fewest_screen import FewestScreen
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.screens.working import Working
from kitbuilder.app.widgets.title_bar import TitleBar
from tests.app.conftest import press, screen_text, settle, type_in


def title(app) -> str:
    return str(app.screen.query_one(TitleBar).render())


async def test_reading_a_large_folder_stops_and_goes_on(opened, kits, monkeypatch):
    for number in range(20):
        shutil.copy(kits / "warm-single.toml", kits / f"copy-{number:02}.toml")
    async with opened() as pilot:
        screen = pilot.app.screen
        assert "25 kits" in title(pilot.app)
        monkeypatch.setattr(shelf, "AT_ONCE_S", 0.0)
        screen.action_reload()
        assert len(screen._books) == 1, "one kit, and then the screen has its turn"
        assert "1 kit, reading 29 more" in title(pilot.app)
        assert "esc stops" in title(pilot.app)
        screen.action_back()
        assert "not read: g reads all" in title(pilot.app)
        await settle(pilot)
        assert len(screen._books) == 1
        await press(pilot, "g")
        assert "25 kits" in title(pilot.app)
        assert "not read" not in title(pilot.app)


async def test_a_changeover_is_planned_beside_the_app(opened, monkeypatch):
    """Esc stops waiting, and an answer that comes later opens nothing."""
    go, began, planned = Event(), Event(), kit_pairs.planned

    def waits(*given):
        began.set()
        go.wait(10)
        return planned(*given)

    async with opened() as pilot:
        monkeypatch.setattr(kit_pairs, "planned", waits)
        await press(pilot, "c")
        await type_in(pilot, "twinset")
        pilot.app.screen.action_take()
        while not began.is_set():
            await pilot.pause(0.01)
        assert isinstance(pilot.app.screen, Working)
        await pilot.pause(0.4)
        shown = screen_text(pilot.app)
        assert "Planning the changeover … " in shown
        assert " s. Esc stops." in shown
        await pilot.press("escape")
        assert isinstance(pilot.app.screen, Shelf)
        go.set()
        await settle(pilot)
        assert isinstance(pilot.app.screen, Shelf)
        await press(pilot, "c")
        await type_in(pilot, "twinset", "enter")
        await settle(pilot)
        assert isinstance(pilot.app.screen, ChangeoverScreen)


async def test_the_search_for_the_fewest_hoses_stops(opened, kits, monkeypatch):
    go, began, find = Event(), Event(), fewest_screen.find_fewest

    def waits(*given, **options):
        began.set()
        go.wait(10)
        return find(*given, **options)

    monkeypatch.setattr(fewest_screen, "find_fewest", waits)
    async with opened() as pilot:
        screen = FewestScreen(kits, ["warm-single.toml"])
        pilot.app.push_screen(screen)
        while not began.is_set():
            await pilot.pause(0.01)
        assert screen.is_working
        assert "Esc stops." in screen_text(pilot.app)
        await pilot.press("escape")
        assert pilot.app.screen is screen
        assert "Stopped." in screen_text(pilot.app)
        go.set()
        await settle(pilot)
        assert screen.plan is None
        await press(pilot, "B")
        assert screen.plan is not None
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Shelf)
