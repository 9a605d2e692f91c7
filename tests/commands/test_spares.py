"""kitbuilder spares: the spare parts to bring."""

import json

import pytest

from tests.commands.run import CONFIGS, DIVER, GOOD, TWINSET, WRONG, run


@pytest.mark.parametrize("columns", [60, 80])
def test_the_text_fits_the_terminal_and_has_the_cautions(columns: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    done = run("spares", GOOD, TWINSET, "--level", "remote")
    assert (done.returncode, done.stderr) == (0, "")
    assert max(map(len, done.stdout.splitlines())) <= columns
    assert "never certifies" in done.stdout
    assert "from memory" in done.stdout


def test_the_sum_is_that_of_the_list() -> None:
    said = json.loads(run("spares", GOOD, "--json").stdout)["result"]
    assert said["level"] == "day boat"
    assert sum(line["mass_kg"]["value"] for line in said["spares"]) == pytest.approx(said["mass_kg"]["value"], abs=2e-3)
    assert {line["serves"][0] for line in said["spares"]} == {GOOD}


def test_a_pair_has_one_list_whichever_comes_first() -> None:
    lists = [json.loads(run("spares", *pair, "--json").stdout)["result"] for pair in ((GOOD, TWINSET), (TWINSET, GOOD))]
    ours, theirs = ({line["spare"]: line["pieces"] for line in said["spares"]} for said in lists)
    assert ours == theirs


def test_the_same_file_twice_is_one_kit() -> None:
    once, twice = (json.loads(run("spares", *files, "--json").stdout)["result"] for files in ((GOOD,), (GOOD, GOOD)))
    assert once == twice


def test_a_kit_whose_joints_contradict_themselves_is_named() -> None:
    done = run("spares", WRONG)
    assert done.returncode == 0
    assert "contradict themselves" in done.stdout


def test_a_trip_has_the_list_that_its_bags_hold() -> None:
    """With what only rented cylinders call for; the level is that of the trip unless another one is asked for."""
    trip = str(CONFIGS / "trip-reef.toml")
    said, packed = (json.loads(run(name, trip, "--json").stdout)["result"] for name in ("spares", "trip"))
    assert (said["level"], said["kits"]) == ("day boat", ["warm-single.toml"])
    assert said["spares"] == packed["spares"]
    in_bags = [each["mass_kg"]["value"] for bag in packed["bags"] for each in bag["items"] if "spares: " in each["tag"]]
    assert said["mass_kg"]["value"] == pytest.approx(sum(in_bags), abs=0.02), "each is rounded to 0.01 kg or finer"
    alone = json.loads(run("spares", GOOD, "--json").stdout)["result"]
    more = {line["spare"] for line in said["spares"]} - {line["spare"] for line in alone["spares"]}
    assert len(more) == 1
    assert "adapter" in more.pop()
    assert "spares, remote" in run("spares", trip, "--level", "remote").stdout
    both = run("spares", GOOD, trip)
    assert (both.returncode, both.stdout) == (2, "")
    assert "this file holds a trip, not a kit" in both.stderr


def test_another_kind_of_file_is_named() -> None:
    done = run("spares", GOOD, DIVER)
    assert (done.returncode, done.stdout) == (2, "")
    assert "this file holds a diver, not a kit" in done.stderr
