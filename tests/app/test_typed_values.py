"""Numbers typed without a unit, and values that are more likely a slip: shown before they are taken."""

import pytest
from textual.widgets import Static

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.widgets.form_panel import Form
from tests.app.conftest import press, put_cursor_on_key, type_in


def said(pilot) -> str:
    """What stands beside the open row."""
    [note] = [note for note in pilot.app.screen.query(".said").results(Static) if note.display]
    return str(note.render())


@pytest.mark.parametrize(
    ("key", "typed", "taken", "keys"),
    [
        ("length", "75", "75 cm", ()),
        ("length", "75", "75 cm", ("m",)),  # as the value it replaces, whatever units are shown
        ("bore", "6", "6 mm", ()),
        ("mass", "0,2", "0,2 kg", ()),
        ("mass", "½ ± 0.1", "½ ± 0.1 lb", ("m",)),
    ],
)
async def test_a_bare_number_takes_the_unit_that_is_shown(opened, key, typed, taken, keys) -> None:
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        assert isinstance(bench, Bench)
        await press(pilot, *keys)
        await put_cursor_on_key(pilot, key)
        await press(pilot, "enter")
        await type_in(pilot, typed)
        assert f"Read as {taken} = " in said(pilot)
        await press(pilot, "enter")
        if bench.query_one(Form).is_editing:  # half a pound is asked about
            await press(pilot, "enter")
        assert bench.document.raw_value(bench.item, key) == taken


async def test_a_value_with_its_unit_is_taken_as_it_is(opened) -> None:
    async with opened("sidemount") as pilot:
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter")
        await type_in(pilot, "29½ in")
        assert "Read as" not in said(pilot)


async def test_a_hose_of_nearly_three_kilograms_is_asked_back(opened) -> None:
    """The first enter says why, the second takes it; another number is not asked about."""
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        await put_cursor_on_key(pilot, "mass")
        await press(pilot, "enter")
        await type_in(pilot, "2.9 kg", "enter")
        assert bench.query_one(Form).is_editing
        assert said(pilot).startswith("Its mass, 2.90 kg, is far from the ")
        assert said(pilot).endswith("Press enter again to keep it, or type another value.")
        assert not bench.document.is_dirty
        await press(pilot, "enter")
        assert bench.document.raw_value(bench.item, "mass") == "2.9 kg"


async def test_a_run_of_a_tenth_is_asked_back(opened) -> None:
    """Left with escape, it leaves nothing behind."""
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        await put_cursor_on_key(pilot, "run")
        await press(pilot, "enter")
        await type_in(pilot, "9 cm", "enter")
        assert said(pilot).startswith("The run measured by string, 9 cm, is ")
        await press(pilot, "escape")
        assert not bench.document.is_dirty
