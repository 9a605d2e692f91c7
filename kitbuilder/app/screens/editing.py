"""A screen on which one file is edited: its form, undo, saving and leaving, the same for every kind of file."""

from collections.abc import Callable, Sequence
from pathlib import Path

from textual import on

from kitbuilder.app.asking_back import AskingBack, as_read
from kitbuilder.app.changes import change_lines
from kitbuilder.app.screens.dialogs import PATH_INVITATION, Ask, Choose, TypeName, Way
from kitbuilder.app.screens.undoing import Undoing
from kitbuilder.app.screens.unsaved import tell_news
from kitbuilder.app.typed_value import value_of
from kitbuilder.app.widgets.form_panel import Form
from kitbuilder.assess.findings import Words
from kitbuilder.foreign import visible
from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.file_kinds import FILE_KINDS, KIT_FILE, Contents
from kitbuilder.kit.items import Entry
from kitbuilder.kitfile.differences import Difference
from kitbuilder.kitfile.disk import complain_of_path, path_typed, with_ending
from kitbuilder.kitfile.document import ChangedOnDisk, Document, RefusedEdit
from kitbuilder.kitfile.folder import files_holding
from kitbuilder.kitfile.reader import ParseResult, parse_as
from kitbuilder.report.form import Choice, choices_of, with_usual_unit
from kitbuilder.report.words import sentence


