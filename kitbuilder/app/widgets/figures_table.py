"""Mass and buoyancy of the hose under the cursor and of the kit."""

from textual.widgets import Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.assess.assessment import Assessment
from kitbuilder.report.cells import format_line
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import Span
from kitbuilder.report.numbers import System
from kitbuilder.report.totals import brief_totals, hose_words


class Figures(Static):
    """A table of masses and buoyancies, each with its spread; above it those of the hose, in small units."""

    BORDER_TITLE = "Figures"

    def __init__(self, id: str | None = None) -> None:
        """Make an empty table."""
        super().__init__("", id=id, markup=False)
        self._assessment: Assessment | None = None
        self._item: int | None = None
        self._system = System.METRIC

    def show(self, assessment: Assessment, item: int | None, system: System) -> None:
        """Show the figures of an item and of the kit."""
        self._assessment, self._item, self._system = assessment, item, system
        self.refresh()

    def render(self) -> Content:
        """Give the table at its present size; rows that can be left out go first."""
        if self._assessment is None:
            return Content("")
        words = hose_words(self._assessment, self._item)
        lines = [(Span(format_line(words, self._system), "title"),)] if words else []
        room = self.size.height - len(lines) - 1
        head, rows = list_rows(brief_totals(self._assessment, self._item, room), self.size.width, self._system)
        return styled([*lines, head, *rows])
