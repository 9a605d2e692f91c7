"""The balance: lead for the stop, buoyancy over the dive, trim, and what would change them."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.diver_question import DiverQuestion
from kitbuilder.app.screens.undoing import Undoing
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.page_view import PageView
from kitbuilder.app.widgets.plot_panel import Plot
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.app.widgets.trim_picture import TrimPicture
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.buoyancy_model import AS_IT_IS, switches_of
from kitbuilder.kitfile.differences import Difference
from kitbuilder.kitfile.document import Document
from kitbuilder.plans.ballast import counterparts, own_cylinders, swappable, what_if
from kitbuilder.report.balance import (
    SWITCH_WORDS,
    details_page,
    format_asked,
    lead_page,
    switch_hints,
)
from kitbuilder.report.form import Choice, cylinder_choices, water_choices
from kitbuilder.report.origins import lead_origins_page
from kitbuilder.report.page import Page, text


class BalanceScreen(Undoing):
    """Lead, two pictures and a table, for the kit as it is or with something asked on top."""

    NAME = "balance"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "water cylinders axis add diver menu back keys",
        "copy export document weigh_in card wing_full suit_flooded lead_dropped stages_lost as_it_is undo redo units "
        "origins quit",
    )

    def __init__(self, document: Document) -> None:
        """Work out the balance of a kit document."""
        super().__init__()
        self.document = document
        self.kit = document.resolved_kit()
        self.water: str | None = None
        self.cylinder: str | None = None
        self.switches = AS_IT_IS

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the lead, the pictures, the table, and the keys."""
        yield TitleBar()
        yield PageView(id="lead")
        with Container(id="pictures"):
            yield Plot(plain=self.shell.plain_pictures, id="plot")
            yield TrimPicture(plain=self.shell.plain_pictures, id="trim")
        with VerticalScroll(id="details"):
            yield PageView(id="detail-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows scroll the table."""
        self.query_one("#details").border_title = Content(switch_hints(self.kit, self.key_of))
        self.query_one("#details").focus()
        self._show()

    def show_all(self) -> None:
        """Work the balance out and show it, with what the kit and its linked files say now."""
        self.kit = self.document.resolved_kit()
        self._show()

    def show_step(self, difference: Difference | None) -> None:  # noqa: ARG002  every entry counts here
        """Work the balance out again with the file as it is after the step."""
        self.show_all()

    def _show(self) -> None:
        name = f"{self.kit.header.name} · {self.document.path.name}"
        water = f"{self.water or self.kit.header.water or 'ocean'} water"
        self.query_one(TitleBar).show("balance", name, unsaved=self.document.is_dirty, right=water)
        self.query_one(TitleBar).show_not_used(self.kit.linked.problems)
        found = self._asked_balance()
        lead = self.query_one("#lead", PageView)
        lead.border_title = Content(f"Lead{self._asked()}")
        lead.show(lead_page(found) if found else Page([text(line) for line in NO_CYLINDER]), self.system)
        self.query_one("#detail-lines", PageView).show(details_page(found) if found else Page([]), self.system)
        self.query_one(Plot).show(found, self.system)
        self.query_one(TrimPicture).show(found, self.system)

    def _asked_balance(self) -> Balance | None:
        return what_if(self.kit, self.water, self.cylinder, self.switches)

    def _asked(self) -> str:
        words = format_asked(self.water, self.cylinder)
        return f" {words}" if words else ""

    # ---- asking ----

    def action_water(self) -> None:
        """Ask which water."""
        own = self.kit.header.water or "ocean"
        choices = [Choice(own, "water of the kit"), *(choice for choice in water_choices() if choice.word != own)]
        ask = Choose("Water of the dive", choices, self.water or own)

        def take(word: str | None) -> None:
            if word is not None:
                self.water = None if word == own else word
                self.show_all()

        self.app.push_screen(ask, take)

    def action_cylinders(self) -> None:
        """Ask which cylinders, the likeliest first."""
        if not swappable(self.kit):
            self.notify("This kit has no cylinder to exchange.", severity="warning", markup=False)
            return
        own = f"{OWN}: {own_cylinders(self.kit)}"
        choices = [Choice(own, ""), *cylinder_choices(counterparts(self.kit), self.system)]

        def take(word: str | None) -> None:
            if word is not None:
                self.cylinder = None if word == own else word
                self.show_all()

        self.app.push_screen(Choose("Cylinders of the dive", choices, self.cylinder or own), take)

    def idle_actions(self) -> frozenset[str]:
        """Give the switches for what the kit does not have."""
        return frozenset(SWITCH_WORDS) - set(switches_of(self.kit))

    def action_switch(self, name: str) -> None:
        """Turn one of the switches, if it would change anything."""
        if name in SWITCH_WORDS and name not in switches_of(self.kit):
            self.notify(f"This does not apply to this kit: {SWITCH_WORDS[name][0]}.", severity="warning", markup=False)
            return
        self.switches = self.switches._replace(**{name: not getattr(self.switches, name)})
        self.show_all()

    def action_as_it_is(self) -> None:
        """Take back all that was asked."""
        self.water, self.cylinder, self.switches = None, None, AS_IT_IS
        self.show_all()

    def action_axis(self) -> None:
        """Draw over the other axis."""
        self.query_one(Plot).turn()

    # ---- the diver ----

    def action_add(self) -> None:
        """Open the diver's page with a new float check in this kit."""
        self._open_diver(new_check=True)

    def action_diver(self) -> None:
        """Open the diver's page."""
        self._open_diver(new_check=False)

    def _open_diver(self, *, new_check: bool) -> None:
        DiverQuestion(self, self.document, new_check=new_check).ask()

    # ---- the rest ----

    def action_weigh_in(self) -> None:
        """Open the table of all items, for readings of a scale."""
        from kitbuilder.app.screens.weigh_in_screen import WeighInScreen

        self.app.push_screen(WeighInScreen(self.document), lambda _: self.show_all())

    def action_card(self) -> None:
        """Open the card for where gear is rented."""
        from kitbuilder.app.screens.take_along import open_kit_card

        open_kit_card(self, self.document)

    def action_origins(self) -> None:
        """Show what the spread of the lead is made of, and what the lead rests on."""
        self.read_page("Where the figures come from", lead_origins_page(self._asked_balance()))

    def whole_page(self) -> Page:
        """Give the lead and the table, with what was asked on top."""
        found = self._asked_balance()
        return Page([*lead_page(found).parts, *details_page(found).parts] if found else [text(*NO_CYLINDER)])

    def back(self) -> None:
        """Go back to the bench."""
        self.dismiss()


OWN = "as in the kit"
NO_CYLINDER = (
    "The lead cannot be worked out yet: no cylinder of this kit has a preset or all its stamped values.",
    "Press esc to go back and a to add a cylinder, then choose its preset.",
)
