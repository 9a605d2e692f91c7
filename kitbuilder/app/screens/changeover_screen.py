"""The changeover: one kit rebuilt as another, a checklist to work from with spanners in hand."""

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import Ask, Way
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kitfile.progress import clear_progress, read_progress, ticks_path, write_progress
from kitbuilder.plans.changeover import Changeover, Step
from kitbuilder.report.cells import format_sentence
from kitbuilder.report.changeover import (
    SUPPLIES,
    changeover_page,
    effort,
    joints_page,
    linked_problems,
    needed,
    outcome_tables,
    phase_title,
    phases,
    step_page,
    steps_table,
    tick_key,
)
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.page import Page


class Steps(Listing):
    """One row per step with its box, under the heading of its phase."""

    BINDINGS: ClassVar[list[BindingType]] = keys_of("", "open")


class ChangeoverScreen(KitbuilderScreen):
    """The steps, what the selected one takes, and how many are done. Ticks survive a crash."""

    NAME = "changeover"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "mark next parts supplies export menu back keys",
        "copy document filter begin_again units origins quit",
    )

    def __init__(self, plan: Changeover, source: Path, target: Path) -> None:
        """Show the changeover from one file to another, with the steps ticked earlier."""
        super().__init__()
        self.plan, self.source, self.target = plan, source, target
        self._kept = ticks_path(source, target)
        steps = {tick_key(step) for step in plan.steps}
        self._ticked = read_progress(self._kept) & steps
        self._rows: list[Step | str] = []
        for phase, of_phase in phases(plan.steps):
            self._rows += [phase, *of_phase]

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the steps, what the selected one takes, and the keys."""
        yield TitleBar()
        with Container(id="changeover-panes"):
            yield Steps(id="steps")
            with VerticalScroll(id="step"):
                yield PageView(id="step-page")
        yield KeyLine()

    def on_mount(self) -> None:
        """Go on at the first step that is not done."""
        self.query_one(Steps).focus()
        self.query_one(Steps).border_title = Content(format_sentence(effort(self.plan), self.system))
        self._show(self._first_open(0))
        if len(self._ticked) == len(self.plan.steps):
            self.action_begin_again()  # it was done another time, and its checks with it
        elif self._ticked:
            self.notify(f"{len(self._ticked)} steps are ticked from last time.", markup=False)

    @property
    def step(self) -> Step | None:
        """The step under the cursor; None on the heading of a phase."""
        number = self.query_one(Steps).place
        row = self._rows[number] if number is not None and number < len(self._rows) else None
        return row if isinstance(row, Step) else None

    def lay_out(self) -> None:
        """Show the steps at the present width, the cursor where it is."""
        self._show()

    def _show(self, cursor: int | None = None) -> None:
        names = " to ".join(kit.header.name for kit in (self.plan.source.kit, self.plan.target.kit))
        done = f"{len(self._ticked)} of {len(self.plan.steps)} done"
        self.query_one(TitleBar).show("changeover", names, right=done)
        self.query_one(TitleBar).show_not_used(linked_problems(self.plan, self._files))
        self.query_one(Steps).show_rows(self._contents(), cursor)
        self._show_step()

    def _contents(self) -> list[Content]:
        """Build the rows of the list: headings, and one line per step."""
        width = max(20, self.query_one(Steps).size.width - 4)
        _, lines = list_rows(steps_table(self.plan.steps, self._ticked), width, self.system)
        contents = []
        for row in self._rows:
            if isinstance(row, str):
                contents.append(Content.styled(phase_title(row), "bold"))
            elif tick_key(row) in self._ticked:
                contents.append(Content.styled(plain(lines[row.number - 1]), "$foreground-muted"))
            else:
                contents.append(styled_line(lines[row.number - 1]))
        return contents

    def _show_step(self) -> None:
        pane, step = self.query_one("#step"), self.step
        pane.border_title = Content(f"{step.number}: {step.phase}" if step else "")
        self.query_one("#step-page", PageView).show(step_page(step) if step else Page([]), self.system)

    @property
    def _files(self) -> tuple[str, str]:
        return self.source.name, self.target.name

    @on(OptionList.OptionHighlighted, "#steps")
    def _select(self) -> None:
        self._show_step()
        self.query_one("#step").scroll_home(animate=False)

    # ---- ticking ----

    @on(OptionList.OptionSelected, "#steps")
    def action_mark(self) -> None:
        """Tick the step and go to the next one, or take its tick back."""
        step = self.step
        if step is None:
            self.query_one(Steps).action_cursor_down()
            return
        name = tick_key(step)
        is_done = name in self._ticked
        self._ticked = self._ticked - {name} if is_done else self._ticked | {name}
        self._keep()
        here = self._rows.index(step)
        self._show(here if is_done else self._first_open(here))
        if len(self._ticked) == len(self.plan.steps):
            self.notify("Every step is done. If a check failed, fix its cause before you dive.", markup=False)

    def _keep(self) -> None:
        in_order = [tick_key(step) for step in self.plan.steps if tick_key(step) in self._ticked]
        if not write_progress(self._kept, in_order):
            self.notify("Ticks cannot be saved in this folder. They are lost when you leave.", severity="warning")

    def _first_open(self, start: int) -> int:
        """Find the next row, from `start` on, whose step is not done; the last row when all are done."""
        rows = list(enumerate(self._rows))
        for number, row in (*rows[start:], *rows[:start]):
            if isinstance(row, Step) and tick_key(row) not in self._ticked:
                return number
        return len(rows) - 1

    def action_next(self) -> None:
        """Go to the next step that is not done."""
        here = self.query_one(Steps).place or 0
        self._show(self._first_open(here + 1))

    def action_begin_again(self) -> None:
        """Take back all ticks, after asking."""
        ways = (Way("k", "keep them", "keep"), Way("t", "take back all ticks", "all"))
        ticked = f"{len(self._ticked)} of {len(self.plan.steps)} steps are ticked."

        def settle(answer: str | None) -> None:
            if answer == "all":
                self._ticked = frozenset()
                clear_progress(self._kept)
                self._show(self._first_open(0))

        self.app.push_screen(Ask("Begin again", ticked, ways), settle)

    # ---- pages ----

    def action_parts(self) -> None:
        """Show what happens to each part."""
        self.read_page("What happens to each part", Page([*outcome_tables(self.plan.outcomes)]))

    def action_supplies(self) -> None:
        """Show what to have ready."""
        self.read_page(SUPPLIES, Page([needed(self.plan)]))

    def action_origins(self) -> None:
        """Show how each joint is made, and where that comes from."""
        self.read_page("How each joint is made", joints_page(self.plan))

    def whole_page(self) -> Page:
        """Give the checklist with its ticks."""
        return changeover_page(self.plan, self._files, self._ticked)

    def page_path(self) -> Path:
        """Give the path of a file for the checklist, beside the kit that is to be built."""
        return self.target.with_name(f"{self.source.stem}-to-{self.target.stem}")

    def back(self) -> None:
        """Go back to the shelf."""
        self.shell.show_shelf(self.source.parent, self.source)
