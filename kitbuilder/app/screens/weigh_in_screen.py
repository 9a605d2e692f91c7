"""The weigh-in: all items of a kit in a table, and readings of a scale typed down a column."""

from collections.abc import Callable
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.asking_back import as_read
from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.typed_value import value_of
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing, row_width
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.reading_line import ReadingLine
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.doubts import doubt_in_kit
from kitbuilder.assess.findings import Words
from kitbuilder.kit.fields import Field
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.differences import Difference
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.plans.weigh_in import READINGS, WeighedItem, WeighIn, plan_weigh_in, reading_field
from kitbuilder.report.form import typed_note, with_usual_unit
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.origins import origins_page
from kitbuilder.report.page import Page
from kitbuilder.report.sorting import columns_of, marked_head
from kitbuilder.report.weigh_in import (
    ORDER_OF_HEAD,
    READING_NAMES,
    computed_words,
    items_list,
    items_table,
    order_choices,
    order_of,
    origin_words,
    reading_words,
    weigh_in_page,
)

DRY, IN_WATER = READINGS


class Weighed(Listing):
    """One row per item."""


class WeighInScreen(Editing):
    """The table, the line for a reading, and the totals."""

    NAME = "weigh-in"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "left right filter sort save undo menu back keys",
        "copy export document remove origins redo save_as units quit",
    )

    def __init__(self, document: Document) -> None:
        """Open a document that reads as a kit."""
        super().__init__(document)
        self.order, self.reading = "file", DRY
        self._kept: tuple[int, ...] = ()
        """The order of the rows while readings are typed, which would move under the cursor; else empty."""
        self.plan: WeighIn = self._planned()
        self.item = self.plan.rows[0].number if self.plan.rows else None

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the table, the line for a reading, the totals, and the keys."""
        yield TitleBar()
        with Container(id="weigh-panes"):
            yield Weighed(id="weighed")
            yield ReadingLine(id="reading-pane")
            with VerticalScroll(id="weigh-totals"):
                yield PageView(id="weigh-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows walk the items."""
        self.query_one(Weighed).focus()
        self.lay_out()

    # ---- showing ----

    @property
    def is_typing(self) -> bool:
        """Whether the line for a reading is open."""
        return self.query_one(ReadingLine).is_open

    @property
    def row(self) -> WeighedItem | None:
        """The row under the cursor."""
        return next((row for row in self.plan.rows if row.number == self.item), None)

    @property
    def assessment(self) -> Assessment:
        """The kit, worked out."""
        return self.plan.assessment

    def _planned(self) -> WeighIn:
        return plan_weigh_in(assess(self.document.resolved_kit()), self.order, self._kept)

    def show_all(self) -> None:
        """Work the table out again and show it, the cursor on the same item."""
        self.plan = self._planned()
        self.lay_out()

    def lay_out(self) -> None:
        """Show the table and the totals at the present width."""
        self.show_title()
        listing = self.query_one(Weighed)
        width = row_width(listing.size, len(self.plan.rows))
        head, rows = list_rows(items_list(self.plan), max(width, 0), self.system)
        listing.can_sort_by(columns_of(items_table(self.plan)))
        listing.head = head
        shown = marked_head(head, order_of(self.plan), listing.columns)
        listing.border_title = Content(f" {plain(shown)}") if rows else "Items"
        numbers = [row.number for row in self.plan.rows]
        place = numbers.index(self.item) if self.item in numbers else None
        listing.show_rows([styled_line(row) for row in rows] or [NO_ITEM], place)
        self.query_one("#weigh-totals").border_title = "Totals"
        self.query_one("#weigh-lines", PageView).show(weigh_in_page(self.plan), self.system)
        self._show_reading()

    def show_title(self) -> None:
        """Show the kit and its file, the order of the table to the right."""
        name = f"{self.assessment.kit.header.name} · {self.document.path.name}"
        right = f"sorted by: {self.order}"
        self.query_one(TitleBar).show("weigh-in", name, unsaved=self.document.is_dirty, right=right)
        self.query_one(TitleBar).show_not_used(self.assessment.kit.linked.problems)

    def show_step(self, difference: Difference | None) -> None:
        """Show everything, the cursor on the item whose reading changed, and its column."""
        if difference is not None and difference.item is not None:
            self.item = difference.item
            self.reading = difference.key if difference.key in READINGS else self.reading
        self.refresh_all()

    def _show_reading(self) -> None:
        line, row = self.query_one(ReadingLine), self.row
        if row is None or line.is_open:
            return
        is_typed = reading_field(row.item, self.reading) is not None
        enter = f"Enter, or a digit, types the {READING_NAMES[self.reading]}."
        line.name_reading(enter if is_typed else computed_words(row.item, self.reading))
        line.say(f"{row.item.tag}: {origin_words(row)}")

    @on(OptionList.OptionHighlighted, "#weighed")
    def _select(self) -> None:
        place = self.query_one(Weighed).place
        if place is not None and place < len(self.plan.rows):
            self.item = self.plan.rows[place].number
            self._show_reading()

    # ---- typing ----

    def on_key(self, event: events.Key) -> None:
        """Begin a reading with its first character, so that readings can be typed down the column."""
        if event.character and event.character in BEGINS and self.query_one(Weighed).has_focus and not self.is_typing:
            event.stop()
            self._open(event.character)

    @on(OptionList.OptionSelected, "#weighed")
    def _weigh(self) -> None:
        self._open()

    def _open(self, typed: str = "") -> None:
        row = self.row
        if row is None:
            return
        field = reading_field(row.item, self.reading)
        if field is None:
            self.notify(computed_words(row.item, self.reading), severity="warning", markup=False)
            return
        self._kept = tuple(each.number for each in self.plan.rows)
        self._ask(row, field, typed)

    def _ask(self, row: WeighedItem, field: Field, typed: str = "") -> None:
        line = self.query_one(ReadingLine)
        line.name_reading(f"{row.item.tag}, {READING_NAMES[self.reading]}:")
        line.say(f"{reading_words(field)} {HOW_TO_TYPE}")
        line.ask(self.document.raw_value(row.number, self.reading), typed)
        self.refresh_bindings()

    @on(ReadingLine.Typing)
    def _take_reading(self, event: ReadingLine.Typing) -> None:
        row = self.row
        field = reading_field(row.item, self.reading) if row else None
        if row is None or field is None or event.text is None:
            self._stop_typing()
            return
        written = self.document.raw_value(row.number, field.key)
        text = with_usual_unit(field, event.text, written, self.system)
        is_new = text.strip() not in ("", written)
        if is_new and not self._comment(field, text, done=event.done):
            return
        if not event.done:
            self.query_one(ReadingLine).say(f"{reading_words(field)} {HOW_TO_TYPE}")
            return
        if is_new:
            self.set_value(field, text)
        self._go_down()

    def _comment(self, field: Field, text: str, *, done: bool) -> bool:
        """Say what there is to say of a reading; give whether it is accepted: done, and in order or asked about."""
        line = self.query_one(ReadingLine)
        try:
            reading = self.document.preview(self.item, field.key, value_of(field, text))
        except RefusedEdit as refusal:
            line.say(str(refusal), wrong=True)
            return False
        if not done:
            self.asking_back.forget()
            line.say(as_read(text, self.typed_note(reading, field)))
            return False
        question = self.asking_back.ask(text, self.doubt_text(reading, field))
        if question:
            line.say(question, wrong=True)
        return not question

    def typed_note(self, reading: ParseResult, field: Field) -> str:
        """Give the typed value in other units."""
        assert reading.contents is not None
        return typed_note(reading.contents, self.item, field, self.system)

    def doubt(self, reading: ParseResult, field: Field) -> Words:
        """Say why what is typed is more likely a slip."""
        assert reading.kit is not None
        typed = assess(resolve(reading.kit, self.assessment.kit.linked, reading.lines))
        return doubt_in_kit(typed, self.item, field.key, self.row.item if self.row else None)

    def _go_down(self) -> None:
        """Ask for the reading of the next item that takes one; after the last, close the line."""
        place = next((place for place, row in enumerate(self.plan.rows) if row.number == self.item), -1)
        for row in self.plan.rows[place + 1 :]:
            if field := reading_field(row.item, self.reading):
                self.item = row.number
                self.query_one(Weighed).go_to(self.plan.rows.index(row))
                self._ask(row, field)
                return
        self._stop_typing()

    def _stop_typing(self) -> None:
        self.query_one(ReadingLine).close()
        self._kept = ()
        self.query_one(Weighed).focus()
        self.refresh_bindings()
        self.show_all()

    def action_remove(self) -> None:
        """Take the reading of the item under the cursor out."""
        row = self.row
        field = reading_field(row.item, self.reading) if row else None
        if row and field and not field.required and self.document.has(row.number, field.key):
            self.try_edit(lambda: self.document.set_value(row.number, field.key, None))

    # ---- asking ----

    def action_left(self) -> None:
        """Take masses as what is typed."""
        self._take_column(DRY)

    def action_right(self) -> None:
        """Take buoyancies as what is typed."""
        self._take_column(IN_WATER)

    def _take_column(self, reading: str) -> None:
        self.reading = reading
        self._show_reading()

    def sort_by(self, listing: Listing, column: str) -> None:  # noqa: ARG002  there is one list
        """Sort by the column whose head was clicked."""
        self.order = ORDER_OF_HEAD[column]
        self.show_all()

    def action_sort(self) -> None:
        """Ask by which column."""

        def take(order: str | None) -> None:
            if order is not None:
                self.order = order
                self.show_all()

        self.app.push_screen(Choose("Sort by", order_choices(), self.order), take)

    def action_origins(self) -> None:
        """Show where the figures of the item come from."""
        self.read_page("Where the figures come from", origins_page(self.assessment, self.item))

    # ---- leaving ----

    def whole_page(self) -> Page:
        """Give the table and its totals."""
        return Page([items_table(self.plan), *weigh_in_page(self.plan).parts])

    def leave(self, go_on: Callable[[], None], forget: Callable[[Document], None] = Document.forget_edits) -> None:
        """Go on, unless a reading is open: the bench below has the same file open and asks about its edits."""
        if self.is_typing:
            super().leave(go_on, forget)
        else:
            go_on()

    def back(self) -> None:
        """Go back to where this was opened, with the edits."""
        self.dismiss()


NO_ITEM = Content.styled("no item yet", "$foreground-muted")
BEGINS = frozenset("0123456789.,+-\N{MINUS SIGN}")
"""The characters that a reading can begin with."""
HOW_TO_TYPE = "Enter goes to the next item; esc stops."
