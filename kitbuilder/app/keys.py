"""Every key of a screen, for the help page and the command palette: one name per action."""

import re
from collections.abc import Iterator
from typing import Any

from textual.binding import Binding
from textual.screen import Screen

from kitbuilder.report.page import Column, Page, Section, Table, text
from kitbuilder.report.words import CAUTIONS

KEY_NAMES = {
    "plus": "+",
    "equals_sign": "=",
    "minus": "-",
    "question_mark": "?",
    "escape": "esc",
}


def key(  # noqa: PLR0913 - what Textual asks of a key
    keys: str,
    action: str,
    name: str,
    tells: str,
    *,
    display: str | None = None,
    show: bool = True,
    priority: bool = False,
) -> Binding:
    """Declare a key of a screen. Its id lets a user give the action another key.

    Args:
        keys: The keys, separated by commas.
        action: What is done: `action_...` of the screen.
        name: What the action is called, everywhere.
        tells: One sentence for the help page and the command palette.
        display: The key as the footer shows it.
        show: Whether the footer has it; the help page and the palette always do.
        priority: Whether it comes before a key of the focused widget, such as scrolling sideways.
    """
    spelled = action.replace("(1)", "_down").replace("(-1)", "_up").replace("app.", "")
    identity = re.sub(r"\W+", "_", spelled).strip("_")
    return Binding(keys, action, name, tooltip=tells, key_display=display, show=show, id=identity, priority=priority)


def bindings_of(screen: Screen[Any]) -> Iterator[Binding]:
    """List the keys to show to a user, each action once, in the order they are declared."""
    seen: set[str] = set()
    for active in screen.active_bindings.values():
        binding = active.binding
        is_ours = binding.id is not None or binding.action == "select"
        if is_ours and binding.tooltip and binding.action not in seen:
            seen.add(binding.action)
            yield binding


def keys_page(screen: Screen[Any]) -> Page:
    """Build the page of keys of a screen."""
    columns = [Column("", " ", role="title"), Column("", " "), Column("", " ", may_wrap=True, role="note")]
    rows = [[_keys(screen, binding), binding.description, binding.tooltip] for binding in bindings_of(screen)]
    return Page(
        [
            Table("", columns, rows),
            text("Arrows and tab move, the mouse works everywhere. ctrl+p lists every command and theme."),
            text("To copy text, hold shift while you drag."),
            Section("Cautions", [text(CAUTIONS)]),
        ]
    )


def _keys(screen: Screen[Any], wanted: Binding) -> str:
    keys = [
        active.binding.key_display or KEY_NAMES.get(key, key)
        for key, active in screen.active_bindings.items()
        if active.binding.action == wanted.action
    ]
    return ", ".join(dict.fromkeys(keys))
