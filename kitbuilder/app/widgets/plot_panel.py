"""Buoyancy over the dive, drawn."""

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.drawing import styled_rows
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.curves import Curves, over_depth, over_gas
from kitbuilder.pictures.plot import draw_plot
from kitbuilder.report.balance_pictures import plot_data, plot_title
from kitbuilder.report.numbers import System

STYLES = {
    "curve": "bold $text-accent",
    "second": "$text-accent",
    "fill": "$foreground-muted",
    "zero": "$foreground-muted",
    "axis": "$foreground-muted",
    "label": "$foreground",
    "mark": "bold $text-warning",
}
"""How each role of the drawing looks."""


class Plot(Widget):
    """Over depth with full cylinders and with the reserve, or over the gas. Its numbers are in the table."""

    def __init__(self, *, plain: bool, id: str | None = None) -> None:
        """Make an empty plot; `plain` draws with signs in place of braille dots."""
        super().__init__(id=id)
        self.plain = plain
        self._balance: Balance | None = None
        self._over_gas = False
        self._curves: Curves | None = None
        self._system = System.METRIC

    def show(self, balance: Balance | None, system: System) -> None:
        """Draw a balance; nothing for none."""
        self._balance, self._system = balance, system
        self._work_out()

    def turn(self) -> None:
        """Draw over the other axis."""
        self._over_gas = not self._over_gas
        self._work_out()

    def _work_out(self) -> None:
        if self._balance is None:
            self._curves = None
        else:
            self._curves = over_gas(self._balance) if self._over_gas else over_depth(self._balance)
        self.border_title = plot_title(self._balance) if self._balance else "Buoyancy"
        self.refresh()

    def render(self) -> Content:
        """Draw the plot at its present size."""
        if self._curves is None:
            return Content("")
        return styled_rows(draw_plot(plot_data(self._curves, self._system), *self.size, plain=self.plain), STYLES)
