"""kitbuilder changeover: one kit rebuilt as another, as a checklist."""

import json
import re
from pathlib import Path

import pytest

from tests.commands.run import CONFIGS, DIVER, TWINSET, WRONG, run

SIDEMOUNT = str(CONFIGS / "sidemount.toml")
SINGLE = str(CONFIGS / "cold-single.toml")


def steps_of(*words: str) -> list[dict[str, object]]:
    done = run("changeover", *words, "--json")
    assert done.returncode in (0, 1), done.stderr
    assert done.stdout.isascii()
    return json.loads(done.stdout)["steps"]


@pytest.mark.parametrize(("first", "second"), [(TWINSET, SIDEMOUNT), (SIDEMOUNT, SINGLE), (SINGLE, TWINSET)])
def test_a_checklist_to_work_from(first: str, second: str) -> None:
    """Every step has a box and a number; spanners, torque, rings and cautions are there."""
    done = run("changeover", first, second)
    assert done.returncode in (0, 1), done.stderr
    numbers = [int(number) for number in re.findall(r"^  \[ \] +(\d+) ", done.stdout, re.MULTILINE)]
    assert numbers == list(range(1, len(numbers) + 1))
    for word in ("spanners", "O-rings", "plugs", "take apart", "put together by hand", "worn", "N·m", "certifies"):
        assert word in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_inch_pounds_for_those_who_turn_them() -> None:
    done = run("changeover", TWINSET, SIDEMOUNT, "--units", "imperial")
    assert "lbf·in" in done.stdout
    assert "N·m" not in done.stdout


def test_json_has_the_same_steps() -> None:
    said = steps_of(TWINSET, SIDEMOUNT)
    assert {step["phase"] for step in said} >= {"make safe", "take apart", "worn"}
    tight = next(step for step in said if step["verb"] == "make" and step["joint"] == "hose on a gauge")
    assert tight["o_rings"] == ["003", "003"]
    assert tight["torque_nm"] == [4.5, 7.0]


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
    assert (done.returncode, done.stdout) == (2, "")
    assert "wrong-on-purpose.toml: primary hose: a low-pressure hose" in done.stderr
    assert "not planned with until this is put right" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_gear_file_that_is_none() -> None:
    done = run("changeover", TWINSET, SIDEMOUNT, "--gear", DIVER)
    assert done.returncode == 2
    assert "this file holds a diver, not gear" in done.stderr


def test_with_an_empty_gear_file_all_is_to_get(tmp_path: Path) -> None:
    (tmp_path / "empty.toml").write_text('format = 1\nholds = "gear"\nname = "empty"\n')
    done = run("changeover", SIDEMOUNT, TWINSET, "--gear", str(tmp_path / "empty.toml"))
    assert done.returncode == 1
    assert "nothing at hand does" in done.stdout
