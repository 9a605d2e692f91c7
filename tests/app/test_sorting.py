"""Sorting lists, marking kits, and the mouse."""

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.preferences import Preferences
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.changeover_screen import ChangeoverScreen
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.screens.side_by_side_screen import SideBySideScreen
from kitbuilder.app.screens.weigh_in_screen import WeighInScreen
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.assess.findings import Signal
from kitbuilder.kitfile.settings import read_settings
from tests.app.conftest import DAY, press, put_cursor, row_with, screen_text, settle, told, type_in


def tops(pilot, name: str, count: int = 3) -> list[str]:
    return [str(option.prompt) for option in pilot.app.screen.query_one(name, Listing).options[:count]]


async def test_the_order_of_the_shelf_is_shown_and_remembered(kits, tmp_path):
    """By key, by the head of a column, and again after a restart. The cursor stays on its kit."""
    settings = tmp_path / "settings.toml"
    app = KitbuilderApp(kits, day=DAY, preferences=Preferences(settings))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await put_cursor(pilot, "#books", "Reef single")
        await press(pilot, "z")
        await type_in(pilot, "mass", "enter")
        shelf = app.screen
        assert isinstance(shelf, Shelf)
        assert "Twinset" in tops(pilot, "#books")[0], "72 kg, as the row says"
        assert "mass kg↓" in screen_text(app)
        assert "Kits by mass, largest first" in screen_text(app)
        assert shelf._book().path.name == "warm-single.toml"
        assert read_settings(settings).settings.shelf_order == "mass"
        head = next(line for line in screen_text(app).splitlines() if "mass kg" in line)
        await pilot.click("#columns", offset=(head.index("mass") + 1, 0))
        await settle(pilot)
        assert "Reef single" in tops(pilot, "#books")[0]
        await press(pilot, "enter")
        assert isinstance(app.screen, Bench)
        assert app.screen.document.path.name == "warm-single.toml"
    again = KitbuilderApp(kits, day=DAY, preferences=Preferences(settings))
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "mass kg↑" in screen_text(again)
        assert "Twinset" in tops(pilot, "#books", 5)[4]


async def test_sorted_items_and_findings_are_edited_and_opened_as_shown(opened):
    async with opened("cold-single") as pilot:
        bench = pilot.app.screen
        await press(pilot, "z")
        await type_in(pilot, "item", "enter")
        assert "Items by item, a to z" in screen_text(pilot.app)
        assert "kit" in tops(pilot, "#items")[0], "the kit itself stays on top"
        assert tops(pilot, "#items")[1].split()[0] == "belt"
        await put_cursor(pilot, "#items", "gauge hose")
        assert bench.record.tag == "gauge hose"
        await press(pilot, "slash", *"hose", "enter", "down")
        assert bench.record.tag == "long hose", "the next of the hoses by name"
        await press(pilot, "escape", "full_stop", "z")
        await type_in(pilot, "signal", "enter", "z")
        await type_in(pilot, "signal", "enter")
        findings = bench.query_one("#findings")
        shown = [findings.results[place] for place in findings.shown]
        ranks = [each.signal for each in shown if hasattr(each, "signal")]
        assert ranks == sorted(ranks)
        assert ranks[0] is Signal.NOTICE
        bench.app.push_screen(WeighInScreen(bench.document))
        await settle(pilot)
        title = next(line for line in screen_text(pilot.app).splitlines() if "in water" in line)
        await pilot.click("#weighed", offset=(title.index("in water") + 2, 0))
        await settle(pilot)
        assert pilot.app.screen.order == "buoyancy"


async def test_marked_kits_go_side_by_side_and_into_a_changeover(opened):
    """The first that was marked is on the left, and is the one that is rebuilt."""
    async with opened() as pilot:
        app = pilot.app
        for name in ("Twinset", "Sidemount"):
            await put_cursor(pilot, "#books", name)
            await press(pilot, "space")
        rows = app.screen.query_one("#books", Listing)
        assert "[1]" in str(rows.options[row_with(rows, "Twinset")].prompt)
        assert "[2]" in str(rows.options[row_with(rows, "Sidemount")].prompt)
        assert "2 of 5 kits marked" in screen_text(app)
        await press(pilot, "b")
        assert isinstance(app.screen, SideBySideScreen)
        assert app.screen.page_path().name == "twinset-beside-sidemount"
        await press(pilot, "escape", "c")
        assert isinstance(app.screen, ChangeoverScreen), "marks are still there"
        assert (app.screen.source.name, app.screen.target.name) == ("twinset.toml", "sidemount.toml")
        await press(pilot, "escape", "f")
        assert app.screen._marked == {"twinset.toml", "sidemount.toml"}


async def test_up_to_four_marked_kits_go_side_by_side(opened):
    """A row for each under a function; a fifth one is refused in words."""
    async with opened() as pilot:
        app = pilot.app
        for name in ("Lake", "Twinset", "Sidemount", "Reef"):
            await put_cursor(pilot, "#books", name)
            await press(pilot, "space")
        await press(pilot, "b")
        assert isinstance(app.screen, SideBySideScreen)
        text = screen_text(app)
        for name in ("Lake single with drysuit", "Twinset, coast", "Sidemount, sea", "Reef single, warm water"):
            assert f"     {name}  " in text
        await press(pilot, "escape")
        await put_cursor(pilot, "#books", "Wrong")
        await press(pilot, "space", "b")
        assert isinstance(app.screen, Shelf)
        assert "5 kits are marked; up to 4 go side by side." in told(app)


async def test_what_changed_since_the_last_save(opened):
    """On the bench: a longer hose, then the key that shows what it changed."""
    async with opened("twinset") as pilot:
        pilot.app.screen.document.set_value(2, "length", "240 cm")
        pilot.app.screen.refresh_all()
        await press(pilot, "H")
        text = " ".join(screen_text(pilot.app).split())
        assert "Changes: 1" in text
        assert "long hose length 210 cm 240 cm" in text


async def test_the_mouse_goes_to_a_row_opens_it_and_selects_text(opened):
    async with opened() as pilot:
        app = pilot.app
        rows = app.screen.query_one("#books", Listing)
        number = row_with(rows, "Twinset")
        await pilot.mouse_down("#books", offset=(2, number))
        await pilot.hover("#books", offset=(8, number))
        await pilot.mouse_up("#books", offset=(8, number))
        await settle(pilot)
        await press(pilot, "y")
        assert app.clipboard == "Twinset"
        assert "Copied 1 line" in told(app)
        await pilot.click("#books", offset=(6, number))
        await settle(pilot)
        assert isinstance(app.screen, Shelf)
        assert rows.highlighted == number
        await pilot.click("#books", offset=(6, number))
        await settle(pilot)
        assert isinstance(app.screen, Bench)
