"""kitbuilder compare, threads, format and --version."""

import json
import re
import tomllib
from pathlib import Path

import pytest

import kitbuilder
from kitbuilder.cli import COMMANDS
from kitbuilder.kit.diver import CHECK_KINDS
from kitbuilder.kit.locker import LOCKER_KINDS
from kitbuilder.kit.things import KINDS
from tests.commands.run import CAUTIOUS, GOOD, ROOT, TWINSET, WRONG, run, run_process

# --- compare ----------------------------------------------------------------------------------------------------------


def test_compare_prints_two_columns_and_the_cautions() -> None:
    """0, whatever differs and whatever is found."""
    done = run("compare", TWINSET, WRONG)
    assert (done.returncode, done.stderr) == (0, "")
    assert "* differs" in done.stdout
    assert "never certifies" in done.stdout
    assert re.search(r"kit\s+Twinset, coast\s+Wrong on purpose", done.stdout)


def test_compare_in_inches() -> None:
    """61 cm are 24.0 in."""
    assert "24.0 in rubber" in run("compare", "--units", "imperial", TWINSET, CAUTIOUS).stdout


def test_compare_as_json() -> None:
    """One object: left, right, pairs."""
    found = json.loads(run("compare", "--json", GOOD, CAUTIOUS).stdout)
    assert set(found) == {"left", "right", "pairs", "linked_problems"}
    assert (found["left"]["file"], found["right"]["name"]) == (GOOD, "Lake single with drysuit")


def test_compare_names_every_file_it_cannot_read(tmp_path: Path) -> None:
    """2, with a line for each, and nothing on the standard output."""
    missing = [str(tmp_path / name) for name in ("one.toml", "other.toml")]
    done = run("compare", *missing)
    assert (done.returncode, done.stdout) == (2, "")
    assert [line.split(": ")[0] for line in done.stderr.splitlines()] == missing
    assert run("compare", GOOD, missing[0]).returncode == 2


@pytest.mark.parametrize("files", [[], [GOOD], [GOOD, GOOD, GOOD]])
def test_compare_takes_two_files(files: list[str]) -> None:
    """No more, no fewer."""
    done = run("compare", *files)
    assert done.returncode == 2
    assert done.stderr.startswith("usage: kitbuilder")


# --- threads ----------------------------------------------------------------------------------------------------------


def test_threads_names_what_the_caliper_saw() -> None:
    """0 when a thread is allowed."""
    done = run("threads", "--major", "9.5 mm")
    assert (done.returncode, done.stderr) == (0, "")
    assert "3/8-24 UNF: LP port" in done.stdout


def test_threads_reads_inches_and_threads_an_inch() -> None:
    """7/16-20: 0.433 in and 20 to the inch, shown in inches when asked."""
    done = run("threads", "--major", "0.433 in", "--pitch", "20 tpi", "--units", "imperial")
    assert "7/16-20 UNF" in done.stdout
    assert "0.4330 in; limits 0.4281 to 0.4362 in; 0.0032 in inside" in done.stdout


def test_no_thread_is_a_finding() -> None:
    """1, so that a script notices."""
    done = run("threads", "--major", "11.7 mm")
    assert done.returncode == 1
    assert done.stdout.startswith("No known thread is allowed.")


def test_a_better_caliper_decides_differently() -> None:
    """9.5 mm is 0.003 mm too wide for 3/8-24."""
    assert run("threads", "--major", "9.5 mm", "--caliper", "0.001 mm").returncode == 1


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "--major"),
        (["--major", "9.5"], '"9.5" has no unit'),
        (["--major", "9.5 kg"], "is a mass, not a length"),
        (["--major=-9.5 mm"], "above nought"),
        (["--pitch", "0 tpi"], '"0 tpi" is not a'),
    ],
)
def test_a_reading_that_is_none(words: list[str], says: str) -> None:
    """2, and one sentence."""
    done = run("threads", *words)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("kitbuilder: threads: ")
    assert says in done.stderr
    assert len(done.stderr.splitlines()) == 1


# --- format and the rest ----------------------------------------------------------------------------------------------


def test_the_format_is_printed_as_a_page_and_as_a_schema() -> None:
    """Every section of the page on a kind of thing is in the schema of kits, of divers or of lockers."""
    page = run("format").stdout
    kit, diver, locker = (
        json.loads(run("format", "--json-schema", *words).stdout)["properties"] for words in ([], ["diver"], ["locker"])
    )
    tables = set(re.findall(r"^#+ `\[\[(\w+)\]\]`", page, re.MULTILINE))
    assert tables == KINDS.keys() | CHECK_KINDS.keys() | LOCKER_KINDS.keys()
    assert tables & kit.keys() == KINDS.keys()
    assert tables & diver.keys() == CHECK_KINDS.keys()
    assert tables & locker.keys() == LOCKER_KINDS.keys()
    assert run("format", "--json-schema", "kit").stdout == run("format", "--json-schema").stdout
    assert run("format", "--json-schema", "dive").returncode == 2


def test_the_schema_of_stock_files_has_the_keys_of_the_page() -> None:
    """Those of the section on a hose of a stock, the required ones as required."""
    page = run("format").stdout
    section = page[page.index("# The stock file") : page.index("# The locker file")]
    rows = re.findall(r"^\| `(\w+)` \|", section[section.index("## `[[hose]]`") :], re.MULTILINE)
    schema = json.loads(run("format", "--json-schema", "stock").stdout)
    hose = schema["properties"]["hose"]["items"]
    assert {"length", "body", "price"} <= set(rows)
    assert set(rows) == hose["properties"].keys()
    assert set(hose["required"]) == {"body", "length"}
    assert schema["properties"]["holds"]["enum"] == ["stock"]


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


@pytest.mark.parametrize("words", [["--help"], *([command, "--help"] for command in COMMANDS)])
def test_help_names_the_way(words: list[str]) -> None:
    """On the standard output, with 0."""
    done = run(*words)
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.startswith(f"usage: {' '.join(['kitbuilder', *words[:-1]])}")


def test_help_lists_every_command() -> None:
    """The first page names them all."""
    text = run_process("--help").stdout
    for command in COMMANDS:
        assert f"kitbuilder {command}" in text
