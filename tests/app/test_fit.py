"""The fit: what it shows at every size, and what can be done there."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Choose, TextPage, TypeName
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.fit_screen import FitScreen, Hoses
from kitbuilder.app.screens.path import EditPath
from kitbuilder.app.widgets.body_panel import BodyPanel
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.kitfile.document import Document
from tests.app.conftest import LARGE, SMALL, TINY, press, put_cursor, row_with, screen_text, settle, told, type_in

LAYOUTS = ("cold-single", "twinset", "sidemount")
HUGE = (200, 50)
HOSTILE = "\\u001b[2J[red]x[/red] [@click=app.quit]y[/] \\u202edesrever"


async def open_fit(pilot: Pilot) -> FitScreen:
    await press(pilot, "t")
    assert isinstance(pilot.app.screen, FitScreen)
    return pilot.app.screen


def change(kits: Path, name: str, *changes: tuple[str, str]) -> None:
    """Replace passages of a shipped kit, each of which stands there."""
    path = kits / f"{name}.toml"
    text = path.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, "utf-8")


def name_stock(kits: Path, stock: str) -> None:
    """Let the lake single name a stock file."""
    change(kits, "cold-single", ("format      = 1", f'format      = 1\nstock       = "{stock}"'))


def rows_of(fit: FitScreen) -> list[str]:
    return [str(row) for row in fit.query_one(Hoses).rows]


def words_of(fit: FitScreen) -> str:
    """The advice for the hose under the cursor, in one line."""
    return " ".join(str(fit.query_one("#advice-lines").render()).split())


def title_of(fit: FitScreen) -> str:
    return str(fit.query_one("#advice").border_title)


# --- what it shows ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", LAYOUTS)
async def test_opening(opened, pictured, name):
    async with opened(name) as pilot:
        await open_fit(pilot)
        await pictured(pilot, "", SMALL, LARGE, HUGE)


async def test_dialogs_and_units(opened, pictured):
    """Nothing typed leaves all as it is: every question is gone through with enter alone."""
    async with opened("sidemount", LARGE) as pilot:
        fit = await open_fit(pilot)
        text = fit.document.text
        await press(pilot, "r")
        await pictured(pilot, "choosing a route")
        await press(pilot, "escape", "P", "down", "a")
        await type_in(pilot, "ribs")
        await pictured(pilot, "editing a path")
        await press(pilot, "escape", "escape", "m")
        await pictured(pilot, "imperial units")
        await press(pilot, "m", "down", "enter")
        asked = 0
        while isinstance(pilot.app.screen, TypeName):
            asked += 1
            await press(pilot, "enter")
        assert asked == 3
        assert fit.document.text == text


async def test_what_to_buy(opened, pictured, kits):
    change(
        kits, "twinset", ('length   = "75 cm"', 'length   = "56 cm"'), ("\nlayout ", '\nstock = "stock.toml"\nlayout ')
    )
    async with opened("twinset", LARGE) as pilot:
        await press(pilot, "t", "s")
        await pictured(pilot, "")


async def test_pictures_without_braille(opened, pictured):
    async with opened("twinset", LARGE, plain_pictures=True) as pilot:
        await press(pilot, "t")
        await pictured(pilot, "")


async def test_a_kit_without_hoses(opened, pictured, kits):
    """No key does any harm."""
    (kits / "bare.toml").write_text('format = 1\nname = "Bare"\nlayout = "single"\n')
    async with opened("bare") as pilot:
        fit = await open_fit(pilot)
        await pictured(pilot, "")
        await press(pilot, "enter", "ctrl+t", "plus", "minus", "r", "P", "delete", "ctrl+z", "ctrl+y", "m", "down")
        assert pilot.app.screen is fit
        assert not fit.document.is_dirty
        await press(pilot, "escape")
        assert isinstance(pilot.app.screen, Bench)


async def test_a_hose_without_a_route(opened, pictured, kits):
    (kits / "odd.toml").write_text(
        'format = 1\nname = "Odd"\nlayout = "twinset"\n\n'
        '[[hose]]\ntag = "hose"\nrole = "primary"\nbody = "rubber"\nlength = "75 cm"\n'
    )
    async with opened("odd") as pilot:
        await press(pilot, "t")
        await pictured(pilot, "")


# --- walking and measuring --------------------------------------------------------------------------------------------


async def test_walking_and_measuring(opened, pictured):
    """The cursor comes along from the bench; one string changes one hose; what is no length is refused."""
    async with opened("twinset") as pilot:
        await put_cursor(pilot, "#items", "gauge hose")
        await press(pilot, "ctrl+d")
        fit = await open_fit(pilot)
        assert fit.fitted.figures.hose.tag == "gauge hose 2"
        await press(pilot, "ctrl+z")
        assert fit.fitted.figures.hose.tag == "gauge hose", "the cursor stays within the hoses that are left"
        listing = fit.query_one(Listing)
        await pilot.click(listing, offset=(6, row_with(listing, "drysuit hose") + 1))
        assert fit.fitted.figures.hose.tag == "drysuit hose"

        await press(pilot, "home")
        text, drawn = fit.document.text, str(fit.query_one(BodyPanel).render())
        await press(pilot, "ctrl+t")
        assert "It has a length that fits already" in told(pilot.app)
        await press(pilot, "plus")
        assert "no stock length beyond" in told(pilot.app)
        await press(pilot, "enter")
        await pictured(pilot, "measuring")
        await press(pilot, *"75")
        assert str(pilot.app.screen.query_one("#said").render()).startswith("75 → 75 cm = ")
        await press(pilot, *"kg", "enter")
        assert isinstance(pilot.app.screen, TypeName)
        assert '"75kg" is a mass, not a length.' in screen_text(pilot.app)
        await press(pilot, "escape")
        assert fit.document.text == text

        await press(pilot, "down")
        assert fit.fitted.figures.hose.tag == "wing hose"
        assert "inflator from the right post" in title_of(fit)
        assert str(fit.query_one(BodyPanel).render()) != drawn
        before = rows_of(fit)
        await press(pilot, "down", "enter")
        await type_in(pilot, "30 in", "enter")
        assert "The run measured by string, " in screen_text(pilot.app), "so long is more likely a slip"
        assert fit.document.text == text
        await press(pilot, "enter")
        assert "necklace hose: longest free stretch" in screen_text(pilot.app), "the next question"
        await press(pilot, "escape")
        assert pilot.app.screen is fit
        assert 'run      = "30 in"' in fit.document.text
        after = rows_of(fit)
        assert after[2] != before[2]
        assert [*after[:2], *after[3:]] == [*before[:2], *before[3:]]
        assert "by string" in words_of(fit)


async def test_measuring_one_length_after_the_other(opened, pictured):
    """Esc stops, and what was taken before it stays taken: two edits, two undos."""
    async with opened("cold-single", LARGE) as pilot:
        fit = await open_fit(pilot)
        text = fit.document.text
        await press(pilot, "delete")
        assert "by landmarks" in words_of(fit)
        await press(pilot, "ctrl+z")
        assert fit.document.text == text
        await press(pilot, "ctrl+y")
        assert "by landmarks" in words_of(fit)
        await press(pilot, "ctrl+z")

        length_m = fit.fitted.figures.hose.length_m
        await press(pilot, "minus")
        assert fit.fitted.figures.hose.length_m < length_m
        await press(pilot, "plus")
        assert fit.fitted.figures.hose.length_m == pytest.approx(length_m, rel=0.016)
        await press(pilot, "ctrl+z", "ctrl+z")

        for number, fitted in enumerate(fit.plan.hoses):
            views = fit.query_one(BodyPanel)._picture.views
            bright = {hose.line.number for view in views for hose in view.hoses if hose.line.is_selected}
            assert bright == {fitted.figures.number}
            if number == 3:
                await pictured(pilot, "another hose")
            if number < 4:
                await press(pilot, "down")

        assert fit.fitted.figures.hose.tag == "gauge hose"
        await press(pilot, "enter")
        asked = []
        for typed in ("24.5 in", "24 in"):
            asked.append(pilot.app.screen._question)
            await type_in(pilot, typed, "enter")
        asked.append(pilot.app.screen._question)
        await type_in(pilot, "12 in", "escape")
        assert pilot.app.screen is fit
        assert asked == [
            "gauge hose: run, gauge in sight",
            "gauge hose: run at rest",
            "gauge hose: longest free stretch",
        ]
        hose = fit.fitted.figures.hose
        assert (hose.run_m, hose.rest_run_m, hose.span_m) == (
            pytest.approx(24.5 * 0.0254),
            pytest.approx(24 * 0.0254),
            pytest.approx(0.30),
        )
        assert '"24.5 in"' in fit.document.text
        await press(pilot, "ctrl+z", "ctrl+z")
        assert fit.document.text == text


# --- lengths to take --------------------------------------------------------------------------------------------------


async def test_taking_the_advised_length(opened, kits):
    """A wing hose 30 cm too long; 35 cm would lie close."""
    change(kits, "twinset", ('run      = "56 cm"', 'run      = "30 cm"'))
    async with opened("twinset") as pilot:
        fit = await open_fit(pilot)
        await press(pilot, "down")
        assert "buy" in rows_of(fit)[1]
        wanted = fit.fitted.advice.buy.length_m
        await press(pilot, "ctrl+t")
        assert fit.fitted.figures.hose.length_m == pytest.approx(wanted)
        assert "keep" in rows_of(fit)[1]
        await press(pilot, "ctrl+z")
        assert "buy" in rows_of(fit)[1]


async def test_taking_keeps_to_the_stock(opened, kits):
    """Of the shelf's own list of braided inflator hoses, 75 cm is the first that is longer than 66 cm."""
    change(kits, "cold-single", ('run      = "53 cm"', 'run      = "65 cm"'))
    name_stock(kits, "stock.toml")
    async with opened("cold-single") as pilot:
        fit = await open_fit(pilot)
        await press(pilot, "down", "down", "ctrl+t")
        assert fit.fitted.figures.hose.length_m == pytest.approx(0.75)


