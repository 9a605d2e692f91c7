"""kitbuilder gear: the items owned, where each is used, what is due, and what kits need more."""

import json
import shutil
from pathlib import Path

import jsonschema
import pytest

from kitbuilder.report.gear import SHAPE
from kitbuilder.report.shapes import answer_schema
from tests.commands.run import CONFIGS, DIVER, run

GEAR = str(CONFIGS / "gear.toml")
TOP = 'format = 1\nholds = "gear"\nname = "mine"\n'
KIT = 'format = 1\nname = "kit"\nlayout = "single"\ngear = "gear.toml"\n'
HOSE = """
[[hose]]
tag = "B75"
body = "rubber"
length = "75 cm"
from_end = "LP 3/8"
to_end = "second stage 9/16"
made = "2020-03"
"""


def said(path: Path, *words: str) -> tuple[int, str, str]:
    done = run("gear", str(path), *words)
    assert "Traceback" not in done.stderr
    return done.returncode, done.stdout, done.stderr


def write(folder: Path, text: str, name: str = "gear.toml") -> Path:
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


def test_what_is_due_depends_on_the_day(tmp_path: Path) -> None:
    """Five years after March 2020 by common practice: due on 1 March 2025."""
    path = write(tmp_path, TOP + HOSE)
    assert "due since 1 March 2025" in said(path, "--day", "2025-03-02")[1]
    assert said(path, "--day", "2025-03-02")[0] == 1
    code, text, _ = said(path, "--day", "2024-06-01")
    assert code == 0
    assert "due since" not in text


def test_a_date_after_the_day_is_a_slip(tmp_path: Path) -> None:
    code, text, _ = said(write(tmp_path, TOP + HOSE), "--day", "2019-01-01")
    assert code == 1
    assert "future" in text


@pytest.mark.parametrize("day", ["tomorrow", "2027-13-01", "31.12.2027", ""])
def test_a_day_that_is_none(day: str) -> None:
    done = run("gear", GEAR, "--day", day)
    assert (done.returncode, done.stdout) == (2, "")
    assert "--day" in done.stderr
    assert done.stderr.endswith("Write a year, a month or a day: 2024, 2024-05, 2027-05-14.\n")


def test_an_empty_gear_file(tmp_path: Path) -> None:
    code, text, errors = said(write(tmp_path, TOP), "--day", "2027-01-15")
    assert (code, errors) == (0, "")
    assert "mine" in text


def test_a_tag_twice_is_named_with_both_lines(tmp_path: Path) -> None:
    code, text, errors = said(write(tmp_path, TOP + HOSE + HOSE))
    assert (code, text) == (2, "")
    assert 'found "B75" a second time' in errors


def test_an_item_in_two_places_of_a_kit_and_a_tag_that_is_nowhere(tmp_path: Path) -> None:
    write(tmp_path, TOP + HOSE)
    hose = '\n[[hose]]\ntag = "{}"\nrole = "primary"\nbody = "rubber"\nlength = "75 cm"\nowned = "{}"\n'
    kit = write(
        tmp_path, KIT + hose.format("one", "B75") + hose.format("two", "B75") + hose.format("three", "gone"), "kit.toml"
    )
    text = run("check", str(kit)).stdout
    assert "owned twice" in text
    assert "owned nowhere" in text
    assert "Traceback" not in text


def test_items_kept_in_each_other_do_not_go_round_for_ever(tmp_path: Path) -> None:
    box = '\n[[other]]\ntag = "{}"\nkept_in = "{}"\n'
    code, text, _ = said(write(tmp_path, TOP + box.format("a", "b") + box.format("b", "a") + box.format("c", "c")))
    assert code == 1
    assert "itself" in text


def test_a_kit_that_cannot_be_read_is_named_and_the_others_go_on(tmp_path: Path) -> None:
    write(tmp_path, TOP + HOSE)
    write(tmp_path, KIT, "kit.toml")
    write(tmp_path, KIT + '\n[[hose]]\ntag = "half"\n', "half.toml")
    code, text, errors = said(tmp_path / "gear.toml")
    assert code == 2
    assert "half.toml:" in errors
    assert "kit.toml" in text


def test_another_kind_of_file_is_named() -> None:
    done = run("gear", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "this file holds a diver, not gear" in done.stderr


def test_json_tells_uses_dues_and_needs(tmp_path: Path) -> None:
    for path in CONFIGS.glob("*.toml"):
        shutil.copy(path, tmp_path / path.name)
    done = run("gear", str(tmp_path / "gear.toml"), "--day", "2027-01-15", "--json")
    assert done.stdout.isascii()
    items = {item["tag"]: item for item in json.loads(done.stdout)["result"]["items"]}
    assert {use["file"] for use in items["long 210"]["used"]} == {"sidemount.toml", "twinset.toml"}


@pytest.mark.parametrize("path", sorted(CONFIGS.glob("*.toml")), ids=lambda path: path.stem)
def test_json_of_every_file_keeps_to_the_schema_in_both_units(path: Path) -> None:
    """Files that hold no gear have no result."""
    words = ("gear", str(path), "--day", "2027-05-14", "--json")
    done = run(*words)
    said = json.loads(done.stdout)
    jsonschema.validate(said, answer_schema("gear", SHAPE))
    assert (said["result"] is None, done.stderr) == (done.returncode == 2, "")
    assert run(*words, "--units", "imperial").stdout == done.stdout


def test_json_of_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    """The problem stands in the answer: where it is, what was found, what is accepted."""
    path = write(tmp_path, TOP + HOSE.replace('"75 cm"', '"75 kg"'))
    done = run("gear", str(path), "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, done.stderr, said["result"], said["files"]) == (2, "", None, [])
    [problem] = said["problems"]
    assert (problem["file"], problem["line"]) == (str(path), 8)
    assert "length" in problem["place"]
    assert "75 kg" in problem["found"]
    assert "cm" in problem["accepted"]


def test_json_of_a_day_that_is_none() -> None:
    done = run("gear", GEAR, "--day", "tomorrow", "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, done.stderr, said["result"]) == (2, "", None)
    assert "--day" in said["problems"][0]["message"]


def test_json_names_a_kit_that_cannot_be_read(tmp_path: Path) -> None:
    """With exit code 2, as in the text; what is known of the others is there."""
    write(tmp_path, TOP + HOSE)
    write(tmp_path, KIT, "kit.toml")
    write(tmp_path, KIT + '\n[[hose]]\ntag = "half"\n', "half.toml")
    done = run("gear", str(tmp_path / "gear.toml"), "--json")
    said = json.loads(done.stdout)
    assert (done.returncode, done.stderr) == (2, "")
    assert {problem["file"] for problem in said["problems"]} == {"half.toml"}
    assert [kit["file"] for kit in said["result"]["kits"]] == ["kit.toml"]


@pytest.mark.parametrize("columns", [60, 80, 100])
def test_the_text_keeps_within_the_terminal(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    done = run("gear", GEAR, "--day", "2027-05-14")
    assert max(map(len, done.stdout.splitlines())) <= columns
    assert "never certifies" in done.stdout
