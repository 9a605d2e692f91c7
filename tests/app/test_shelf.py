"""The shelf, the side by side, and files that cannot be read."""

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import TypeName
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.kitfile.disk import save_text
from tests.app.conftest import LARGE, SMALL, press, screen_text, type_in


async def test_the_shipped_kits(opened, pictured):
    async with opened() as pilot:
        await pictured(pilot, "", SMALL, LARGE)
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "m")
        await pictured(pilot, "imperial units")
        await press(pilot, "m", "R")
        assert_asks(pilot.app, "Rename the file", "cold-single.toml")


def assert_asks(app, question: str, name: str) -> None:
    """A name is asked for, and one is proposed."""
    assert isinstance(app.screen, TypeName)
    assert f"─ {question} ─" in screen_text(app)
    assert f"│ {name} " in screen_text(app)
    assert "│ Type a name; enter goes on. " in screen_text(app)


async def test_new_kits_open_on_the_bench(opened, pictured):
    """Made by the usual answers; the page of the new kit is closed."""
    async with opened(size=LARGE) as pilot:
        for layout, style in (("single", "jacket"), ("twinset", "twinset"), ("sidemount", "long hose right")):
            await press(pilot, "n")
            await type_in(pilot, style, *["enter"] * 6)
            await type_in(pilot, f"new-{layout}", "enter", "escape")
            assert isinstance(pilot.app.screen, Bench)
            await pictured(pilot, layout, SMALL, LARGE)
            await press(pilot, "escape")
            assert isinstance(pilot.app.screen, Shelf)


async def test_renaming(opened, kits):
    """The file has another name, which stands below the list; nothing else of the shelf changes."""
    text = (kits / "cold-single.toml").read_bytes()
    async with opened() as pilot:
        before = screen_text(pilot.app)
        await press(pilot, "R")
        await type_in(pilot, "lake.toml", "enter")
        assert "\ncold-single.toml · findings: " in before
        assert screen_text(pilot.app) == before.replace("cold-single.toml", "lake.toml")
    assert (kits / "lake.toml").read_bytes() == text
    assert not (kits / "cold-single.toml").exists()


def pair_lines(screen) -> list[str]:
    """What is compared of the kits and their hoses, seen or scrolled away."""
    return [" ".join(line.split()) for line in str(screen.query_one("#pair-lines").render()).splitlines() if line]


async def test_side_by_side(opened, pictured):
    async with opened() as pilot:
        await press(pilot, "b")
        await pictured(pilot, "asking for the other kit")
        await type_in(pilot, "twinset", "enter")
        await pictured(pilot, "", SMALL, LARGE)
        everything = pair_lines(pilot.app.screen)
        await press(pilot, "h")
        assert "equal hidden" in screen_text(pilot.app).splitlines()[1]
        equal = [line for line in everything if line.split()[0] in ("ends", "worn")]
        assert len(equal) == 6
        assert pair_lines(pilot.app.screen) == [line for line in everything if line not in equal]
        await press(pilot, "h", "X")
        await pictured(pilot, "swapped")


async def test_a_kit_that_cannot_be_read(opened, pictured, kits):
    """It is on the shelf, and opens with its problems."""
    save_text(
        kits / "half.toml", 'format = 1\nname = "Half"\nlayout = "singel"\n\n[[hose]]\ntag = "primary"\nlength = 75\n'
    )
    async with opened() as pilot:
        await press(pilot, "down")
        await pictured(pilot, "on the shelf")
        await press(pilot, "enter")
        await pictured(pilot, "its problems", SMALL, LARGE)


async def test_an_empty_folder(opened, pictured, kits):
    for path in kits.iterdir():
        path.unlink()
    async with opened() as pilot:
        await pictured(pilot, "")


async def test_a_row_takes_the_column_of_the_scroll_bar_while_there_is_none(opened, kits):
    """One column more, and the longest name of the shipped kits stands in full; twenty kits need the scroll bar."""
    async with opened() as pilot:
        assert "▸ Lake single with drysuit  single" in screen_text(pilot.app)
        for number in range(20):
            (kits / f"copy-{number}.toml").write_bytes((kits / "cold-single.toml").read_bytes())
        await press(pilot, "g")
        text = screen_text(pilot.app)
        assert "Lake single with drysu…  single" in text
        assert "  CAUTION" in text
