"""kitbuilder swaps: what is lighter, and what it does to lead, fit and findings."""

import json
import shutil
import tomllib
from pathlib import Path

import jsonschema
import pytest

from kitbuilder.report.shapes import answer_schema
from kitbuilder.report.swaps_data import SHAPE
from tests.commands.run import CAUTIOUS, CONFIGS, DIVER, GOOD, run

HEAVY = 'format = 1\nname = "bare"\nlayout = "single"\n\n[[other]]\ntag = "hook"\npreset = "reef hook"\n'


def result(*words: str) -> dict:
    return json.loads(run("swaps", *words, "--json").stdout)["result"]


@pytest.mark.parametrize("columns", [60, 80])
def test_the_text_fits_the_terminal_and_has_the_cautions(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    done = run("swaps", GOOD)
    assert (done.returncode, done.stderr) == (0, "")
    assert max(map(len, done.stdout.splitlines())) <= columns
    assert "never certifies" in done.stdout
    assert "Swap hoses last." in " ".join(done.stdout.split())


def test_the_sets_are_made_of_swaps_of_the_answer() -> None:
    """The masses add up; the edits of a set are those of its swaps."""
    said = result(GOOD)
    for found in said["sets"]:
        swaps = [said["swaps"][number] for number in found["swaps"]]
        assert found["saved_kg"]["value"] == pytest.approx(sum(swap["saved_kg"]["value"] for swap in swaps), abs=0.01)
        assert found["edits"] == [edit for swap in swaps for edit in swap["edits"]]
        assert found["without_price"] == sum(swap["price"] is None for swap in swaps)


def test_the_edits_are_keys_and_values_as_a_file_has_them() -> None:
    [fins] = [swap for swap in result(CAUTIOUS)["swaps"] if swap["instead"] == "fins, light travel"]
    assert fins["edits"] == [{"item": "fins", "key": "preset", "value": "fins, light travel"}]


def test_a_kit_without_anything_lighter_says_so(tmp_path: Path) -> None:
    (tmp_path / "kit.toml").write_text(HEAVY, encoding="utf-8")
    done = run("swaps", "kit.toml", cwd=tmp_path)
    assert (done.returncode, done.stderr) == (1, "")
    assert "Nothing is lighter" in done.stdout


def test_a_gear_file_of_another_folder_is_refused(tmp_path: Path) -> None:
    """The kit could not name it."""
    shutil.copy(CONFIGS / "gear.toml", tmp_path)
    done = run("swaps", GOOD, "--gear", str(tmp_path / "gear.toml"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "is not in the folder of" in done.stderr


def test_a_trip_has_the_swaps_of_each_kit_without_what_is_rented() -> None:
    """The lead of the wreck trip is rented, so that its kit has less to save than alone."""
    trip, kit = CONFIGS / "trip-wreck.toml", str(CONFIGS / "twinset.toml")
    done = run("swaps", str(trip), "--json")
    answer = json.loads(done.stdout)
    jsonschema.validate(answer, answer_schema("swaps", SHAPE))
    [found] = answer["result"]["kits"]
    assert (done.returncode, done.stderr, found["file"]) == (0, "", "twinset.toml")
    rented = {entry["item"] for entry in tomllib.loads(trip.read_text("utf-8"))["rent"] if "item" in entry}
    assert rented
    tags = [set(swap["tags"]) for swap in found["swaps"]]
    assert tags
    assert not [each for each in tags if each & rented]
    assert found["bag_kg"]["value"] < result(kit)["bag_kg"]["value"]
    text = run("swaps", str(trip)).stdout
    assert "what is rented or left at home saves nothing" in text
    assert text.count("never certifies") == 1


def test_a_trip_takes_no_gear_file() -> None:
    done = run("swaps", str(CONFIGS / "trip-reef.toml"), "--gear", str(CONFIGS / "gear.toml"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "with a trip. Each kit of a trip takes items from the gear file that it names." in done.stderr


def test_a_trip_without_a_kit_that_can_be_read_says_so(tmp_path: Path) -> None:
    (tmp_path / "trip.toml").write_text('format = 1\nholds = "trip"\nname = "x"\nkits = ["gone.toml"]\n', "utf-8")
    done = run("swaps", "trip.toml", cwd=tmp_path)
    assert done.returncode == 2
    assert "gone.toml" in done.stdout


def test_another_kind_of_file_is_named() -> None:
    done = run("swaps", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "holds" in done.stderr
