"""What the first word picks: a command, the app, or neither."""

import tomllib
from pathlib import Path

import pytest

import kitbuilder
from kitbuilder.commands import NAMES
from tests.commands.run import ROOT, run, run_process


def test_the_version_is_that_of_the_package() -> None:
    """As pyproject.toml has it."""
    done = run_process("--version")
    declared = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["version"]
    assert (done.returncode, done.stdout) == (0, f"kitbuilder {declared}\n")
    assert kitbuilder.__version__ == declared


@pytest.mark.parametrize("words", [["nowhere.toml"], ["no-such-folder"]])
def test_opening_what_is_not_there(words: list[str], tmp_path: Path) -> None:
    """2, and a sentence, before any screen is drawn."""
    done = run_process(*words, cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"kitbuilder: {words[0]}: there is no such file or folder. Check the name.\n"


@pytest.mark.parametrize("words", [["--help"], *([command, "--help"] for command in NAMES)])
def test_help_names_the_way(words: list[str]) -> None:
    """On the standard output, with 0."""
    done = run(*words)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"usage: {' '.join(['kitbuilder', *words[:-1]])}")


def test_help_lists_every_command() -> None:
    """The first page names them all."""
    text = run_process("--help").stdout
    for command in NAMES:
        assert f"kitbuilder {command}" in text
