"""Kits of two divers: changeover and fewest hoses say so, and share nothing unless that is asked."""

import json
import shutil
from pathlib import Path

import pytest

from tests.cases.folders import TECHNICAL
from tests.commands.run import run


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The case folder, in which the sidemount kit belongs to Anna, with a diver file and a gear file of her own."""
    copy = Path(shutil.copytree(TECHNICAL, tmp_path / "two"))
    for old, new, name in (("me.toml", "anna.toml", "Anna"), ("cellar.toml", "loft.toml", "her loft")):
        text = (copy / old).read_text("utf-8")
        given = next(line for line in text.splitlines() if line.startswith("name"))
        (copy / new).write_text(text.replace(given, f'name = "{name}"'), "utf-8")
    side = (copy / "side.toml").read_text("utf-8")
    side = side.replace('"me.toml"', '"anna.toml"').replace('"cellar.toml"', '"loft.toml"')
    (copy / "side.toml").write_text(side, "utf-8")
    return copy


def result(folder: Path, *words: str) -> dict[str, object]:
    done = run(*words, "--json", cwd=folder)
    assert done.returncode in (0, 1), done.stderr
    found: dict[str, object] = json.loads(done.stdout)["result"]
    return found


def test_the_changeover_says_whose_the_kits_are_and_moves_nothing(folder: Path) -> None:
    done = run("changeover", "twin.toml", "side.toml", cwd=folder)
    words = " ".join(done.stdout.split())
    assert 'These kits belong to 2 divers, "me" and "Anna". Nothing is taken from the first kit' in words
    found = result(folder, "changeover", "twin.toml", "side.toml")
    assert (found["divers"], found["moves_parts"]) == (["me", "Anna"], False)
    assert {part["what"] for part in found["parts"]} == {"from your gear"}  # type: ignore[attr-defined, index]


def test_the_changeover_moves_parts_between_divers_when_asked(folder: Path) -> None:
    found = result(folder, "changeover", "twin.toml", "side.toml", "--both-divers")
    assert (found["divers"], found["moves_parts"]) == (["me", "Anna"], True)
    assert found["joints_undone"]


def test_one_diver_needs_no_option(folder: Path) -> None:
    found = result(folder, "changeover", "twin.toml", "fewer.toml")
    assert (found["divers"], found["moves_parts"]) == ([], True)


def test_fewest_hoses_shares_nothing_between_divers(folder: Path) -> None:
    done = run("fewest", "twin.toml", "side.toml", cwd=folder)
    assert done.returncode == 2
    assert (
        'these kits belong to 2 divers: "me", "Anna". Hoses of one diver are not available to another.' in done.stderr
    )
    assert "--both-divers" in done.stderr
    assert "Traceback" not in done.stderr


def test_fewest_hoses_shares_them_when_asked(folder: Path) -> None:
    done = run("fewest", "twin.toml", "side.toml", "--both-divers", cwd=folder)
    assert done.returncode in (0, 1)
    assert 'These kits belong to 2 divers, "me" and "Anna".' in " ".join(done.stdout.split())
    assert result(folder, "fewest", "twin.toml", "side.toml", "--both-divers")["divers"] == ["me", "Anna"]


def test_divers_who_share_a_gear_file_share_its_hoses(folder: Path) -> None:
    text = (folder / "side.toml").read_text("utf-8")
    (folder / "side.toml").write_text(text.replace('"loft.toml"', '"cellar.toml"'), "utf-8")
    assert run("fewest", "twin.toml", "side.toml", cwd=folder).returncode in (0, 1)
    words = " ".join(run("changeover", "twin.toml", "side.toml", cwd=folder).stdout.split())
    assert "They share one gear file, so parts of the first kit are used for the second." in words


def test_a_day_that_is_none_is_refused(folder: Path) -> None:
    done = run("changeover", "twin.toml", "fewer.toml", "--day", "soon", cwd=folder)
    assert done.returncode == 2
    assert "--day" in done.stderr


def test_the_day_decides_what_is_due(folder: Path) -> None:
    """By hand: the left post was serviced in June 2025 and is due in June 2026; its cylinders were long before."""

    def says(day: str) -> str:
        return run("changeover", "twin.toml", "fewer.toml", "--day", day, cwd=folder).stdout

    assert 'take care of "left post"' not in says("2026-05-31")
    assert 'take care of "left post"' in says("2026-06-01")
