"""Setting one key changes the bytes of its value and no others.

What has to come out is made here without the code under test: the files that come with the program, and two that have
every table, have one key per line, so that the line of a key is found by looking, and its value stands between the
equals sign and the comment.
"""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.file_kinds import DIVER_FILE, KIT_FILE, TRIP_FILE, FileKind
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.edits import TomlValue
from tests.kitfile.support import GOOD_DIVER, GOOD_KIT, GOOD_TRIP, KITS, LAYOUTS, SMALL, opened
from tests.laws import is_thorough

NEWLINES = pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
EVERY_FILE = pytest.mark.parametrize(
    ("path", "file"),
    [
        *(pytest.param(path, KIT_FILE, id=path.stem) for path in KITS + LAYOUTS),
        pytest.param(GOOD_KIT, KIT_FILE, id="everything"),
        pytest.param(GOOD_DIVER, DIVER_FILE, id="diver"),
        pytest.param(GOOD_TRIP, TRIP_FILE, id="trip"),
    ],
)
EVERY_KEY = (GOOD_KIT, GOOD_DIVER, GOOD_TRIP)
"""Files of which every key is set; of the others one key of each sort, unless the run is thorough."""
LEAST = {GOOD_KIT: 20, GOOD_DIVER: 9, GOOD_TRIP: 45}
"""Keys to be tried in a file, so that a test that finds none does not pass."""
LEAST_SORTS = 4
"""The same for one key of each sort."""
_LINE = re.compile(r'(?P<key>\w+)(?P<equals> *= )(?P<value>"[^"]*"|\[[^\]]*\]|\w+)(?P<comment> *(?:#[^\r\n]*)?)')


def places(document: Document) -> list[tuple[int | None, Field]]:
    """Every key that stands in the file: the item, and the key's field."""
    contents = document.reading.contents
    assert contents is not None
    records = [(None, contents.header), *enumerate(contents.items)]
    pairs = [(item, field) for item, record in records for field in fields_of(type(record))]
    return [(item, field) for item, field in pairs if document.has(item, field.key)]


def chosen_places(path: Path, document: Document) -> list[tuple[int | None, Field]]:
    """The keys that are set: all of them, or the first of each sort.

    What is written depends on the kind of value, on a comment behind it and on its neighbours.
    """
    found = places(document)
    if path in EVERY_KEY or is_thorough():
        return found
    lines = {item: lines_of(document.text, item) for item, _ in found}
    by_sort: dict[object, tuple[int | None, Field]] = {}
    for item, field in found:
        line = lines[item][field.key]
        is_last = line is [*lines[item].values()][-1]
        can_be_put_back = is_aligned(document.text, item, field.key) and in_order_of_schema(document, item)
        sort = (field.kind, field.required, bool(line["comment"]), is_last, can_be_put_back)
        by_sort.setdefault(sort, (item, field))
    return [*by_sort.values()]


def lines_of(text: str, item: int | None) -> dict[str, re.Match[str]]:
    """The lines of the keys of one item, in their order."""
    tables = re.split(r"^\[\[.*$", text, flags=re.MULTILINE)
    matches = (_LINE.match(row) for row in tables[0 if item is None else item + 1].splitlines())
    return {match["key"]: match for match in matches if match}


def another(document: Document, item: int | None, field: Field) -> TomlValue | None:
    """A value that is accepted there, and is not the one that stands there; None when there is no choice."""
    now = document.raw_value(item, field.key)
    table = document.reading.blocks[0 if item is None else item + 1].table
    candidates: dict[ValueKind, list[TomlValue]] = {
        ValueKind.CHOICE: [*choices_for(field, table)] if field.kind is ValueKind.CHOICE else [],
        ValueKind.WHOLE: [int(word) for word in field.choices] if field.kind is ValueKind.WHOLE else [],
        ValueKind.QUANTITY: [json.loads(field.example), f"{json.loads(field.example)} "] if field.dimension else [],
        ValueKind.FLAG: [now != "true"],
        ValueKind.PORTS: [["LP7 1/2-20 UNF", "HP9 7/16-20 UNF"]],
        ValueKind.PORT_NAMES: [["HP9"]],
        ValueKind.PORT: ["elsewhere LP7"],
        ValueKind.GAS: ["trimix 21/35"],
        ValueKind.FILE: ["elsewhere.toml"],
        ValueKind.FILES: [["elsewhere.toml", "there.toml"]],
        ValueKind.QUANTITIES: [["3 in", "4 cm", "5 cm"] if field.exactly else ["3 kg", "4 lb"]],
        ValueKind.LANDMARKS: [["left ribs", "mid chest"]],
        ValueKind.DATE: ["2031-05-14"],
        ValueKind.PRICE: ["7.25"],
        ValueKind.TAGS: [["elsewhere", "there"]],
    }
    accepted = candidates.get(field.kind, ["any \\ other [[word]] # \"and\" 'more'"])
    return next((value for value in accepted if value != now and str(value) != now), None)


