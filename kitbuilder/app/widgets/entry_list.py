"""A list of entries that wrap to its width, under titles where there are several parts."""

from collections.abc import Sequence

from textual import events

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.report.layout import entry_rows, lay_out
from kitbuilder.report.lines import Line
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, Statement, text

SCROLL_BAR = 2
"""Columns left free for the scroll bar."""
LEAST_WIDTH = 20
"""Characters of a line, at least."""

Part = tuple[str, Sequence[Statement]]
"""A title, empty for none, and the entries under it."""


class EntryList(Listing):
    """One row of one or more lines per entry, and one per title."""

    def __init__(self, parts: Sequence[Part], *, id: str | None = None) -> None:
        """Make a list of parts. Their entries are words alone: they hold no quantity that would need units."""
        super().__init__(id=id)
        self._parts = tuple(parts)

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the entries to the new width."""
        width = max(self.size.width - len(NO_CURSOR) - SCROLL_BAR, LEAST_WIDTH)
        rows: list[Content] = []
        for title, entries in self._parts:
            rows += [Content.styled(title, "bold")] if title else []
            rows += [Content(f"\n{NO_CURSOR}").join(map(styled_line, lines)) for lines in _wrapped(entries, width)]
        self.show_rows(rows)


def _wrapped(entries: Sequence[Statement], width: int) -> list[list[Line]]:
    """Wrap entries, those without a mark as paragraphs."""
    if any(entry.mark for entry in entries):
        return entry_rows(entries, width, System.METRIC)
    return [lay_out(Page([text(*entry.head)]), width, System.METRIC) for entry in entries]
