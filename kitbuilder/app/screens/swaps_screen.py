"""Swaps of a kit: what is lighter, sets that no other set beats, and the figures with one of them tried."""

from collections.abc import Callable
from typing import ClassVar, NamedTuple

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.undoing import Undoing
from kitbuilder.app.screens.unsaved import tell_news
from kitbuilder.app.screens.working import work_out
from kitbuilder.app.widgets.front_panel import FrontPicture
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing, row_width
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kitfile.differences import Difference
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.item_edits import apply_edits
from kitbuilder.plans.swaps.swaps import Swap, Swaps, SwapSet, plan_swaps
from kitbuilder.plans.swaps.trial import Chosen, Trial, as_it_is, chosen_of, try_on_kit
from kitbuilder.plans.trip_packing import TripPacking
from kitbuilder.report.layout import list_rows
from kitbuilder.report.page import Page, Table, text
from kitbuilder.report.sorting import columns_of
from kitbuilder.report.swaps import NOTHING, set_page, sets_table, swap_page, swaps_page, swaps_table
from kitbuilder.report.swaps_tried import chosen_words, tried_page
from kitbuilder.report.undone import undone_words

NOT_WORKED_OUT = "The swaps are not worked out yet. g works them out."
NO_SETS = "No set: no swap may be combined."


class SwapsThere(NamedTuple):
    """The swaps of a kit, by itself or on a trip."""

    found: Swaps
    packing: TripPacking | None = None
    """Of its trip as it is; None for a kit by itself."""


