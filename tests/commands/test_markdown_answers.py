"""Answers as Markdown: every command gives one, with the words of its text, in the reader's units."""

import shutil
from datetime import date

import pytest

from kitbuilder.commands import all_commands
from tests.commands.run import CAUTIOUS, CONFIGS, GOOD, run
from tests.commands.test_registry import example_words
from tests.markdown_reader import structure, words

COMMANDS = tuple(all_commands())
PARTS = {"heading", "paragraph", "bullet_list", "list_item", "table", "thead", "tbody", "tr", "th", "td", "strong"}


def below_head(markdown: str) -> str:
    """A document without its title and the line below that, with what the answer is and the day."""
    title, below, *blocks = markdown.split("\n\n")
    assert title.startswith("# ")
    assert below.endswith("29 November 2026")
    return "\n\n".join(blocks)


@pytest.fixture(autouse=True)
def _day(monkeypatch):
    monkeypatch.setattr("kitbuilder.clock.today", lambda: date(2026, 11, 29))


def shown(text: str) -> set[str]:
    """The words of an answer, without what a list has before its items and behind its labels."""
    return {word.removesuffix(":") for word in text.split()} - {"-"}


@pytest.mark.parametrize("units", ["metric", "imperial"])
@pytest.mark.parametrize(
    "command", [command for command in COMMANDS if not command.without_units], ids=lambda c: c.name
)
def test_the_example_gives_markdown_with_the_words_of_the_text(command, units, tmp_path):
    """In two copies of the folder: a command that makes a file makes it once."""
    asked = [*example_words(command), "--units", units]
    for copy in ("one", "other"):
        shutil.copytree(CONFIGS, tmp_path / copy / "configs")
    done = run(*asked, "--form", "markdown", cwd=tmp_path / "one")
    assert (done.returncode, done.stderr) == (command.example.exit_code, "")
    found = {part.split()[0] for part in structure(done.stdout)}
    assert found <= {"text", *(f"{part}_{end}" for part in PARTS for end in ("open", "close"))}
    assert shown(run(*asked, cwd=tmp_path / "other").stdout) == shown(words(below_head(done.stdout)))


def test_every_example_is_tried():
    """Those without units stand in their own tests."""
    without_units = {command.name for command in COMMANDS if command.without_units}
    assert without_units == {"format", "demo", "settings", "completion"}


def test_complaints_go_to_standard_error_as_those_of_the_text_do():
    """A page that people read has no place for them; what could be read is printed all the same."""
    asked = ("check", GOOD, "missing.toml", CAUTIOUS)
    markdown, text = run(*asked, "--form", "markdown"), run(*asked)
    assert markdown.stderr == text.stderr
    assert markdown.stderr.startswith("missing.toml: ")
    assert markdown.returncode == text.returncode == 2
    assert shown(words(below_head(markdown.stdout))) == shown(text.stdout)
    nothing = run("fit", "missing.toml", "--form", "markdown")
    assert (nothing.returncode, nothing.stdout) == (2, "")
    assert nothing.stderr.startswith("missing.toml: ")


def test_a_linked_file_that_cannot_be_used_is_reported_on_the_page_once(tmp_path):
    kit = (CONFIGS / "twinset.toml").read_text(encoding="utf-8")
    (tmp_path / "kit.toml").write_text(kit, encoding="utf-8")
    done = run("losses", "kit.toml", "--form", "markdown", cwd=tmp_path)
    text = run("losses", "kit.toml", cwd=tmp_path)
    assert done.stdout.count("Not used: ") == text.stdout.count("Not used: ") > 0
    assert (done.returncode, done.stderr) == (0, "")


def test_files_printed_one_by_one_make_one_page():
    both = below_head(run("check", GOOD, CAUTIOUS, "--form", "markdown").stdout)
    first, second = (below_head(run("check", file, "--form", "markdown").stdout) for file in (GOOD, CAUTIOUS))
    cautions = first.rstrip("\n").rpartition("\n\n")[2]
    assert both == first.removesuffix(f"{cautions}\n") + second
