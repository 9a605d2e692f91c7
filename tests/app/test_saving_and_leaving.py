"""Nothing typed is lost: unsaved edits, other people's edits, a pulled plug, a disk that refuses."""

import pytest

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Ask
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.journal import journals_of
from tests.app.conftest import screen_text, settle

SIZE = (80, 24)
SHORT_HOSE = ("down", "down", "down", "down")


@pytest.mark.parametrize(
    ("answer", "goes", "changes"),
    [("k", False, False), ("escape", False, False), ("d", True, False), ("s", True, True)],
)
async def test_leaving_asks_and_each_answer_does_what_it_says(app_on, kits, answer, goes, changes):
    path = kits / "sidemount.toml"
    original = path.read_bytes()
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press(*SHORT_HOSE, "plus", "escape")
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        await pilot.press(answer)
        await settle(pilot)
        assert isinstance(app.screen, Shelf if goes else Bench)
        assert (path.read_bytes() != original) is changes
        assert bool(journals_of(path)) is not goes
        if not goes:
            assert app.screen.document.is_dirty


async def test_quitting_asks_too(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("minus", "ctrl+q")
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        await pilot.press("d")
        await settle(pilot)
    assert app.return_code == 0


async def test_quitting_without_edits_does_not_ask(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+q")
        await settle(pilot)
    assert app.return_code == 0


@pytest.mark.parametrize("answer", ["a", "m", "t", "escape"])
async def test_a_change_by_another_program_is_never_overwritten_silently(app_on, kits, answer, screen):
    path = kits / "sidemount.toml"
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press(*SHORT_HOSE, "minus")
        theirs = path.read_text().replace("Sidemount, sea", "Sidemount, lake")
        path.write_text(theirs)
        await pilot.press("s")
        await settle(pilot)
        assert path.read_text() == theirs
        if answer == "escape":
            assert screen_text(app) == screen
        await pilot.press(answer)
        await settle(pilot)
        if answer == "a":
            await pilot.press(*"mine.toml", "enter")
            await settle(pilot)
            assert path.read_text() == theirs
            assert '"56 cm"' in (kits / "mine.toml").read_text()
        elif answer == "m":
            assert '"56 cm"' in path.read_text()
            assert "Sidemount, sea" in path.read_text()
        elif answer == "t":
            assert app.screen.assessment.kit.header.name == "Sidemount, lake"
            assert not app.screen.document.is_dirty
            await pilot.press("u")
            await settle(pilot)
            assert app.screen.assessment.kit.header.name == "Sidemount, sea"
            assert '"56 cm"' in app.screen.document.text
        else:
            assert path.read_text() == theirs
            assert app.screen.document.is_dirty


async def test_their_change_to_something_that_is_no_kit_cannot_be_taken(app_on, kits):
    path = kits / "sidemount.toml"
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("plus", "minus", "minus")
        path.write_text("not a kit")
        await pilot.press("s")
        await settle(pilot)
        await pilot.press("t")
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        assert path.read_text() == "not a kit"


async def test_a_file_that_vanished_can_be_written_again(app_on, kits):
    path = kits / "sidemount.toml"
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("minus")
        path.unlink()
        await pilot.press("s")
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        assert not path.exists()
        await pilot.press("m")
        await settle(pilot)
    assert '"180 cm"' in path.read_text()


async def test_a_disk_that_refuses_keeps_the_edits(app_on, kits, monkeypatch):
    path = kits / "sidemount.toml"
    original = path.read_bytes()

    def refuse(*_arguments):
        raise PermissionError(13, "Permission denied")

    app = app_on("sidemount")
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await settle(pilot)
        await pilot.press("minus")
        monkeypatch.setattr("kitbuilder.kitfile.document.save_text", refuse)
        await pilot.press("s")
        await settle(pilot)
        assert app.screen.document.is_dirty
        assert "Permission denied" in screen_text(app)
    assert path.read_bytes() == original


async def test_a_pulled_plug_costs_nothing_typed(app_on, kits, screen):
    """The edits of an app that was never closed are offered by the next one."""
    path = kits / "sidemount.toml"
    document = Document(path)
    document.set_value(None, "name", "Typed before the plug was pulled")
    del document
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert screen_text(app) == screen
        await pilot.press("t")
        await settle(pilot)
        assert app.screen.assessment.kit.header.name == "Typed before the plug was pulled"
        assert app.screen.document.is_dirty
        await pilot.press("s")
        await settle(pilot)
    assert "Typed before" in path.read_text()
    assert not journals_of(path)


async def test_edits_of_an_earlier_time_can_be_dropped(app_on, kits):
    path = kits / "sidemount.toml"
    original = path.read_bytes()
    Document(path).set_value(None, "name", "Not wanted")
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("d")
        await settle(pilot)
        assert app.screen.assessment.kit.header.name == "Sidemount, sea"
    assert path.read_bytes() == original
    assert not journals_of(path)
