"""The shelf: the kits of a folder."""

import asyncio
import os
import time
from pathlib import Path
from typing import ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.geometry import Size
from textual.widgets import OptionList, Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import TypeName
from kitbuilder.app.screens.first_steps import OFFERS, empty_words, offer_rows, open_other, show_demo
from kitbuilder.app.screens.gear_question import open_gear, say_refused
from kitbuilder.app.screens.kit_pairs import (
    KitChoice,
    ask_beside,
    ask_divers,
    ask_pair,
    kits_for_fewest,
    plan_changeover_of,
)
from kitbuilder.app.screens.shelf_files import KitEntry, TripEntry, read_entry
from kitbuilder.app.widgets.column_heads import ColumnHeads
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.kit_list import KitList
from kitbuilder.app.widgets.listing import Listing, row_width
from kitbuilder.app.widgets.page_view import styled, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar, not_used_line
from kitbuilder.foreign import visible
from kitbuilder.kitfile.disk import UnreadableFile, complain_of_name, kit_paths, with_ending
from kitbuilder.kitfile.journal import rename_with_journals, unsaved_among
from kitbuilder.kitfile.stamps import Stamp, stamps_in
from kitbuilder.report.lines import Line
from kitbuilder.report.lines import plain as line_text
from kitbuilder.report.page import Page
from kitbuilder.report.shelf import (
    ShelfKit,
    ShelfTrip,
    preview_lines,
    preview_title,
    shelf_columns,
    shelf_page,
    shelf_rows,
    trip_preview,
)
from kitbuilder.report.sorting import order_written, written_order
from kitbuilder.report.words import counted_items

AT_ONCE_S, SLICE_S = 0.3, 0.05
"""Seconds of reading before the screen is drawn, and then each time it is idle: keys never wait longer."""
LINES_OF_SHELF, LEAST_PREVIEW = 3, 8
"""One line in three of the terminal says what there is to say about the kit under the cursor, and eight at least."""


