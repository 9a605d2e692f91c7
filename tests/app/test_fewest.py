"""Fewest hoses: kits marked, the set shown, and what the keys do."""

from pathlib import Path

import pytest

from kitbuilder.app.commands import bindings_of
from kitbuilder.app.screens.dialogs import Page
from kitbuilder.app.screens.fewest import FewestScreen, Kits
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.plans.fewest import FROM
from tests.app.conftest import row_with, screen_text, settle

THREE = ("cold-single", "twinset", "sidemount")


async def done(pilot) -> None:
    """Wait until no set is looked for any more."""
    await settle(pilot)
    await pilot.app.workers.wait_for_complete()
    await settle(pilot)


@pytest.fixture
def on_fewest(app_on, kits):
    """The screen after some keys, with some kits marked."""

    async def run(task, *names: str, size=(80, 24)):
        app = app_on()
        async with app.run_test(size=size) as pilot:
            await settle(pilot)
            app.push_screen(FewestScreen(kits, [f"{name}.toml" for name in names]))
            await done(pilot)
            assert isinstance(app.screen, FewestScreen)

            async def press(*keys: str) -> str:
                for key in keys:
                    await pilot.press(key)
                    await done(pilot)
                return screen_text(app)

            return await task(app.screen, press)

    return run


def text_of(screen: FewestScreen) -> str:
    """All that is told of the set, seen or scrolled away."""
    return str(screen.query_one("#fewest-lines").render())


# --- what it shows ----------------------------------------------------------------------------------------------------


async def test_nothing_marked(on_fewest, screen, size):
    async def task(_fewest, _press):
        return screen_text(_fewest.app)

    assert await on_fewest(task, size=size) == screen


async def test_three_kits(on_fewest, screen, size):
    async def task(fewest, _press):
        return screen_text(fewest.app)

    assert await on_fewest(task, *THREE, size=size) == screen


async def test_the_end_of_the_reasons(on_fewest, screen, size):
    async def task(_fewest, press):
        return await press("tab", "end")

    assert await on_fewest(task, *THREE, size=size) == screen


async def test_what_to_buy(on_fewest, screen, size):
    async def task(_fewest, press):
        return await press("y")

    assert await on_fewest(task, *THREE, size=size) == screen


async def test_imperial_units_any_body_and_the_cheapest(on_fewest, screen, size):
    async def task(_fewest, press):
        return await press("m", "B", "o", "o")

    assert await on_fewest(task, *THREE, size=size) == screen


async def test_every_key(on_fewest, screen):
    async def task(_fewest, press):
        return await press("question_mark")

    assert await on_fewest(task, "twinset") == screen


# --- what the keys do -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("key", ["space", "enter"])
async def test_marking(on_fewest, key):
    """Five hoses for the twinset; with the mark taken back there is no set."""

    async def task(fewest, press):
        kits = fewest.query_one(Kits)
        kits.highlighted = row_with(kits, "Twinset")
        await press(key)
        assert [name for name, _ in fewest.marked] == ["twinset.toml"]
        assert len(fewest.plan.hoses) == 5
        await press(key)
        assert fewest.marked == []
        assert fewest.plan is None
        assert "Mark the kits" in text_of(fewest)

    await on_fewest(task)


async def test_order_body_and_source(on_fewest):
    """With a locker beside the kits what is owned is used; of it alone nothing is bought."""

    async def task(fewest, press):
        seen = []
        for _ in range(3):
            await press("o")
            seen.append(fewest.plan.order[0])
        assert seen == ["mass", "price", "count"]
        held = len(fewest.plan.hoses)
        await press("B")
        assert fewest.plan.any_body
        assert len(fewest.plan.hoses) <= held
        await press("B")
        assert not fewest.plan.any_body
        await press("w")
        assert FROM[fewest._source] == "locker"
        assert fewest.plan.bought == ()
        await press("w")
        assert fewest.plan.owned == ()
        await press("w")
        assert len(fewest.plan.hoses) == held

    await on_fewest(task, *THREE)


