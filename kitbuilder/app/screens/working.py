"""Stands in front while something is worked out in a thread of its own, so that the app answers; esc stops it."""

import time
from collections.abc import Callable
from typing import Any, ClassVar, TypeVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.message import Message
from textual.screen import ModalScreen, Screen
from textual.widgets import Static

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.app.widgets.key_line import KeyLine

PATIENCE_S = 0.3
"""Seconds after which it is said that something is worked out; most answers come before."""
TICK_S = 0.5
"""Seconds between two counts of the time it takes."""

Result = TypeVar("Result")


class Working(ModalScreen[Any]):
    """Works something out and returns it; None when it was stopped."""

    BINDINGS: ClassVar[list[BindingType]] = keys_of("back")

    class Done(Message):
        """It is worked out."""

        def __init__(self, result: object) -> None:
            """Keep the result."""
            super().__init__()
            self.result = result

    def __init__(self, what: str, question: Callable[[], object]) -> None:
        """Work out the answer to a question; `what` says what is done."""
        super().__init__(classes="-early")
        self._what, self._question = what, question
        self._since = time.monotonic()

    def compose(self) -> ComposeResult:
        """Lay out what is worked out, and for how long already."""
        with Vertical(classes="dialog", id="working"):
            yield Static("", id="working-line", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Begin: say so when it takes longer than a blink."""
        self._ask()
        self._count()
        self.set_timer(PATIENCE_S, lambda: self.remove_class("-early"))
        self.set_interval(TICK_S, self._count)

    @work(thread=True)
    def _ask(self) -> None:
        self.post_message(self.Done(self._question()))

    @on(Done)
    def _take(self, done: Done) -> None:
        if self.is_current:
            self.dismiss(done.result)

    def _count(self) -> None:
        self.query_one("#working-line", Static).update(Content(working_words(self._what, self._since)))

    def action_back(self) -> None:
        """Stop waiting. A thread cannot be ended: its answer is dropped when it comes."""
        if self.is_current:
            self.dismiss(None)


def working_words(what: str, since: float) -> str:
    """Say what is done, for how many seconds already, and how to stop it."""
    return f"{what} … {time.monotonic() - since:.0f} s. Esc stops."


def work_out(screen: Screen[Any], what: str, question: Callable[[], Result], then: Callable[[Result], None]) -> None:
    """Work the answer to a question out beside the app and go on with it; not at all when it is stopped.

    Args:
        screen: Where it is asked.
        what: What is done, for a person who waits.
        question: Gives the answer, in a thread: it must not touch widgets. The answer is never None.
        then: What comes then.
    """

    def go_on(answer: Result | None) -> None:
        if answer is not None:
            then(answer)

    screen.app.push_screen(Working(what, question), go_on)
