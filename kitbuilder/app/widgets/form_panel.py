"""The form of one item: one row per key, edited in place."""

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal
from textual.message import Message
from textual.widgets import Input, OptionList, Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import CURSOR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.foreign import visible
from kitbuilder.report.form import FormRow
from kitbuilder.report.layout import list_fields
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Fact


class FormRows(Listing):
    """The rows of a form."""


class Typed(Input):
    """The line that a value is typed in."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Keep", tooltip="Keep what is typed."),
        Binding("escape", "drop", "Drop", key_display="esc", tooltip="Drop what is typed."),
    ]

    class Dropped(Message):
        """The user wants the old value back."""

    def on_blur(self) -> None:
        """Drop what is typed when the focus goes elsewhere in the app, but not when it goes to another window."""
        if self.app.app_focus:
            self.post_message(self.Dropped())

    def action_drop(self) -> None:
        """Drop what is typed."""
        self.post_message(self.Dropped())


class Form(Container):
    """The keys of the selected item. Enter on a row asks for an edit; `edit_text` opens the row for typing."""

    BORDER_TITLE = "Form"

    class EditWanted(Message):
        """The user chose a row to edit."""

        def __init__(self, row: FormRow) -> None:
            """Keep the row."""
            super().__init__()
            self.row = row

    class Edited(Message):
        """The text in the open row changed, was accepted, or was dropped."""

        def __init__(self, row: FormRow, text: str | None, *, done: bool) -> None:
            """Keep the row and its text; a text of None drops the edit."""
            super().__init__()
            self.row, self.text, self.done = row, text, done

    def __init__(self, id: str | None = None) -> None:
        """Make an empty form."""
        super().__init__(id=id)
        self.rows: tuple[FormRow, ...] = ()
        self._open: FormRow | None = None

    def compose(self) -> ComposeResult:
        """Lay out the rows, and the line for typing over them, with its note above or below."""
        yield FormRows(id="rows")
        with Container(id="editor"):
            yield Static("", id="above", classes="said", markup=False)
            with Horizontal(id="line"):
                yield Static("", id="label", markup=False)
                yield Typed(id="typed", compact=True, select_on_focus=True)
            yield Static("", id="below", classes="said", markup=False)

    @property
    def listing(self) -> Listing:
        """The list of rows."""
        return self.query_one("#rows", Listing)

    @property
    def is_editing(self) -> bool:
        """Whether a row is open for typing."""
        return self._open is not None

    @property
    def selected(self) -> FormRow | None:
        """The row under the cursor."""
        number = self.listing.place
        return self.rows[number] if number is not None and number < len(self.rows) else None

    def show(self, title: str, rows: tuple[FormRow, ...]) -> None:
        """Show the rows of an item."""
        self.border_title = Content(visible(title))
        self.rows = rows
        fields = [Fact("", row.label, row.value, note=row.note) for row in rows]
        lines = list_fields(fields, System.METRIC)  # its values are texts of the file, and notes of its rows
        self.query_one("#label").styles.width = len(lines[0][0].text) + len(CURSOR)
        self.listing.show_rows([styled_line(line) for line in lines])

    def go_to(self, key: str | None) -> None:
        """Put the cursor on a key."""
        keys = [row.field.key for row in self.rows]
        if key in keys:
            self.listing.go_to(keys.index(key))
        self.listing.focus()

    def edit_text(self, row: FormRow) -> None:
        """Open a row for typing."""
        fields = [shown.field for shown in self.rows]
        if row.field not in fields:
            return
        number = fields.index(row.field)
        self.listing.go_to(number)
        self.listing.scroll_to_highlight()
        self._open = row
        line = self.listing.line_of(number) - self.listing.scroll_offset.y
        low = line > self.listing.size.height // 2
        editor = self.query_one("#editor")
        self.query_one("#above").display, self.query_one("#below").display = low, not low
        editor.styles.offset = (0, line - SAID_LINES if low else line)
        editor.display = True
        self.query_one("#label", Static).update(Content(f"{CURSOR}{row.label}"))
        typed = self.query_one(Typed)
        # Putting the old value into the line is not typing; the message would try it as an edit.
        with typed.prevent(Input.Changed):
            typed.value = row.value
        typed.focus()
        self.screen.refresh_bindings()
        self.say(f"for example {row.field.example}")

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Put a sentence beside the open row."""
        for said in self.query(".said").results(Static):
            said.update(Content(text))
            said.set_class(wrong, "wrong")

    def close(self) -> None:
        """Close the open row and send no message."""
        self._open = None
        was_typing = self.query_one(Typed).has_focus
        self.query_one("#editor").display = False
        if was_typing:
            self.listing.focus()
        self.screen.refresh_bindings()

    @on(OptionList.OptionSelected, "#rows")
    def _want_edit(self, event: OptionList.OptionSelected) -> None:
        event.stop()
        if self._open is None and (row := self.selected) is not None:
            self.post_message(self.EditWanted(row))

    @on(Input.Changed, "#typed")
    def _typed(self, event: Input.Changed) -> None:
        event.stop()
        if self._open is not None:
            self.post_message(self.Edited(self._open, event.value, done=False))

    @on(Input.Submitted, "#typed")
    def _submitted(self, event: Input.Submitted) -> None:
        event.stop()
        if self._open is not None:
            self.post_message(self.Edited(self._open, event.value, done=True))

    @on(Typed.Dropped)
    def _dropped(self, event: Typed.Dropped) -> None:
        event.stop()
        if (row := self._open) is not None:
            self.close()
            self.post_message(self.Edited(row, None, done=True))


SAID_LINES = 3
"""Lines kept for what is said beside the open row; the style sheet has the same number."""
