"""The fit: what it shows at every size, and what can be done there."""

from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Choose, Page, TypeName
from kitbuilder.app.screens.diver import DiverScreen
from kitbuilder.app.screens.fit import FitScreen, Hoses
from kitbuilder.app.screens.path import EditPath
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.standing import Standing
from tests.app.conftest import row_with, screen_text, settle

LAYOUTS = ("cold-single", "twinset", "sidemount")
SIZES = {"80x24": (80, 24), "120x40": (120, 40), "200x50": (200, 50)}


# --- what it shows ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES.values(), ids=SIZES)
@pytest.mark.parametrize("name", LAYOUTS)
async def test_opening(app_on, screen, name, size):
    app = app_on(name)
    async with app.run_test(size=size) as pilot:
        await open_fit(app, pilot)
        assert screen_text(app) == screen


async def test_another_hose(shown, screen):
    assert await shown("cold-single", "t", "down", "down", "down") == screen


async def test_measuring(shown, screen):
    assert await shown("twinset", "t", "enter") == screen


async def test_measuring_refuses_what_is_no_length(shown, screen):
    assert await shown("twinset", "t", "enter", *"75") == screen


async def test_choosing_a_route(shown, screen):
    assert await shown("sidemount", "t", "p") == screen


async def test_editing_a_path(shown, screen):
    assert await shown("sidemount", "t", "l", "down", "a", *"ribs") == screen


async def test_what_to_buy(shown, screen, kits):
    change(kits, "twinset", ('length   = "75 cm"', 'length   = "56 cm"'))
    name_stock(kits, "twinset", "stock.toml")
    assert await shown("twinset", "t", "y") == screen


async def test_every_key(shown, screen):
    assert await shown("twinset", "t", "question_mark") == screen


async def test_imperial_units(shown, screen):
    assert await shown("sidemount", "t", "m") == screen


async def test_pictures_without_braille(shown, screen):
    assert await shown("twinset", "t", plain_pictures=True) == screen


async def test_a_kit_without_hoses(shown, screen, kits):
    (kits / "bare.toml").write_text('format = 1\nname = "Bare"\nlayout = "single"\n')
    assert await shown("bare", "t") == screen


async def test_a_hose_without_a_route(shown, screen, kits):
    (kits / "odd.toml").write_text(
        'format = 1\nname = "Odd"\nlayout = "twinset"\n\n'
        '[[hose]]\ntag = "hose"\nrole = "primary"\nbody = "rubber"\nlength = "75 cm"\n'
    )
    assert await shown("odd", "t") == screen


# --- what can be done -------------------------------------------------------------------------------------------------


def change(kits: Path, name: str, *changes: tuple[str, str]) -> None:
    """A shipped kit with passages replaced, each of which stands there."""
    path = kits / f"{name}.toml"
    text = path.read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, "utf-8")


def name_stock(kits: Path, name: str, stock: str) -> None:
    """A shipped kit that names a stock file."""
    change(kits, name, ("\nlayout ", f'\nstock = "{stock}"\nlayout '))


async def open_fit(app: KitbuilderApp, pilot) -> FitScreen:
    await settle(pilot)
    await pilot.press("t")
    await settle(pilot)
    assert isinstance(app.screen, FitScreen)
    return app.screen


def rows_of(fit: FitScreen) -> list[str]:
    return [str(row) for row in fit.query_one(Hoses).rows]


def words_of(fit: FitScreen) -> str:
    """The advice for the hose under the cursor, in one line."""
    return " ".join(str(fit.query_one("#advice-lines").render()).split())


@pytest.fixture
def on_fit(app_on) -> Callable:
    """Runs a task on the fit of a kit."""

    async def run(name: str, task: Callable, size: tuple[int, int] = (80, 24)) -> None:
        app = app_on(name)
        async with app.run_test(size=size) as pilot:
            fit = await open_fit(app, pilot)

            async def press(*keys: str) -> None:
                await pilot.press(*keys)
                await settle(pilot)

            await task(fit, press)

    return run


async def test_the_cursor_is_on_the_hose_that_was_selected(app_on):
    app = app_on("twinset")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("down", "down")
        fit = await open_fit(app, pilot)
        assert fit.fitted.figures.hose.tag == "necklace hose"


async def test_arrows_walk_the_hoses_and_their_routes(on_fit):
    async def task(fit, press):
        before = str(fit.query_one(Standing).render())
        await press("down")
        assert fit.fitted.figures.hose.tag == "wing hose"
        assert "inflator from the right post" in str(fit.query_one("#advice").border_title)
        assert str(fit.query_one(Standing).render()) != before

    await on_fit("twinset", task)


