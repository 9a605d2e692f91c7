"""Every action of every screen is reached by key, by mouse and in the palette."""

from textual.command import CommandPalette

from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.report.actions import ACTIONS
from tests.app.conftest import SMALL, click_key, settle
from tests.app.every_screen import every_screen, show
from tests.app.test_actions import is_answered


async def test_every_action_by_key_mouse_and_palette(opened, kits):
    """At the smallest size: what the footer has no room for is in the palette, which the footer opens by mouse."""
    reached: set[str] = set()
    async with opened(size=SMALL) as pilot:
        for name, make in every_screen(kits):
            await show(pilot, make())
            screen = pilot.app.screen
            offered = {binding.id for binding in screen.BINDINGS} | ({"open"} if screen.query(Listing) else set())
            by_key = {active.binding.id for active in screen.active_bindings.values() if active.enabled}
            assert offered <= by_key, name
            listed = {command.title: command for command in pilot.app.get_system_commands(screen)}
            assert {ACTIONS[each].name for each in offered} <= set(listed), name
            assert all(is_answered(type(screen), ACTIONS[each].call or each) for each in offered - {"open"}), name
            whole = [key for key in screen.query_one(KeyLine).keys if key.end <= SMALL[0]]
            assert {"Menu", "Help"} <= {key.name for key in whole}, name
            reached |= offered
        assert set(ACTIONS) <= reached


async def test_a_click_opens_the_palette_and_runs_what_is_chosen_there(opened):
    async with opened(size=SMALL) as pilot:
        await click_key(pilot, "Menu")
        palette = pilot.app.screen
        assert isinstance(palette, CommandPalette)
        before = pilot.app.system
        await pilot.press(*"Units")
        await settle(pilot)
        await pilot.pause(0.3)
        listing = palette.query_one("CommandList")
        await pilot.click(listing, offset=(4, 0))
        await settle(pilot)
        if pilot.app.screen is palette:  # the click chose; a second one runs it
            await pilot.press("enter")
            await settle(pilot)
        assert isinstance(pilot.app.screen, Shelf)
        assert pilot.app.system is not before