def fit_of(path: Path) -> FitScreen:
    """The screen with its plan, not shown."""
    return FitScreen(Document(path), None)


def test_a_stock_limits_the_advice(kits):
    """One broken row is told among the findings; the others are used."""
    (kits / "few.csv").write_text(
        "length,body,from_end,to_end,price\n"
        "90 cm,rubber,LP 3/8,second stage 9/16,30\n"
        "75 cmm,rubber,LP 3/8,second stage 9/16,25\n"
    )
    name_stock(kits, "few.csv")
    fit = fit_of(kits / "cold-single.toml")
    lengths = {
        round(option.length_m, 6)
        for fitted in fit.plan.hoses
        for option in (fitted.advice.buy, fitted.advice.shorter, fitted.advice.longer)
        if option
    }
    assert lengths == {0.9}
    [found] = [finding for finding in fit.plan.assessment.findings if finding.rule == "stock file"]
    assert "75 cmm" in str(found.what)


def test_a_stock_that_is_not_there_is_told_and_the_usual_lengths_are_used(kits):
    name_stock(kits, "gone.toml")
    fit = fit_of(kits / "cold-single.toml")
    [found] = [finding for finding in fit.plan.assessment.findings if finding.rule == "stock file"]
    assert "gone.toml is not in this folder" in str(found.what)
    assert fit.fitted.advice.longer.length_m == pytest.approx(1.8)


