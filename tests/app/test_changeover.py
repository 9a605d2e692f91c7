"""The changeover: the checklist as it shows, and ticks that outlive the screen."""

from pathlib import Path

from textual.pilot import Pilot

from kitbuilder.app.screens.changeover_screen import ChangeoverScreen, Steps
from kitbuilder.app.screens.dialogs import TextPage
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.kitfile.progress import read_progress, ticks_path
from tests.app.conftest import LARGE, SMALL, press, screen_text, settle, type_in


async def open_changeover(pilot: Pilot, source: str = "twinset", target: str = "sidemount") -> None:
    """Over the shelf, as a person does."""
    shelf = pilot.app.screen
    assert isinstance(shelf, Shelf)
    names = [book.path.stem for book in shelf._books]
    shelf.query_one("#books").highlighted = names.index(source)
    await press(pilot, "c")
    await type_in(pilot, f"{target}.toml", "enter")


def kept(kits: Path) -> frozenset[str]:
    return read_progress(ticks_path(kits / "twinset.toml", kits / "sidemount.toml"))


async def test_opening(opened, pictured):
    """First the three ways round, then one that could hurt, which is refused."""
    async with opened() as pilot:
        for source, target in (("sidemount", "cold-single"), ("twinset", "sidemount"), ("cold-single", "twinset")):
            await open_changeover(pilot, source, target)
            assert isinstance(pilot.app.screen, ChangeoverScreen)
            await pictured(pilot, f"{source} to {target}", SMALL, LARGE)
            await press(pilot, "escape")
            assert isinstance(pilot.app.screen, Shelf)
        await pilot.resize_terminal(*SMALL)
        await open_changeover(pilot, "twinset", "wrong-on-purpose")
        assert isinstance(pilot.app.screen, TextPage)
        await pictured(pilot, "refused")


async def test_ticking(opened, pictured, kits):
    """Headings are stepped over, a tick is taken back, beginning anew asks first, and pages tell the rest."""
    async with opened(size=LARGE) as pilot:
        await open_changeover(pilot)
        screen, steps = pilot.app.screen, pilot.app.screen.query_one(Steps)
        await press(pilot, "home", "space")
        assert steps.highlighted == 1
        assert screen.step.number == 1
        await press(pilot, "space")
        assert len(kept(kits)) == 1
        await press(pilot, "up", "enter")
        assert kept(kits) == frozenset()

        first_joint = next(step.number for step in screen.plan.steps if step.verb == "undo")
        for _ in range(first_joint - 1):
            screen.action_mark()
        await settle(pilot)
        await pictured(pilot, "half way")
        await press(pilot, "N", "k", "enter")
        assert len(kept(kits)) == first_joint - 1
        await press(pilot, "N", "t", "enter")
        assert kept(kits) == frozenset()

        await pilot.resize_terminal(*SMALL)
        for key in ("i", "u", "o"):
            await press(pilot, key)
            assert isinstance(pilot.app.screen, TextPage)
            await pictured(pilot, key)
            await press(pilot, "escape")


async def test_ticks_outlive_the_app(opened, kits):
    """Two steps are done, the plug is pulled; the next time it goes on with the third.

    Ticks go by the sentence: an edit of a kit opens what it changed and nothing else.
    """
    async with opened() as pilot:
        await open_changeover(pilot)
        await press(pilot, "space", "space")
    assert len(kept(kits)) == 2
    async with opened() as pilot:
        await open_changeover(pilot)
        screen = pilot.app.screen
        assert "2 of " in screen_text(pilot.app)
        assert screen.step.number == 3
        every = len(screen.plan.steps)
        for _ in range(every - 2):
            screen.action_mark()
        assert len(kept(kits)) == every
        path = kits / "sidemount.toml"
        path.write_text(path.read_text().replace('tag        = "right gauge hose"', 'tag        = "right HP hose"'))
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Shelf)
        await open_changeover(pilot)
        changed = [step for step in pilot.app.screen.plan.steps if "right HP hose" in str(step.what)]
        assert f"{every - len(changed)} of {every} done" in screen_text(pilot.app)


async def test_printing_writes_the_ticked_checklist(opened, kits):
    async with opened() as pilot:
        await open_changeover(pilot)
        await press(pilot, "space", "Y", "f", "enter", "enter")
    text = (kits / "twinset-to-sidemount.txt").read_text()
    assert text.count("[x]") == 1
    assert "never certifies" in text
