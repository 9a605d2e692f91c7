"""The balance and the diver's page: first views at the smallest and the usual terminal size, then what changes them."""

import re

import pytest
from textual.pilot import Pilot

from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.widgets.page_view import PageView
from kitbuilder.app.widgets.trim_picture import ROOMY
from kitbuilder.report.numbers import with_spread
from kitbuilder.report.trim_section import brief_trim_page, trim_page
from tests.app.balance_screen import checked_lead, details, lead
from tests.app.conftest import KITS, LARGE, SMALL, fill_in, press, put_cursor_on_key, screen_text, told, type_in
from tests.report.pages import page_text


@pytest.mark.parametrize("name", KITS)
async def test_opening(opened, pictured, kits, name):
    """b opens it and esc leads back; the lead is what the command prints; the words of the trim are shown whole."""
    async with opened(name) as pilot:
        await press(pilot, "d")
        assert isinstance(pilot.app.screen, BalanceScreen)
        assert lead(pilot.app) == checked_lead(kits / f"{name}.toml")
        await pictured(pilot, "", SMALL, LARGE)
        for _ in ("metric", "imperial"):
            assert_trim_is_whole(pilot.app)
            await press(pilot, "m")
        await press(pilot, "end")
        await pictured(pilot, "end of the table")
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Bench)


def assert_trim_is_whole(app) -> None:
    """Nothing is cut off below the picture where there is room for words."""
    pane = app.screen.query_one("#trim")
    lines = str(pane.render()).splitlines()
    assert len(lines) <= pane.size.height
    assert max(map(len, lines)) <= pane.size.width
    shown = " ".join(" ".join(lines).split())
    found = app.screen._asked_balance()
    page = trim_page if pane.size.height >= ROOMY else brief_trim_page
    for line in page_text(page(found.trim), app.system, pane.size.width).splitlines():
        assert " ".join(line.split()) in shown
    assert with_spread(found.lead, "lead", app.system) in screen_text(app)


async def assert_taken_back(pilot: Pilot, key: str, before: str) -> None:
    """A switch that is on changed the figures; a second press takes it back, and so does 0 after a third."""
    assert screen_text(pilot.app) != before
    await press(pilot, key)
    assert screen_text(pilot.app) == before
    await press(pilot, key, "0")
    assert screen_text(pilot.app) == before


async def assert_nothing_for(pilot: Pilot, key: str) -> None:
    """A switch for what the kit has not says so and changes nothing."""
    before = lead(pilot.app), details(pilot.app)
    await press(pilot, key)
    assert "This kit has nothing for that" in told(pilot.app)
    assert (lead(pilot.app), details(pilot.app)) == before


async def test_what_if(opened, pictured):
    """Every switch, and what the lead is made of: the largest part of its spread by name."""
    async with opened("twinset", LARGE) as pilot:
        await press(pilot, "d")
        before = screen_text(pilot.app)
        await press(pilot, "A")
        await pictured(pilot, "over the gas")
        await press(pilot, "A")
        for key, words in (("1", "a full wing"), ("4", "the stages lost")):
            await press(pilot, key)
            await pictured(pilot, words)
            await assert_taken_back(pilot, key, before)
        await press(pilot, "2")
        await assert_taken_back(pilot, "2", before)
        await press(pilot, "2", "W")
        await type_in(pilot, "fresh", "enter")
        await pictured(pilot, "the suit flooded in fresh water")
        await press(pilot, "0", "m")
        await pictured(pilot, "imperial units")
        await press(pilot, "m")
        assert screen_text(pilot.app) == before
        await assert_nothing_for(pilot, "3")
        needed = str(pilot.app.screen.query_one("#lead", PageView).render()).split(";")[0]
        await press(pilot, "o")
        await pictured(pilot, "where the figures come from")
        assert f"Lead {needed}: " in " ".join(screen_text(pilot.app).split())
        assert "steel 12 L 232 long" in screen_text(pilot.app)
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, BalanceScreen)


