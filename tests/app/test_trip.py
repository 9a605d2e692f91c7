"""The trip screen: how a trip is packed, moving an item, and a new trip from a kit."""

import tomllib
from threading import Event

from textual.widgets import Static

from kitbuilder.app.screens import shelf as shelf_screen
from kitbuilder.app.screens import trip_packing
from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.new_trip_dialog import NewTripDialog
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.screens.trip_screen import TripScreen
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.plans.trip_packing import pack_trip
from tests.app.conftest import LARGE, SMALL, fill_in, press, put_cursor, screen_text, settle, told, type_in

WIDEST = (200, 50)


def lines_of(screen: TripScreen) -> str:
    """What stands below the lists."""
    return str(screen.query_one("#trip-about-lines", Static).content)


def rows_of(screen: TripScreen, listing: str) -> list[str]:
    return [row.plain for row in screen.query_one(listing, Listing).rows]


def tags_in(screen: TripScreen, bag: str) -> set[str]:
    """The items of a bag."""
    assert screen.found is not None
    [packed] = [packed for packed in screen.found.packing.bags if packed.bag.tag == bag]
    return {placed.item.tag for placed in packed.items}


async def test_a_trip_is_packed_and_an_item_is_moved(opened, pictured, kits):
    """Opened from the shelf, moved, undone, moved again and saved: the file has a pin and nothing else new."""
    path = kits / "trip-reef.toml"
    before = path.read_text()
    async with opened() as pilot:
        await put_cursor(pilot, "#books", "Two weeks")
        await press(pilot, "enter")
        screen = pilot.app.screen
        assert isinstance(screen, TripScreen)
        assert screen.is_up_to_date
        await pictured(pilot, "", SMALL, LARGE, WIDEST)
        await pilot.resize_terminal(*SMALL)
        await put_cursor(pilot, "#places", "duffel")
        await press(pilot, "enter")
        await put_cursor(pilot, "#trip-items", "fins")
        assert "spreads the load over the bags" in lines_of(screen)
        await press(pilot, "enter")
        await pictured(pilot, "asking where")
        await type_in(pilot, "backpack", "enter")
        assert "fins" in tags_in(screen, "backpack")
        assert screen.is_up_to_date
        assert not any("fins" in row for row in rows_of(screen, "#trip-items"))
        await pictured(pilot, "moved")
        await press(pilot, "ctrl+z")
        assert "fins" in tags_in(screen, "duffel")
        assert screen.document.text == before
        assert screen.item_row.name == "fins", "the cursor is where it was before the move"
        await press(pilot, "ctrl+y")
        assert "fins" in tags_in(screen, "backpack")
        await press(pilot, "ctrl+s", "left")
        pins = tomllib.loads(path.read_text())["pin"]
        assert pins == [*tomllib.loads(before)["pin"], {"item": "fins", "bag": "backpack"}]
        # Unpinned, it goes where the packing has it best again.
        await put_cursor(pilot, "#places", "backpack")
        await press(pilot, "enter")
        await put_cursor(pilot, "#trip-items", "fins")
        assert "pinned here" in lines_of(screen)
        await press(pilot, "ctrl+u")
        assert "fins" in tags_in(screen, "duffel")
        assert tomllib.loads(screen.document.text) == tomllib.loads(before)
        await press(pilot, "escape", "d", "enter")
        assert isinstance(pilot.app.screen, Shelf)
        assert pilot.app.screen._entry().path == path


