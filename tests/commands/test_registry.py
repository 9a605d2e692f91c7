"""What every command has to have, asked of the registry; the README's table is compared with it."""

import json
import re
import shlex
import shutil

import pytest

from kitbuilder.commands import NAMES, all_commands
from kitbuilder.commands.command import Command
from kitbuilder.commands.parser import parser_of
from tests.commands.run import CONFIGS, ROOT, TWINSET, run
from tests.each import each

COMMANDS = tuple(all_commands())


@pytest.fixture
def folder(tmp_path):
    """A folder with a copy of `configs/`, where a reader tries an example."""
    shutil.copytree(CONFIGS, tmp_path / "configs")
    return tmp_path


def example_words(command: Command) -> list[str]:
    """What the example passes to `kitbuilder`."""
    program, *words = shlex.split(command.example.line)
    assert program == "kitbuilder"
    return words


# ---- the record of a command ----


def test_every_file_of_a_command_is_listed():
    files = (ROOT / "kitbuilder" / "commands").glob("*.py")
    written = {path.stem for path in files if "\nCOMMAND = " in path.read_text(encoding="utf-8")}
    assert written == set(NAMES)


@each("command", COMMANDS)
def test_a_command_is_named_as_its_file(command):
    assert command is __import__(f"kitbuilder.commands.{command.name}", fromlist=["COMMAND"]).COMMAND


@each("command", COMMANDS)
def test_the_summary_is_one_line(command):
    """A verb first, short enough for the list, and no full stop: the help page adds it."""
    assert re.fullmatch(r"(print|copy|write) \S.{10,70}[a-z]", command.summary)


@each("command", COMMANDS)
def test_every_exit_code_is_explained(command):
    assert 0 in command.exit_codes
    assert command.example.exit_code in command.exit_codes
    assert list(command.exit_codes) == sorted(command.exit_codes)
    assert all(command.exit_codes.values())


@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("command", COMMANDS, ids=NAMES)
def test_help_shows_summary_example_and_exit_codes(command, width, monkeypatch):
    """In the width of the terminal, no word divided; the example alone keeps its line, so that it can be copied."""
    monkeypatch.setenv("COLUMNS", str(width))
    printed = run(command.name, "--help").stdout
    below_usage = printed.partition("\n\n")[2].splitlines()
    assert all(len(line) <= width for line in below_usage if line.strip() != command.example.line)
    assert f"example:\n  {command.example.line}\n" in printed
    text = " ".join(printed.split())
    assert f"{command.summary[1:]}. {command.details}".rstrip() in text
    for code, meaning in command.exit_codes.items():
        assert f" {code} {meaning}" in text


@each("command", COMMANDS)
def test_help_describes_every_argument(command):
    """In the record and in what is printed."""
    text = " ".join(run(command.name, "--help").stdout.split())
    for action in parser_of(command)._actions:  # a parser has no public list of them
        assert action.help, action.dest
        assert " ".join(action.help.split()) in text


@pytest.mark.parametrize("command", COMMANDS, ids=NAMES)
def test_nothing_follows_an_error(command, tmp_path):
    """Neither cautions nor a page, where not one file can be read or a word is not known."""
    words = [command.name, *("gone.toml" for word in command.arguments.split() if word.isupper())]
    if command.name in ("threads", "demo", "new", "format", "settings"):
        words.append("--no-such-option")
    done = run(*words, cwd=tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr


@pytest.mark.parametrize(("columns", "width"), [("", 80), ("70", 70), ("300", 100), ("20", 60)])
def test_a_text_is_as_wide_as_the_terminal_within_limits(columns, width, monkeypatch):
    """And 80 where there is none: the outputs of a test are files."""
    monkeypatch.setenv("COLUMNS", columns)
    lines = run("check", TWINSET).stdout.splitlines()
    assert width - 10 < max(map(len, lines)) <= width


@each("command", COMMANDS)
def test_a_command_has_a_test_of_its_output(command):
    test = ROOT / "tests" / "commands" / f"test_{command.name}.py"
    assert re.search(rf'\brun\(\s*"{command.name}"', test.read_text(encoding="utf-8"))


# ---- the examples ----


@pytest.mark.parametrize("command", COMMANDS, ids=NAMES)
def test_the_example_runs(command, folder):
    """It is about this command, ends with the exit code that is stated, and complains about nothing."""
    words = example_words(command)
    assert words[0] == command.name
    done = run(*words, cwd=folder)
    assert (done.returncode, done.stderr) == (command.example.exit_code, "")
    assert done.stdout.strip()


@pytest.mark.parametrize("command", COMMANDS, ids=NAMES)
def test_the_example_gives_json(command, folder):
    done = run(*example_words(command), "--json", cwd=folder)
    assert (done.returncode, done.stderr) == (command.example.exit_code, "")
    assert json.loads(done.stdout)


@pytest.mark.parametrize("command", COMMANDS, ids=NAMES)
def test_the_example_obeys_units_or_says_why_not(command, folder):
    words = example_words(command)
    imperial = run(*words, "--units", "imperial", cwd=folder)
    if command.without_units:
        assert command.without_units.endswith(".")
        assert imperial.returncode == 2
    else:
        assert imperial.returncode == command.example.exit_code
        assert imperial.stdout != run(*words, "--units", "metric", cwd=folder).stdout


# ---- the README ----


def row_of(command: Command) -> str:
    """The row of a command in the README's table."""
    usage = f"kitbuilder {command.name} {command.arguments}".rstrip()
    codes = "; ".join(f"{code}: {meaning}" for code, meaning in command.exit_codes.items())
    return f"| `{usage}` | {command.summary} | `{command.example.line}` | {codes} |"


def test_the_readme_has_the_row_of_every_command():
    """In the order of the list. A row that is missing is printed as it has to be written."""
    lines = (ROOT / "README.md").read_text(encoding="utf-8").splitlines()
    rows = [line for line in lines if re.match(r"\| `kitbuilder [a-z]", line)]
    expected = [row_of(command) for command in COMMANDS]
    missing = [row for row in expected if row not in rows]
    assert not missing, "\n".join(["README.md lacks:", *missing])
    assert rows == expected
