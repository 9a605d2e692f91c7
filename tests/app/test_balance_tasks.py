"""Whole tasks on the balance and on the diver's page: asking, switching, a float check, a diver file, leaving."""

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest
from textual.widgets import Static
from textual.widgets._footer import FooterKey

from kitbuilder.app.screens.balance import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Ask, Choose, Page, TypeName
from kitbuilder.app.screens.diver import DiverScreen
from kitbuilder.app.screens.problems import Problems
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.widgets.form import Form
from kitbuilder.app.widgets.plot import Plot
from kitbuilder.kit.files import DIVER_FILE
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.journal import journals_of
from kitbuilder.report.balance import lead_words, trim_rows
from kitbuilder.report.numbers import System
from tests.app.conftest import KITS, row_with, screen_text, settle

SIZE = (80, 24)
NUMBER = r"−?\d+\.\d"
NO_CYLINDER = 'format = 1\nname = "Bare"\nlayout = "single"\n'
HOSTILE = "\\u001b[2J[red]x[/red] [@click=app.quit]y[/] \\u202edesrever"


def lead(app) -> tuple[float, float]:
    """The lead on the balance and its spread, as they are read off the screen."""
    line = str(app.screen.query_one("#lead", Static).render()).splitlines()[0]
    found = re.match(rf"({NUMBER}) ± ({NUMBER}) (kg|lb)", line)
    assert found is not None, line
    return float(found[1].replace("−", "-")), float(found[2])


def details(app) -> str:
    """The table below the pictures, its runs of spaces made one."""
    return " ".join(str(app.screen.query_one("#detail-lines", Static).render()).split())


def command(*words) -> dict:
    """What the command says in JSON."""
    done = subprocess.run(
        [sys.executable, "-m", "kitbuilder", *map(str, words)], capture_output=True, text=True, check=False
    )
    return json.loads(done.stdout)


def shown_lead(figure: dict) -> tuple[float, float]:
    """A lead of the command, rounded as on the screen."""
    return pytest.approx((figure["value"], figure["spread"]), abs=0.05 + 1e-9)


def checked_lead(path: Path) -> tuple[float, float]:
    """The lead of a kit file, as `check` has it."""
    return shown_lead(command("check", "--json", path)[0]["balance"]["lead_needed_kg"])


def told(app) -> str:
    """Everything that was said in passing."""
    return " ".join(notification.message for notification in app._notifications)


async def press(pilot, *keys: str) -> None:
    await pilot.press(*keys)
    await settle(pilot)


async def go_to_row(pilot, key: str) -> None:
    """The cursor of the form to a key, with the arrows."""
    form = pilot.app.screen.query_one(Form)
    keys = [row.field.key for row in form.rows]
    by = keys.index(key) - keys.index(form.selected.field.key)
    await press(pilot, *(["down"] * by if by > 0 else ["up"] * -by))


async def fill_in(pilot, key: str, text: str) -> None:
    """A row of the form: typed over, or chosen by typing."""
    await go_to_row(pilot, key)
    await press(pilot, "enter")
    await press(pilot, *text, "enter")


async def click_key(pilot, name: str) -> None:
    [found] = [key for key in pilot.app.screen.query(FooterKey) if key.description == name]
    await pilot.click(found, offset=(1, 0))
    await settle(pilot)


# --- coming and going -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", KITS)
async def test_the_balance_opens_with_b_and_goes_back_with_esc(app_on, kits, name):
    """What it shows is what the command prints."""
    app = app_on(name)
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app) == checked_lead(kits / f"{name}.toml")
        await press(pilot, "escape")
        assert isinstance(app.screen, Bench)


async def test_an_edit_on_the_bench_shows_on_the_balance(app_on):
    """Two kilograms of lead more are carried, not needed."""
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app)
        assert "The kit carries 2.0 kg" in " ".join(screen_text(app).split())
        await press(pilot, "escape", "end", "right")
        await fill_in(pilot, "pieces", "4")
        await press(pilot, "left", "b")
        assert lead(app) == before
        assert "The kit carries 4.0 kg" in " ".join(screen_text(app).split())
        assert "not saved" in screen_text(app)


