"""The shelf: the kits of a folder."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar, NamedTuple

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.geometry import Size
from textual.message import Message
from textual.widgets import Footer, OptionList, Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import READING_WIDTH, Choose, TextPage, TypeName
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.app.widgets.signal_rows import signal_rows
from kitbuilder.app.widgets.title_bar import TitleBar, not_used_line
from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE
from kitbuilder.kitfile.disk import Over, UnreadableFile, complain_of_name, kit_paths, save_text, with_ending
from kitbuilder.kitfile.folder import files_holding
from kitbuilder.kitfile.journal import rename_with_journals
from kitbuilder.kitfile.read import read
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.kitfile.starters import gear_text
from kitbuilder.kitfile.values import Refusal
from kitbuilder.report.balance import lead_estimate
from kitbuilder.report.cells import format_line
from kitbuilder.report.findings import counted
from kitbuilder.report.form import Choice
from kitbuilder.report.layout import lay_out
from kitbuilder.report.linked import problems_of
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Column, Row, Sentence, Table, Tag
from kitbuilder.report.totals import estimates
from kitbuilder.report.words import CAUTIONS

AT_ONCE = 20
"""Kits read before the screen is drawn, and then each time it is idle."""


class KitEntry(NamedTuple):
    """One kit file on the shelf."""

    path: Path
    reading: ParseResult
    assessment: Assessment | None


class KitList(Listing):
    """The rows of the shelf."""

    class Resized(Message):
        """The room for the rows is another: what is said below them grows and shrinks."""

    def on_resize(self) -> None:
        """Ask for rows of the new size."""
        self.post_message(self.Resized())


class Shelf(KitbuilderScreen):
    """The kits of a folder: layout, hoses, mass, buoyancy and the worst finding of each."""

    NAME = "shelf"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "new side_by_side changeover gear menu keys quit",
        "fewest rename units reload",
    )

    def __init__(self, folder: Path, select: Path | None = None) -> None:
        """Show a folder, the cursor on one of its files."""
        super().__init__()
        self.folder = folder
        self._select = select
        self._books: list[KitEntry] = []
        self._unread: list[Path] = []
        self._complaint = ""

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the kits, what there is to say about the selected one, and the keys."""
        yield TitleBar()
        with Container(id="kits") as kits:
            kits.border_title = "Kits, and the mass and buoyancy of their hoses"
            yield Static("", id="columns", markup=False)
            yield KitList(id="books")
        yield Static("", id="about", markup=False)
        yield Footer(compact=True)

    def on_mount(self) -> None:
        """Read the first kits."""
        self.query_one(Listing).focus()
        self.action_reload()

    def action_reload(self) -> None:
        """Read the folder again."""
        self._complaint = ""
        try:
            self._unread = list(kit_paths(self.folder))
        except UnreadableFile as error:
            self._unread, self._complaint = [], str(error)
        self._books = []
        self._read_some()

    def _read_some(self) -> None:
        """Read a few kits, show them, and go on when the screen has had its turn."""
        now, self._unread = self._unread[:AT_ONCE], self._unread[AT_ONCE:]
        self._books += [book for path in now if (book := _read_book(path))]
        self.lay_out()
        if self._unread:
            self.call_later(self._read_some)

    @on(KitList.Resized)
    def lay_out(self) -> None:
        """Show the kits read so far at the present width."""
        listing = self.query_one(Listing)
        size = Size(max(self.size.width, 60), listing.size.height)
        heads, rows = _rows(self._books, size, self.system)
        self.query_one("#columns", Static).update(Content(NO_CURSOR) + heads)
        paths = [book.path for book in self._books]
        cursor = paths.index(self._select) if self._select in paths else None
        if cursor is not None:
            self._select = None
        listing.show_rows(rows, cursor)
        more = f", reading {len(self._unread)} more" if self._unread else ""
        self.query_one(TitleBar).show("shelf", str(self.folder), right=f"{len(self._books)} kits{more}")
        self._show_about()

    @on(OptionList.OptionHighlighted)
    def _show_about(self) -> None:
        self.query_one("#about", Static).update(Content.assemble(self._about(), "\n", (CAUTIONS, "$foreground-muted")))

    def _about(self) -> Content:
        book = self._book()
        if book is None:
            return Content(self._complaint or "No kit files here. n makes a new one.")
        if book.assessment is None:
            first, *others = book.reading.problems
            more = f"\nand {len(others)} more; enter shows them" if others else ""
            return Content(visible(first.located(book.path.name)) + more)
        balance = book.assessment.balance
        lead: Sentence = (" · lead ", lead_estimate(balance)) if balance else ()
        words = (f"{book.path.name} · findings: {counted(book.assessment.findings)}", *lead)
        about = format_line(words, self.system)
        not_used = not_used_line(book.assessment.kit.linked.problems, self.size.width)
        return Content.assemble(about, (f"\n{not_used}" if not_used else "", "bold $text-warning"))

    def _book(self) -> KitEntry | None:
        number = self.query_one(Listing).highlighted
        return self._books[number] if number is not None and number < len(self._books) else None

    @on(OptionList.OptionSelected)
    def action_open(self) -> None:
        """Open the kit under the cursor."""
        if book := self._book():
            self.shell.open_kit(book.path)

    def action_new(self) -> None:
        """Ask what the kit is, write it and open it."""
        from kitbuilder.app.screens.new_kit_dialog import NewKitDialog  # not needed for the first screen

        self.app.push_screen(NewKitDialog(self.folder), self._make_new)

    def _make_new(self, given: dict[str, str] | None) -> None:
        if given is None:
            return
        from kitbuilder.commands.making import answers_of, make_kit
        from kitbuilder.report.new import NewKit, new_kit_page

        path = self.folder / with_ending(given["name"])
        try:
            made = make_kit(path, *answers_of(given), self.system)
        except OSError as error:
            self._say_refused("Not made", error)
            return
        except Refusal as refusal:
            self.notify(f"{refusal} Nothing was written.", title="Not made", severity="error", markup=False)
            return
        page = new_kit_page(
            NewKit(path.name, made.diver.name if made.diver else None, made.assessment, made.plan, is_open=True)
        )
        self.shell.open_kit(path)
        self.app.push_screen(TextPage("New kit", styled(lay_out(page, READING_WIDTH, self.system))))

    def action_rename(self) -> None:
        """Ask for another file name."""
        if book := self._book():
            ask = TypeName("Rename the file", book.path.name, lambda name: complain_of_name(self.folder, name))
            self.app.push_screen(ask, lambda name: self._rename(book.path, name))

    def _rename(self, path: Path, name: str | None) -> None:
        if name is None:
            return
        try:
            self._select = rename_with_journals(path, name)
        except OSError as error:
            self._say_refused("Not renamed", error)
        self.action_reload()

    def _say_refused(self, title: str, error: OSError) -> None:
        reason = f"{error.strerror or error}. Nothing was changed."
        self.notify(reason[0].upper() + reason[1:], title=title, severity="error", markup=False)

    def action_side_by_side(self) -> None:
        """Ask for the other kit and show both."""
        book = self._book()
        readable = {
            other.path.name: other.assessment for other in self._books if other.assessment and other is not book
        }
        if book is None or book.assessment is None or not readable:
            self.notify("Two kits that can be read are needed.", severity="warning", markup=False)
            return
        left = book.assessment
        choices = [Choice(name, other.kit.header.name) for name, other in readable.items()]

        def show(name: str | None) -> None:
            if name is not None:
                self.shell.show_beside((book.path, left), (self.folder / name, readable[name]))

        self.app.push_screen(Choose(f"Beside {left.kit.header.name}", choices), show)

    def action_changeover(self) -> None:
        """Ask for the other kit and show how this one is rebuilt as it."""
        book = self._book()
        others = {other.path.name: other for other in self._books if other.assessment and other is not book}
        if book is None or book.assessment is None or not others:
            self.notify("Two kits that can be read are needed.", severity="warning", markup=False)
            return
        choices = [
            Choice(name, other.assessment.kit.header.name)
            for name, other in others.items()
            if other.assessment is not None
        ]

        def show(name: str | None) -> None:
            if name is not None:
                self._plan_changeover(book, others[name])

        self.app.push_screen(Choose(f"Rebuild {book.assessment.kit.header.name} as", choices), show)

    def _plan_changeover(self, source: KitEntry, target: KitEntry) -> None:
        from kitbuilder.plans.changeover import Unbuildable, plan_changeover
        from kitbuilder.report.changeover import unbuildable_page

        assert source.assessment is not None
        assert target.assessment is not None
        try:
            on = target.assessment.kit.header.day or self.shell.day
            plan = plan_changeover(source.assessment, target.assessment, day=on)
        except Unbuildable as problem:
            files = (source.path.name, target.path.name)
            kits = (source.assessment.kit, target.assessment.kit)
            linked = problems_of(zip(files, kits, strict=True))
            page = unbuildable_page(problem, source.assessment.kit, files, linked)
            self.app.push_screen(TextPage("No changeover", styled(lay_out(page, READING_WIDTH, self.system))))
            return
        self.shell.show_changeover(plan, source.path, target.path)

    def action_gear(self) -> None:
        """Open the gear file this kit names, else one of the folder; offer to make one where there is none."""
        book = self._book()
        named = book.assessment.kit.header.gear if book and book.assessment else None
        there = (named,) if named else files_holding(self.folder, GEAR_FILE.name)
        if len(there) == 1:
            self.shell.show_gear(self.folder / there[0])
        elif there:
            ask = Choose("Which gear file", [Choice(name, "") for name in there])
            self.app.push_screen(ask, lambda name: self.shell.show_gear(self.folder / name) if name else None)
        else:
            ask_name = TypeName("New gear file: name", "gear.toml", lambda name: complain_of_name(self.folder, name))
            self.app.push_screen(ask_name, self._make_gear)

    def _make_gear(self, name: str | None) -> None:
        if name is None:
            return
        try:
            save_text(self.folder / name, gear_text(), Over.NOTHING)
        except OSError as error:
            self._say_refused("Not made", error)
            return
        self.shell.show_gear(self.folder / name)

    def action_fewest(self) -> None:
        """Show the smallest set of hoses for this kit and the sound ones of the same gear file."""
        book = self._book()
        gear = book.assessment.kit.header.gear if book and book.assessment else None
        alike = [
            other.path.name
            for other in self._books
            if gear
            and other.assessment
            and other.assessment.kit.header.gear == gear
            and other.assessment.worst is not Signal.DANGER
        ]
        own = [book.path.name] if book and book.assessment else []
        self.shell.show_fewest(self.folder, [*dict.fromkeys((*own, *alike))])


