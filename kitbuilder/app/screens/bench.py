"""The bench: one kit open for editing."""

from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.screens.dialogs import Ask, Way
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.widgets.figures_table import Figures
from kitbuilder.app.widgets.findings_list import Findings
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.item_list import ItemList
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.picture import HosePicture
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assembly import goes_with
from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.defaults import default_in_kit
from kitbuilder.assess.doubts import doubt_in_kit
from kitbuilder.assess.findings import Finding, Unchecked, Words, keys_named
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.items import Hose, Kit
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.report.cells import format_line
from kitbuilder.report.check import check_page, kit_section, water_words
from kitbuilder.report.findings import result_page, subject
from kitbuilder.report.form import (
    Choice,
    form_rows,
    format_default,
    next_length,
    typed_note,
)
from kitbuilder.report.origins import origins_page
from kitbuilder.report.page import Page

if TYPE_CHECKING:
    from kitbuilder.kitfile.additions import Addition


class Bench(Editing):
    """The items of a kit, the form of one of them, the figures, the picture and the findings."""

    NAME = "bench"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "add balance fit longer save undo menu back keys",
        "copy export document filter sort losses weigh_in swaps card changes shorter remove duplicate move_down "
        "move_up next explain origins redo save_as left right units quit",
    )

    def __init__(self, document: Document) -> None:
        """Open a document that reads as a kit."""
        super().__init__(document)
        self.assessment: Assessment = assess(document.resolved_kit())
        self._previewed = self.assessment

    @property
    def kit(self) -> Kit:
        """The kit as the file says it now."""
        assert isinstance(self.contents, Kit)
        return self.contents

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the panes, and the keys."""
        yield TitleBar()
        with Container(id="panes"):
            yield ItemList(id="items")
            yield Form(id="form")
            yield Figures(id="figures")
            yield HosePicture(plain=self.shell.plain_pictures, id="picture")
            yield Findings(id="findings")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the kit with the cursor on its first hose."""
        hoses = self.assessment.hoses
        self.item = hoses[0].number if hoses else None
        self.query_one(ItemList).focus()
        self._show()
        self.settle_earlier()

    # ---- showing ----

    def show_all(self) -> None:
        """Work the kit out again and show it."""
        self.assessment = self._assessed(self.document.resolved_kit())
        self._show()

    def _show(self) -> None:
        self.query_one(ItemList).show(self.assessment, self.system, self.item)
        self.show_title()
        self._show_form()
        self._show_assessment(self.assessment)

    def show_title(self) -> None:
        """Show the kit and its file, the water to the right."""
        name = f"{self.assessment.kit.header.name} · {self.document.path.name}"
        water = format_line(water_words(self.assessment), self.system)
        self.query_one(TitleBar).show("bench", name, unsaved=self.document.is_dirty, right=water)
        self.query_one(TitleBar).show_not_used(self.assessment.kit.linked.problems)

    def _show_form(self) -> None:
        record = self.record
        title = "kit" if record is None else f"{record.title}: {record.tag}"

        def taken(field: Field) -> str:
            return format_default(default_in_kit(self.assessment, self.item, field), self.system)

        rows = form_rows(self.contents, self.raw_values, self.item, self.system, taken)
        self.query_one(Form).show(title, rows, self.kept_keys(), self.system)

    def kept_keys(self) -> frozenset[str]:
        """Name the keys with findings; with a gear file, also the one that says which of its items this is."""
        results: tuple[Finding | Unchecked, ...] = (*self.assessment.findings, *self.assessment.unchecked)
        return keys_named(results, self.item) | ({"owned"} if self.kit.header.gear else set())

    def show_figures(self, reading: ParseResult) -> None:
        """Show what follows from a reading, kept or just typed."""
        if reading is self.document.reading:
            self._show_assessment(self.assessment)
            return
        assert reading.kit is not None, "the bench shows documents that read as a kit"
        self._previewed = self._assessed(resolve(reading.kit, self.assessment.kit.linked, reading.lines))
        self._show_assessment(self._previewed)

    def typed_note(self, reading: ParseResult, field: Field) -> str:
        """Give the typed value in other units."""
        assert reading.kit is not None
        return typed_note(reading.kit, self.item, field, self.system)

    def doubt(self, reading: ParseResult, field: Field) -> Words:
        """Say why what is typed is more likely a slip."""
        assert reading.kit is not None
        typed = self._assessed(resolve(reading.kit, self.assessment.kit.linked, reading.lines))
        before = None if self.item is None else self.assessment.kit.items[self.item]
        return doubt_in_kit(typed, self.item, field.key, before)

    def _assessed(self, kit: ResolvedKit) -> Assessment:
        """Assess a kit, unless it is the one shown or last typed and its linked files say the same as then."""
        kept = (each for each in (self.assessment, self._previewed) if each.kit == kit)
        return next(kept, None) or assess(kit)

    def _show_assessment(self, assessment: Assessment) -> None:
        self.query_one(Figures).show(assessment, self.item, self.system)
        self.query_one(HosePicture).show(assessment, self.item, self.system)
        self.query_one(Findings).show(assessment, self.system)

    @on(OptionList.OptionHighlighted, "#items")
    def _select(self) -> None:
        selected = self.query_one(ItemList).selected
        if selected != self.item:
            self.item = selected
            self._show_form()
            self._show_assessment(self.assessment)

    @on(OptionList.OptionSelected, "#items")
    def _open_form(self) -> None:
        self.query_one(Form).go_to(None)

    @on(OptionList.OptionSelected, "#findings")
    def _jump(self) -> None:
        result = self.query_one(Findings).selected
        if result is None:
            return
        self.item = result.item
        self._show()
        self.query_one(Form).go_to(result.key)

    # ---- editing ----

    def owned_choices(self) -> tuple[Choice, ...]:
        """List the items of the gear file that the selected item can be."""
        from kitbuilder.report.gear_form import owned_choices

        return () if self.item is None else owned_choices(self.assessment.kit, self.item, self.system)

    def set_value(self, field: Field, text: str) -> None:
        """Set a key; with the item of the gear file that it is, the item gets the values of that."""
        gear = self.assessment.kit.linked.gear
        entry = gear.item(text) if gear and field.kind is ValueKind.OWNED else None
        if entry is None or self.item is None or entry.kind != self.kit.items[self.item].kind:
            super().set_value(field, text)
            return
        from kitbuilder.report.gear_form import values_to_take_up

        item = self.item
        values = values_to_take_up(self.kit.items[item], entry, self.raw_values, self.system)
        if self.try_edit(lambda: self.document.set_values(item, values)) and len(values) > 1:
            keys = ", ".join(key for key in values if key != field.key)
            self.notify(f'Now as "{visible(text)}" in the gear file: {keys}. ctrl+z takes it back.', markup=False)

    def action_longer(self) -> None:
        """Give the hose the next longer stock length."""
        self._step_length(+1)

    def action_shorter(self) -> None:
        """Give the hose the next shorter stock length."""
        self._step_length(-1)

    def _step_length(self, by: int) -> None:
        hose = self.record
        if not isinstance(hose, Hose):
            self.notify("Put the cursor on a hose first.", severity="warning", markup=False)
            return
        length = next_length(hose, by, self.system)
        if length is None:
            self.notify("There is no stock length beyond this one.", severity="warning", markup=False)
            return
        self.try_edit(lambda: self.document.set_value(self.item, "length", length))

    def action_add(self) -> None:
        """Find an item by everyday words, and add it below the one under the cursor."""
        from kitbuilder.app.screens.add_dialog import AddDialog, additions_of_kit

        offered = additions_of_kit(self.assessment.kit, self.assessment.water)
        self.app.push_screen(AddDialog(*offered, self.system), self._add)

    def _add(self, addition: "Addition | None") -> None:
        from kitbuilder.kitfile.additions import kit_values

        if addition is None:
            return
        values = kit_values(addition, self.kit.header.layout, self.document.free_tag(addition.tag))
        after = self.item

        def add() -> None:
            self.item = self.document.add_item(addition.kind, values, after)

        if self.try_edit(add):
            self.query_one(Form).go_to("from")

    def action_duplicate(self) -> None:
        """Copy the item under the cursor."""
        if (item := self.item) is not None:

            def copy() -> None:
                self.item = self.document.copy_item(item)

            self.try_edit(copy)

    def remove_entry(self) -> None:
        """Take the selected item out; ask first when others hang on it, as a regulator does on its stage."""
        item = self.item
        gone = goes_with(self.assessment.kit, item) if item is not None else ()
        if item is None or len(gone) < 2:
            super().remove_entry()
            return
        tags = [self.kit.items[number].tag for number in gone if number != item]
        ways = (Way("i", "only this item", "item"), Way("p", "this item with its parts", "parts"))

        def take(answer: str | None) -> None:
            if answer is not None:
                self.take_out(gone if answer == "parts" else (item,))

        question = f"Remove {self.kit.items[item].tag} with its parts?"
        self.app.push_screen(Ask(question, f"Its parts: {', '.join(tags)}.", ways), take)

    def action_move(self, by: int) -> None:
        """Move the item under the cursor."""
        if (item := self.item) is not None:

            def move() -> None:
                self.item = self.document.move_item(item, by)

            self.try_edit(move)

    # ---- moving about ----

    def action_left(self) -> None:
        """Focus the items."""
        self.query_one(ItemList).focus()

    def action_next(self) -> None:
        """Focus the findings; once there, go to the next one."""
        findings = self.query_one(Findings)
        if findings.has_focus:
            findings.action_cursor_down()
        findings.focus()

    def action_explain(self) -> None:
        """Read a finding in full."""
        result = self.query_one(Findings).selected
        if result is None:
            self.notify("There are no findings.", markup=False)
            return
        self.read_page(subject(result, self.assessment.kit), result_page(result))

    def action_origins(self) -> None:
        """Show where the figures of the item come from."""
        self.read_page("Where the figures come from", origins_page(self.assessment, self.item))

    def action_changes(self) -> None:
        """Show what the edits since the last save changed, and what follows from them."""
        from kitbuilder.app.screens.changes_page import changes_since  # not needed for the first screen

        self.read_page("Changes since the last save", changes_since(self.document, self.assessment))

    def whole_page(self) -> Page:
        """Give the page of the kit that the command line prints."""
        return check_page([kit_section(self.document.path.name, self.assessment)])

    def back(self) -> None:
        """Go back to the kits of this folder, after asking about edits that are not saved."""
        self.leave(self.go_back)

    def action_balance(self) -> None:
        """Open the lead, the buoyancy over the dive, and the trim."""
        from kitbuilder.app.screens.balance_screen import BalanceScreen

        self.app.push_screen(BalanceScreen(self.document), lambda _: self.refresh_all())

    def action_fit(self) -> None:
        """Open the hoses on the body, with the length each should have."""
        from kitbuilder.app.screens.fit_screen import FitScreen

        self.app.push_screen(FitScreen(self.document, self.item), lambda _: self.refresh_all())

    def action_losses(self) -> None:
        """Open what still works when one item fails."""
        from kitbuilder.app.screens.losses_screen import LossesScreen

        self.app.push_screen(LossesScreen(self.document), lambda _: self.refresh_all())

    def action_weigh_in(self) -> None:
        """Open the table of all items, for readings of a scale."""
        from kitbuilder.app.screens.weigh_in_screen import WeighInScreen

        self.app.push_screen(WeighInScreen(self.document), lambda _: self.refresh_all())

    def action_swaps(self) -> None:
        """Open what is lighter to travel with."""
        from kitbuilder.app.screens.swaps_screen import SwapsScreen

        self.app.push_screen(SwapsScreen(self.document), lambda _: self.refresh_all())

    def action_card(self) -> None:
        """Open the card for where gear is rented."""
        from kitbuilder.app.screens.take_along import open_kit_card

        open_kit_card(self, self.document)

    def go_back(self) -> None:
        """Go back to the kits of this folder."""
        self.shell.show_shelf(self.document.path.parent, self.document.path)
