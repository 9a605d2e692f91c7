"""Files that still say locker, on their screens: the notice is there, and goes when the key is set anew."""

from textual.widgets import Static

from tests.app.conftest import LARGE, fill_in, press, put_cursor, screen_text


async def test_the_gear_screen_names_the_new_word(opened, kits):
    path = kits / "gear.toml"
    old = path.read_text().replace('holds  = "gear"', 'holds  = "locker"')
    path.write_text(old)
    async with opened("gear", LARGE) as pilot:
        await press(pilot, "home")
        assert "NOTICE" in screen_text(pilot.app)
        lines = str(pilot.app.screen.query_one("#owned-lines", Static).content)
        assert 'Write `holds = "gear"` instead.' in lines
        assert "To buy, for each kit by itself" in lines


async def test_a_kit_that_says_locker_is_edited_on_the_bench(opened, kits):
    """Another key first, which leaves the word alone; then the key itself, which takes the new word."""
    path = kits / "twinset.toml"
    old = path.read_text().replace('gear   = "gear.toml"', 'locker = "gear.toml"')
    path.write_text(old)
    async with opened("twinset", LARGE) as pilot:
        bench = pilot.app.screen
        await put_cursor(pilot, "#findings", "`locker`")
        assert "the file says `locker`" in screen_text(pilot.app)
        await put_cursor(pilot, "#items", "twinset")
        await fill_in(pilot, "notes", "tried")
        assert 'locker = "gear.toml"' in bench.document.text
        await fill_in(pilot, "gear", "gear.toml")
        assert 'gear   = "gear.toml"' in bench.document.text
        assert "old word" not in {finding.rule for finding in bench.assessment.findings}
        await press(pilot, "ctrl+z", "ctrl+z")
        assert bench.document.text == old
