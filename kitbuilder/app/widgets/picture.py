"""The hose under the cursor at rest over its free span, to scale, with its figures in words."""

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.fit import Fit, rest_curve
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.pictures.hose_curve import HoseCurve
from kitbuilder.report.hose_fit import NOT_CONNECTED, brief_fit, curve_words, fit_fields, hose_fit_words
from kitbuilder.report.layout import lay_out
from kitbuilder.report.lines import Line
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Node, Page, Picture, text

POINTS = 97
"""Points of the curve; enough for the widest pane."""
ROOMY = 12
"""Lines from which on the figures stand below each other, above the curve."""


class HosePicture(Widget):
    """The span, the curve and how far it bows out. Every number in it is written as well."""

    BORDER_TITLE = "At rest"

    def __init__(self, *, plain: bool, id: str | None = None) -> None:
        """Make an empty picture; `plain` draws with signs in place of braille dots."""
        super().__init__(id=id)
        self.plain = plain
        self._hose: HoseFigures | None = None
        self._system = System.METRIC

    def show(self, assessment: Assessment, item: int | None, system: System) -> None:
        """Show a hose; nothing for another item."""
        self._hose = None if item is None else assessment.hose_figures(item)
        self._system = system
        self.border_title = _title(self._hose.fit if self._hose else None)
        self.refresh()

    def render(self) -> Content:
        """Give the picture at its present size."""
        if self._hose is None:
            return self._words(text("Choose a hose to see how it lies."))
        fit = self._hose.fit
        if fit is None:
            return self._words(
                text("Measure its run: lay a string over the worn kit, in the position that needs the longest hose.")
            )
        if self.size.height >= ROOMY:
            joint = [text(NOT_CONNECTED)] if self._hose.joints.joins is False else []
            words: tuple[Node, ...] = (*joint, fit_fields(self._hose.hose, fit))
            return self._words(*words, *self._curve(fit, *words, at_the_top=True))
        verdict, tail = text(*hose_fit_words(self._hose)), [text(*words) for words in brief_fit(fit)]
        return self._words(verdict, *self._curve(fit, verdict, *tail), *tail)

    def _words(self, *parts: Node) -> Content:
        return styled(self._lines(*parts))

    def _lines(self, *parts: Node) -> list[Line]:
        return lay_out(Page(parts), self.size.width, self._system)

    def _curve(self, fit: Fit, *words: Node, at_the_top: bool = False) -> list[Picture]:
        """Give the hose in the lines that the words leave; nothing where there is no curve or no room."""
        room = self.size.height - len(self._lines(*words))
        points = rest_curve(fit, POINTS)
        if not points or room <= 1 or self._hose is None:
            return []
        lengths = curve_words(self._hose.hose, fit, self._system)
        return [Picture(HoseCurve(points, self.plain, at_the_top, lengths), room)]


def _title(fit: Fit | None) -> str:
    return "At rest" if fit is None or fit.rest_is_measured else "At rest, estimated"