async def test_one_string_changes_that_hose_only(on_fit):
    """Typed in inches, kept as typed; the next question is the same run at rest."""

    async def task(fit, press):
        before = rows_of(fit)
        await press("down", "down", "enter")
        assert isinstance(fit.app.screen, TypeName)
        await press(*"30 in", "enter")
        assert isinstance(fit.app.screen, TypeName)
        await press("escape")
        assert fit.app.screen is fit
        assert 'run      = "30 in"' in fit.document.text
        after = rows_of(fit)
        assert after[2] != before[2]
        assert [*after[:2], *after[3:]] == [*before[:2], *before[3:]]
        assert "by string" in words_of(fit)

    await on_fit("twinset", task)


async def test_what_is_no_length_is_refused_and_nothing_changes(on_fit):
    async def task(fit, press):
        text = fit.document.text
        await press("enter", *"75", "enter")
        assert isinstance(fit.app.screen, TypeName)
        assert "has no unit" in str(fit.app.screen.query_one("#said").render())
        await press("escape")
        assert fit.document.text == text

    await on_fit("twinset", task)


async def test_nothing_typed_leaves_it_as_it_is(on_fit):
    """Every question is gone through with enter alone."""

    async def task(fit, press):
        text = fit.document.text
        while_asked = 0
        await press("down", "enter")
        while isinstance(fit.app.screen, TypeName):
            while_asked += 1
            await press("enter")
        assert while_asked == 3
        assert fit.document.text == text

    await on_fit("sidemount", task)


async def test_clearing_the_string_is_one_edit(on_fit):
    async def task(fit, press):
        text = fit.document.text
        await press("x")
        assert "by landmarks" in words_of(fit)
        await press("u")
        assert fit.document.text == text
        await press("r")
        assert "by landmarks" in words_of(fit)

    await on_fit("cold-single", task)


async def test_taking_the_advised_length(on_fit, kits):
    """A wing hose 20 cm too long."""
    change(kits, "twinset", ('run      = "56 cm"', 'run      = "40 cm"'))

    async def task(fit, press):
        await press("down")
        assert "buy" in rows_of(fit)[1]
        wanted = fit.fitted.advice.buy.length_m
        await press("g")
        assert fit.fitted.figures.hose.length_m == pytest.approx(wanted)
        assert "keep" in rows_of(fit)[1]
        await press("u")
        assert "buy" in rows_of(fit)[1]

    await on_fit("twinset", task)


async def test_longer_and_shorter_step_through_the_stock_lengths(on_fit):
    async def task(fit, press):
        before = fit.fitted.figures.hose.length_m
        await press("minus")
        assert fit.fitted.figures.hose.length_m < before
        await press("plus")
        assert fit.fitted.figures.hose.length_m == pytest.approx(before, rel=0.016)

    await on_fit("cold-single", task)


async def test_leading_a_hose_another_way(on_fit):
    async def task(fit, press):
        text = fit.document.text
        await press("p")
        assert isinstance(fit.app.screen, Choose)
        await press(*"from the right post under", "enter")
        assert 'route    = "from the right post under the arm"' in fit.document.text
        assert "from the right post under the arm" in str(fit.query_one("#advice").border_title)
        await press("u")
        assert fit.document.text == text

    await on_fit("twinset", task)


async def test_a_path_of_its_own(on_fit):
    """Landmarks put in, moved, taken out; a route chosen later takes its place in one edit."""

    async def task(fit, press):
        await press("l")
        editor = fit.app.screen
        assert isinstance(editor, EditPath)
        usual = tuple(editor.path)
        await press("a", *"left ribs", "enter")
        assert editor.path[1] == "left ribs"
        await press("J")
        assert editor.path[2] == "left ribs"
        await press("K", "d")
        assert tuple(editor.path) == usual
        await press("enter", *"right flank", "enter", "s")
        assert fit.app.screen is fit
        assert fit.fitted.figures.hose.path[1] == "right flank"
        with_path = fit.document.text
        await press("p", *"round the hip", "enter")
        assert fit.fitted.figures.hose.path == ()
        await press("u")
        assert fit.document.text == with_path

    await on_fit("twinset", task)


async def test_a_path_that_the_file_refuses_is_not_taken(on_fit):
    """The same landmark twice in a row."""

    async def task(fit, press):
        text = fit.document.text
        await press("l", "a")
        first = fit.app.screen_stack[-2].path[0]
        await press(*first, "enter")
        said = str(fit.app.screen.query_one("#said").render())
        assert "twice in a row" in said or "same" in said
        await press("s")
        assert isinstance(fit.app.screen, EditPath)
        await press("escape")
        assert fit.document.text == text

    await on_fit("twinset", task)


