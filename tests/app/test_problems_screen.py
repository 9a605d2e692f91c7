"""A file that cannot be read: its problems are walked, narrowed and explained like any list."""

from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.tour import Tour
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.report.numbers import System
from tests.app.conftest import press, screen_text, type_in

BROKEN = 'format = 1\nname = "Half"\nlayout = "singel"\nwater = "beer"\n\n[[hose]]\ntag = "long"\nrole = "primary"\n'


async def test_problems_are_narrowed_and_explained(opened, kits):
    (kits / "half.toml").write_text(BROKEN)
    async with opened("half") as pilot:
        screen = pilot.app.screen
        assert isinstance(screen, Problems)
        rows = screen.query_one(Listing).rows
        assert len(rows) == len(screen._problems) >= 3
        await press(pilot, "slash")
        await type_in(pilot, "singel", "enter")
        assert [rows[place].plain for place in screen.query_one(Listing).shown] == [
            row.plain for row in rows if "singel" in row.plain
        ]
        assert "Fix this file in a text editor" in screen_text(pilot.app)
        await press(pilot, "escape", "m", "question_mark")
        assert pilot.app.system is System.IMPERIAL
        assert isinstance(pilot.app.screen, Tour)
