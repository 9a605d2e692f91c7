"""The changeover: one kit rebuilt as another, a checklist to work from with spanners in hand."""

import os
from pathlib import Path
from textwrap import wrap
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import Footer, OptionList, Static

from kitbuilder.app.content import Content
from kitbuilder.app.keys import key
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import PATH_INVITATION, Ask, TextPage, TypeName, Way
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kitfile.disk import Over, complain_of_path, path_typed, save_text
from kitbuilder.kitfile.progress import clear_progress, read_progress, ticks_path, write_progress
from kitbuilder.plans.changeover import Changeover, Step
from kitbuilder.report.changeover import (
    HOW_SURE,
    box,
    changeover_text,
    fate_lines,
    format_effort,
    format_work,
    needed_lines,
    phases,
    tick_key,
    work_lines,
)
from kitbuilder.report.linked import problems_of
from kitbuilder.report.words import CAUTIONS, cut, sentence


class Steps(Listing):
    """A row a step with its box, under the heading of its phase."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select", "Tick", show=False, tooltip="Tick this step, or take the tick back."),
    ]


class ChangeoverScreen(KitbuilderScreen):
    """The steps, what the one under the cursor takes, and how many are done. Ticks outlive a crash."""

    NAME = "changeover"

    BINDINGS: ClassVar[list[BindingType]] = [
        key("space", "tick", "Tick", "Tick this step and go to the next, or take the tick back.", display="space"),
        key("n", "next_open", "Next open", "Go to the next step that is not done."),
        key("h", "parts", "Parts", "What becomes of each hose, first stage and device."),
        key("y", "at_hand", "At hand", "Spanners, O-rings, plugs and parts to have at hand."),
        key("P", "print", "Print", "Write the checklist to a text file, to print it."),
        key("escape", "shelf", "Shelf", "Back to the kits of this folder.", display="esc"),
        key("question_mark,f1", "keys", "Keys", "Every key of this screen.", display="?"),
        key("N", "anew", "Begin anew", "Take back all ticks.", show=False),
        key("m", "units", "Units", "Show metric or imperial units.", show=False),
        key("o", "origins", "Origins", "Where these figures come from, and how far to trust them.", show=False),
        key("q,ctrl+q", "app.quit", "Quit", "Leave kitbuilder.", show=False),
    ]

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
        """Top line, the steps, what the selected one takes, and the keys."""
        yield TitleBar()
        with Container(id="changeover-panes"):
            yield Steps(id="steps")
            with VerticalScroll(id="step"):
                yield Static("", id="step-lines", markup=False)
        yield Footer(compact=True)

    def on_mount(self) -> None:
        """Go on where it was left."""
        self.query_one(Steps).focus()
        self.query_one(Steps).border_title = format_effort(self.plan)
        self._show(self._first_open(0))
        if len(self._ticked) == len(self.plan.steps):
            self.action_anew()  # it was done another time, and its checks with it
        elif self._ticked:
            self.notify(f"{len(self._ticked)} steps were ticked before.", markup=False)

    @property
    def step(self) -> Step | None:
        """The step under the cursor; None on the heading of a phase."""
        number = self.query_one(Steps).highlighted
        row = self._rows[number] if number is not None and number < len(self._rows) else None
        return row if isinstance(row, Step) else None

    def lay_out(self) -> None:
        """Show the steps at the present width, the cursor where it is."""
        self._show()

    def _show(self, cursor: int | None = None) -> None:
        files, kits = (self.source.name, self.target.name), (self.plan.source.kit, self.plan.target.kit)
        names = " to ".join(kit.header.name for kit in kits)
        done = f"{len(self._ticked)} of {len(self.plan.steps)} done"
        self.query_one(TitleBar).show("changeover", names, right=done)
        self.query_one(TitleBar).show_not_used(problems_of(zip(files, kits, strict=True)))
        listing = self.query_one(Steps)
        listing.show_rows([self._row(row, listing.size.width - 4) for row in self._rows], cursor)
        self._show_step()

    def _row(self, row: Step | str, width: int) -> Content:
        if isinstance(row, str):
            return Content.styled(row, "bold")
        is_done = tick_key(row) in self._ticked
        text = cut(f"{box(is_done)} {row.number:>3} {sentence(row.what, self.system)}", max(20, width))
        return Content.styled(text, "$foreground-muted" if is_done else "")

    def _show_step(self) -> None:
        pane, step = self.query_one("#step"), self.step
        pane.border_title = Content(f"{step.number}: {step.phase}" if step else "")
        width = max(30, pane.size.width - 2)
        self.query_one("#step-lines", Static).update(Content("\n").join(self._step_lines(step, width)))

    def _step_lines(self, step: Step | None, width: int) -> list[Content]:
        if step is None:
            return []
        lines = [Content(row) for row in wrap(sentence(step.what, self.system), width)]
        if step.work is not None:
            for text in (format_work(step.work, self.system), step.work.how):
                lines += [Content.styled(row, "$foreground-muted") for row in wrap(text, width)]
        return lines

    @on(OptionList.OptionHighlighted, "#steps")
    def _select(self) -> None:
        self._show_step()
        self.query_one("#step").scroll_home(animate=False)

    # ---- ticking ----

    @on(OptionList.OptionSelected, "#steps")
    def action_tick(self) -> None:
        """Tick the step and go on, or take its tick back."""
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
            self.notify("Every step is done. A check that failed is put right before the dive.", markup=False)

    def _keep(self) -> None:
        in_order = [tick_key(step) for step in self.plan.steps if tick_key(step) in self._ticked]
        if not write_progress(self._kept, in_order):
            self.notify("This folder does not take the ticks: they are lost with the screen.", severity="warning")

    def _first_open(self, start: int) -> int:
        """The first row from one on that is a step not done; the last row when all are."""
        rows = list(enumerate(self._rows))
        for number, row in (*rows[start:], *rows[:start]):
            if isinstance(row, Step) and tick_key(row) not in self._ticked:
                return number
        return len(rows) - 1

    def action_next_open(self) -> None:
        """Go to the next step that is not done."""
        here = self.query_one(Steps).highlighted or 0
        self._show(self._first_open(here + 1))

    def action_anew(self) -> None:
        """Take back all ticks, after asking."""
        ways = (Way("t", "take back all ticks", "anew"), Way("k", "keep them", "keep"))
        ticked = f"{len(self._ticked)} of {len(self.plan.steps)} steps are ticked."

        def settle(answer: str | None) -> None:
            if answer == "anew":
                self._ticked = frozenset()
                clear_progress(self._kept)
                self._show(self._first_open(0))

        self.app.push_screen(Ask("Begin anew", ticked, ways), settle)

    # ---- pages ----

    def action_parts(self) -> None:
        """What becomes of each part."""
        self._read("What becomes of each part", fate_lines(self.plan.outcomes, PAGE_WIDTH))

    def action_at_hand(self) -> None:
        """What to have at hand."""
        self._read("At hand", needed_lines(self.plan, PAGE_WIDTH, self.system))

    def action_origins(self) -> None:
        """How each joint is made, and where that comes from."""
        lines = [*work_lines(self.plan, self.system), "", HOW_SURE, "", CAUTIONS]
        self._read("How each joint is made", lines)

    def _read(self, title: str, lines: list[str]) -> None:
        self.app.push_screen(TextPage(title, Content("\n".join(lines))))

    def action_print(self) -> None:
        """Ask for a name and write the checklist there."""
        folder, stem = self.target.parent, f"{self.source.stem}-to-{self.target.stem}"
        names = (f"{stem}{number}.txt" for number in ("", *(f"-{again}" for again in range(2, 1000))))
        name = next(each for each in names if not os.path.lexists(folder / each))
        ask = TypeName(
            "Print to a text file",
            name,
            lambda typed: complain_of_path(folder, typed, ".txt"),
            says=lambda _: PATH_INVITATION,
        )
        self.app.push_screen(ask, self._print)

    def _print(self, name: str | None) -> None:
        if name is None:
            return
        files = (self.source.name, self.target.name)
        text = changeover_text(self.plan, files, self.system, self._ticked)
        try:
            path = path_typed(self.target.parent, name)
            save_text(path, "\n".join([text, *wrap(CAUTIONS, 100), ""]), Over.NOTHING)
        except OSError as error:
            reason = f"{error.strerror or error}. Nothing was written. P writes in another folder."
            self.notify(reason, title="Not printed", severity="error", markup=False)
            return
        self.notify(f"Written to {name}.", markup=False)

    def action_shelf(self) -> None:
        """Back to the shelf."""
        self.app.show_shelf(self.source.parent, self.source)


PAGE_WIDTH = 68
"""Columns of a page."""
