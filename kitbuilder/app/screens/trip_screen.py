"""A trip: its bags as scales, the items in them, the form of what is under the cursor, and how it is packed."""

from pathlib import Path
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.message import Message
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.trip_changes import ChangesTrip
from kitbuilder.app.widgets.findings_list import Findings
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing, row_width
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.signal_rows import row_texts, signal_columns, signal_rows
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.findings import Signal, Words, keys_named
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kitfile.differences import Difference, Way
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.folder import files_holding
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.kitfile.stamps import Stamp, stamps_of
from kitbuilder.report.findings import result_page, subject
from kitbuilder.report.form import Choice, typed_note
from kitbuilder.report.layout import list_rows
from kitbuilder.report.page import Page, Table, text
from kitbuilder.report.trip import trip_page, trip_problems
from kitbuilder.report.trip_about import about_item, about_place, state_words
from kitbuilder.report.trip_form import WITHOUT_ENTRY, trip_choices, trip_rows
from kitbuilder.report.trip_lists import (
    Group,
    ItemRow,
    PlaceRow,
    bars_for,
    item_rows,
    item_table,
    items_title,
    place_rows,
    place_table,
)


class Rows(Listing):
    """The rows of one of the two lists; the screen lays them out."""

    class Resized(Message):
        """The list has other room, such as while the form is used."""

    def on_resize(self) -> None:
        """Ask for rows of the new size, and keep the cursor in view."""
        self.post_message(self.Resized())
        self.call_after_refresh(self.scroll_to_highlight)


