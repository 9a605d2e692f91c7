"""The keys of a screen, for its help page, the command palette and messages."""

from collections.abc import Iterator
from typing import Any

from textual.binding import Binding
from textual.screen import Screen

from kitbuilder.report.actions import ACTIONS
from kitbuilder.report.page import Column, Page, Section, Table, text
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
    "left": "←",
    "right": "→",
}


def bindings_of(screen: Screen[Any]) -> Iterator[Binding]:
    """List the keys to show to a user, each action once, in the order they are declared."""
    seen: set[str] = set()
    for active in screen.active_bindings.values():
        binding = active.binding
        if binding.id in ACTIONS and binding.action not in seen:
            seen.add(binding.action)
            yield binding


def key_of(screen: Screen[Any], name: str) -> str:
    """Name the first key of an action, as the user has set it: "ctrl+z" for "undo"."""
    active = (key for key, active in screen.active_bindings.items() if active.binding.id == name)
    key = next(active, ACTIONS[name].keys.split(",")[0])
    return KEY_NAMES.get(key, key)


def keys_page(screen: Screen[Any]) -> Page:
    """Build the page of keys of a screen."""
    columns = [Column("", " ", role="title"), Column("", " "), Column("", " ", may_wrap=True, role="note")]
    rows = [[_keys(screen, binding), binding.description, binding.tooltip] for binding in bindings_of(screen)]
    return Page(
        [
            Table("", columns, rows),
            text("Arrows and tab move, the mouse works everywhere. A letter never changes a file."),
            text("Drag to select text; y copies it. Hold shift while you drag to let the terminal select."),
            Section("Cautions", [text(CAUTIONS)]),
        ]
    )


def _keys(screen: Screen[Any], wanted: Binding) -> str:
    keys = [
        KEY_NAMES.get(key, key)
        for key, active in screen.active_bindings.items()
        if active.binding.action == wanted.action
    ]
    return ", ".join(dict.fromkeys(keys))
