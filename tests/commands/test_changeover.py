"""kitbuilder changeover: one kit rebuilt as another, as a checklist."""

import json
import re
import shutil
from pathlib import Path

import jsonschema
import pytest

from kitbuilder.report.changeover import SHAPE
from kitbuilder.report.shapes import answer_schema
from tests.cases.folders import TECHNICAL
from tests.commands.run import CONFIGS, DIVER, TWINSET, WRONG, run

SIDEMOUNT = str(CONFIGS / "sidemount.toml")
SINGLE = str(CONFIGS / "cold-single.toml")


def steps_of(*words: str) -> list[dict[str, object]]:
    done = run("changeover", *words, "--json")
    assert done.returncode in (0, 1), done.stderr
    assert done.stdout.isascii()
    return json.loads(done.stdout)["result"]["steps"]


@pytest.mark.parametrize(("first", "second"), [(TWINSET, SIDEMOUNT), (SIDEMOUNT, SINGLE), (SINGLE, TWINSET)])
def test_a_checklist_to_work_from(first: str, second: str) -> None:
    """Every step has a box and a number; spanners, torque, rings and cautions are there."""
    done = run("changeover", first, second)
    assert done.returncode in (0, 1), done.stderr
    numbers = [int(number) for number in re.findall(r"^  \[ \] +(\d+) ", done.stdout, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    for word in (
        "spanners",
        "O-rings",
        "plugs",
        "Take apart",
        "Put together by hand",
        "With the kit on",
        "N·m",
        "certifies",
    ):
        assert word in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_inch_pounds_for_those_who_turn_them() -> None:
    done = run("changeover", TWINSET, SIDEMOUNT, "--units", "imperial")
    assert "lbf·in" in done.stdout
    assert "N·m" not in done.stdout


def test_json_has_the_same_steps() -> None:
    said = steps_of(TWINSET, SIDEMOUNT)
    assert {step["phase"] for step in said} >= {"depressurise", "take apart", "with the kit on"}
    tight = next(step for step in said if step["verb"] == "make" and step["joint"] == "hose on a gauge")
    assert tight["o_rings"] == ["003", "003"]
    assert tight["torque_nm"] == {"low": 4.5, "high": 7.0}


def test_json_names_the_parts_of_a_step_as_the_files_do() -> None:
    """An adapter has no tag of its own: it goes by its hose, as in the list of parts."""
    done = run("changeover", TWINSET, SIDEMOUNT, "--json")
    said = json.loads(done.stdout)["result"]
    [onto_elbow] = [step for step in said["steps"] if step["text"].startswith('Screw "short hose"')]
    assert onto_elbow["places"] == [
        {"origin": "source", "part": "necklace hose", "slot": "to"},
        {"origin": "store", "part": "elbow", "slot": "hose side"},
    ]
    [elbow] = [part for part in said["parts"] if part["kind"] == "adapter"]
    assert elbow == {
        "kind": "adapter",
        "becomes": "the elbow 90 of short hose",
        "is_now": "elbow",
        "before": None,
        "after": "short hose",
        "what": "from your gear",
        "instead_of": None,
    }


def test_json_is_the_same_for_all_units() -> None:
    """Torques are in newton metres, in sentences as well."""
    metric, imperial = (run("changeover", TWINSET, SIDEMOUNT, "--json", "--units", units) for units in UNITS)
    assert metric.stdout == imperial.stdout
    assert "N\\u00b7m" in metric.stdout


UNITS = ("metric", "imperial")


@pytest.mark.parametrize("broken", ["first", "second"])
def test_json_of_a_file_that_cannot_be_read(tmp_path: Path, broken: str) -> None:
    """No result, and a problem with its place; nothing on standard error."""
    half = tmp_path / "half.toml"
    half.write_text('format = 1\nname = "half"\nlayout = "singel"\n')
    words = (str(half), TWINSET) if broken == "first" else (TWINSET, str(half))
    done = run("changeover", *words, "--json")
    answer = json.loads(done.stdout)
    assert (done.returncode, done.stderr, answer["result"]) == (2, "", None)
    [problem] = answer["problems"]
    assert (problem["file"], problem["line"], problem["place"]) == (str(half), 3, "layout")
    assert "singel" in problem["found"]
    assert "single" in problem["accepted"]


def test_a_link_that_leads_to_itself_is_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    loop = tmp_path / "loop.toml"
    loop.symlink_to(loop)
    done = run("changeover", TWINSET, str(loop))
    assert done.returncode == 2
    assert f"{loop}: " in done.stderr


def test_the_same_kit_twice_is_refused() -> None:
    for other in (TWINSET, str(CONFIGS / ".." / "configs" / "twinset.toml")):
        done = run("changeover", TWINSET, other)
        assert (done.returncode, done.stdout) == (2, "")
        assert "named twice" in done.stderr


def test_a_kit_that_cannot_be_read_is_named(tmp_path: Path) -> None:
    (tmp_path / "half.toml").write_text('format = 1\nname = "half"\nlayout = "singel"\n')
    done = run("changeover", str(tmp_path / "half.toml"), str(tmp_path / "gone.toml"))
    assert (done.returncode, done.stdout) == (2, "")
    assert 'half.toml:3: layout: found "singel"' in done.stderr
    assert "gone.toml" in done.stderr


def test_another_kind_of_file_is_named() -> None:
    done = run("changeover", TWINSET, DIVER)
    assert done.returncode == 2
    assert "this file holds a diver, not a kit" in done.stderr


def test_a_kit_that_could_hurt_is_not_planned_with() -> None:
    done = run("changeover", TWINSET, WRONG)
    assert (done.returncode, done.stderr) == (2, "")
    said = " ".join(done.stdout.split())
    assert said.startswith(f'There is no plan until "{WRONG}" is corrected: - "primary hose": a low-pressure hose')
    assert "Not used: " in said


def test_json_of_a_kit_that_could_hurt_has_the_reasons() -> None:
    """They are the answer: both files could be read."""
    done = run("changeover", TWINSET, WRONG, "--json")
    answer = json.loads(done.stdout)
    jsonschema.validate(answer, answer_schema("changeover", SHAPE))
    assert (done.returncode, done.stderr) == (2, "")
    assert [file["file"] for file in answer["files"]] == [TWINSET, WRONG]
    assert answer["result"]["not_buildable"] == WRONG
    assert any(reason.startswith('"primary hose": a low-pressure hose') for reason in answer["result"]["refused"])
    assert ["bargains.csv" in problem["message"] for problem in answer["problems"]] == [True]


def test_a_gear_file_that_is_none() -> None:
    done = run("changeover", TWINSET, SIDEMOUNT, "--gear", DIVER)
    assert done.returncode == 2
    assert "this file holds a diver, not gear" in done.stderr


def test_with_an_empty_gear_file_all_is_to_get(tmp_path: Path) -> None:
    (tmp_path / "empty.toml").write_text('format = 1\nholds = "gear"\nname = "empty"\n')
    done = run("changeover", SIDEMOUNT, TWINSET, "--gear", str(tmp_path / "empty.toml"))
    assert done.returncode == 1
    assert "Nothing that you own can replace it." in " ".join(done.stdout.split())


def test_what_is_bought_for_rich_gas_is_bought_clean_on_the_step_and_on_the_list(tmp_path: Path) -> None:
    """The list is what goes to the shop: a hose for the 50 % stage that is not clean would be sold from it."""
    folder = Path(shutil.copytree(TECHNICAL, tmp_path / "technical"))
    gear = folder / "cellar.toml"
    before, hose = gear.read_text("utf-8").split('tag = "stage 100"')
    gear.write_text(
        f'{before}tag = "stage 100"{hose.replace("oxygen_clean = true", "oxygen_clean = false", 1)}', "utf-8"
    )
    done = run("changeover", "twin.toml", "twinstage.toml", cwd=folder)
    words = " ".join(done.stdout.split())
    assert words.count("second stage 9/16, clean for oxygen)") == 2
    result = json.loads(run("changeover", "twin.toml", "twinstage.toml", "--json", cwd=folder).stdout)["result"]
    assert [part["what"].endswith(", clean for oxygen") for part in result["to_buy"]] == [True]
