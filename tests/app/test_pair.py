"""The pair: what the screen shows, what can be done there, and the units of each diver."""

import shutil
from pathlib import Path

import pytest

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.dialogs import TextPage
from kitbuilder.app.screens.pair_screen import PairScreen
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.report.numbers import System
from tests.app.conftest import CONFIGS, DAY, LARGE, SMALL, Opened, Pictured, press, screen_text, type_in


@pytest.fixture
def kits(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The shipped pair and one more kit, in a folder of their own, which is the current one."""
    shutil.copytree(CONFIGS / "pair", tmp_path / "kits")
    for name in ("twinset", "diver", "gear"):
        shutil.copy(CONFIGS / f"{name}.toml", tmp_path / "kits")
    monkeypatch.chdir(tmp_path)
    return Path("kits")


async def test_a_pair_from_the_shelf(opened: Opened, pictured: Pictured) -> None:
    """Asked for, read, narrowed, copied in full, left; then three that are marked."""
    async with opened("") as pilot:
        await press(pilot, "p")
        await type_in(pilot, "host", "enter")
        screen = pilot.app.screen
        assert isinstance(screen, PairScreen)
        await pictured(pilot, "", SMALL, LARGE)
        await press(pilot, "enter")
        assert isinstance(pilot.app.screen, TextPage)
        assert "Why: A diver without gas reaches for what they would hand over themselves." in screen_text(pilot.app)
        await press(pilot, "escape", "slash")
        await type_in(pilot, "psi", "enter")
        assert [screen.found.agreements[place].topic for place in screen.query_one(Listing).shown] == [
            "gauges in two units"
        ]
        await press(pilot, "m")
        assert "19.0 ft³ (538 L)" in screen.written_page()
        assert "Agree on these 5 before the dive" in screen.written_page()
        assert screen.page_path() == Path("kits/guest-and-host")
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "escape", "escape")
        assert isinstance(pilot.app.screen, Shelf)
        await press(pilot, "home", "space", "down", "space", "down", "space", "p")
        assert [member.name for member in pilot.app.screen.found.members] == [
            "guest",
            "host",
            "the diver of these kits",
        ]


@pytest.mark.parametrize(
    ("name", "given", "shown"),
    [
        ("guest", None, System.IMPERIAL),
        ("twinset", None, System.METRIC),
        ("guest", System.METRIC, System.METRIC),
    ],
)
async def test_a_kit_opened_alone_has_the_units_of_its_diver(
    name: str, given: System | None, shown: System, kits: Path
) -> None:
    """Unless the settings or the command line say otherwise; a diver who gives none is shown metric."""
    app = KitbuilderApp(kits / f"{name}.toml", given, day=DAY)
    async with app.run_test(size=SMALL):
        assert app.system is shown
