"""A file that cannot be read as a kit: everything that is wrong with it, at once."""

from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.widgets import Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.copying import named_beside
from kitbuilder.app.widgets.entry_list import EntryList
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kitfile.problems import Problem
from kitbuilder.report.page import Page, text
from kitbuilder.report.problems import ADVICE, problem_entries, problems_page


class Problems(KitbuilderScreen):
    """Line by line what was found and what is accepted. The file is not touched."""

    NAME = "problems"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "reload filter menu back keys quit",
        "copy export document units",
    )

    def __init__(self, path: Path, problems: tuple[Problem, ...]) -> None:
        """Show what is wrong with a file."""
        super().__init__()
        self.path, self._problems = path, problems

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the problems, and the keys."""
        yield TitleBar()
        yield Static(Content(ADVICE), id="advice-line")
        with Container(id="problems") as page:
            page.border_title = f"Problems: {len(self._problems)}"
            yield EntryList([("", problem_entries(self._problems))], id="problem-rows")
        yield KeyLine()

    def on_mount(self) -> None:
        """Name the file, and show what is wrong with it."""
        self.query_one(TitleBar).show("cannot be read", str(self.path))
        self.query_one(EntryList).focus()

    def action_reload(self) -> None:
        """Read the file again."""
        self.shell.open_kit(self.path)

    def whole_page(self) -> Page:
        """Give all problems."""
        return Page([text(f"{self.path.name} cannot be read."), *problems_page(self._problems).parts])

    def page_path(self) -> Path:
        """Give the path of a file for the page, beside the file."""
        return named_beside(self.path, self.NAME)

    def back(self) -> None:
        """Go back to the shelf."""
        self.shell.show_shelf(self.path.parent, self.path)
