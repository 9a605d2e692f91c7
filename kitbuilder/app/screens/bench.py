"""The bench: one kit open for editing."""

from collections.abc import Callable
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Container
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Footer, OptionList

from kitbuilder.app.commands import key, keys_page
from kitbuilder.app.screens.dialogs import Ask, Choose, Page, TypeName, Way
from kitbuilder.app.signals import STYLES
from kitbuilder.app.widgets.figures import Figures
from kitbuilder.app.widgets.findings import Findings
from kitbuilder.app.widgets.form import Form
from kitbuilder.app.widgets.picture import Picture
from kitbuilder.app.widgets.things import Things
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.findings import Finding
from kitbuilder.kit.fields import Field, Kind, fields_of
from kitbuilder.kit.things import KINDS, Hose, Thing
from kitbuilder.kitfile.disk import complain_of_name
from kitbuilder.kitfile.document import ChangedOnDisk, Document, RefusedEdit
from kitbuilder.kitfile.edits import Value
from kitbuilder.kitfile.reader import Reading, read_kit
from kitbuilder.kitfile.starters import first_values
from kitbuilder.report.changes import change_lines
from kitbuilder.report.check import water_words
from kitbuilder.report.form import Choice, choices_of, form_rows, next_length, preset_choices, role_choices, typed_note
from kitbuilder.report.numbers import System
from kitbuilder.report.origins import origin_lines
from kitbuilder.report.words import CAUTIONS, sentence, subject, visible


