"""Pages to take along: the card for rented gear, and the spares to bring."""

from collections.abc import Callable
from pathlib import Path
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.copying import named_beside
from kitbuilder.app.screens.working import work_out
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.page_view import PageView
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.foreign import visible
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kitfile.document import Document
from kitbuilder.plans.rental_card import make_card, make_trip_cards
from kitbuilder.plans.trip_spares import spares_of
from kitbuilder.report.page import Page, text
from kitbuilder.report.rental_card import card_page
from kitbuilder.report.spares import spares_page
from kitbuilder.report.trip import trip_problems

NOT_WORKED_OUT = "Not worked out yet. g works it out."


class TakeAlong(KitbuilderScreen):
    """One page that is worked out beside the app."""

    BINDINGS: ClassVar[list[BindingType]] = keys_of("copy document units menu back keys", "export reload quit")

    def __init__(self, path: Path, name: str, question: Callable[[], Page]) -> None:
        """Show the answer to a question.

        Args:
            path: The file that it is about.
            name: What that file is called, by its own key.
            question: Gives the page, in a thread.
        """
        super().__init__()
        self._path, self._name, self._question = path, name, question
        self._page: Page | None = None

    def compose(self) -> ComposeResult:
        """Lay out the title bar, the page and the keys."""
        yield TitleBar()
        with VerticalScroll(id="take-along"):
            yield PageView(id="take-along-lines")
        yield KeyLine()

    def on_mount(self) -> None:
        """Work the page out."""
        self.query_one("#take-along").focus()
        self.show_all()

    def show_all(self) -> None:
        """Show the page; it is worked out once, since units change nothing of it."""
        self.lay_out()
        if self._page is None:
            work_out(self, self.NAME.capitalize(), self._question, self._take)

    def _take(self, page: Page) -> None:
        self._page = page
        self.lay_out()

    def lay_out(self) -> None:
        """Show the page in the present units."""
        self.query_one(TitleBar).show(self.NAME, f"{self._name} · {self._path.name}")
        self.query_one("#take-along").border_title = Content(visible(self._path.name))
        self.query_one("#take-along-lines", PageView).show(self._page or Page([text(NOT_WORKED_OUT)]), self.system)

    def action_reload(self) -> None:
        """Work the page out again."""
        self._page = None
        self.show_all()

    def whole_page(self) -> Page | None:
        """Give the page; none while it is worked out."""
        return self._page

    def page_path(self) -> Path:
        """Give the path of a file for the page, beside the file that it is about."""
        return named_beside(self._path, self.NAME)

    def back(self) -> None:
        """Go back to where it was opened."""
        self.dismiss()


class CardScreen(TakeAlong):
    """The card for rented gear, of a kit or of each kit of a trip."""

    NAME = "card"


class SparesScreen(TakeAlong):
    """The spares to bring on a trip."""

    NAME = "spares"


def open_kit_card(screen: KitbuilderScreen, document: Document) -> None:
    """Open the card of the kit of a document, as edited."""
    kit, path = document.resolved_kit(), document.path
    card = CardScreen(path, kit.header.name, lambda: card_page(path.name, (make_card(kit),), kit.linked.problems))
    _show(screen, card)


def open_trip_card(screen: KitbuilderScreen, path: Path, trip: ResolvedTrip) -> None:
    """Open the card of a trip, as edited: one for each of its kits."""
    _show(screen, CardScreen(path, trip.header.name, lambda: trip_card(path.name, trip)))


def open_trip_spares(screen: KitbuilderScreen, path: Path, trip: ResolvedTrip) -> None:
    """Open the spares of a trip, as edited."""
    _show(screen, SparesScreen(path, trip.header.name, lambda: trip_spares(trip)))


def _show(screen: KitbuilderScreen, page: TakeAlong) -> None:
    """Show a page in front of a screen, which then follows the units that were chosen meanwhile."""
    screen.app.push_screen(page, lambda _: screen.show_all())


def trip_card(file: str, trip: ResolvedTrip) -> Page:
    """Make the card of a trip, as the command line prints it."""
    return card_page(file, make_trip_cards(trip), trip_problems(trip))


def trip_spares(trip: ResolvedTrip) -> Page:
    """List the spares of a trip, as the command line lists them for its kits."""
    names = [each.kit.header.name for each in trip.kits if each.kit]
    return spares_page(spares_of(trip), names, trip_problems(trip))
