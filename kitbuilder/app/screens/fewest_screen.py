"""Fewest hoses: the kits of a folder to mark, and the smallest set of hoses that serves those marked."""

import asyncio
import time
from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar, NamedTuple

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.message import Message
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.working import TICK_S, working_words
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing, row_width
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.gear.owners import Owners, owners_of
from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kitfile.disk import UnreadableFile, kit_paths
from kitbuilder.kitfile.read import read
from kitbuilder.plans.fewest import FROM, ORDERS, FewestPlan, HoseSources, find_fewest, sources_beside
from kitbuilder.report.fewest import fewest_page, fewest_pane, to_buy
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.linked import problems_of
from kitbuilder.report.owners import apart_page
from kitbuilder.report.page import Column, Page, Row, Table, text
from kitbuilder.report.sorting import columns_of
from kitbuilder.report.words import CAUTIONS, box, cut

SLICE_S = 0.05
"""Seconds of reading at a time: keys never wait longer."""
TIME_LIMIT_S = 5.0
"""How long a person waits for a set before the best so far is better."""


class Markable(NamedTuple):
    """One kit file of the folder."""

    name: str
    assessment: Assessment | None
    """None for one that cannot be read."""


class Kits(Listing):
    """One row per kit with its box."""

    BINDINGS: ClassVar[list[BindingType]] = keys_of("", "open")


