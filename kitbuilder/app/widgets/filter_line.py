"""The line at the foot of a screen that narrows a list to the rows that have some words."""

from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal
from textual.screen import Screen
from textual.widgets import Input, Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing


class Words(Input):
    """The words that a list is narrowed to."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Keep", tooltip="Keep the list narrowed and go back to it."),
        Binding("escape", "drop", "Show all", key_display="esc", tooltip="Show all rows again."),
        Binding("down", "move(1)", "Down", show=False),
        Binding("up", "move(-1)", "Up", show=False),
    ]

    def action_drop(self) -> None:
        """Show all rows again."""
        drop_filter(self.screen)

    def action_move(self, by: int) -> None:
        """Move the cursor of the list while words are typed."""
        line = self.parent
        assert isinstance(line, FilterLine)
        line.listing.action_cursor_down() if by > 0 else line.listing.action_cursor_up()


class FilterLine(Horizontal):
    """Narrows its list as words are typed; enter keeps it narrowed, esc shows all rows again."""

    def __init__(self, listing: Listing) -> None:
        """Narrow a list."""
        super().__init__()
        self.listing = listing
        self._found = 0
        """How many rows have the words."""

    def compose(self) -> ComposeResult:
        """Lay out the sign, the words, and how many rows have them."""
        yield Static("/ ", id="filter-sign")
        yield Words(self.listing.words, compact=True, id="filter-words", select_on_focus=False)
        yield Static("", id="filter-count", markup=False)

    def on_mount(self) -> None:
        """Let the words be typed at once."""
        self.query_one(Words).focus()
        self._count(len(self.listing.shown))

    @on(Input.Changed)
    def _narrow(self, event: Input.Changed) -> None:
        event.stop()
        self._count(self.listing.narrow(event.value))

    @on(Input.Submitted)
    def _keep(self, event: Input.Submitted) -> None:
        event.stop()
        if self._found == 0:
            # The list still shows the earlier rows, and enter would open one without the words.
            self.screen.notify("No row has these words. esc shows all rows.", severity="warning", markup=False)
        elif self.listing.words:
            self.listing.focus()
        else:
            drop_filter(self.screen)

    def _count(self, found: int) -> None:
        self._found = found
        count = self.query_one("#filter-count", Static)
        count.update(Content(f" {found} of {len(self.listing.rows)}"))
        count.set_class(not found, "wrong")


def open_filter(screen: Screen[Any]) -> None:
    """Open the line for the list with the focus, else for the first list of the screen that takes the focus."""
    focused = screen.focused
    listing = focused if isinstance(focused, Listing) else next(iter(screen.query(Listing)), None)
    if listing is None or not listing.rows:
        screen.notify("There is no list on this screen to filter.", severity="warning", markup=False)
        return
    for line in screen.query(FilterLine):
        if line.listing is listing:
            line.query_one(Words).focus()
            return
    drop_filter(screen)
    screen.mount(FilterLine(listing), before=screen.query_one(KeyLine))


def drop_filter(screen: Screen[Any]) -> bool:
    """Close the line and show all rows of its list again; give whether there was one."""
    lines = list(screen.query(FilterLine))
    for line in lines:
        line.listing.narrow("")
        line.listing.focus()
        line.remove()
    return bool(lines)
