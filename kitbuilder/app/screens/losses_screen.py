"""The losses: one item that fails, what still works then, and how long the gas lasts."""

from textwrap import wrap
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import Footer, OptionList, Static

from kitbuilder.app.content import Content
from kitbuilder.app.keys import key
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import TextPage
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import assess
from kitbuilder.kitfile.document import Document
from kitbuilder.plans.losses import Loss, work_out_losses
from kitbuilder.report.losses import (
    ESTIMATE,
    NOTHING,
    SHORT_CAUSES,
    assumption_lines,
    format_cause,
    format_plain,
    format_stage,
    loss_rows,
)
from kitbuilder.report.words import CAUTIONS, cut


class LossesScreen(KitbuilderScreen):
    """The causes, and all there is to say about one of them."""

    NAME = "losses"

    BINDINGS: ClassVar[list[BindingType]] = [
        key("m", "units", "Units", "Show metric or imperial units."),
        key("o", "origins", "Origins", "Where these figures come from, and how far to trust them."),
        key("escape", "bench", "Bench", "Back to the bench.", display="esc"),
        key("question_mark,f1", "keys", "Keys", "Every key of this screen.", display="?"),
        key("q,ctrl+q", "app.quit", "Quit", "Leave kitbuilder.", show=False),
    ]

    def __init__(self, document: Document) -> None:
        """Work out what a kit document loses with each item that may fail."""
        super().__init__()
        self.document = document
        self.kit = document.resolved_kit()
        self.found = work_out_losses(assess(self.kit))
        self.losses = self.found.losses
        self._place = 0

    def compose(self) -> ComposeResult:
        """Top line, the causes and what comes of one side by side, the cautions below, and the keys."""
        yield TitleBar()
        with Container(id="losses-panes"):
            yield Listing(id="causes")
            with VerticalScroll(id="loss"):
                yield Static("", id="loss-lines", markup=False)
            with VerticalScroll(id="loss-cautions"):
                yield Static("", id="loss-caution-lines", markup=False)
        yield Footer(compact=True)

    def on_mount(self) -> None:
        """Let the arrows walk the causes."""
        self.query_one("#causes").focus()
        self.lay_out()

    # ---- showing ----

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
        listing.border_title = "If this fails, so many still work"
        listing.show_rows(self._rows(listing.size.width - 2), self._place)
        self._show_selected()
        cautions = self.query_one("#loss-cautions")
        cautions.border_title = "Mind, and what is taken for granted"
        width = max(30, cautions.size.width - 2)
        lines = [row for text in self._cautions() for row in wrap(text, width)]
        self.query_one("#loss-caution-lines", Static).update(Content("\n".join(lines)))

    def _rows(self, width: int) -> list[Content]:
        tag_width = max(8, width - CAUSE_WIDTH - COUNT_WIDTH - 2)
        rows = []
        for loss in self.losses:
            tag, count = cut(loss.tag, tag_width), f"{loss.works}/{loss.works + loss.lost}"
            rows.append(Content(f"{tag:<{tag_width}} {SHORT_CAUSES[loss.cause]:<{CAUSE_WIDTH}} {count:>{COUNT_WIDTH}}"))
        return rows or [Content.styled("nothing yet", "$foreground-muted")]

    def _show_selected(self) -> None:
        loss, pane = self.loss, self.query_one("#loss")
        pane.border_title = Content(format_cause(loss) if loss else "Losses")
        width = max(30, pane.size.width - 2)
        self.query_one("#loss-lines", Static).update(Content("\n").join(self._lines(loss, width)))

    def _lines(self, loss: Loss | None, width: int) -> list[Content]:
        if loss is None:
            return [Content(row) for row in wrap(NOTHING, width)]
        lines = []
        for label, text in (*loss_rows(loss, self.system), ("from", format_stage(self.found, loss.stage))):
            first, *rest = wrap(text, width - LABEL_WIDTH) or [""]
            lines.append(Content.assemble((f"{label:<{LABEL_WIDTH}}", "$foreground-muted"), first))
            lines += [Content(f"{'':<{LABEL_WIDTH}}{row}") for row in rest]
        return lines

    def _cautions(self) -> list[str]:
        """What matters most first, since little room shows the first lines only."""
        plain = format_plain(self.found)
        first = [*([plain] if plain else []), ESTIMATE] if self.losses else []
        return [*first, *assumption_lines(self.found, self.system), CAUTIONS]

    @on(OptionList.OptionHighlighted, "#causes")
    def _select(self, event: OptionList.OptionHighlighted) -> None:
        if self.losses and event.option_index != self._place:
            self._place = event.option_index
            self._show_selected()
            self.query_one("#loss").scroll_home(animate=False)

    # ---- the rest ----

    def action_origins(self) -> None:
        """What the losses take for granted."""
        lines = "\n\n".join([*assumption_lines(self.found, self.system), CAUTIONS])
        self.app.push_screen(TextPage("Where the figures come from", Content(lines)))

    def action_bench(self) -> None:
        """Back to the bench."""
        self.dismiss()


LABEL_WIDTH = 10
CAUSE_WIDTH, COUNT_WIDTH = 12, 5
