"""The findings of the kit, the worst first, each with what to do."""

from collections.abc import Sequence
from functools import lru_cache

from textual import events

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.findings import Finding, Unchecked
from kitbuilder.report.findings import Inspected, brief_entry, counted, results_table
from kitbuilder.report.layout import entry_rows
from kitbuilder.report.lines import Line, plain
from kitbuilder.report.numbers import System
from kitbuilder.report.sorting import columns_of

WIDE = 100
"""From this width on the findings say why, too."""
COPIED_WIDTH = 80
"""Characters of a line of a finding that is copied."""
LEAST_WIDTH = 20
"""Characters of a line, at least."""


class Findings(Listing):
    """One row per finding; below them one row for each item that could not be checked."""

    def __init__(self, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id)
        self.results: tuple[Finding | Unchecked, ...] = ()
        self._contents: Inspected | None = None
        self._system = System.METRIC

    @property
    def selected(self) -> Finding | Unchecked | None:
        """The finding under the cursor."""
        return self.results[self.place] if self.place is not None and self.results else None

    def show(self, assessment: Assessment, system: System) -> None:
        """Show the findings of a kit."""
        self.show_results(assessment.findings, assessment.kit, system, assessment.unchecked)

    def show_results(
        self, findings: Sequence[Finding], contents: Inspected, system: System, unchecked: Sequence[Unchecked] = ()
    ) -> None:
        """Show the findings of any file, and what could not be checked."""
        self._contents, self._system = contents, system
        self.results = (*findings, *unchecked)
        not_checked = f" · {len(unchecked)} not checked" if unchecked else ""
        self.can_sort_by(columns_of(results_table(self.results, contents)))
        self.name_list(f"Findings: {counted(findings)}{not_checked}")
        self._lay_out()

    def text_of(self, place: int) -> str:
        """Give a finding in full, with its reason."""
        assert self._contents is not None
        entry = brief_entry(self.results[place], self._contents, with_why=True)
        return "\n".join(plain(line) for line in entry_rows([entry], COPIED_WIDTH, self._system)[0])

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the rows to the new width."""
        self._lay_out()

    def _lay_out(self) -> None:
        if self._contents is None:
            return
        contents, with_why = self._contents, self.size.width >= WIDE
        entries = [brief_entry(result, contents, with_why=with_why) for result in self.results]
        width = max(self.size.width - len(NO_CURSOR) - SCROLL_BAR, LEAST_WIDTH)
        self.show_rows([_paragraph(tuple(lines)) for lines in entry_rows(entries, width, self._system)])


SCROLL_BAR = 2
"""Columns left free for the scroll bar."""


@lru_cache(maxsize=512)
def _paragraph(lines: tuple[Line, ...]) -> Content:
    """Give the lines of one finding, the further ones in from where the cursor stands."""
    return Content(f"\n{NO_CURSOR}").join(styled_line(line) for line in lines)
