"""Every action has one meaning, one name and the same keys on all screens, and stands in help page and palette."""

import re

import pytest
from textual.app import App
from textual.binding import Binding

from kitbuilder.app.keys import bindings_of
from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.changeover_screen import ChangeoverScreen
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.screens.fewest_screen import FewestScreen
from kitbuilder.app.screens.fit_screen import FitScreen
from kitbuilder.app.screens.gear_screen import GearScreen
from kitbuilder.app.screens.losses_screen import LossesScreen
from kitbuilder.app.screens.pair_screen import PairScreen
from kitbuilder.app.screens.path import EditPath
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.screens.side_by_side_screen import SideBySideScreen
from kitbuilder.app.screens.swaps_screen import SwapsScreen
from kitbuilder.app.screens.take_along import SparesScreen
from kitbuilder.app.screens.tour import Tour
from kitbuilder.app.screens.trip_screen import TripScreen
from kitbuilder.app.screens.weigh_in_screen import WeighInScreen
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.commands import all_commands
from kitbuilder.report.actions import ACTIONS, Action
from tests.app.conftest import click_key, press, screen_text, settle

SCREENS = (
    BalanceScreen,
    Bench,
    SideBySideScreen,
    WeighInScreen,
    ChangeoverScreen,
    DiverScreen,
    FewestScreen,
    FitScreen,
    GearScreen,
    LossesScreen,
    PairScreen,
    Problems,
    Shelf,
    SparesScreen,
    SwapsScreen,
    TripScreen,
)


LOOKING = {
    *("keys", "menu", "units", "origins", "reload", "quit", "explain", "sort"),
    *("side_by_side", "changeover", "fewest", "gear", "balance", "fit", "losses", "weigh_in", "diver", "changes"),
    *("swaps", "card", "spares", "try_out", "as_it_is"),
    *("water", "cylinders", "axis", "hide_equal", "swap", "order", "any_body", "source"),
    *("to_buy", "supplies", "parts", "open_other", "copy", "pair"),
}
"""Actions that open a screen or a page, or change what is shown."""
ASKING = {
    *(
        "demo",
        "new",
        "new_trip",
        "into_bag",
        "add",
        "rename",
        "save_as",
        "measure",
        "route",
        "path",
        "day",
        "begin_again",
        "export",
        "document",
    ),
}
"""Actions that open a dialog; what it does needs enter."""


def keys(action: Action) -> list[str]:
    return action.keys.split(",")


def test_a_key_means_one_thing_on_all_screens():
    every = [key for action in ACTIONS.values() for key in keys(action)]
    assert sorted(every) == sorted(set(every))


def test_an_action_has_a_name_of_its_own_and_a_sentence():
    names = [action.name for action in ACTIONS.values()]
    assert sorted(names) == sorted(set(names))
    for name, action in ACTIONS.items():
        assert name == action.id
        assert re.fullmatch(r"[a-z_]+", name)
        assert re.fullmatch(r"[A-Z].+\.", action.sentence)


def test_letters_look_and_go():
    """A word typed into a list, by whoever takes it for a search, never edits."""
    lettered = {
        name for name, action in ACTIONS.items() if any(len(key) == 1 and key.isalpha() for key in keys(action))
    }
    assert lettered <= LOOKING | ASKING
    assert not any(ACTIONS[name].edits for name in lettered)


@pytest.mark.parametrize("screen", SCREENS)
def test_a_screen_offers_actions_of_the_table(screen):
    """Footer, help and palette have nothing else, so a key cannot mean another thing on one screen."""
    for binding in screen.BINDINGS:
        action = ACTIONS[binding.id]
        assert (binding.key, binding.description, binding.tooltip) == (action.keys, action.name, action.sentence)
        assert binding.action == (action.call or action.id)


