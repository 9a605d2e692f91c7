"""kitbuilder losses: what still works when something fails."""

import json
from pathlib import Path

import jsonschema
import pytest

from kitbuilder.report.losses import SHAPE
from kitbuilder.report.shapes import answer_schema
from tests.commands.run import CONFIGS, DIVER, TWINSET, WRONG, run


def test_what_each_valve_of_a_twinset_takes() -> None:
    """From the file: the right post feeds the long hose and the wing, the left one the rest."""
    said = json.loads(run("losses", TWINSET, "--json").stdout)["result"]
    right = next(row for row in said["losses"] if (row["tag"], row["cause"]) == ("right post", "valve closed"))
    assert right["functions"]["breathing"] == {"works": ["necklace"], "lost": ["primary"], "not_breathable": []}
    assert right["functions"]["inflation"] == {"works": [], "lost": ["wing"], "not_breathable": []}
    assert right["functions"]["drysuit"] == {"works": ["drysuit"], "lost": [], "not_breathable": []}
    assert right["functions"]["gauge"] == {"works": ["gauge"], "lost": [], "not_breathable": []}


@pytest.mark.parametrize("columns", [60, 80])
def test_the_text_fits_the_terminal_and_has_the_cautions(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    done = run("losses", TWINSET)
    assert (done.returncode, done.stderr) == (0, "")
    assert max(map(len, done.stdout.splitlines())) <= columns
    assert "never certifies" in done.stdout
    assert "estimate" in done.stdout.lower()


def test_the_kit_wrong_on_purpose_gives_no_traceback() -> None:
    done = run("losses", WRONG)
    assert (done.returncode, done.stderr) == (0, "")


def test_another_kind_of_file_is_named() -> None:
    done = run("losses", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "this file holds a diver, not a kit" in done.stderr


@pytest.mark.parametrize("path", sorted(CONFIGS.glob("*.toml")), ids=lambda path: path.stem)
def test_json_of_every_file_keeps_to_the_schema_in_both_units(path: Path) -> None:
    """Files that are no kits have no result."""
    done = run("losses", str(path), "--json")
    said = json.loads(done.stdout)
    jsonschema.validate(said, answer_schema("losses", SHAPE))
    assert (done.returncode, done.stderr) == (2 if said["result"] is None else 0, "")
    assert run("losses", str(path), "--json", "--units", "imperial").stdout == done.stdout


def test_json_of_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    """The problem stands in the answer: where it is, what was found, what is accepted."""
    path = tmp_path / "kit.toml"
    path.write_text('format = 1\nname = "kit"\nlayout = "triple"\n', encoding="utf-8")
    done = run("losses", str(path), "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, done.stderr, said["result"], said["files"]) == (2, "", None, [])
    [problem] = said["problems"]
    assert (problem["file"], problem["line"]) == (str(path), 3)
    assert "layout" in problem["place"]
    assert "triple" in problem["found"]
    assert "sidemount" in problem["accepted"]


def test_json_names_linked_files_that_cannot_be_used(tmp_path: Path) -> None:
    """The kit is worked out all the same."""
    path = tmp_path / "kit.toml"
    path.write_text('format = 1\nname = "kit"\nlayout = "single"\ngear = "gone.toml"\n', encoding="utf-8")
    done = run("losses", str(path), "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, said["result"]["losses"]) == (0, [])
    assert "gone.toml" in said["problems"][0]["message"]
