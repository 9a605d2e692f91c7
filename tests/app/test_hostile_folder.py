"""A kit folder that was made to trap the app, one that cannot be written, and a file that is open twice."""

import os
from pathlib import Path

import pytest

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Ask
from kitbuilder.app.screens.kit_pairs import plan_changeover_of
from kitbuilder.kitfile.document import Document
from tests.app.conftest import screen_text, settle

pytestmark = pytest.mark.usefixtures("no_waiting")

SIZE = (100, 30)


def journals(folder: Path) -> list[Path]:
    return sorted(path for path in folder.glob(".*.unsaved") if path.is_file() and not path.is_symlink())


def said(app: KitbuilderApp) -> str:
    """What the app has told in passing."""
    return "\n".join(told.message for told in app._notifications)


@pytest.fixture
def disk_for_reading(kits, monkeypatch) -> Path:
    """The folder of the kits refuses every new file; modes would not bind root. Gives the state folder.

    `mkstemp` is where every file of the package begins (`tests/test_writers.py`).
    """
    import tempfile

    making = tempfile.mkstemp

    def refuse(*arguments, dir: Path, **words):
        if Path(dir).resolve() == kits.resolve():
            raise OSError(30, "Read-only file system")
        return making(*arguments, dir=dir, **words)

    monkeypatch.setattr(tempfile, "mkstemp", refuse)
    state = kits.parent / "state"
    monkeypatch.setattr("kitbuilder.kitfile.journal.state_folder", lambda: state)
    return state


@pytest.mark.parametrize("trap", ["link", "pipe"])
async def test_an_edit_goes_into_no_trap(app_on, kits, trap):
    """The link had the kit written into what it leads to; at the pipe the edit waited for ever."""
    victim = kits.parent / "victim.rc"
    victim.write_text("precious\n")
    routed = kits / ".sidemount.toml.unsaved.new"
    if trap == "link":
        routed.symlink_to("../victim.rc")
    else:
        os.mkfifo(routed)
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("minus")
        await settle(pilot)
        assert app.screen.document.is_dirty
        assert victim.read_text() == "precious\n"
        assert len(journals(kits)) == 1
        await pilot.press("ctrl+s")
        await settle(pilot)
    assert routed.is_symlink() or routed.is_fifo()
    assert journals(kits) == []


async def test_ticks_create_no_file_elsewhere(app_on, kits):
    """A link to nowhere under their name was followed."""
    (kits / ".twinset.toml--sidemount.toml.ticks").symlink_to("../made-by-a-link")
    app = app_on()
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await settle(pilot)
        books = [book.path.stem for book in app.screen._books]
        source, target = (app.screen._books[books.index(name)] for name in ("twinset", "sidemount"))
        plan_changeover_of(app.screen, source, target)
        await settle(pilot)
        await pilot.press("space")
        await settle(pilot)
        assert "1 of" in screen_text(app)
        assert not (kits.parent / "made-by-a-link").exists()
        assert "Ticks cannot be saved in this folder" in said(app)


async def test_where_nothing_can_be_written_the_edits_are_kept_elsewhere(app_on, kits, disk_for_reading):
    """Said at the first edit; saved in a folder of the person's own, by a path."""
    original = (kits / "sidemount.toml").read_bytes()
    mine = kits.parent / "mine"
    mine.mkdir()
    app = app_on("sidemount")
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await settle(pilot)
        assert said(app) == ""
        await pilot.press("minus")
        await settle(pilot)
        assert f"your edits are kept in {disk_for_reading}. S saves in another folder." in said(app)
        (kept,) = disk_for_reading.iterdir()
        assert '"180 cm"' in kept.read_text()
        await pilot.press("ctrl+s")
        await settle(pilot)
        assert "Read-only file system. Nothing was written and your edits are kept." in said(app)
        await pilot.press("S", *"../nowhere/kit.toml", "enter")
        await settle(pilot)
        assert 'There is no folder "../nowhere"' in screen_text(app)
        await pilot.press("ctrl+u", *"../mine/kit.toml", "enter")
        await settle(pilot)
        assert isinstance(app.screen, Bench)
        assert app.screen.document.path.resolve() == (mine / "kit.toml").resolve()
        assert not app.screen.document.is_dirty
    assert '"180 cm"' in (mine / "kit.toml").read_text()
    assert list(disk_for_reading.iterdir()) == []
    assert (kits / "sidemount.toml").read_bytes() == original


async def test_a_second_app_on_a_file_is_told_and_takes_nothing(app_on, kits):
    """Its first edit replaced the journal of the first, and its save deleted it."""
    first = Document(kits / "sidemount.toml")
    first.set_value(None, "name", "Edited in the first app")
    (kept,) = journals(kits)
    app = app_on("sidemount")
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Bench), "edits of a running app are not offered"
        assert "Another running kitbuilder has edits of sidemount.toml" in said(app)
        await pilot.press("minus")
        await settle(pilot)
        assert len(journals(kits)) == 2
        await pilot.press("ctrl+s")
        await settle(pilot)
    assert journals(kits) == [kept]
    assert "Edited in the first app" in kept.read_text()


async def test_edits_of_two_crashes_are_offered_one_after_the_other(app_on, kits):
    path = kits / "sidemount.toml"
    older, newer = Document(path), Document(path)
    older.set_value(None, "name", "Older")
    os.utime(journals(kits)[0], (1_000_000_000, 1_000_000_000))
    newer.set_value(None, "name", "Newer")
    del older, newer
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        assert "Edits were left unsaved 2 times" in screen_text(app)
        assert "Newer" in screen_text(app)
        await pilot.press("t", "enter")
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        assert "Older" in screen_text(app)
        await pilot.press("d", "enter")
        await settle(pilot)
        assert isinstance(app.screen, Bench)
        assert app.screen.assessment.kit.header.name == "Newer"
        (kept,) = journals(kits)
        assert "Newer" in kept.read_text()
