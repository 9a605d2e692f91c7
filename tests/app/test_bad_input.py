"""Bad files and hostile text: a clear sentence, the app stays up, nothing on the disk changes."""

import pytest

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.problems import Problems
from kitbuilder.app.screens.shelf import Shelf
from tests.app.conftest import screen_text, settle

SIZE = (80, 24)
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


@pytest.mark.parametrize("name", BAD)
async def test_a_bad_file_is_explained(app_on, kits, name):
    path = kits / "bad.toml"
    path.write_bytes(BAD[name])
    app = app_on("bad")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Problems)
        shown = screen_text(app)
        assert "This file is not a kit yet" in shown
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Shelf)
        assert "cannot be read" in screen_text(app)
    assert path.read_bytes() == BAD[name]


async def test_a_mended_file_opens(app_on, kits):
    path = kits / "bad.toml"
    path.write_text(KIT + "[[hoze]]\n")
    app = app_on("bad")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert "[[hose]]" in screen_text(app)
        path.write_text(KIT)
        await pilot.press("g")
        await settle(pilot)
        assert isinstance(app.screen, Bench)


HOSTILE = "\\u001b[2J\\u001b]0;owned\\u0007 [red]x[/red] [@click=app.quit]y[/] \\u202edesrever\\u0000"


async def test_text_with_escapes_and_markup_is_shown_and_never_obeyed(app_on, kits):
    path = kits / "bad.toml"
    path.write_text(
        KIT.replace("A kit", HOSTILE)
        + f'notes = "{HOSTILE}"\n'
        + f'[[hose]]\ntag = "{HOSTILE}"\nrole = "primary"\nbody = "rubber"\nlength = "75 cm"\nto = "{HOSTILE} no"\n'
        + f'make = "{HOSTILE}"\n'
    )
    before = path.read_bytes()
    app = app_on("bad")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Bench)
        shown = screen_text(app)
        assert "\x1b" not in shown
        assert "\u202e" not in shown
        assert "\\x1b[2J" in shown
        assert "[red]" in shown
        for keys in (["o"], ["escape"], ["w"], ["escape"], ["c"], ["d"], ["u"], ["u"], ["right", "enter"], ["escape"]):
            await pilot.press(*keys)
            await settle(pilot)
            assert "\x1b" not in screen_text(app)
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Shelf)
        assert "\x1b" not in screen_text(app)
        await pilot.press("b")
        await settle(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "\x1b" not in screen_text(app)
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    "typed", ["-75 cm", "75", "75 kg", "9**9**9**9 m", "1e99 m", "[red]75[/red]", "", "0 cm", "ten"]
)
async def test_a_refused_value_changes_nothing(app_on, kits, typed):
    before = (kits / "sidemount.toml").read_bytes()
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("right", *["down"] * 5, "enter", "delete", *typed, "enter")
        await settle(pilot)
        assert app.screen.query_one("Form").is_editing
        assert app.screen.query(".wrong")
        await pilot.press("escape")
        await settle(pilot)
        assert not app.screen.document.is_dirty
    assert (kits / "sidemount.toml").read_bytes() == before


@pytest.mark.parametrize("name", ["", "../nowhere/up.toml", ".hidden.toml", "plain", "sidemount.toml", "a\tb.toml"])
async def test_a_bad_file_name_is_refused(app_on, kits, name):
    before = sorted(path.name for path in kits.iterdir())
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("S", "delete")
        app.screen.query_one("Input").value = name
        await pilot.press("enter")
        await settle(pilot)
        assert type(app.screen).__name__ == "TypeName"
    assert sorted(path.name for path in kits.iterdir()) == before


async def test_a_folder_that_vanished_says_so(app_on, kits):
    app = app_on()
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        for path in kits.iterdir():
            path.unlink()
        kits.rmdir()
        await pilot.press("g")
        await settle(pilot)
        assert "No such file or directory" in screen_text(app)


async def test_a_terminal_that_is_too_small_does_not_break(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=(20, 8)) as pilot:
        await settle(pilot)
        await pilot.press("right", "down", "enter", "escape", "f", "o", "escape", "question_mark", "escape")
        await pilot.resize_terminal(200, 50)
        await settle(pilot)
        assert "Figures" in screen_text(app)


@pytest.mark.parametrize("keys", [("question_mark",), ("a",), ("S",), ("minus", "escape")])
async def test_a_dialog_answers_once_however_fast_the_keys_come(app_on, keys):
    """A second answer would close the screen below."""
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press(*keys)
        await settle(pilot)
        dialog = app.screen
        for _ in range(3):
            dialog.answer(None)
        await settle(pilot)
        assert isinstance(app.screen, Bench)
        assert len(app.screen_stack) == 2


async def test_an_edit_asked_for_before_another_thing_was_shown_is_dropped(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        form = app.screen.query_one("Form")
        row = next(row for row in form.rows if row.field.key == "run")
        app.screen.thing = None
        form.post_message(form.EditWanted(row))
        form.post_message(form.Edited(row, "50 cm", done=True))
        await settle(pilot)
        assert not app.screen.document.is_dirty
        assert isinstance(app.screen, Bench)


async def test_paging_in_a_list_without_room(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=(10, 3)) as pilot:
        await settle(pilot)
        await pilot.press("pagedown", "pageup", "right", "pagedown", "f", "pagedown")
        await settle(pilot)
        assert isinstance(app.screen, Bench)


async def test_a_row_left_open_does_not_land_on_another_thing(app_on, kits):
    before = (kits / "warm-single.toml").read_bytes()
    app = app_on("warm-single")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("right", *["down"] * 5, "enter", *"70 cm")
        await pilot.click("#things", offset=(6, 5))
        await settle(pilot)
        assert not app.screen.query_one("Form").is_editing
        assert not app.screen.document.is_dirty
        await pilot.press("right", *["down"] * 5, "enter", *"99 cm", "ctrl+q")
        await settle(pilot)
        assert app.is_running
        await pilot.press("escape")
        await settle(pilot)
    assert (kits / "warm-single.toml").read_bytes() == before


async def test_a_text_of_several_lines_is_not_flattened(app_on, kits):
    path = kits / "warm-single.toml"
    path.write_text(path.read_text().replace('neck   = "bare" ', 'notes = """one\ntwo"""\nneck   = "bare" '))
    app = app_on("warm-single")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await pilot.press("home", "right", "end", "enter", "enter")
        await settle(pilot)
        assert not app.screen.query_one("Form").is_editing
        assert not app.screen.document.is_dirty
