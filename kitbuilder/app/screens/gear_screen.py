"""The gear file: what is owned, with its dates, its state and where it is used."""

from datetime import date
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import TypeName
from kitbuilder.app.screens.editing import Editing
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.owned_list import OwnedList
from kitbuilder.app.widgets.page_view import PageView
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.doubts import doubt_in_gear
from kitbuilder.assess.findings import Words, keys_named
from kitbuilder.assess.gear.due import format_day
from kitbuilder.assess.gear.gear import GearReport, report_on_gear
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import Field
from kitbuilder.kit.gear import Gear
from kitbuilder.kit.lines import NO_LINES
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.folder import kits_naming
from kitbuilder.kitfile.overrides import override_day
from kitbuilder.kitfile.reader import ParseResult
from kitbuilder.kitfile.values import Refusal
from kitbuilder.plans.gear import Uses, contacts_of, kits_using, needs_of, uses_of
from kitbuilder.report.findings import counted
from kitbuilder.report.form import typed_note
from kitbuilder.report.gear import gear_file_page, gear_page, item_page, owned_list
from kitbuilder.report.gear_form import gear_rows
from kitbuilder.report.page import Page

if TYPE_CHECKING:
    from kitbuilder.kitfile.additions import Addition


class GearScreen(Editing):
    """The items as a list, the form of one, and all there is to say about it on a day."""

    NAME = "gear screen"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "add filter day save undo menu back keys",
        "copy export document sort remove duplicate redo save_as left right units quit",
    )

    def __init__(self, document: Document, day: date) -> None:
        """Open a gear document.

        Args:
            document: A gear file that can be read.
            day: The day on which items are to be in order.
        """
        super().__init__(document)
        self.day = day
        self._kits = kits_naming(document.path)
        self._contacts = contacts_of(self._kits)
        self._last_report: GearReport | None = None

    @property
    def gear(self) -> Gear:
        """The gear as the file says now."""
        assert isinstance(self.contents, Gear)
        return self.contents

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the list, the form, what there is to say, and the keys."""
        yield TitleBar()
        with Container(id="gear-panes"):
            yield OwnedList(id="owned")
            yield Form(id="form")
            with VerticalScroll(id="owned-details"):
                yield PageView(id="owned-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the gear file with the cursor on its first item."""
        self.item = 0 if self.gear.items else None
        self.query_one(OwnedList).focus()
        self.show_all()
        self.settle_earlier()

    def whole_page(self) -> Page:
        """Give the page of the gear file that the command line prints."""
        report = self._report(self.gear)
        needs = [(name, needs_of(kit, self.gear)) for name, kit in self._kits]
        return gear_page(self.document.path.name, report, uses_of(self.gear, self._kits), needs)

    # ---- showing ----

    def show_all(self) -> None:
        """Work everything out again and show it."""
        report = self._report(self.gear)
        signals = [report.worst.get(number) for number in (None, *range(len(self.gear.items)))]
        self.query_one(OwnedList).show(owned_list(self.gear), signals, self.system, self.item)
        self._show_form()
        self.show_title()
        self.show_figures(self.document.reading)

    def _show_form(self) -> None:
        title = "gear" if self.record is None else f"{self.record.title}: {self.record.tag}"
        rows = gear_rows(self.gear, self.raw_values, self.item, self.system)
        self.query_one(Form).show(title, rows, self.kept_keys(), self.system)

    def kept_keys(self) -> frozenset[str]:
        """Name the keys with findings."""
        report = self._report(self.gear)
        return keys_named((*report.findings, *report.unchecked), self.item)

    def show_title(self) -> None:
        """Show the gear and the file, the day and the findings to the right."""
        name = f"{self.gear.header.name} · {self.document.path.name}"
        right = f"on {format_day(self.day)}"
        self.query_one(TitleBar).show("gear", name, unsaved=self.document.is_dirty, right=right)

    def show_figures(self, reading: ParseResult) -> None:
        """Show all there is to say about the selected item, as saved or just typed."""
        assert isinstance(reading.contents, Gear)
        report = self._report(reading.contents)
        self.query_one("#owned-lines", PageView).show(self._page(report), self.system)
        title = "gear" if self.record is None else visible(self.record.tag)
        self.query_one("#owned-details").border_title = Content(
            f"About {title} · all findings: {counted(report.findings)}"
        )

    def _page(self, report: GearReport) -> Page:
        """Build what there is to say about the selected item; of the gear file itself, what its kits need more."""
        if self.item is None:
            return gear_file_page(report, [(name, needs_of(kit, report.gear)) for name, kit in self._kits])
        return item_page(report, self.item, self._uses(report.gear))

    def _report(self, gear: Gear) -> GearReport:
        """Report on the gear file; the last report is kept while file and day are the same. Kits are read once."""
        last = self._last_report
        if last is None or last.gear is not gear or last.day != self.day:
            used = kits_using(self._uses(gear))
            last = self._last_report = report_on_gear(gear, self.day, used, NO_LINES, self._contacts)
        return last

    def _uses(self, gear: Gear) -> Uses:
        return uses_of(gear, self._kits)

    def typed_note(self, reading: ParseResult, field: Field) -> str:
        """Give the typed value in other units, or the day in words."""
        assert reading.contents is not None
        return typed_note(reading.contents, self.item, field, self.system)

    def doubt(self, reading: ParseResult, field: Field) -> Words:
        """Say why what is typed is more likely a slip."""
        assert isinstance(reading.contents, Gear)
        return doubt_in_gear(self.gear, reading.contents, self.item, field.key)

    @on(OptionList.OptionHighlighted, "#owned")
    def _select(self) -> None:
        selected = self.query_one(OwnedList).selected
        if selected != self.item:
            self.item = selected
            self._show_form()
            self.show_figures(self.document.reading)

    @on(OptionList.OptionSelected, "#owned")
    def _open_form(self) -> None:
        self.query_one(Form).go_to(None)

    # ---- editing ----

    def set_value(self, field: Field, text: str) -> None:
        """Set a key; kits know an item by its tag, so a new tag is reported with the kits that have the old one."""
        kits = kits_using(self._uses(self.gear)).get(self.record.tag, ()) if self.record else ()
        super().set_value(field, text)
        if field.key == "tag" and kits:
            self.notify(f"The old tag is still used in {', '.join(kits)}.", severity="warning", markup=False)

    def action_add(self) -> None:
        """Find an item by everyday words, and add it below the one under the cursor."""
        from kitbuilder.app.screens.add_dialog import AddDialog, additions_of_gear

        self.app.push_screen(AddDialog(*additions_of_gear(), self.system), self._add)

    def _add(self, addition: "Addition | None") -> None:
        from kitbuilder.kitfile.additions import owned_values

        if addition is None:
            return
        values = owned_values(addition, self.document.free_tag(addition.tag))
        after = self.item

        def add() -> None:
            self.item = self.document.add_item(addition.kind, values, after)

        if self.try_edit(add):
            self.query_one(Form).go_to("tag")

    def action_duplicate(self) -> None:
        """Copy the item under the cursor."""
        if (item := self.item) is not None:

            def copy() -> None:
                self.item = self.document.copy_item(item)

            self.try_edit(copy)

    def action_day(self) -> None:
        """Ask for the day on which all is to be in order."""
        ask = TypeName("Day to be ready for", self.day.isoformat(), _complain_of_day, says=_said_of_day)
        self.app.push_screen(ask, self._take_day)

    def _take_day(self, text: str | None) -> None:
        if text is not None:
            self.day = override_day(text)
            self.show_all()

    # ---- moving about ----

    def action_left(self) -> None:
        """Focus the list."""
        self.query_one(OwnedList).focus()

    def back(self) -> None:
        """Go back to the kits, after asking about edits that are not saved."""
        self.leave(self.go_back)

    def go_back(self) -> None:
        """Go back to the kits of the folder."""
        self.shell.show_shelf(self.document.path.parent)


def _complain_of_day(text: str) -> str | None:
    try:
        override_day(text)
    except Refusal as refusal:
        return str(refusal)
    return None


def _said_of_day(text: str) -> str:
    return f"{format_day(override_day(text))}; enter shows what is due by then."
