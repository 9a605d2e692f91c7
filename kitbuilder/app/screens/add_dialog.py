"""The dialog that adds an item: one search over all kinds and presets, by everyday words."""

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.widgets import Footer, Input, OptionList, Static

from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import BACK, NONE_FITS, Dialog
from kitbuilder.app.widgets.listing import CURSOR, Listing, row_width
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.assess.body import assess_body
from kitbuilder.assess.water import USUAL_WATER, Water, water_named
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE, FileKind
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.additions import Addition, additions, search_additions
from kitbuilder.report.additions import additions_table
from kitbuilder.report.layout import list_rows
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Table


def additions_of_kit(kit: ResolvedKit, water: Water) -> tuple[FileKind, Table]:
    """Give what can be added to a kit, as it would weigh and float there."""
    return KIT_FILE, additions_table(additions(KIT_FILE), kit.header.layout, water, assess_body(kit.linked.diver))


def additions_of_gear() -> tuple[FileKind, Table]:
    """Give what can be added to a gear file, as it weighs and floats in a usual kit."""
    return GEAR_FILE, additions_table(additions(GEAR_FILE), LAYOUTS[0], water_named(USUAL_WATER), assess_body(None))


class AddDialog(Dialog[Addition]):
    """Finds what to add while it is typed. Returns what is under the cursor, None for nothing."""

    BINDINGS: ClassVar[list[BindingType]] = [
        BACK,
        Binding("down", "move(1)", "Down", show=False, priority=True),
        Binding("up", "move(-1)", "Up", show=False, priority=True),
        Binding("pagedown", "page(1)", "Page down", show=False, priority=True),
        Binding("pageup", "page(-1)", "Page up", show=False, priority=True),
        Binding("enter", "take", "Add", tooltip="Add the item under the cursor.", priority=True),
    ]

    def __init__(self, file: FileKind, table: Table, system: System) -> None:
        """Offer all that can be added.

        Args:
            file: What it is added to.
            table: One row for each of its additions, in their order.
            system: The reader's units.
        """
        super().__init__()
        self._file, self._table, self._system = file, table, system
        self._offered: tuple[Addition, ...] = ()
        self._rows: dict[Addition, Content] = {}

    def compose(self) -> ComposeResult:
        """Lay out the line to type in, the heads of the columns, and the list."""
        with Vertical(classes="dialog", id="add") as dialog:
            dialog.border_title = "Add an item"
            yield Input(placeholder="torch, wetsuit, regulator, steel 12, ...", compact=True, id="narrow")
            yield Static("", id="add-head", markup=False)
            yield Listing(id="choices")
        yield Footer()

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the rows out for the room there is, and show those that fit what is typed."""
        self.call_after_refresh(self._lay_out)

    def _lay_out(self) -> None:
        listing = self.query_one(Listing)
        known = additions(self._file)
        head, rows = list_rows(self._table, row_width(listing.size, len(known)), self._system)
        self.query_one("#add-head", Static).update(Content(" " * len(CURSOR)) + styled_line(head))
        self._rows = dict(zip(known, map(styled_line, rows), strict=True))
        self._offer(self.query_one(Input).value, listing.highlighted or 0)

    @on(Input.Changed)
    def _narrow(self, event: Input.Changed) -> None:
        self._offer(event.value, 0)

    def _offer(self, typed: str, cursor: int) -> None:
        self._offered = search_additions(typed, self._file)
        if self._rows:
            rows = [self._rows[addition] for addition in self._offered]
            self.query_one(Listing).show_rows(rows or [Content.styled(NONE_FITS, "$foreground-muted")], cursor)

    @on(OptionList.OptionSelected)
    def _clicked(self, _event: OptionList.OptionSelected) -> None:
        self.action_take()

    def action_move(self, by: int) -> None:
        """Move the cursor in the list while the line keeps the focus."""
        listing = self.query_one(Listing)
        listing.action_cursor_down() if by > 0 else listing.action_cursor_up()

    def action_page(self, by: int) -> None:
        """Move the cursor by a page while the line keeps the focus."""
        listing = self.query_one(Listing)
        listing.action_page_down() if by > 0 else listing.action_page_up()

    def action_take(self) -> None:
        """Give what is under the cursor."""
        number = self.query_one(Listing).highlighted or 0
        if number < len(self._offered):
            self.answer(self._offered[number])

    def action_back(self) -> None:
        """Close without adding anything."""
        self.answer(None)
