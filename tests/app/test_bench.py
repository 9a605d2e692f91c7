"""The bench: the five kits at the smallest and the usual terminal size, and the main edits."""

import pytest

from kitbuilder.app.screens.add_dialog import AddDialog
from kitbuilder.app.screens.dialogs import TypeName
from kitbuilder.app.widgets.figures_table import Figures
from tests.app.conftest import KITS, LARGE, SMALL, press, put_cursor, put_cursor_on_key, screen_text, type_in


def tags_of(bench) -> list[str]:
    return [item.tag for item in bench.kit.items]


@pytest.mark.parametrize("name", KITS)
async def test_opening(opened, pictured, name):
    async with opened(name) as pilot:
        await pictured(pilot, "", SMALL, LARGE)


async def test_forms_and_choices_of_other_items(opened, pictured):
    """The kit itself, lead, a preset and a port."""
    async with opened("twinset", LARGE) as pilot:
        await press(pilot, "end", "right")
        await pictured(pilot, "lead")
        await press(pilot, "left", "home", "right")
        await pictured(pilot, "the kit itself")
        await put_cursor(pilot, "#items", "left post")
        await put_cursor_on_key(pilot, "preset")
        await press(pilot, "enter")
        await pictured(pilot, "choosing a preset")
        await press(pilot, "escape")
        await put_cursor(pilot, "#items", "long hose")
        await put_cursor_on_key(pilot, "from")
        await press(pilot, "enter")
        await pictured(pilot, "choosing a port")


async def test_choosing_and_typing(opened, pictured):
    """Figures follow what is typed; esc drops it, enter keeps it, undo takes it back."""
    async with opened("sidemount") as pilot:
        await put_cursor(pilot, "#items", "short hose")
        await put_cursor_on_key(pilot, "body")
        await press(pilot, "enter")
        await pictured(pilot, "choosing a body", SMALL, LARGE)
        await press(pilot, "escape")
        before = screen_text(pilot.app)
        await press(pilot, "enter", "down", "enter")
        await pictured(pilot, "braided")
        await press(pilot, "ctrl+z")
        assert screen_text(pilot.app) == before

        await put_cursor_on_key(pilot, "length")
        bench, before = pilot.app.screen, screen_text(pilot.app)
        await press(pilot, "enter", *"75")
        await pictured(pilot, "a length without unit")
        await press(pilot, *" cm")
        await pictured(pilot, "a length with its unit")
        figures = str(bench.query_one(Figures).render())
        await press(pilot, "escape")
        assert screen_text(pilot.app) == before
        await press(pilot, "enter")
        await type_in(pilot, "75 cm", "enter")
        assert str(bench.query_one(Figures).render()) == figures
        assert 'length     = "75 cm"' in bench.document.text
        assert "* not saved" in screen_text(pilot.app)
        await press(pilot, "ctrl+z")
        assert screen_text(pilot.app) == before


async def test_longer_steps_through_the_stock_lengths_and_leaving_asks(opened, pictured):
    async with opened("sidemount", LARGE) as pilot:
        await put_cursor(pilot, "#items", "short hose")
        before = screen_text(pilot.app)
        await press(pilot, "plus", "plus")
        await pictured(pilot, "two lengths longer")
        await press(pilot, "ctrl+z", "ctrl+z")
        assert screen_text(pilot.app).replace("▸", " ") == before.replace("▸", " "), "but for the cursor"
        await press(pilot, "plus", "escape")
        await pictured(pilot, "leaving", LARGE, SMALL)


