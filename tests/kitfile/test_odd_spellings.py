"""Edits of files that are spelt oddly: the one line changes, the spelling around it stays."""

from pathlib import Path

import pytest

from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.edits import TomlValue
from tests.kitfile.support import SMALL, opened

HEAD, LENGTH = SMALL.rsplit("\n", 2)[0] + "\n", 'length = "75 cm"\n'
"""The small kit without its last line, and that line."""

NEWLINES = pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])


def edited(folder: Path, text: str, key: str, value: TomlValue | None) -> str:
    """The text with one key of the hose set; undone, it is the old one again."""
    document = opened(folder, text)
    document.set_value(0, key, value)
    after = document.text
    assert document.undo()
    assert document.text == text
    return after


@NEWLINES
@pytest.mark.parametrize(
    ("before", "key", "value", "after"),
    [
        pytest.param("length='75 cm'", "length", "80 cm", "length='80 cm'", id="single quotes stay"),
        pytest.param("length='75 cm'", "length", "7'", """length="7'\"""", id="unless the text has one"),
        pytest.param("length = '75 cm'", "length", '28"', "length = '28\"'", id="and save an escape"),
        pytest.param('"length"\t=\t"75 cm"\t# x', "length", "1 m", '"length"\t=\t"1 m"\t# x', id="quoted key, tabs"),
        pytest.param('  "le\\u006egth" = "75 cm"#', "length", "1 m", None, id="escaped key"),
    ],
)
def test_a_value_is_replaced(
    newline: str, before: str, key: str, value: str, after: str | None, tmp_path: Path
) -> None:
    if after is None:
        after = before.replace("75 cm", value)
    head = HEAD.replace("\n", newline)
    assert edited(tmp_path, f"{head}{before}{newline}", key, value) == f"{head}{after}{newline}"
    assert edited(tmp_path, f"{head}{before}", key, value) == f"{head}{after}"


LISTS = {
    "one line": "plugged = [\"LP4\",'HP2' , ] # both",
    "several lines": 'plugged = [\n    "LP4", # ] "\n\n    # [[hose]]\n    "HP2"\n] # both',
    "brackets in texts": 'plugged = [ "LP4",\n"""HP2""" ] # both',
}


@NEWLINES
@pytest.mark.parametrize("before", LISTS.values(), ids=LISTS)
def test_a_list_is_replaced_as_a_whole(newline: str, before: str, tmp_path: Path) -> None:
    text = f'{SMALL}\n[[first_stage]]\ntag = "first"\n{before}\nmake = "grey"\n'
    document = opened(tmp_path, text.replace("\n", newline))
    document.set_value(1, "plugged", ["LP1"])
    assert document.text == text.replace(before, 'plugged = ["LP1"] # both').replace("\n", newline)
    document.set_value(1, "plugged", None)
    assert document.text == text.replace(f"{before}\n", "").replace("\n", newline)


TEXTS = {
    "looks like an item": '"""\n[[hose]]\ntag = "x"\nlength = "1 m"\n"""',
    "quotes at the end": '"""two""\nand three at the end"""""',
    "escaped quotes": '"""\\"""\n[[gauge]]\n\\\\"""',
    "no escapes": "'''\n[[hose]]\\\n''tag = 'x'\n'''",
}


@NEWLINES
@pytest.mark.parametrize("before", TEXTS.values(), ids=TEXTS)
def test_a_text_of_several_lines(newline: str, before: str, tmp_path: Path) -> None:
    """It may look like anything; what stands around it is edited, and then the text itself."""
    text = f'{HEAD}{LENGTH}notes  = {before}  # kept\n\n[[gauge]]\ntag = "gauge"\n'
    document = opened(tmp_path, text.replace("\n", newline))
    document.set_value(0, "length", "80 cm")
    document.set_value(0, "run", "70 cm")
    document.set_value(1, "preset", "brass gauge")
    text = text.replace(LENGTH, 'length = "80 cm"\nrun    = "70 cm"\n') + 'preset = "brass gauge"\n'
    assert document.text == text.replace("\n", newline)
    document.set_value(0, "notes", "short")
    short = "'short'" if before.startswith("'") else '"short"'
    assert document.text == text.replace(before, short).replace("\n", newline)


