"""Files too odd to keep in a folder: each is refused with one line that says what to do, or read as it is."""

import errno
import os
import tracemalloc
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.cli import main
from kitbuilder.kitfile.read import read_written
from kitbuilder.kitfile.reader import read_kit
from tests.commands.run import run_process
from tests.kitfile.support import SMALL, located

NEST = 10_000


def write(folder: Path, data: str | bytes) -> Path:
    """A file of a text or of bytes."""
    path = folder / "kit.toml"
    path.write_bytes(data if isinstance(data, bytes) else data.encode())
    return path


# ---- files that cannot be read ----


def test_no_such_file(tmp_path: Path) -> None:
    assert located(tmp_path / "reef.toml") == [
        "reef.toml: there is no such file. Check the name, or make a new kit file."
    ]


def test_a_folder(tmp_path: Path) -> None:
    assert located(tmp_path) == [
        f"{tmp_path.name}: this is a folder. Name a kit file in it, or open the folder as a shelf."
    ]


def test_a_file_where_a_folder_should_be(reef: Path) -> None:
    (problem,) = located(reef / "kit.toml")
    assert problem == f"kit.toml: it could not be read: {os.strerror(errno.ENOTDIR)}. Check its name and its folder."


def test_a_name_that_no_disk_takes(tmp_path: Path) -> None:
    (problem,) = located(tmp_path / f"{'x' * 300}.toml")
    assert problem.endswith(
        f": it could not be read: {os.strerror(errno.ENAMETOOLONG)}. Check its name and its folder."
    )


@pytest.mark.parametrize("refused", ["file", "folder"])
def test_not_ours_to_read(refusable: Path, refused: str) -> None:
    path = write(refusable, SMALL)
    (path if refused == "file" else refusable).chmod(0)
    assert located(path) == ["kit.toml: you may not read it. Change its permissions, or copy it."]


def test_a_link_that_leads_round_in_a_circle(tmp_path: Path) -> None:
    (tmp_path / "kit.toml").symlink_to("kit.toml")
    (problem,) = located(tmp_path / "kit.toml")
    assert problem == f"kit.toml: it could not be read: {os.strerror(errno.ELOOP)}. Check its name and its folder."


def test_a_pipe(tmp_path: Path) -> None:
    """Nobody writes into it: reading would wait for ever."""
    os.mkfifo(tmp_path / "kit.toml")
    assert located(tmp_path / "kit.toml") == ["kit.toml: this is a device or a pipe, not a file. Name a kit file."]


def test_a_device() -> None:
    """Reading this one would never end."""
    assert located(Path("/dev/zero")) == ["zero: this is a device or a pipe, not a file. Name a kit file."]


def test_fifty_megabytes(tmp_path: Path) -> None:
    """It is not even read to its end."""
    path = write(tmp_path, SMALL)
    os.truncate(path, 50_000_000)
    tracemalloc.start()
    found = located(path)
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert found == ["kit.toml: it has 50.0 MB, but a kit file has at most 1 MB. Check that this is a kit file."]
    assert most < 5_000_000


@pytest.mark.parametrize(
    ("data", "line"),
    [
        pytest.param(SMALL.replace("Small", "K\xfchl").encode("latin-1"), 2, id="latin-1"),
        pytest.param(SMALL.encode("utf-16"), 1, id="utf-16"),
        pytest.param(SMALL.encode() + b'notes = "\xed\xa0\x80"\n', 10, id="half a surrogate pair"),
        pytest.param(SMALL.encode() + b"# cut in the middle of a sign \xe2\x84", 10, id="cut"),
    ],
)
def test_not_utf_8(tmp_path: Path, data: bytes, line: int) -> None:
    assert located(write(tmp_path, data)) == [
        f"kit.toml: line {line} has bytes that are not UTF-8 text. Save it as UTF-8 in a text editor."
    ]


# ---- text that only looks like a kit ----


@pytest.mark.parametrize(
    "deep",
    [
        pytest.param(f"plugged = {'[' * NEST}{']' * NEST}", id="lists"),
        pytest.param(f"plugged = {'{a = ' * NEST}1{'}' * NEST}", id="inline tables"),
    ],
)
def test_ten_thousand_deep(tmp_path: Path, deep: str) -> None:
    assert located(write(tmp_path, f"{SMALL}{deep}\n")) == [
        "kit.toml: lists or tables are nested too deep to read. "
        "A kit file has only keys, and tables such as [[hose]] with keys."
    ]


@pytest.mark.parametrize("key", ["a", '"a"', "'a b'"])
@pytest.mark.parametrize("around", ["{} = 1", "[{}]", "[[ {} ]]", "plugged = {{ {} = 1 }}"])
def test_a_hundred_thousand_dots(tmp_path: Path, key: str, around: str) -> None:
    """Handed to the parser, the longest of these would take all memory there is."""
    deep = around.format(" . ".join([key] * 100_000))
    assert located(write(tmp_path, f"{SMALL}{deep}\n")) == [
        "kit.toml:10: lists or tables are nested too deep to read. "
        "A kit file has only keys, and tables such as [[hose]] with keys."
    ]