async def test_every_switch_and_dialog_of_the_balance_survives_a_terminal_that_is_too_small(app_on):
    app = app_on("twinset")
    async with app.run_test(size=(20, 8)) as pilot:
        await settle(pilot)
        await press(pilot, "b", "l", "f", "s", "d", "x", "m", "w", "escape", "c", "escape", "o", "escape")
        await press(pilot, "question_mark", "escape", "e", "right", "a")
        await pilot.resize_terminal(200, 50)
        await settle(pilot)
        assert isinstance(app.screen, DiverScreen)
        await pilot.resize_terminal(1, 1)
        await settle(pilot)
        await pilot.resize_terminal(120, 40)
        await settle(pilot)
        assert "How a float check is made" in screen_text(app)


# --- asking -----------------------------------------------------------------------------------------------------------


async def test_another_water_is_asked_for_by_typing_its_name(app_on, kits):
    """The lead is that of the command; the kit is as it was; esc, the kit's own water and 0 take it back."""
    answers = command("ballast", "--json", "--water", "ocean", "--water", "fresh", kits / "sidemount.toml")["answers"]
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        own = lead(app)
        assert own == shown_lead(answers[0]["lead_needed_kg"])
        await press(pilot, "w", "escape")
        assert lead(app) == own
        for take_back in (("w", *"ocean", "enter"), ("0",)):
            await press(pilot, "w")
            assert isinstance(app.screen, Choose)
            await press(pilot, *"fresh", "enter")
            fresh = next(answer for answer in answers if (answer["water"], answer["cylinders"]) == ("fresh", None))
            assert lead(app) == shown_lead(fresh["lead_needed_kg"])
            assert "fresh water" in screen_text(app).splitlines()[1]
            assert "in fresh water" in str(app.screen.query_one("#lead").border_title)
            await press(pilot, *take_back)
            assert lead(app) == own
            assert "in fresh water" not in str(app.screen.query_one("#lead").border_title)
        assert not app.screen.document.is_dirty


async def test_other_cylinders_are_asked_for(app_on, kits):
    """The likeliest stands first after the kit's own; the lead is that of the command."""
    words = ("--water", "ocean", "--cylinder", "aluminium 7 L 207", "--cylinder", "steel 12 L 300")
    answers = command("ballast", "--json", *words, kits / "sidemount.toml")["answers"]
    leads = {answer["cylinders"]: answer["lead_needed_kg"] for answer in answers}
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "c", "down", "enter")
        assert lead(app) == shown_lead(leads["aluminium 7 L 207"])
        assert "with aluminium 7 L 207" in str(app.screen.query_one("#lead").border_title)
        await press(pilot, "c", *"steel 12 l 300", "enter")
        assert lead(app) == shown_lead(leads["steel 12 L 300"])
        await press(pilot, "c", *"as in the kit", "enter")
        assert lead(app) == shown_lead(leads[None])
        assert not app.screen.document.is_dirty


@pytest.mark.parametrize(
    ("name", "key"),
    [("twinset", "l"), ("twinset", "f"), ("twinset", "s"), ("cold-single", "d"), ("sidemount", "f")],
)
async def test_each_switch_changes_the_figures_and_a_second_press_takes_it_back(app_on, name, key):
    app = app_on(name)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = screen_text(app)
        await press(pilot, key)
        assert screen_text(app) != before
        await press(pilot, key)
        assert screen_text(app) == before
        await press(pilot, key, "0")
        assert screen_text(app) == before


@pytest.mark.parametrize(("name", "key"), [("warm-single", "f"), ("twinset", "d"), ("sidemount", "s")])
async def test_a_switch_for_what_the_kit_has_not_says_so(app_on, name, key):
    app = app_on(name)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app), details(app)
        await press(pilot, key)
        assert "This kit has nothing for that" in told(app)
        assert (lead(app), details(app)) == before


async def test_the_axis_is_depth_or_gas(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        assert "30 m" in str(app.screen.query_one(Plot).render()).splitlines()[-1]
        await press(pilot, "x")
        assert str(app.screen.query_one(Plot).render()).splitlines()[-1].split() == [
            "220", "bar", "140", "bar", "60", "bar"
        ]  # fmt: skip
        await press(pilot, "x")
        assert "30 m" in str(app.screen.query_one(Plot).render()).splitlines()[-1]


async def test_a_cylinder_that_holds_its_reserve_and_no_more_is_drawn(app_on, kits):
    """An axis of no length."""
    path = kits / "sidemount.toml"
    path.write_text(path.read_text().replace('"220 bar"', '"60 bar"'))
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "x")
        assert "60 bar" in str(app.screen.query_one(Plot).render())


