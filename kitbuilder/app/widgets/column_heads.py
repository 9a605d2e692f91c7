"""The heads of the columns of a list, above it; a click on one sorts the list."""

from textual import events
from textual.widgets import Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.report.lines import Line
from kitbuilder.report.sorting import column_at, marked_head


class ColumnHeads(Static):
    """One line of heads, with an arrow behind the one that the list is sorted by."""

    def __init__(self, id: str | None = None) -> None:
        """Make an empty line."""
        super().__init__("", id=id, markup=False)
        self._heads: Line = ()
        self._listing: Listing | None = None

    def show(self, heads: Line, listing: Listing) -> None:
        """Show the heads of a list."""
        self._heads, self._listing = heads, listing
        shown = marked_head(heads, listing.order, listing.columns)
        self.update(Content(NO_CURSOR) + styled_line(shown) if shown else "")

    def on_click(self, event: events.Click) -> None:
        """Ask for the list sorted by the head that was clicked."""
        if self._listing is not None:
            column = column_at(self._heads, self._listing.columns, event.x - len(NO_CURSOR))
            if column is not None:
                self.post_message(Listing.HeadClicked(self._listing, column))
