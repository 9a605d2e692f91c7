"""kitbuilder fewest: the smallest set of hoses that serves several kits."""

import json
import re
from pathlib import Path

import pytest

from tests.commands.run import CONFIGS, DIVER, TWINSET, run

SINGLE, SIDEMOUNT = str(CONFIGS / "cold-single.toml"), str(CONFIGS / "sidemount.toml")
STOCK = str(CONFIGS / "stock.toml")
THREE = (SINGLE, TWINSET, SIDEMOUNT)


def found(*words: str) -> dict[str, object]:
    done = run("fewest", "--json", *words)
    assert done.returncode in (0, 1), done.stderr
    assert done.stdout.isascii()
    said: dict[str, object] = json.loads(done.stdout)["result"]
    return said


def test_single_twinset_and_sidemount_of_one_diver_are_served() -> None:
    """The gear file has all that the three need, so nothing is without a hose, and nothing fewer is proved to do."""
    said = found(*THREE, "--from", "gear")
    assert said["status"] == "proved"
    assert said["without_hose"] == []
    assert said["runs"] == 16
    served = [assignment for hose in said["hoses"] for assignment in hose["serves"]]
    assert len(served) == 16


def test_the_text_is_made_for_a_terminal() -> None:
    done = run("fewest", *THREE)
    assert (done.returncode, done.stderr) == (0, "")
    assert "Proved: no set has fewer." in done.stdout
    assert "Why each is needed" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 100


def test_any_body_never_needs_more() -> None:
    assert found(*THREE, "--any-body")["count"] <= found(*THREE)["count"]


@pytest.mark.parametrize("order", ["fewest", "lightest", "cheapest"])
def test_every_order_serves_all(order: str) -> None:
    assert found(*THREE, "--order", order)["without_hose"] == []


def test_a_link_that_leads_to_itself_is_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    loop = tmp_path / "loop.toml"
    loop.symlink_to(loop)
    done = run("fewest", TWINSET, str(loop))
    assert done.returncode == 2
    assert f"{loop}: " in done.stderr


def test_the_same_kit_twice_is_refused() -> None:
    done = run("fewest", TWINSET, SINGLE, TWINSET)
    assert (done.returncode, done.stdout) == (2, "")
    assert "twinset.toml is named twice" in done.stderr


def test_a_kit_with_errors_is_named_and_the_others_go_on(tmp_path: Path) -> None:
    (tmp_path / "half.toml").write_text('format = 1\nname = "half"\nlayout = "singel"\n')
    done = run("fewest", TWINSET, str(tmp_path / "half.toml"), SIDEMOUNT)
    assert done.returncode == 2
    assert "half.toml:3" in done.stderr
    assert "Sidemount, sea" in done.stdout


def test_json_has_a_kit_with_errors_among_the_problems(tmp_path: Path) -> None:
    """The others go on as in text; standard error stays empty."""
    half = tmp_path / "half.toml"
    half.write_text('format = 1\nname = "half"\nlayout = "singel"\n')
    done = run("fewest", TWINSET, str(half), "--json")
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    [problem] = answer["problems"]
    assert (problem["file"], problem["line"], problem["place"]) == (str(half), 3, "layout")
    assert problem["found"] == '"singel"'
    assert '"single"' in problem["accepted"]
    assert [file["file"] for file in answer["files"]] == [TWINSET]
    assert [row["file"] for row in answer["result"]["kits"]] == [TWINSET]
    alone = json.loads(run("fewest", str(half), "--json").stdout)
    assert (alone["result"], alone["problems"]) == (None, answer["problems"])


@pytest.mark.parametrize("words", [(TWINSET, TWINSET), (TWINSET, "--time=-1")])
def test_what_is_refused_is_in_json(words: tuple[str, ...]) -> None:
    done = run("fewest", "--json", *words)
    assert (done.returncode, done.stderr) == (2, "")
    answer = json.loads(done.stdout)
    assert answer["result"] is None
    [problem] = answer["problems"]
    assert problem["message"].startswith("fewest: ")


def test_a_linked_file_that_is_gone_is_in_text_and_json(tmp_path: Path) -> None:
    """Once, with the kit that names it; the set is found without it."""
    path = tmp_path / "kit.toml"
    path.write_text(re.sub(r"(?m)^gear.*$", 'gear = "gone.toml"', Path(TWINSET).read_text()))
    says = f"{path}: gone.toml is not in this folder."
    assert says in " ".join(run("fewest", str(path)).stdout.split())
    answer = json.loads(run("fewest", str(path), "--json").stdout)
    assert says in [problem["message"] for problem in answer["problems"]]
    assert answer["result"]["gear"] is None


def test_json_does_not_depend_on_units() -> None:
    words = ("fewest", SINGLE, TWINSET, "--json")
    assert run(*words, "--units", "imperial").stdout == run(*words).stdout


def test_no_kit_at_all_can_be_read() -> None:
    done = run("fewest", DIVER)
    assert (done.returncode, done.stdout) == (2, "")


def test_an_empty_gear_file_has_nothing_for_anybody(tmp_path: Path) -> None:
    (tmp_path / "empty.toml").write_text('format = 1\nholds = "gear"\nname = "empty"\n')
    done = run("fewest", TWINSET, "--from", "gear", "--gear", str(tmp_path / "empty.toml"))
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    said = json.loads(run("fewest", TWINSET, "--from", "gear", "--gear", str(tmp_path / "empty.toml"), "--json").stdout)
    assert len(said["result"]["without_hose"]) == 5


def test_a_stock_that_is_none() -> None:
    done = run("fewest", TWINSET, "--stock", str(CONFIGS / "gone.toml"))
    assert done.returncode == 2
    assert "gone.toml" in done.stderr


def test_only_what_the_stock_has() -> None:
    said = found(*THREE, "--from", "stock", "--stock", STOCK)
    assert said["hoses"]
    assert all(hose["source"] != "owned" for hose in said["hoses"])
    assert said["currency"] == "EUR"


@pytest.mark.parametrize("seconds", ["-1", "1e9", "nan"])
def test_a_time_nobody_waits(seconds: str) -> None:
    done = run("fewest", TWINSET, f"--time={seconds}")
    assert (done.returncode, done.stdout) == (2, "")
    assert "Accepted: from 0 to 3600 seconds" in done.stderr


def test_out_of_time_it_says_so_plainly() -> None:
    """No time at all: nothing is called proved."""
    done = run("fewest", *THREE, "--time", "0")
    assert (done.returncode, done.stderr) == (1, "")
    assert "none was found in the time allowed" in done.stdout
    assert "Proved: no set" not in done.stdout
