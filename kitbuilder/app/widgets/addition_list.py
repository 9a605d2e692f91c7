"""The list of what can be added, below the heads of its columns."""

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import CURSOR, Listing, row_width
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.kitfile.additions import Addition
from kitbuilder.report.layout import list_rows
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Table


class AdditionList(Vertical):
    """One row per addition: what it is, its kind, what it weighs and how it floats."""

    def __init__(self, known: Sequence[Addition], table: Table, system: System) -> None:
        """Show nothing yet.

        Args:
            known: All additions.
            table: One row for each of them, in their order.
            system: The reader's units.
        """
        super().__init__()
        self._known, self._table, self._system = known, table, system
        self._shown: Sequence[Addition] = known
        self._rows: dict[Addition, Content] = {}

    def compose(self) -> ComposeResult:
        """Lay out the heads of the columns, and the list."""
        yield Static("", id="add-head", markup=False)
        yield Listing(id="choices")

    def show(self, additions: Sequence[Addition], cursor: int, none_fits: Content) -> None:
        """Show some additions, the cursor on one of them; a line instead where there are none."""
        self._shown = additions
        if self._rows:
            rows = [self._rows[addition] for addition in additions]
            self.query_one(Listing).show_rows(rows or [none_fits], cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the room there is. All of them at once: the columns stay where they are."""
        listing = self.query_one(Listing)
        head, rows = list_rows(self._table, row_width(listing.size, len(self._known)), self._system)
        self.query_one("#add-head", Static).update(Content(" " * len(CURSOR)) + styled_line(head))
        self._rows = dict(zip(self._known, map(styled_line, rows), strict=True))
        if self._shown:
            self.show(self._shown, listing.place or 0, Content(""))
