"""Undo says what it took back and puts the cursors there, on every screen that shows an edited file."""

from textual.widgets import OptionList

from kitbuilder.app.screens.fit_screen import Hoses
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.item_list import ItemList
from tests.app.conftest import fill_in, press, put_cursor, told


def last_said(app) -> str:
    return list(app._notifications)[-1].message


async def test_on_the_bench_and_the_screens_above_it(opened):
    async with opened("cold-single") as pilot:
        app = pilot.app
        await put_cursor(pilot, "#items", "drysuit hose")
        item = app.screen.item
        before = app.screen.record.length_m
        await press(pilot, "plus")
        assert app.screen.record.length_m > before
        await put_cursor(pilot, "#items", "kit")
        app.screen.query_one(ItemList).focus()

        await press(pilot, "ctrl+z")
        assert last_said(app).startswith('Undone: length of "drysuit hose" is ')
        assert app.screen.item == item
        assert app.screen.query_one(ItemList).selected == item
        assert app.screen.query_one(Form).selected.field.key == "length"
        assert app.focused is app.screen.query_one(ItemList), "the focus stays"

        await press(pilot, "ctrl+z")
        assert "Nothing to undo" in last_said(app)
        await put_cursor(pilot, "#items", "kit")
        await press(pilot, "ctrl+y")
        assert last_said(app).startswith('Redone: length of "drysuit hose" is ')
        assert app.screen.item == item

        await press(pilot, "t", "home", "ctrl+z")
        assert app.screen.fitted.figures.hose.tag == "drysuit hose"
        assert app.screen.query_one(Hoses).place == app.screen._place
        assert app.screen.fitted.figures.hose.length_m == before
        await press(pilot, "escape", "d", "ctrl+y")
        assert last_said(app).startswith('Redone: length of "drysuit hose" is ')
        assert app.screen.document.is_dirty
        await press(pilot, "w", "ctrl+z")
        assert not app.screen.document.is_dirty
        assert app.screen.row.item.tag == "drysuit hose"


async def test_on_gear_and_diver(opened):
    async with opened("gear") as pilot:
        await put_cursor(pilot, "#owned", "black")
        await fill_in(pilot, "serviced", "2027-01-10")
        await put_cursor(pilot, "#owned", "gear")
        await press(pilot, "ctrl+z")
        assert pilot.app.screen.record.tag == "black"
        assert pilot.app.screen.query_one(Form).selected.field.key == "serviced"
        assert 'Undone: serviced of "black" is ' in told(pilot.app)
    async with opened("diver") as pilot:
        await fill_in(pilot, "stature", "190 cm")
        pilot.app.screen.query_one("#checks", OptionList).focus()
        await press(pilot, "end", "ctrl+z")
        assert pilot.app.screen.item is None
        assert "Undone: stature of the diver is " in told(pilot.app)
