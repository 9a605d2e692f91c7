"""kitbuilder compare: two kits side by side."""

import json
import re
from pathlib import Path

import pytest

from tests.commands.run import CAUTIOUS, GOOD, TWINSET, WRONG, run


def test_compare_prints_two_columns_and_the_cautions() -> None:
    """0, whatever differs and whatever is found."""
    done = run("compare", TWINSET, WRONG)
    assert (done.returncode, done.stderr) == (0, "")
    assert "* differs" in done.stdout
    assert "never certifies" in done.stdout
    assert re.search(r"kit\s+Twinset, coast\s+Wrong on purpose", done.stdout)


def test_compare_in_inches() -> None:
    """61 cm are 24.0 in."""
    assert "24.0 in rubber" in run("compare", "--units", "imperial", TWINSET, CAUTIOUS).stdout


def test_compare_as_json() -> None:
    """One object: left, right, pairs."""
    found = json.loads(run("compare", "--json", GOOD, CAUTIOUS).stdout)
    assert set(found) == {"left", "right", "pairs", "linked_problems"}
    assert (found["left"]["file"], found["right"]["name"]) == (GOOD, "Lake single with drysuit")


def test_compare_names_every_file_it_cannot_read(tmp_path: Path) -> None:
    """2, with a line for each, and nothing on the standard output."""
    missing = [str(tmp_path / name) for name in ("one.toml", "other.toml")]
    done = run("compare", *missing)
    assert (done.returncode, done.stdout) == (2, "")
    assert [line.split(": ")[0] for line in done.stderr.splitlines()] == missing
    assert run("compare", GOOD, missing[0]).returncode == 2


@pytest.mark.parametrize("files", [[], [GOOD], [GOOD, GOOD, GOOD]])
def test_compare_takes_two_files(files: list[str]) -> None:
    """No more, no fewer."""
    done = run("compare", *files)
    assert done.returncode == 2
    assert done.stderr.startswith("usage: kitbuilder")
