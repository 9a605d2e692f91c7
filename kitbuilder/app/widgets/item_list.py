"""The kit's items as one list."""

from functools import partial

from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.signal_rows import row_texts, signal_columns, signal_rows
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Amount
from kitbuilder.kit.items import Hose, Item
from kitbuilder.kit.spare import Spare
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Cell, Column, Row, Table, Tag


class ItemList(Listing):
    """The kit itself in the first row, then one row per item: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Items"

    @property
    def selected(self) -> int | None:
        """The number of the item under the cursor; None for the kit itself."""
        return self.place - 1 if self.place else None

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self._assessment: Assessment | None = None
        self._system = System.METRIC
        self._first_cursor = 0

    def show(self, assessment: Assessment, system: System, selected: int | None) -> None:
        """Show the items of a kit with the cursor on one of them."""
        self._assessment, self._system = assessment, system
        self._first_cursor = 0 if selected is None else selected + 1
        self._lay_out(self._first_cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        self._lay_out(self.place if self.rows else self._first_cursor)
        self.scroll_to(y=0, animate=False, immediate=True)
        self.scroll_to_highlight()

    def _lay_out(self, cursor: int | None) -> None:
        if self._assessment is None or not self.size.width:
            return
        kit, worst = self._assessment.kit, self._assessment.worst_by_item()
        rows: list[Row] = [["kit", kit.header.layout], *([Tag(item.tag), _detail(item)] for item in kit.items)]
        signals = [worst.get(number, "") for number in (None, *range(len(kit.items)))]
        table = Table("", ITEM_COLUMNS, rows)
        texts = partial(row_texts, table, signals, self._system)
        self.can_sort_by(signal_columns(table, signals, 1), 1)
        self.show_rows(signal_rows(table, signals, self.size, self._system)[1], cursor, texts)


ITEM_COLUMNS = [Column("", "item", may_wrap=True, names_row=True), Column("", "what it is", may_wrap=True)]
"""What an item is stands in its form as well; its tag is cut only where it has no room by itself."""


def _detail(item: Item) -> Cell:
    if isinstance(item, Spare):
        return f"{item.title} {item.item.title}"
    return (Amount(item.length_m, "length"), f" {item.body}") if isinstance(item, Hose) else item.title
