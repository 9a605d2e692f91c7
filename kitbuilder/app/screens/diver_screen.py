"""The diver's page: body, lead available, and float checks, with how to make one."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.buoyancy.float_checks import Seen, evaluate_check
from kitbuilder.assess.doubts import doubt_in_check, doubt_in_diver
from kitbuilder.assess.findings import Words
from kitbuilder.kit.diver import Diver, FloatCheck
from kitbuilder.kit.fields import Field
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.folder import files_holding, kit_in, kit_worn_by
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.report.diver import check_page, checks_list, default_for_diver, first_check
from kitbuilder.report.form import Choice, form_rows, typed_note
from kitbuilder.report.layout import list_rows
from kitbuilder.report.sorting import columns_of

Worn = tuple[str, ResolvedKit]
"""A kit with the name of its file."""


class DiverScreen(Editing):
    """The float checks as a list, the form of one, and what it shows."""

    NAME = "diver's page"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "add save undo menu back keys",
        "copy export document remove filter sort redo save_as left right units quit",
    )

    def __init__(self, document: Document, worn: Worn | None = None, *, new_check: bool = False) -> None:
        """Open a diver document.

        Args:
            document: A diver file that can be read.
            worn: The kit whose balance it was opened from; None when it was opened by itself.
            new_check: Whether to add a float check in that kit at once.
        """
        super().__init__(document)
        self._worn, self._new_check = worn, new_check

    @property
    def diver(self) -> Diver:
        """The diver as the file says now."""
        assert isinstance(self.contents, Diver)
        return self.contents

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the list, the form, how a float check is made, and the keys."""
        yield TitleBar()
        with Container(id="diver-panes"):
            yield Listing(id="checks")
            yield Form(id="form")
            with VerticalScroll(id="procedure"):
                yield PageView(id="procedure-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the diver, or the new float check ready to be filled in."""
        self.query_one("#checks", Listing).name_list("Diver and float checks")
        self.query_one("#procedure").border_title = "How a float check is made"
        self.show_all()
        self.settle_earlier()

    def start(self) -> None:
        """Add the float check this page was opened for; else begin with the body."""
        if self._new_check:
            self.action_add()
        else:
            self.query_one(Form).go_to("stature")
            self.query_one("#checks").focus()

    def lay_out(self) -> None:
        """Show the list at the present width."""
        listing = self.query_one("#checks", Listing)
        table = checks_list(self.diver)
        listing.can_sort_by(columns_of(table._replace(rows=table.rows[1:])), 1)
        _, rows = list_rows(table, max(listing.size.width - len(NO_CURSOR), 0), self.system)
        listing.show_rows([styled_line(row) for row in rows], 0 if self.item is None else self.item + 1)

    def show_all(self) -> None:
        """Show everything."""
        self.lay_out()
        self._show_form()
        self.show_title()
        self.show_figures(self.document.reading)

    def _show_form(self) -> None:
        title = "diver" if self.record is None else f"float check: {self.record.tag}"

        def taken(field: Field) -> str:
            return default_for_diver(self.diver, self.record, field, self.system)

        rows = form_rows(self.contents, self.raw_values, self.item, self.system, taken)
        self.query_one(Form).show(title, rows, self.kept_keys(), self.system)

    def show_title(self) -> None:
        """Show the diver and the file."""
        name = f"{self.diver.header.name} · {self.document.path.name}"
        self.query_one(TitleBar).show("diver", name, unsaved=self.document.is_dirty)

    def show_figures(self, reading: ParseResult) -> None:
        """Show how a float check is made, and what the selected one shows."""
        assert isinstance(reading.contents, Diver)
        check, kit, seen = self._seen(reading.contents)
        self.query_one("#procedure-lines", PageView).show(check_page(check, kit, seen), self.system)

    def _seen(self, diver: Diver) -> tuple[FloatCheck | None, ResolvedKit | None, Seen | None]:
        """Give the selected float check, the kit that was worn, and what is computed for both."""
        check = None if self.item is None else diver.items[self.item]
        kit = kit_worn_by(self.document.path, check.kit, diver) if check else None
        return check, kit, evaluate_check(check, kit) if check and kit else None

    def doubt(self, reading: ParseResult, field: Field) -> Words:
        """Say why what is typed is more likely a slip."""
        assert isinstance(reading.contents, Diver)
        if self.item is None:
            return doubt_in_diver(self.diver, reading.contents, field.key)
        return doubt_in_check(self._seen(reading.contents)[2], len(reading.contents.items), field.key)

    def typed_note(self, reading: ParseResult, field: Field) -> str:
        """Give the typed value in other units."""
        assert reading.contents is not None
        return typed_note(reading.contents, self.item, field, self.system)

    @on(OptionList.OptionHighlighted, "#checks")
    def _select(self) -> None:
        number = self.query_one("#checks", Listing).place
        selected = number - 1 if number else None
        if selected != self.item:
            self.item = selected
            self._show_form()
            self.show_figures(self.document.reading)

    @on(OptionList.OptionSelected, "#checks")
    def _open_form(self) -> None:
        self.query_one(Form).go_to(None)

    def action_add(self) -> None:
        """Ask in which kit, the cursor on the one this page was opened from, and add a float check."""
        kits = files_holding(self.document.path.parent, "kit")
        if not kits:
            self.notify("This folder has no kit file for a float check.", severity="warning", markup=False)
            return
        worn = self._worn[0] if self._worn else ""
        self.app.push_screen(Choose("Kit of the float check", [Choice(name, "") for name in kits], worn), self._add_in)

    def _add_in(self, name: str | None) -> None:
        if self._worn is not None and name == self._worn[0]:
            self._add(self._worn)
        elif name is not None and (kit := kit_in(self.document.path.parent, name)):
            self._add((name, kit))

    def _add(self, worn: Worn) -> None:
        name, kit = worn
        values = first_check(name, self.document.free_tag("float check"), kit)
        last = len(self.diver.items) - 1

        def add() -> None:
            self.item = self.document.add_item("float_check", values, last if last >= 0 else None)

        if self.try_edit(add):
            self.query_one(Form).go_to("seen")

    def action_left(self) -> None:
        """Focus the list."""
        self.query_one("#checks").focus()

    def back(self) -> None:
        """Go back to where you came from, after asking about edits that are not saved."""
        self.leave(self.go_back)

    def go_back(self) -> None:
        """Go back to the balance, or to the kits of the folder."""
        if self._worn is None:
            self.shell.show_shelf(self.document.path.parent)
        else:
            self.dismiss()
