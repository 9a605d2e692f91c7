"""Every action has one name, one key, one sentence, and stands in the help page and the palette."""

import pytest
from textual.binding import Binding

from kitbuilder.app.keys import bindings_of
from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.changeover_screen import ChangeoverScreen
from kitbuilder.app.screens.diver_screen import DiverScreen
from kitbuilder.app.screens.fewest_screen import FewestScreen
from kitbuilder.app.screens.fit_screen import FitScreen
from kitbuilder.app.screens.gear_screen import GearScreen
from kitbuilder.app.screens.losses_screen import LossesScreen
from kitbuilder.app.screens.problems_screen import Problems
from kitbuilder.app.screens.shelf import Shelf
from kitbuilder.app.screens.side_by_side_screen import SideBySideScreen
from kitbuilder.app.screens.weigh_in_screen import WeighInScreen
from kitbuilder.commands import all_commands
from tests.app.conftest import press, screen_text, settle

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
    Problems,
    Shelf,
)


@pytest.mark.parametrize("screen", SCREENS)
def test_every_key_has_a_name_and_a_sentence(screen):
    for binding in screen.BINDINGS:
        assert binding.description
        assert binding.tooltip.endswith(".")
        assert binding.id


@pytest.mark.parametrize("screen", SCREENS)
def test_no_key_stands_for_two_actions(screen):
    keys = [key for binding in screen.BINDINGS for key in binding.key.split(",")]
    assert sorted(keys) == sorted(set(keys))


def test_an_action_has_the_same_name_and_key_on_every_screen():
    named: dict[str, set[tuple[str, str]]] = {}
    for screen in SCREENS:
        for binding in screen.BINDINGS:
            named.setdefault(binding.action, set()).add((binding.key, binding.description))
    assert {action: names for action, names in named.items() if len(names) > 1} == {}


@pytest.mark.parametrize("screen", SCREENS)
def test_every_action_exists(screen):
    for binding in screen.BINDINGS:
        name = binding.action.partition("(")[0]
        assert name == "app.quit" or hasattr(screen, f"action_{name}")


@pytest.mark.parametrize("screen", SCREENS)
def test_the_footer_fits_a_small_terminal(screen):
    """Keys cut off at the edge are keys nobody knows; the first hint is the list's own, "enter Form" at most."""
    shown = [binding for binding in screen.BINDINGS if binding.show]
    width = sum(len(f"{binding.key_display or binding.key.split(',')[0]} {binding.description} ") for binding in shown)
    assert width + len("⏎ Go to ") <= 80


async def test_the_palette_lists_every_action_and_does_what_its_key_does(opened):
    async with opened("sidemount") as pilot:
        app = pilot.app
        titles = {command.title for command in app.get_system_commands(app.screen)}
        assert {binding.description for binding in Bench.BINDINGS if isinstance(binding, Binding)} <= titles
        assert {binding.description for binding in bindings_of(app.screen)} <= titles
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
        listed = {command.title: command for command in app.get_system_commands(app.screen)}
        for command in all_commands():
            assert command.summary in listed[f"kitbuilder {command.name}"].help
        listed["kitbuilder fit"].callback()
        await settle(pilot)
        assert "usage: kitbuilder fit" in screen_text(app)
