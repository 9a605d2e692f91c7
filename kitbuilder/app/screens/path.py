"""The path of a hose, landmark by landmark."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import OptionList, Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import Choose
from kitbuilder.app.screens.tour import WithTour
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.foreign import visible
from kitbuilder.report.form import Choice
from kitbuilder.report.layout import list_rows
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Column, Table

Landmarks = tuple[str, ...]


class EditPath(WithTour, ModalScreen[Landmarks | None]):
    """The landmarks of a path in order, from the port; returns them once they are accepted, None for no change."""

    NAME = "path"

    BINDINGS: ClassVar[list[BindingType]] = keys_of("take add remove move_down move_up back keys")

    def __init__(
        self,
        title: str,
        path: Sequence[str],
        choices: Sequence[Choice],
        complain: Callable[[Landmarks], str | None],
        tell: Callable[[Landmarks], str],
    ) -> None:
        """Edit a path.

        Args:
            title: Whose path it is.
            path: Its landmarks.
            choices: All there are.
            complain: What is wrong with a path, or nothing.
            tell: What to say of an accepted one.
        """
        super().__init__()
        self._title, self.path, self._choices = title, list(path), tuple(choices)
        self._complain, self._tell = complain, tell

    def compose(self) -> ComposeResult:
        """Show the landmarks, and what there is to say about them."""
        with Vertical(classes="dialog") as dialog:
            dialog.border_title = Content(visible(self._title))
            yield Listing(id="landmarks")
            yield Static("", id="said", markup=False, classes="text")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the path."""
        self._show(0)
        self.query_one(Listing).focus()

    @property
    def _place(self) -> int:
        return self.query_one(Listing).highlighted or 0

    def _show(self, place: int) -> None:
        listing = self.query_one(Listing)
        _, rows = list_rows(self._table(), listing.size.width - len(CURSOR), System.METRIC)
        listing.show_rows([styled_line(row) for row in rows], place)
        wrong = self._complain(tuple(self.path))
        said = self.query_one("#said", Static)
        said.update(Content(wrong or self._tell(tuple(self.path))))
        said.set_class(wrong is not None, "wrong")

    def _table(self) -> Table:
        where = {choice.word: choice.note for choice in self._choices}
        columns = [Column("", head, may_wrap=head == "where it is") for head in (" ", "landmark", "where it is")]
        return Table("", columns, [[number, name, where.get(name, "")] for number, name in enumerate(self.path, 1)])

    @on(OptionList.OptionSelected)
    def _replace(self) -> None:
        place = self._place

        def put(name: str | None) -> None:
            if name is not None:
                self.path[place] = name
                self._show(place)

        self.app.push_screen(Choose(f"Landmark in place of {self.path[place]}", self._choices, self.path[place]), put)

    def action_add(self) -> None:
        """Ask for a landmark and put it below."""
        place = self._place

        def put(name: str | None) -> None:
            if name is not None:
                self.path.insert(place + 1, name)
                self._show(place + 1)

        self.app.push_screen(Choose(f"Landmark after {self.path[place]}", self._choices), put)

    def action_remove(self) -> None:
        """Take the landmark out; two stay."""
        if len(self.path) > 2:
            del self.path[self._place]
            self._show(min(self._place, len(self.path) - 1))

    def action_move(self, by: int) -> None:
        """Move the landmark."""
        place = self._place
        other = place + by
        if 0 <= other < len(self.path):
            self.path[place], self.path[other] = self.path[other], self.path[place]
            self._show(other)

    def action_take(self) -> None:
        """Give the path, if it is accepted."""
        if self._complain(tuple(self.path)) is None:
            self._answer(tuple(self.path))

    def action_back(self) -> None:
        """Close without a change."""
        self._answer(None)

    def _answer(self, path: Landmarks | None) -> None:
        """Close once, however fast the keys come: a second time would close the screen below."""
        if self.is_current:
            self.dismiss(path)
