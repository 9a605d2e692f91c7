"""The kit's things as one list."""

from typing import ClassVar, NamedTuple

from textual.binding import Binding, BindingType

from kitbuilder.app.content import Content
from kitbuilder.app.signals import STYLES
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible
from kitbuilder.kit.things import Hose, Thing
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.words import cut


class Things(Listing):
    """The kit itself in the first row, then a row a thing: its tag, what it is, and its worst signal word."""

    BORDER_TITLE = "Things"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Form", tooltip="To the form of this thing.")]

    @property
    def selected(self) -> int | None:
        """The number of the thing under the cursor; None for the kit itself."""
        return self.highlighted - 1 if self.highlighted else None

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self._entries: list[Entry] = []
        self._first_cursor = 0

    def show(self, assessment: Assessment, system: System, selected: int | None) -> None:
        """Show the things of a kit with the cursor on one of them."""
        worst = assessment.worst_by_thing()
        kit = Entry("kit", assessment.kit.header.layout, worst.get(None))
        self._entries = [kit] + [
            Entry(visible(thing.tag), _detail(thing, system), worst.get(number))
            for number, thing in enumerate(assessment.kit.things)
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


class Entry(NamedTuple):
    """One row of the list."""

    name: str
    detail: str
    signal: Signal | None


def _detail(thing: Thing, system: System) -> str:
    if not isinstance(thing, Hose):
        return thing.title
    return f"{shown(thing.length_m, 'length', system)} {thing.body}"


def _aligned(entries: list[Entry], width: int) -> list[Content]:
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