# --- routes and paths -------------------------------------------------------------------------------------------------


async def test_leading_a_hose_another_way(opened):
    """By another route, which is taken out again at the end of the list: the usual one is taken then."""
    async with opened("twinset") as pilot:
        fit = await open_fit(pilot)
        text, usual = fit.document.text, fit.fitted.figures.routed.route.name
        await press(pilot, "r")
        assert isinstance(pilot.app.screen, Choose)
        await type_in(pilot, "from the right post under", "enter")
        assert 'route    = "from the right post under the arm"' in fit.document.text
        assert "from the right post under the arm" in title_of(fit)
        await press(pilot, "ctrl+z")
        assert fit.document.text == text
        await press(pilot, "ctrl+y", "r")
        await type_in(pilot, "not given", "enter")
        assert fit.document.text == text
        assert fit.fitted.figures.routed.route.name == usual


async def test_a_path_of_its_own(opened):
    """Landmarks put in, moved, taken out; a route chosen later takes its place in one edit."""
    async with opened("twinset") as pilot:
        fit = await open_fit(pilot)
        text = fit.document.text
        await press(pilot, "P")
        editor = pilot.app.screen
        assert isinstance(editor, EditPath)
        usual = tuple(editor.path)
        await press(pilot, "a")
        await type_in(pilot, usual[0], "enter")
        said = str(editor.query_one("#said").render())
        assert "twice in a row" in said or "same" in said, "the file refuses the same landmark twice"
        await press(pilot, "ctrl+t")
        assert pilot.app.screen is editor
        await press(pilot, *["delete"] * 12)
        assert len(editor.path) == 2
        await press(pilot, "shift+up", "escape")
        assert pilot.app.screen is fit
        assert fit.document.text == text

        await press(pilot, "P", "a")
        editor = pilot.app.screen_stack[-2]
        await type_in(pilot, "left ribs", "enter")
        assert editor.path[1] == "left ribs"
        await press(pilot, "shift+down")
        assert editor.path[2] == "left ribs"
        await press(pilot, "shift+up", "delete")
        assert tuple(editor.path) == usual
        await press(pilot, "enter")
        await type_in(pilot, "right flank", "enter", "ctrl+t")
        assert pilot.app.screen is fit
        assert fit.fitted.figures.hose.path[1] == "right flank"
        with_path = fit.document.text
        await press(pilot, "r")
        await type_in(pilot, "round the hip", "enter")
        assert fit.fitted.figures.hose.path == ()
        await press(pilot, "ctrl+z")
        assert fit.document.text == with_path

        await press(pilot, "P")
        editor = pilot.app.screen
        editor.action_back()
        editor.action_back()
        await press(pilot, "down")
        assert pilot.app.screen is fit, "a second answer would close the fit below"


