"""A file that cannot be read as a kit: everything that is wrong with it, at once."""

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Footer, Static

from kitbuilder.app.content import Content
from kitbuilder.app.keys import key
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.foreign import visible
from kitbuilder.kitfile.problems import Problem


class Problems(KitbuilderScreen):
    """Line by line what was found and what is accepted. The file is not touched."""

    NAME = "problems"

    BINDINGS: ClassVar[list[BindingType]] = [
        key("g,f5", "reload", "Read again", "Read the file again, once it is mended.", display="g"),
        key("escape", "shelf", "Shelf", "Back to the kits of this folder.", display="esc"),
        key("q,ctrl+q", "app.quit", "Quit", "Leave kitbuilder.", display="q"),
    ]

    def __init__(self, path: Path, problems: tuple[Problem, ...]) -> None:
        """Show what is wrong with a file."""
        super().__init__()
        self.path, self._problems = path, problems

    def compose(self) -> ComposeResult:
        """Top line, the problems, and the keys."""
        yield TitleBar()
        with VerticalScroll(id="problems") as page:
            page.border_title = f"Problems: {len(self._problems)}"
            yield Static(self._page(), markup=False)
        yield Footer(compact=True)

    def on_mount(self) -> None:
        """Name the file."""
        self.query_one(TitleBar).show("cannot be read", str(self.path))
        self.query_one("#problems").focus()

    def _page(self) -> Content:
        advice = "This file is not a kit yet. Mend it in a text editor, then press g. It has not been changed.\n"
        rows = [Content(advice)]
        for problem in self._problems:
            where = f"line {problem.line}" if problem.line else "file"
            place = f"{problem.place}: " if problem.place else ""
            rows.append(
                Content.assemble(
                    (f"{where:<9}", "bold $text-error"),
                    visible(f"{place}{problem.found}."),
                    (f"\n         {visible(problem.accepted)}\n", "$foreground-muted"),
                )
            )
        return Content("\n").join(rows)

    def action_reload(self) -> None:
        """Read the file again."""
        self.app.open_kit(self.path)

    def action_shelf(self) -> None:
        """Back to the shelf."""
        self.app.show_shelf(self.path.parent, self.path)