async def test_a_stock_limits_the_advice(on_fit, kits):
    """One broken row is told among the findings; the others are used."""
    (kits / "few.csv").write_text(
        "length,body,from_end,to_end,price\n"
        "90 cm,rubber,LP 3/8,second stage 9/16,30\n"
        "75 cmm,rubber,LP 3/8,second stage 9/16,25\n"
    )
    name_stock(kits, "cold-single", "few.csv")

    async def task(fit, _press):
        lengths = {
            round(option.length_m, 6)
            for fitted in fit.plan.hoses
            for option in (fitted.advice.buy, fitted.advice.shorter, fitted.advice.longer)
            if option
        }
        assert lengths == {0.9}
        found = [finding for finding in fit.plan.assessment.findings if finding.rule == "stock file"]
        assert len(found) == 1
        assert "75 cmm" in str(found[0].what)

    await on_fit("cold-single", task)


async def test_units_pages_and_the_way_back(on_fit):
    async def task(fit, press):
        await press("m")
        assert "(in)" in str(fit.query_one(Hoses).border_title)
        await press("m")
        for page in ("y", "o", "question_mark"):
            await press(page)
            assert isinstance(fit.app.screen, Page)
            await press("escape")
        await press("minus", "escape")
        assert isinstance(fit.app.screen, Bench)
        assert "not saved" in screen_text(fit.app)
        assert fit.app.screen.document is fit.document

    await on_fit("twinset", task)


async def test_the_diver_s_page_changes_what_landmarks_tell(on_fit, kits):
    """Without a diver file it is made on the way; a stature narrows the estimate."""
    change(kits, "twinset", ('diver  = "diver.toml"\n', ""))
    (kits / "diver.toml").unlink()

    async def task(fit, press):
        await press("x")
        wide = fit.fitted.advice.demanded.length.spread
        await press("e", "enter")
        assert isinstance(fit.app.screen, DiverScreen)
        await press("enter", "enter", *"178 cm", "enter")
        await press("s", "escape")
        assert fit.app.screen is fit
        assert fit.fitted.advice.demanded.length.spread < wide

    await on_fit("twinset", task)


async def test_a_row_can_be_clicked(app_on):
    app = app_on("twinset")
    async with app.run_test(size=(80, 24)) as pilot:
        fit = await open_fit(app, pilot)
        listing = fit.query_one(Listing)
        await pilot.click(listing, offset=(6, row_with(listing, "drysuit hose") + 1))
        await settle(pilot)
        assert fit.fitted.figures.hose.tag == "drysuit hose"


async def test_the_route_of_the_hose_under_the_cursor_is_the_bright_one(on_fit):
    async def task(fit, press):
        for fitted in fit.plan.hoses:
            views = fit.query_one(Standing)._picture.views
            bright = {hose.line.number for view in views for hose in view.hoses if hose.line.is_selected}
            assert bright == {fitted.figures.number}
            await press("down")

    await on_fit("cold-single", task)


async def test_each_length_is_asked_for_after_the_one_before_and_esc_stops(on_fit):
    """What was taken before esc stays taken: two edits, two undos."""

    async def task(fit, press):
        text = fit.document.text
        asked = []
        await press(*["down"] * 4, "enter")
        for typed in ("24.5 in", "24 in"):
            asked.append(fit.app.screen._question)
            await press(*typed, "enter")
        asked.append(fit.app.screen._question)
        await press(*"12 in", "escape")
        assert fit.app.screen is fit
        assert asked == [
            "gauge hose: its run, gauge in sight",
            "gauge hose: the same at rest",
            "gauge hose: its longest free stretch",
        ]
        hose = fit.fitted.figures.hose
        assert (hose.run_m, hose.rest_run_m, hose.span_m) == (
            pytest.approx(24.5 * 0.0254),
            pytest.approx(24 * 0.0254),
            pytest.approx(0.30),
        )
        assert '"24.5 in"' in fit.document.text
        await press("u", "u")
        assert fit.document.text == text

    await on_fit("cold-single", task)


async def test_a_length_that_is_there_already_is_not_taken_twice(on_fit):
    async def task(fit, press):
        text = fit.document.text
        await press("g")
        assert fit.document.text == text
        assert "It has that length already" in told(fit)

    await on_fit("twinset", task)


async def test_the_ends_of_the_stock_lengths_are_told(on_fit):
    """A long hose of 210 cm is the longest to be had of rubber."""

    async def task(fit, press):
        text = fit.document.text
        await press("plus")
        assert fit.document.text == text
        assert "no stock length beyond" in told(fit)

    await on_fit("twinset", task)


