"""The tour of a screen or a dialog: what it shows, what its numbers mean, its keys and cautions; it can be narrowed."""

from collections.abc import Collection
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen, Screen

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.keys import tour_parts
from kitbuilder.app.widgets.entry_list import EntryList
from kitbuilder.app.widgets.filter_line import drop_filter, open_filter
from kitbuilder.app.widgets.key_line import KeyLine


class Tour(ModalScreen[None]):
    """The help of what lies below it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        *keys_of("filter back"),
        Binding("enter,question_mark,f1,q", "back", "Back", show=False),
    ]

    def __init__(self, screen: Screen[Any], name: str, idle: Collection[str] = ()) -> None:
        """Explain a screen or a dialog by the name of its tour, without the keys of idle actions."""
        super().__init__()
        self._name = name
        # Asked for now: while this is shown, the keys below it are not active.
        self._parts = tour_parts(screen, name, idle)

    def compose(self) -> ComposeResult:
        """Lay out the entries as a list, so that they can be narrowed."""
        with Vertical(classes="dialog", id="tour") as dialog:
            dialog.border_title = Content(f"Help: {self._name}")
            yield EntryList(self._parts, id="tour-rows")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows walk the entries."""
        self.query_one(EntryList).focus()

    def action_filter(self) -> None:
        """Open the line that narrows the entries."""
        open_filter(self)

    def action_back(self) -> None:
        """Show all entries of a list that is narrowed; else close."""
        if not drop_filter(self) and self.is_current:
            self.dismiss()


class WithTour:
    """A screen or a dialog that has a tour."""

    NAME: ClassVar[str]
    """Of its tour, and what its help calls it."""

    def idle_actions(self) -> frozenset[str]:
        """Give the ids of actions that would change nothing now; their keys say so when they are pressed."""
        return frozenset()

    def action_keys(self) -> None:
        """Show what is here, what its numbers mean, and every key."""
        assert isinstance(self, Screen)
        self.app.push_screen(Tour(self, self.NAME, self.idle_actions()))
