"""What the first word picks: a command, the app, or neither."""

import tomllib
from pathlib import Path

import pytest

import kitbuilder
from kitbuilder.commands import NAMES, all_commands
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


def test_a_name_that_is_nearly_there_is_hinted_at(tmp_path: Path) -> None:
    (tmp_path / "reef-kits").mkdir()
    done = run_process("reef-kist", cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr == (
        'kitbuilder: reef-kist: there is no such file or folder. Check the name. Did you mean "reef-kits"?\n'
    )


@pytest.mark.parametrize("words", [["--help"], *([command, "--help"] for command in NAMES)])
def test_help_names_the_way(words: list[str]) -> None:
    """On the standard output, with 0."""
    done = run(*words)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"usage: {' '.join(['kitbuilder', *words[:-1]])}")


@pytest.mark.parametrize("width", [60, 80, 100])
def test_help_lists_every_command(width, monkeypatch) -> None:
    """The first page names them all with what they do, in the width of the terminal."""
    monkeypatch.setenv("COLUMNS", str(width))
    printed = run("--help").stdout
    assert all(len(line) <= width for line in printed.splitlines())
    text = " ".join(printed.split())
    for command in all_commands():
        assert f"kitbuilder {command.name} {command.arguments}".rstrip() + f" {command.summary}" in text


# ---- a word that is neither a command nor a path ----


@pytest.mark.parametrize(
    ("word", "meant"), [("chek", "check"), ("CHECK", "check"), ("formats", "format"), ("ballest", "ballast")]
)
@pytest.mark.parametrize("more", [(), ("twinset.toml",), ("--json",)], ids=str)
def test_a_slip_is_answered_with_the_command_that_was_meant(word, meant, more):
    """What follows does not matter: it belongs to the command."""
    done = run(word, *more)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == (f'kitbuilder: {word}: there is no such command, file or folder. Did you mean "{meant}"?\n')


@pytest.mark.parametrize("word", ["./chek", "gear.toml", "kits/check"])
def test_a_path_is_no_slip(word, tmp_path):
    done = run(word, cwd=tmp_path)
    assert done.returncode == 2
    assert done.stderr == f"kitbuilder: {word}: there is no such file or folder. Check the name.\n"


def test_a_folder_that_is_there_is_opened_whatever_it_is_called(tmp_path):
    """The tests have no terminal, which is what the app complains about."""
    (tmp_path / "chek").mkdir()
    done = run("chek", cwd=tmp_path)
    assert done.returncode == 2
    assert "has to be started in a terminal" in done.stderr


def test_a_name_that_is_too_long_for_a_file_is_complained_about():
    """The system refuses to look for it."""
    done = run("a" * 300)
    assert done.returncode == 2
    assert done.stderr.endswith(": there is no such file or folder. Check the name.\n")
