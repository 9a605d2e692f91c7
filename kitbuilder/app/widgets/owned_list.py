"""The list of the items of a gear file."""

from typing import ClassVar, NamedTuple

from textual.binding import Binding, BindingType

from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.signal_rows import signal_rows
from kitbuilder.assess.findings import Signal
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Cell, Column, Row, Table


class OwnedRow(NamedTuple):
    """One item of the list."""

    tag: str
    what: Cell
    signal: Signal | None


class OwnedList(Listing):
    """The gear file itself in the first row, then a row an item: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Gear"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Form", tooltip="To the form of this item.")]

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self._shown: tuple[OwnedRow, ...] = ()
        self._system = System.METRIC
        self._first_cursor = 0

    @property
    def selected(self) -> int | None:
        """The number of the item under the cursor; None for the gear file itself."""
        return self.highlighted - 1 if self.highlighted else None

    def show(self, rows: tuple[OwnedRow, ...], selected: int | None, system: System) -> None:
        """Show the items with the cursor on one of them."""
        self._shown, self._system = rows, system
        self._first_cursor = 0 if selected is None else selected + 1
        self._lay_out(self._first_cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        self._lay_out(self.highlighted if self.rows else self._first_cursor)
        self.scroll_to_highlight()

    def _lay_out(self, cursor: int | None) -> None:
        if self._shown and self.size.width:
            rows: list[Row] = [[row.tag, row.what] for row in self._shown]
            table = Table("", [Column("", "item", may_wrap=True), Column("", "what it is", may_wrap=True)], rows)
            signals = [row.signal or "" for row in self._shown]
            self.show_rows(signal_rows(table, signals, self.size.width, self._system)[1], cursor)
