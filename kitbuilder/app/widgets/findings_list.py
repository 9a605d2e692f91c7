"""The findings of the kit, the worst first, each with what to do."""

from functools import lru_cache
from textwrap import wrap
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType

from kitbuilder.app.content import Content
from kitbuilder.app.signals import STYLES
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Finding, Unchecked
from kitbuilder.report.numbers import System
from kitbuilder.report.tables import counted
from kitbuilder.report.words import sentence, subject


class Findings(Listing):
    """One row a finding; below them one row for each item that could not be checked."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("enter", "select", "Go to", tooltip="To the field it is about.")]

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self.results: tuple[Finding | Unchecked, ...] = ()
        self._assessment: Assessment | None = None
        self._system = System.METRIC

    @property
    def selected(self) -> Finding | Unchecked | None:
        """The finding under the cursor."""
        return self.results[self.highlighted] if self.highlighted is not None and self.results else None

    def show(self, assessment: Assessment, system: System) -> None:
        """Show the findings of a kit."""
        self._assessment, self._system = assessment, system
        self.results = (*assessment.findings, *assessment.unchecked)
        unchecked = f" · {len(assessment.unchecked)} not checked" if assessment.unchecked else ""
        self.border_title = f"Findings: {counted(assessment)}{unchecked}"
        self._wrap_rows()

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the rows to the new width."""
        self._wrap_rows()

    def _wrap_rows(self) -> None:
        if self._assessment is not None:
            self.show_rows([self._row(result, self._assessment) for result in self.results])

    def _row(self, result: Finding | Unchecked, assessment: Assessment) -> Content:
        about = subject(assessment.kit, result)
        width = max(20, self.size.width - 4)
        if isinstance(result, Unchecked):
            where = f" Set {result.key}." if result.key else ""
            text = f"{about}: {sentence(result.because, self._system)}{where}"
            return _paragraph("unchecked", "$foreground-muted", text, width)
        parts = [result.what, result.do] if self.size.width < WIDE else [result.what, result.why, result.do]
        text = f"{about}: {' '.join(sentence(part, self._system) for part in parts)}"
        thumb = " (rule of thumb)" if result.rule_of_thumb else ""
        return _paragraph(result.signal.word, STYLES[result.signal], text + thumb, width)


@lru_cache(maxsize=512)
def _paragraph(word: str, style: str, text: str, width: int) -> Content:
    """A signal word and a text wrapped beside it."""
    indent = len("unchecked ")
    first, *rest = wrap(" " * indent + text, width, subsequent_indent="  " + " " * indent) or [""]
    return Content.assemble((word, style), "\n".join([first[len(word) :], *rest]))


WIDE = 100
"""From this width on the findings say why, too."""
