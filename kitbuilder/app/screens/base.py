"""What all screens share: what they ask of the app, the units, the page of keys, and the change of width."""

from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, cast

from textual import on
from textual.screen import Screen
from textual.widgets import Input

from kitbuilder.app.clipboard import text_of_panes
from kitbuilder.app.keys import key_of
from kitbuilder.app.screens.copying import (
    PageWriter,
    ask_to_export,
    ask_to_write,
    copy_here,
    named_beside,
    page_text,
    part_of,
)
from kitbuilder.app.screens.dialogs import READING_WIDTH, Choose, TextPage
from kitbuilder.app.screens.tour import WithTour
from kitbuilder.app.widgets.filter_line import drop_filter, open_filter
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.assess.assessment import Assessment
from kitbuilder.kitfile.stamps import Stamp, changed_since
from kitbuilder.report.actions import ACTIONS
from kitbuilder.report.answer import Answer, FileRead
from kitbuilder.report.layout import lay_out
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, text
from kitbuilder.report.sorting import AS_LISTED, next_order, order_choices

if TYPE_CHECKING:
    from kitbuilder.plans.changeover import Changeover


class Shell(Protocol):
    """What screens ask of the app beyond Textual's own interface. A protocol, since screens must not import the app."""

    system: System
    """The units shown."""
    plain_pictures: bool
    """Whether pictures are drawn with letters and signs."""
    day: date
    """The day on which the app was opened."""

    shelf_order: str | None
    """What the kits of a folder are sorted by, as the settings have it."""
    marked: tuple[Path, ...]
    """The marked kits, in the order in which they were marked."""

    def keep_order(self, order: str | None) -> None:
        """Sort the kits of every folder like this, and remember it."""

    def choose_units(self, system: System) -> None:
        """Take other units, and remember them."""

    def open_kit(self, path: Path) -> None:
        """Show a kit file: on the bench, or with its problems."""

    def show_shelf(self, folder: Path, select: Path | None = None) -> None:
        """Show the kits of a folder."""

    def show_gear(self, path: Path) -> None:
        """Show a gear file, or its problems."""

    def show_swaps(self, path: Path) -> None:
        """Show a kit or a trip with its swaps in front, or its problems."""

    def show_beside(self, kits: Sequence[tuple[Path, Assessment]]) -> None:
        """Show two to four kits side by side."""

    def show_pair(self, kits: Sequence[tuple[Path, Assessment]]) -> None:
        """Show what the divers of some kits must agree on."""

    def show_changeover(self, plan: "Changeover", source: Path, target: Path) -> None:
        """Show how one kit is rebuilt as another."""

    def show_fewest(self, folder: Path, marked: list[str]) -> None:
        """Show the smallest set of hoses for the kits of a folder, some of them marked."""


CALLS = {(each.call or each.id).partition("(")[0] for each in ACTIONS.values()}
"""What Textual calls for the actions of screens, without what it hands over."""


ABOUT = {"bench": "Figures and findings", "gear screen": "Gear", "shelf": "Kits and trips"}
"""What the page of a screen is called on paper, where the screen has another name."""
LOOK_S = 2.0
"""Seconds between two looks at the files of a screen."""


