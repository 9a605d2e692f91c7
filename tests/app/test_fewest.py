"""Fewest hoses: kits marked, the set shown, and what the keys do."""

import asyncio
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from threading import Event

import pytest
from textual.pilot import Pilot

from kitbuilder.app.keys import bindings_of
from kitbuilder.app.screens import fewest_screen as module
from kitbuilder.app.screens.dialogs import TextPage
from kitbuilder.app.screens.fewest_screen import FewestScreen, Kits
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.plans.fewest import FROM
from tests.app.conftest import LARGE, SMALL, TINY, put_cursor, settle

THREE = ("cold-single", "twinset", "sidemount")


async def done(pilot: Pilot) -> None:
    """Wait until no set is looked for any more."""
    await settle(pilot)
    await pilot.app.workers.wait_for_complete()
    await settle(pilot)


async def press(pilot: Pilot, *keys: str) -> None:
    """Press keys, each when the set that the one before asked for is found."""
    for key in keys:
        await pilot.press(key)
        await done(pilot)


@pytest.fixture
def on_fewest(opened, kits, monkeypatch) -> Callable:
    """The screen with some kits marked; however slow the machine, the set is found."""
    monkeypatch.setattr(module, "TIME_LIMIT_S", 600.0)

    @asynccontextmanager
    async def run(*names: str, size: tuple[int, int] = SMALL) -> AsyncIterator[tuple[Pilot, FewestScreen]]:
        async with opened(size=size) as pilot:
            fewest = FewestScreen(kits, [f"{name}.toml" for name in names])
            pilot.app.push_screen(fewest)
            await done(pilot)
            assert pilot.app.screen is fewest
            yield pilot, fewest

    return run


def text_of(screen: FewestScreen) -> str:
    """All that is told of the set, seen or scrolled away."""
    return str(screen.query_one("#fewest-lines").render())


async def test_kits_of_two_divers_share_nothing(on_fewest, kits):
    """The sidemount kit with a diver and a gear file of its own: the pane says so, and no set is looked for."""
    for old, new in (("diver", "anna"), ("gear", "loft")):
        text = (kits / f"{old}.toml").read_text("utf-8")
        name = next(line for line in text.splitlines() if line.startswith("name"))
        (kits / f"{new}.toml").write_text(text.replace(name, f'name = "{new}"', 1), "utf-8")
        kit = (kits / "sidemount.toml").read_text("utf-8")
        (kits / "sidemount.toml").write_text(kit.replace(f'"{old}.toml"', f'"{new}.toml"'), "utf-8")
    async with on_fewest("twinset", "sidemount") as (_, fewest):
        assert "These kits belong to 2 divers" in " ".join(text_of(fewest).split())
        assert fewest.plan is None


async def test_three_kits(on_fewest, pictured):
    """With a gear file beside the kits what is owned is used; of it alone nothing is bought."""
    async with on_fewest(*THREE) as (pilot, fewest):
        held = len(fewest.plan.hoses)
        await pictured(pilot, "", SMALL, LARGE)
        await press(pilot, "tab", "end")
        await pictured(pilot, "the end of the reasons")
        await press(pilot, "s")
        await pictured(pilot, "what to buy")
        await press(pilot, "escape", "tab", "m", "B")
        assert fewest.plan.any_body
        seen = []
        for _ in range(2):
            await press(pilot, "Z")
            seen.append(fewest.plan.order[0])
        await pictured(pilot, "imperial units, any body and the cheapest")
        await press(pilot, "Z")
        assert [*seen, fewest.plan.order[0]] == ["mass", "price", "count"]
        assert len(fewest.plan.hoses) <= held
        await press(pilot, "B")
        assert not fewest.plan.any_body
        await press(pilot, "F")
        assert FROM[fewest._source] == "gear"
        assert fewest.plan.bought == ()
        await press(pilot, "F")
        assert fewest.plan.owned == ()
        await press(pilot, "F")
        assert len(fewest.plan.hoses) == held


