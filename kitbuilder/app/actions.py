"""The keys of screens, dialogs and lists, as Textual takes them, from the table of actions."""

from collections.abc import Iterator

from textual.binding import Binding, BindingType

from kitbuilder.report.actions import ACTIONS

BEFORE_WIDGETS = {"left", "right"}
"""Actions whose keys come before those of the focused widget, which would scroll sideways."""


def keys_of(shown: str, hidden: str = "") -> list[BindingType]:
    """Give the keys of a screen, dialog or list.

    Args:
        shown: Ids of the actions that the footer shows, in its order.
        hidden: Ids of the actions that only help page and palette list.

    Raises:
        KeyError: for an id that is no action.
    """
    return [*_bindings(shown, show=True), *_bindings(hidden, show=False)]


def _bindings(ids: str, *, show: bool) -> Iterator[Binding]:
    for name in ids.split():
        action = ACTIONS[name]
        yield Binding(
            action.keys,
            action.call or action.id,
            action.name,
            tooltip=action.sentence,
            key_display=action.display or None,
            show=show,
            id=action.id,
            priority=name in BEFORE_WIDGETS,
        )
