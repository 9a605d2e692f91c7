"""Screens as plain text, kept one `.txt` a picture; read them before you accept them."""

import shutil
from collections.abc import Awaitable, Callable
from datetime import date
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode
from textual.app import App
from textual.pilot import Pilot
from textual.strip import Strip
from textual.widgets import Input, OptionList

from kitbuilder.app.app import KitbuilderApp

CONFIGS = Path(__file__).parents[2] / "configs"
DAY = date(2027, 1, 15)
"""The day by which the locker is looked at."""
TERMINAL_SIZES = {"80x24": (80, 24), "120x40": (120, 40)}
KITS = ("warm-single", "cold-single", "twinset", "sidemount", "wrong-on-purpose")

Press = Callable[..., Awaitable[str]]


class ScreenSnapshot(SingleFileSnapshotExtension):
    """A screen as a reviewer reads it in a diff."""

    file_extension = "txt"
    _write_mode = WriteMode.TEXT


def screen_text(app: App) -> str:
    """What the terminal shows, without colour, led by what colour would tell: where the focus is.

    The compositor is private to Textual; this is the only place that knows it, and
    `test_the_text_of_a_screen_is_what_textual_exports` fails when it moves.
    """
    update = app.screen._compositor.render_update(full=True, screen_stack=app._background_screens)
    lines = [Strip.join(row).text.rstrip() for row in update.strips]
    focus = app.focused.css_identifier if app.focused else "nothing"
    return "\n".join([f"{type(app.screen).__name__}, focus on {focus}", *lines, ""])


async def settle(pilot: Pilot) -> None:
    """Wait until nothing more changes by itself."""
    await pilot.pause()
    await pilot.wait_for_scheduled_animations()
    for field in pilot.app.screen.query(Input):
        field.cursor_blink = False
    await pilot.pause()


def row_with(listing: OptionList, text: str) -> int:
    """The number of the first row of a list that has a text."""
    for number, option in enumerate(listing.options):
        if text in str(option.prompt):
            return number
    raise AssertionError(f"no row with {text!r}")


@pytest.fixture
def kits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The shipped kits in a folder of their own, which is the current one, so that no path of this machine shows."""
    shutil.copytree(CONFIGS, tmp_path / "kits", ignore=shutil.ignore_patterns("*.md", "*.json"))
    monkeypatch.chdir(tmp_path)
    return Path("kits")


@pytest.fixture(params=TERMINAL_SIZES.values(), ids=TERMINAL_SIZES)
def size(request: pytest.FixtureRequest) -> tuple[int, int]:
    return request.param


@pytest.fixture
def screen(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    return snapshot.use_extension(ScreenSnapshot)


@pytest.fixture
def app_on(kits: Path) -> Callable[..., KitbuilderApp]:
    """An app on a file of the folder, or on the folder itself."""

    def make(name: str = "", **options) -> KitbuilderApp:
        path = kits / f"{name}.toml" if name else kits
        app = KitbuilderApp(path, **({"day": DAY} | options))
        app.animation_level = "none"
        return app

    return make


@pytest.fixture
def shown(app_on: Callable[..., KitbuilderApp], size: tuple[int, int]) -> Press:
    """The screen after some keys: `await shown("sidemount", "down", "enter")`."""

    async def press(name: str, *keys: str, **options) -> str:
        app = app_on(name, **options)
        async with app.run_test(size=size) as pilot:
            await settle(pilot)
            await pilot.press(*keys)
            await settle(pilot)
            return screen_text(app)

    return press
