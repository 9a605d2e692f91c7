"""Whole tasks on the balance and on the diver's page: asking, switching, a float check, a diver file, leaving."""

import re
from pathlib import Path

import pytest
from textual.pilot import Pilot

from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Ask, Choose, TypeName
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.typed_value import value_of
from kitbuilder.app.widgets.findings_list import Findings
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.plot_panel import Plot
from kitbuilder.kit.file_kinds import DIVER_FILE
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.journal import journals_of
from kitbuilder.report.numbers import System
from tests.app.balance_screen import checked_lead, command, details, lead, shown_lead
from tests.app.conftest import (
    KITS,
    LARGE,
    SMALL,
    TINY,
    TRIPS,
    click_key,
    fill_in,
    press,
    put_cursor_on_key,
    row_with,
    screen_text,
    settle,
    told,
    type_in,
)

NO_CYLINDER = 'format = 1\nname = "Bare"\nlayout = "single"\n'
HOSTILE = "\\u001b[2J[red]x[/red] [@click=app.quit]y[/] \\u202edesrever"


def words(app) -> str:
    """All that the terminal shows, its runs of spaces made one."""
    return " ".join(screen_text(app).split())


# --- coming and going -------------------------------------------------------------------------------------------------


async def test_edits_on_the_bench_and_of_the_diver_show_on_the_balance(opened):
    """Two kilograms of lead more are carried, not needed; a heavier diver needs other lead."""
    async with opened("twinset") as pilot:
        await press(pilot, "d")
        before = lead(pilot.app)
        assert "The kit carries 2.0 kg" in words(pilot.app)
        await press(pilot, "escape", "end")
        await fill_in(pilot, "pieces", "4")
        await press(pilot, "left", "d")
        assert lead(pilot.app) == before
        assert "The kit carries 4.0 kg" in words(pilot.app)
        assert "not saved" in words(pilot.app)
        await press(pilot, "e")
        await fill_in(pilot, "mass", "120 kg")
        await press(pilot, "ctrl+s", "escape")
        assert isinstance(pilot.app.screen, BalanceScreen)
        assert lead(pilot.app) != before


async def test_every_switch_and_dialog_of_the_balance_survives_a_terminal_that_is_too_small(opened):
    async with opened("twinset", TINY) as pilot:
        await press(pilot, "d", "1", "2", "4", "3", "A", "m", "W", "escape", "C", "escape", "o", "escape")
        await press(pilot, "question_mark", "escape", "e", "right", "a", "enter")
        await pilot.resize_terminal(200, 50)
        assert isinstance(pilot.app.screen, DiverScreen)
        await pilot.resize_terminal(1, 1)
        await pilot.resize_terminal(*LARGE)
        await settle(pilot)
        assert "How a float check is made" in screen_text(pilot.app)


# --- asking -----------------------------------------------------------------------------------------------------------


async def test_asking(opened, kits):
    """For water by typing its name, for cylinders, for the axis and for units. Leads are those of the command.

    Esc, the kit's own water and 0 take an answer back; the kit is as it was.
    """
    asked = ("--water", "ocean", "--water", "fresh", "--cylinder", "aluminium 7 L 207", "--cylinder", "steel 12 L 300")
    answers = command("ballast", "--json", *asked, kits / "sidemount.toml")["result"]["answers"]
    leads = {(answer["water"], answer["cylinders"]): answer["balance"]["lead_needed_kg"] for answer in answers}
    async with opened("sidemount") as pilot:
        app = pilot.app
        await press(pilot, "d")
        own = lead(app)
        assert own == shown_lead(leads["ocean", None])
        await press(pilot, "W", "escape")
        assert lead(app) == own
        for take_back in ((), ("0",)):
            await press(pilot, "W")
            assert isinstance(app.screen, Choose)
            await press(pilot, *"fresh", "enter")
            assert lead(app) == shown_lead(leads["fresh", None])
            assert "fresh water" in screen_text(app).splitlines()[1]
            assert "in fresh water" in title(app)
            if take_back:
                await press(pilot, *take_back)
            else:
                await press(pilot, "W")
                await type_in(pilot, "ocean", "enter")
            assert lead(app) == own
            assert "in fresh water" not in title(app)

        await press(pilot, "C", "down", "enter")
        assert lead(app) == shown_lead(leads["ocean", "aluminium 7 L 207"]), "the likeliest stands first"
        assert "with aluminium 7 L 207" in title(app)
        for typed, cylinders in (("steel 12 l 300", "steel 12 L 300"), ("as in the kit", None)):
            await press(pilot, "C")
            await type_in(pilot, typed, "enter")
            assert lead(app) == shown_lead(leads["ocean", cylinders])
        assert not app.screen.document.is_dirty

        assert "30 m" in axis(app)
        await press(pilot, "A")
        words = axis(app).strip("└ ").replace("─", " ").split()
        assert words == ["220", "bar", "140", "bar", "gas", "left", "60", "bar"]
        await press(pilot, "A")
        assert "30 m" in axis(app)
        await press(pilot, "m")
        assert lead(app) == pytest.approx([value / 0.45359237 for value in own], abs=0.17)
        assert " ft " in details(app)
        assert " psi " in details(app)
        assert " kg" not in details(app)
        await press(pilot, "escape")
        assert app.screen.system is System.IMPERIAL


