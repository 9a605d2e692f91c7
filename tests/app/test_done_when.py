"""What a person does without the manual: find, copy, change theme and units, sort, quit, and come back to the same."""

from pathlib import Path

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.preferences import Preferences
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.findings_list import Findings
from kitbuilder.app.widgets.item_list import ItemList
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.report.actions import ACTIONS
from kitbuilder.report.numbers import System
from tests.app.conftest import LARGE, press, put_cursor, settle, type_in


def key(action: str) -> str:
    """The first key of an action."""
    return ACTIONS[action].keys.split(",")[0]


def app_of(kits: Path, place: Path) -> KitbuilderApp:
    """The app as it starts on one day, with the settings of the days before."""
    preferences = Preferences(place)
    app = KitbuilderApp(kits, System(preferences.settings.units or System.METRIC), preferences=preferences)
    app.animation_level = "none"
    return app


def names(app: KitbuilderApp) -> list[str]:
    """The kits of the shelf from top to bottom, as they are shown."""
    listing = app.screen.query_one(Listing)
    rows = [str(listing.get_option_at_index(number).prompt) for number in range(listing.option_count)]
    return [row.lstrip("▸ ").split("  ")[0] for row in rows]


async def test_a_person_finds_copies_changes_sorts_and_comes_back(kits, tmp_path):
    place = tmp_path / "settings.toml"
    app = app_of(kits, place)
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        await put_cursor(pilot, "#books", "Lake single")
        await press(pilot, key("open"))
        assert isinstance(app.screen, Bench)

        await press(pilot, key("filter"))
        await type_in(pilot, "drysuit hose", "enter")
        items = app.screen.query_one(ItemList)
        assert len(items.shown) == 1
        assert app.screen.record.tag == "drysuit hose"
        await press(pilot, key("back"))
        assert len(items.shown) > 1, "esc shows all items again"
        assert app.screen.record.tag == "drysuit hose", "on the item that was found"

        await press(pilot, key("next"))
        finding = app.screen.query_one(Findings).selected
        await press(pilot, key("copy"))
        copied = " ".join(app.clipboard.split())
        assert finding.signal.word in copied
        assert " ".join(finding.do[0].split()[:3]) in copied, "with what to do"

        await press(pilot, key("units"), key("back"))
        assert isinstance(app.screen, Shelf)
        app.theme = "nord"
        before = names(app)
        await press(pilot, key("sort"))
        await type_in(pilot, "lead", "enter")
        after = names(app)
        assert sorted(after) == sorted(before)
        assert after != before
        await press(pilot, key("quit"))
    assert app.return_code in (0, None)

    again = app_of(kits, place)
    async with again.run_test(size=LARGE) as pilot:
        await settle(pilot)
        assert again.theme == "nord"
        assert again.system is System.IMPERIAL
        assert names(again) == after
