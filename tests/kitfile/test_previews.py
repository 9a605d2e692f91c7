"""An edit that was previewed is made like one that was not, and what the preview read is not read again."""

import json
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.kit.fields import Field, fields_of
from kitbuilder.kit.file_kinds import FileKind
from kitbuilder.kitfile import document as editing
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.reader import ParseResult, read_kit
from tests.kitfile.support import GOOD_KIT, SMALL, opened
from tests.laws import tried

Edit = tuple[int | None, str, TomlValue | None]
Step = tuple[str, Edit]

TWO_HOSES = SMALL + '\n[[hose]]\ntag = "other hose"\nrole = "primary"\nbody = "rubber"\nlength = "75 cm"\n'
TEXTS = (TWO_HOSES, GOOD_KIT.read_text("utf-8"))
VALUES = (None, True, False, 0, 1, "", "1", "true", "75", "80 cm", "left LP1", ["left LP1"], [], "first\nsecond")


def places_of(text: str) -> list[tuple[int | None, Field]]:
    """Every key that may stand in a kit, with the item it may stand in."""
    kit = read_kit(text).kit
    assert kit is not None
    records = [(None, kit.header), *enumerate(kit.items)]
    return [(item, field) for item, record in records for field in fields_of(type(record))]


EASY = [(item, "notes", value) for item in (None, 0, 1) for value in ("80 cm", "new", None)]
"""Edits that are accepted, and alike: one value in several items, several values in one."""
PLACES = {text: places_of(text) for text in TEXTS}


@st.composite
def walks(draw: st.DrawFn) -> tuple[str, list[Step]]:
    """A kit, and what is done with it: few edits, so that the same comes up again."""
    text = draw(st.sampled_from(TEXTS))
    item, field = draw(st.sampled_from(PLACES[text]))
    edits = [(item, field.key, draw(st.sampled_from((json.loads(field.example), *VALUES))))]
    edits += draw(st.lists(st.sampled_from(EASY), min_size=2, max_size=2))
    actions = st.sampled_from(("preview", "set", "undo", "redo"))
    return text, draw(st.lists(st.tuples(actions, st.sampled_from(edits)), min_size=6, max_size=14))


def outcome(document: Document, action: str, edit: Edit) -> ParseResult | str | bool | None:
    """What an action gives, or why it is refused."""
    try:
        match action:
            case "preview":
                return document.preview(*edit)
            case "set":
                return document.set_value(*edit)
            case "undo":
                return document.undo()
        return document.redo()
    except RefusedEdit as refusal:
        return str(refusal)


def state(document: Document) -> tuple[object, ...]:
    """Everything that is known of a document, and what its journal holds."""
    kept = document.journal.kept
    steps = (document.can_undo, document.can_redo, document.is_dirty)
    return document.text, document.reading, steps, kept and kept.read_bytes()


@tried(25)
@given(walks())
def test_a_document_with_previews_is_one_without(walk: tuple[str, list[Step]]) -> None:
    """After any steps; a preview itself says what the edit of a document just opened comes to."""
    text, steps = walk
    with TemporaryDirectory() as name:
        folders = [Path(name, each) for each in ("previewing", "plain", "fresh")]
        for folder in folders:
            folder.mkdir()
        previewing, plain = (opened(folder, text) for folder in folders[:2])
        for action, edit in steps:
            found = outcome(previewing, action, edit)
            if action == "preview":
                fresh = opened(folders[2], previewing.text)
                assert found == (outcome(fresh, "set", edit) or fresh.reading)
                fresh.forget_edits()
            else:
                assert found == outcome(plain, action, edit)
            assert state(previewing) == state(plain)


@pytest.fixture
def readings(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The texts that documents have read since they were opened."""
    texts: list[str] = []
    parse_as = editing.parse_as

    def noted(text: str, file: FileKind) -> ParseResult:
        texts.append(text)
        return parse_as(text, file)

    monkeypatch.setattr(editing, "parse_as", noted)
    return texts


def test_what_a_preview_has_read_is_not_read_again(tmp_path: Path, readings: list[str]) -> None:
    """Neither by the same preview, nor by the edit, whether it sets one key or is one of `set_values`."""
    document = opened(tmp_path, SMALL)
    shown = document.preview(0, "length", "80 cm")
    assert readings == [shown.text]
    assert document.preview(0, "length", "80 cm") is shown
    document.set_values(0, {"length": "80 cm"})
    assert document.reading is shown
    assert readings == [shown.text]


@pytest.mark.parametrize(
    "other", [(0, "length", "81 cm"), (0, "run", "80 cm"), (1, "length", "80 cm")], ids=["value", "key", "item"]
)
def test_another_edit_is_read(other: Edit, tmp_path: Path, readings: list[str]) -> None:
    document = opened(tmp_path, TWO_HOSES)
    document.preview(0, "length", "80 cm")
    document.set_value(*other)
    assert len(readings) == 2
    item, key, value = other
    assert document.raw_value(item, key) == value
    assert document.text.count("80 cm") == (value == "80 cm")


def test_the_same_edit_of_another_text_is_read(tmp_path: Path, readings: list[str]) -> None:
    """Here of the text after an undo: what was previewed still had the edit that is undone."""
    document = opened(tmp_path, SMALL)
    document.set_value(0, "notes", "new")
    document.preview(0, "length", "80 cm")
    document.undo()
    readings.clear()
    document.set_value(0, "length", "80 cm")
    assert len(readings) == 1
    assert document.text == SMALL.replace("75 cm", "80 cm")


def test_values_that_are_equal_but_not_the_same_are_distinguished(tmp_path: Path) -> None:
    """True and 1 are equal in Python; only one of them is accepted here."""
    document = opened(tmp_path, SMALL)
    document.preview(0, "swivel_pin", True)
    with pytest.raises(RefusedEdit):
        document.set_value(0, "swivel_pin", 1)


def test_a_list_that_grows_after_its_preview(tmp_path: Path) -> None:
    document = opened(tmp_path, GOOD_KIT.read_text("utf-8"))
    assert document.reading.kit is not None
    stage = next(number for number, item in enumerate(document.reading.kit.items) if item.kind == "first_stage")
    ports: list[str] = ["LP7 1/2-20 UNF"]
    document.preview(stage, "ports", ports)
    ports.append("HP9 7/16-20 UNF")
    document.set_value(stage, "ports", ports)
    assert document.raw_value(stage, "ports") == "LP7 1/2-20 UNF, HP9 7/16-20 UNF"
