"""JSON is a contract: every answer of every command is held against the schema that the command publishes."""

import json
import shutil

import jsonschema
import pytest

from kitbuilder.commands import all_commands
from kitbuilder.report.shapes import answer_schema
from tests.commands.run import CONFIGS, run
from tests.commands.test_registry import example_words

COMMANDS = [command for command in all_commands() if command.shape is not None]


def schema_of(command):
    schema = answer_schema(command.name, command.shape())
    jsonschema.Draft202012Validator.check_schema(schema)
    return schema


def answer_of(command, *words: str, **how):
    """What a command prints as JSON, once it is held against its schema."""
    done = run(*words, "--json", **how)
    assert done.stderr == ""
    answer = json.loads(done.stdout)
    jsonschema.Draft202012Validator(schema_of(command)).validate(answer)
    if answer["result"] is None:
        assert done.returncode == 2
        assert answer["problems"]
    return answer


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_the_example_keeps_to_the_schema(command, tmp_path):
    shutil.copytree(CONFIGS, tmp_path / "configs")
    answer = answer_of(command, *example_words(command), cwd=tmp_path)
    assert answer["command"] == command.name


@pytest.mark.parametrize("command", COMMANDS, ids=lambda command: command.name)
def test_json_does_not_depend_on_units_or_width(command, monkeypatch):
    if command.without_units:
        return
    words = example_words(command)
    metric = run(*words, "--json").stdout
    monkeypatch.setenv("COLUMNS", "60")
    assert run(*words, "--json", "--units", "imperial").stdout == metric
