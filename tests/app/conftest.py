"""Screens as plain text, kept one `.txt` per picture; read them before you accept them.

Starting the app costs more than anything that a test does with it: a test opens it once, and takes several pictures on
the way. Each state has one picture, in the size that shows most of it; first views of a screen have one in each size.
"""

import shutil
from collections.abc import AsyncIterator, Awaitable, Callable
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from datetime import date
from pathlib import Path

import pytest
from rich.console import RenderableType
from syrupy.assertion import SnapshotAssertion
from textual._compositor import Compositor
from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen
from textual.strip import Strip
from textual.widgets import Input, OptionList

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.key_line import KeyLine

CONFIGS = Path(__file__).parents[2] / "configs"
DAY = date(2027, 1, 15)
"""The day by which the gear file is looked at."""
TINY, SMALL, LARGE = (40, 12), (80, 24), (120, 40)
"""A terminal below which the app says that it is too small, the smallest that shows everything, and the usual one, in
columns and rows."""
KITS = ("warm-single", "cold-single", "twinset", "sidemount", "wrong-on-purpose")
TRIPS = ("trip-reef", "trip-wreck")

Opened = Callable[..., AbstractAsyncContextManager[Pilot[None]]]
Pictured = Callable[..., Awaitable[None]]


paint = Compositor.render_update
"""As Textual has it. The compositor is private to Textual; this file is the only place that knows it."""


def _whole_screen_only(
    compositor: Compositor, full: bool = False, screen_stack: list[Screen] | None = None, simplify: bool = False
) -> RenderableType | None:
    return paint(compositor, full, screen_stack, simplify) if full else None


def screen_text(app: App) -> str:
    """What the terminal shows, without colour, led by what colour would tell: where the focus is.

    `test_the_text_of_a_screen_is_what_textual_exports` fails when the compositor moves.
    """
    update = app.screen._compositor.render_update(full=True, screen_stack=app._background_screens)
    lines = [Strip.join(row).text.rstrip() for row in update.strips]
    focus = app.focused.css_identifier if app.focused else "nothing"
    return "\n".join([f"{type(app.screen).__name__}, focus on {focus}", *lines, ""])


async def settle(pilot: Pilot) -> None:
    """Wait until nothing more changes by itself."""
    await pilot.wait_for_scheduled_animations()
    for field in pilot.app.screen.query(Input):
        field.cursor_blink = False
    await pilot.pause()
    paint(pilot.app.screen._compositor, screen_stack=pilot.app._background_screens)
    await pilot.pause()
    if any(not worker.is_finished for worker in pilot.app.workers):
        await pilot.app.workers.wait_for_complete()
        await pilot.pause()


async def click_key(pilot: Pilot, name: str) -> None:
    """Click on a key in the bottom line."""
    line = pilot.app.screen.query_one(KeyLine)
    [key] = [key for key in line.keys if key.name == name]
    await pilot.click(line, offset=(key.column + 1, 0))
    await settle(pilot)


async def press(pilot: Pilot, *keys: str) -> None:
    """Press keys one after the other, and wait until nothing more changes."""
    await pilot.press(*keys)
    await settle(pilot)


async def type_in(pilot: Pilot, text: str, *keys: str) -> None:
    """Put a text into the line that has the focus, all at once, then press keys.

    A key costs 40 ms: only tests about typing itself press every letter.
    """
    line = pilot.app.focused
    assert isinstance(line, Input)
    line.value = text
    await press(pilot, *keys)


async def put_cursor(pilot: Pilot, listing: str, text: str) -> None:
    """Put the cursor of a list on the first row that has a text."""
    rows = pilot.app.screen.query_one(listing, OptionList)
    rows.highlighted = row_with(rows, text)
    await settle(pilot)


async def put_cursor_on_key(pilot: Pilot, key: str) -> None:
    """Put the focus on the form, with the cursor on a key."""
    form = pilot.app.screen.query_one(Form)
    assert key in [row.field.key for row in form.rows]
    form.go_to(key)
    await settle(pilot)


async def fill_in(pilot: Pilot, key: str, text: str) -> None:
    """Type a value over a row of the form, or choose one, and keep it."""
    await put_cursor_on_key(pilot, key)
    await press(pilot, "enter")
    await type_in(pilot, text, "enter")


def told(app: App) -> str:
    """Everything that was said in passing."""
    return " ".join(notification.message for notification in app._notifications)


def row_with(listing: OptionList, text: str) -> int:
    """The number of the first row of a list that has a text."""
    for number, option in enumerate(listing.options):
        if text in str(option.prompt):
            return number
    raise AssertionError(f"no row with {text!r}")


@pytest.fixture(autouse=True)
def paint_once_it_is_settled(monkeypatch: pytest.MonkeyPatch) -> None:
    """Paint a screen once nothing more changes by itself, and not every time a part of it changes.

    There is no terminal that would show what stands between, and painting takes a third of the time of a screen.
    """
    monkeypatch.setattr(Compositor, "render_update", _whole_screen_only)


@pytest.fixture
def kits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The shipped kits in a folder of their own, which is the current one, so that no path of this machine shows."""
    shutil.copytree(CONFIGS, tmp_path / "kits", ignore=shutil.ignore_patterns("*.md", "*.json", "pair"))
    monkeypatch.chdir(tmp_path)
    return Path("kits")


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
def opened(app_on: Callable[..., KitbuilderApp]) -> Opened:
    """A running app, settled: `async with opened("sidemount", size=LARGE) as pilot`."""

    @asynccontextmanager
    async def run(
        name: str = "", size: tuple[int, int] = SMALL, *, notifications: bool = False, **options
    ) -> AsyncIterator[Pilot[None]]:
        async with app_on(name, **options).run_test(size=size, notifications=notifications) as pilot:
            await settle(pilot)
            yield pilot

    return run


@pytest.fixture
def pictured(screen: SnapshotAssertion) -> Pictured:
    """Compare what the terminal shows with its picture of a name.

    With sizes, the terminal is resized to each and each has a picture; the present size comes first.
    """

    async def compare(pilot: Pilot, name: str, *sizes: tuple[int, int]) -> None:
        if not sizes:
            assert screen_text(pilot.app) == screen(name=name)
        for size in sorted(sizes, key=lambda wanted: wanted != tuple(pilot.app.size)):
            if size != tuple(pilot.app.size):
                await pilot.resize_terminal(*size)
                await settle(pilot)
            assert screen_text(pilot.app) == screen(name=f"{name} {size[0]}x{size[1]}".strip())

    return compare