@pytest.mark.parametrize("screen", SCREENS)
def test_every_screen_offers_what_is_common_to_all(screen):
    offered = {binding.id for binding in screen.BINDINGS}
    assert {"menu", "keys", "units", "quit"} <= offered
    assert ("document" in offered) is bool({"export", "copy"} & offered), "what can be copied can be written"
    assert "back" in offered or screen is Shelf
    assert {"undo", "redo"} <= offered or not issubclass(screen, Editing)


def test_every_action_is_offered_somewhere():
    offered = {
        binding.id for screen in (*SCREENS, EditPath, Listing) for binding in Binding.make_bindings(screen.BINDINGS)
    }
    assert set(ACTIONS) <= offered


@pytest.mark.parametrize("screen", SCREENS)
def test_the_footer_fits_a_small_terminal(screen):
    """Keys cut off at the edge are keys nobody knows; the first hint is the list's own."""
    shown = [binding for binding in screen.BINDINGS if binding.show]
    app = App()
    width = sum(len(f"{app.get_key_display(binding)} {binding.description} ") for binding in shown)
    assert width + len("⏎ Open ") <= 80


async def test_every_action_of_a_screen_is_reached_by_key_palette_and_mouse(opened):
    """The mouse opens the palette from the footer, and chooses in it."""
    async with opened("sidemount", notifications=True) as pilot:
        app, bench = pilot.app, pilot.app.screen
        named = {command.title for command in app.get_system_commands(app.screen)}
        assert {ACTIONS[binding.id].name for binding in Bench.BINDINGS} <= named
        document = app.screen.document
        before = document.text
        # Each letter by itself, so that it is typed into the list and not into what the one before it has opened.
        for letter in sorted(set("necklace hose torch wing fins") - {" "}):
            await pilot.press(letter)
            while app.screen is not bench:
                await pilot.press("escape")
        assert document.text == before
        await click_key(pilot, "Menu")
        assert type(app.screen).__name__ == "CommandPalette"
        await press(pilot, "escape", "colon")
        assert type(app.screen).__name__ == "CommandPalette"


async def test_the_palette_does_what_a_key_does(opened):
    async with opened("sidemount") as pilot:
        app = pilot.app
        await press(pilot, "ctrl+p")
        await press(pilot, *"shorter")
        await pilot.pause(0.5)
        await pilot.press("enter", "enter")
        await pilot.pause(0.5)
        await settle(pilot)
        assert isinstance(app.screen, Bench)
        assert app.screen.document.is_dirty
        assert '"180 cm"' in app.screen.document.text


async def test_the_palette_lists_the_commands_of_the_command_line(opened):
    """With the summary that help and README have; choosing one shows its help page."""
    async with opened("sidemount") as pilot:
        app = pilot.app
        commands = [*app.get_system_commands(app.screen)]
        listed = {command.title: command for command in commands}
        assert len(listed) == len(commands), "nothing stands there twice"
        ours = {ACTIONS[binding.id].name for binding in bindings_of(app.screen)}
        rest = {title for title in listed if title not in ours and not title.startswith("kitbuilder ")}
        assert rest == {"Theme"}, "no entry for developers"
        for command in all_commands():
            assert command.summary in listed[f"kitbuilder {command.name}"].help
        listed["kitbuilder fit"].callback()
        await settle(pilot)
        assert "usage: kitbuilder fit" in screen_text(app)


async def test_the_line_of_keys_names_one_that_works_while_words_are_typed(opened):
    """A question mark is a letter there; the key that is shown opens the help, by keyboard and by mouse."""
    async with opened("sidemount") as pilot:
        assert "? Help" in screen_text(pilot.app)
        await press(pilot, "a")
        dialog, shown = pilot.app.screen, screen_text(pilot.app)
        assert ("F1 Help" in shown, "? Help" in shown) == (True, False)
        await press(pilot, "question_mark")
        assert (pilot.app.screen, pilot.app.focused.value) == (dialog, "?")
        await press(pilot, "f1")
        assert isinstance(pilot.app.screen, Tour)
        await press(pilot, "escape")
        await click_key(pilot, "Help")
        assert isinstance(pilot.app.screen, Tour)
