"""Files that are not kits, and in a folder of theirs files that are no divers, each beside what has to be said of it.

A line of `x.errors.txt` is what must stand in the problem of the same number; " ... " stands for words left out. As
many lines as there are problems: nothing may be said twice, and nothing may be ignored.
"""

from pathlib import Path
from shutil import copy

import pytest

from kitbuilder.cli import main
from kitbuilder.kit.file_kinds import DIVER_FILE, GEAR_FILE, KIT_FILE, STOCK_FILE, TRIP_FILE, FileKind
from kitbuilder.kitfile.read import read_written
from tests.commands.run import run_process
from tests.kitfile.support import (
    DIVERS,
    GEAR_FILES,
    GOOD_DIVER,
    GOOD_GEAR,
    GOOD_KIT,
    GOOD_STOCK,
    GOOD_TRIP,
    KITS,
    STOCKS,
    TRIPS,
    located,
)

FOLDER = Path(__file__).parent / "bad"
BAD = sorted(FOLDER.glob("*.toml"))
BAD_DIVERS = sorted((FOLDER / "diver").glob("*.toml"))
EVERY_FILE = [pytest.param(path, KIT_FILE, id=path.stem) for path in BAD]
EVERY_FILE += [pytest.param(path, DIVER_FILE, id=f"diver-{path.stem}") for path in BAD_DIVERS]


def expected(path: Path) -> list[str]:
    """The lines of the file's list of errors."""
    return path.with_suffix(".errors.txt").read_text("utf-8").splitlines()


def says(problem: str, line: str) -> bool:
    """Whether a problem holds the parts of a line, in their order."""
    place = 0
    for part in line.split(" ... "):
        place = problem.find(part, place)
        if place < 0:
            return False
        place += len(part)
    return True


def test_the_comparison_can_fail() -> None:
    """A part that is missing, and one that stands too early."""
    assert says("a.toml:1: found 3. Accepted: 1, 2.", "a.toml:1: ... 2.")
    assert not says("a.toml:1: found 3. Accepted: 1, 2.", "a.toml:2: ... 2.")
    assert not says("a.toml:1: found 3. Accepted: 1, 2.", "Accepted ... found")


def test_every_file_has_its_list() -> None:
    """And every list has its file."""
    lists = {path.with_name(path.name.replace(".errors.txt", ".toml")) for path in FOLDER.rglob("*.errors.txt")}
    assert {*BAD, *BAD_DIVERS} == lists == set(FOLDER.rglob("*.toml"))
    assert all(expected(path) for path in lists)


@pytest.mark.parametrize(("path", "file"), EVERY_FILE)
def test_problems(path: Path, file: FileKind) -> None:
    """All of them at once, in the order of the lines, each with its place and what is accepted there."""
    found, wanted = located(path, file), expected(path)
    assert len(found) == len(wanted), "\n".join(found)
    for problem, line in zip(found, wanted, strict=True):
        assert says(problem, line), f"wanted: {line}\nfound:  {problem}"


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_the_command_says_the_same(path: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """On the error output, a line a problem, with exit code 2; the file is as it was.

    A file that says that it holds a diver is checked as one.
    """
    kept = Path(copy(path, tmp_path))
    before = kept.read_bytes()
    assert main(["check", str(kept)]) == 2
    printed = capsys.readouterr().err.splitlines()
    file = read_written(path).file
    assert (file is DIVER_FILE) == (path.stem == "diver-as-kit")
    assert printed == [f"{tmp_path}/{problem}" for problem in located(path, file)]
    assert kept.read_bytes() == before
    assert list(tmp_path.iterdir()) == [kept]


def test_the_command_as_typed_at_a_prompt(tmp_path: Path) -> None:
    """`python -m kitbuilder check FILE...`: no traceback, whatever the files."""
    paths = [FOLDER / f"{name}.toml" for name in ("half", "units", "near-words", "newer-format")]
    done = run_process("check", *(str(copy(path, tmp_path)) for path in paths))
    assert done.returncode == 2
    assert done.stdout.count("\n") <= 3, "the cautions only"
    assert "Traceback" not in done.stderr
    wanted = [problem for path in paths for problem in located(path)]
    assert [line.removeprefix(f"{tmp_path}/") for line in done.stderr.splitlines()] == wanted


def test_a_wrong_file_does_not_keep_the_others_from_being_checked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The good one is printed, the exit code is that of the worst."""
    bad, good = copy(BAD[0], tmp_path), copy(KITS[0], tmp_path)
    assert main(["check", str(bad), str(good)]) == 2
    printed = capsys.readouterr()
    assert str(bad) in printed.err
    assert str(good) in printed.out


@pytest.mark.parametrize(
    ("path", "file"),
    [
        *(pytest.param(path, KIT_FILE, id=path.stem) for path in KITS),
        *(pytest.param(path, DIVER_FILE, id=path.stem) for path in DIVERS),
        *(pytest.param(path, STOCK_FILE, id=path.stem) for path in STOCKS),
        *(pytest.param(path, GEAR_FILE, id=path.stem) for path in GEAR_FILES),
        pytest.param(GOOD_KIT, KIT_FILE, id="everything"),
        pytest.param(GOOD_DIVER, DIVER_FILE, id="everything of a diver"),
        pytest.param(GOOD_STOCK, STOCK_FILE, id="everything of a stock"),
        *(pytest.param(path, TRIP_FILE, id=path.stem) for path in TRIPS),
        pytest.param(GOOD_GEAR, GEAR_FILE, id="everything of a gear file"),
        pytest.param(GOOD_TRIP, TRIP_FILE, id="everything of a trip"),
    ],
)
def test_good_files_are_good(path: Path, file: FileKind) -> None:
    """What comes with the program reads without a word; otherwise the folder above would prove nothing."""
    reading = read_written(path, file)
    text = reading.text
    assert reading.problems == ()
    assert reading.contents is not None
    of_kind = {
        KIT_FILE: reading.kit,
        DIVER_FILE: reading.diver,
        STOCK_FILE: reading.stock,
        GEAR_FILE: reading.gear,
        TRIP_FILE: reading.trip,
    }
    assert [found for found in of_kind.values() if found is not None] == [reading.contents]
    assert of_kind[file] is reading.contents
    assert reading.holds == file.name
    assert text.encode() == path.read_bytes()