class Editing(Undoing):
    """What the screens that edit a file share. One entry of the file is selected and its keys are in the form."""

    def __init__(self, document: Document) -> None:
        """Open a document that reads as what it should hold."""
        super().__init__()
        self.document = document
        self.item: int | None = None
        """The number of the selected entry; None for the top of the file."""
        self.asking_back = AskingBack()
        self.first = ""
        """The action that comes first, once unsaved edits of an earlier session are settled."""

    # ---- what each screen fills in ----

    def show_all(self) -> None:
        """Work everything out again and show it."""
        raise NotImplementedError

    def show_figures(self, reading: ParseResult) -> None:
        """Show what follows from a reading, kept or just typed."""
        raise NotImplementedError

    def kept_keys(self) -> frozenset[str]:
        """Name the keys of the selected entry that the form does not fold away though the file does not give them."""
        return frozenset()

    def owned_choices(self) -> tuple[Choice, ...]:
        """List the items of the gear file that the selected entry can be."""
        return ()

    def typed_note(self, reading: ParseResult, field: Field) -> str:
        """Say what to write beside a value while it is typed."""
        raise NotImplementedError

    def doubt(self, reading: ParseResult, field: Field) -> Words:
        """Say why what is typed is more likely a slip; empty when nothing speaks against it."""
        raise NotImplementedError

    def doubt_text(self, reading: ParseResult, field: Field) -> str:
        """Write that in the reader's units."""
        return sentence(doubt, self.system) if (doubt := self.doubt(reading, field)) else ""

    def show_title(self) -> None:
        """Show the line at the top."""
        raise NotImplementedError

    def go_back(self) -> None:
        """Leave the screen; by then everything is saved or dropped."""
        raise NotImplementedError

    # ---- what they share ----

    @property
    def is_typing(self) -> bool:
        """Whether a value is open for typing."""
        return self.query_one(Form).is_editing

    @property
    def contents(self) -> Contents:
        """What the file says now."""
        contents = self.document.reading.contents
        assert contents is not None, "a screen shows documents that read as what they should hold"
        return contents

    @property
    def record(self) -> Entry | None:
        """The selected entry."""
        return None if self.item is None else self.contents.items[self.item]

    @property
    def fields(self) -> tuple[Field, ...]:
        """The fields of the selected entry, or of the top of the file."""
        return fields_of(type(self.record or self.contents.header))

    @property
    def raw_values(self) -> dict[str, str]:
        """What stands in the file, by key."""
        keys = (field.key for field in self.fields if self.document.has(self.item, field.key))
        return {key: self.document.raw_value(self.item, key) for key in keys}

    def refresh_all(self) -> None:
        """Show everything after an edit; the selection stays within the file."""
        count = len(self.contents.items)
        if self.item is not None and self.item >= count:
            self.item = count - 1 if count else None
        self.show_all()
        tell_news(self, self.document)

    def start(self) -> None:
        """Do what the screen does first, once unsaved edits of an earlier session are settled."""
        first, self.first = self.first, ""
        if first:
            self.call_later(self.run_action, first)

    def settle_earlier(self) -> None:
        """Offer unsaved edits of an earlier session, then start."""
        tell_news(self, self.document)
        if self.document.recovered is not None:
            self._ask_recover()
        else:
            self.start()

    def changed_outside(self, changed: frozenset[Path]) -> bool:
        """Show what other programs changed, once nothing is being typed."""
        return not self.is_typing and super().changed_outside(changed)

    # ---- editing ----

    @on(Form.EditWanted)
    def _edit(self, event: Form.EditWanted) -> None:
        field = event.row.field
        if field not in self.fields:
            return  # asked for before another item was shown
        written = self.document.raw_value(self.item, field.key)
        if visible(written) != written:
            self.notify("This value has several lines or special characters. Change it in a text editor.", markup=False)
            return
        choices = self.choices(field)
        if not choices:
            self.query_one(Form).edit_text(event.row)
            return
        ask = Choose(event.row.label, choices, event.row.value, may_clear=not field.required, text=field.meaning)
        self.app.push_screen(ask, lambda word: self._chosen(field, word))

    def choices(self, field: Field) -> tuple[Choice, ...]:
        """List the words that a field of the selected entry may take; empty for a field that is typed."""
        return choices_of(self.contents, self.item, field, self.system, self._elsewhere(field))

    def _elsewhere(self, field: Field) -> tuple[Choice, ...]:
        """List what other files of the folder offer for a field: their names, or the items of the gear file."""
        folder = self.document.path.parent
        if field.kind is ValueKind.FILE:
            holds = field.key if field.key in FILE_KINDS else KIT_FILE.name
            return tuple(Choice(name, "") for name in files_holding(folder, holds))
        return self.owned_choices() if field.kind is ValueKind.OWNED else ()

    def _chosen(self, field: Field, word: str | None) -> None:
        if word is not None and field in self.fields:
            self.set_value(field, word)

    @on(Form.Edited)
    def _typed(self, event: Form.Edited) -> None:
        form, field = self.query_one(Form), event.row.field
        if event.text is None or field not in self.fields:
            form.close()
            self.show_figures(self.document.reading)
            return
        text = with_usual_unit(field, event.text, event.row.value, self.system)
        try:
            reading = self.document.preview(self.item, field.key, value_of(field, text))
        except RefusedEdit as refusal:
            form.say(str(refusal), wrong=True)
            return
        self.show_figures(reading)
        if not event.done:
            self.asking_back.forget()
            note = self.typed_note(reading, field)
            form.say(note if text == event.text else as_read(text, note))
        elif question := self.asking_back.ask(text, self.doubt_text(reading, field)):
            form.say(question, wrong=True)
        else:
            form.close()
            self.set_value(field, text)

    def set_value(self, field: Field, text: str) -> None:
        """Set a key of the selected entry to what was typed or chosen."""
        item = self.item
        if field.key == "tag" and item is not None:
            self.try_edit(lambda: self.document.rename_tag(item, text.strip()))
        else:
            self.try_edit(lambda: self.document.set_value(item, field.key, value_of(field, text)))

    def try_edit(self, edit: Callable[[], None]) -> bool:
        """Make an edit and show what came of it; say why if it is refused."""
        try:
            edit()
        except RefusedEdit as refusal:
            self.notify(str(refusal), title="Not changed", severity="error", markup=False)
            return False
        self.refresh_all()
        return True

    def action_remove(self) -> None:
        """Take out what is under the cursor: a value of the form, else the selected entry."""
        form = self.query_one(Form)
        if not form.listing.has_focus:
            self.remove_entry()
        elif (row := form.selected) is not None and row.value and row.field in self.fields:
            self.try_edit(lambda: self.document.set_value(self.item, row.field.key, None))

    def remove_entry(self) -> None:
        """Take the selected entry out; undo brings it back."""
        if self.item is None:
            self.notify("This row is the file itself. Only the rows below it can be removed.", markup=False)
        else:
            self.take_out((self.item,))

    def take_out(self, numbers: Sequence[int]) -> None:
        """Take entries out of the file, and say which; undo brings all back at once."""
        tags = ", ".join(self.contents.items[number].label for number in numbers)
        if self.try_edit(lambda: self.document.remove_item(*numbers)):
            self.notify(f"Removed: {tags}. ctrl+z brings back what was removed.", markup=False)

    def show_step(self, difference: Difference | None) -> None:
        """Show everything, the cursors of list and form where something changed; the focus stays where it is."""
        if difference is not None:
            self.item = difference.item
        focused = self.focused
        self.refresh_all()
        if difference is not None and difference.key:
            self.query_one(Form).go_to(difference.key)
        if focused is not None:
            focused.focus()

    # ---- moving about ----

    def action_right(self) -> None:
        """Focus the form."""
        self.query_one(Form).go_to(None)

    # ---- saving and leaving ----

    def action_save(self) -> None:
        """Write the file."""
        self._save()

    def _save(self, *, over_theirs: bool = False) -> bool:
        try:
            self.document.save(over_theirs=over_theirs)
        except ChangedOnDisk as change:
            self._ask_about_theirs(change)
            return False
        except OSError as error:
            self._say_not_saved(error)
            return False
        self.notify(f"Saved {self.document.path.name}.", markup=False)
        self.show_title()
        return True

    def _say_not_saved(self, error: OSError) -> None:
        reason = error.strerror or str(error)
        self.notify(
            f"{visible(reason)}. Nothing was written and your edits are kept. "
            "S saves under another name or in another folder.",
            title="Not saved",
            severity="error",
            markup=False,
            timeout=12,
        )

    def _ask_about_theirs(self, change: ChangedOnDisk) -> None:
        ways = [
            Way("a", "save mine under another name", "as"),
            Way("m", "keep mine: write over the file", "mine"),
        ]
        if change.theirs is not None and parse_as(change.theirs, self.document.file).contents is not None:
            ways.append(Way("t", "take theirs; ctrl+z brings my edits back", "theirs"))
        text = change_lines(self.document.saved_text, change.theirs)
        question = str(change)[0].upper() + str(change)[1:]
        self.app.push_screen(Ask(question, text, ways), self._settle_theirs)

    def _settle_theirs(self, answer: str | None) -> None:
        if answer == "mine":
            self._save(over_theirs=True)
        elif answer == "as":
            self.action_save_as()
        elif answer == "theirs":
            self.document.take_theirs()
            self.refresh_all()

    def action_save_as(self) -> None:
        """Ask for a file name, or a path to another folder, and write there."""
        folder = self.document.path.parent
        ask = TypeName(
            "Save as",
            f"{self.document.path.stem}-2.toml",
            lambda name: complain_of_path(folder, with_ending(name)),
            says=lambda _: PATH_INVITATION,
        )
        self.app.push_screen(ask, self._save_as)

    def _save_as(self, name: str | None) -> None:
        if name is None:
            return
        try:
            self.document.save_as(path_typed(self.document.path.parent, with_ending(name)))
        except OSError as error:
            self._say_not_saved(error)
            return
        self.notify(f"Saved {with_ending(name)}; you are editing that file now.", markup=False)
        self.refresh_all()  # what the file refers to is looked for in its new folder

    def _ask_recover(self) -> None:
        recovered = self.document.recovered
        assert recovered is not None
        text = change_lines(self.document.text, recovered.text)
        if not recovered.same_base:
            text = "The file has changed since these edits were made.\n" + text
        if self.document.earlier > 1:
            text = f"Edits were left unsaved {self.document.earlier} times. These are the newest.\n" + text
        ways = (Way("t", "take them back", "take"), Way("d", "discard them", "drop"))
        self.app.push_screen(Ask("Unsaved edits of an earlier session", text, ways), self._recover)

    def _recover(self, answer: str | None) -> None:
        if answer == "take":
            if not self.document.recover():
                self.notify(
                    f"They can no longer be read as a {self.document.file.name} file and were not restored.",
                    title="Not changed",
                    severity="error",
                    markup=False,
                )
            self.refresh_all()
        elif answer == "drop":
            self.document.forget_recovered()
        # Without an answer it is asked again: the next edit would take their place.
        self.settle_earlier()

    def leave(self, go_on: Callable[[], None], forget: Callable[[Document], None] = Document.forget_edits) -> None:
        """Go on at once if everything is saved, else ask first.

        Args:
            go_on: What comes then.
            forget: What becomes of a document whose edits are dropped.
        """
        if self.is_typing:
            self.notify("A value is open: enter keeps it, esc discards it.", severity="warning", markup=False)
            return
        if not self.document.is_dirty:
            go_on()
            return
        ways = (
            Way("k", "keep editing", "keep"),
            Way("s", "save and leave", "save"),
            Way("d", "discard the edits and leave", "drop"),
        )
        text = change_lines(self.document.saved_text, self.document.text)

        def settle(answer: str | None) -> None:
            if answer == "drop":
                forget(self.document)
            if answer == "drop" or (answer == "save" and self._save()):
                go_on()

        self.app.push_screen(Ask(f"{self.document.path.name}: these edits are not saved", text, ways), settle)
