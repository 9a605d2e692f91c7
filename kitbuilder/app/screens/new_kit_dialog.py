"""The dialog that asks what a new kit is, one question after the other."""

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Footer, Input, OptionList, Static

from kitbuilder.app.content import Content
from kitbuilder.app.screens.dialogs import NONE_FITS, choice_rows
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.foreign import visible
from kitbuilder.report.form import Choice, narrowed
from kitbuilder.report.new_questions import UNKNOWN, Question, divers_of, questions


class NewKitDialog(ModalScreen[dict[str, str] | None]):
    """Asks the questions of a new kit. Returns the answers by key, empty for "don't know"; None when it was left."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", tooltip="Go back one question; from the first, leave without a new kit."),
        Binding("left", "left", "Back", show=False, priority=True),
        Binding("down", "move(1)", "Down", show=False, priority=True),
        Binding("up", "move(-1)", "Up", show=False, priority=True),
        Binding("enter", "take", "Next", tooltip="Take this answer.", priority=True),
    ]

    def __init__(self, folder: Path) -> None:
        """Ask for a kit of a folder."""
        super().__init__()
        self._folder, self._divers = folder, divers_of(folder)
        self._given: dict[str, str] = {}
        self._number = 0
        self._offered: tuple[Choice, ...] = ()
        self._is_done = False

    def compose(self) -> ComposeResult:
        """Lay out the answers so far, the question, a line to type in, and the choices."""
        with Vertical(classes="dialog", id="new-kit"):
            yield Static("", id="given", markup=False)
            yield Static("", id="said", markup=False)
            yield Input(compact=True, id="narrow")
            yield Listing(id="choices")
        yield Footer()

    def on_mount(self) -> None:
        """Ask the first question."""
        self._ask()

    @property
    def _questions(self) -> tuple[Question, ...]:
        return questions(self._given, self._folder, self._divers)

    @property
    def _question(self) -> Question:
        return self._questions[self._number]

    def _ask(self) -> None:
        """Show the present question, with the answer that was given before."""
        asked, question = self._questions, self._question
        title = f"New kit, {self._number + 1} of {len(asked)}: {question.title}"
        self.query_one("#new-kit").border_title = Content(visible(title))
        given = " · ".join(self._given.get(earlier.key) or UNKNOWN for earlier in asked[: self._number])
        self.query_one("#given", Static).update(Content.styled(visible(given), "$foreground-muted"))
        self.query_one("#given").display = bool(given)
        words = [choice.word for choice in question.choices]
        before = self._given.get(question.key, question.usual)
        usual = before or UNKNOWN
        line = self.query_one("#narrow", Input)
        line.placeholder = "type to narrow the list" if len(words) > 1 else "type here"
        with line.prevent(Input.Changed):
            line.value = "" if usual in words else usual
        line.focus()
        self._offer(question.choices, words.index(usual) if usual in words else 0)
        self._say(question.help)

    def _say(self, words: str, *, is_wrong: bool = False) -> None:
        said = self.query_one("#said", Static)
        said.update(Content(visible(words)))
        said.set_class(is_wrong, "wrong")

    @on(Input.Changed)
    def _narrow(self, event: Input.Changed) -> None:
        question = self._question
        self._offer(narrowed(event.value, question.choices, question.key), 0)
        wrong = self._wrong(event.value)
        self._say(wrong or question.help, is_wrong=bool(wrong))

    def _wrong(self, typed: str) -> str | None:
        """Say what is wrong with what is typed, unless it narrows the list."""
        question = self._question
        if self._offered or (not typed and question.choices):
            return None
        return question.complain(typed) if question.complain else NONE_FITS

    def _offer(self, choices: tuple[Choice, ...], cursor: int) -> None:
        self._offered = choices
        self.query_one("#choices").display = bool(choices)
        self.query_one("#choices", Listing).show_rows(choice_rows(choices), cursor)

    @on(OptionList.OptionSelected)
    def _clicked(self, _event: OptionList.OptionSelected) -> None:
        self.action_take()

    def action_move(self, by: int) -> None:
        """Move the cursor in the list while the line keeps the focus."""
        listing = self.query_one("#choices", Listing)
        listing.action_cursor_down() if by > 0 else listing.action_cursor_up()

    def action_take(self) -> None:
        """Take the word under the cursor, or what is typed, and ask the next question."""
        typed = self.query_one("#narrow", Input).value
        if wrong := self._wrong(typed):
            self._say(wrong, is_wrong=True)
            return
        number = self.query_one("#choices", Listing).highlighted
        word = self._offered[number].word if self._offered and number is not None else typed.strip()
        self._given[self._question.key] = "" if word == UNKNOWN else word
        if self._number + 1 < len(self._questions):
            self._number += 1
            self._ask()
        else:
            self._leave({question.key: self._given[question.key] for question in self._questions})

    def action_left(self) -> None:
        """Go back where nothing is typed left of the cursor; else move the cursor."""
        line = self.query_one("#narrow", Input)
        if line.cursor_position == 0 or not line.value:
            self.action_back()
        else:
            line.action_cursor_left()

    def action_back(self) -> None:
        """Go back one question; from the first, leave without answers."""
        if self._number == 0:
            self._leave(None)
        else:
            self._number -= 1
            self._ask()

    def _leave(self, answers: dict[str, str] | None) -> None:
        """Close once, however fast the keys come: a second time would close the screen below."""
        if not self._is_done:
            self._is_done = True
            self.dismiss(answers)
