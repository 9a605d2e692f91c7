"""The dialog that adds an item: one search over all kinds and presets, by everyday words."""

from textual import events
from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Footer, Input, Static

from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import Narrowing
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


class AddDialog(Narrowing[Addition]):
    """Finds what to add while it is typed. Returns what is under the cursor, None for nothing."""

    def __init__(self, file: FileKind, table: Table, system: System) -> None:
        """Offer all that can be added.

        Args:
            file: What it is added to.
            table: One row for each of its additions, in their order.
            system: The reader's units.
        """
        super().__init__()
        self._file, self._table, self._system = file, table, system
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
        self.offer(self.narrowed, listing.place or 0)

    def offer(self, typed: str, cursor: int) -> None:
        """Show the additions that fit what is typed; as soon as there is room to lay them out."""
        self.answers = search_additions(typed, self._file)
        if self._rows:
            self.show_rows([self._rows[addition] for addition in self.answers], cursor)
