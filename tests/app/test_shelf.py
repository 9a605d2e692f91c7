"""The shelf, the side by side, and files that cannot be read."""

from pathlib import Path

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import TextPage, TypeName
from kitbuilder.app.screens.new_kit_dialog import NewKitDialog
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.kitfile.disk import save_text
from tests.app.conftest import LARGE, SMALL, press, screen_text, settle, told, type_in


async def test_the_shipped_kits(opened, pictured):
    async with opened() as pilot:
        await pictured(pilot, "", SMALL, LARGE)
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "m")
        await pictured(pilot, "imperial units")
        await press(pilot, "m", "R")
        assert_asks(pilot.app, "New name of the file", "cold-single.toml")


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
        assert "─cold-single.toml · findings: " in before
        assert screen_text(pilot.app) == before.replace("─cold-single.toml", "─lake.toml").replace(
            "notices─", "notices─" + 7 * "─"
        )
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
        differing = pair_lines(pilot.app.screen)
        assert "equal rows hidden" in screen_text(pilot.app).splitlines()[1]
        assert not [line for line in differing if line.startswith("mask")]
        await press(pilot, "h")
        everything = pair_lines(pilot.app.screen)
        assert "mask mask mask" in everything
        assert {line for line in differing if line.startswith("*")} <= set(everything)
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


async def test_every_row_fits_with_a_scroll_bar_and_without(opened, kits):
    """Twenty kits more need the scroll bar; the signal words stay."""
    async with opened() as pilot:
        assert screen_text(pilot.app).count("  CAUTION") >= 4
        for number in range(20):
            (kits / f"copy-{number}.toml").write_bytes((kits / "cold-single.toml").read_bytes())
        await press(pilot, "g")
        lines = screen_text(pilot.app).splitlines()
        rows = [line for line in lines if "Lake single" in line]
        assert len(rows) > 8
        assert all(" CAUTION " in row and "●" in row for row in rows)


async def test_an_empty_folder_offers_the_demo_a_new_kit_and_another_folder(opened, kits, tmp_path):
    """Each by enter, by its key and by the mouse; escape leaves nothing behind, and nothing is ever overwritten."""
    for path in kits.iterdir():
        path.unlink()
    elsewhere = tmp_path / "elsewhere"
    async with opened() as pilot:
        await press(pilot, "down", "enter")
        assert isinstance(pilot.app.screen, NewKitDialog)
        await press(pilot, "escape", "O")
        await type_in(pilot, "../nowhere", "enter")
        assert 'There is no folder or file "../nowhere"' in screen_text(pilot.app)
        await press(pilot, "escape")
        assert list(kits.iterdir()) == []
        await pilot.click("#books", offset=(6, 0), times=2)
        await settle(pilot)
        assert "single" in screen_text(pilot.app)
        await press(pilot, "E")
        assert pilot.app.screen.folder == kits / "demo-kits", "kits of the user's own stay apart from the demo"
        (pilot.app.screen.folder / "twinset.toml").write_text("mine")
        await press(pilot, "O")
        await type_in(pilot, "..", "enter", "E")
        assert (kits / "demo-kits" / "twinset.toml").read_text() == "mine"
        elsewhere.mkdir()
        await press(pilot, "O")
        await type_in(pilot, str(elsewhere), "enter")
        assert "There are no kit files in this folder yet." in screen_text(pilot.app)
        await press(pilot, "O")
        await type_in(pilot, "../kits/warm-single.toml", "enter")
        assert isinstance(pilot.app.screen, Bench)


async def test_a_folder_that_is_not_there_is_made_with_its_first_kit(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    app = KitbuilderApp(Path("dives"))
    async with app.run_test(size=SMALL) as pilot:
        await settle(pilot)
        assert 'There is no folder "dives" yet.' in screen_text(app)
        await press(pilot, "n", "enter", "escape", "escape")
        assert list(tmp_path.iterdir()) == []
        await press(pilot, "n", *["enter"] * 7)
        assert isinstance(app.screen, TextPage)
    assert {path.name for path in Path("dives").iterdir()} == {"my-jacket.toml", "kit.schema.json"}


async def test_the_demo_is_not_copied_where_it_cannot_be(tmp_path):
    """Opened as a link: what it leads to is not for the demo to fill."""
    (tmp_path / "real").mkdir()
    (tmp_path / "link").symlink_to("real")
    app = KitbuilderApp(tmp_path / "link")
    async with app.run_test(size=SMALL) as pilot:
        await press(pilot, "E")
        assert "the folder is not empty" in told(app).lower()
    assert list((tmp_path / "real").iterdir()) == []
