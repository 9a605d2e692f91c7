"""The line at the top: where you are, whether anything is unsaved, water and units; below it what was not used."""

from collections.abc import Sequence

from textual.message import Message
from textual.widgets import Static

from kitbuilder.app.content import Content
from kitbuilder.report.words import cut


class TitleBar(Static):
    """Screen and kit to the left, water and units to the right, the unsaved mark between."""

    class Shown(Message):
        """The bar says something else; the window of the terminal is named after it."""

        def __init__(self, title: str) -> None:
            """Keep the title of the window."""
            super().__init__()
            self.title = title

    def __init__(self) -> None:
        """Make an empty bar."""
        super().__init__("", markup=False)
        self._parts = ("", "", False, "")
        self._not_used: tuple[str, ...] = ()

    def show(self, where: str, what: str, *, unsaved: bool = False, right: str = "") -> None:
        """Fill the bar."""
        self._parts = (where, what, unsaved, right)
        self.post_message(self.Shown(f"{'* ' if unsaved else ''}{what} · {where}"))
        self.refresh()

    def show_not_used(self, problems: Sequence[str]) -> None:
        """Name the linked files that cannot be used, on a second line; no line when there is none."""
        self._not_used = tuple(problems)
        self.set_class(bool(problems), "-not-used")
        self.refresh()

    def render(self) -> Content:
        """Draw the bar at its present width; the middle part is shortened first."""
        if not self._not_used:
            return self._place()
        text = not_used_line(self._not_used, self.size.width - 2)
        return Content.assemble(self._place(), "\n", (f" {text}", "bold $text-warning"))

    def _place(self) -> Content:
        where, what, unsaved, right = self._parts
        mark = "  * not saved" if unsaved else ""
        room = self.size.width - len(where) - len(mark) - len(right) - 6
        what = cut(what, room)
        gap = " " * max(1, self.size.width - len(where) - len(what) - len(mark) - len(right) - 4)
        return Content.assemble(
            (f" {where} ", "bold reverse"),
            " ",
            (what, "bold"),
            (mark, "bold $text-warning"),
            gap,
            (right, "$foreground-muted"),
            " ",
        )


def not_used_line(problems: Sequence[str], width: int) -> str:
    """Name the first problem with linked files, cut to the width, and count the others; empty when there is none."""
    if not problems:
        return ""
    count = f" (and {len(problems) - 1} more)" if len(problems) > 1 else ""
    return f"{cut(f'Not used: {problems[0]}', width - len(count))}{count}"