# --- the rest ---------------------------------------------------------------------------------------------------------


async def test_units_pages_and_the_way_back(opened, pictured):
    async with opened("twinset", LARGE) as pilot:
        fit = await open_fit(pilot)
        await press(pilot, "question_mark")
        await pictured(pilot, "keys")
        await press(pilot, "escape", "m")
        assert " 82.7 in  keep" in rows_of(fit)[0]
        await press(pilot, "m")
        for page in ("s", "o"):
            await press(pilot, page)
            assert isinstance(pilot.app.screen, TextPage)
            await press(pilot, "escape")
        await press(pilot, "minus", "escape")
        assert isinstance(pilot.app.screen, Bench)
        assert "not saved" in screen_text(pilot.app)
        assert pilot.app.screen.document is fit.document


async def test_the_diver_s_page_changes_what_landmarks_tell(opened, kits):
    """Without a diver file it is made on the way; a stature narrows the estimate."""
    change(kits, "twinset", ('diver  = "diver.toml"\n', ""))
    (kits / "diver.toml").unlink()
    async with opened("twinset") as pilot:
        fit = await open_fit(pilot)
        await press(pilot, "delete")
        wide = fit.fitted.advice.demanded.length.spread
        await press(pilot, "e", "enter")
        assert isinstance(pilot.app.screen, DiverScreen)
        await press(pilot, "enter", "enter")
        await type_in(pilot, "178 cm", "enter", "ctrl+s", "escape")
        assert pilot.app.screen is fit
        assert fit.fitted.advice.demanded.length.spread < wide


async def test_a_hostile_tag_is_shown_as_text(opened, kits):
    change(kits, "twinset", ('"long hose"\nrole', f'"{HOSTILE}"\nrole'))
    async with opened("twinset") as pilot:
        fit = await open_fit(pilot)
        for dialog in ("enter", "r", "P"):
            await press(pilot, dialog)
            assert "[red]x[/red]" in screen_text(pilot.app)
            assert "\x1b" not in screen_text(pilot.app)
            await press(pilot, "escape")
            assert pilot.app.screen is fit


async def test_every_dialog_survives_a_terminal_that_is_too_small(opened):
    async with opened("twinset", TINY) as pilot:
        fit = await open_fit(pilot)
        await press(pilot, "down", "enter", "escape", "r", "escape", "P", "a", "escape", "enter", "escape", "escape")
        await press(pilot, "s", "escape", "o", "escape", "question_mark", "escape", "m", "tab", "down")
        for size in ((1, 1), HUGE, SMALL):
            await pilot.resize_terminal(*size)
        await settle(pilot)
        assert pilot.app.screen is fit
        assert "drysuit hose" in screen_text(pilot.app)


async def test_taking_the_advice_for_a_hose_that_does_not_connect_changes_its_end(opened, kits):
    """A large-bore coupling on a standard nipple; its length is the advised one already."""
    change(kits, "twinset", ('to_end   = "standard nipple coupling"', 'to_end   = "large-bore nipple coupling"'))
    async with opened("twinset") as pilot:
        fit = await open_fit(pilot)
        await put_cursor(pilot, "#hoses", "wing hose")
        assert fit.fitted.joins is False
        await press(pilot, "ctrl+t")
        assert (fit.fitted.joins, fit.fitted.figures.hose.to_end) == (True, "standard nipple coupling")
