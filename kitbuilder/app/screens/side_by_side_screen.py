"""Side by side: two to four kits, what does the same in each, what differs first in sight."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.page_view import PageView, styled
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import Assessment
from kitbuilder.plans.side_by_side import set_side_by_side
from kitbuilder.report.compare import (
    compare_page,
    finding_parts,
    linked_problems,
    row_parts,
    totals_table,
)
from kitbuilder.report.comparison import Comparison
from kitbuilder.report.layout import lay_out
from kitbuilder.report.page import Page

Named = tuple[Path, Assessment]
SCROLL_BAR = 2
LABELS, COLUMN = 22, 26
"""Characters of the labels, and of the column of one kit, at least; without room the kits stand below each other."""
LINES_WITH_SUMS = 34
"""Lines of a terminal in which the sums stay in sight below the rows; with fewer they are scrolled with them."""


class SideBySideScreen(KitbuilderScreen):
    """Parts matched by what they do, the sums, and the findings that not every kit has."""

    NAME = "side by side"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "hide_equal swap units menu back keys",
        "copy export document quit",
    )

    def __init__(self, kits: Sequence[Named]) -> None:
        """Set two to four kits side by side."""
        super().__init__()
        self._kits = tuple(kits)
        self._found = set_side_by_side([kit for _, kit in self._kits])
        self._everything = False

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the names, the columns, the sums, and the keys."""
        yield TitleBar()
        yield Static("", id="names", markup=False)
        with VerticalScroll(id="pairs"):
            yield Static("", id="pair-lines", markup=False)
        yield PageView(id="totals")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows scroll at once."""
        self.query_one("#pairs").focus()
        self.lay_out()

    @property
    def _shown(self) -> Comparison:
        """The kits as they are shown at the present width."""
        names = tuple(path.name for path, _ in self._kits)
        is_beside = self.size.width >= LABELS + COLUMN * len(self._kits)
        return Comparison(self._found, names, everything=self._everything, is_beside=is_beside)

    def lay_out(self) -> None:
        """Lay the columns out for the present width and units."""
        shown = self._shown
        title = self.query_one(TitleBar)
        title.show("side by side", "* differs", right="" if self._everything else "equal rows hidden")
        title.show_not_used(linked_problems(shown))
        is_below = shown.has_columns and self.size.height >= LINES_WITH_SUMS
        parts, sums = row_parts(shown), totals_table(shown)
        scrolled = Page([*parts, *([] if is_below else [sums]), *finding_parts(shown)])
        lines = lay_out(scrolled, self.size.width - SCROLL_BAR, self.system)
        rows = lay_out(Page(parts[:1]), self.size.width - SCROLL_BAR, self.system)
        heads = sum(any(span.role == "head" for span in line) for line in rows)
        self.query_one("#names", Static).update(styled(lines[:heads]))
        self.query_one("#names").display = bool(heads)
        self.query_one("#pair-lines", Static).update(styled(lines[heads:]))
        totals = self.query_one("#totals", PageView)
        totals.display = is_below
        totals.show(Page([sums] if is_below else []), self.system)

    def action_hide_equal(self) -> None:
        """Show or hide what is equal."""
        self._everything = not self._everything
        self.lay_out()

    def action_swap(self) -> None:
        """Swap left and right; of more kits, the first goes behind the last."""
        self._kits = (*self._kits[1:], self._kits[0])
        self._found = set_side_by_side([kit for _, kit in self._kits])
        self.lay_out()

    def whole_page(self) -> Page:
        """Give the kits side by side, as the command line prints them."""
        return compare_page(self._shown._replace(is_beside=None))

    def page_path(self) -> Path:
        """Give the path of a file for the page, beside the first kit."""
        first, *others = (path for path, _ in self._kits)
        return first.with_name("-beside-".join((first.stem, *(path.stem for path in others))))

    def back(self) -> None:
        """Go back to the shelf."""
        first, _ = self._kits[0]
        self.shell.show_shelf(first.parent, first)