def _read_book(path: Path) -> KitEntry | None:
    """Read a kit, or a file that might be one; None for a file that says it holds something else."""
    reading = read(path)
    if reading.file is not KIT_FILE:
        return None
    assessment = assess(reading.resolved) if reading.resolved else None
    return KitEntry(path, reading, assessment)


def _rows(books: Sequence[KitEntry], size: Size, system: System) -> tuple[Content, list[Content]]:
    """Give the heads, and a row for each file; one that cannot be read has the colour of an error."""
    columns = [
        Column("", "kit", may_wrap=True),
        Column("", "layout"),
        Column("", "hoses"),
        Column("", "mass", unit_in_head=True),
        Column("", "buoyancy", unit_in_head=True),
    ]
    table = Table("", columns, [_row(book) for book in books])
    heads, rows = signal_rows(table, [_worst(book) for book in books], size, system)
    pairs = zip(books, rows, strict=True)
    return heads, [row if book.assessment else Content.styled(row.plain, UNREADABLE) for book, row in pairs]


def _row(book: KitEntry) -> Row:
    if book.assessment is None:
        return [Tag(book.path.name), "cannot be read", None, None, None]
    header, hoses = book.assessment.kit.header, book.assessment.all_hoses
    return [Tag(header.name), header.layout, len(book.assessment.hoses), *estimates(hoses)]


def _worst(book: KitEntry) -> Signal | str:
    if book.assessment is None:
        return ""
    return book.assessment.worst or "none"


UNREADABLE = "bold $text-error"