class Bench(Screen[None]):
    """The things of a kit, the form of one of them, the figures, the picture and the findings."""

    BINDINGS: ClassVar[list[BindingType]] = [
        key("plus,equals_sign", "longer", "Longer", "Next longer stock length for this hose.", display="+"),
        key("minus", "shorter", "Shorter", "Next shorter stock length for this hose.", display="-"),
        key("a", "add", "Add", "Add a thing below this one."),
        key("u,ctrl+z", "undo", "Undo", "Take back the last edit.", display="u"),
        key("s,ctrl+s", "save", "Save", "Write the kit file.", display="s"),
        key("escape", "shelf", "Shelf", "Back to the kits of this folder.", display="esc"),
        key("question_mark,f1", "keys", "Keys", "Every key of this screen.", display="?"),
        key("q,ctrl+q", "app.quit", "Quit", "Leave kitbuilder.", show=False),
        key("r,ctrl+y", "redo", "Redo", "Make the undone edit again.", show=False),
        key("c", "copy", "Copy thing", "Copy this thing below itself.", show=False),
        key("d", "remove", "Remove thing", "Take this thing out of the kit.", show=False),
        key("J,shift+down", "move(1)", "Move down", "Move this thing down in the file.", show=False),
        key("K,shift+up", "move(-1)", "Move up", "Move this thing up in the file.", show=False),
        key("x,delete", "clear", "Clear key", "Take this key out of the file.", show=False),
        key("f", "next_finding", "Next finding", "Go to the next finding.", show=False),
        key("w", "explain", "Why", "Read the finding under the cursor in full.", show=False),
        key("o", "origins", "Origins", "Where the figures of this thing come from.", show=False),
        key("m", "units", "Units", "Show metric or imperial units.", show=False),
        key("S", "save_as", "Save as", "Write the kit to a new file.", show=False),
        key("left", "go_things", "Things", "To the list of things.", show=False, priority=True),
        key("right", "go_form", "Form", "To the form of this thing.", show=False, priority=True),
    ]

    def __init__(self, document: Document) -> None:
        """Open a document that reads as a kit."""
        super().__init__()
        self.document = document
        self.thing: int | None = None
        self.assessment: Assessment = _assessed(document.reading)

    def compose(self) -> ComposeResult:
        """Top line, the panes, and the keys."""
        yield TitleBar()
        with Container(id="panes"):
            yield Things(id="things")
            yield Form(id="form")
            yield Figures(id="figures")
            yield Picture(plain=self.app.plain_pictures, id="picture")
            yield Findings(id="findings")
        yield Footer(compact=True)

    def check_action(self, action: str, _parameters: tuple[object, ...]) -> bool | None:
        """While a value is typed, letters are letters."""
        return action not in OWN_ACTIONS or not self.query_one(Form).is_editing

    def on_mount(self) -> None:
        """Show the kit with the cursor on its first hose."""
        hoses = self.assessment.hoses
        self.thing = hoses[0].number if hoses else None
        self.query_one(Things).focus()
        self._show()
        if self.document.recovered is not None:
            self._ask_recover()

    @property
    def system(self) -> System:
        """The units shown."""
        return self.app.system

    # ---- showing ----

    def _refresh(self) -> None:
        """Work the kit out again and show it."""
        self.assessment = _assessed(self.document.reading)
        count = len(self.assessment.kit.things)
        if self.thing is not None and self.thing >= count:
            self.thing = count - 1 if count else None
        self._show()

    def _show(self) -> None:
        self.query_one(Things).show(self.assessment, self.system, self.thing)
        self._show_title()
        self._show_form()
        self._show_figures(self.assessment)

    def _show_title(self) -> None:
        name = f"{visible(self.assessment.kit.header.name)} · {visible(self.document.path.name)}"
        right = f"{water_words(self.assessment, self.system)}"
        self.query_one(TitleBar).show("bench", name, unsaved=self.document.is_dirty, right=right)

    def _show_form(self) -> None:
        written = {row.key: self.document.written(self.thing, row.key) for row in self._fields() if self._has(row.key)}
        record = self._record()
        title = "kit" if record is None else f"{record.title}: {visible(record.tag)}"
        self.query_one(Form).show(title, form_rows(self.assessment, written, self.thing, self.system))

    def _show_figures(self, assessment: Assessment) -> None:
        self.query_one(Figures).show(assessment, self.thing, self.system)
        self.query_one(Picture).show(assessment, self.thing, self.system)
        self.query_one(Findings).show(assessment, self.system)

    def _record(self) -> Thing | None:
        return None if self.thing is None else self.assessment.kit.things[self.thing]

    def _fields(self) -> tuple[Field, ...]:
        return fields_of(type(self._record() or self.assessment.kit.header))

    def _has(self, key: str) -> bool:
        return self.document.has(self.thing, key)

    @on(OptionList.OptionHighlighted, "#things")
    def _select(self) -> None:
        selected = self.query_one(Things).selected
        if selected != self.thing:
            self.thing = selected
            self._show_form()
            self._show_figures(self.assessment)

    @on(OptionList.OptionSelected, "#things")
    def _open_form(self) -> None:
        self.query_one(Form).go_to(None)

    @on(OptionList.OptionSelected, "#findings")
    def _jump(self) -> None:
        item = self.query_one(Findings).selected
        if item is None:
            return
        self.thing = item.thing
        self._show()
        self.query_one(Form).go_to(item.key)

    # ---- editing ----

    @on(Form.EditWanted)
    def _edit(self, event: Form.EditWanted) -> None:
        field = event.row.field
        if field not in self._fields():
            return  # asked for before another thing was shown
        written = self.document.written(self.thing, field.key)
        if visible(written) != written:
            self.notify("This text runs over lines or cannot be typed here; change it in a text editor.", markup=False)
            return
        choices = choices_of(self.assessment.kit, self.thing, field, self.system)
        if not choices:
            self.query_one(Form).edit_text(event.row)
            return
        title = f"{event.row.label}: {field.meaning}"
        ask = Choose(title, choices, event.row.value, may_clear=not field.required)
        self.app.push_screen(ask, lambda word: self._chosen(field, word))

    def _chosen(self, field: Field, word: str | None) -> None:
        if word is not None and field in self._fields():
            self._set(field, word)

    @on(Form.Edited)
    def _typed(self, event: Form.Edited) -> None:
        form, field = self.query_one(Form), event.row.field
        if event.text is None or field not in self._fields():
            form.close()
            self._show_figures(self.assessment)
            return
        try:
            reading = self.document.preview(self.thing, field.key, _value(field, event.text))
        except RefusedEdit as refusal:
            form.say(str(refusal), wrong=True)
            return
        if event.done:
            form.close()
            self._set(field, event.text)
            return
        previewed = _assessed(reading)
        self._show_figures(previewed)
        form.say(typed_note(previewed, self.thing, field, self.system))

    def _set(self, field: Field, text: str) -> None:
        thing = self.thing
        if field.key == "tag" and thing is not None:
            self._try(lambda: self.document.rename_tag(thing, text.strip()))
        else:
            self._try(lambda: self.document.set_value(thing, field.key, _value(field, text)))

    def _try(self, edit: Callable[[], None]) -> bool:
        """Make an edit and show what came of it; say why if it is refused."""
        try:
            edit()
        except RefusedEdit as refusal:
            self.notify(str(refusal), title="Not done", severity="error", markup=False)
            return False
        self._refresh()
        return True

    def action_longer(self) -> None:
        """Give the hose the next longer stock length."""
        self._step_length(+1)

    def action_shorter(self) -> None:
        """Give the hose the next shorter stock length."""
        self._step_length(-1)

    def _step_length(self, by: int) -> None:
        hose = self._record()
        if not isinstance(hose, Hose):
            self.notify("Put the cursor on a hose first.", severity="warning", markup=False)
            return
        length = next_length(hose, by, self.system)
        if length is None:
            self.notify("There is no stock length beyond this one.", severity="warning", markup=False)
            return
        self._try(lambda: self.document.set_value(self.thing, "length", length))

    def action_clear(self) -> None:
        """Take the key under the cursor out."""
        row = self.query_one(Form).selected
        if row is not None and row.value and row.field in self._fields():
            self._try(lambda: self.document.set_value(self.thing, row.field.key, None))

    def action_add(self) -> None:
        """Ask what to add, then which one, and add it."""
        kinds = [Choice(record.title, record.__doc__ or "") for record in KINDS.values()]
        self.app.push_screen(Choose("Add a thing", kinds), self._add_which)

    def _add_which(self, title: str | None) -> None:
        if title is None:
            return
        kind = next(kind for kind, record in KINDS.items() if record.title == title)
        words = role_choices() if KINDS[kind] is Hose else preset_choices(kind, self.system)
        question = "What the hose is for" if KINDS[kind] is Hose else f"Which {title}"
        ask = Choose(question, words, may_clear=KINDS[kind] is not Hose)
        self.app.push_screen(ask, lambda word: self._add(kind, word))

    def _add(self, kind: str, word: str | None) -> None:
        if word is None:
            return
        wanted = f"{word} hose" if KINDS[kind] is Hose else KINDS[kind].title
        tag = self.document.free_tag(wanted)
        values = first_values(self.assessment.kit, kind, word or None, tag)
        after = self.thing

        def add() -> None:
            self.thing = self.document.add_thing(kind, values, after)

        if self._try(add):
            self.query_one(Form).go_to("from")

    def action_copy(self) -> None:
        """Copy the thing under the cursor."""
        if (thing := self.thing) is not None:

            def copy() -> None:
                self.thing = self.document.copy_thing(thing)

            self._try(copy)

    def action_remove(self) -> None:
        """Take the thing under the cursor out; undo brings it back."""
        if (thing := self.thing) is not None:
            tag = visible(self.assessment.kit.things[thing].tag)
            if self._try(lambda: self.document.remove_thing(thing)):
                self.notify(f"{tag} is out of the kit. u brings it back.", markup=False)

    def action_move(self, by: int) -> None:
        """Move the thing under the cursor."""
        if (thing := self.thing) is not None:

            def move() -> None:
                self.thing = self.document.move_thing(thing, by)

            self._try(move)

    def action_undo(self) -> None:
        """Take back the last edit."""
        if self.document.undo():
            self._refresh()
        else:
            self.notify("Nothing to undo: this is the file as it was opened.", markup=False)

    def action_redo(self) -> None:
        """Make the undone edit again."""
        if self.document.redo():
            self._refresh()
        else:
            self.notify("Nothing to redo.", markup=False)

    # ---- moving about ----

    def action_go_things(self) -> None:
        """Focus the things."""
        self.query_one(Things).focus()

    def action_go_form(self) -> None:
        """Focus the form."""
        self.query_one(Form).go_to(None)

    def action_next_finding(self) -> None:
        """Focus the findings; once there, go to the next one."""
        findings = self.query_one(Findings)
        if findings.has_focus:
            findings.action_cursor_down()
        findings.focus()

    def action_explain(self) -> None:
        """Read a finding in full."""
        item = self.query_one(Findings).selected
        if item is None:
            self.notify("There are no findings.", markup=False)
            return
        about = subject(self.assessment.kit, item)
        line = self.document.reading.line_of(item.thing, item.key)
        if not isinstance(item, Finding):
            text = Content(f"{sentence(item.because, self.system)}\n\nSet {item.key}, line {line} of the file.")
        else:
            thumb = "\n\nThis is a rule of thumb: common practice, no source." if item.rule_of_thumb else ""
            text = Content.assemble(
                (item.signal.word, STYLES[item.signal]),
                f"  {item.rule}, line {line} of the file\n\n",
                f"{sentence(item.what, self.system)}\n\n",
                ("Why: ", "bold"),
                f"{sentence(item.why, self.system)}\n\n",
                ("Do: ", "bold"),
                f"{sentence(item.do, self.system)}{thumb}\n\n",
                (CAUTIONS, "$foreground-muted"),
            )
        self.app.push_screen(Page(about, text))

    def action_origins(self) -> None:
        """Where the figures of the thing come from."""
        lines = origin_lines(self.assessment, self.thing, self.system)
        self.app.push_screen(Page("Where the figures come from", Content("\n".join(lines))))

    def action_units(self) -> None:
        """Show the other units."""
        self.app.system = self.system.other
        self._show()

    def action_keys(self) -> None:
        """Show every key."""
        self.app.push_screen(Page("Keys of the bench", keys_page(self)))

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
        self.notify(f"Saved {visible(self.document.path.name)}.", markup=False)
        self._show_title()
        return True

    def _say_not_saved(self, error: OSError) -> None:
        reason = error.strerror or str(error)
        self.notify(
            f"{reason}. Nothing was written and your edits are kept. S saves under another name.",
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
        if change.theirs is not None and read_kit(change.theirs).kit is not None:
            ways.append(Way("t", "take theirs: my edits can be had back with u", "theirs"))
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
            self._refresh()

    def action_save_as(self) -> None:
        """Ask for a file name and write the kit there."""
        folder = self.document.path.parent
        ask = TypeName("Save as", f"{self.document.path.stem}-2.toml", lambda name: complain_of_name(folder, name))
        self.app.push_screen(ask, self._save_as)

    def _save_as(self, name: str | None) -> None:
        if name is None:
            return
        try:
            self.document.save_as(self.document.path.parent / name)
        except OSError as error:
            self._say_not_saved(error)
            return
        self.notify(f"Saved {visible(name)}; you are editing that file now.", markup=False)
        self._show_title()

    def _ask_recover(self) -> None:
        recovered = self.document.recovered
        assert recovered is not None
        text = change_lines(self.document.text, recovered.text)
        if not recovered.same_base:
            text = "The file has changed since these edits were made.\n" + text
        ways = (Way("t", "take them up", "take"), Way("d", "drop them", "drop"))
        self.app.push_screen(Ask("There are edits that were not saved", text, ways), self._recover)

    def _recover(self, answer: str | None) -> None:
        if answer == "take":
            self.document.recover()
            self._refresh()
        elif answer == "drop":
            self.document.forget_recovered()
        else:
            self._ask_recover()  # the next edit would take their place

    def action_shelf(self) -> None:
        """Back to the shelf, after asking about edits that are not saved."""
        self.leave(lambda: self.app.show_shelf(self.document.path.parent, self.document.path))

    def leave(self, go_on: Callable[[], None]) -> None:
        """Go on at once if everything is saved, else ask first."""
        if self.query_one(Form).is_editing:
            self.notify("A row is open: enter keeps it, esc drops it.", severity="warning", markup=False)
            return
        if not self.document.is_dirty:
            go_on()
            return
        ways = (
            Way("s", "save, then go", "save"),
            Way("d", "drop the edits and go", "drop"),
            Way("k", "keep editing", "keep"),
        )
        text = change_lines(self.document.saved_text, self.document.text)

        def settle(answer: str | None) -> None:
            if answer == "drop":
                self.document.forget_edits()
            if answer == "drop" or (answer == "save" and self._save()):
                go_on()

        self.app.push_screen(Ask("These edits are not saved", text, ways), settle)


OWN_ACTIONS = {binding.action.partition("(")[0] for binding in Bench.BINDINGS if isinstance(binding, Binding)}


def _assessed(reading: Reading) -> Assessment:
    assert reading.kit is not None, "the bench shows documents that read as a kit"
    return assess(reading.kit)


def _value(field: Field, text: str) -> Value | None:
    """What a typed or chosen text stands for in the file; nothing for an empty one."""
    if text == "" and not field.required:
        return None
    match field.kind:
        case Kind.FLAG:
            return text == "true"
        case Kind.WHOLE:
            return int(text) if text.isdigit() else text
        case Kind.PORTS | Kind.PORT_NAMES:
            return [word.strip() for word in text.split(",") if word.strip()]
        case _:
            return text.strip()
