"""The list of the items of a gear file."""

from collections.abc import Sequence
from typing import ClassVar

from textual.binding import Binding, BindingType

from kitbuilder.app.content import Content
from kitbuilder.app.signals import STYLES
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.assess.findings import Signal
from kitbuilder.report.layout import list_rows
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Table

WIDE = 44
"""From this width on signal words are written out; below it, their first letters."""
SCROLL_BAR = 1
"""Its width, which a resize does not tell when it appears."""


class OwnedList(Listing):
    """The gear file itself in the first row, then a row per item: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Gear"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Form", tooltip="To the form of this item.")]

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
        return self.highlighted - 1 if self.highlighted else None

    def show(self, table: Table, signals: Sequence[Signal | None], system: System, selected: int | None) -> None:
        """Show the items, each with its worst signal word, with the cursor on one of them."""
        self._table, self._signals, self._system = table, signals, system
        self._first_cursor = 0 if selected is None else selected + 1
        self._lay_out(self._first_cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        self._lay_out(self.highlighted if self.rows else self._first_cursor)
        self.scroll_to_highlight()

    def _lay_out(self, cursor: int | None) -> None:
        if self._signals and self.size.width:
            self.show_rows(self._aligned(self.size.width - len(NO_CURSOR) - SCROLL_BAR), cursor)

    def _aligned(self, width: int) -> list[Content]:
        letters = max(len(signal.word) for signal in Signal) if width >= WIDE else 1
        room = max(width - letters - 1, 1)
        _, rows = list_rows(self._table, room, self._system)
        lines = (styled_line(row) for row in rows)
        return [_with_signal(line, signal, room, letters) for line, signal in zip(lines, self._signals, strict=True)]


def _with_signal(line: Content, signal: Signal | None, room: int, letters: int) -> Content:
    if signal is None:
        return line
    return Content.assemble(line, " " * (room + 1 - line.cell_length), (signal.word[:letters], STYLES[signal]))
