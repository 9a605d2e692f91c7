"""The sets of swaps, drawn: mass saved over the change of the lead."""

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.drawing import styled_rows
from kitbuilder.app.widgets.plot_panel import STYLES as OF_PLOTS
from kitbuilder.pictures.front import draw_front
from kitbuilder.plans.swaps.swaps import Swaps, SwapSet
from kitbuilder.report.numbers import System
from kitbuilder.report.swap_pictures import front_data

STYLES = {**OF_PLOTS, "selected": "bold reverse $text-accent"}
"""How each role of the drawing looks."""


class FrontPicture(Widget):
    """Each set as its letter, and the kit as it is. Its numbers are in the list of the sets."""

    BORDER_TITLE = "Mass saved, over the change of lead"

    def __init__(self, *, plain: bool, id: str | None = None) -> None:
        """Make an empty picture; `plain` draws with letters and signs."""
        super().__init__(id=id)
        self.plain = plain
        self._found: Swaps | None = None
        self._selected: SwapSet | None = None
        self._system = System.METRIC

    def show(self, found: Swaps | None, system: System, selected: SwapSet | None) -> None:
        """Draw the sets of a kit; nothing for none."""
        self._found, self._system, self._selected = found, system, selected
        self.refresh()

    def render(self) -> Content:
        """Draw the sets at the present size."""
        if self._found is None or not self._found.sets:
            return Content("")
        data = front_data(self._found, self._system, self._selected)
        return styled_rows(draw_front(data, *self.size, plain=self.plain), STYLES)
