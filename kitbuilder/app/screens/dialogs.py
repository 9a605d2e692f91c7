"""Small dialogs: choose an answer, choose a word from a list, type a name, read a page."""

from collections.abc import Callable, Sequence
from typing import ClassVar, NamedTuple, TypeVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.asking_back import AskingBack
from kitbuilder.app.clipboard import copy
from kitbuilder.app.content import Content
from kitbuilder.app.screens.tour import WithTour
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.foreign import visible
from kitbuilder.report.form import Choice, narrowed
from kitbuilder.report.layout import list_rows
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Column, Table

HOW_TO_ANSWER = "a letter goes to its answer, enter gives it"
BACK = keys_of("back keys")
"""Closes a dialog without doing anything; explains it. Where something is typed, f1 does: ? is a letter there."""


class Way(NamedTuple):
    """One possible answer to a question."""

    key: str
    """The letter that puts the cursor on it."""
    label: str
    result: str


AnswerT = TypeVar("AnswerT")


class Dialog(WithTour, ModalScreen[AnswerT | None]):
    """A dialog that gives one answer, however fast the keys come: a second one would close the screen below."""

    _answered = False

    def answer(self, result: AnswerT | None) -> None:
        """Close with an answer; None for none."""
        if not self._answered:
            self._answered = True
            self.dismiss(result)


class Ways(Listing):
    """The answers to a question.

    Enter is theirs, not the dialog's: it comes there the way that letters do, and so overtakes none.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "select", "Choose", tooltip="Give the answer under the cursor."),
    ]


class Ask(Dialog[str]):
    """A question with a few possible answers; returns the result of the chosen one, None for none."""

    NAME = "question"

    BINDINGS: ClassVar[list[BindingType]] = BACK

    def __init__(self, question: str, text: str, ways: Sequence[Way]) -> None:
        """Ask a question; the first way is under the cursor: one that loses nothing and changes no file."""
        super().__init__()
        self._question, self._text, self._ways = question, text, tuple(ways)

    def compose(self) -> ComposeResult:
        """Lay out the question, its text and the answers."""
        with Vertical(classes="dialog") as dialog:
            dialog.border_title = Content(visible(self._question))
            dialog.border_subtitle = HOW_TO_ANSWER
            if self._text:
                yield Static(Content(self._text), classes="text")
            yield Ways(id="ways")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the ways."""
        listing = self.query_one(Listing)
        listing.show_rows([Content.assemble((f"{way.key}  ", "bold"), visible(way.label)) for way in self._ways])
        listing.focus()

    def on_key(self, event: events.Key) -> None:
        """Put the cursor on an answer by its letter. It is not given yet: a word typed by chance drops no edits."""
        for number, way in enumerate(self._ways):
            if event.key == way.key:
                event.stop()
                self.query_one(Listing).highlighted = number

    @on(OptionList.OptionSelected)
    def _take(self) -> None:
        number = self.query_one(Listing).highlighted
        if number is not None:
            self.answer(self._ways[number].result)

    def action_back(self) -> None:
        """Give no answer."""
        self.answer(None)


