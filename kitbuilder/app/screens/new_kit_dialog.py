"""The dialog that asks what a new kit is, one question after the other; a new trip is asked for in the same way."""

from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, OptionList, Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.asking_back import AskingBack
from kitbuilder.app.content import Content
from kitbuilder.app.screens.base import KitbuilderScreen
from kitbuilder.app.screens.dialogs import NONE_FITS, READING_WIDTH, TextPage, choice_rows
from kitbuilder.app.screens.gear_question import say_refused
from kitbuilder.app.screens.tour import WithTour
from kitbuilder.app.widgets.key_line import KeyLine
from kitbuilder.app.widgets.listing import Listing
from kitbuilder.app.widgets.page_view import styled
from kitbuilder.commands.making import answers_of, doubt_of, make_kit
from kitbuilder.foreign import visible
from kitbuilder.kitfile.disk import with_ending
from kitbuilder.kitfile.values import Refusal
from kitbuilder.report.form import Choice, narrowed
from kitbuilder.report.layout import lay_out
from kitbuilder.report.new import NewKit, new_kit_page
from kitbuilder.report.new_questions import UNKNOWN, Question, divers_of, questions
from kitbuilder.report.numbers import System


class AskQuestions(WithTour, ModalScreen[dict[str, str] | None]):
    """Asks questions one by one. Returns the answers by key, empty for "don't know"; None when it was left."""

    what = ""
    """What is made from the answers, in the title."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "Back", tooltip="Go back one question; from the first, leave the dialog."),
        Binding("left", "left", "Back", show=False, priority=True),
        Binding("down", "move(1)", "Down", show=False, priority=True),
        Binding("up", "move(-1)", "Up", show=False, priority=True),
        Binding("enter", "take", "Next", tooltip="Take this answer.", priority=True),
        *keys_of("keys"),
    ]

    def __init__(self) -> None:
        """Begin with the first question."""
        super().__init__()
        self._given: dict[str, str] = {}
        self._number = 0
        self._offered: tuple[Choice, ...] = ()
        self._is_done = False
        self._narrowed = ""
        """What stood in the line when the list was narrowed last."""
        self._asking_back = AskingBack()

    def compose(self) -> ComposeResult:
        """Lay out the answers so far, the question, a line to type in, and the choices."""
        with Vertical(classes="dialog", id="new-kit"):
            yield Static("", id="given", markup=False)
            yield Static("", id="said", markup=False)
            yield Input(compact=True, id="narrow")
            yield Listing(id="choices")
        yield KeyLine()

    def on_mount(self) -> None:
        """Ask the first question."""
        self._ask()

    def questions(self, given: dict[str, str]) -> tuple[Question, ...]:
        """Give the questions, as they follow from the answers so far."""
        raise NotImplementedError

    def doubt(self, given: dict[str, str], asked: str) -> str:  # noqa: ARG002  most questions have no doubtful answer
        """Say why the answer to a question is more likely a slip; empty when nothing speaks against it."""
        return ""

    @property
    def _questions(self) -> tuple[Question, ...]:
        return self.questions(self._given)

    @property
    def _question(self) -> Question:
        return self._questions[self._number]

    def _ask(self) -> None:
        """Show the present question, with the answer that was given before."""
        asked, question = self._questions, self._question
        title = f"{self.what}, {self._number + 1} of {len(asked)}: {question.title}"
        self.query_one("#new-kit").border_title = Content(visible(title))
        given = " · ".join(
            self._given.get(earlier.key) or f"{earlier.title}: {UNKNOWN}" for earlier in asked[: self._number]
        )
        self.query_one("#given", Static).update(Content.styled(visible(given), "$foreground-muted"))
        self.query_one("#given").display = bool(given)
        words = [choice.word for choice in question.choices]
        before = self._given.get(question.key, question.usual)
        usual = before or UNKNOWN
        line = self.query_one("#narrow", Input)
        line.placeholder = "type to narrow the list" if len(words) > 1 else "type here"
        with line.prevent(Input.Changed):
            line.value = self._narrowed = "" if usual in words else usual
        line.focus()
        self._offer(self._fitting(line.value), words.index(usual) if usual in words else 0)
        self._say(question.help)

    def _say(self, words: str, *, is_wrong: bool = False) -> None:
        said = self.query_one("#said", Static)
        said.update(Content(visible(words)))
        said.set_class(is_wrong, "wrong")

    @on(Input.Changed)
    def _narrow(self) -> None:
        """Narrow the list by what stands in the line; nothing where that is done already."""
        typed = self.query_one("#narrow", Input).value
        if typed == self._narrowed:
            return
        self._narrowed = typed
        self._offer(self._fitting(typed), 0)
        _, wrong = self._answer(typed)
        self._say(wrong or self._question.help, is_wrong=bool(wrong))

    def _fitting(self, typed: str) -> tuple[Choice, ...]:
        """Give the choices that fit what is typed; before them the text itself, where it is an answer of its own."""
        question = self._question
        found = narrowed(typed, question.choices)
        if not found and question.near:
            found = tuple(Choice(word, "nearest in the catalogue") for word in question.near(typed))
        taken, _ = self._read(typed) if typed and question.choices else ("", "")
        is_new = taken and taken not in {choice.word for choice in found}
        return (Choice(taken, "as typed"), *found) if is_new else found

    def _answer(self, typed: str) -> tuple[str, str]:
        """Give the answer to be taken, and what is wrong with what is typed; one of the two is empty."""
        number = self.query_one("#choices", Listing).highlighted
        return (self._offered[number or 0].word, "") if self._offered else self._read(typed)

    def _read(self, typed: str) -> tuple[str, str]:
        """Give what a text means that is no choice, and what is wrong with it; one of the two is empty."""
        question = self._question
        if question.read is None:
            return "", NONE_FITS
        try:
            return question.read(typed), ""
        except Refusal as refusal:
            sentence = str(refusal)
            return "", sentence[0].upper() + sentence[1:]

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
        """Take the word under the cursor, or what is typed, and ask the next question; ask back what is unlikely."""
        # Enter overtakes the letters typed just before, which the line has still to read: wait for it in its queue.
        self.query_one("#narrow", Input).call_later(self._take)

    def _take(self) -> None:
        if self._is_done:
            return
        self._narrow()
        key = self._question.key
        word, wrong = self._answer(self.query_one("#narrow", Input).value)
        if wrong:
            self._say(wrong, is_wrong=True)
            return
        answer = "" if word == UNKNOWN else word
        doubt = self.doubt({**self._given, key: answer}, key)
        if asked_back := self._asking_back.ask(answer, doubt):
            self._say(asked_back, is_wrong=True)
            return
        self._given[key] = answer
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


class NewKitDialog(AskQuestions):
    """Asks the questions of a new kit."""

    NAME = "new kit"
    what = "New kit"

    def __init__(self, folder: Path, system: System) -> None:
        """Ask for a kit of a folder, numbers without a unit taken in the reader's units."""
        super().__init__()
        self._folder, self._divers, self._system = folder, divers_of(folder), system

    def questions(self, given: dict[str, str]) -> tuple[Question, ...]:
        """Give the questions, as they follow from the answers so far."""
        return questions(given, self._folder, self._divers, self._system)

    def doubt(self, given: dict[str, str], asked: str) -> str:
        """Say why the answer to a question is more likely a slip."""
        return doubt_of(given, asked, self._folder, self._system)


def ask_new_kit(screen: KitbuilderScreen, folder: Path) -> None:
    """Ask what a new kit of a folder is, write it and open it."""

    def make(given: dict[str, str] | None) -> None:
        if given is not None:
            _make(screen, folder / with_ending(given["name"]), given)

    screen.app.push_screen(NewKitDialog(folder, screen.system), make)


def _make(screen: KitbuilderScreen, path: Path, given: dict[str, str]) -> None:
    try:
        made = make_kit(path, *answers_of(given), screen.system)
    except OSError as error:
        say_refused(screen, "Not made", error)
        return
    except Refusal as refusal:
        screen.notify(f"{refusal} Nothing was written.", title="Not made", severity="error", markup=False)
        return
    diver = made.diver.name if made.diver else None
    page = new_kit_page(NewKit(path.name, diver, made.assessment, made.plan, is_open=True))
    screen.shell.open_kit(path)
    screen.app.push_screen(TextPage("New kit", styled(lay_out(page, READING_WIDTH, screen.system))))
