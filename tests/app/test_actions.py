"""Every key leads to a method that takes what the key hands over. Actions are strings, so no type checker sees them."""

import pkgutil
from importlib import import_module
from inspect import signature

import pytest
from textual.actions import parse
from textual.binding import Binding
from textual.dom import DOMNode
from textual.screen import ModalScreen, Screen
from textual.widgets import Static

import kitbuilder.app
from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.screens.balance_screen import BalanceScreen
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.bench import Bench
from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.widgets.form_panel import Typed
from kitbuilder.assess.buoyancy.buoyancy_model import AS_IT_IS


def classes_of_the_app() -> list[type[DOMNode]]:
    """The app, its screens, dialogs and widgets: every class that may declare keys."""
    modules = [import_module(found.name) for found in pkgutil.walk_packages(kitbuilder.app.__path__, "kitbuilder.app.")]
    return [
        each
        for module in modules
        for each in vars(module).values()
        if isinstance(each, type) and issubclass(each, DOMNode) and each.__module__ == module.__name__
    ]


CLASSES = classes_of_the_app()
SCREENS = [each for each in CLASSES if issubclass(each, Screen)]


def lost_actions(owner: type[DOMNode]) -> list[str]:
    """The actions of a class's keys that no method answers, or whose method takes other arguments."""
    return [
        binding.action for binding in Binding.make_bindings(owner.BINDINGS) if not is_answered(owner, binding.action)
    ]


def is_answered(owner: type[DOMNode], action: str) -> bool:
    namespace, name, arguments = parse(action)
    target = {"": owner, "screen": KitbuilderScreen, "app": KitbuilderApp}[namespace]
    method = getattr(target, f"action_{name}", None)
    if method is None:
        return False
    try:
        signature(method).bind(None, *arguments)
    except TypeError:
        return False
    return True


def test_every_kind_of_class_is_looked_at():
    assert {KitbuilderApp, Bench, Choose, Typed} <= set(CLASSES)


@pytest.mark.parametrize("owner", CLASSES, ids=lambda owner: owner.__name__)
def test_every_action_of_a_key_is_a_method(owner):
    assert lost_actions(owner) == []


def test_a_lost_action_is_found():
    class Misspelt(Static):
        BINDINGS = (("a", "refrehs", ""), ("b", "app.quti", ""), ("c", "notify", ""), ("d", "app.quit(1)", ""))

        def action_notify(self, text: str) -> None: ...

    assert lost_actions(Misspelt) == ["refrehs", "app.quti", "notify", "app.quit(1)"]


def test_every_switch_of_the_balance_is_one():
    asked = [parse(binding.action) for binding in Binding.make_bindings(BalanceScreen.BINDINGS)]
    names = [arguments[0] for _, name, arguments in asked if name == "switch"]
    assert names
    assert set(names) <= set(AS_IT_IS._fields)


def test_units_keys_and_width_are_handled_by_one_class():
    """A copy in a screen would drift from the others; and Textual calls every `on_resize` of a class's ancestors."""
    shared = {"system", "action_units", "on_resize"}
    having = [(each.__name__, name) for each in SCREENS for name in shared & set(vars(each))]
    assert sorted(having) == [
        (KitbuilderScreen.__name__, "action_units"),
        (KitbuilderScreen.__name__, "on_resize"),
        (KitbuilderScreen.__name__, "system"),
    ]
    assert [each.__name__ for each in CLASSES if "action_keys" in vars(each)] == [], "one mixin has it for all"


@pytest.mark.parametrize("screen", SCREENS, ids=lambda screen: screen.__name__)
def test_a_screen_is_one_of_ours_or_a_dialog(screen):
    assert issubclass(screen, KitbuilderScreen | ModalScreen)
