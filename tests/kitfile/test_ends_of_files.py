"""The largest file there may be, and which errors of a stock leave its sound hoses standing."""

import os
from pathlib import Path
from types import SimpleNamespace

import pytest

from kitbuilder.kit.file_kinds import DIVER_FILE, KIT_FILE, STOCK_FILE, FileKind
from kitbuilder.kitfile.disk import LARGEST_FILE, UnreadableFile, read_text, save_text
from kitbuilder.kitfile.read import read_written
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.kitfile.values import format_choices

HEAD = 'format = 1\nholds = "stock"\nname = "shelf"\n'
HOSE = '[[hose]]\ntag = "{tag}"\nbody = "rubber"\nlength = "{length}"\n'
SOUND, OTHER, BROKEN = (
    HOSE.format(tag=tag, length=length) for tag, length in (("one", "75 cm"), ("two", "90 cm"), ("bad", "75"))
)


def test_a_file_of_a_million_bytes_is_read_and_one_of_a_byte_more_is_not(tmp_path: Path) -> None:
    """A megabyte is a thousand kits; more is not a kit file."""
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * 1_000_000)
    assert LARGEST_FILE == 1_000_000
    assert len(read_text(path)) == 1_000_000
    path.write_bytes(b"#" * 1_000_001)
    with pytest.raises(UnreadableFile, match=r"it has 1\.0 MB, but a kit file has at most 1 MB"):
        read_text(path)
    path.write_bytes(b"#" * 2_500_000)
    with pytest.raises(UnreadableFile, match=r"it has 2\.5 MB"):
        read_text(path)


@pytest.mark.parametrize(
    ("rows", "left"),
    [
        ((SOUND, OTHER), ["one", "two"]),
        ((BROKEN, OTHER), ["two"]),
        ((SOUND, BROKEN), ["one"]),
        ((SOUND, BROKEN, OTHER), ["one", "two"]),
    ],
)
def test_a_broken_hose_of_a_stock_leaves_the_others(rows: tuple[str, ...], left: list[str]) -> None:
    """Wherever it stands; its problem is given with its line."""
    text = "\n".join((HEAD, *rows))
    reading = parse_as(text, STOCK_FILE)
    assert reading.stock is not None
    assert [hose.tag for hose in reading.stock.items] == left
    lines = [problem.line for problem in reading.problems]
    assert lines == [number for number, line in enumerate(text.splitlines(), 1) if line == 'length = "75"']


@pytest.mark.parametrize("wrong", ["colour = 3\n", "notes = 5\n", 'name = ""\n'])
def test_a_broken_head_of_a_stock_leaves_nothing(wrong: str) -> None:
    """Nobody knows then what it is a stock of."""
    head = HEAD.replace('name = "shelf"\n', "") + wrong if wrong.startswith("name") else HEAD + wrong
    reading = parse_as("\n".join((head, SOUND, OTHER)), STOCK_FILE)
    assert reading.stock is None
    assert reading.problems


@pytest.mark.parametrize(
    ("most", "says"), [(3, "1, 2, 3"), (24, ", 23, 24"), (25, "from 1 to 25"), (99, "from 1 to 99")]
)
def test_two_dozen_numbers_are_listed_and_more_are_named_by_their_ends(most: int, says: str) -> None:
    """What a key takes is named in the error; a line holds two dozen."""
    field = SimpleNamespace(choices=tuple(str(number) for number in range(1, most + 1)))
    words = format_choices(field)  # type: ignore[arg-type]
    assert words.endswith(says)
    assert words.startswith("from" if most > 24 else "1, 2, 3")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes in folders are not known on this system")
def test_what_stands_in_the_way_of_a_file_is_named(tmp_path: Path) -> None:
    """A folder, a link, a pipe; none of them is replaced."""
    ways = {"a folder": tmp_path / "folder", "a link": tmp_path / "link", "a device or a pipe": tmp_path / "pipe"}
    ways["a folder"].mkdir()
    ways["a link"].symlink_to(tmp_path / "nowhere")
    os.mkfifo(ways["a device or a pipe"])
    for what, path in ways.items():
        with pytest.raises(OSError, match=f"{what} has this name and is not replaced"):
            save_text(path, "x")
        assert path.lstat().st_mode
    assert sorted(path.name for path in tmp_path.iterdir()) == ["folder", "link", "pipe"]


@pytest.mark.parametrize(
    ("name", "expected", "file"),
    [
        ("gone.toml", None, KIT_FILE),
        ("gone.csv", None, STOCK_FILE),
        ("gone.toml", DIVER_FILE, DIVER_FILE),
        ("gone.csv", KIT_FILE, KIT_FILE),
    ],
)
def test_a_file_that_is_gone_is_of_the_kind_that_was_expected_or_that_its_name_tells(
    tmp_path: Path, name: str, expected: FileKind | None, file: FileKind
) -> None:
    """So that its problem is given by whoever asked for it."""
    reading = read_written(tmp_path / name, expected)
    assert reading.contents is None
    assert reading.problems
    assert reading.file is file


def test_a_wrong_key_has_its_own_line_and_a_missing_one_that_of_its_table() -> None:
    """Counted from the first line of the file, blank ones too."""
    text = HEAD + '[[hose]]\ntag = "one"\nlength = "75 cm"\nbody = "rubber"\n[[hose]]\ntag = "two"\n\nbody = 5\n'
    lines = {str(problem).split(":")[0]: problem.line for problem in parse_as(text, STOCK_FILE).problems}
    numbers = {line: number for number, line in enumerate(text.splitlines(), 1)}
    assert lines == {
        'hose "two", body': numbers["body = 5"],
        'hose "two", length': numbers['tag = "two"'] - 1,
    }
