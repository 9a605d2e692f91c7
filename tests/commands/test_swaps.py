"""kitbuilder swaps: what is lighter, and what it does to lead, fit and findings."""

import json
import shutil
from pathlib import Path

import pytest

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


def test_another_kind_of_file_is_named() -> None:
    done = run("swaps", DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "holds" in done.stderr
