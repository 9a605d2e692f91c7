"""The list of the items of a gear file."""

from collections.abc import Sequence
from functools import partial

from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.signal_rows import row_texts, signal_columns, signal_rows
from kitbuilder.assess.findings import Signal
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Table


class OwnedList(Listing):
    """The gear file itself in the first row, then a row per item: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Gear"

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self._table = Table("", [], [])
        self._signals: Sequence[Signal | None] = ()
        self._system = System.METRIC
        self._first_cursor = 0

    @property
    def selected(self) -> int | None:
        """The number of the item under the cursor; None for the gear file itself."""
        return self.place - 1 if self.place else None

    def show(self, table: Table, signals: Sequence[Signal | None], system: System, selected: int | None) -> None:
        """Show the items, each with its worst signal word, with the cursor on one of them."""
        self._table, self._signals, self._system = table, signals, system
        self._first_cursor = 0 if selected is None else selected + 1
        self._lay_out(self._first_cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        self._lay_out(self.place if self.rows else self._first_cursor)
        self.scroll_to_highlight()

    def _lay_out(self, cursor: int | None) -> None:
        if self._signals and self.size.width:
            signals = [signal or "" for signal in self._signals]
            texts = partial(row_texts, self._table, signals, self._system)
            self.can_sort_by(signal_columns(self._table, signals, 1), 1)
            self.show_rows(signal_rows(self._table, signals, self.size, self._system)[1], cursor, texts)
