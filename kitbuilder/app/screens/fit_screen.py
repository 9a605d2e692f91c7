"""The fit: every hose on the body that wears it, the length each should have, and what to buy."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container, VerticalScroll
from textual.widgets import OptionList

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import Choose, TypeName
from kitbuilder.app.screens.diver_question import DiverQuestion
from kitbuilder.app.screens.path import EditPath, Landmarks
from kitbuilder.app.screens.undoing import Undoing
from kitbuilder.app.screens.unsaved import tell_news
from kitbuilder.app.widgets.body_panel import BodyPanel
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import CURSOR, Listing
from kitbuilder.app.widgets.page_view import PageView, styled_line
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import assess
from kitbuilder.assess.doubts import doubt_in_kit
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.items import Hose
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.differences import Difference
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.plans.fitting import FittedHose, FittingPlan, plan_fitting
from kitbuilder.report.cells import format_line
from kitbuilder.report.fit import caution_parts, fit_page, hose_list, hose_page, route_name, shopping_part
from kitbuilder.report.form import landmark_choices, next_length, route_choices, typed_note, with_usual_unit
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lengths import written_length
from kitbuilder.report.measuring import ENTERING, MeasuringStep, measuring_steps
from kitbuilder.report.page import Page as ReportPage
from kitbuilder.report.page import text
from kitbuilder.report.route_picture import hose_letter, route_picture
from kitbuilder.report.sorting import columns_of
from kitbuilder.report.words import sentence


class Hoses(Listing):
    """One row per hose: its letter, its tag, its present length, what to do, and its worst finding."""


class FitScreen(Undoing):
    """Shows the hoses, the body with their routes, and all there is to say about one of them."""

    NAME = "fit"

    BINDINGS: ClassVar[list[BindingType]] = keys_of(
        "take measure route to_buy undo menu back keys",
        "copy export document filter sort path diver longer shorter remove redo units origins quit",
    )

    def __init__(self, document: Document, item: int | None) -> None:
        """Fit the hoses of a kit document, the cursor on one of them if that is a hose."""
        super().__init__()
        self.document = document
        self.plan: FittingPlan = self._planned()
        numbers = [fitted.figures.number for fitted in self.plan.hoses]
        self._place = numbers.index(item) if item in numbers else 0

    def compose(self) -> ComposeResult:
        """Show the top line, the hoses and the body side by side, the words below, and the keys."""
        yield TitleBar()
        with Container(id="fit-panes"):
            yield Hoses(id="hoses")
            yield BodyPanel(plain=self.shell.plain_pictures, id="standing")
            with VerticalScroll(id="advice"):
                yield PageView(id="advice-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Let the arrows walk the hoses."""
        self.query_one(Hoses).focus()
        self.lay_out()

    # ---- showing ----

    @property
    def kit(self) -> ResolvedKit:
        """The kit that is shown."""
        return self.plan.assessment.kit

    @property
    def fitted(self) -> FittedHose | None:
        """The hose under the cursor."""
        return self.plan.hoses[self._place] if self.plan.hoses else None

    def _planned(self) -> FittingPlan:
        return plan_fitting(assess(self.document.resolved_kit()))

    def show_all(self) -> None:
        """Work the fit out again and show it."""
        self.plan = self._planned()
        self._place = min(self._place, max(len(self.plan.hoses) - 1, 0))
        self.lay_out()
        tell_news(self, self.document)

    def lay_out(self) -> None:
        """Show the hoses, the body and the selected hose at the present width."""
        name = f"{self.kit.header.name} · {self.document.path.name}"
        self.query_one(TitleBar).show("fit", name, unsaved=self.document.is_dirty, right=self.kit.header.layout)
        self.query_one(TitleBar).show_not_used(self.plan.assessment.kit.linked.problems)
        self._show_hoses()
        self._show_selected()

    def _show_hoses(self) -> None:
        listing = self.query_one(Hoses)
        table = hose_list(self.plan)
        listing.can_sort_by(columns_of(table))
        head, rows = list_rows(table, listing.size.width - len(CURSOR), self.system)
        listing.name_list("Hoses", head if rows else ())
        listing.show_rows(
            [styled_line(row) for row in rows] or [Content.styled("no hose yet", "$foreground-muted")], self._place
        )

    def _show_selected(self) -> None:
        fitted = self.fitted
        picture = route_picture(self.plan, fitted.figures.number if fitted else None)
        self.query_one(BodyPanel).show(picture)
        self.query_one("#advice").border_title = Content(self._title(fitted))
        page = ReportPage([text(NO_HOSE)]) if fitted is None else hose_page(fitted, self.plan)
        self.query_one(PageView).show(page, self.system)

    def _title(self, fitted: FittedHose | None) -> str:
        if fitted is None:
            return "Fit"
        return f"{hose_letter(self._place)} {visible(fitted.figures.hose.tag)}: {route_name(fitted)}"

    @on(OptionList.OptionHighlighted, "#hoses")
    def _select(self) -> None:
        place = self.query_one(Hoses).place
        if place is not None and place != self._place:
            self._place = place
            self._show_selected()
            self.query_one("#advice").scroll_home(animate=False)

    # ---- editing ----

    def _try_edit(self, number: int, changes: dict[str, TomlValue | None]) -> bool:
        """Set keys of a hose and show what came of it; say why if it is refused."""
        written = {name: value for name, value in changes.items() if value or self.document.has(number, name)}
        try:
            self.document.set_values(number, written)
        except RefusedEdit as refusal:
            self.notify(str(refusal), title="Not changed", severity="error", markup=False)
            return False
        self.show_all()
        return True

    def action_take(self) -> None:
        """Give the hose the advised length, and ends that join where its own do not."""
        fitted = self._fitted_or_say()
        if fitted is None or (fitted.advice is None and not fitted.other_ends):
            return
        changes: dict[str, TomlValue | None] = {**fitted.other_ends}
        advice = fitted.advice
        if advice is not None and advice.is_replaced:
            buy, made = advice.buy, f"{advice.made_m * 100:.0f} cm"
            changes["length"] = written_length(buy.length_m, self.system) if buy else made
        if not changes:
            must_measure = advice is not None and advice.must_measure
            say = "Measure its run first." if must_measure else "It has a length that fits already."
            self.notify(say, markup=False)
            return
        self._try_edit(fitted.figures.number, changes)

    def action_longer(self) -> None:
        """Give the hose the next longer stock length."""
        self._step_length(+1)

    def action_shorter(self) -> None:
        """Give the hose the next shorter stock length."""
        self._step_length(-1)

    def _step_length(self, by: int) -> None:
        fitted = self._fitted_or_say()
        if fitted is None:
            return
        length = next_length(fitted.figures.hose, by, self.system)
        if length is None:
            self.notify("There is no stock length beyond this one.", severity="warning", markup=False)
            return
        self._try_edit(fitted.figures.number, {"length": length})

    def action_route(self) -> None:
        """Ask which way the hose is led."""
        fitted = self._fitted_or_say()
        if fitted is None:
            return
        hose, routed = fitted.figures.hose, fitted.figures.routed
        choices = route_choices(hose, self.kit.header.layout)
        ask = Choose(f"Route of {hose.tag}", choices, routed.route.name if routed else "", may_clear=True)

        def take(name: str | None) -> None:
            if name is not None:
                # A path of its own would still hide the route.
                self._try_edit(fitted.figures.number, {"path": None, "route": name or None})

        self.app.push_screen(ask, take)

    def action_path(self) -> None:
        """Edit the hose's path by landmarks."""
        fitted = self._fitted_or_say()
        if fitted is None:
            return
        number, routed = fitted.figures.number, fitted.figures.routed
        choices = landmark_choices()
        path = routed.route.path if routed else (choices[0].word, choices[1].word)

        def complain(marks: Landmarks) -> str | None:
            return self._complaint(number, "path", list(marks))

        def tell(marks: Landmarks) -> str:
            return f"{len(marks)} landmarks, from the port to the other end; enter puts another in place of one."

        def take(marks: Landmarks | None) -> None:
            if marks is not None and marks != path:
                self._try_edit(number, {"path": list(marks)})

        ask = EditPath(f"Path of {fitted.figures.hose.tag}", path, choices, complain, tell)
        self.app.push_screen(ask, take)

    def _complaint(self, number: int, name: str, value: TomlValue | None) -> str | None:
        try:
            self.document.preview(number, name, value)
        except RefusedEdit as refusal:
            return str(refusal)
        return None

    def action_remove(self) -> None:
        """Forget what was measured of the run."""
        fitted = self._fitted_or_say()
        if fitted is not None:
            self._try_edit(fitted.figures.number, dict.fromkeys(MEASURED))

    def show_step(self, difference: Difference | None) -> None:
        """Show everything, the cursor on the hose that changed."""
        self.plan = self._planned()
        numbers = [fitted.figures.number for fitted in self.plan.hoses]
        if difference is not None and difference.item in numbers:
            self._place = numbers.index(difference.item)
        self.show_all()

    def _fitted_or_say(self) -> FittedHose | None:
        if self.fitted is None:
            self.notify(NO_HOSE, severity="warning", markup=False)
        return self.fitted

    # ---- measuring ----

    @on(OptionList.OptionSelected, "#hoses")
    def action_measure(self) -> None:
        """Ask for the measurements of this hose's run, one after the other."""
        fitted = self._fitted_or_say()
        if fitted is not None:
            self._ask_step(fitted, list(measuring_steps(fitted.figures)))

    def _ask_step(self, fitted: FittedHose, steps: list[MeasuringStep]) -> None:
        if not steps:
            return
        step, number = steps[0], fitted.figures.number

        written = self.document.raw_value(number, step.key)

        def completed(typed: str) -> str:
            return with_usual_unit(field_named(Hose, step.key), typed.strip(), written, self.system)

        def complain(typed: str) -> str | None:
            return self._complaint(number, step.key, completed(typed) or None)

        def says(typed: str) -> str:
            if not typed.strip():
                return ENTERING
            taken = completed(typed)
            shown = "" if taken == typed.strip() else f"{typed.strip()} → {taken} "
            return shown + self._in_both_units(number, step.key, taken)

        def take(typed: str | None) -> None:
            if typed is None:
                return
            if not typed.strip() or self._try_edit(number, {step.key: completed(typed)}):
                self._ask_step(fitted, steps[1:])

        def doubts(typed: str) -> str:
            return self._doubt(number, step.key, completed(typed)) if typed.strip() else ""

        to_do = "\n".join(format_line(words, self.system) for words in step.paragraphs)
        ask = TypeName(step.title, written, complain, text=to_do, says=says, doubts=doubts)
        self.app.push_screen(ask, take)

    def _in_both_units(self, number: int, name: str, typed: str) -> str:
        reading = self.document.preview(number, name, typed.strip())
        assert reading.kit is not None
        return f"{typed_note(reading.kit, number, field_named(Hose, name), self.system)}; enter goes on."

    def _doubt(self, number: int, name: str, typed: str) -> str:
        """Say why a measured length is more likely a slip; empty when nothing speaks against it."""
        reading = self.document.preview(number, name, typed)
        assert reading.kit is not None
        doubt = doubt_in_kit(assess(resolve(reading.kit, self.kit.linked, reading.lines)), number, name)
        return sentence(doubt, self.system) if doubt else ""

    # ---- the rest ----

    def action_diver(self) -> None:
        """Open the diver's page."""
        DiverQuestion(self, self.document).ask()

    def action_to_buy(self) -> None:
        """Show what to buy."""
        parts = [shopping_part(self.plan)._replace(title=""), *caution_parts()]
        self.read_page("To buy", ReportPage(parts, is_one_sheet=True))

    def action_origins(self) -> None:
        """Show what the lengths are based on."""
        self.read_page("Where the figures come from", ReportPage(caution_parts()))

    def whole_page(self) -> ReportPage:
        """Give the page of all hoses that the command line prints."""
        return fit_page(self.document.path.name, self.plan)

    def back(self) -> None:
        """Go back to the bench."""
        self.dismiss()


NO_HOSE = "This kit has no hose yet. Add one on the bench with a."
MEASURED = ("run", "rest_run", "span")
"""The keys of a hose that hold what a string measured."""