class Narrowing(Dialog[AnswerT]):
    """A line to type in and a list that what is typed narrows; the line keeps the focus."""

    NAME = "list"

    BINDINGS: ClassVar[list[BindingType]] = [
        *BACK,
        Binding("down", "move(1)", "Down", show=False, priority=True),
        Binding("up", "move(-1)", "Up", show=False, priority=True),
        Binding("pagedown", "page(1)", "Page down", show=False, priority=True),
        Binding("pageup", "page(-1)", "Page up", show=False, priority=True),
        Binding("enter", "take", "Choose", tooltip="Take what is under the cursor.", priority=True),
    ]

    def __init__(self) -> None:
        """Make a dialog in which nothing is typed yet."""
        super().__init__()
        self.narrowed = ""
        """What stood in the line when the list was narrowed last."""
        self.answers: tuple[AnswerT, ...] = ()
        """What each row of the list answers."""

    def offer(self, typed: str, cursor: int) -> None:
        """Show what fits what is typed, and keep its answers."""
        raise NotImplementedError

    @on(Input.Changed)
    def _narrow(self) -> None:
        """Narrow the list by what stands in the line; nothing where that is done already."""
        typed = self.query_one(Input).value
        if typed != self.narrowed:
            self.narrowed = typed
            self.offer(typed, 0)

    @on(OptionList.OptionSelected)
    def _clicked(self, _event: OptionList.OptionSelected) -> None:
        self.action_take()

    def action_move(self, by: int) -> None:
        """Move the cursor in the list."""
        listing = self.query_one(Listing)
        listing.action_cursor_down() if by > 0 else listing.action_cursor_up()

    def action_page(self, by: int) -> None:
        """Move the cursor in the list by a page."""
        listing = self.query_one(Listing)
        listing.action_page_down() if by > 0 else listing.action_page_up()

    def action_take(self) -> None:
        """Give what is under the cursor."""
        # Enter overtakes the letters typed just before, which the line has still to read: wait for it in its queue.
        self.query_one(Input).call_later(self._take)

    def _take(self) -> None:
        self._narrow()
        place = self.query_one(Listing).place
        if place is not None and place < len(self.answers):
            self.answer(self.answers[place])

    def action_back(self) -> None:
        """Close without an answer."""
        self.answer(None)


class Choose(Narrowing[str]):
    """A list to choose a word from; typing narrows it. Returns the word, "" to remove the key, None for no change."""

    def __init__(
        self,
        question: str,
        choices: Sequence[Choice],
        current: str = "",
        *,
        may_clear: bool = False,
        text: str = "",
    ) -> None:
        """Offer words, the cursor on the current one.

        Args:
            question: The title.
            choices: The words.
            current: The one that is chosen now; empty for none.
            may_clear: Whether the key may be taken out.
            text: What to know before choosing; at most three lines.
        """
        super().__init__()
        self._question, self._current, self._text = question, current, text
        self._choices = (*choices, Choice("", "not given: remove the key")) if may_clear else tuple(choices)

    def compose(self) -> ComposeResult:
        """Lay out a line to narrow the list, and the list."""
        with Vertical(classes="dialog -explained" if self._text else "dialog") as dialog:
            dialog.border_title = Content(visible(self._question))
            if self._text:
                yield Static(Content(self._text), id="text")
            yield Input(placeholder="type to narrow the list", compact=True, id="narrow")
            yield Listing(id="choices")
        yield KeyLine()

    def on_mount(self) -> None:
        """Show every word."""
        words = [choice.word for choice in self._choices]
        is_set = self._current != "" and self._current in words  # unset, the cursor is not on what takes the key out
        self.offer("", words.index(self._current) if is_set else 0)

    def offer(self, typed: str, cursor: int) -> None:
        """Show the words that fit what is typed."""
        choices = narrowed(typed, self._choices)
        self.answers = tuple(choice.word for choice in choices)
        self.query_one(Listing).show_rows(choice_rows(choices) or [none_fits()], cursor)


def choice_rows(choices: Sequence[Choice]) -> list[Content]:
    """Give choices as rows of a list, the notes below each other; the list cuts what it has no room for."""
    columns = [Column("", "choice"), Column("", "note", role="note")]
    table = Table("", columns, [[choice.word, choice.note] for choice in choices])
    _, lines = list_rows(table, 0, System.METRIC)  # neither wraps, and neither holds a quantity
    return [styled_line(line) for line in lines]


def none_fits() -> Content:
    """Give the row of a list that has none."""
    return Content.styled(NONE_FITS, "$foreground-muted")


NONE_FITS = "Nothing fits what is typed; take some of it back."
INVITATION = "Type a name; enter goes on."
PATH_INVITATION = "Type a name, or a path to another folder; enter goes on."


