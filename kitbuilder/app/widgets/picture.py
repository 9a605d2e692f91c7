"""The hose under the cursor at rest over its free span, to scale, with its figures in words."""

from itertools import dropwhile

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.fit.fit import Fit, rest_curve
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.pictures.hose_curve import draw_hose_curve
from kitbuilder.report.numbers import System
from kitbuilder.report.tables import fit_rows, format_fit, format_picture


def _title(fit: Fit | None) -> str:
    if fit is not None and fit.is_estimated:
        return "At rest, estimated"
    return "At rest" if fit is None or fit.rest_is_measured else "In the pose of its run"


POINTS = 97
"""Points of the curve; enough for the widest pane."""


class Picture(Widget):
    """The span, the curve and the stand-off. Every number in it is written as well."""

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
        fit = self._hose.fit if self._hose else None
        self.border_title = _title(fit)
        self.refresh()

    def render(self) -> Content:
        """The picture at its present size."""
        if self._hose is None:
            return Content.styled("Choose a hose to see how it lies.", "$foreground-muted")
        fit = self._hose.fit
        if fit is None:
            return Content.styled(
                "Measure its run: lay a string over the worn kit, in the pose that needs most.", "$foreground-muted"
            )
        width, height = self.size
        roomy = height >= 12
        rows = [f"{label:<15} {value}" for label, value in fit_rows(self._hose.hose, fit, self._system)]
        words = rows if roomy else [format_fit(fit, self._system), *format_picture(fit, self._system)]
        room = height - len(words)
        curve = rest_curve(fit, POINTS)
        drawn = draw_hose_curve(curve, width, room, plain=self.plain) if curve and room >= 2 else []
        if roomy:
            drawn = ["", *dropwhile(lambda line: not line.strip(), drawn)]
        head, tail = (words, []) if roomy else (words[:1], words[1:])
        return Content("\n").join(
            [*map(Content, head), *(Content.styled(line, "$text-accent") for line in drawn), *map(Content, tail)]
        )