def title(app) -> str:
    """What is asked, over the lead."""
    return str(app.screen.query_one("#lead").border_title)


def axis(app) -> str:
    """What stands below the plot."""
    return str(app.screen.query_one(Plot).render()).splitlines()[-1]


async def test_a_cylinder_that_holds_its_reserve_and_no_more_is_drawn(opened, kits):
    """An axis of no length."""
    path = kits / "sidemount.toml"
    path.write_text(path.read_text().replace('"220 bar"', '"60 bar"'))
    async with opened("sidemount") as pilot:
        await press(pilot, "d", "A")
        assert "60 bar" in str(pilot.app.screen.query_one(Plot).render())


async def test_a_kit_without_a_cylinder_says_what_to_do(opened, pictured, kits):
    """And no key does any harm."""
    (kits / "bare.toml").write_text(NO_CYLINDER)
    async with opened("bare", LARGE, notifications=True) as pilot:
        app = pilot.app
        await press(pilot, "d")
        assert "a to add a cylinder" in words(app)
        await pilot.resize_terminal(*SMALL)
        await settle(pilot)
        await pictured(pilot, "")
        assert "a to add a cylinder" in words(app)
        await press(pilot, "C")
        assert isinstance(app.screen, BalanceScreen)
        assert "This kit has no cylinder to exchange" in told(app)
        await press(pilot, "1", "2", "3", "4", "A", "m", "0", "W")
        await type_in(pilot, "fresh", "enter", "o", "escape", "question_mark", "escape", "escape")
        assert isinstance(app.screen, Bench)
        await press(pilot, "a")
        await type_in(pilot, "steel 12 l 232 long", "enter", "left", "d")
        assert lead(app)[1] > 0


# --- a float check ----------------------------------------------------------------------------------------------------


async def test_a_float_check_more_than_halves_what_is_not_known(opened, kits):
    """Added from the balance, filled in with keys, saved; the command agrees; undo takes it back."""
    diver = kits / "diver.toml"
    original = diver.read_text()
    async with opened("twinset") as pilot:
        app = pilot.app
        await press(pilot, "d")
        needed, spread = lead(app)
        await press(pilot, "a", "enter")
        assert isinstance(app.screen, DiverScreen)
        assert app.screen.record.kit == "twinset.toml"
        await fill_in(pilot, "seen", "neutral")
        await fill_in(pilot, "pressure", "57 bar")
        await fill_in(pilot, "lead", "2 kg")
        check = app.screen.record
        assert (check.seen, check.pressure_pa, check.lead_kg) == ("neutral", pytest.approx(57e5), pytest.approx(2.0))
        assert "What it shows: floated " in screen_text(app)
        assert diver.read_text() == original
        await press(pilot, "ctrl+s")
        assert not app.screen.document.is_dirty
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app)[1] < spread / 2
        assert lead(app) == checked_lead(kits / "twinset.toml")
        assert "Based on 1 float check" in screen_text(app)
        assert "float check " in details(app)
        assert not app.screen.document.is_dirty
        await press(pilot, "e", "down")
        assert app.screen.record.lead_kg == pytest.approx(2.0)
        await press(pilot, "delete", "ctrl+s", "escape")
        assert lead(app) == (needed, spread)
    assert diver.read_text().startswith(original.rstrip()[:200])
    assert "57 bar" not in diver.read_text()


