"""Side by side: two kits in two columns, what differs first."""

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
from kitbuilder.report.compare import compare_page, kit_lines, lines_table, linked_problems, pair_lines, totals_table
from kitbuilder.report.layout import lay_out
from kitbuilder.report.page import Page

Named = tuple[Path, Assessment]
SCROLL_BAR = 2


class SideBySideScreen(KitbuilderScreen):
    """Hoses matched by role, differences first, totals at the foot."""

    NAME = "side by side"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "hide_equal swap units menu back keys",
        "copy export document quit",
    )

    def __init__(self, left: Named, right: Named) -> None:
        """Set two kits side by side."""
        super().__init__()
        self._left, self._right = left, right
        self._only_differences = False

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the names, the columns, the totals, and the keys."""
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

    def lay_out(self) -> None:
        """Lay the columns out for the present width and units."""
        found = set_side_by_side(self._left[1], self._right[1])
        title = self.query_one(TitleBar)
        title.show("side by side", "* differs", right="equal rows hidden" if self._only_differences else "")
        title.show_not_used(linked_problems(found, (self._left[0].name, self._right[0].name)))
        groups = [kit_lines(found), *(pair_lines(pair) for pair in found.pairs)]
        if self._only_differences:
            groups = [[line for line in group if line.differs] for group in groups]
        lines = lay_out(Page([lines_table(found, *groups)]), self.size.width - SCROLL_BAR, self.system)
        heads = [line for line in lines if any(span.role == "head" for span in line)]
        self.query_one("#names", Static).update(styled(heads))
        self.query_one("#pair-lines", Static).update(styled(lines[len(heads) :]))
        self.query_one("#totals", PageView).show(Page([totals_table(found)]), self.system)

    def action_hide_equal(self) -> None:
        """Show or hide what is equal."""
        self._only_differences = not self._only_differences
        self.lay_out()

    def action_swap(self) -> None:
        """Swap left and right."""
        self._left, self._right = self._right, self._left
        self.lay_out()

    def whole_page(self) -> Page:
        """Give both kits in two columns, as the command line prints them."""
        return compare_page(set_side_by_side(self._left[1], self._right[1]), (self._left[0].name, self._right[0].name))

    def page_path(self) -> Path:
        """Give the path of a file for the page, beside the left kit."""
        left, right = self._left[0], self._right[0]
        return left.with_name(f"{left.stem}-beside-{right.stem}")

    def back(self) -> None:
        """Go back to the shelf."""
        self.shell.show_shelf(self._left[0].parent, self._left[0])