class KitbuilderScreen(WithTour, Screen[None]):
    """A screen of the app. Dialogs are not: they know neither units nor kits."""

    _stamps: dict[Path, Stamp | None]
    """Of its files, as they were when they were shown last."""

    # ---- what a screen fills in ----

    def lay_out(self) -> None:
        """Show the lines again at the present width; nothing where the widgets do that themselves."""

    def show_all(self) -> None:
        """Show everything again in the present units; a screen that works something out does so again."""
        self.lay_out()

    def back(self) -> None:
        """Leave the screen."""

    def whole_page(self) -> Page | None:
        """Give all that the screen is about as a page; None where its panes say it."""
        return None

    def page_title(self) -> str:
        """Say what the page is about, for the head of a document; of a screen about a folder, which one."""
        about, folder = ABOUT.get(self.NAME, self.NAME.capitalize()), getattr(self, "folder", None)
        return f'{about} in the folder "{folder.absolute().name}"' if folder else about

    def page_path(self) -> Path:
        """Give the path of a file for the page: beside the file that the screen is about."""
        document = getattr(self, "document", None)
        return named_beside(document.path if document else Path("kitbuilder"), self.NAME.removesuffix(" screen"))

    def stamps(self) -> dict[Path, Stamp | None]:
        """Give the stamps of the files that the screen shows something of."""
        return {}

    def changed_outside(self, changed: frozenset[Path]) -> bool:  # noqa: ARG002  this one shows no file
        """Show what other programs changed in those files; False for now is not the time, ask again."""
        return True

    # ---- what they share ----

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Switch the keys of actions off while something is typed, so that letters are letters."""
        return not (isinstance(self.focused, Input) and action in CALLS) and super().check_action(action, parameters)

    @property
    def shell(self) -> Shell:
        """The app, as far as screens ask it for more than Textual gives."""
        return cast(Shell, self.app)

    @property
    def system(self) -> System:
        """The units shown."""
        return self.shell.system

    def key_of(self, action: str) -> str:
        """Name the key of an action, for a message."""
        return key_of(self, action)

    def on_mount(self) -> None:
        """Begin to look after the files of the screen."""
        self._stamps = self.stamps()
        if not self.app.is_headless:
            self.set_interval(LOOK_S, self.look_outside)

    def look_outside(self) -> None:
        """See whether other programs changed the files of the screen; a screen below another looks later."""
        if not self.is_current:
            return
        now = self.stamps()
        changed = changed_since(self._stamps, now)
        if not changed or self.changed_outside(changed):
            self._stamps = self.stamps()

    def on_unmount(self) -> None:
        """Let the screens below take what this one saved for what they know: they show everything again."""
        self.know_files()

    def know_files(self) -> None:
        """Take the files as they are now for what every open screen knows of them, such as after this one wrote one."""
        for screen in self.app.screen_stack:
            if isinstance(screen, KitbuilderScreen):
                screen._stamps = screen.stamps()

    def on_resize(self) -> None:
        """Lay the lines out once the panes have their new width."""
        self.call_after_refresh(self.lay_out)

    def action_back(self) -> None:
        """Show all rows of a list that is narrowed; else leave the screen."""
        if not drop_filter(self):
            self.back()

    def action_filter(self) -> None:
        """Open the line that narrows the list with the focus."""
        open_filter(self)

    def written_page(self) -> str:
        """Give all that the screen is about as text: its page, or what its panes say where it has none."""
        page = self.whole_page()
        return f"{text_of_panes(self)}\n" if page is None else page_text(page, self.system)

    def action_copy(self) -> None:
        """Copy what is selected with the mouse, else the row under the cursor, else the pane with the focus."""
        copy_here(self, self.written_page)

    def action_copy_text(self) -> None:
        """Copy what is selected with the mouse."""
        copy_here(self, self.written_page) if self.get_selected_text() else super().action_copy_text()

    def action_export(self) -> None:
        """Ask what to copy, or where to write the page."""
        ask_to_export(self, self._page_writer(), self.system, self.written_page)

    def action_document(self) -> None:
        """Ask where to write the page as a document."""
        ask_to_write(self, self._page_writer(), self.system)

    def read_page(self, title: str, page: Page) -> None:
        """Show a page over the screen, from which it can be written as a document."""
        writer = PageWriter(part_of(self.page_path(), title), lambda: self._answer(page, title))
        shown = styled(lay_out(page, READING_WIDTH, self.system))
        self.app.push_screen(TextPage(title, shown, lambda dialog: ask_to_write(dialog, writer, self.system)))

    def _page_writer(self) -> PageWriter:
        def answer() -> Answer:
            page = self.whole_page() or Page([text(line) for line in text_of_panes(self).splitlines()])
            return self._answer(page, self.page_title())

        return PageWriter(self.page_path(), answer)

    def _answer(self, page: Page, about: str) -> Answer:
        """Give a page with what it is about and the file of the screen, as a document has it at its head."""
        document = getattr(self, "document", None)
        contents = document.reading.contents if document else None
        files = (FileRead(document.path.name, "", contents.header.name),) if document and contents else ()
        return Answer("", files, (), page, about, self.shell.day)

    def action_sort(self) -> None:
        """Ask by which column the list with the focus is sorted, else the first list of the screen that has columns."""
        listings = [each for each in (self.focused, *self.query(Listing)) if isinstance(each, Listing) and each.columns]
        if not listings:
            self.notify("There is no list on this screen to sort.", severity="warning", markup=False)
            return
        listing = listings[0]

        def take(column: str | None) -> None:
            if column is not None:
                self.sort_by(listing, column)

        current = listing.order.column if listing.order else AS_LISTED
        self.app.push_screen(Choose("Sort by", order_choices(listing.order, listing.columns), current), take)

    @on(Listing.HeadClicked)
    def _sort_by_head(self, event: Listing.HeadClicked) -> None:
        self.sort_by(event.listing, event.column)

    def sort_by(self, listing: Listing, column: str) -> None:
        """Sort a list by a column; by the one that it is sorted by, the other way round."""
        listing.sort_by(next_order(listing.order, column))

    def action_units(self) -> None:
        """Show the other units."""
        self.shell.choose_units(self.system.other)
        self.show_all()