class SwapsScreen(Undoing):
    """The figures as they are and with what is tried; the swaps; the sets with a picture; what is under the cursor."""

    NAME = "swaps"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "try_out take as_it_is undo filter menu back keys",
        "explain sort left right copy export document reload redo units quit",
    )

    def __init__(self, document: Document) -> None:
        """Open the swaps of the kit of a document."""
        super().__init__()
        self.document = document
        self.there: SwapsThere | None = None
        """None before they are worked out, and after that was stopped."""
        self.trial: Trial | None = None
        self._planned: ResolvedKit | ResolvedTrip | None = None
        """What the swaps were worked out of."""
        self._is_on_set = False
        """Whether the cursor is in the list of the sets."""

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the figures, both lists, what is under the cursor, the picture and the keys."""
        yield TitleBar()
        with Container(id="swap-panes"):
            yield PageView(id="swap-figures")
            yield Listing(id="swaps")
            yield Listing(id="swap-sets")
            with VerticalScroll(id="swap-about"):
                yield PageView(id="swap-about-lines")
            yield FrontPicture(plain=self.shell.plain_pictures, id="swap-front")
        yield KeyLine()

    def on_mount(self) -> None:
        """Work the swaps out, and let the arrows walk them."""
        self.query_one("#swaps").focus()
        self.plan_again()

    # ---- working it out ----

    def resolved(self) -> ResolvedKit | ResolvedTrip:
        """Give what the swaps follow from, as the files say it now."""
        return self.document.resolved_kit()

    def question(self) -> Callable[[], SwapsThere]:
        """Give what is to be worked out, for a thread."""
        kit = self.document.resolved_kit()
        return lambda: SwapsThere(plan_swaps(kit))

    def trying(self, there: SwapsThere, chosen: Chosen) -> Callable[[], Trial]:
        """Give how a trial is worked out, for a thread."""
        return lambda: try_on_kit(there.found, chosen)

    def plan_again(self, said: str = "", title: str = "") -> None:
        """Work the swaps out, with what the files say now.

        Args:
            said: What to say then; before, the message would go with the screen.
            title: What the message is called.
        """
        self.there, self.trial, self._planned = None, None, self.resolved()
        self.lay_out()

        def take(there: SwapsThere) -> None:
            self.there = there
            self.lay_out()
            if said:
                self.notify(said, title=title, markup=False)
            tell_news(self, self.document)

        work_out(self, "Swaps", self.question(), take)

    # ---- what it knows ----

    @property
    def swap(self) -> Swap | None:
        """The swap under the cursor."""
        place = self.query_one("#swaps", Listing).place
        swaps = self.there.found.swaps if self.there else ()
        return swaps[place] if place is not None and place < len(swaps) else None

    @property
    def swap_set(self) -> SwapSet | None:
        """The set under the cursor."""
        place = self.query_one("#swap-sets", Listing).place
        sets = self.there.found.sets if self.there else ()
        return sets[place] if place is not None and place < len(sets) else None

    @property
    def chosen(self) -> Chosen | None:
        """What is under the cursor: a swap or a set."""
        selected = self.swap_set if self._is_on_set else self.swap
        return chosen_of(selected) if selected else None

    @property
    def kit_file(self) -> str:
        """The name of the file of the kit."""
        return self.document.path.name

    # ---- showing ----

    def show_step(self, difference: Difference | None) -> None:  # noqa: ARG002  every entry counts here
        """Work the swaps out again with the file as it is after the step."""
        self.plan_again()

    def _say_step(self, verb: str, found: tuple[Difference, ...]) -> None:
        self.plan_again(undone_words(verb, found, self.document.file.name))

    def show_all(self) -> None:
        """Show everything; worked out again only where a file says something else now."""
        if self.there is not None and self.resolved() == self._planned:
            self.lay_out()
        else:
            self.plan_again()

    def action_reload(self) -> None:
        """Work the swaps out again."""
        self.plan_again()

    def lay_out(self) -> None:
        """Show everything at the present width."""
        self.set_class(self._is_on_set, "-in-sets")
        self.show_title()
        figures = self.query_one("#swap-figures", PageView)
        figures.border_title = Content(self._tried_words())
        there = self.there
        if there is None:
            figures.show(Page([text(NOT_WORKED_OUT)]), self.system)
        else:
            figures.show(tried_page(there.found, as_it_is(there.found, there.packing), self.trial), self.system)
        self._fill("#swaps", swaps_table(there.found) if there else None, NOTHING)
        self._fill("#swap-sets", sets_table(there.found) if there else None, NO_SETS)
        self._show_selected()

    def _tried_words(self) -> str:
        if self.trial is None:
            return f"Nothing tried: {self.key_of('try_out')} tries what is under the cursor"
        return f"Tried, not written: {chosen_words(self.trial.chosen)}. {self.key_of('as_it_is')} ends this"

    def show_title(self) -> None:
        """Show the kit and its file."""
        name = f"{self.document.reading.contents.header.name} · {self.document.path.name}"  # type: ignore[union-attr]
        bar = self.query_one(TitleBar)
        bar.show("swaps", name, unsaved=self.document.is_dirty, right=self.state_words)
        bar.show_not_used(self.there.found.before.kit.linked.problems if self.there else ())

    @property
    def state_words(self) -> str:
        """Say on the right of the title what is shown."""
        return f"{len(self.there.found.swaps)} swaps" if self.there else "not worked out"

    def _fill(self, selector: str, table: Table | None, empty: str) -> None:
        listing = self.query_one(selector, Listing)
        rows = table._replace(title="") if table else None
        if rows is None or not rows.rows:
            listing.name_list("Swaps" if selector == "#swaps" else "Sets")
            listing.show_rows([Content.styled(empty, "$foreground-muted")] if rows else [])
            return
        listing.can_sort_by(columns_of(rows))
        head, lines = list_rows(rows, row_width(listing.size, len(rows.rows)), self.system)
        listing.name_list("", head)
        listing.show_rows([styled_line(line) for line in lines])

    def _show_selected(self) -> None:
        there, swap, chosen_set = self.there, self.swap, self.swap_set
        page, title = Page([]), "What it does"
        if there and self._is_on_set and chosen_set:
            page, title = set_page(there.found, chosen_set), "This set"
        elif there and swap and not self._is_on_set:
            page, title = swap_page(there.found, swap), "This swap"
        pane = self.query_one("#swap-about")
        pane.border_title = Content(title)
        pane.scroll_home(animate=False)
        self.query_one("#swap-about-lines", PageView).show(page, self.system)
        selected = chosen_set if self._is_on_set else None
        self.query_one(FrontPicture).show(there.found if there else None, self.system, selected)

    @on(events.DescendantFocus)
    def _follow_focus(self, event: events.DescendantFocus) -> None:
        """Let the details be of the list that the cursor is in; in a small terminal that list gets the room."""
        if event.widget.id in ("swaps", "swap-sets"):
            self._is_on_set = event.widget.id == "swap-sets"
            self.set_class(self._is_on_set, "-in-sets")
            self.call_after_refresh(self.lay_out)

    @on(OptionList.OptionHighlighted)
    def _select(self) -> None:
        self._show_selected()

    def action_left(self) -> None:
        """Go to the swaps."""
        self.query_one("#swaps").focus()

    def action_right(self) -> None:
        """Go to the sets."""
        self.query_one("#swap-sets").focus()

    def action_explain(self) -> None:
        """Read in full what the swap or the set under the cursor does."""
        there, chosen = self.there, self.swap_set if self._is_on_set else self.swap
        if there is None or chosen is None:
            return
        page = set_page(there.found, chosen) if isinstance(chosen, SwapSet) else swap_page(there.found, chosen)
        self.read_page(chosen_words(chosen_of(chosen)), page)

    # ---- trying and taking ----

    @on(OptionList.OptionSelected, "#swaps, #swap-sets")
    def action_try_out(self) -> None:
        """Show the figures with what is under the cursor; once more shows them as they are."""
        there, chosen = self.there, self.chosen
        if there is None or chosen is None:
            return
        if self.trial is not None and self.trial.chosen == chosen:
            self.action_as_it_is()
            return

        def take(trial: Trial) -> None:
            self.trial = trial
            self.lay_out()

        work_out(self, "Trying it", self.trying(there, chosen), take)

    def action_as_it_is(self) -> None:
        """Show the figures as they are."""
        self.trial = None
        self.lay_out()

    def action_take(self) -> None:
        """Take what is tried, else what is under the cursor."""
        chosen = self.trial.chosen if self.trial else self.chosen
        if self.there is None or chosen is None:
            self.notify("Put the cursor on a swap or a set first.", severity="warning", markup=False)
        elif self.resolved() != self._planned:
            # Items are known by their number: in another state of the file that may be another item.
            changed = "A file was changed since the swaps were worked out. They are worked out again: choose once more."
            self.plan_again(changed, "Not taken")
        else:
            self.take(chosen)

    def take(self, chosen: Chosen) -> None:
        """Put a swap or a set into the kit, as an edit that is not saved."""
        if not self.edited(lambda: apply_edits(self.document, chosen.edits)):
            return
        undo = self.key_of("undo")
        self.plan_again(f"In the kit, not saved yet: {chosen_words(chosen)}. {undo} takes it back.", "Taken")

    def edited(self, edit: Callable[[], None]) -> bool:
        """Make an edit; say why if it is refused."""
        try:
            edit()
        except RefusedEdit as refusal:
            self.notify(str(refusal), title="Not changed", severity="error", markup=False)
            return False
        return True

    # ---- the rest ----

    def whole_page(self) -> Page | None:
        """Give the page that the command line prints; none while it is worked out."""
        return swaps_page(self.kit_file, self.there.found) if self.there else None

    def back(self) -> None:
        """Go back to the bench or the trip."""
        self.dismiss()