async def test_other_water_and_cylinders(opened, pictured):
    async with opened("sidemount", LARGE) as pilot:
        await press(pilot, "d")
        before = screen_text(pilot.app)
        await assert_nothing_for(pilot, "4")
        await press(pilot, "2")
        await assert_taken_back(pilot, "2", before)
        await press(pilot, "W")
        await pictured(pilot, "asking for water")
        await press(pilot, "escape", "C")
        await pictured(pilot, "asking for cylinders")
        await press(pilot, "down", "enter")
        await pictured(pilot, "other cylinders")
        await press(pilot, "0", "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "m", "A")
        await pictured(pilot, "imperial units over the gas", LARGE, SMALL)


async def test_the_droppable_lead_gone(opened, pictured):
    async with opened("cold-single", LARGE) as pilot:
        await press(pilot, "d")
        before = screen_text(pilot.app)
        await press(pilot, "3")
        await pictured(pilot, "")
        await assert_taken_back(pilot, "3", before)


async def test_a_suit_that_cannot_flood(opened):
    async with opened("warm-single", LARGE) as pilot:
        await press(pilot, "d")
        await assert_nothing_for(pilot, "2")


async def test_pictures_without_braille(opened, pictured):
    async with opened("sidemount", plain_pictures=True) as pilot:
        await press(pilot, "d")
        await pictured(pilot, "")


# --- the diver's page -------------------------------------------------------------------------------------------------


async def test_the_diver(opened, pictured):
    async with opened("diver") as pilot:
        await pictured(pilot, "", SMALL, LARGE)
        await press(pilot, "m")
        await pictured(pilot, "imperial units")
        await press(pilot, "m", "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "a")
        await pictured(pilot, "asking for the kit of a float check")


async def test_a_diver_who_is_not_told(opened, pictured, kits):
    (kits / "diver.toml").write_text('format = 1\nholds = "diver"\nname = "Diver"\n')
    async with opened("diver") as pilot:
        await pictured(pilot, "")


async def test_a_float_check(opened, pictured):
    """A new one, what was seen, leaving, and what it tells the balance."""
    async with opened("twinset") as pilot:
        await press(pilot, "d", "a", "enter")
        await pictured(pilot, "new", SMALL, LARGE)
        await pilot.resize_terminal(*SMALL)
        await press(pilot, "enter")
        await pictured(pilot, "choosing what was seen")
        await press(pilot, "escape", "escape")
        await pictured(pilot, "leaving")
        await press(pilot, "k", "enter")
        await fill_in(pilot, "seen", "neutral")
        await pictured(pilot, "neutral")
        await put_cursor_on_key(pilot, "lead")
        await press(pilot, "enter")
        await type_in(pilot, "4 kg")
        assert re.search(r"▸ lead +4 kg\n +(= 4\.00 kg = 8\.82 lb)\n", screen_text(pilot.app))
        # With the 2 kg that the kit carries it is 0.5 kg; 2 kg more of lead sink with 2 x (1 - 1026 / 11340) kg.
        assert "What it shows: floated 1.3 kg more than computed." in screen_text(pilot.app)
        assert "Computed without it: −1.3 ± 5.0 kg with the lead it names." in screen_text(pilot.app)
        await press(pilot, "escape", "ctrl+s", "escape")
        await pilot.resize_terminal(*LARGE)
        await press(pilot, "home")
        await pictured(pilot, "on the balance")
        await press(pilot, "end")
        await pictured(pilot, "end of the table")


async def test_float_checks_that_contradict_each_other(opened, pictured, kits):
    path = kits / "diver.toml"
    check = '\n[[float_check]]\ntag = "{}"\nkit = "twinset.toml"\nseen = "neutral"\nlead = "{} kg"\n'
    path.write_text(path.read_text() + check.format("ladder", 2) + check.format("quay", 12))
    async with opened("twinset") as pilot:
        await press(pilot, "d", "e", "down")
        await pictured(pilot, "")