async def test_units_are_those_of_all_screens(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        metric = lead(app)
        await press(pilot, "m")
        assert lead(app) == pytest.approx([value / 0.45359237 for value in metric], abs=0.17)
        assert " ft " in details(app)
        assert " psi " in details(app)
        assert " kg" not in details(app)
        await press(pilot, "escape")
        assert app.screen.system is System.IMPERIAL


@pytest.mark.parametrize("name", KITS)
async def test_the_words_of_the_trim_are_shown_whole(app_on, name):
    """Nothing is cut off below the picture where there is room for words."""
    for system in System:
        app = app_on(name, system=system)
        async with app.run_test(size=(120, 40)) as pilot:
            await settle(pilot)
            await press(pilot, "b")
            pane = app.screen.query_one("#trim")
            lines = str(pane.render()).splitlines()
            assert len(lines) <= pane.size.height
            assert max(map(len, lines)) <= pane.size.width
            shown = " ".join(" ".join(lines).split())
            found = app.screen._asked_balance()
            for label, value in trim_rows(found, system):
                assert f"{label} {value}" in shown
            assert lead_words(found, system) in screen_text(app)


async def test_origins_tell_what_the_lead_is_made_of(app_on):
    """The largest part of its spread by name, and how far to trust it."""
    app = app_on("twinset")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        needed = str(app.screen.query_one("#lead", Static).render()).split("   ")[0]
        await press(pilot, "o")
        assert isinstance(app.screen, Page)
        shown = " ".join(screen_text(app).split())
        assert f"Lead {needed}: " in shown
        assert "steel 12 L 232 long" in shown
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)


@pytest.mark.parametrize("size", [SIZE, (120, 40)])
async def test_a_kit_without_a_cylinder_says_what_to_do(app_on, kits, size):
    """And no key does any harm."""
    (kits / "bare.toml").write_text(NO_CYLINDER)
    app = app_on("bare")
    async with app.run_test(size=size, notifications=True) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        assert "add a cylinder with a" in " ".join(screen_text(app).split())
        await press(pilot, "c")
        assert isinstance(app.screen, BalanceScreen)
        assert "There is no cylinder to put others in place of" in told(app)
        await press(pilot, "l", "f", "d", "s", "x", "m", "0", "w", *"fresh", "enter", "o", "escape", "question_mark")
        await press(pilot, "escape", "escape")
        assert isinstance(app.screen, Bench)
        await press(pilot, "a", *"cylinder", "enter", *"steel 12 l 232 long", "enter", "left", "b")
        assert lead(app)[1] > 0


# --- a float check ----------------------------------------------------------------------------------------------------


async def test_a_float_check_more_than_halves_what_is_not_known(app_on, kits):
    """Added from the balance, filled in with keys, saved; the command agrees; undo takes it back."""
    diver = kits / "diver.toml"
    original = diver.read_text()
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        needed, spread = lead(app)
        await press(pilot, "a")
        assert isinstance(app.screen, DiverScreen)
        assert app.screen.record.kit == "twinset.toml"
        await fill_in(pilot, "seen", "neutral")
        await fill_in(pilot, "pressure", "57 bar")
        await fill_in(pilot, "lead", "2 kg")
        check = app.screen.record
        assert (check.seen, check.pressure_pa, check.lead_kg) == ("neutral", pytest.approx(57e5), pytest.approx(2.0))
        assert "What it tells: floated " in screen_text(app)
        assert diver.read_text() == original
        await press(pilot, "s")
        assert not app.screen.document.is_dirty
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app)[1] < spread / 2
        assert lead(app) == checked_lead(kits / "twinset.toml")
        assert "From 1 float check" in screen_text(app)
        assert "float check " in details(app)
        assert not app.screen.document.is_dirty
        await press(pilot, "e", "down")
        assert app.screen.record.lead_kg == pytest.approx(2.0)
        await press(pilot, "d", "s", "escape")
        assert lead(app) == (needed, spread)
    assert diver.read_text().startswith(original.rstrip()[:200])
    assert "57 bar" not in diver.read_text()