async def test_a_move_that_cannot_be_says_why(opened):
    """A rule keeps spare batteries out of the hold; what is too heavy for a bag is said before anything is written."""
    async with opened("trip-reef", LARGE) as pilot:
        screen = pilot.app.screen
        before = screen.document.text
        await press(pilot, "right")
        await put_cursor(pilot, "#trip-items", "spare camera batteries")
        await press(pilot, "I")
        await type_in(pilot, "duffel", "enter")
        assert "a rule forbids it there" in told(pilot.app)
        assert "A spare battery that shorts can burn." in told(pilot.app)
        await put_cursor(pilot, "#trip-items", "toilet bag")
        await press(pilot, "I")
        await type_in(pilot, "backpack", "enter")
        assert "the trip file says that it goes elsewhere" in told(pilot.app)
        await put_cursor(pilot, "#trip-items", "clothes")
        await pilot.click("#trip-items", offset=(4, 1))  # on the row under the cursor
        await settle(pilot)
        assert isinstance(pilot.app.screen, Choose)
        await press(pilot, "escape")
        await press(pilot, "slash")
        await type_in(pilot, "hire", "enter")
        assert screen.record.title == "rental"  # form and details follow a list that is narrowed
        await press(pilot, "I")
        assert isinstance(pilot.app.screen, Choose)  # what is rented may go into a bag instead
        await press(pilot, "escape")
        assert screen.document.text == before
        await press(pilot, "escape")
        # Luggage has its bag in its own entry; what it then leaves no room for is said.
        await put_cursor(pilot, "#trip-items", "clothes")
        await fill_in(pilot, "mass", "7.5 kg")
        assert screen.is_up_to_date
        await press(pilot, "left")
        await put_cursor(pilot, "#trip-items", "clothes")
        await press(pilot, "I")
        await type_in(pilot, "backpack", "enter")
        assert "alone it is heavier than the limit of this bag" in told(pilot.app)
        # Left at home, it is not packed any more; the entry is taken out again.
        await put_cursor(pilot, "#trip-items", "fins")
        await press(pilot, "I")
        await type_in(pilot, "leave it", "enter")
        assert [entry.item for entry in screen.trip.leaves] == ["fins"]
        await press(pilot, "left")
        await put_cursor(pilot, "#places", "left at home")
        await press(pilot, "enter", "delete")
        assert screen.trip.leaves == ()
        # Taken back, it goes straight into a bag instead; undo leaves it at home again.
        await press(pilot, "ctrl+z", "left")
        await put_cursor(pilot, "#places", "left at home")
        await press(pilot, "enter", "I")
        await type_in(pilot, "duffel", "enter")
        assert screen.trip.leaves == ()
        assert "fins" in tags_in(screen, "duffel")
        await press(pilot, "ctrl+z")
        assert [entry.item for entry in screen.trip.leaves] == ["fins"]


async def test_no_stale_packing_is_shown_as_current(app_on, monkeypatch):
    """While it is worked out the screen answers; after esc the answer that still comes is dropped; g packs again."""
    may_go_on = Event()

    def slow(trip, **given):
        may_go_on.wait(5)
        return pack_trip(trip, **given)

    monkeypatch.setattr(trip_packing, "pack_trip", slow)
    async with app_on("trip-reef").run_test(size=SMALL) as pilot:
        await pilot.pause()
        screen = pilot.app.screen
        assert isinstance(screen, TripScreen)
        assert "Packing … 0 s. Esc stops." in screen_text(pilot.app)
        assert [row.split()[0] for row in rows_of(screen, "#places")][1:3] == ["duffel", "backpack"]
        assert screen.whole_page() is None
        await pilot.press("escape")
        may_go_on.set()
        await settle(pilot)
        assert screen.found is None
        assert "Not packed: stopped. g packs the trip." in lines_of(screen)
        await press(pilot, "g")
        assert screen.is_up_to_date
        # An edit while the next packing takes its time: the list says that it is of before, not of now.
        may_go_on.clear()
        packing = screen.found
        screen.document.set_value(number_of(screen, "clothes"), "mass", "5 kg")
        screen.refresh_all()
        await pilot.pause()
        assert "Bags as they were before the last edit" in screen_text(pilot.app)
        assert (screen.found, screen.whole_page(), screen.is_up_to_date) == (packing, None, False)
        may_go_on.set()
        await settle(pilot)
        assert screen.is_up_to_date
        assert screen.found is not packing
        screen.document.undo()
        screen.refresh_all()
        assert screen.found is packing


