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
    assert re.search(r"(?m)^ +Twinset, coast +Wrong on purpose +difference$", done.stdout)


def test_compare_in_inches() -> None:
    """61 cm are 24.0 in."""
    assert "24.0 in rubber" in run("compare", "--units", "imperial", TWINSET, CAUTIOUS).stdout


def test_compare_as_json() -> None:
    """One object: left, right, their difference, pairs; the same in all units."""
    done = run("compare", "--json", GOOD, CAUTIOUS)
    assert (done.returncode, done.stderr) == (0, "")
    answer = json.loads(done.stdout)
    found = answer["result"]
    assert set(found) == {"left", "right", "right_less_left", "pairs"}
    assert (found["left"]["file"], found["right"]["name"]) == (GOOD, "Lake single with drysuit")
    assert [(file["file"], file["holds"]) for file in answer["files"]] == [(GOOD, "kit"), (CAUTIOUS, "kit")]
    assert run("compare", "--json", "--units", "imperial", GOOD, CAUTIOUS).stdout == done.stdout


def test_compare_as_json_says_what_is_wrong_with_a_file(tmp_path: Path) -> None:
    """2 and no result: file, line and place, what was found and what is accepted."""
    half = tmp_path / "half.toml"
    half.write_text('format = 1\nname = "half"\nlayout = "singel"\n')
    done = run("compare", "--json", GOOD, str(half))
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    assert answer["result"] is None
    assert [file["file"] for file in answer["files"]] == [GOOD]
    [problem] = answer["problems"]
    assert (problem["file"], problem["line"], problem["place"]) == (str(half), 3, "layout")
    assert problem["found"] == '"singel"'
    assert '"single"' in problem["accepted"]


def test_a_linked_file_that_is_gone_is_in_text_and_json(tmp_path: Path) -> None:
    path = tmp_path / "kit.toml"
    path.write_text(re.sub(r"(?m)^gear.*$", 'gear = "gone.toml"', Path(TWINSET).read_text()))
    says = f"{path}: gone.toml is not in this folder."
    assert says in " ".join(run("compare", str(path), GOOD).stdout.split())
    messages = [
        problem["message"] for problem in json.loads(run("compare", "--json", str(path), GOOD).stdout)["problems"]
    ]
    assert says in messages


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