async def test_a_float_check_counts_from_the_moment_it_says_what_was_seen(app_on):
    """A new one that is saved half filled in changes no figure."""
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app)
        await press(pilot, "a", "s", "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app) == before
        assert "not counted" in details(app)


async def test_undo_on_the_diver_s_page_goes_back_edit_by_edit(app_on, kits):
    original = (kits / "diver.toml").read_bytes()
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app)
        await press(pilot, "a")
        await fill_in(pilot, "seen", "neutral")
        await fill_in(pilot, "lead", "9 kg")
        await press(pilot, "u")
        assert app.screen.record.lead_kg == pytest.approx(2.0)
        await press(pilot, "u")
        assert app.screen.record.seen is None
        await press(pilot, "u")
        assert app.screen.diver.things == ()
        assert not app.screen.document.is_dirty
        await press(pilot, "r")
        assert len(app.screen.diver.things) == 1
        await press(pilot, "u", "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app) == before
    assert (kits / "diver.toml").read_bytes() == original


async def test_letters_typed_into_a_row_are_letters(app_on):
    """Not the keys of the diver's page."""
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        await fill_in(pilot, "tag", "sad mudxr, quay")
        assert app.screen.record.tag == "sad mudxr, quay"
        assert len(app.screen.diver.things) == 1


@pytest.mark.parametrize(
    ("key", "typed"), [("pressure", "55"), ("pressure", "9 kg"), ("depth", "90 m"), ("lead", "-2 kg"), ("by", "two")]
)
async def test_a_refused_value_of_a_float_check_is_explained_and_changes_nothing(app_on, key, typed):
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        before = app.screen.document.text
        await fill_in(pilot, key, typed)
        assert app.screen.query_one(Form).is_editing
        assert app.screen.query(".wrong")
        await press(pilot, "escape")
        assert app.screen.document.text == before


async def test_the_body_of_the_diver_changes_the_lead(app_on):
    """Stature and mass are typed on the diver's page."""
    app = app_on("sidemount")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app)
        await press(pilot, "e", "right")
        await fill_in(pilot, "mass", "120 kg")
        await press(pilot, "s", "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert lead(app) != before


# --- a diver file -----------------------------------------------------------------------------------------------------


async def test_a_kit_without_a_diver_takes_the_one_of_the_folder(app_on, kits):
    """Its document names it then, unsaved; what was there before is asked about on the way out."""
    path = kits / "wrong-on-purpose.toml"
    original = path.read_bytes()
    app = app_on("wrong-on-purpose")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app)
        await press(pilot, "e")
        assert isinstance(app.screen, Choose)
        await press(pilot, "escape")
        assert not app.screen.document.is_dirty
        await press(pilot, "e", *"diver.toml", "enter")
        assert isinstance(app.screen, DiverScreen)
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert app.screen.document.is_dirty
        assert app.screen.kit.header.diver == "diver.toml"
        assert lead(app) != before
        await press(pilot, "escape", "escape")
        assert isinstance(app.screen, Ask)
        await press(pilot, "s")
    lines = path.read_text().splitlines()
    [line] = [line for line in lines if line.startswith("diver")]
    assert re.fullmatch(r'diver +?= "diver\.toml"', line)
    assert [other for other in lines if other != line] == original.decode().splitlines()


@pytest.mark.parametrize("there", [True, False])
async def test_a_kit_without_a_diver_makes_a_file(app_on, kits, there):
    """Asked for its name; written at once, so that a float check has a place; the kit names it, unsaved."""
    path = kits / "wrong-on-purpose.toml"
    original = path.read_bytes()
    if not there:
        (kits / "diver.toml").unlink()
    app = app_on("wrong-on-purpose")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        if there:
            await press(pilot, *"make", "enter")
        assert isinstance(app.screen, TypeName)
        await press(pilot, *"somebody.toml", "enter")
        assert isinstance(app.screen, DiverScreen)
        assert app.screen.document.path.name == "somebody.toml"
        assert [check.kit for check in app.screen.diver.things] == ["wrong-on-purpose.toml"]
        assert Document(kits / "somebody.toml", DIVER_FILE).reading.diver is not None
        await press(pilot, "s", "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert app.screen.kit.header.diver == "somebody.toml"
        assert app.screen.document.is_dirty
        await press(pilot, "escape", "u")
        assert app.screen.kit.header.diver is None
    assert path.read_bytes() == original


@pytest.mark.parametrize("name", ["", "../up.toml", ".hidden.toml", "twinset.toml"])
async def test_a_bad_name_for_a_diver_file_is_refused(app_on, kits, name):
    (kits / "diver.toml").unlink()
    before = sorted(path.name for path in kits.iterdir())
    app = app_on("wrong-on-purpose")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        app.screen.query_one("Input").value = name
        await press(pilot, "enter")
        assert isinstance(app.screen, TypeName)
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert not app.screen.document.is_dirty
    assert sorted(path.name for path in kits.iterdir()) == before


@pytest.mark.parametrize("text", ['format = 1\nholds = "diver"\nname = "x"\nmass = 82\n', "", "not toml", None])
async def test_a_diver_file_that_cannot_be_used_is_told_and_nothing_is_lost(app_on, kits, text):
    """Broken, empty or gone: the lead is that of a diver who is not told, and the file is not touched."""
    path = kits / "diver.toml"
    path.unlink() if text is None else path.write_text(text)
    app = app_on("twinset")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        assert "the diver file cannot be used" in " ".join(screen_text(app).split()).lower()
        await press(pilot, "b")
        assert "The diver file cannot be used: diver.toml" in screen_text(app)
        assert lead(app)[1] > 0
        await press(pilot, "a")
        if text is None:
            assert isinstance(app.screen, Ask)
            await press(pilot, "escape")
        else:
            assert "The diver file cannot be read" in screen_text(app)
        assert isinstance(app.screen, BalanceScreen)
        assert not app.screen.document.is_dirty
    assert (path.read_text() if path.exists() else None) == text


async def test_a_diver_file_that_is_gone_can_be_made_anew(app_on, kits):
    (kits / "diver.toml").unlink()
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "e", "m")
        assert isinstance(app.screen, DiverScreen)
        assert (kits / "diver.toml").exists()
        await press(pilot, "escape")
        assert isinstance(app.screen, BalanceScreen)
        assert not app.screen.document.is_dirty


