"""One line narrows any list to the rows that have some words."""

from textual.widgets import Static

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.filter_line import FilterLine
from kitbuilder.app.widgets.listing import Listing, places_with
from tests.app.conftest import press, put_cursor, screen_text, told, type_in


def test_words_are_found_in_any_order_and_letter_case():
    texts = ["necklace hose  61 cm", "Necklace  device", "long hose\n  210 cm"]
    assert places_with("HOSE", texts) == (0, 2)
    assert places_with("hose neck", texts) == (0,)
    assert places_with("hose 210", texts) == (2,)
    assert places_with("", texts) == (0, 1, 2)
    assert places_with("torch", texts) == ()


def rows_of(pilot, name: str) -> list[str]:
    return [str(option.prompt) for option in pilot.app.screen.query_one(name, Listing).options]


def count(pilot) -> str:
    return str(pilot.app.screen.query_one("#filter-count", Static).render()).strip()


async def test_filtering_the_items_the_form_and_the_findings(opened):
    """Narrowing moves the cursor to a row that is left, enter keeps, edits go to that row, esc shows all again."""
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        every = len(rows_of(pilot, "#items"))
        await put_cursor(pilot, "#items", "short hose")
        await press(pilot, "slash", *"wing")
        assert all("wing" in row for row in rows_of(pilot, "#items"))
        assert count(pilot) == f"{len(rows_of(pilot, '#items'))} of {every}"
        assert "wing" in bench.record.tag, "the cursor is on a row that is left"
        await press(pilot, *"xyz")
        assert count(pilot) == f"0 of {every}"
        assert all("wing" in row for row in rows_of(pilot, "#items")), "without a match the rows stay"
        await press(pilot, *["backspace"] * 3, "enter")
        tag, before = bench.record.tag, bench.document.text
        assert bench.query_one(FilterLine)
        await press(pilot, "ctrl+d")
        assert f'"{tag} 2"' in bench.document.text
        await press(pilot, "ctrl+z", "escape")
        assert bench.document.text == before
        assert len(rows_of(pilot, "#items")) == every
        assert not bench.query(FilterLine)
        assert isinstance(pilot.app.screen, Bench), "esc shows all rows before it leaves"

        await press(pilot, "right", "slash", *"run", "enter")
        *found, last = rows_of(pilot, "#rows")
        assert {"run" in row for row in found} == {True}
        assert "more: " in last, "the run at rest is folded away below it"
        await press(pilot, "enter")
        assert bench.query_one("Form").is_editing
        await press(pilot, "escape", "escape", "full_stop", "slash", *"caution")
        assert rows_of(pilot, "#findings")
        assert all("CAUTION" in row for row in rows_of(pilot, "#findings"))
        await press(pilot, "escape", "escape")
        assert isinstance(pilot.app.screen, Shelf)


async def test_a_filtered_shelf_opens_the_kit_that_is_shown(opened):
    async with opened() as pilot:
        await press(pilot, "slash", *"twin")
        assert count(pilot) == "1 of 7"
        assert "1 of 7" in screen_text(pilot.app)
        await press(pilot, "enter", "enter")
        assert pilot.app.screen.document.path.name == "twinset.toml"


async def test_the_shelf_finds_the_names_of_files_and_opens_nothing_else(opened):
    """Trips of one kit may be called alike, and a file that cannot be read shows little else."""
    async with opened() as pilot:
        await press(pilot, "slash")
        await type_in(pilot, "no such kit")
        assert count(pilot) == "0 of 7"
        await press(pilot, "enter", "enter")
        assert isinstance(pilot.app.screen, Shelf)
        assert "No row has these words." in told(pilot.app)
        await type_in(pilot, "warm-single.toml")
        assert count(pilot) == "1 of 7"
        await press(pilot, "enter", "enter")
        assert pilot.app.screen.document.path.name == "warm-single.toml"
