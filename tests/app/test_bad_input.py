"""Bad files and hostile text: a clear sentence, the app stays up, nothing on the disk changes."""

from textual.events import Key
from textual.widgets import Static

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import TextPage, TypeName
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.shelf import Shelf
from tests.app.conftest import LARGE, TINY, press, put_cursor, put_cursor_on_key, screen_text, settle, type_in

KIT = 'format = 1\nname = "A kit"\nlayout = "single"\n'
BAD = {
    "empty": b"",
    "not UTF-8": b'format = 1\nname = "\xff\xfe"\n',
    "half a file": b'format = 1\nname = "cut he',
    "wrong types": b'format = "1"\nname = 3\nlayout = ["single"]\n',
    "negative length": (KIT + '[[hose]]\ntag = "a"\nrole = "primary"\nbody = "rubber"\nlength = "-75 cm"\n').encode(),
    "unknown unit": (KIT + '[[hose]]\ntag = "a"\nrole = "primary"\nbody = "rubber"\nlength = "7 spans"\n').encode(),
    "wrong dimension": (KIT + '[[hose]]\ntag = "a"\nrole = "primary"\nbody = "rubber"\nlength = "7 kg"\n').encode(),
    "duplicate tags": (KIT + '[[gauge]]\ntag = "a"\n[[gauge]]\ntag = "a"\n').encode(),
    "deep nest": b"x = " + b"[" * 10_000 + b"]" * 10_000,
    "large": b"#" * 50_000_000,
    "binary": bytes(range(256)) * 50,
}


async def test_bad_files_are_explained_and_a_fixed_one_opens(opened, kits):
    """Each alone in its folder, where the shelf lists it, too."""
    for path in kits.iterdir():
        path.unlink()
    path = kits / "bad.toml"
    async with opened() as pilot:
        app = pilot.app
        for data in BAD.values():
            path.write_bytes(data)
            app.open_kit(path)
            await settle(pilot)
            assert isinstance(app.screen, Problems)
            assert "Fix this file in a text editor, then press g." in screen_text(app)
            await press(pilot, "escape")
            assert isinstance(app.screen, Shelf)
            assert "cannot be read" in screen_text(app)
            assert path.read_bytes() == data
        path.write_text(KIT + "[[hoze]]\n")
        app.open_kit(path)
        await settle(pilot)
        assert "[[hose]]" in screen_text(app)
        path.write_text(KIT)
        await press(pilot, "g")
        assert isinstance(app.screen, Bench)


async def test_a_bad_file_is_explained_when_it_is_what_was_opened(opened, kits):
    (kits / "bad.toml").write_bytes(BAD["wrong types"])
    async with opened("bad") as pilot:
        assert isinstance(pilot.app.screen, Problems)
        assert "Fix this file in a text editor, then press g." in screen_text(pilot.app)


HOSTILE = "\\u001b[2J\\u001b]0;owned\\u0007 [red]x[/red] [@click=app.quit]y[/] \\u202edesrever\\u0000"


async def test_text_with_escapes_and_markup_is_shown_and_never_obeyed(opened, kits):
    path = kits / "bad.toml"
    path.write_text(
        KIT.replace("A kit", HOSTILE)
        + f'notes = "{HOSTILE}"\n'
        + f'[[hose]]\ntag = "{HOSTILE}"\nrole = "primary"\nbody = "rubber"\nlength = "75 cm"\nto = "{HOSTILE} no"\n'
        + f'make = "{HOSTILE}"\n'
    )
    before = path.read_bytes()
    async with opened("bad", LARGE, notifications=True) as pilot:
        app = pilot.app
        assert isinstance(app.screen, Bench)
        shown = screen_text(app)
        assert "\x1b" not in shown
        assert "\u202e" not in shown
        assert "\\x1b[2J" in shown
        assert "[red]" in shown
        for keys in (["o"], ["escape"], ["w"], ["escape"], ["c"], ["d"], ["u"], ["u"], ["right", "enter"], ["escape"]):
            await press(pilot, *keys)
            assert "\x1b" not in screen_text(app)
        await press(pilot, "escape")
        assert isinstance(app.screen, Shelf)
        assert "\x1b" not in screen_text(app)
        await press(pilot, "b")
        await press(pilot, "enter")
        assert "\x1b" not in screen_text(app)
    assert path.read_bytes() == before


async def test_refused_values_change_nothing(opened, kits):
    before = (kits / "sidemount.toml").read_bytes()
    async with opened("sidemount") as pilot:
        bench = pilot.app.screen
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter", "delete", *"-75 cm", "enter")
        assert bench.query_one("Form").is_editing
        assert bench.query(".wrong")
        for typed in ("1,250", "75 kg", "9**9**9**9 m", "1e99 m", "[red]75[/red]", "", "0 cm", "ten"):
            await type_in(pilot, "2 m")
            assert not bench.query(".wrong")
            await type_in(pilot, typed, "enter")
            assert bench.query_one("Form").is_editing
            assert bench.query(".wrong")
        await press(pilot, "escape")
        assert not bench.document.is_dirty
    assert (kits / "sidemount.toml").read_bytes() == before


