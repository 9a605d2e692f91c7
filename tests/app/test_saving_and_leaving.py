"""Nothing typed is lost: unsaved edits, other people's edits, a pulled plug, a disk that refuses."""

from pathlib import Path

import pytest

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Ask
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.journal import journals_of
from tests.app.conftest import press, put_cursor, screen_text, type_in


@pytest.mark.parametrize("answers", [["k", "escape", "d"], ["s"]])
async def test_leaving_asks_and_each_answer_does_what_it_says(opened, kits, answers):
    path = kits / "sidemount.toml"
    original = path.read_bytes()
    async with opened("sidemount") as pilot:
        await press(pilot, "minus")
        for answer in answers:
            await press(pilot, "escape")
            assert isinstance(pilot.app.screen, Ask)
            await press(pilot, *([answer] if answer == "escape" else [answer, "enter"]))
            goes, changes = answer in "ds", answer == "s"
            assert isinstance(pilot.app.screen, Shelf if goes else Bench)
            assert (path.read_bytes() != original) is changes
            assert bool(journals_of(path)) is not goes
            if not goes:
                assert pilot.app.screen.document.is_dirty


async def test_escape_and_enter_by_chance_neither_save_nor_lose(opened, kits):
    """The first answer is to keep editing; a letter only moves the cursor, and the question says so."""
    path = kits / "sidemount.toml"
    original = path.read_bytes()
    async with opened("sidemount") as pilot:
        await press(pilot, "minus", "escape")
        assert "a letter goes to its answer, enter gives it" in screen_text(pilot.app)
        await press(pilot, "s", "d")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, "escape", "escape", "enter")
        assert isinstance(pilot.app.screen, Bench)
        assert pilot.app.screen.document.is_dirty
        assert path.read_bytes() == original


async def test_quitting_asks_too(opened):
    async with opened("sidemount") as pilot:
        await press(pilot, "minus", "ctrl+q")
        assert isinstance(pilot.app.screen, Ask)
        await press(pilot, "d", "enter")
    assert pilot.app.return_code == 0


async def test_quitting_without_edits_does_not_ask(opened):
    async with opened("sidemount") as pilot:
        await press(pilot, "ctrl+q")
        assert not pilot.app.is_running
    assert pilot.app.return_code == 0


def change(path: Path) -> str:
    """Another program's change of a file. Gives its new text."""
    theirs = path.read_text().replace("Sidemount, sea", "Sidemount, lake")
    path.write_text(theirs)
    return theirs


async def test_a_change_by_another_program_is_never_overwritten_silently(opened, pictured, kits):
    """No answer changes nothing; theirs can be taken, and undone; mine goes over it; mine goes elsewhere."""
    path = kits / "sidemount.toml"
    async with opened("sidemount") as pilot:
        app, bench = pilot.app, pilot.app.screen
        await put_cursor(pilot, "#items", "short hose")
        await press(pilot, "minus")
        theirs = change(path)
        await press(pilot, "ctrl+s")
        assert path.read_text() == theirs
        await pictured(pilot, "")
        await press(pilot, "escape")
        assert path.read_text() == theirs
        assert bench.document.is_dirty

        await press(pilot, "ctrl+s", "t", "enter")
        assert bench.assessment.kit.header.name == "Sidemount, lake"
        assert not bench.document.is_dirty
        await press(pilot, "ctrl+z")
        assert bench.assessment.kit.header.name == "Sidemount, sea"
        assert '"56 cm"' in bench.document.text
        await press(pilot, "ctrl+s")
        assert '"56 cm"' in path.read_text()

        theirs = change(path)
        await press(pilot, "minus", "ctrl+s")
        assert isinstance(app.screen, Ask)
        assert path.read_text() == theirs
        await press(pilot, "m", "enter")
        assert "Sidemount, sea" in path.read_text()
        assert path.read_text() == bench.document.text

        theirs = change(path)
        await press(pilot, "plus", "ctrl+s", "a", "enter")
        assert path.read_text() == theirs
        await type_in(pilot, "mine.toml", "enter")
        assert path.read_text() == theirs
        assert '"56 cm"' in (kits / "mine.toml").read_text()


async def test_their_change_to_something_that_is_no_kit_cannot_be_taken(opened, kits):
    """And a file that vanished can be written again."""
    path = kits / "sidemount.toml"
    async with opened("sidemount") as pilot:
        await press(pilot, "minus")
        path.write_text("not a kit")
        await press(pilot, "ctrl+s", "t")
        assert isinstance(pilot.app.screen, Ask)
        assert path.read_text() == "not a kit"
        await press(pilot, "escape")
        path.unlink()
        await press(pilot, "ctrl+s")
        assert isinstance(pilot.app.screen, Ask)
        assert not path.exists()
        await press(pilot, "m", "enter")
    assert '"180 cm"' in path.read_text()


async def test_a_disk_that_refuses_keeps_the_edits(opened, kits, monkeypatch):
    path = kits / "sidemount.toml"
    original = path.read_bytes()

    def refuse(*_arguments):
        raise PermissionError(13, "Permission denied")

    async with opened("sidemount", notifications=True) as pilot:
        app = pilot.app
        await press(pilot, "minus")
        monkeypatch.setattr("kitbuilder.kitfile.document.save_text", refuse)
        await press(pilot, "ctrl+s")
        assert app.screen.document.is_dirty
        assert "Permission denied" in screen_text(app)
    assert path.read_bytes() == original


async def test_a_pulled_plug_costs_nothing_typed(opened, pictured, kits):
    """The edits of an app that was never closed are offered by the next one."""
    path = kits / "sidemount.toml"
    document = Document(path)
    document.set_value(None, "name", "Typed before the plug was pulled")
    del document
    async with opened("sidemount") as pilot:
        app = pilot.app
        await pictured(pilot, "")
        await press(pilot, "t", "enter")
        assert app.screen.assessment.kit.header.name == "Typed before the plug was pulled"
        assert app.screen.document.is_dirty
        await press(pilot, "ctrl+s")
    assert "Typed before" in path.read_text()
    assert not journals_of(path)


async def test_edits_of_an_earlier_time_can_be_dropped(opened, kits):
    path = kits / "sidemount.toml"
    original = path.read_bytes()
    Document(path).set_value(None, "name", "Not wanted")
    async with opened("sidemount") as pilot:
        await press(pilot, "d", "enter")
        assert pilot.app.screen.assessment.kit.header.name == "Sidemount, sea"
    assert path.read_bytes() == original
    assert not journals_of(path)
