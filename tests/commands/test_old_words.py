"""What commands say about files that still use an old word, and about a command that has another name now."""

import json
from pathlib import Path

import pytest

from tests.commands.run import run

KIT = 'format = 1\nname = "kit"\nlayout = "single"\nlocker = "cellar.toml"\n'
GEAR = 'format = 1\nholds = "locker"\nname = "mine"\n'


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "kit.toml").write_text(KIT, encoding="utf-8")
    (tmp_path / "cellar.toml").write_text(GEAR, encoding="utf-8")
    return tmp_path


def test_check_names_the_line_and_both_words(folder: Path) -> None:
    """A notice: the exit code stays 0."""
    done = run("check", "kit.toml", cwd=folder)
    assert done.returncode == 0
    text = " ".join(done.stdout.split())
    assert "NOTICE" in text
    assert "old word (line 4)" in text
    assert "The file says `locker`, the old word for `gear`." in text
    assert "Write `gear` instead." in text


def test_check_names_it_for_programs(folder: Path) -> None:
    [checked] = json.loads(run("check", "--json", "kit.toml", cwd=folder).stdout)["result"]["files"]
    [found] = [finding for finding in checked["findings"] if finding["rule"] == "old word"]
    assert (found["signal"], found["key"], found["line"]) == ("notice", "gear", 4)


def test_gear_names_the_line_and_both_words(folder: Path) -> None:
    done = run("gear", "cellar.toml", cwd=folder)
    assert done.returncode == 0
    text = " ".join(done.stdout.split())
    assert "old word (line 2)" in text
    assert 'The file says `holds = "locker"`, the old word for `holds = "gear"`.' in text
    assert 'Write `holds = "gear"` instead.' in text
    assert "kit.toml: nothing" in text


def test_check_of_the_gear_file_says_the_same(folder: Path) -> None:
    done = run("check", "cellar.toml", cwd=folder)
    assert done.returncode == 0
    assert "old word (line 2)" in done.stdout
    [checked] = json.loads(run("check", "--json", "cellar.toml", cwd=folder).stdout)["result"]["files"]
    assert [(found["rule"], found["line"]) for found in checked["findings"]] == [("old word", 2)]


def test_gear_names_it_for_programs(folder: Path) -> None:
    said = json.loads(run("gear", "--json", "cellar.toml", cwd=folder).stdout)["result"]
    assert said["holds"] == "gear"
    [found] = said["findings"]
    assert (found["signal"], found["rule"], found["line"]) == ("notice", "old word", 2)


def test_files_that_say_gear_have_no_such_notice(folder: Path) -> None:
    for name in ("kit.toml", "cellar.toml"):
        path = folder / name
        path.write_text(path.read_text(encoding="utf-8").replace("locker", "gear"), encoding="utf-8")
    assert "old word" not in run("check", "kit.toml", cwd=folder).stdout
    assert "old word" not in run("gear", "cellar.toml", cwd=folder).stdout


@pytest.mark.parametrize("more", [(), ("cellar.toml",), ("cellar.toml", "--json")], ids=str)
def test_the_old_name_of_the_command_is_answered_with_the_new_one(folder: Path, more: tuple[str, ...]) -> None:
    done = run("locker", *more, cwd=folder)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == 'kitbuilder: locker: there is no such command, file or folder. Did you mean "gear"?\n'