async def test_bad_file_names_are_refused(opened, kits):
    before = sorted(path.name for path in kits.iterdir())
    async with opened("twinset") as pilot:
        await press(pilot, "S", "delete")
        for name in ("", "../nowhere/up.toml", ".hidden.toml", "plain/", "sidemount.toml", "sidemount", "a\tb.toml"):
            await type_in(pilot, name, "enter")
            assert isinstance(pilot.app.screen, TypeName)
    assert sorted(path.name for path in kits.iterdir()) == before


async def test_a_folder_that_vanished_says_so(opened, kits):
    async with opened() as pilot:
        for path in kits.iterdir():
            path.unlink()
        kits.rmdir()
        await press(pilot, "g")
        assert "No such file or directory" in screen_text(pilot.app)


async def test_a_terminal_that_is_too_small_does_not_break(opened):
    """Below the least size it says so, and no key reaches the kit; nor does paging in a list without room break it."""
    async with opened("sidemount", (10, 3)) as pilot:
        await press(pilot, "pagedown", "minus", "right", "delete")
        assert "Too\nsmall" in screen_text(pilot.app)
        assert not pilot.app.screen_stack[-2].document.is_dirty
        await pilot.resize_terminal(*TINY)
        await settle(pilot)
        assert isinstance(pilot.app.screen, Bench)
        await press(pilot, "pagedown", "pageup", "right", "pagedown", "full_stop", "pagedown")
        await press(pilot, "right", "down", "enter", "escape", "full_stop", "o", "escape", "question_mark", "escape")
        await pilot.resize_terminal(200, 50)
        await settle(pilot)
        assert "Figures" in screen_text(pilot.app)


async def test_a_dialog_answers_once_however_fast_the_keys_come(opened):
    """A second answer would close the screen below; an edit asked for before another item was shown is dropped."""
    async with opened("sidemount") as pilot:
        app, bench = pilot.app, pilot.app.screen
        for keys in (("a",), ("S",), ("minus", "escape")):
            await press(pilot, *keys)
            dialog = app.screen
            assert dialog is not bench
            for _ in range(3):
                dialog.answer(None)
            await settle(pilot)
            assert app.screen is bench
            assert len(app.screen_stack) == 2
        await press(pilot, "ctrl+z")
        form = bench.query_one("Form")
        row = next(row for row in form.rows if row.field.key == "run")
        bench.item = None
        form.post_message(form.EditWanted(row))
        form.post_message(form.Edited(row, "50 cm", done=True))
        await settle(pilot)
        assert not bench.document.is_dirty
        assert app.screen is bench


async def test_enter_does_not_overtake_the_letter_before_it(opened, kits):
    """Both come at once over a slow line: the edits were saved instead of discarded."""
    before = (kits / "sidemount.toml").read_bytes()
    async with opened("sidemount") as pilot:
        await put_cursor(pilot, "#items", "short hose")
        await press(pilot, "plus", "escape")
        pilot.app.post_message(Key("d", "d"))
        pilot.app.post_message(Key("enter", "\r"))
        await settle(pilot)
        assert isinstance(pilot.app.screen, Shelf)
    assert (kits / "sidemount.toml").read_bytes() == before


async def test_a_row_left_open_does_not_land_on_another_item(opened, kits):
    before = (kits / "warm-single.toml").read_bytes()
    async with opened("warm-single") as pilot:
        app, bench = pilot.app, pilot.app.screen
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter", *"70 cm")
        await pilot.click("#items", offset=(6, 5))
        await settle(pilot)
        assert not bench.query_one("Form").is_editing
        assert not bench.document.is_dirty
        await put_cursor_on_key(pilot, "length")
        await press(pilot, "enter", *"99 cm", "ctrl+q")
        assert app.is_running
        await press(pilot, "escape")
    assert (kits / "warm-single.toml").read_bytes() == before


async def test_a_text_of_several_lines_is_not_flattened(opened, kits):
    path = kits / "warm-single.toml"
    path.write_text(path.read_text().replace('neck   = "bare" ', 'notes = """one\ntwo"""\nneck   = "bare" '))
    async with opened("warm-single") as pilot:
        await press(pilot, "home", "right", "end", "enter", "enter")
        assert not pilot.app.screen.query_one("Form").is_editing
        assert not pilot.app.screen.document.is_dirty


async def test_what_is_linked_and_cannot_be_used_is_named_on_the_shelf(opened, kits):
    """With the figures of the kit, and with what keeps a changeover from being planned."""
    (kits / "gear.toml").write_text("holds = ")
    async with opened(size=LARGE) as pilot:
        await put_cursor(pilot, "#books", "Lake single")
        assert "Not used: gear.toml:1: " in screen_text(pilot.app)
        await press(pilot, "c")
        await type_in(pilot, "wrong-on-purpose.toml", "enter")
        assert isinstance(pilot.app.screen, TextPage)
        refused = str(pilot.app.screen.query_one("TextPage Static", Static).render())
        assert "Not used: wrong-on-purpose.toml: bargains.csv is not in this folder." in refused
        assert "Not used: cold-single.toml: gear.toml:1: " in " ".join(refused.split())
