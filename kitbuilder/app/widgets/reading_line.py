"""The line that a reading of a scale is typed in, below the list of items."""

from textual import on
from textual.app import ComposeResult
from textual.containers import Container, Horizontal
from textual.message import Message
from textual.widgets import Input, Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.form_panel import Typed
from kitbuilder.foreign import visible


class ReadingLine(Container):
    """What is typed, what it is, and what there is to say about it. Hidden from the focus until `ask` opens it."""

    class Typing(Message):
        """The text in the line changed, was accepted, or was dropped."""

        def __init__(self, text: str | None, *, done: bool) -> None:
            """Keep the text; a text of None drops it."""
            super().__init__()
            self.text, self.done = text, done

    def __init__(self, id: str | None = None) -> None:
        """Make a closed line."""
        super().__init__(id=id)
        self.is_open = False

    def compose(self) -> ComposeResult:
        """Lay out the name of the reading beside the line for it, and a note below."""
        with Horizontal(id="reading-row"):
            yield Static("", id="reading-label", markup=False)
            yield Typed(id="reading", compact=True, select_on_focus=True)
        yield Static("", id="reading-note", markup=False)

    def on_mount(self) -> None:
        """Keep the line out of sight until it is asked for."""
        self.query_one(Typed).display = False

    def ask(self, value: str, typed: str = "") -> None:
        """Open the line with the present value, all of it selected, so that typing replaces it.

        Args:
            value: The present value.
            typed: What was typed over it already.
        """
        line = self.query_one(Typed)
        self.is_open = line.display = True
        # Putting the old value into the line is not typing; the message would try it as an edit.
        with line.prevent(Input.Changed):
            line.value = value
        line.select_on_focus = not typed
        line.focus()
        if typed:
            line.value = typed
            line.cursor_position = len(typed)
        else:
            line.action_select_all()

    def name_reading(self, label: str) -> None:
        """Say what is typed, or would be."""
        self.query_one("#reading-label", Static).update(Content(visible(label)))

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Put a sentence below the line."""
        note = self.query_one("#reading-note", Static)
        note.update(Content(visible(text)))
        note.set_class(wrong, "wrong")

    def close(self) -> None:
        """Close the line and send no message."""
        self.is_open = False
        self.query_one(Typed).display = False

    @on(Input.Changed, "#reading")
    def _changed(self, event: Input.Changed) -> None:
        event.stop()
        if self.is_open:
            self.post_message(self.Typing(event.value, done=False))

    @on(Input.Submitted, "#reading")
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        if self.is_open:
            self.post_message(self.Typing(event.value, done=True))

    @on(Typed.Dropped)
    def _dropped(self, event: Typed.Dropped) -> None:
        event.stop()
        if self.is_open:
            self.post_message(self.Typing(None, done=True))
