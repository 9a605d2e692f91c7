"""The losses: what the screen shows at every size, and what can be done there."""

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.losses_screen import LossesScreen
from kitbuilder.app.widgets.listing import Listing
from tests.app.conftest import LARGE, SMALL, TINY, press, row_with, screen_text, settle

BARE = 'format = 1\nname = "Bare"\nlayout = "single"\n'


async def open_losses(pilot: Pilot) -> LossesScreen:
    """The losses of the kit on the bench."""
    assert isinstance(pilot.app.screen, Bench)
    await press(pilot, "v")
    assert isinstance(pilot.app.screen, LossesScreen)
    return pilot.app.screen


def words_of(screen: LossesScreen) -> str:
    """All that is said of the cause under the cursor, in one line."""
    return " ".join(str(screen.query_one("#loss-lines", Static).render()).split())


@pytest.mark.parametrize("name", ["twinset", "sidemount", "cold-single", "wrong-on-purpose"])
async def test_opening(opened, pictured, name):
    async with opened(name) as pilot:
        await open_losses(pilot)
        await pictured(pilot, "", SMALL, LARGE)
        if name == "sidemount":
            await press(pilot, "down", "down")
            await pictured(pilot, "a burst")


async def test_walking_the_causes(opened, pictured):
    """The gauge hose is the last of the twinset's; read off the file, the left post feeds necklace, suit and gauge."""
    async with opened("twinset") as pilot:
        losses = await open_losses(pilot)
        assert "breathe necklace; lost: primary" in words_of(losses)
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "down", "down", "m")
        await pictured(pilot, "imperial units")
        await press(pilot, "m", "end")
        assert losses.loss.tag == "manifold"
        await press(pilot, "up", "up", "up")
        assert losses.loss.tag == "gauge hose"
        assert "breathe primary; lost: necklace" in words_of(losses)
        assert "empty in" in words_of(losses)
        assert "gauge hose: HP burst" in str(losses.query_one("#loss").border_title)
        assert "at 45 m" in words_of(losses)
        await press(pilot, "m")
        assert "at 148 ft" in words_of(losses)
        await press(pilot, "m")
        listing = losses.query_one("#causes", Listing)
        assert str(listing.border_title).split() == ["item", "what", "fails", "works"]
        await pilot.click(listing, offset=(6, row_with(listing, "drysuit hose") - listing.scroll_offset.y + 1))
        await settle(pilot)
        assert losses.loss.tag == "drysuit hose"
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Bench)
        assert pilot.app.screen.document is losses.document


async def test_units_changed_before_the_screen_knows_of_the_cursor(opened):
    """Quick keys: the list has moved, its message is on the way. The cursor stays on what the pane is about."""
    async with opened("twinset") as pilot:
        losses = await open_losses(pilot)
        listing = losses.query_one("#causes", Listing)
        listing.highlighted = 2
        losses.action_units()
        await settle(pilot)
        assert (listing.highlighted, losses.loss.tag) == (2, "long hose")
        assert "▸ long hose" in screen_text(pilot.app)
        assert "long hose: LP burst" in str(losses.query_one("#loss").border_title)


async def test_what_it_rests_on(opened, pictured):
    async with opened("twinset", LARGE) as pilot:
        losses = await open_losses(pilot)
        await press(pilot, "o")
        await pictured(pilot, "")
        await press(pilot, "escape")
        assert pilot.app.screen is losses


async def test_a_kit_without_first_stages(opened, pictured, kits):
    """No key does any harm."""
    (kits / "bare.toml").write_text(BARE)
    async with opened("bare") as pilot:
        losses = await open_losses(pilot)
        await pictured(pilot, "")
        await press(pilot, "down", "enter", "m", "o", "escape", "end", "tab", "up")
        assert pilot.app.screen is losses


async def test_a_hostile_tag_is_shown_as_text(opened, kits):
    hostile = "\\u001b[2J[red]x[/red] [@click=app.quit]y[/] \\u202edesrever"
    path = kits / "twinset.toml"
    text = path.read_text("utf-8")
    assert '"long hose"\nrole' in text
    path.write_text(text.replace('"long hose"\nrole', f'"{hostile}"\nrole'), "utf-8")
    async with opened("twinset") as pilot:
        await open_losses(pilot)
        await press(pilot, "down", "down")
        assert "[red]x[/red]" in screen_text(pilot.app)
        assert "\x1b" not in screen_text(pilot.app)


async def test_it_survives_a_terminal_that_is_too_small(opened):
    async with opened("twinset", TINY) as pilot:
        losses = await open_losses(pilot)
        await press(pilot, "down", "pagedown", "o", "escape", "question_mark", "escape", "m", "tab", "down")
        for size in ((1, 1), (200, 50), SMALL):
            await pilot.resize_terminal(*size)
        await settle(pilot)
        assert pilot.app.screen is losses
        assert f"▸ {losses.loss.side or losses.loss.tag} " in screen_text(pilot.app), "the cursor is in sight"


def test_its_keys_are_those_of_the_other_screens():
    """The same action has the same key and name as on the fit, and the footer fits 80 columns."""
    from kitbuilder.app.screens.fit_screen import FitScreen

    on_fit = {binding.action: (binding.key, binding.description) for binding in FitScreen.BINDINGS}
    for binding in LossesScreen.BINDINGS:
        assert on_fit[binding.action] == (binding.key, binding.description)
        assert binding.tooltip.endswith(".")
