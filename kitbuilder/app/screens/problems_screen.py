"""A file that cannot be read as a kit: everything that is wrong with it, at once."""

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import Footer

from kitbuilder.app.keys import key
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.widgets.page_view import PageView
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kitfile.problems import Problem
from kitbuilder.report.problems import problems_page


class Problems(KitbuilderScreen):
    """Line by line what was found and what is accepted. The file is not touched."""

    NAME = "problems"

    BINDINGS: ClassVar[list[BindingType]] = [
        key("g,f5", "reload", "Read again", "Read the file again, once it is fixed.", display="g"),
        key("escape", "shelf", "Shelf", "Back to the kits of this folder.", display="esc"),
        key("q,ctrl+q", "app.quit", "Quit", "Leave kitbuilder.", display="q"),
    ]

    def __init__(self, path: Path, problems: tuple[Problem, ...]) -> None:
        """Show what is wrong with a file."""
        super().__init__()
        self.path, self._problems = path, problems

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the problems, and the keys."""
        yield TitleBar()
        with VerticalScroll(id="problems") as page:
            page.border_title = f"Problems: {len(self._problems)}"
            yield PageView()
        yield Footer(compact=True)

    def on_mount(self) -> None:
        """Name the file, and show what is wrong with it."""
        self.query_one(TitleBar).show("cannot be read", str(self.path))
        self.query_one(PageView).show(problems_page(self._problems), self.system)
        self.query_one("#problems").focus()

    def action_reload(self) -> None:
        """Read the file again."""
        self.shell.open_kit(self.path)

    def action_shelf(self) -> None:
        """Go back to the shelf."""
        self.shell.show_shelf(self.path.parent, self.path)