@NEWLINES
@pytest.mark.parametrize(
    ("before", "key", "value", "after"),
    [
        pytest.param(LENGTH, "run", "7 ft", f'{LENGTH}run    = "7 ft"\n', id="aligned"),
        pytest.param('length="1 m"\n', "run", "7 ft", 'length="1 m"\nrun="7 ft"\n', id="without spaces"),
        pytest.param('length\t= "1 m"\n', "run", "7 ft", 'length\t= "1 m"\nrun\t= "7 ft"\n', id="with tabs"),
        pytest.param(
            '  length      = "1 m" # x\n',
            "run",
            "7 ft",
            '  length      = "1 m" # x\n  run         = "7 ft"\n',
            id="indented",
        ),
        pytest.param(LENGTH, "crosses_neck", False, f"{LENGTH}crosses_neck = false\n", id="longer than the column"),
        pytest.param(
            f'notes  = "x"\n{LENGTH}', "run", "7 ft", f'notes  = "x"\n{LENGTH}run    = "7 ft"\n', id="other order"
        ),
        pytest.param(
            f'run    = """\n7 ft"""\n{LENGTH}notes  = "x"\n'.replace("\n7", "7"),
            "span",
            "6 ft",
            f'run    = """7 ft"""\n{LENGTH}span   = "6 ft"\nnotes  = "x"\n',
            id="below all that come before it",
        ),
        pytest.param(
            f"{LENGTH}\n# apart\n\n# of the gauge\n[[gauge]]\ntag = 'gauge'\n",
            "notes",
            "x",
            f"{LENGTH}notes  = \"x\"\n\n# apart\n\n# of the gauge\n[[gauge]]\ntag = 'gauge'\n",
            id="above what is apart",
        ),
    ],
)
def test_a_new_key_lands_below_those_that_the_schema_has_before_it(
    newline: str, before: str, key: str, value: TomlValue, after: str, tmp_path: Path
) -> None:
    text = (HEAD + before).replace("\n", newline)
    assert edited(tmp_path, text, key, value) == (HEAD + after).replace("\n", newline)


@NEWLINES
def test_no_line_break_at_the_end(newline: str, tmp_path: Path) -> None:
    """A value there is replaced without adding one; a line below it needs one."""
    text = SMALL.removesuffix("\n").replace("\n", newline)
    assert edited(tmp_path, text, "length", "80 cm") == text.replace("75", "80")
    assert edited(tmp_path, text, "run", "7 ft") == f'{text}{newline}run    = "7 ft"{newline}'


def test_line_ends_of_both_kinds(tmp_path: Path) -> None:
    """Each line keeps its own; a new one gets that of the first line."""
    text = SMALL.replace("\n", "\r\n", 3)
    assert edited(tmp_path, text, "role", "long hose") == text.replace('"primary"', '"long hose"')
    assert edited(tmp_path, text, "run", "7 ft") == f'{text}run    = "7 ft"\r\n'
    document = opened(tmp_path, text)
    document.add_item("gauge", {"tag": "gauge"}, 0)
    document.copy_item(0)
    assert document.text.startswith(text)


def test_a_byte_order_mark_is_kept_on_the_disk(tmp_path: Path) -> None:
    """It is no part of the text, and some editor wanted it."""
    path = tmp_path / "kit.toml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.encode())
    document = Document(path)
    assert document.text == SMALL
    document.set_value(0, "length", "80 cm")
    document.save()
    assert path.read_bytes() == b"\xef\xbb\xbf" + SMALL.replace("75", "80").encode()
    document.undo()
    document.save()
    assert path.read_bytes() == b"\xef\xbb\xbf" + SMALL.encode()
