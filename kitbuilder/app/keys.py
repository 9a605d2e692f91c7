"""The keys of a screen, for its help page, the command palette and messages."""

from collections.abc import Collection, Iterator
from typing import Any

from textual.app import App
from textual.binding import Binding
from textual.screen import Screen

from kitbuilder.report.actions import ACTIONS
from kitbuilder.report.page import Statement
from kitbuilder.report.tours import TOURS, Tour
from kitbuilder.report.words import CAUTIONS

KEY_NAMES = {
    "plus": "+",
    "equals_sign": "=",
    "minus": "-",
    "question_mark": "?",
    "escape": "esc",
    "slash": "/",
    "colon": ":",
    "full_stop": ".",
    "greater_than_sign": ">",
    "left": "←",
    "right": "→",
    "f1": "F1",
    "f5": "F5",
}


def bindings_of(screen: Screen[Any]) -> Iterator[Binding]:
    """List the keys to show to a user, each action once, in the order they are declared."""
    seen: set[str] = set()
    for active in screen.active_bindings.values():
        binding = active.binding
        if binding.id in ACTIONS and binding.action not in seen:
            seen.add(binding.action)
            yield binding


def shown_key(binding: Binding, app: App[Any]) -> str:
    """Name the key of a binding for the line of keys; what an action has to show is for the first of its keys only."""
    action = ACTIONS.get(binding.id or "")
    is_other = action is not None and binding.key in action.keys.split(",")[1:]
    return KEY_NAMES.get(binding.key, binding.key) if is_other else app.get_key_display(binding)


def key_of(screen: Screen[Any], name: str) -> str:
    """Name the first key of an action, as the user has set it: "ctrl+z" for "undo"."""
    active = (key for key, active in screen.active_bindings.items() if active.binding.id == name)
    key = next(active, ACTIONS[name].keys.split(",")[0])
    return KEY_NAMES.get(key, key)


def tour_parts(screen: Screen[Any], name: str, idle: Collection[str] = ()) -> list[tuple[str, list[Statement]]]:
    """List what help says of a screen or a dialog: each part with its title, and its entries.

    Args:
        screen: Whose keys are listed, as the user has set them.
        name: Of its tour.
        idle: Ids of actions that would change nothing now, which are left out.
    """
    tour = TOURS[name]
    keys = [
        Statement((f"{_named(binding)}{_sentence(binding, tour)}",), mark=_keys(screen, binding))
        for binding in _explained(screen)
        if binding.id not in idle
    ]
    cautions = [*([tour.caution] if tour.caution else []), CAUTIONS]
    parts = [
        ("What it shows", [Statement((words,)) for words in tour.shows]),
        ("What its numbers and words mean", [Statement((meaning,), mark=what) for what, meaning in tour.means]),
        ("Keys", [*keys, *(Statement((words,)) for words in EVERYWHERE)]),
        ("Cautions", [Statement((words,)) for words in cautions]),
    ]
    return [(title, entries) for title, entries in parts if entries]


EVERYWHERE = (
    "Arrows and tab move, the mouse works everywhere. A letter never changes a file.",
    "Drag to select text; y copies it. Hold shift while you drag to let the terminal select.",
)


def _explained(screen: Screen[Any]) -> Iterator[Binding]:
    """List the keys of actions; of a dialog and what is in it also those of its own that are explained."""
    seen: set[str] = set()
    for active in screen.active_bindings.values():
        binding = active.binding
        is_own = active.node is not screen.app and bool(binding.tooltip)
        if (binding.id in ACTIONS or is_own) and binding.action not in seen:
            seen.add(binding.action)
            yield binding


def _sentence(binding: Binding, tour: Tour) -> str:
    return tour.add if binding.id == "add" and tour.add else binding.tooltip


def _named(binding: Binding) -> str:
    return f"{binding.description}: " if binding.description else ""


def _keys(screen: Screen[Any], wanted: Binding) -> str:
    keys = [
        KEY_NAMES.get(key, key)
        for key, active in screen.active_bindings.items()
        if active.binding.action == wanted.action
    ]
    return ", ".join(dict.fromkeys(keys))