async def test_a_folder_that_refuses_a_diver_file_says_so(app_on, kits, monkeypatch):
    (kits / "diver.toml").unlink()

    def refuse(*_arguments):
        raise PermissionError(13, "Permission denied")

    app = app_on("wrong-on-purpose")
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        monkeypatch.setattr("kitbuilder.app.screens.diver_question.save_text", refuse)
        await press(pilot, "enter")
        assert isinstance(app.screen, BalanceScreen)
        assert "Permission denied" in screen_text(app)
        assert not app.screen.document.is_dirty


# --- leaving ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("answers", ["ss", "sd", "ds", "dd", "k", "sk", "dk"])
async def test_quitting_asks_about_the_diver_and_about_the_kit(app_on, kits, answers):
    """One after the other, each by the name of its file; to keep editing keeps the app."""
    kit, diver = kits / "twinset.toml", kits / "diver.toml"
    original = kit.read_bytes(), diver.read_bytes()
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "minus", "b", "a")
        await fill_in(pilot, "seen", "neutral")
        await press(pilot, "ctrl+q")
        for file, answer in zip(("diver.toml", "twinset.toml"), answers, strict=False):
            assert isinstance(app.screen, Ask)
            assert f"{file}: " in screen_text(app)
            await press(pilot, answer)
        stays = "k" in answers
        assert app.is_running is stays
        if stays:
            assert isinstance(app.screen, DiverScreen)
            assert bool(journals_of(diver)) is (answers[0] != "s"), "edits that are still shown are still kept"
    if not stays:
        assert app.return_code == 0
        assert (diver.read_bytes() != original[1]) is (answers[0] == "s")
        assert (kit.read_bytes() != original[0]) is (answers[1] == "s")
        assert not journals_of(kit)
        assert not journals_of(diver)


@pytest.mark.parametrize(
    ("answer", "goes", "changes"),
    [("k", False, False), ("escape", False, False), ("d", True, False), ("s", True, True)],
)
async def test_leaving_the_diver_s_page_asks(app_on, kits, answer, goes, changes):
    path = kits / "diver.toml"
    original = path.read_bytes()
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b")
        before = lead(app)
        await press(pilot, "a")
        await fill_in(pilot, "seen", "neutral")
        await press(pilot, "escape")
        assert isinstance(app.screen, Ask)
        await press(pilot, answer)
        assert isinstance(app.screen, BalanceScreen if goes else DiverScreen)
        assert (path.read_bytes() != original) is changes
        assert bool(journals_of(path)) is not goes
        if goes:
            assert (lead(app) != before) is changes
        else:
            assert app.screen.document.is_dirty