class Shelf(KitbuilderScreen):
    """The kits of a folder: layout, mass, lead and the worst finding of each."""

    NAME = "shelf"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "new filter side_by_side pair changeover menu keys quit",
        "gear copy export document mark sort fewest swaps new_trip rename demo open_other units reload back",
    )

    def __init__(self, folder: Path, select: Path | None = None) -> None:
        """Show a folder, the cursor on one of its files."""
        super().__init__()
        self.folder = folder
        self._select = select
        self._books: list[KitEntry] = []
        self._trips: list[TripEntry] = []
        """Below the kits."""
        self._shown: list[KitEntry | TripEntry] = []
        """What the rows stand for: the kits, then the trips, as far as they were read when the rows were laid out."""
        self._unread: list[Path] = []
        self._left = 0
        """Files that were not read because the reading was stopped."""
        self._complaint = ""
        self._heads: Line = ()
        self._unsaved, self._changed = frozenset[Path](), frozenset[Path]()
        """Files with edits that are not saved, and those that another program changed while they were shown."""
        self._is_to_be_made = not os.path.lexists(folder)
        """Whether the folder is not there yet; it is made with its first file."""

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the kits, what there is to say about the selected one, and the keys."""
        yield TitleBar()
        with Container(id="kits"):
            yield ColumnHeads(id="columns")
            yield KitList(id="books")
        yield Static("", id="about", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Read the first kits."""
        listing = self.query_one(Listing)
        listing.order = order_written(self.shell.shelf_order)
        listing.focus()
        self.action_reload()

    def action_reload(self) -> None:
        """Read the folder again."""
        self._complaint = ""
        self._is_to_be_made = self._is_to_be_made and not os.path.lexists(self.folder)
        try:
            self._unread = [] if self._is_to_be_made else list(kit_paths(self.folder))
        except UnreadableFile as error:
            self._unread, self._complaint = [], str(error)
        self._books, self._trips, self._left = [], [], 0
        self._read_some(AT_ONCE_S)
        if self._unread:
            self._read_rest()

    def stamps(self) -> dict[Path, Stamp | None]:
        """Give the stamps of all files of the folder; journals tell of unsaved edits."""
        return stamps_in(self.folder)

    def changed_outside(self, changed: frozenset[Path]) -> bool:
        """Read again what another program changed: one kit by itself, everything after any other change."""
        if self._unread:
            return False
        written = frozenset(path for path in changed if path.suffix != ".unsaved")
        self._changed |= written
        places = {book.path: place for place, book in enumerate(self._books)}
        if written <= places.keys() and all(path.exists() for path in written):
            for path in written:
                read = read_entry(path)
                self._books[places[path]] = read if isinstance(read, KitEntry) else self._books[places[path]]
            self._show_read()
        else:
            entry = self._entry()
            self._select = entry.path if entry else None
            self.action_reload()
        return True

    def _show_read(self) -> None:
        """Show the kits, those with unsaved edits marked."""
        self._unsaved = unsaved_among({each.path: each.reading.text for each in self._entries})
        self.lay_out()

    def _read_some(self, seconds: float = SLICE_S) -> None:
        """Read kits for a moment, and show how far it is."""
        until, first = time.monotonic() + seconds, not self._books
        while self._unread:
            match read_entry(self._unread.pop(0)):
                case KitEntry() as book:
                    self._books.append(book)
                case TripEntry() as trip:
                    self._trips.append(trip)
            if time.monotonic() >= until:
                break
        if not self._unread:
            self._show_read()
            return
        if first or len(self._books) >= 2 * len(self.query_one(Listing).rows):
            self.lay_out()  # rarely: with every kit all rows are laid out again
        self._show_title()

    @work(exclusive=True, group="reading")
    async def _read_rest(self) -> None:
        """Read what is left, a moment at a time. A message to oneself would not let a key in between."""
        while self._unread:
            self._read_some()
            await asyncio.sleep(0)

    def back(self) -> None:
        """Stop reading a large folder; what is read stays."""
        if self._unread:
            self._left, self._unread = len(self._unread), []
            self._show_read()

    @on(KitList.Resized)
    def lay_out(self) -> None:
        """Show the kits read so far at the present width."""
        listing = self.query_one(Listing)
        size = Size(max(self.size.width, 60), listing.size.height)
        marks = {each.path: number for number, each in enumerate(self._marked, 1)}
        kits = [self._shelf_kit(book)._replace(mark=marks.get(book.path, 0)) for book in self._books]
        trips = [self._shelf_trip(trip) for trip in self._trips]
        listing.can_sort_by(shelf_columns(kits, trips))
        width, is_plain = row_width(size, len(self._entries)), self.shell.plain_pictures
        heads, lines = shelf_rows(kits, width, self.system, plain=is_plain, trips=trips)
        self._heads = () if self._is_empty else heads
        self._show_heads()
        rows = [
            styled_line(line) if each.reading.contents else Content.styled(line_text(line), UNREADABLE)
            for each, line in zip(self._entries, lines, strict=True)
        ]
        cursor = self._cursor([each.path for each in self._entries])
        listing.can_find_by([each.path.name for each in self._entries])  # trips of one kit may have one name
        self._shown = self._entries
        listing.show_rows(offer_rows() if self._is_empty else rows, cursor)
        self._show_title()
        self._show_about()

    def _cursor(self, paths: list[Path]) -> int | None:
        """Give the row that the cursor goes to: that of the selected file, else of the file that it is on."""
        if self._select is not None and self._select in paths:
            selected, self._select = self._select, None
            return paths.index(selected)
        entry = self._entry()
        there = paths.index(entry.path) if entry and entry.path in paths else None
        return None if there == self.query_one(Listing).place else there

    def _show_title(self) -> None:
        """Show the folder, and how far it is read."""
        more = f", reading {len(self._unread)} more, esc stops" if self._unread else ""
        left = f", {self._left} not read: {self.key_of('reload')} reads all" if self._left else ""
        count, marked = counted_items(len(self._books), "kit"), len(self._marked)
        count = f"{marked} of {count} marked" if marked else count
        count += f", {counted_items(len(self._trips), 'trip')}" if self._trips else ""
        self.query_one(TitleBar).show("shelf", str(self.folder), right=count + (more or left))

    def _show_heads(self) -> None:
        """Show the heads of the columns, and by which of them the kits are sorted."""
        listing = self.query_one(Listing)
        self.query_one(ColumnHeads).show(self._heads, listing)
        self.query_one("#kits").border_title = f"Kits{listing.order_words}" if listing.order_words else KITS

    def sort_by(self, listing: Listing, column: str) -> None:
        """Sort the kits by a column, this time and from now on."""
        super().sort_by(listing, column)
        self.shell.keep_order(written_order(listing.order))
        self._show_heads()

    @on(OptionList.OptionHighlighted)
    def _show_about(self) -> None:
        book, trip, about = self._book(), self._trip(), self.query_one("#about", Static)
        room = max(self.size.height // LINES_OF_SHELF, LEAST_PREVIEW)
        if trip is not None:
            about.border_title = Content(visible(trip.path.name))
            about.update(styled(trip_preview(self._shelf_trip(trip), self.size.width, room, self.system)))
            return
        if book is None:
            about.border_title = ""
            about.update(Content(self._complaint or empty_words(self.folder)))
            return
        kit = self._shelf_kit(book)
        about.border_title = Content(preview_title(kit))
        lines = [styled_line(line) for line in preview_lines(kit, self.size.width, room, self.system)]
        linked = book.assessment.kit.linked.problems if book.assessment else ()
        if not_used := not_used_line(linked, self.size.width):
            lines.append(Content.styled(not_used, "bold $text-warning"))
        about.update(Content("\n").join(lines))

    def _shelf_kit(self, book: KitEntry) -> ShelfKit:
        path = book.path
        is_changed, is_unsaved = path in self._changed, path in self._unsaved
        return ShelfKit(path.name, book.assessment, book.reading.problems, is_unsaved=is_unsaved, is_changed=is_changed)

    def _shelf_trip(self, entry: TripEntry) -> ShelfTrip:
        path, reading = entry.path, entry.reading
        sign = "* " if path in self._unsaved else "~ " if path in self._changed else ""
        return ShelfTrip(path.name, reading.trip, reading.problems, sign)

    @property
    def _is_empty(self) -> bool:
        """Whether there is nothing to show, and nothing that keeps files from being shown."""
        return not (self._entries or self._unread or self._complaint)

    @property
    def _entries(self) -> list[KitEntry | TripEntry]:
        """The files read so far: the kits, then the trips."""
        return [*self._books, *self._trips]

    def _entry(self) -> KitEntry | TripEntry | None:
        """Give the file under the cursor."""
        number = self.query_one(Listing).place
        return self._shown[number] if number is not None and number < len(self._shown) else None

    def _trip(self) -> TripEntry | None:
        entry = self._entry()
        return entry if isinstance(entry, TripEntry) else None

    def _book(self) -> KitEntry | None:
        entry = self._entry()
        return entry if isinstance(entry, KitEntry) else None

    @on(OptionList.OptionSelected)
    async def action_open(self) -> None:
        """Open the file under the cursor; on an empty shelf, do what is offered there."""
        number = self.query_one(Listing).highlighted
        if entry := self._entry():
            self.shell.open_kit(entry.path)
        elif self._is_empty and number is not None:
            await self.run_action(OFFERS[number].action)

    def action_demo(self) -> None:
        """Copy the demo kits, over nothing, and show them."""
        show_demo(self, self.folder)

    def action_open_other(self) -> None:
        """Ask for another folder or file, and show it."""
        open_other(self, self.folder)

    def action_new(self) -> None:
        """Ask what the kit is, write it and open it."""
        from kitbuilder.app.screens.new_kit_dialog import ask_new_kit  # not needed for the first screen

        ask_new_kit(self, self.folder)

    def action_new_trip(self) -> None:
        """Ask about a trip with the marked kits, else with the one under the cursor; write it and open it."""
        from kitbuilder.app.screens.new_trip_dialog import ask_new_trip  # not needed for the first screen

        book = self._book()
        kits = self._marked or ([book] if book and book.assessment else [])
        ask_new_trip(self, self.folder, [(kit.path.name, kit.assessment.kit) for kit in kits if kit.assessment])

    def action_rename(self) -> None:
        """Ask for another file name."""
        if entry := self._entry():
            ask = TypeName("New name of the file", entry.path.name, self._complain_of)
            self.app.push_screen(ask, lambda name: self._rename(entry.path, name))

    def _rename(self, path: Path, name: str | None) -> None:
        if name is None:
            return
        try:
            self._select = rename_with_journals(path, with_ending(name))
            self._stamps = self.stamps()
        except OSError as error:
            say_refused(self, "Not renamed", error)
        self.action_reload()

    def _complain_of(self, name: str) -> str | None:
        """Say what is wrong with a name for a new file of this folder; its ending may be left out."""
        return complain_of_name(self.folder, with_ending(name))

    # ---- several kits ----

    @property
    def _marked(self) -> list[KitEntry]:
        """The marked kits of this folder that can be read, in the order in which they were marked."""
        readable = {book.path: book for book in self._books if book.assessment}
        return [readable[path] for path in self.shell.marked if path in readable]

    def action_mark(self) -> None:
        """Mark the kit under the cursor, or take its mark back."""
        if (book := self._book()) is None:
            if self._trip():
                self.notify("This is a trip. Kits are marked.", markup=False)
            return
        if book.assessment is None:
            self.notify(f"{book.path.name} cannot be read.", severity="warning", markup=False)
            return
        marked = self.shell.marked
        taken_back = tuple(path for path in marked if path != book.path)
        self.shell.marked = taken_back if book.path in marked else (*marked, book.path)
        self.lay_out()

    def action_side_by_side(self) -> None:
        """Show two to four kits side by side."""
        ask_beside(self, self._choice_of_kits())

    def action_pair(self) -> None:
        """Show what the divers of two kits, or of three marked ones, must agree on."""
        ask_divers(self, self._choice_of_kits())

    def action_changeover(self) -> None:
        """Show how one kit is rebuilt as another."""
        ask_pair(self, "Kit to rebuild {} as", self._choice_of_kits(), plan_changeover_of)

    def _choice_of_kits(self) -> KitChoice:
        return KitChoice(self._books, self._marked, self._book())

    def action_gear(self) -> None:
        """Open the gear file this kit names, else one of the folder; offer to make one where there is none."""
        book = self._book()
        open_gear(self, self.folder, book.assessment.kit.header.gear if book and book.assessment else None)

    def whole_page(self) -> Page | None:
        """Give the kits in rows; None before there is one."""
        kits, trips = map(self._shelf_kit, self._books), map(self._shelf_trip, self._trips)
        return None if self._is_empty else shelf_page([*kits], [*trips])

    def page_path(self) -> Path:
        """Give the path of a file for the list, in the folder."""
        return self.folder / "kits"

    def action_fewest(self) -> None:
        """Show the smallest set of hoses for the marked kits; else for this one and sound ones of its gear file."""
        self.shell.show_fewest(self.folder, kits_for_fewest(self._choice_of_kits()))

    def action_swaps(self) -> None:
        """Open the kit or the trip under the cursor with its swaps in front."""
        if entry := self._entry():
            self.shell.show_swaps(entry.path)


UNREADABLE = "bold $text-error"
KITS = "Kits, what they weigh, and the lead to be neutral at the stop"