async def test_marking_pages_and_the_way_back(on_fewest, pictured):
    """Five hoses for the twinset; with the mark taken back there is no set."""
    async with on_fewest(size=LARGE) as (pilot, fewest):
        await pictured(pilot, "nothing marked", LARGE, SMALL)
        await put_cursor(pilot, "#fewest-kits", "Twinset")
        for key in ("space", "enter"):
            await press(pilot, key)
            assert [name for name, _ in fewest.marked] == ["twinset.toml"]
            assert len(fewest.plan.hoses) == 5
            await press(pilot, key)
            assert fewest.marked == []
            assert fewest.plan is None
            assert "Mark the kits" in text_of(fewest)

        await press(pilot, "space")
        assert all(binding.tooltip.endswith(".") for binding in bindings_of(fewest))
        old = fewest.plan
        await press(pilot, "B")
        new = fewest.plan
        fewest.post_message(FewestScreen.Found(fewest._asked - 1, old))
        await done(pilot)
        assert fewest.plan is new, "an answer that comes too late is not shown"

        await press(pilot, "m")
        assert " in " in text_of(fewest)
        await press(pilot, "m", "s")
        assert isinstance(pilot.app.screen, TextPage)
        await press(pilot, "escape", "B", "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape")
        await put_cursor(pilot, "#fewest-kits", "Sidemount")
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Shelf)
        assert pilot.app.screen._book().path.name == "sidemount.toml"


async def test_a_gear_file_that_no_kit_names_is_told_to_be_missing(on_fewest, kits: Path):
    """Nothing is owned then, and every hose goes without."""
    (kits / "plain.toml").write_text(
        'format = 1\nname = "Plain"\nlayout = "single"\n\n'
        '[[hose]]\ntag = "hose"\nrole = "other LP"\nbody = "rubber"\nlength = "56 cm"\nrun = "50 cm"\n'
    )
    async with on_fewest("plain") as (pilot, fewest):
        await press(pilot, "F")
        assert fewest.plan.hoses == ()
        assert "no gear file" in text_of(fewest)
        assert "there is none with its ends" in text_of(fewest)
        await press(pilot, "s")
        assert pilot.app.screen is not fewest


async def test_working_is_said_and_keys_still_work(on_fewest, monkeypatch):
    """The set is looked for in a thread of its own."""
    go, find = Event(), module.find_fewest

    def waits(*args, **options):
        go.wait(10)
        return find(*args, **options)

    async with on_fewest("twinset") as (pilot, fewest):
        monkeypatch.setattr(module, "find_fewest", waits)
        fewest.action_any_body()
        await asyncio.sleep(0.05)
        assert fewest.is_working
        assert "Working" in text_of(fewest)
        fewest.action_to_buy()
        assert pilot.app.screen is fewest
        go.set()
        await press(pilot, "down")
        assert "Working" not in text_of(fewest)
        assert fewest.plan.any_body


async def test_what_a_file_says_is_shown_as_text_or_named_as_unreadable(on_fewest, kits: Path):
    """A kit that cannot be read is not marked; a hostile tag is not obeyed."""
    (kits / "broken.toml").write_text("format = 1\nname = \n")
    path, hostile = kits / "twinset.toml", "\\u001b[2J[red]x[/red] \\u202edesrever"
    path.write_text(path.read_text().replace('tag      = "wing hose"', f'tag      = "{hostile}"'))
    async with on_fewest("twinset", "broken") as (pilot, fewest):
        assert "[red]x[/red]" in text_of(fewest)
        assert "\x1b" not in text_of(fewest)
        await put_cursor(pilot, "#fewest-kits", "broken.toml  ")
        assert "unreadable" in str(fewest.query_one(Kits).rows[fewest.query_one(Kits).highlighted])
        await press(pilot, "space")
        assert [name for name, _ in fewest.marked] == ["twinset.toml"]


async def test_a_terminal_that_is_too_small(on_fewest):
    async with on_fewest("twinset", size=TINY) as (pilot, fewest):
        await press(pilot, "space", "Z", "B", "s", "escape", "tab", "down", "question_mark", "escape")
        assert pilot.app.screen is fewest