async def test_taking_keeps_to_the_stock(on_fit, kits):
    """Of the shelf's own list of braided inflator hoses, 75 cm is the first that is longer than 66 cm."""
    change(kits, "cold-single", ('run      = "53 cm"', 'run      = "65 cm"'))
    name_aligned_stock(kits)

    async def task(fit, press):
        await press("down", "down", "g")
        assert fit.fitted.figures.hose.length_m == pytest.approx(0.75)

    await on_fit("cold-single", task)


async def test_a_stock_that_is_not_there_is_told_and_the_usual_lengths_are_used(on_fit, kits):
    name_aligned_stock(kits, "gone.toml")

    async def task(fit, _press):
        [found] = [finding for finding in fit.plan.assessment.findings if finding.rule == "stock file"]
        assert "gone.toml is not in this folder" in str(found.what)
        assert fit.fitted.advice.longer.length_m == pytest.approx(1.8)

    await on_fit("cold-single", task)


async def test_a_path_is_left_with_esc_and_keeps_two_landmarks(on_fit):
    async def task(fit, press):
        text = fit.document.text
        await press("l", *["d"] * 12)
        assert len(fit.app.screen.path) == 2
        await press("K", "escape")
        assert fit.app.screen is fit
        assert fit.document.text == text

    await on_fit("twinset", task)


async def test_a_route_is_taken_out_again(on_fit):
    """The last of the list; the usual route is taken then."""

    async def task(fit, press):
        text = fit.document.text
        usual = fit.fitted.figures.laid.route.name
        await press("p", *"from the right post under", "enter", "p", *"not said", "enter")
        assert fit.document.text == text
        assert fit.fitted.figures.laid.route.name == usual

    await on_fit("twinset", task)


async def test_a_hose_added_before_is_undone_here_too(app_on):
    """The cursor stays within the hoses that are left."""
    app = app_on("twinset")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press(*["down"] * 4, "c")
        fit = await open_fit(app, pilot)
        assert fit.fitted.figures.hose.tag == "gauge hose 2"
        await pilot.press("u")
        await settle(pilot)
        assert fit.fitted.figures.hose.tag == "gauge hose"
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, Bench)


async def test_a_hostile_tag_is_shown_as_text(on_fit, kits):
    hostile = "\\u001b[2J[red]x[/red] [@click=app.quit]y[/] \\u202edesrever"
    change(kits, "twinset", ('"long hose"\nrole', f'"{hostile}"\nrole'))

    async def task(fit, press):
        for dialog in ("enter", "p", "l"):
            await press(dialog)
            assert "[red]x[/red]" in screen_text(fit.app)
            assert "\x1b" not in screen_text(fit.app)
            await press("escape")
            assert fit.app.screen is fit

    await on_fit("twinset", task)


async def test_no_key_does_harm_in_a_kit_without_hoses(on_fit, kits):
    (kits / "bare.toml").write_text('format = 1\nname = "Bare"\nlayout = "single"\n')

    async def task(fit, press):
        await press("enter", "g", "plus", "minus", "p", "l", "x", "u", "r", "m", "down")
        assert fit.app.screen is fit
        assert not fit.document.is_dirty
        await press("escape")
        assert isinstance(fit.app.screen, Bench)

    await on_fit("bare", task)


async def test_every_dialog_survives_a_terminal_that_is_too_small(app_on):
    app = app_on("twinset")
    async with app.run_test(size=(20, 8)) as pilot:
        fit = await open_fit(app, pilot)
        keys = [
            "down",
            "enter",
            "escape",
            "p",
            "escape",
            "l",
            "a",
            "escape",
            "enter",
            "escape",
            "escape",
            "y",
            "escape",
        ]
        for key in [*keys, "o", "escape", "question_mark", "escape", "m", "tab", "down"]:
            await pilot.press(key)
            await settle(pilot)
        for size in ((1, 1), (200, 50), (80, 24)):
            await pilot.resize_terminal(*size)
            await settle(pilot)
        assert app.screen is fit
        assert "drysuit hose" in screen_text(app)


def told(fit: FitScreen) -> str:
    """Everything that was said in passing."""
    return " ".join(notification.message for notification in fit.app._notifications)


def name_aligned_stock(kits: Path, stock: str = "stock.toml") -> None:
    """The same as `name_stock` for the lake single, whose keys are aligned."""
    change(kits, "cold-single", ("format      = 1", f'format      = 1\nstock       = "{stock}"'))


async def test_a_path_is_answered_once_however_fast_the_keys_come(on_fit):
    """A second answer would close the fit below it."""

    async def task(fit, press):
        await press("l")
        editor = fit.app.screen
        editor.action_back()
        editor.action_back()
        await press("down")
        assert fit.app.screen is fit

    await on_fit("twinset", task)