class FewestScreen(KitbuilderScreen):
    """The kits to serve and the set of hoses for them. The search runs in a thread, so that keys keep working."""

    NAME = "fewest hoses"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "mark order any_body source to_buy menu back keys",
        "copy export document filter sort units quit",
    )

    class Found(Message):
        """A set was found."""

        def __init__(self, asked: int, plan: FewestPlan) -> None:
            """Tell which question it answers."""
            super().__init__()
            self.asked, self.plan = asked, plan

    def __init__(self, folder: Path, names: Sequence[str]) -> None:
        """Show the kits of a folder, some of them marked by their file names."""
        super().__init__()
        self.folder = folder
        self.plan: FewestPlan | None = None
        self._marked = set(names)
        self._kits: list[Markable] = []
        self._unread: list[Path] = []
        self._order, self._source, self._any_body = 0, 0, False
        self._asked, self._answered = 0, 0
        self._since, self._is_stopped = 0.0, False

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the kits, the set, and the keys."""
        yield TitleBar()
        with Container(id="fewest-panes"):
            yield Kits(id="fewest-kits")
            with VerticalScroll(id="fewest"):
                yield PageView(id="fewest-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Read the kits, and look for the set of those that are marked."""
        self.query_one(Kits).focus()
        self.query_one(Kits).name_list("Kits never used together")
        try:
            self._unread = list(kit_paths(self.folder))
        except UnreadableFile as error:
            self.notify(str(error), severity="error", markup=False)
        self.set_interval(TICK_S, self._count)
        self._read_all()

    def _count(self) -> None:
        """Show for how long a set has been looked for."""
        if self.is_working:
            self.query_one(PageView).show(self._page(), self.system)

    def _read_some(self) -> None:
        """Read kits for a moment, and show how far it is."""
        until, shown = time.monotonic() + SLICE_S, len(self.query_one(Kits).rows)
        while self._unread:
            if kit := _read(self._unread.pop(0)):
                self._kits.append(kit)
            if time.monotonic() >= until:
                break
        if not self._unread:
            self._search()
            return
        if len(self._kits) >= 2 * shown:
            self.lay_out()  # rarely: with every kit all rows are laid out again
        self._show_title()

    @work(exclusive=True, group="reading")
    async def _read_all(self) -> None:
        """Read all kits, a moment at a time. A message to oneself would not let a key in between."""
        self._read_some()
        while self._unread:
            await asyncio.sleep(0)
            self._read_some()

    # ---- looking ----

    @property
    def marked(self) -> list[tuple[str, Assessment]]:
        """The kits that are marked and can be read."""
        return [(kit.name, kit.assessment) for kit in self._kits if kit.assessment and kit.name in self._marked]

    @property
    def owners(self) -> Owners:
        """Whose the marked kits are."""
        return owners_of(kit.kit for _, kit in self.marked)

    @property
    def is_working(self) -> bool:
        """Whether a set is being looked for."""
        return self._answered < self._asked

    def _search(self) -> None:
        """Look for the set of what is marked now; an answer to an earlier question comes too late."""
        self._asked += 1
        self._since, self._is_stopped = time.monotonic(), False
        kits = self.marked
        if kits and not self.owners.are_apart:
            sources = sources_beside(kits, FROM[self._source])
            self._find(self._asked, kits, sources, tuple(ORDERS.values())[self._order], self._any_body)
        else:
            self.plan, self._answered = None, self._asked
        self.lay_out()

    @work(thread=True, exclusive=True)
    def _find(
        self,
        asked: int,
        kits: list[tuple[str, Assessment]],
        sources: HoseSources,
        order: tuple[str, ...],
        any_body: bool,
    ) -> None:
        plan = find_fewest(kits, sources, order, any_body=any_body, time_limit_s=TIME_LIMIT_S)
        self.post_message(self.Found(asked, plan))

    @on(Found)
    def _take(self, found: Found) -> None:
        # A thread cannot be stopped: the answer to an earlier question still arrives, and is ignored.
        if found.asked == self._asked:
            self.plan, self._answered = found.plan, found.asked
            self.lay_out()
            self.query_one("#fewest").scroll_home(animate=False)

    # ---- showing ----

    def lay_out(self) -> None:
        """Show the kits and the set at the present width and in the present units."""
        self._show_title()
        self.query_one(TitleBar).show_not_used(problems_of((name, found.kit) for name, found in self.marked))
        listing = self.query_one(Kits)
        listing.show_rows(self._rows(max(10, row_width(listing.size, len(self._kits)))))
        pane = self.query_one("#fewest")
        pane.border_title = Content(self._title(max(10, pane.size.width - 4)))
        self.query_one(PageView).show(self._page(), self.system)

    def _show_title(self) -> None:
        """Show the folder, how many kits are marked, and how far it is read."""
        reading = f", reading {len(self._unread)} more, esc stops" if self._unread else ""
        marked = f"{len(self.marked)} of {len(self._kits)} kits marked{reading}"
        self.query_one(TitleBar).show("fewest hoses", str(self.folder), right=marked)

    def _rows(self, width: int) -> list[Content]:
        columns = [Column("", " "), Column("", "kit", may_wrap=True), Column("", "layout")]
        table = Table("", columns, [self._cells(kit) for kit in self._kits])
        self.query_one(Kits).can_sort_by(columns_of(table))
        _, lines = list_rows(table, width, self.system)
        return [
            styled_line(line) if kit.assessment else Content.styled(plain(line), "$foreground-muted")
            for kit, line in zip(self._kits, lines, strict=True)
        ]

    def _cells(self, kit: Markable) -> Row:
        if kit.assessment is None:
            return ["", kit.name, "unreadable"]
        header = kit.assessment.kit.header
        return [box(kit.name in self._marked), header.name, header.layout]

    def _title(self, width: int) -> str:
        order, body = tuple(ORDERS)[self._order], "any hose body" if self._any_body else "hose bodies as now"
        return cut(f"{order} first, {body}, from {SOURCE_WORDS[FROM[self._source]]}", width)

    def _page(self) -> Page:
        if self.is_working:
            return Page([text(working_words("Working", self._since))])
        if self._is_stopped:
            return Page([text(STOPPED)])
        if self.owners.are_apart:
            return apart_page(self.owners)
        return Page([text(HOW_TO)]) if self.plan is None else fewest_pane(self.plan)

    # ---- keys ----

    @on(OptionList.OptionSelected, "#fewest-kits")
    def action_mark(self) -> None:
        """Mark the kit under the cursor, or take its mark back."""
        number = self.query_one(Kits).place
        if number is None or number >= len(self._kits):
            return
        kit = self._kits[number]
        if kit.assessment is None:
            self.notify(f"{kit.name} cannot be read.", severity="warning", markup=False)
            return
        self._marked ^= {kit.name}
        self._search()

    def action_order(self) -> None:
        """Let the next come first."""
        self._order = (self._order + 1) % len(ORDERS)
        self._search()

    def action_any_body(self) -> None:
        """Switch between free hose bodies and those the files name."""
        self._any_body = not self._any_body
        self._search()

    def action_source(self) -> None:
        """Take the hoses from elsewhere."""
        self._source = (self._source + 1) % len(FROM)
        self._search()

    def action_to_buy(self) -> None:
        """Show what to buy."""
        if self.plan is None or self.is_working:
            self.notify("There is no set of hoses yet. Mark two kits or more.", severity="warning", markup=False)
            return
        self.read_page("To buy", Page([to_buy(self.plan), text(CAUTIONS)], is_one_sheet=True))

    def whole_page(self) -> Page | None:
        """Give the page of the set that the command line prints; None before there is one."""
        return fewest_page(self.plan, ()) if self.plan and not self.is_working else None

    def page_path(self) -> Path:
        """Give the path of a file for the page, in the folder of the kits."""
        return self.folder / "fewest-hoses"

    def back(self) -> None:
        """Stop reading or searching; else go back to the shelf."""
        if self._unread:
            self._unread = []
            self._search()
        elif self.is_working:
            self._stop()
        else:
            self._go_back()

    def _stop(self) -> None:
        """Drop the question: a thread cannot be ended, but its answer is not waited for."""
        self._asked += 1
        self._answered, self.plan, self._is_stopped = self._asked, None, True
        self.lay_out()

    def _go_back(self) -> None:
        number = self.query_one(Kits).place
        here = self._kits[number].name if number is not None and number < len(self._kits) else None
        self.shell.show_shelf(self.folder, self.folder / here if here else None)


def _read(path: Path) -> Markable | None:
    """Read a kit, or a file that might be one; None for a file that says it holds something else."""
    reading = read(path)
    if reading.file is not KIT_FILE:
        return None
    return Markable(path.name, assess(reading.resolved) if reading.resolved else None)


"""Columns of a page."""
STOPPED = "Stopped. Mark a kit, or change what comes first, and the set is looked for again."
SOURCE_WORDS = {"both": "gear and shops", "gear": "gear", "stock": "shops"}
HOW_TO = (
    "Mark two kits or more that are never used together, with space or enter. The smallest set of hoses that "
    "serves all of them is shown here: each hose goes from kit to kit."
)