class TripScreen(ChangesTrip):
    """The bags above; below them the items of the one under the cursor, and the form of what the cursor is on."""

    NAME = "trip"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "into_bag add swaps save undo menu back keys",
        "filter card spares copy export document sort remove unpin next explain reload redo save_as left right units "
        "quit",
    )

    def __init__(self, document: Document) -> None:
        """Open a document that reads as a trip."""
        super().__init__(document)
        self._places: list[PlaceRow] = []
        self._items: list[ItemRow] = []
        self._is_on_item = False
        """Whether form and details are of the item under the cursor, and not of the row above."""
        self._has_form = True
        self._follow = ""
        """The tag of an item that the cursor goes to as soon as the lower list has it."""

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the two lists, the form, the details, the findings and the keys."""
        yield TitleBar()
        with Container(id="trip-panes"):
            yield Rows(id="places")
            yield Rows(id="trip-items")
            yield Form(id="form")
            with VerticalScroll(id="trip-about"):
                yield PageView(id="trip-about-lines")
            yield Findings(id="findings")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the trip, and pack it."""
        self.query_one("#places").focus()
        self.query_one(Form).when_empty = WITHOUT_ENTRY
        self.watch_time()
        self.pack_from_nothing()
        self.show_packing()
        self.settle_earlier()

    # ---- what it knows ----

    @property
    def fields(self) -> tuple[Field, ...]:
        """The fields of the entry in the form; none for an item that the file does not speak of."""
        return super().fields if self._has_form else ()

    @property
    def place(self) -> PlaceRow:
        """The row of the upper list under the cursor."""
        number = self.query_one("#places", Listing).place
        return self._places[number or 0]

    @property
    def item_row(self) -> ItemRow | None:
        """The row of the lower list under the cursor."""
        number = self.query_one("#trip-items", Listing).place
        return self._items[number] if number is not None and number < len(self._items) else None

    @property
    def selected_item(self) -> ItemRow | None:
        """The row of the item that form and details are of; None where they are of a row of the upper list."""
        return self.item_row if self._is_on_item else None

    def stamps(self) -> dict[Path, Stamp | None]:
        """Give the stamps of the file, of its kits and divers, and of the gear files of the kits."""
        gears = {each.kit.header.gear for each in self.trip.kits if each.kit and each.kit.header.gear}
        return super().stamps() | stamps_of([self.document.path.parent / name for name in sorted(gears)])

    def whole_page(self) -> Page | None:
        """Give the page that the command line prints; none while it is worked out."""
        found = self.found if self.is_up_to_date else None
        return trip_page(self.document.path.name, found) if found else None

    # ---- showing ----

    def show_all(self) -> None:
        """Show everything; the trip is packed again where it changed."""
        self.pack_again()
        self.show_packing()

    def show_packing(self) -> None:
        """Show the packing, or how far it is."""
        self.show_title()
        self.lay_out()

    def lay_out(self) -> None:
        """Show the lists at the present width, then what belongs to the row under the cursor."""
        findings = self.found.findings if self.found else ()
        self.set_class(not findings, "-no-findings")
        findings_list = self.query_one(Findings)
        findings_list.display = bool(findings)
        findings_list.show_results(findings, self.trip, self.system)
        self._show_places()
        self._show_items()
        self._show_selected()

    def show_title(self) -> None:
        """Show the trip and its file, to the right whether it is packed, or that this is worked out."""
        name = f"{self.trip.header.name} · {self.document.path.name}"
        state = state_words(self.found) if self.found and self.is_up_to_date else NOT_PACKED
        right = self.working_words if self.is_working else state
        bar = self.query_one(TitleBar)
        bar.show("trip", name, unsaved=self.document.is_dirty, right=right)
        bar.show_not_used(trip_problems(self.trip))

    @on(Rows.Resized)
    def _fit_lists(self) -> None:
        """Show the lists at their present width; form and details do that themselves."""
        if self._places:
            self._show_places()
            self._show_items()

    def _show_places(self) -> None:
        listing = self.query_one("#places", Listing)
        before = self._places[listing.place or 0] if self._places else None
        bars = bars_for(listing.size.width, plain=self.shell.plain_pictures)
        self._places = place_rows(self.trip, self.found, bars)
        same = [row[:2] for row in self._places]
        cursor = same.index(before[:2]) if before and before[:2] in same else None
        table = place_table(self._places, bars)
        head = self._fill(listing, table, [row.signal for row in self._places], cursor)
        state = "" if self.is_up_to_date or not self.found else REPAIRING if self.is_moved else EARLIER
        listing.border_title = Content(state or f" {head}")  # what is not of now says so in place of its heads

    def _show_items(self, cursor: int | None = None) -> None:
        """Show the items of the row above; the cursor stays on its item while that is there."""
        listing = self.query_one("#trip-items", Listing)
        before = self.item_row
        self._items = item_rows(self.trip, self.found, self.place)
        shown = [row.is_of for row in self._items]
        if cursor is None and self._follow in (names := [tag for _, tag in shown]):
            cursor, self._follow = names.index(self._follow), ""
        elif cursor is None and before and before.is_of in shown:
            cursor = shown.index(before.is_of)
        table = item_table(self._items, self.place)
        self._fill(listing, table, [row.signal for row in self._items], cursor)
        listing.name_list(items_title(self.place, self._items) if self.found else "Items")

    def _fill(self, listing: Listing, table: Table, signals: list[Signal | str], cursor: int | None) -> str:
        """Fill a list, and give the heads of its columns."""
        if any(signals):
            head, rows = signal_rows(table, signals, listing.size, self.system)
        else:  # their column would only take room
            line, lines = list_rows(table, row_width(listing.size, len(signals)), self.system)
            head, rows = styled_line(line), [styled_line(each) for each in lines]
        if listing.id == "trip-items":
            listing.can_sort_by(signal_columns(table, signals, 0))
        listing.show_rows(rows, cursor, lambda: row_texts(table, signals, self.system))
        return head.plain

    def _show_selected(self) -> None:
        """Show the form and the details of the row that the cursor is on."""
        row = self.selected_item
        self.item = row.entry if row else self.place.entry
        self._has_form = row.entry is not None if row else self.place.has_form
        self._show_form(row)
        self.show_figures(self.document.reading)

    def _show_form(self, row: ItemRow | None) -> None:
        rows = trip_rows(self.trip, self.raw_values, self.item, self.system) if self._has_form else ()
        if not self._has_form:
            title = f"{row.name if row else self.place.cells[0]}: no entry in this file"
        else:
            title = f"{self.record.title}: {self.record.label}" if self.record else "trip"
        self.query_one(Form).show(title, rows, self.kept_keys(), self.system)

    def kept_keys(self) -> frozenset[str]:
        """Name the keys with findings."""
        return keys_named(self.found.findings, self.item) if self.found and self._has_form else frozenset()

    def show_figures(self, reading: ParseResult) -> None:  # noqa: ARG002  a packing does not follow while one types
        """Show what there is to say about the row that the cursor is on."""
        row = self.selected_item
        if self.found is None:
            page = Page([text(self.working_words if self.is_working else STOPPED)])
        elif row:
            page = about_item(self.found, row)
        else:
            page = about_place(self.found, self.place)
        pane = self.query_one("#trip-about")
        pane.border_title = Content(visible(f"About {row.name if row else self.place.cells[0]}"))
        pane.scroll_home(animate=False)
        self.query_one("#trip-about-lines", PageView).show(page, self.system)

    def typed_note(self, reading: ParseResult, field: Field) -> str:
        """Give the typed value in other units."""
        assert reading.contents is not None
        return typed_note(reading.contents, self.item, field, self.system)

    def doubt(self, reading: ParseResult, field: Field) -> Words:  # noqa: ARG002  no rule knows what luggage weighs
        """Take everything that is accepted."""
        return ()

    def choices(self, field: Field) -> tuple[Choice, ...]:
        """List the words that a field may take: bags, items of the kits, kits of the folder."""
        is_file = field.kind is ValueKind.FILE
        files = files_holding(self.document.path.parent, KIT_FILE.name) if is_file else ()
        return trip_choices(self.trip, self.item, field, self.system, files)

    # ---- moving about ----

    @on(events.DescendantFocus)
    def _follow_focus(self, event: events.DescendantFocus) -> None:
        """Let form and details be of the list that the cursor is in."""
        if event.widget.id in ("places", "trip-items"):
            on_item = event.widget.id == "trip-items" and self.item_row is not None
            if on_item != self._is_on_item:
                self._is_on_item = on_item
                self._show_selected()

    @on(OptionList.OptionHighlighted, "#places")
    def _select_place(self) -> None:
        self._is_on_item, self._follow = False, ""
        self._show_items(0)
        self._show_selected()

    @on(OptionList.OptionHighlighted, "#trip-items")
    def _select_item(self) -> None:
        self._is_on_item, self._follow = True, ""
        self._show_selected()

    @on(OptionList.OptionSelected, "#places")
    def _open_place(self) -> None:
        """Go to the items of a bag; to the form of what has none."""
        if self.place.group is Group.LEG or not self._items:
            self.query_one(Form).go_to(None)
        else:
            self.query_one("#trip-items").focus()

    @on(OptionList.OptionSelected, "#trip-items")
    def _open_item(self) -> None:
        self.action_into_bag()

    @on(OptionList.OptionSelected, "#findings")
    def _jump(self) -> None:
        result = self.query_one(Findings).selected
        if result is not None:
            self.select_entry(result.item)
            self.query_one(Form).go_to(result.key or None)

    def select_entry(self, entry: int | None) -> None:
        """Put the cursor on the row whose form is that of an entry; it stays in the bag where that has the row."""
        # Each list would tell later that its cursor moved, and the one that tells last would win.
        with self.prevent(OptionList.OptionHighlighted):
            is_there = self._go_to_item(entry)
            self._is_on_item = is_there or (not self._go_to_place(entry) and self._go_to_item(entry))
        self._show_selected()

    def _go_to_item(self, entry: int | None) -> bool:
        """Put the cursor of the lower list on an entry; say whether it has it."""
        found = [number for number, row in enumerate(self._items) if row.entry == entry and entry is not None]
        if found:
            self.query_one("#trip-items", Listing).go_to(found[0])
        return bool(found)

    def _go_to_place(self, entry: int | None) -> bool:
        """Put the cursor of the upper list on an entry, else on the trip as a whole; say whether it has it."""
        found = [number for number, row in enumerate(self._places) if row.has_form and row.entry == entry]
        self.query_one("#places", Listing).go_to(found[0] if found else 0)
        self._show_items(0)
        return bool(found)

    def show_step(self, difference: Difference | None) -> None:
        """Show everything after an undo, the cursor on the entry that changed; the focus stays where it is."""
        focused, entry = self.focused, difference.item if difference else None
        if difference is not None and difference.way is Way.REMOVED:
            self._follow, entry = difference.tag, None  # the entry that has its number now is another one
        self.refresh_all()
        if entry is not None and entry < len(self.contents.items):
            self.select_entry(entry)
        if focused is not None:
            focused.focus()

    def action_left(self) -> None:
        """Go from the form to the items, and from there to the bags."""
        in_form = self.query_one(Form).has_focus_within
        target = "#trip-items" if in_form and self._is_on_item else "#places"
        self.query_one(target).focus()

    def action_right(self) -> None:
        """Go from the bags to the items, and from there to the form."""
        if self.query_one("#places").has_focus and self._items:
            self.query_one("#trip-items").focus()
        else:
            self.query_one(Form).go_to(None)

    def action_next(self) -> None:
        """Focus the findings; once there, go to the next one."""
        findings = self.query_one(Findings)
        if not findings.display:
            self.notify("There are no findings.", markup=False)
            return
        if findings.has_focus:
            findings.action_cursor_down()
        findings.focus()

    def action_explain(self) -> None:
        """Read the finding under the cursor in full; else all that is said below the lists."""
        result = self.query_one(Findings).selected if self.query_one(Findings).has_focus else None
        if result is not None:
            page, title = result_page(result), subject(result, self.trip)
        elif self.found is None:
            return
        else:
            row = self.selected_item
            page = about_item(self.found, row) if row else about_place(self.found, self.place)
            title = row.name if row else str(self.place.cells[0])
        self.read_page(title, page)

    def action_reload(self) -> None:
        """Read the kits again, and work the packing out again."""
        self.pack_from_nothing()
        self.show_packing()

    # ---- leaving ----

    def back(self) -> None:
        """Stop packing; else go back to the files of this folder, after asking about edits that are not saved."""
        if self.is_working:
            self.stop_packing()
            self.show_packing()
        else:
            self.leave(self.go_back)

    def go_back(self) -> None:
        """Go back to the files of this folder."""
        self.shell.show_shelf(self.document.path.parent, self.document.path)


NOT_PACKED = "not packed: g packs"
STOPPED = "Not packed: stopped. g packs the trip."
EARLIER = "Bags as they were before the last edit"
REPAIRING = "Bags with this item moved; the rest follows"
