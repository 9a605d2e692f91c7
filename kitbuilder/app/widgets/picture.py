"""The hose under the cursor at rest over its free span, to scale, with its figures in words."""

from itertools import dropwhile

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.fit import Fit, rest_curve
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.pictures.hose_curve import draw_hose_curve
from kitbuilder.report.hose_fit import brief_fit, fit_fields, fit_words
from kitbuilder.report.layout import lay_out
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Node, Page, text

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
            words = self._words(fit_fields(self._hose.hose, fit))
            curve = [*dropwhile(lambda line: not line.strip(), self._curve(fit, words))]
            return _below(words, Content(""), *map(_drawn, curve))
        verdict, tail = self._words(text(*fit_words(fit))), self._words(*(text(*words) for words in brief_fit(fit)))
        return _below(verdict, *map(_drawn, self._curve(fit, verdict, tail)), tail)

    def _words(self, *parts: Node) -> Content:
        return styled(lay_out(Page(parts), self.size.width, self._system))

    def _curve(self, fit: Fit, *words: Content) -> list[str]:
        """Draw the hose in the lines that the words leave; nothing where there is no curve or no room."""
        room = self.size.height - sum(part.plain.count("\n") + 1 for part in words)
        curve = rest_curve(fit, POINTS)
        return draw_hose_curve(curve, self.size.width, room, plain=self.plain) if curve and room > 1 else []


def _title(fit: Fit | None) -> str:
    if fit is not None and fit.is_estimated:
        return "At rest, estimated"
    return "At rest" if fit is None or fit.rest_is_measured else "In the position it was measured in"


def _drawn(line: str) -> Content:
    return Content.styled(line, "$text-accent")


def _below(*parts: Content) -> Content:
    return Content("\n").join(parts)
