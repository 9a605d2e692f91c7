"""Text from files and names of files on every screen: shown, read as markup by nobody, obeyed by no terminal."""

import os
import shutil
from pathlib import Path

import pytest
from textual.widgets import Input

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.content import Content, OnlyVisible
from kitbuilder.kit.file_kinds import FILE_KINDS
from kitbuilder.report.numbers import System
from tests.app.conftest import DAY, screen_text, settle
from tests.hostile import OBEYED, broken_toml, hostile_folder, raw_in

SIZE = (80, 24)
FILES = ("twinset", "sidemount", "diver", "gear", "stock", "every-diver")
SEEN = r"\x1b[2J"
"""How the beginning of every hostile text is shown."""


@pytest.fixture
def folder(tmp_path, monkeypatch) -> Path:
    hostile_folder(tmp_path, FILES)
    for name, file in FILE_KINDS.items():
        (tmp_path / f"broken-{name}.toml").write_text(broken_toml(file), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def let_through(monkeypatch) -> list[str]:
    """What widgets handed over raw, so that only the last filter before the terminal made it visible."""
    found: list[str] = []
    apply = OnlyVisible.apply

    def noting(self, segments, background):
        found.extend(segment.text for segment in segments if raw_in(segment.text))
        return apply(self, segments, background)

    monkeypatch.setattr(OnlyVisible, "apply", noting)
    return found


class Walk:
    """An app, looked at after every key."""

    def __init__(self, path: Path) -> None:
        self.app = KitbuilderApp(path, System.METRIC, day=DAY)
        self.app.animation_level = "none"
        self.seen: dict[str, str] = {}

    async def keys(self, *keys: str) -> dict[str, str]:
        """Press keys one by one. Gives the last look at each kind of screen."""
        async with self.app.run_test(size=SIZE, notifications=True) as pilot:
            await settle(pilot)
            self._look("at first")
            for number, key in enumerate(keys):
                await pilot.press(key)
                await settle(pilot)
                self._look(f"{key} ({number})")
        return self.seen

    def _look(self, when: str) -> None:
        text = screen_text(self.app)
        assert not raw_in(text), f"{type(self.app.screen).__name__} after {when}"
        name = type(self.app.screen).__name__
        self.seen[name] = self.seen.get(name, "") + text


BENCH = (
    *("x", "escape", "o", "escape", "right", "enter", "down", "down", "enter", "escape", "left"),
    *("a", "escape", "S", "escape", "minus", "escape", "k", "enter"),
)
"""The bench, its dialogs, an edit that is saved nowhere, and the question about it."""
BALANCE = ("d", "W", "escape", "C", "escape", "A", "o", "escape", "e", "down", "enter", "escape", "escape")
FIT = ("t", "down", "r", "escape", "P", "escape", "s", "escape", "enter", "escape", "o", "escape", "escape")
WEIGH_IN = ("w", "down", "enter", "escape", "z", "escape", "o", "escape", "escape")
LOSSES = ("v", "down", "down", "o", "escape", "escape")


async def test_every_screen_of_a_kit(folder, let_through):
    seen = await Walk(folder / "twinset.toml").keys(*BALANCE, *FIT, *LOSSES, *WEIGH_IN, *BENCH)
    expected = {"Bench", "BalanceScreen", "DiverScreen", "FitScreen", "LossesScreen", "WeighInScreen", "EditPath"}
    assert set(seen) == expected | {"AddDialog", "Ask", "Choose", "TextPage", "TypeName"}
    assert all(SEEN in seen[name] for name in expected), [name for name in expected if SEEN not in seen[name]]
    assert let_through == []


async def test_the_screens_of_a_gear_file(folder, let_through):
    keys = (
        "down",
        "right",
        "down",
        "enter",
        "escape",
        "left",
        "a",
        "escape",
        "ctrl+d",
        "delete",
        "ctrl+z",
        "escape",
        "k",
        "enter",
    )
    seen = await Walk(folder / "gear.toml").keys(*keys)
    assert SEEN in seen["GearScreen"]
    assert let_through == []


async def test_the_screens_of_a_diver(folder, let_through):
    keys = ("down", "right", "down", "enter", "escape", "left", "a", "escape", "delete", "escape", "k", "enter")
    seen = await Walk(folder / "every-diver.toml").keys(*keys)
    assert SEEN in seen["DiverScreen"]
    assert let_through == []


async def test_the_shelf_and_its_screens(folder, let_through):
    opening, pages = ("c", "down", "enter", "down"), ("i", "escape", "u", "escape")
    changeover = (*opening, *pages, "y", "Y", "f", "enter", "enter", "o", "escape", "escape")
    fewest = ("f", "space", "s", "escape", "escape")
    beside = ("b", "enter", "h", "escape")
    seen = await Walk(folder).keys("down", "down", *changeover, *beside, *fewest, "l", "ctrl+p", "escape")
    (checklist,) = folder.glob("*.txt")
    assert not raw_in(checklist.read_text(encoding="utf-8"))
    expected = {"Shelf", "ChangeoverScreen", "FewestScreen", "SideBySideScreen", "GearScreen"}
    assert expected <= set(seen)
    assert all(SEEN in seen[name] for name in expected), [name for name in expected if SEEN not in seen[name]]
    assert let_through == []


@pytest.mark.parametrize("name", ["kit", "diver", "gear", "stock"])
async def test_the_problems_of_a_file(folder, let_through, name):
    seen = await Walk(folder / f"broken-{name}.toml").keys("pagedown")
    assert SEEN in seen["Problems"] or name == "stock"  # of a stock is only said that it is none of the others
    assert let_through == []


# ---- names of files ----

NAME = os.fsdecode(b"a\xff\x1b[31m\xc2\x9b1m\x08\n\xe2\x80\xae[bold red][%d.toml")


async def test_the_names_of_files(tmp_path, let_through):
    """On the shelf, in the questions for a name, in what is said after; a name offered for typing is a visible one."""
    only = tmp_path / "only\x1b[2J"
    only.mkdir()
    for number, path in enumerate(hostile_folder(tmp_path, ("sidemount", "twinset", "gear")).values()):
        shutil.move(path, only / (NAME % number))
    seen = await Walk(only).keys(
        "R", "enter", "escape", "b", "escape", "enter", "S", "escape", "plus", "ctrl+s", "escape", "l"
    )
    assert {"Shelf", "Bench", "TypeName", "Choose", "Problems"} <= set(seen)
    assert r"a\udcff\x1b[31m\x9b1m\x08\n\u202e[bold red][1.toml" in seen["TypeName"]
    assert let_through == []


async def test_what_is_pasted_is_shown(folder):
    """A line that is typed in shows what Textual puts there; the filter before the terminal stands in its way."""
    app = KitbuilderApp(folder / "twinset.toml", day=DAY)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("S")
        await settle(pilot)
        app.screen.query_one(Input).value = f"a\x1b[31m{''.join(OBEYED)}b"
        await settle(pilot)
        text = screen_text(app)
    assert not raw_in(text)
    assert r"a\x1b[31m\x00" in text
    widths = {len(line) for line in text.splitlines()[1:]}
    assert max(widths) <= SIZE[0], "the line is no longer than it was"


# ---- the seam ----


@pytest.mark.parametrize(
    "content",
    [
        Content("\x1b[2J[/]"),
        Content.styled("\x1b[2J[/]", "bold"),
        Content.assemble("\x1b[2J", ("[/]", "bold")),
        Content("").join(["\x1b[2J", Content("[/]")]),
        Content("") + "\x1b[2J[/]",
    ],
)
def test_content_is_visible_however_it_is_made(content):
    assert content.plain == r"\x1b[2J[/]"


def test_styles_stay_on_their_part():
    """The written out characters are more than they were."""
    found = Content.assemble("\x1b ", ("\u202ebold", "bold"), " plain")
    assert [(found.plain[start:end], style) for start, end, style in found.spans] == [(r"\u202ebold", "bold")]