async def test_undo_on_the_diver_s_page_goes_back_edit_by_edit(opened, kits):
    """A check counts from the moment that it says what was seen: saved half filled in, it changes no figure."""
    original = (kits / "diver.toml").read_bytes()
    async with opened("twinset") as pilot:
        app = pilot.app
        await press(pilot, "d")
        before = lead(app)
        await press(pilot, "a", "enter")
        await fill_in(pilot, "seen", "neutral")
        await fill_in(pilot, "lead", "9 kg")
        await press(pilot, "enter")  # it contradicts all else, and is asked back
        assert app.screen.record.lead_kg == pytest.approx(9.0)
        await press(pilot, "ctrl+z")
        assert app.screen.record.lead_kg == pytest.approx(2.0)
        await press(pilot, "ctrl+z")
        assert app.screen.record.seen is None
        await press(pilot, "ctrl+z")
        assert app.screen.diver.items == ()
        assert not app.screen.document.is_dirty
        await press(pilot, "ctrl+y")
        assert len(app.screen.diver.items) == 1
        await press(pilot, "ctrl+z", "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app) == before
        assert (kits / "diver.toml").read_bytes() == original
        await press(pilot, "a", "enter", "ctrl+s", "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app) == before
        assert "not counted" in details(app)


REFUSED = (("pressure", "half"), ("pressure", "9 kg"), ("depth", "90 m"), ("lead", "-2 kg"), ("by", "two"))
"""Keys of a float check with values that they cannot have."""


async def test_what_is_typed_into_a_row(opened):
    """Letters are letters, not the keys of the diver's page; a refused value is explained and changes nothing."""
    async with opened("twinset") as pilot:
        await press(pilot, "d", "a", "enter")
        diver = pilot.app.screen
        await put_cursor_on_key(pilot, "tag")
        await press(pilot, "enter", *"sad mudxr, quay", "enter")
        assert diver.record.tag == "sad mudxr, quay"
        assert len(diver.diver.items) == 1
        before = diver.document.text
        await fill_in(pilot, *REFUSED[0])
        assert diver.query_one(Form).is_editing
        assert diver.query(".wrong")
        await press(pilot, "escape")
        assert diver.document.text == before
        for key, typed in REFUSED:
            [field] = [field for field in diver.fields if field.key == key]
            with pytest.raises(RefusedEdit):
                diver.document.preview(diver.item, key, value_of(field, typed))


# --- a diver file -----------------------------------------------------------------------------------------------------


async def test_a_kit_without_a_diver_takes_the_one_of_the_folder(opened, pictured, kits):
    """Its document names it then, unsaved; what was there before is asked about on the way out."""
    path = kits / "wrong-on-purpose.toml"
    original = path.read_bytes()
    async with opened("wrong-on-purpose") as pilot:
        app = pilot.app
        await press(pilot, "d")
        before = lead(app)
        await press(pilot, "e")
        assert isinstance(app.screen, Choose)
        await pictured(pilot, "")
        await press(pilot, "escape")
        assert not app.screen.document.is_dirty
        await press(pilot, "e")
        await type_in(pilot, "diver.toml", "enter")
        assert isinstance(app.screen, DiverScreen)
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert app.screen.document.is_dirty
        assert app.screen.kit.header.diver == "diver.toml"
        assert lead(app) != before
        await press(pilot, "escape", "escape")
        assert isinstance(app.screen, Ask)
        await press(pilot, "s", "enter")
    lines = path.read_text().splitlines()
    [line] = [line for line in lines if line.startswith("diver")]
    assert re.fullmatch(r'diver +?= "diver\.toml"', line)
    assert [other for other in lines if other != line] == original.decode().splitlines()


async def name_a_new_file(pilot: Pilot, kits: Path) -> None:
    """A diver file is written at once, so that a float check has a place; the kit names it, unsaved."""
    app = pilot.app
    assert isinstance(app.screen, TypeName)
    await type_in(pilot, "somebody.toml", "enter", "enter")
    assert isinstance(app.screen, DiverScreen)
    assert app.screen.document.path.name == "somebody.toml"
    assert [check.kit for check in app.screen.diver.items] == ["wrong-on-purpose.toml"]
    assert Document(kits / "somebody.toml", DIVER_FILE).reading.diver is not None
    await press(pilot, "ctrl+s", "escape")
    assert isinstance(app.screen, BalanceScreen)
    assert app.screen.kit.header.diver == "somebody.toml"
    assert app.screen.document.is_dirty
    await press(pilot, "escape", "ctrl+z")
    assert app.screen.kit.header.diver is None


async def test_a_kit_without_a_diver_makes_a_file(opened, kits):
    path = kits / "wrong-on-purpose.toml"
    original = path.read_bytes()
    async with opened("wrong-on-purpose") as pilot:
        await press(pilot, "d", "a")
        await type_in(pilot, "make", "enter")
        await name_a_new_file(pilot, kits)
    assert path.read_bytes() == original


async def test_a_folder_without_a_diver_asks_for_a_name_at_once(opened, pictured, kits, monkeypatch):
    """Bad names are refused one after the other; a folder that refuses the file says so; then it is made."""
    path = kits / "wrong-on-purpose.toml"
    original = path.read_bytes()
    (kits / "diver.toml").unlink()
    before = sorted(path.name for path in kits.iterdir())

    def refuse(*_arguments):
        raise PermissionError(13, "Permission denied")

    async with opened("wrong-on-purpose", notifications=True) as pilot:
        app = pilot.app
        await press(pilot, "d", "a")
        await pictured(pilot, "")
        for name in ("", "../up.toml", ".hidden.toml", "twinset.toml"):
            await type_in(pilot, name, "enter")
            assert isinstance(app.screen, TypeName)
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert not app.screen.document.is_dirty
        await press(pilot, "a")
        with monkeypatch.context() as patched:
            patched.setattr("kitbuilder.app.screens.diver_question.save_new", refuse)
            await press(pilot, "enter")
        assert isinstance(app.screen, BalanceScreen)
        assert "Permission denied" in screen_text(app)
        assert not app.screen.document.is_dirty
        assert sorted(path.name for path in kits.iterdir()) == before
        await press(pilot, "a")
        await name_a_new_file(pilot, kits)
    assert path.read_bytes() == original


def found_on(bench: Bench) -> str:
    """The findings of the bench in small letters, wherever their lines end."""
    return " ".join("\n".join(map(str, bench.query_one(Findings).rows)).split()).lower()


async def test_a_diver_file_that_cannot_be_used_is_told_and_nothing_is_lost(opened, pictured, kits):
    """Broken, empty or gone: the lead is that of a diver who is not told, and the file is not touched."""
    path = kits / "diver.toml"
    wrong = path.read_text().replace('"82 kg"', "82")
    path.write_text(wrong)
    async with opened("twinset", LARGE, notifications=True) as pilot:
        app, bench = pilot.app, pilot.app.screen
        assert "the diver file cannot be used" in found_on(bench)
        await press(pilot, "d")
        await pictured(pilot, "one value is wrong")
        for text in (wrong, 'format = 1\nholds = "diver"\nname = "x"\nmass = 82\n', "", "not toml", None):
            path.unlink() if text is None else path.write_text(text)
            app.clear_notifications()
            bench.show_all()
            assert "the diver file cannot be used" in found_on(bench)
            await press(pilot, "m", "m")
            assert "The diver file cannot be used: diver.toml" in screen_text(app)
            assert lead(app)[1] > 0
            await press(pilot, "a")
            if text is None:
                assert isinstance(app.screen, Ask)
                await pictured(pilot, "it is gone")
                await press(pilot, "escape")
            else:
                assert "The diver file cannot be read" in screen_text(app)
            assert isinstance(app.screen, BalanceScreen)
            assert not app.screen.document.is_dirty
            assert (path.read_text() if path.exists() else None) == text
        await press(pilot, "e", "m", "enter")
        assert isinstance(app.screen, DiverScreen), "one that is gone can be made anew"
        assert path.exists()
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert not app.screen.document.is_dirty


# --- leaving ----------------------------------------------------------------------------------------------------------


async def answer_both(pilot: Pilot, answers: str) -> None:
    """Quit from the diver's page, and answer what is asked: about the diver first, then about the kit."""
    await press(pilot, "ctrl+q")
    for file, answer in zip(("diver.toml", "twinset.toml"), answers, strict=False):
        assert isinstance(pilot.app.screen, Ask)
        assert f"{file}: these edits are not saved" in screen_text(pilot.app)
        await press(pilot, answer, "enter")


@pytest.mark.parametrize("answers", ["ss", "ds", "dd"])
async def test_quitting_asks_about_the_diver_and_about_the_kit(opened, kits, answers):
    """One after the other, each by the name of its file; to keep editing keeps the app, and edits still shown."""
    kit, diver = kits / "twinset.toml", kits / "diver.toml"
    original = kit.read_bytes(), diver.read_bytes()
    async with opened("twinset") as pilot:
        await press(pilot, "minus", "d", "a", "enter")
        for kept in ("k", "dk") if answers == "dd" else ():
            await answer_both(pilot, kept)
            assert isinstance(pilot.app.screen, DiverScreen)
            assert pilot.app.is_running
            assert journals_of(diver)
        await answer_both(pilot, answers)
        assert not pilot.app.is_running
    assert pilot.app.return_code == 0
    assert (diver.read_bytes() != original[1]) is (answers[0] == "s")
    assert (kit.read_bytes() != original[0]) is (answers[1] == "s")
    assert not journals_of(kit)
    assert not journals_of(diver)


async def test_keeping_the_kit_after_saving_the_diver_stays(opened, kits):
    """Then only the kit is asked about; dropped, it is as it was."""
    kit, diver = kits / "twinset.toml", kits / "diver.toml"
    original = kit.read_bytes(), diver.read_bytes()
    async with opened("twinset") as pilot:
        await press(pilot, "minus", "d", "a", "enter")
        await answer_both(pilot, "sk")
        assert pilot.app.is_running
        assert isinstance(pilot.app.screen, DiverScreen)
        assert not journals_of(diver)
        await press(pilot, "ctrl+q")
        assert "twinset.toml: these edits are not saved" in screen_text(pilot.app)
        await press(pilot, "d", "enter")
        assert not pilot.app.is_running
    assert pilot.app.return_code == 0
    assert (diver.read_bytes() != original[1], kit.read_bytes() != original[0]) == (True, False)
    assert not journals_of(kit)
    assert not journals_of(diver)


@pytest.mark.parametrize("answers", [["k", "escape", "d"], ["s"]])
async def test_leaving_the_diver_s_page_asks(opened, kits, answers):
    path = kits / "diver.toml"
    original = path.read_bytes()
    async with opened("twinset") as pilot:
        app = pilot.app
        await press(pilot, "d")
        before = lead(app)
        await press(pilot, "a", "enter")
        await fill_in(pilot, "seen", "neutral")
        for answer in answers:
            await press(pilot, "escape")
            assert isinstance(app.screen, Ask)
            await press(pilot, *([answer] if answer == "escape" else [answer, "enter"]))
            goes, changes = answer in "ds", answer == "s"
            assert isinstance(app.screen, BalanceScreen if goes else DiverScreen)
            assert (path.read_bytes() != original) is changes
            assert bool(journals_of(path)) is not goes
            if goes:
                assert (lead(app) != before) is changes
            else:
                assert app.screen.document.is_dirty


async def test_unsaved_edits_of_a_diver_file_are_offered_again(opened, kits):
    """When it is opened by itself, and when a float check is added from a balance."""
    path = kits / "diver.toml"
    document = Document(path, DIVER_FILE)
    document.set_value(None, "mass", "91 kg")
    del document
    async with opened("diver") as pilot:
        app = pilot.app
        assert isinstance(app.screen, Ask)
        assert "91 kg" in screen_text(app)
    async with opened("twinset") as pilot:
        app = pilot.app
        await press(pilot, "d", "a")
        assert isinstance(app.screen, Ask)
        await press(pilot, "t", "enter", "enter")
        assert isinstance(app.screen, DiverScreen)
        assert app.screen.diver.header.mass_kg == pytest.approx(91.0)
        assert len(app.screen.diver.items) == 1
        await press(pilot, "ctrl+s")
    assert 'mass       = "91 kg"' in path.read_text()
    assert not journals_of(path)


async def test_a_change_of_the_diver_file_by_another_program_is_never_overwritten_silently(opened, kits):
    path = kits / "diver.toml"
    async with opened("twinset") as pilot:
        app = pilot.app
        await press(pilot, "d", "a", "enter")
        theirs = path.read_text().replace('"82 kg"', '"84 kg"')
        path.write_text(theirs)
        await press(pilot, "ctrl+s")
        assert isinstance(app.screen, Ask)
        assert path.read_text() == theirs
        await press(pilot, "t", "enter")
        assert app.screen.diver.header.mass_kg == pytest.approx(84.0)


# --- the diver file by itself -----------------------------------------------------------------------------------------


async def test_a_diver_file_opens_on_the_diver_s_page(opened):
    """As `kitbuilder diver.toml` does; esc goes to the shelf, which leaves it out."""
    async with opened("diver") as pilot:
        app = pilot.app
        assert isinstance(app.screen, DiverScreen)
        await press(pilot, "a")
        assert isinstance(app.screen, Choose)
        await type_in(pilot, "sidemount", "enter")
        assert app.screen.record.kit == "sidemount.toml"
        await press(pilot, "ctrl+z", "escape")
        assert isinstance(app.screen, Shelf)
        assert "5 kits" in screen_text(app)
        books = app.screen.query_one("#books")
        assert books.option_count == len(KITS) + len(TRIPS)
        with pytest.raises(AssertionError):
            row_with(books, "diver")


async def test_a_diver_file_without_any_kit_beside_it(opened, kits):
    """There is nothing that was worn."""
    for name in KITS:
        (kits / f"{name}.toml").unlink()
    async with opened("diver", notifications=True) as pilot:
        app = pilot.app
        await press(pilot, "a")
        assert "This folder has no kit file" in told(app)
        assert not app.screen.document.is_dirty


async def test_a_broken_diver_file_is_explained_and_is_not_on_the_shelf(opened, kits):
    path = kits / "diver.toml"
    path.write_text(path.read_text().replace('"82 kg"', "82"))
    async with opened("diver") as pilot:
        app = pilot.app
        assert isinstance(app.screen, Problems)
        assert "82" in screen_text(app)
        await press(pilot, "escape")
        assert "5 kits" in screen_text(app)


async def test_text_of_a_diver_file_is_shown_and_never_obeyed(opened, kits):
    path = kits / "diver.toml"
    path.write_text(
        path.read_text().replace('"the diver of these kits"', f'"{HOSTILE}"')
        + f'\n[[float_check]]\ntag = "{HOSTILE}"\nkit = "twinset.toml"\nseen = "neutral"\nnotes = "{HOSTILE}"\n'
    )
    before = path.read_bytes()
    async with opened("twinset", LARGE, notifications=True) as pilot:
        app = pilot.app
        seen = []
        for keys in (["d"], ["o"], ["escape"], ["e"], ["down"], ["right"], ["end", "enter"], ["escape"], ["escape"]):
            await press(pilot, *keys)
            seen.append(screen_text(app))
        assert not any(sign in text for text in seen for sign in ("\x1b", "\u202e"))
        assert sum("[red]x[/red]" in text for text in seen) >= 3
    assert path.read_bytes() == before


# --- the mouse --------------------------------------------------------------------------------------------------------


async def test_the_keys_of_the_footer_work_with_the_mouse(opened):
    async with opened("sidemount", (100, 24)) as pilot:
        app = pilot.app
        await click_key(pilot, "Balance")
        assert isinstance(app.screen, BalanceScreen)
        own = lead(app)
        await click_key(pilot, "Water")
        choices = app.screen.query_one("#choices")
        await pilot.click(choices, offset=(6, row_with(choices, "fresh")))
        await settle(pilot)
        assert lead(app) != own
        await click_key(pilot, "Axis")
        assert "60 bar" in str(app.screen.query_one(Plot).render()).splitlines()[-1]
        await click_key(pilot, "Add")
        await press(pilot, "enter")
        assert isinstance(app.screen, DiverScreen)
        await click_key(pilot, "Undo")
        assert not app.screen.document.is_dirty
        await click_key(pilot, "Back")
        assert isinstance(app.screen, BalanceScreen)
        await click_key(pilot, "Back")
        assert isinstance(app.screen, Bench)


def test_the_shipped_diver_is_left_out_of_the_kits():
    """The folder the README opens has five kits, one diver, one stock, one gear file and two trips."""
    folder = Path(__file__).parents[2] / "configs"
    assert {path.stem for path in folder.glob("*.toml")} == {*KITS, "diver", "stock", "gear", "trip-reef", "trip-wreck"}
