"""Mass and buoyancy of the hose under the cursor and of the kit."""

from textual.widgets import Static

from kitbuilder.app.content import Content
from kitbuilder.assess.assessment import Assessment
from kitbuilder.report.numbers import System
from kitbuilder.report.tables import WeightRow, item_weight_row, total_rows


class Figures(Static):
    """A table of masses and buoyancies, each with its spread, numbers aligned on the decimal point."""

    BORDER_TITLE = "Figures"

    def __init__(self, id: str | None = None) -> None:
        """Make an empty table."""
        super().__init__("", id=id, markup=False)
        self._item: WeightRow | None = None
        self._totals: tuple[WeightRow, ...] = ()

    def show(self, assessment: Assessment, item: int | None, system: System) -> None:
        """Show the figures of an item and of the kit."""
        self._item = None if item is None else item_weight_row(assessment, item, system)
        self._totals = total_rows(assessment, system)
        self.refresh()

    def render(self) -> Content:
        """The table at its present size; rows that can be left out go first."""
        if not self._totals:
            return Content("")
        label_width = max(12, self.size.width - NUMBERS_WIDTH)
        lines = [Content.styled(f"{'':<{label_width}}{'mass':>8}{'buoyancy':>15}", "$foreground-muted")]
        if self._item is not None:
            lines.append(Content.styled(_line(self._item, label_width), "bold"))
        rows = self._totals
        if len(lines) + len(rows) > self.size.height:
            rows = tuple(row for row in rows if row.short)
        return Content("\n").join([*lines, *(Content(_line(row, label_width)) for row in rows)])


NUMBERS_WIDTH = 28
"""Columns of mass and buoyancy with their spreads."""


def _line(row: WeightRow, label_width: int) -> str:
    label = row.label if len(row.label) <= label_width else row.short or row.label.strip()[:label_width]
    mass, buoyancy = row.mass, row.buoyancy
    numbers = f"{mass.value:>6} ±{mass.spread:>4} {buoyancy.value:>6} ±{buoyancy.spread:>4}"
    return f"{label:<{label_width}}{numbers} {mass.unit}"
