"""Side by side: two kits in two columns, what differs first."""

from pathlib import Path
from textwrap import wrap
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Footer, Static

from kitbuilder.app.content import Content
from kitbuilder.app.keys import key
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import Assessment
from kitbuilder.foreign import visible
from kitbuilder.plans.side_by_side import set_side_by_side
from kitbuilder.report.compare import Line, pair_lines, total_lines
from kitbuilder.report.linked import problems_of

Named = tuple[Path, Assessment]
LABEL_WIDTH = 19


class SideBySideScreen(KitbuilderScreen):
    """Hoses matched by role, differences first, totals at the foot."""

    NAME = "side by side"

    BINDINGS: ClassVar[list[BindingType]] = [
        key("d", "differences", "Only differences", "Show or hide what is equal."),
        key("x", "swap", "Swap", "Swap left and right."),
        key("m", "units", "Units", "Show metric or imperial units."),
        key("escape", "shelf", "Shelf", "Back to the kits of this folder.", display="esc"),
        key("question_mark,f1", "keys", "Keys", "Every key of this screen.", display="?"),
        key("q,ctrl+q", "app.quit", "Quit", "Leave kitbuilder.", show=False),
    ]

    def __init__(self, left: Named, right: Named) -> None:
        """Set two kits side by side."""
        super().__init__()
        self._left, self._right = left, right
        self._only_differences = False

    def compose(self) -> ComposeResult:
        """Top line, the names, the columns, the totals, and the keys."""
        yield TitleBar()
        yield Static("", id="names", markup=False)
        with VerticalScroll(id="pairs"):
            yield Static("", id="pair-lines", markup=False)
        yield Static("", id="totals", markup=False)
        yield Footer(compact=True)

    def on_mount(self) -> None:
        """Let the arrows scroll at once."""
        self.query_one("#pairs").focus()
        self.lay_out()

    def lay_out(self) -> None:
        """Lay the columns out for the present width and units."""
        left, right = self._left[1], self._right[1]
        found = set_side_by_side(left, right)
        totals, pairs = total_lines(found, self.system), pair_lines(found, self.system)
        if self._only_differences:
            pairs = tuple(line for line in pairs if line.differs)
        width = max(20, (self.size.width - LABEL_WIDTH - 4) // 2)
        title = "side by side"
        self.query_one(TitleBar).show(title, "* differs", right="equal hidden" if self._only_differences else "")
        files = ((path.name, found.kit) for path, found in (self._left, self._right))
        self.query_one(TitleBar).show_not_used(problems_of(files))
        names = Line("", visible(left.kit.header.name), visible(right.kit.header.name), differs=False, is_head=True)
        self.query_one("#names", Static).update(_cells(names, width))
        self.query_one("#pair-lines", Static).update(_page(pairs, width))
        self.query_one("#totals", Static).update(_page(totals, width, gaps=False))

    def action_differences(self) -> None:
        """Show or hide what is equal."""
        self._only_differences = not self._only_differences
        self.lay_out()

    def action_swap(self) -> None:
        """Swap left and right."""
        self._left, self._right = self._right, self._left
        self.lay_out()

    def action_shelf(self) -> None:
        """Back to the shelf."""
        self.app.show_shelf(self._left[0].parent, self._left[0])


def _page(lines: tuple[Line, ...], width: int, *, gaps: bool = True) -> Content:
    rows: list[Content] = []
    for line in lines:
        if line.is_head and gaps and rows:
            rows.append(Content(""))
        rows.append(_cells(line, width))
    return Content("\n").join(rows)


def _cells(line: Line, width: int) -> Content:
    """One line of the comparison, its cells wrapped to their columns."""
    left, right = wrap(line.left, width - 2) or [""], wrap(line.right, width - 2) or [""]
    rows = []
    for number in range(max(len(left), len(right))):
        label = (f"{'*' if line.differs else ' '} {line.label}" if number == 0 else "").ljust(LABEL_WIDTH + 2)
        cells = "".join((column[number] if number < len(column) else "").ljust(width) for column in (left, right))
        style = "bold" if line.is_head else "" if line.differs else "$foreground-muted"
        rows.append(Content.assemble((label, "bold" if line.is_head else "$foreground-muted"), (cells.rstrip(), style)))
    return Content("\n").join(rows)
