"""Where the commands write: terminals of few characters, full disks, closed streams, readers that go away."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from kitbuilder.streams import SUBSTITUTES, printable
from tests.commands.run import GOOD, PYTHON, ROOT, TWINSET, run, run_process

EX_IOERR = 74
"""Of sysexits.h (4.3BSD, 1993): "An error occurred while doing I/O on some file"."""
FULL = Path("/dev/full")
POSIX_ONLY = pytest.mark.skipif(os.name != "posix", reason="streams are closed by a shell")

full_disk = pytest.mark.skipif(not FULL.exists(), reason="no device that is always full")


def shell(line: str, *words: str) -> subprocess.CompletedProcess[str]:
    """A line of the shell in which "$@" is `python -m kitbuilder` with words behind it."""
    return subprocess.run(
        ["sh", "-c", line, "sh", PYTHON, "-m", "kitbuilder", *words],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )


# ---- encodings ----


@pytest.mark.parametrize(
    ("encoding", "replaced"),
    [
        ("latin-1", {"−": "-"}),
        ("ascii", {"−": "-", "±": "+/-", "·": ".", "³": "^3", "×": "x"}),
    ],
    ids=["latin-1", "ascii"],
)
def test_a_minus_is_a_minus_in_every_encoding(encoding, replaced):
    """Read as "221236 g" once, where the encoding lacks U+2212."""
    expected = run("check", TWINSET).stdout
    assert "−" in expected
    for sign, plain in replaced.items():
        expected = expected.replace(sign, plain)
    assert run_process("check", TWINSET, encoding=encoding).stdout == expected


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "cp1252", "cp437"])
def test_each_sign_of_ours_has_a_substitute_where_it_is_lacking(encoding):
    """Only other characters are written out."""
    stream = open(os.devnull, "w", encoding=encoding)  # noqa: PTH123, SIM115
    with stream:
        for sign, plain in SUBSTITUTES.items():
            found = printable(f"1 {sign} 2", stream)
            assert found == (f"1 {sign} 2" if _knows(encoding, sign) else f"1 {plain} 2")
            assert plain.isascii()
        assert printable("長い", stream) == r"\u9577\u3044"


def _knows(encoding: str, sign: str) -> bool:
    return sign.encode(encoding, "ignore") != b""


def test_every_sign_the_package_prints_has_a_substitute():
    """But braille, which `--plain-pictures` replaces, and what only the app shows."""
    texts = [path.read_text(encoding="utf-8") for path in (ROOT / "kitbuilder").rglob("*") if path.suffix in SOURCES]
    signs = {sign for text in texts for sign in text if not sign.isascii()}
    assert signs >= {"−", "±", "·", "°"}, "the sources were found"
    assert signs <= set(SUBSTITUTES)


SOURCES = (".py", ".toml", ".txt")


# ---- full, closed, gone ----


@full_disk
@pytest.mark.parametrize("words", [("check", GOOD), ("format",), ("check", "--json", GOOD), ("--help",)], ids=str)
def test_a_full_disk_is_reported_in_one_line(words):
    """The code of cautions, 1, would be taken for findings."""
    done = shell('"$@" >/dev/full', *words)
    assert done.returncode == EX_IOERR
    assert done.stderr.startswith("kitbuilder: standard output: No space left on device.")
    assert done.stderr.count("\n") == 1


@POSIX_ONLY
@pytest.mark.parametrize("words", [("check", GOOD), ("fit", "--help")], ids=str)
def test_a_closed_output_is_reported_in_one_line(words):
    done = shell('"$@" >&-', *words)
    assert done.returncode == EX_IOERR
    assert done.stderr.startswith("kitbuilder: standard output: it is closed.")
    assert done.stderr.count("\n") == 1


@POSIX_ONLY
def test_a_closed_standard_error_leaves_the_exit_code():
    """Nobody can be informed; the output is whole all the same."""
    done = shell('"$@" 2>&-', "check", GOOD, "missing.toml")
    assert done.returncode == 2
    assert done.stdout == run("check", GOOD).stdout
    done = shell('"$@" 2>&-', "check")
    assert (done.returncode, done.stdout) == (2, ""), "how it is used goes nowhere else"
    assert shell('"$@" >&- 2>&-', "check", GOOD).returncode == EX_IOERR


@full_disk
def test_a_full_standard_error_leaves_the_exit_code():
    assert shell('"$@" 2>/dev/full', "check", "missing.toml").returncode == 2
    assert shell('"$@" >/dev/full 2>/dev/full', "check", GOOD).returncode == EX_IOERR


@POSIX_ONLY
def test_no_file_takes_the_place_of_a_closed_output(tmp_path):
    """The picture would be opened as standard output, and what libraries print would go into it."""
    picture = tmp_path / "routes.svg"
    done = shell('"$@" >&- 2>&-', "fit", TWINSET, "--svg", str(picture))
    assert done.returncode == EX_IOERR
    assert picture.read_text(encoding="utf-8").startswith("<svg")
    seen = (
        "import os; from kitbuilder.cli import main; code = main(['check', 'configs/twinset.toml']); "
        "raise SystemExit(code if all(os.fstat(n) for n in (0, 1, 2)) else 99)"
    )
    assert (
        subprocess.run(["sh", "-c", '"$@" <&- >&- 2>&-', "sh", sys.executable, "-c", seen], cwd=ROOT).returncode == 74
    )


@POSIX_ONLY
def test_a_reader_that_goes_away_is_no_failure():
    """`kitbuilder format | head -1` says nothing and is fine."""
    done = shell('{ "$@"; echo "code $?" >&2; } | head -1', "format")
    assert done.stdout.count("\n") == 1
    assert done.stderr == "code 0\n"
