"""The dialog that adds an item: one search over all kinds and presets, by everyday words."""

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.widgets import Input

from kitbuilder.app.screens.dialogs import Narrowing, none_fits
from kitbuilder.app.widgets.addition_list import AdditionList
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.assess.body import assess_body
from kitbuilder.assess.water import USUAL_WATER, Water, water_named
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE, FileKind
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.additions import Addition, additions, search_additions
from kitbuilder.report.additions import additions_table
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
        self._file = file
        self._list = AdditionList(additions(file), table, system)
        self.answers = additions(file)

    def compose(self) -> ComposeResult:
        """Lay out the line to type in and the list."""
        with Vertical(classes="dialog", id="add") as dialog:
            dialog.border_title = "Add an item"
            yield Input(placeholder="torch, wetsuit, regulator, steel 12, ...", compact=True, id="narrow")
            yield self._list
        yield KeyLine()

    def offer(self, typed: str, cursor: int) -> None:
        """Show the additions that fit what is typed."""
        self.answers = search_additions(typed, self._file)
        self._list.show(self.answers, cursor, none_fits())
