"""The losses: what the screen shows at every size, and what can be done there."""

from collections.abc import Callable

import pytest
from textual.widgets import Static

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Page
from kitbuilder.app.screens.losses import LossesScreen
from kitbuilder.app.widgets.listing import Listing
from tests.app.conftest import row_with, screen_text, settle

BARE = 'format = 1\nname = "Bare"\nlayout = "single"\n'


async def open_losses(app: KitbuilderApp, pilot) -> LossesScreen:
    """The losses of the kit on the bench."""
    await settle(pilot)
    assert isinstance(app.screen, Bench)
    await app.push_screen(LossesScreen(app.screen.document))
    await settle(pilot)
    assert isinstance(app.screen, LossesScreen)
    return app.screen


@pytest.fixture
def on_losses(app_on) -> Callable:
    """Runs a task on the losses of a kit, and gives the screen at its end."""

    async def run(name: str, task: Callable | None = None, size: tuple[int, int] = (80, 24), **options) -> str:
        app = app_on(name, **options)
        async with app.run_test(size=size) as pilot:
            screen = await open_losses(app, pilot)

            async def press(*keys: str) -> None:
                await pilot.press(*keys)
                await settle(pilot)

            if task:
                await task(screen, press)
            return screen_text(app)

    return run


def words_of(screen: LossesScreen) -> str:
    """All that is said of the cause under the cursor, in one line."""
    return " ".join(str(screen.query_one("#loss-lines", Static).render()).split())


def pressing(*keys: str) -> Callable:
    """A task that presses keys."""

    async def task(_screen, press):
        await press(*keys)

    return task


# --- what it shows ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["twinset", "sidemount", "cold-single", "wrong-on-purpose"])
async def test_opening(on_losses, screen, name, size):
    assert await on_losses(name, size=size) == screen


async def test_a_burst(on_losses, screen, size):
    assert await on_losses("sidemount", pressing("down", "down"), size=size) == screen


async def test_imperial_units(on_losses, screen):
    assert await on_losses("twinset", pressing("down", "down", "m"), size=(80, 24)) == screen


async def test_what_it_rests_on(on_losses, screen):
    assert await on_losses("twinset", pressing("o"), size=(120, 40)) == screen


async def test_every_key(on_losses, screen):
    assert await on_losses("twinset", pressing("question_mark")) == screen


async def test_a_kit_without_first_stages(on_losses, screen, kits):
    (kits / "bare.toml").write_text(BARE)
    assert await on_losses("bare") == screen


# --- what can be done -------------------------------------------------------------------------------------------------


async def test_the_arrows_walk_the_causes(on_losses):
    """The gauge hose is the last of the twinset's; read off the file, the left post feeds necklace, suit and gauge."""

    async def task(screen, press):
        assert "breathe necklace; lost: primary" in words_of(screen)
        await press("end")
        assert screen.loss.tag == "gauge hose"
        assert "breathe primary; lost: necklace" in words_of(screen)
        assert "empty in" in words_of(screen)
        assert "gauge hose: HP burst" in str(screen.query_one("#loss").border_title)

    await on_losses("twinset", task)


async def test_units_pages_and_the_way_back(on_losses):
    async def task(screen, press):
        await press("end")
        assert "at 45 m" in words_of(screen)
        await press("m")
        assert "at 148 ft" in words_of(screen)
        await press("m")
        for page in ("o", "question_mark"):
            await press(page)
            assert isinstance(screen.app.screen, Page)
            await press("escape")
        await press("escape")
        assert isinstance(screen.app.screen, Bench)
        assert screen.app.screen.document is screen.document

    await on_losses("twinset", task)


async def test_a_row_can_be_clicked(app_on):
    app = app_on("twinset")
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await open_losses(app, pilot)
        listing = screen.query_one("#causes", Listing)
        await pilot.click(listing, offset=(6, row_with(listing, "drysuit hose") + 1))
        await settle(pilot)
        assert screen.loss.tag == "drysuit hose"


async def test_no_key_does_harm_in_a_kit_without_first_stages(on_losses, kits):
    (kits / "bare.toml").write_text(BARE)

    async def task(screen, press):
        await press("down", "enter", "m", "o", "escape", "end", "tab", "up")
        assert screen.app.screen is screen

    await on_losses("bare", task)


async def test_a_hostile_tag_is_shown_as_text(on_losses, kits):
    hostile = "\\u001b[2J[red]x[/red] [@click=app.quit]y[/] \\u202edesrever"
    path = kits / "twinset.toml"
    text = path.read_text("utf-8")
    assert '"long hose"\nrole' in text
    path.write_text(text.replace('"long hose"\nrole', f'"{hostile}"\nrole'), "utf-8")

    async def task(screen, press):
        await press("down", "down")
        assert "[red]x[/red]" in screen_text(screen.app)
        assert "\x1b" not in screen_text(screen.app)

    await on_losses("twinset", task)


async def test_it_survives_a_terminal_that_is_too_small(app_on):
    app = app_on("twinset")
    async with app.run_test(size=(20, 8)) as pilot:
        screen = await open_losses(app, pilot)
        for pressed in ("down", "pagedown", "o", "escape", "question_mark", "escape", "m", "tab", "down"):
            await pilot.press(pressed)
            await settle(pilot)
        for size in ((1, 1), (200, 50), (80, 24)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
        assert app.screen is screen
        assert "drysuit hose" in screen_text(app)


def test_its_keys_are_those_of_the_other_screens():
    """The same action has the same key and name as on the fit, and the footer fits 80 columns."""
    from kitbuilder.app.screens.fit import FitScreen

    on_fit = {binding.action: (binding.key, binding.description) for binding in FitScreen.BINDINGS}
    for binding in LossesScreen.BINDINGS:
        assert on_fit[binding.action] == (binding.key, binding.description)
        assert binding.tooltip.endswith(".")