def number_of(screen: TripScreen, tag: str) -> int:
    return next(number for number, entry in enumerate(screen.trip.items) if entry.tag == tag)


async def test_findings_and_entries_of_a_trip(opened, kits):
    """Enter on a finding goes to its key; luggage is added and filled in."""
    path = kits / "trip-reef.toml"
    path.write_text(path.read_text() + '\n[[leave]]\nitem = "nosuch"\n')
    async with opened("trip-reef") as pilot:
        screen = pilot.app.screen
        assert "WARNING" in screen_text(pilot.app)
        await press(pilot, "full_stop", "enter")
        assert screen.record.item == "nosuch"
        assert screen.query_one(Form).selected.field.key == "item"
        # From an item of a kit, of which the file says nothing: its pane says what to do, the new entry has a form.
        await press(pilot, "left", "left")
        await put_cursor(pilot, "#places", "duffel")
        await press(pilot, "enter")
        await put_cursor(pilot, "#trip-items", "suit")
        assert "enter puts an item elsewhere" in str(screen.query_one("#help", Static).content)
        await press(pilot, "a")
        await type_in(pilot, "luggage", "enter")
        assert screen.record.tag == "luggage"
        assert screen.query_one(Form).border_title == "luggage: luggage"
        assert screen.query_one(Form).selected.field.key == "tag"
        await fill_in(pilot, "tag", "books")
        assert [each.tag for each in screen.trip.luggage][-1] == "books"
        await press(pilot, "ctrl+z", "ctrl+z")
        assert not screen.document.is_dirty
        # An option without an item changes nothing; the form asks for the item.
        before = screen.found
        await press(pilot, "left", "a")
        await type_in(pilot, "option", "enter")
        assert screen.query_one(Form).selected.field.key == "item"
        assert screen.is_up_to_date
        assert screen.found.packing.placed == before.packing.placed


async def test_a_new_trip_from_a_kit(opened, kits, monkeypatch):
    """Four questions, each answered with what is usual; a file that cannot be read shows its problems.

    On the way back the folder is read file by file: the cursor stays on the trip while kits come in above it.
    """
    (kits / "trip-bad.toml").write_text('format = 1\nholds = "trip"\n')
    async with opened() as pilot:
        await put_cursor(pilot, "#books", "Twinset")
        await press(pilot, "T")
        dialog = pilot.app.screen
        assert isinstance(dialog, NewTripDialog)
        assert "New trip with twinset.toml, 1 of 4" in str(dialog.query_one("#new-kit").border_title)
        assert ("F1", "Help") in [(key.text, key.name) for key in dialog.query_one(KeyLine).keys]
        await press(pilot, "enter", "enter", "enter")
        await type_in(pilot, "2031-05-10 to 2031-05-24", "enter")
        await settle(pilot)
        screen = pilot.app.screen
        assert isinstance(screen, TripScreen)
        made = tomllib.loads((kits / "trip-twinset.toml").read_text())
        assert (made["kits"], made["from"]) == (["twinset.toml"], "2031-05-10")
        assert [leg["hold_piece"] for leg in made["leg"]] == ["23 kg"]
        monkeypatch.setattr(shelf_screen, "AT_ONCE_S", 0.0)
        monkeypatch.setattr(shelf_screen, "SLICE_S", 0.0)
        (kits / "zz.toml").write_text((kits / "warm-single.toml").read_text())
        await press(pilot, "escape")
        shelf = pilot.app.screen
        assert isinstance(shelf, Shelf)
        assert (len(shelf._entries), len(shelf._trips)) == (10, 4)
        assert shelf._entry().path.name == "trip-twinset.toml"
        await put_cursor(pilot, "#books", "trip-bad.toml")
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, Problems)
