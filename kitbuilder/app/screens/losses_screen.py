"""The losses: one item that fails, what still works then, and how long the gas lasts."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.undoing import Undoing
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import NO_CURSOR, Listing
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import assess
from kitbuilder.kitfile.differences import Difference
from kitbuilder.kitfile.document import Document
from kitbuilder.plans.losses import Loss, work_out_losses
from kitbuilder.report.layout import list_rows
from kitbuilder.report.losses import (
    NOTHING,
    causes_list,
    cautions_page,
    format_cause,
    loss_page,
    losses_page,
    origins_page,
)
from kitbuilder.report.page import Page, text
from kitbuilder.report.sorting import columns_of


class LossesScreen(Undoing):
    """The causes, and all there is to say about one of them."""

    NAME = "losses"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "filter sort units origins menu back keys",
        "copy export document undo redo quit",
    )

    def __init__(self, document: Document) -> None:
        """Work out what a kit document loses with each item that may fail."""
        super().__init__()
        self.document = document
        self.kit = document.resolved_kit()
        self.found = work_out_losses(assess(self.kit))
        self.losses = self.found.losses
        self._place = 0

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the causes beside the effects of one, the cautions below, and the keys."""
        yield TitleBar()
        with Container(id="losses-panes"):
            yield Listing(id="causes")
            with VerticalScroll(id="loss"):
                yield PageView(id="loss-lines")
            with VerticalScroll(id="loss-cautions"):
                yield PageView(id="loss-caution-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows walk the causes."""
        self.query_one("#causes").focus()
        self.lay_out()

    # ---- showing ----

    def show_step(self, difference: Difference | None) -> None:  # noqa: ARG002  every entry counts here
        """Work the losses out again with the file as it is after the step."""
        self.show_all()

    def show_all(self) -> None:
        """Work the losses out again, with what the file and its linked files say now, and show them."""
        self.kit = self.document.resolved_kit()
        self.found = work_out_losses(assess(self.kit))
        self.losses = self.found.losses
        self._place = min(self._place, max(len(self.losses) - 1, 0))
        self.lay_out()

    @property
    def loss(self) -> Loss | None:
        """The loss under the cursor."""
        return self.losses[self._place] if self.losses else None

    def lay_out(self) -> None:
        """Show the causes and the selected loss at the present width."""
        name = f"{self.kit.header.name} · {self.document.path.name}"
        self.query_one(TitleBar).show("losses", name, unsaved=self.document.is_dirty, right=self.kit.header.layout)
        self.query_one(TitleBar).show_not_used(self.kit.linked.problems)
        listing = self.query_one("#causes", Listing)
        table = causes_list(self.found)
        listing.can_sort_by(columns_of(table))
        head, rows = list_rows(table, max(listing.size.width - len(NO_CURSOR), 0), self.system)
        listing.name_list("What fails, and what still works", head if rows else ())
        listing.show_rows([styled_line(row) for row in rows] or [Content.styled("no first stage", "$foreground-muted")])
        self._show_selected()
        self.query_one("#loss-cautions").border_title = "Cautions and assumptions"
        self.query_one("#loss-caution-lines", PageView).show(cautions_page(self.found), self.system)

    def _show_selected(self) -> None:
        loss = self.loss
        self.query_one("#loss").border_title = Content(format_cause(loss) if loss else "Losses")
        page = loss_page(self.found, loss) if loss else Page([text(NOTHING)])
        self.query_one("#loss-lines", PageView).show(page, self.system)

    @on(OptionList.OptionHighlighted, "#causes")
    def _select(self) -> None:
        place = self.query_one("#causes", Listing).place
        if self.losses and place is not None and place != self._place:
            self._place = place
            self._show_selected()
            self.query_one("#loss").scroll_home(animate=False)

    # ---- the rest ----

    def action_origins(self) -> None:
        """Say what the losses assume."""
        self.read_page("Where the figures come from", origins_page(self.found))

    def whole_page(self) -> Page:
        """Give the page of all losses that the command line prints."""
        return losses_page(self.document.path.name, self.found)

    def back(self) -> None:
        """Go back to the bench."""
        self.dismiss()


"""Characters of a line in a dialog."""