async def test_a_locker_that_no_kit_names_is_told_to_be_missing(on_fewest, kits: Path):
    """Nothing is owned then, and every hose goes without."""
    (kits / "plain.toml").write_text(
        'format = 1\nname = "Plain"\nlayout = "single"\n\n'
        '[[hose]]\ntag = "hose"\nrole = "other LP"\nbody = "rubber"\nlength = "56 cm"\nrun = "50 cm"\n'
    )

    async def task(fewest, press):
        await press("w")
        assert fewest.plan.hoses == ()
        assert "a locker that is not there" in text_of(fewest)
        assert "there is none with its ends" in text_of(fewest)
        await press("y")
        assert fewest.app.screen is not fewest

    await on_fewest(task, "plain")


async def test_an_answer_that_comes_too_late_is_not_shown(on_fewest):
    async def task(fewest, press):
        old = fewest.plan
        await press("B")
        new = fewest.plan
        fewest.post_message(FewestScreen.Found(fewest._asked - 1, old))
        await press("down")
        assert fewest.plan is new

    await on_fewest(task, *THREE)


async def test_working_is_said_and_keys_still_work(on_fewest, monkeypatch):
    """The set is looked for in a thread of its own."""
    from threading import Event

    from kitbuilder.app.screens import fewest as module

    go, find = Event(), module.find_fewest

    def waits(*args, **options):
        go.wait(10)
        return find(*args, **options)

    async def task(fewest, press):
        monkeypatch.setattr(module, "find_fewest", waits)
        fewest.action_any_body()
        await settle_screen(fewest)
        assert "Working" in text_of(fewest)
        fewest.action_to_buy()
        assert fewest.app.screen is fewest
        go.set()
        await press("down")
        assert "Working" not in text_of(fewest)
        assert fewest.plan.any_body

    await on_fewest(task, "twinset")


async def settle_screen(fewest: FewestScreen) -> None:
    """Let the screen draw what it has."""
    import asyncio

    await asyncio.sleep(0.05)
    assert fewest.is_working


async def test_units_pages_and_the_way_back(on_fewest):
    async def task(fewest, press):
        await press("m")
        assert " in " in text_of(fewest)
        await press("m")
        for page in ("y", "question_mark"):
            await press(page)
            assert isinstance(fewest.app.screen, Page)
            await press("escape")
        kits = fewest.query_one(Kits)
        kits.highlighted = row_with(kits, "Sidemount")
        await press("escape")
        assert isinstance(fewest.app.screen, Shelf)
        assert fewest.app.screen._book().path.name == "sidemount.toml"

    await on_fewest(task, "twinset")


async def test_a_kit_that_cannot_be_read_is_named_and_not_marked(on_fewest, kits: Path):
    (kits / "broken.toml").write_text("format = 1\nname = \n")

    async def task(fewest, press):
        listing = fewest.query_one(Kits)
        listing.highlighted = row_with(listing, "broken.toml cannot be read")
        await press("space")
        assert [name for name, _ in fewest.marked] == ["twinset.toml"]

    await on_fewest(task, "twinset", "broken")


async def test_every_key_has_a_name_of_its_own(on_fewest):
    """And a sentence; see also test_commands."""

    async def task(fewest, _press):
        found = list(bindings_of(fewest))
        assert all(binding.tooltip.endswith(".") for binding in found)
        keys = [key for binding in FewestScreen.BINDINGS for key in binding.key.split(",")]
        assert len(keys) == len(set(keys))

    await on_fewest(task)


async def test_a_hostile_tag_is_shown_as_text(on_fewest, kits: Path):
    text = (kits / "twinset.toml").read_text()
    hostile = "\\u001b[2J[red]x[/red] \\u202edesrever"
    (kits / "twinset.toml").write_text(text.replace('tag      = "wing hose"', f'tag      = "{hostile}"'))

    async def task(fewest, _press):
        assert "[red]x[/red]" in text_of(fewest)
        assert "\x1b" not in text_of(fewest)

    await on_fewest(task, "twinset")


async def test_a_terminal_that_is_too_small(on_fewest):
    async def task(fewest, press):
        await press("space", "o", "B", "y", "escape", "tab", "down", "question_mark", "escape")
        assert fewest.app.screen is fewest

    await on_fewest(task, "twinset", size=(20, 8))
