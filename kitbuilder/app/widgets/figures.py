"""Mass and buoyancy of the hose under the cursor and of the kit."""

from textual.content import Content
from textual.widgets import Static

from kitbuilder.assess.assessment import Assessment
from kitbuilder.report.numbers import System
from kitbuilder.report.tables import WeightRow, thing_weight_row, total_rows


class Figures(Static):
    """A table of masses and buoyancies, each with its spread, numbers aligned on the decimal point."""

    BORDER_TITLE = "Figures"

    def __init__(self, id: str | None = None) -> None:
        """Make an empty table."""
        super().__init__("", id=id, markup=False)

    def show(self, assessment: Assessment, thing: int | None, system: System) -> None:
        """Show the figures of a thing and of the kit."""
        label_width = max(12, self.size.width - NUMBERS_WIDTH)
        head = f"{'':<{label_width}}{'mass':>8}{'buoyancy':>15}"
        lines = [Content.styled(head, "$text-muted")]
        if thing is not None:
            row = thing_weight_row(assessment, thing, system)
            lines.append(Content.styled(_line(row, label_width) if row else "this thing: mass not known", "bold"))
        room = max(self.size.height - len(lines), 5)
        rows = total_rows(assessment, system)
        if len(rows) > room:
            rows = tuple(row for row in rows if row.short)
        lines += [Content(_line(row, label_width)) for row in rows]
        self.update(Content("\n").join(lines))


NUMBERS_WIDTH = 28
"""Columns of mass and buoyancy with their spreads."""


def _line(row: WeightRow, label_width: int) -> str:
    label = row.label if len(row.label) <= label_width else row.short or row.label.strip()[:label_width]
    mass, buoyancy = row.mass, row.buoyancy
    numbers = f"{mass.value:>6} ±{mass.spread:>4} {buoyancy.value:>6} ±{buoyancy.spread:>4}"
    return f"{label:<{label_width}}{numbers} {mass.unit}"
