"""The pair: what two or three divers must agree on, and what each can give the other."""

from collections.abc import Sequence
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing, row_width
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import Assessment
from kitbuilder.plans.pair.pair import Pair, pair_up
from kitbuilder.report.layout import list_rows
from kitbuilder.report.page import Page
from kitbuilder.report.pair import (
    NOTHING,
    agreement_page,
    agreements_list,
    agreements_title,
    facts_page,
    pair_page,
    pair_problems,
)
from kitbuilder.report.sorting import columns_of


class PairScreen(KitbuilderScreen):
    """What to agree on as a list, and below it a row per diver for each need of a pair."""

    NAME = "pair"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "explain filter units document menu back keys",
        "sort copy export quit",
    )

    def __init__(self, kits: Sequence[tuple[Path, Assessment]]) -> None:
        """Work out the pair of the divers of some kits."""
        super().__init__()
        self._paths = [path for path, _ in kits]
        self.found: Pair = pair_up([(path.name, assessment) for path, assessment in kits])

    def compose(self) -> ComposeResult:
        """Lay out the title bar, what to agree on, the tables, and the keys."""
        yield TitleBar()
        yield Listing(id="agreements")
        with VerticalScroll(id="pair-facts"):
            yield PageView(id="pair-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows walk what to agree on."""
        self.query_one(Listing).focus()
        self.lay_out()

    def lay_out(self) -> None:
        """Show the list and the tables at the present width and in the present units."""
        names = " and ".join(member.name for member in self.found.members)
        self.query_one(TitleBar).show("pair", names)
        self.query_one(TitleBar).show_not_used(pair_problems(self.found))
        listing, table = self.query_one(Listing), agreements_list(self.found)
        listing.can_sort_by(columns_of(table))
        _, rows = list_rows(table, row_width(listing.size, len(table.rows)), self.system)
        listing.name_list(agreements_title(self.found) or "Before the dive")
        listing.show_rows([styled_line(row) for row in rows] or [Content.styled(NOTHING, "$foreground-muted")])
        facts = self.query_one("#pair-facts")
        facts.border_title = "What each can give the other · tab to go there"
        self.query_one("#pair-lines", PageView).show(facts_page(self.found), self.system)

    @on(OptionList.OptionSelected)
    def action_explain(self) -> None:
        """Show the point under the cursor in full."""
        place = self.query_one(Listing).place
        if place is None or place >= len(self.found.agreements):
            return
        agreement = self.found.agreements[place]
        self.read_page(agreement.topic.capitalize(), agreement_page(agreement))

    def whole_page(self) -> Page:
        """Give the page that the command line prints."""
        return pair_page(self.found)

    def page_path(self) -> Path:
        """Give the path of a file for the page, beside the first kit."""
        first, *others = self._paths
        return first.with_name("-and-".join(path.stem for path in (first, *others)))

    def back(self) -> None:
        """Go back to the shelf."""
        self.shell.show_shelf(self._paths[0].parent, self._paths[0])
