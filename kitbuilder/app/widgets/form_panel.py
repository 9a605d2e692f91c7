"""The form of one item: one row per key, edited in place."""

from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container, Horizontal
from textual.message import Message
from textual.widgets import Input, OptionList, Static

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import CURSOR, NO_CURSOR, SCROLL_BAR, Listing
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.foreign import visible
from kitbuilder.report.form import FormRow
from kitbuilder.report.form_lines import FormPart, Head, More, form_parts, label_width, more_help, part_lines, row_help
from kitbuilder.report.lines import wrapped
from kitbuilder.report.numbers import System


class FormRows(Listing):
    """The rows of a form."""

    def on_resize(self) -> None:
        """Keep the cursor in view when help, findings or the terminal take rows away."""
        self.call_after_refresh(self.scroll_to_highlight)


class Typed(Input):
    """The line that a value is typed in."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "submit", "Keep", tooltip="Keep what is typed."),
        Binding("escape", "drop", "Discard", key_display="esc", tooltip="Discard what is typed."),
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
        """Every key of the item, folded away or not."""
        self._kept: frozenset[str] = frozenset()
        self._system = System.METRIC
        self._parts: tuple[FormPart, ...] = ()
        self._open: FormRow | None = None
        self._open_line, self._is_low = 0, False
        """Where the open row is in the pane, and whether what is said of it stands above it."""
        self._is_unfolded = False
        self._wanted = "tag"
        """The key that the user put the cursor on: it stays there from item to item. Empty on the last line."""
        self._help, self._width = "", 0
        self.when_empty = ""
        """What the help says of a form without keys."""
        self._placed: int | None = None
        """Where the cursor was put by itself; elsewhere, the user moved it."""

    def compose(self) -> ComposeResult:
        """Lay out the rows, the line for typing over them with its note above or below, and the help."""
        yield FormRows(id="rows")
        yield Static("", id="help", markup=False)
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
        part = self._part
        return part if isinstance(part, FormRow) else None

    @property
    def _part(self) -> FormPart | None:
        """What the cursor is on: a row, or the line that keys are folded under."""
        number = self.listing.place
        return self._parts[number] if number is not None and number < len(self._parts) else None

    # ---- showing ----

    def show(self, title: str, rows: tuple[FormRow, ...], kept: frozenset[str], system: System) -> None:
        """Show the rows of an item, the cursor on the same key as before where the item has it.

        Args:
            title: The item.
            rows: Every key of it.
            kept: Keys that are not folded away though the file does not give them.
            system: The reader's units.
        """
        self._remember()
        self.border_title = Content(visible(title))
        self.rows, self._kept, self._system = rows, kept, system
        self._lay_out()

    def on_resize(self, _event: events.Resize) -> None:
        """Wrap the rows to the new width."""
        if self.size.width != self._width:
            self._remember()
            self._lay_out()

    def on_descendant_focus(self) -> None:
        """Let the style sheet give the form room while it is used."""
        self._take_room()

    def on_descendant_blur(self) -> None:
        """Take as much room as before, unless the focus has only moved within the form."""
        self._take_room()

    def _take_room(self) -> None:
        # Asked for and not counted: the news that the line lost the focus can come after the news that the list has it.
        self.screen.set_class(self.has_focus_within, "-in-form")

    def _remember(self) -> None:
        """Keep the key that the user put the cursor on."""
        if self.listing.place != self._placed:
            self._wanted = self.selected.field.key if self.selected else ""

    def _lay_out(self) -> None:
        self._width = self.size.width
        width = max(self.size.width - len(CURSOR) - SCROLL_BAR, 0)
        labels = label_width(self.rows)
        self._parts = form_parts(self.rows, self._kept, is_open=self._is_unfolded)
        self.query_one("#label").styles.width = labels + len(CURSOR)
        lines = [part_lines(part, width, labels) for part in self._parts]
        rows = [Content(f"\n{NO_CURSOR}").join(map(styled_line, row)) for row in lines]
        heads = [number for number, part in enumerate(self._parts) if isinstance(part, Head)]
        self._placed = self._place_of(self._wanted)
        self.listing.show_rows(rows, self._placed, self._texts, heads)
        self._show_help()

    def _texts(self) -> list[str]:
        """Give what each line is found by: the last one by the names of the keys that are folded under it."""
        folded = " ".join(row.label for row in self.rows if row not in self._parts)
        return [
            f"{part.label} {part.value} {part.note}" if isinstance(part, FormRow) else folded for part in self._parts
        ]

    def _place_of(self, wanted: str) -> int:
        """Find the line of a key; the last line where it is folded away, the first where the item does not have it."""
        keys = [part.field.key if isinstance(part, FormRow) else "" for part in self._parts]
        if wanted and wanted in keys:
            return keys.index(wanted)
        has_it = not wanted or wanted in [row.field.key for row in self.rows]
        lines = [number for number, part in enumerate(self._parts) if isinstance(part, More)]
        return lines[0] if lines and has_it else 0

    def _show_help(self) -> None:
        """Say what the key under the cursor means."""
        part, words = self._part, self._help
        if isinstance(part, FormRow):
            words = visible(row_help(part, self._system))
        elif isinstance(part, More):
            is_put_here = self.listing.place == self._placed and not part.is_open
            wanted = [row.label for row in self.rows if is_put_here and row.field.key == self._wanted]
            words = more_help(part, wanted[0] if wanted else "")
        elif not self._parts:
            words = self.when_empty
        if words != self._help:  # the same words would lay the whole screen out again
            self._help = words
            self.query_one("#help", Static).update(Content(words))

    @on(OptionList.OptionHighlighted, "#rows")
    def _move(self, event: OptionList.OptionHighlighted) -> None:
        event.stop()
        self._show_help()

    def go_to(self, key: str | None) -> None:
        """Focus the form, the cursor on a key; a key that is folded away is shown."""
        if key in [row.field.key for row in self.rows]:
            assert key is not None
            self._wanted = key
            if key not in [part.field.key for part in self._parts if isinstance(part, FormRow)]:
                self._is_unfolded = True
            self._lay_out()
        self.listing.focus()

    # ---- typing ----

    def edit_text(self, row: FormRow) -> None:
        """Open a row for typing."""
        fields = [part.field if isinstance(part, FormRow) else None for part in self._parts]
        if row.field not in fields:
            return
        number = fields.index(row.field)
        self.listing.go_to(number)
        self.listing.scroll_to_highlight()
        self._open = row
        self._open_line = self.listing.line_of(number) - self.listing.scroll_offset.y
        self._is_low = self._open_line > self.listing.size.height // 2
        self.query_one("#above").display, self.query_one("#below").display = self._is_low, not self._is_low
        self.query_one("#editor").display = True
        self.query_one("#label", Static).update(Content(f"{CURSOR}{row.label}"))
        typed = self.query_one(Typed)
        # Putting the old value into the line is not typing; the message would try it as an edit.
        with typed.prevent(Input.Changed):
            typed.value = row.value
        typed.focus()
        self.screen.refresh_bindings()
        self.say(f"for example {row.field.example}")

    def say(self, text: str, *, wrong: bool = False) -> None:
        """Put a sentence beside the open row: below it, or above a row that is low in the pane."""
        lines = len(wrapped(text, max(self.size.width - SAID_MARGIN, 1)))
        self.query_one("#editor").styles.offset = (
            0,
            max(self._open_line - lines, 0) if self._is_low else self._open_line,
        )
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
        part = self._part
        if self._open is None and isinstance(part, FormRow):
            self.post_message(self.EditWanted(part))
        elif isinstance(part, More):
            self._turn()

    def _turn(self) -> None:
        """Show the keys that are folded away, or fold them; the cursor stays on their line."""
        self._is_unfolded = not self._is_unfolded
        self._wanted = ""
        self._lay_out()
        self.listing.scroll_to_highlight(top=self._is_unfolded)

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


SAID_MARGIN = 3
"""Columns of the pane that what is said does not have: its padding, and the scroll bar of the list."""