async def test_unsaved_edits_of_a_diver_file_are_offered_again(app_on, kits):
    """When it is opened by itself, and when a float check is added from a balance."""
    path = kits / "diver.toml"
    document = Document(path, DIVER_FILE)
    document.set_value(None, "mass", "91 kg")
    del document
    app = app_on("diver")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Ask)
        assert "91 kg" in screen_text(app)
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        assert isinstance(app.screen, Ask)
        await press(pilot, "t")
        assert isinstance(app.screen, DiverScreen)
        assert app.screen.diver.header.mass_kg == pytest.approx(91.0)
        assert len(app.screen.diver.things) == 1
        await press(pilot, "s")
    assert 'mass       = "91 kg"' in path.read_text()
    assert not journals_of(path)


async def test_a_change_of_the_diver_file_by_another_program_is_never_overwritten_silently(app_on, kits):
    path = kits / "diver.toml"
    app = app_on("twinset")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        await press(pilot, "b", "a")
        theirs = path.read_text().replace('"82 kg"', '"84 kg"')
        path.write_text(theirs)
        await press(pilot, "s")
        assert isinstance(app.screen, Ask)
        assert path.read_text() == theirs
        await press(pilot, "t")
        assert app.screen.diver.header.mass_kg == pytest.approx(84.0)


# --- the diver file by itself -----------------------------------------------------------------------------------------


async def test_a_diver_file_opens_on_the_diver_s_page(app_on):
    """As `kitbuilder diver.toml` does; esc goes to the shelf, which leaves it out."""
    app = app_on("diver")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, DiverScreen)
        await press(pilot, "a")
        assert isinstance(app.screen, Choose)
        await press(pilot, *"sidemount", "enter")
        assert app.screen.record.kit == "sidemount.toml"
        await press(pilot, "u", "escape")
        assert isinstance(app.screen, Shelf)
        assert "5 kits" in screen_text(app)
        books = app.screen.query_one("#books")
        assert books.option_count == len(KITS)
        with pytest.raises(AssertionError):
            row_with(books, "diver")


async def test_a_diver_file_without_any_kit_beside_it(app_on, kits):
    """There is nothing that was worn."""
    for name in KITS:
        (kits / f"{name}.toml").unlink()
    app = app_on("diver")
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await settle(pilot)
        await press(pilot, "a")
        assert "There is no kit in this folder that was worn" in told(app)
        assert not app.screen.document.is_dirty


async def test_a_broken_diver_file_is_explained_and_is_not_on_the_shelf(app_on, kits):
    path = kits / "diver.toml"
    path.write_text(path.read_text().replace('"82 kg"', "82"))
    app = app_on("diver")
    async with app.run_test(size=SIZE) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, Problems)
        assert "82" in screen_text(app)
        await press(pilot, "escape")
        assert "5 kits" in screen_text(app)


async def test_text_of_a_diver_file_is_shown_and_never_obeyed(app_on, kits):
    path = kits / "diver.toml"
    path.write_text(
        path.read_text().replace('"the diver of these kits"', f'"{HOSTILE}"')
        + f'\n[[float_check]]\ntag = "{HOSTILE}"\nkit = "twinset.toml"\nseen = "neutral"\nnotes = "{HOSTILE}"\n'
    )
    before = path.read_bytes()
    app = app_on("twinset")
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await settle(pilot)
        seen = []
        for keys in (["b"], ["o"], ["escape"], ["e"], ["down"], ["right"], ["end", "enter"], ["escape"], ["escape"]):
            await press(pilot, *keys)
            seen.append(screen_text(app))
        assert not any(sign in text for text in seen for sign in ("\x1b", "\u202e"))
        assert sum("[red]x[/red]" in text for text in seen) >= 3
    assert path.read_bytes() == before


# --- the mouse --------------------------------------------------------------------------------------------------------


async def test_the_keys_of_the_footer_work_with_the_mouse(app_on):
    app = app_on("sidemount")
    async with app.run_test(size=(100, 24)) as pilot:
        await settle(pilot)
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
        await click_key(pilot, "Float check")
        assert isinstance(app.screen, DiverScreen)
        await click_key(pilot, "Undo")
        assert not app.screen.document.is_dirty
        await click_key(pilot, "Back")
        assert isinstance(app.screen, BalanceScreen)
        await click_key(pilot, "Bench")
        assert isinstance(app.screen, Bench)


def test_the_shipped_diver_is_left_out_of_the_kits():
    """The folder the README opens has five kits, one diver, one stock and one locker."""
    folder = Path(__file__).parents[2] / "configs"
    assert {path.stem for path in folder.glob("*.toml")} == {*KITS, "diver", "stock", "locker"}
