"""The list of the items of a gear file."""

from typing import ClassVar, NamedTuple

from textual.binding import Binding, BindingType

from kitbuilder.app.content import Content
from kitbuilder.app.signals import STYLES
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.assess.findings import Signal
from kitbuilder.report.words import cut

WIDE = 44
"""From this width on signal words are written out."""
TAG_SHARE = 0.45
"""Of the width, at most, for the tag; what it is has the rest."""


class OwnedRow(NamedTuple):
    """One item of the list."""

    tag: str
    what: str
    signal: Signal | None


class OwnedList(Listing):
    """The gear file itself in the first row, then a row an item: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Gear"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Form", tooltip="To the form of this item.")]

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self._shown: tuple[OwnedRow, ...] = ()
        self._first_cursor = 0

    @property
    def selected(self) -> int | None:
        """The number of the item under the cursor; None for the gear file itself."""
        return self.highlighted - 1 if self.highlighted else None

    def show(self, rows: tuple[OwnedRow, ...], selected: int | None) -> None:
        """Show the items with the cursor on one of them."""
        self._shown, self._first_cursor = rows, 0 if selected is None else selected + 1
        self._lay_out(self._first_cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        self._lay_out(self.highlighted if self.rows else self._first_cursor)
        self.scroll_to_highlight()

    def _lay_out(self, cursor: int | None) -> None:
        if self._shown and self.size.width:
            self.show_rows(_aligned(self._shown, self.size.width - len(NO_CURSOR)), cursor)


def _aligned(rows: tuple[OwnedRow, ...], width: int) -> list[Content]:
    """Rows of tag, what it is and signal word; the word is its first letter where room is scarce."""
    signal_width = max(len(signal.word) for signal in Signal) if width >= WIDE else 1
    tag_width = min(max(len(row.tag) for row in rows), int(width * TAG_SHARE))
    what_width = max(width - tag_width - signal_width - 3, 1)
    return [_content(row, tag_width, what_width, signal_width) for row in rows]


def _content(row: OwnedRow, tag_width: int, what_width: int, signal_width: int) -> Content:
    cells = f"{cut(row.tag, tag_width):<{tag_width}} {cut(row.what, what_width):<{what_width}} "
    signal = (row.signal.word[:signal_width] if signal_width == 1 else row.signal.word) if row.signal else ""
    return Content.assemble(cells, (signal, STYLES[row.signal]) if row.signal else "")
