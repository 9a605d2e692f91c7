"""A page in a pane: the same words and figures as in the text, laid out for the pane's width, with quiet colour."""

from textual import events
from textual.widgets import Static

from kitbuilder.app.content import Content
from kitbuilder.app.signals import STYLES
from kitbuilder.report.layout import lay_out
from kitbuilder.report.lines import Line
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page

ROLES = {
    "title": "bold",
    "head": "$foreground-muted",
    "label": "$foreground-muted",
    "note": "$foreground-muted",
    "picture": "$text-accent",
    **{signal.word.lower(): style for signal, style in STYLES.items()},
}
"""The style of each role that a span of a line may have."""


class PageView(Static):
    """Shows a page. It is laid out again at every new width."""

    def __init__(self, id: str | None = None) -> None:
        """Make an empty view."""
        super().__init__("", id=id, markup=False)
        self._page: Page | None = None
        self._system = System.METRIC

    def show(self, page: Page, system: System) -> None:
        """Show a page in the reader's units."""
        self._page, self._system = page, system
        self._lay_out()

    def on_resize(self, _event: events.Resize) -> None:
        """Lay the page out for the new width."""
        self._lay_out()

    def _lay_out(self) -> None:
        if self._page is not None and self.size.width:
            self.update(styled(lay_out(self._page, self.size.width, self._system)))


def styled(lines: list[Line]) -> Content:
    """Give lines of a page as the content of a widget."""
    return Content("\n").join(styled_line(line) for line in lines)


def styled_line(line: Line) -> Content:
    """Give one line as the content of a widget."""
    return Content.assemble(*((span.text, ROLES[span.role]) if span.role else span.text for span in line))