class TypeName(Dialog[str]):
    """A line to type a name or a length in; returns it once it is accepted, None for none."""

    NAME = "line"

    BINDINGS: ClassVar[list[BindingType]] = BACK

    def __init__(  # noqa: PLR0913 - what a line needs to know about what is typed
        self,
        question: str,
        value: str,
        complain: Callable[[str], str | None],
        *,
        text: str = "",
        says: Callable[[str], str] = lambda _: INVITATION,
        doubts: Callable[[str], str] = lambda _: "",
    ) -> None:
        """Ask for a name.

        Args:
            question: The title.
            value: What stands in the line at first, made visible: a name that cannot be typed is not offered.
            complain: What is wrong with what is typed, or nothing.
            text: What to know before typing.
            says: What to say of what is typed, when it is accepted.
            doubts: Why what is typed is more likely a slip; empty when nothing speaks against it.
        """
        super().__init__()
        self._question, self._value, self._complain = question, visible(value), complain
        self._text, self._says, self._doubts = text, says, doubts
        self._asking_back = AskingBack()

    def compose(self) -> ComposeResult:
        """Lay out what to know before typing, the line, and the comment on what is typed."""
        with Vertical(classes="dialog") as dialog:
            dialog.border_title = Content(visible(self._question))
            if self._text:
                yield Static(Content(self._text), classes="text")
            yield Input(self._value, compact=True, select_on_focus=True)
            yield Static(Content(self._says(self._value)), classes="text", id="said")
        yield KeyLine()

    @on(Input.Changed)
    def _comment(self, event: Input.Changed) -> None:
        self._asking_back.forget()
        wrong = self._complain(event.value) if event.value != self._value else None
        said = self.query_one("#said", Static)
        said.update(Content(wrong or self._says(event.value)))
        said.set_class(bool(wrong), "wrong")

    @on(Input.Submitted)
    def _take(self, event: Input.Submitted) -> None:
        wrong = self._complain(event.value)
        question = wrong or self._asking_back.ask(event.value, self._doubts(event.value))
        if not question:
            self.answer(event.value)
            return
        said = self.query_one("#said", Static)
        said.update(Content(question))
        said.add_class("wrong")

    def action_back(self) -> None:
        """Give no name."""
        self.answer(None)


READING_WIDTH = 70
"""Characters of a line in a dialog."""


class TextPage(Dialog[str]):
    """A page to read: a finding in full, the keys of a screen."""

    NAME = "page"

    BINDINGS: ClassVar[list[BindingType]] = [
        *BACK,
        *keys_of("copy document"),
        Binding("enter", "back", "Back", show=False),
        Binding("down,j", "scroll(1)", "Down", show=False),
        Binding("up,k", "scroll(-1)", "Up", show=False),
    ]

    def __init__(self, title: str, text: Content, document: "Callable[[TextPage], None] | None" = None) -> None:
        """Show a text.

        Args:
            title: What stands above it.
            text: The text.
            document: Asks where to write it as a document; None for what no one prints.
        """
        super().__init__()
        self._title, self._text, self._document = title, text, document

    def compose(self) -> ComposeResult:
        """Lay out the text, which scrolls."""
        with VerticalScroll(classes="dialog page") as page:
            page.border_title = Content(visible(self._title))
            yield Static(self._text, markup=False)
        yield KeyLine()

    def action_copy(self) -> None:
        """Copy what the mouse has selected, else the page."""
        copy(self, self.get_selected_text() or self._text.plain)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Switch the key of the document off where there is none."""
        return (action != "document" or self._document is not None) and super().check_action(action, parameters)

    def action_document(self) -> None:
        """Ask where to write the page as a document."""
        if self._document is not None:
            self._document(self)

    def action_scroll(self, by: int) -> None:
        """Scroll a line."""
        self.query_one(VerticalScroll).scroll_relative(y=by, animate=False)

    def action_back(self) -> None:
        """Close the page."""
        self.answer(None)
