"""Files that other programs change while they are shown: read again, followed, or left until the edits are settled."""

from textual import events

from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kitfile.document import Document
from tests.app.conftest import fill_in, press, put_cursor, put_cursor_on_key, screen_text, settle, told, type_in


async def come_back(pilot) -> None:
    """Come back to the terminal from another window."""
    pilot.app.post_message(events.AppFocus())
    await settle(pilot)


def rewrite(path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


async def test_the_file_on_the_bench_and_what_it_names(opened, kits):
    own, diver = kits / "cold-single.toml", kits / "diver.toml"
    async with opened("cold-single") as pilot:
        app = pilot.app
        rewrite(own, '"Lake single with drysuit"', '"Lake, changed"')
        await come_back(pilot)
        assert "Lake, changed" in screen_text(app)
        assert "read again. ctrl+z shows it as before" in told(app)
        assert not app.screen.document.is_dirty
        await press(pilot, "ctrl+z")
        assert "Lake single with drysuit" in screen_text(app)
        await press(pilot, "ctrl+y")

        before = app.screen.assessment.balance.lead.value
        rewrite(diver, '"82 kg"', '"95 kg"')
        await come_back(pilot)
        assert app.screen.assessment.balance.lead.value != before
        assert "diver.toml has changed on the disk. The figures follow." in told(app)

        told_before = told(app)
        await come_back(pilot)
        assert told(app) == told_before, "once for each change"
        await fill_in(pilot, "notes", "mine")
        await press(pilot, "ctrl+s")
        await come_back(pilot)
        assert "another program" not in told(app)[len(told_before) :], "what is saved here is no news"


async def test_edits_and_typing_are_left_alone(opened, kits):
    own = kits / "sidemount.toml"
    async with opened("sidemount") as pilot:
        app = pilot.app
        await put_cursor(pilot, "#items", "short hose")
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter")
        rewrite(own, "format = 1", "format = 1  # not the same")
        await type_in(pilot, "65 cm")
        await come_back(pilot)
        assert app.screen.is_typing
        assert "another program" not in told(app)
        await press(pilot, "enter")
        await come_back(pilot)
        assert "Your edits stay; saving asks which to keep." in told(app)
        assert app.screen.record.length_m == 0.65
        own.unlink()
        await come_back(pilot)
        assert "is gone, or cannot be read any more" in told(app)


async def test_the_shelf_marks_unsaved_edits_and_changed_files(opened, kits):
    document = Document(kits / "twinset.toml")
    document.set_value(None, "notes", "not saved")
    async with opened() as pilot:
        app = pilot.app
        assert "* Twinset, coast" in screen_text(app)
        await put_cursor(pilot, "#books", "Twinset")
        assert "not saved" in screen_text(app)
        document.save()
        rewrite(kits / "sidemount.toml", '"Sidemount, sea"', '"Sidemount, lake"')
        await come_back(pilot)
        assert "* Twinset, coast" not in screen_text(app)
        assert "~ Sidemount, lake" in screen_text(app)
        assert app.screen.query_one("#books").place is not None
        (kits / "another.toml").write_text((kits / "warm-single.toml").read_text())
        await come_back(pilot)
        assert "6 kits" in str(app.screen.query_one(TitleBar).render())
        rewrite(kits / "diver.toml", '"82 kg"', '"95 kg"')
        before = {book.path.name: book.assessment.balance.lead.value for book in app.screen._books}
        await come_back(pilot)
        after = {book.path.name: book.assessment.balance.lead.value for book in app.screen._books}
        assert after["twinset.toml"] != before["twinset.toml"], "the diver wears it"
