"""The kit's items as one list."""

from typing import ClassVar, NamedTuple

from textual.binding import Binding, BindingType

from kitbuilder.app.content import Content
from kitbuilder.app.signals import STYLES
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible
from kitbuilder.kit.items import Hose, Item
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.words import cut


class ItemList(Listing):
    """The kit itself in the first row, then a row an item: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Items"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Form", tooltip="To the form of this item.")]

    @property
    def selected(self) -> int | None:
        """The number of the item under the cursor; None for the kit itself."""
        return self.highlighted - 1 if self.highlighted else None

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self._entries: list[ItemRow] = []
        self._first_cursor = 0

    def show(self, assessment: Assessment, system: System, selected: int | None) -> None:
        """Show the items of a kit with the cursor on one of them."""
        worst = assessment.worst_by_item()
        kit = ItemRow("kit", assessment.kit.header.layout, worst.get(None))
        self._entries = [kit] + [
            ItemRow(visible(item.tag), _detail(item, system), worst.get(number))
            for number, item in enumerate(assessment.kit.items)
        ]
        self._first_cursor = 0 if selected is None else selected + 1
        self._lay_out(self._first_cursor)

    def on_resize(self) -> None:
        """Lay the rows out for the new width."""
        self._lay_out(self.highlighted if self.rows else self._first_cursor)
        self.scroll_to(y=0, animate=False, immediate=True)
        self.scroll_to_highlight()

    def _lay_out(self, cursor: int | None) -> None:
        if self._entries and self.size.width:
            self.show_rows(_aligned(self._entries, self.size.width - len(NO_CURSOR)), cursor)


class ItemRow(NamedTuple):
    """One row of the list."""

    name: str
    detail: str
    signal: Signal | None


def _detail(item: Item, system: System) -> str:
    if not isinstance(item, Hose):
        return item.title
    return f"{shown(item.length_m, 'length', system)} {item.body}"


def _aligned(entries: list[ItemRow], width: int) -> list[Content]:
    """Rows of name, detail and signal word; the word is its first letter where room is scarce."""
    detail_width = max(len(detail) for _, detail, _ in entries)
    wide = width >= 39
    name_width = max(10, width - detail_width - (10 if wide else 4))
    rows = []
    for name, detail, signal in entries:
        word = "" if signal is None else signal.word if wide else signal.word[0]
        cells = f"{cut(name, name_width):<{name_width}} {detail:<{detail_width}} "
        rows.append(Content.assemble(cells, (word, STYLES[signal]) if signal else ""))
    return rows