@pytest.mark.parametrize("digits", ["9" * 5000, "1_" * 5000 + "1", "-" + "9" * 5000])
def test_a_number_of_thousands_of_digits(tmp_path: Path, digits: str) -> None:
    """Python does not read it, and does not say where it stands."""
    text = SMALL.replace('"75 cm"', digits)
    assert located(write(tmp_path, text)) == [
        'kit.toml:9: a number has thousands of digits. A quantity stands in quotes: "75 cm".'
    ]


def test_two_such_numbers_have_no_honest_line(tmp_path: Path) -> None:
    text = SMALL.replace('"75 cm"', f"{'9' * 5000} # {'9' * 5000}")
    assert located(write(tmp_path, text))[0].startswith("kit.toml: a number has thousands of digits.")


@pytest.mark.parametrize(
    ("key", "line"), [("format", 1), ("name", 2), ("layout", 3), ("tag", 6), ("body", 8), ("length", 9)]
)
def test_a_number_that_python_reads_and_will_not_write(tmp_path: Path, key: str, line: int) -> None:
    """Sixteen to a digit, any length is read; writing it out in tens is refused."""
    rows = [f"{key} = 0x{'F' * 5000}" if row.startswith(key) else row for row in SMALL.splitlines()]
    (problem,) = located(write(tmp_path, "\n".join(rows)))
    assert problem.startswith(f"kit.toml:{line}: ")
    assert "a number of very many digits" in problem


def test_a_text_as_long_as_a_letter(tmp_path: Path) -> None:
    """Two thousand characters are read, one more is not."""
    text = f'{SMALL}notes = "{{}}"\n'
    assert located(write(tmp_path, text.format("x" * 2000))) == []
    assert located(write(tmp_path, text.format("x" * 2001))) == [
        'kit.toml:10: hose "primary hose", notes: found a text of 2001 characters. At most 2000.'
    ]


def test_nothing_hides_behind_a_long_quantity(tmp_path: Path) -> None:
    (problem,) = located(write(tmp_path, SMALL.replace("75 cm", f"75 cm{' ' * 80}and more")))
    assert problem.startswith('kit.toml:9: hose "primary hose", length: found "75 cm   ')


# ---- text that is odd, and a kit ----

ODD_TEXTS = {
    "escape": "\x1b[31mred\x1b[0m\x07",
    "nul and delete": "\x00\x7f",
    "line ends": "one\ntwo\r\nthree\u2028four\x85",
    "right to left": "\u202etxet\u202c \u2066x\u2069",
    "markup": "[bold red]not red[/] [link=file:///]x[/link] {braces} %s",
    "quotes": 'she said "it\'s 75 cm" \\',
    "beyond the first plane": "🤿 𝟕𝟓",
}


@pytest.mark.parametrize("odd", ODD_TEXTS.values(), ids=ODD_TEXTS)
def test_any_character_may_stand_in_a_text(tmp_path: Path, odd: str, capsys: pytest.CaptureFixture[str]) -> None:
    """It is kept as it is; the terminal gets nothing that it would obey."""
    escaped = "".join(f"\\U{ord(character):08x}" for character in odd)
    path = write(tmp_path, SMALL.replace("Small", f"Small{escaped}.").replace("primary hose", f"hose{escaped}."))
    kit = read_written(path).kit
    assert kit is not None
    assert (kit.header.name, kit.items[0].tag) == (f"Small{odd}.", f"hose{odd}.")
    main(["check", str(path)])
    printed = capsys.readouterr().out
    assert not set(printed) & set("\x00\x07\x1b\x7f\x85\r\u2028\u202c\u202e\u2066\u2069")


@pytest.mark.parametrize("change", [lambda text: text.replace("\n", "\r\n"), lambda text: f"\ufeff{text}"])
def test_windows_editors(tmp_path: Path, change: Callable[[str], str]) -> None:
    """Line ends of two characters and a byte order mark in front change nothing."""
    reading = read_written(write(tmp_path, change(SMALL)))
    assert reading.kit == read_kit(SMALL).kit
    assert reading.lines.of(0, "length") == 9


def test_a_kit_without_items() -> None:
    """Three keys are a kit."""
    kit = read_kit(SMALL.partition("\n[[")[0]).kit
    assert kit is not None
    assert kit.items == ()


# ---- the same through the command ----


def test_the_command_refuses_them_in_a_sentence(tmp_path: Path) -> None:
    """Exit code 2, one line per file, no traceback, nothing waited for."""
    os.mkfifo(tmp_path / "pipe.toml")
    deep = write(tmp_path, f"{SMALL}plugged = {'[' * NEST}{']' * NEST}\n")
    names = [str(tmp_path / "pipe.toml"), str(deep), str(tmp_path), str(tmp_path / "none.toml"), "/dev/zero"]
    done = run_process("check", *names)
    assert done.returncode == 2
    assert [line.split(": ")[0] for line in done.stderr.splitlines()] == names