async def test_adding(opened, pictured):
    """A torch in seven keys; a hose of a role; what fits nothing adds nothing. It stands below the one before."""
    async with opened("warm-single", LARGE) as pilot:
        bench = pilot.app.screen
        tags = tags_of(bench)
        await press(pilot, "a")
        await pictured(pilot, "what", LARGE, SMALL)
        await press(pilot, *"torch")
        await pictured(pilot, "torches")
        await press(pilot, "enter")
        assert tags_of(bench) == [*tags[:2], "back-up torch", *tags[2:]]
        assert bench.record.preset == "back-up torch"
        await press(pilot, "left", "a")
        await type_in(pilot, "no such word", "enter")
        assert isinstance(pilot.app.screen, AddDialog)
        await type_in(pilot, "wetsuit 7mm")
        await press(pilot, "down", "pagedown", "pageup", "enter")
        assert (bench.record.cut, bench.record.thickness_m) == ("full suit", 0.007)
        await press(pilot, "ctrl+z", "left", "a")
        await type_in(pilot, "drysuit hose", "enter")
        await pictured(pilot, "added")
        await press(pilot, "ctrl+z", "ctrl+z")
        assert tags_of(bench) == tags


async def test_copying_removing_moving_and_clearing(opened, pictured):
    async with opened("warm-single", LARGE) as pilot:
        bench, before, tags = pilot.app.screen, screen_text(pilot.app), tags_of(pilot.app.screen)
        await press(pilot, "ctrl+d")
        await pictured(pilot, "copied")
        await press(pilot, "ctrl+z", "up", "delete", "enter")
        await pictured(pilot, "removed")
        await press(pilot, "ctrl+z")
        assert screen_text(pilot.app) == before
        await press(pilot, "shift+down")
        assert tags_of(bench) == [tags[0], tags[2], tags[1], *tags[3:]]
        assert bench.record.tag == "primary hose", "the cursor goes along"
        assert "\n▸ primary hose " in screen_text(pilot.app)
        assert "* not saved" in screen_text(pilot.app)
        await press(pilot, "shift+up")
        assert tags_of(bench) == tags
        await put_cursor_on_key(pilot, "run")
        await press(pilot, "delete")
        assert bench.record.run_m is None
        assert bench.query_one("Form").selected.value == ""


async def test_findings(opened, pictured):
    """One in full, and from one to its field."""
    async with opened("wrong-on-purpose") as pilot:
        await press(pilot, "full_stop", "x")
        await pictured(pilot, "in full", SMALL, LARGE)
        await press(pilot, "escape", "full_stop", "full_stop", "enter")
        await pictured(pilot, "its field")


async def test_units_pages_and_a_name(opened, pictured):
    """Save as asks for a name, and refuses one that is taken."""
    async with opened("sidemount", LARGE) as pilot:
        before = screen_text(pilot.app)
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "o")
        await pictured(pilot, "origins of a hose")
        await press(pilot, "escape", "home", "o")
        await pictured(pilot, "origins of the kit")
        await press(pilot, "escape", "down", "down", "m")
        await pictured(pilot, "imperial units", LARGE, SMALL)
        await press(pilot, "m", "S")
        await pictured(pilot, "save as", SMALL, LARGE)
        await type_in(pilot, "twinset.toml", "enter")
        assert isinstance(pilot.app.screen, TypeName)
        assert "│ A file with this name exists already " in screen_text(pilot.app)
        await press(pilot, "escape")
        assert screen_text(pilot.app) == before


async def test_pictures_without_braille(opened, pictured):
    async with opened("sidemount", plain_pictures=True) as pilot:
        await pictured(pilot, "")


async def test_removing_an_item_with_all_that_hangs_on_it(opened):
    """By the file: what each post feeds, but for the wing and the suit, which are worn. Undo brings all back."""
    left = {"necklace hose", "necklace", "drysuit hose", "gauge hose", "gauge"}
    parts = {"right post": {"long hose", "primary", "wing hose"}, "left post": left}
    async with opened("twinset", LARGE) as pilot:
        bench, before = pilot.app.screen, tags_of(pilot.app.screen)
        for tag, with_it in parts.items():
            await put_cursor(pilot, "#items", tag)
            await press(pilot, "delete", "p", "enter")
            assert set(before) - set(tags_of(bench)) == {tag, *with_it}
            await press(pilot, "ctrl+z")
            assert tags_of(bench) == before