def with_line(text: str, item: int | None, key: str, change: Callable[[re.Match[str]], str | None]) -> str:
    """The text with the line of one key changed; None takes the line out."""
    rows, number = text.splitlines(keepends=True), -1
    for place, row in enumerate(rows):
        number += row.startswith("[[")
        match = _LINE.match(row)
        if number == (-1 if item is None else item) and match and match["key"] == key:
            line = change(match)
            rows[place] = "" if line is None else line + row[match.end() :]
            return "".join(rows)
    raise AssertionError(f"{key} does not stand there")


def is_aligned(text: str, item: int | None, key: str) -> bool:
    """Whether the equals sign of a key stands below that of the key above it, or there is no key above it."""
    rows, number, above = text.splitlines(), -1, None
    for row in rows:
        number += row.startswith("[[")
        match = _LINE.match(row)
        if number == (-1 if item is None else item) and match:
            if match["key"] == key:
                return above in (None, row.index("="))
            above = row.index("=")
    raise AssertionError(f"{key} does not stand there")


def literal(value: TomlValue) -> str:
    """A value as TOML; JSON writes the same for these."""
    return json.dumps(value, ensure_ascii=False)


def replaced_by(value: str) -> Callable[[re.Match[str]], str]:
    """A change of a line that writes another value between equals sign and comment."""
    return lambda match: match["key"] + match["equals"] + value + match["comment"]


def raw(document: Document, item: int | None, key: str) -> TomlValue:
    """What stands in the file for a key."""
    return document.reading.rows[0 if item is None else item + 1][1][key]


def in_order_of_schema(document: Document, item: int | None) -> bool:
    """Whether the keys of an item stand in the order the schema lists them."""
    contents = document.reading.contents
    assert contents is not None
    known = [field.key for field in fields_of(type(contents.header if item is None else contents.items[item]))]
    keys = list(document.reading.rows[0 if item is None else item + 1][1])
    return keys == sorted(keys, key=known.index)


@EVERY_FILE
@NEWLINES
def test_only_the_value_changes(path: Path, file: FileKind, newline: str, tmp_path: Path) -> None:
    """Setting the old value again gives the old bytes."""
    text = path.read_text("utf-8").replace("\n", newline)
    document = opened(tmp_path, text, file)
    tried = 0
    for item, field in chosen_places(path, document):
        old, new = raw(document, item, field.key), another(document, item, field)
        if new is None:
            continue
        document.set_value(item, field.key, new)
        assert document.text == with_line(text, item, field.key, replaced_by(literal(new)))
        document.set_value(item, field.key, old)
        assert document.text == text
        tried += 1
    assert tried > LEAST.get(path, LEAST_SORTS)


@EVERY_FILE
@NEWLINES
def test_a_key_taken_out_takes_its_line_along(path: Path, file: FileKind, newline: str, tmp_path: Path) -> None:
    """One put back lands where the schema has it, aligned as its neighbour: where it stood, if it was.

    Its comment is gone.
    """
    text = path.read_text("utf-8").replace("\n", newline)
    document = opened(tmp_path, text, file)
    tried = 0
    for item, field in chosen_places(path, document):
        if field.required:
            continue
        old, aligned = raw(document, item, field.key), is_aligned(text, item, field.key)
        in_order = in_order_of_schema(document, item)
        document.set_value(item, field.key, None)
        assert document.text == with_line(text, item, field.key, lambda _: None)
        document.set_value(item, field.key, old)
        if in_order and aligned:
            back = with_line(text, item, field.key, lambda m: m["key"] + m["equals"] + m["value"])
            assert document.text == back
            tried += 1
        assert document.undo()
        assert document.undo()
        assert document.text == text
    assert tried > LEAST.get(path, LEAST_SORTS)


def test_setting_what_stands_there_is_no_edit(tmp_path: Path) -> None:
    """There is nothing to take back after it."""
    document = opened(tmp_path, SMALL)
    document.set_value(0, "length", "75 cm")
    document.set_value(0, "run", None)
    assert not document.can_undo
    assert not document.is_dirty


def test_a_preview_changes_nothing(tmp_path: Path) -> None:
    """It says what the file would say."""
    document = opened(tmp_path, SMALL)
    reading = document.preview(0, "length", "80 cm")
    assert reading.kit is not None
    assert reading.kit.hoses[0].length_m == pytest.approx(0.8)
    assert document.text == SMALL
    assert document.raw_value(0, "length") == "75 cm"
    assert not document.can_undo
