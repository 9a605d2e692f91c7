"""kitbuilder compare: two to four kits side by side."""

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


def test_what_is_the_same_is_counted_or_shown() -> None:
    """The mask is the same in both; with --all it has a row."""
    assert "1 row is the same: mask." in run("compare", GOOD, TWINSET).stdout
    everything = run("compare", "--all", GOOD, TWINSET).stdout
    assert "the same" not in everything
    assert re.search(r"(?m)^ +mask +mask +mask$", everything)


def test_four_kits_and_one_that_cannot_be_read_among_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each kit has a row under each function, also at 80 columns; a file without an answer stops all of it."""
    monkeypatch.setenv("COLUMNS", "80")
    done = run("compare", GOOD, CAUTIOUS, TWINSET, WRONG)
    assert (done.returncode, done.stderr) == (0, "")
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert done.stdout.count("\n     Wrong on purpose  ") >= 8
    half = tmp_path / "half.toml"
    half.write_text('format = 1\nname = "half"\nlayout = "singel"\n')
    broken = run("compare", GOOD, str(half), TWINSET, WRONG)
    assert (broken.returncode, broken.stdout) == (2, "")
    assert broken.stderr.startswith(f"{half}:3: layout")


def test_two_versions_of_one_file(tmp_path: Path) -> None:
    """Another length of the long hose: the key, the mass that follows and the finding that is new."""
    new = tmp_path / "new.toml"
    new.write_text(Path(TWINSET).read_text("utf-8").replace('"210 cm"', '"150 cm"'), "utf-8")
    printed = run("compare", TWINSET, str(new)).stdout
    assert re.search(r"long hose +length +210 cm +150 cm", printed)
    assert "Findings that are new" in printed
    assert "the two files say the same" in run("compare", TWINSET, TWINSET).stdout


def test_compare_as_json() -> None:
    """One object: the kits, how the others differ from the first, and rows; the same in all units."""
    done = run("compare", "--json", GOOD, CAUTIOUS)
    assert (done.returncode, done.stderr) == (0, "")
    answer = json.loads(done.stdout)
    found = answer["result"]
    assert set(found) == {"kits", "less_first", "rows", "findings_not_in_all", "changes"}
    assert [(kit["file"], kit["name"]) for kit in found["kits"]] == [
        (GOOD, "Reef single, warm water"),
        (CAUTIOUS, "Lake single with drysuit"),
    ]
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


@pytest.mark.parametrize("files", [[], [GOOD], [GOOD] * 5])
def test_compare_takes_two_to_four_files(files: list[str]) -> None:
    """No more, no fewer."""
    done = run("compare", *files)
    assert done.returncode == 2
    assert done.stderr.startswith("usage: kitbuilder")
