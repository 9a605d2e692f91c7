"""What a stranger does: prints the schemas, takes any validator of draft 2020-12, and tries files and answers.

Nothing here asks our code for a schema: all come from `kitbuilder format --json-schema`. Formats count as well.
"""

import copy
import json
import tomllib
from collections.abc import Iterator
from datetime import date, time
from functools import cache
from itertools import islice
from typing import Any

import jsonschema
import pytest

from tests import laws
from tests.commands.run import CONFIGS, run

NAMES = [each["name"] for each in json.loads(run("format", "--json").stdout)["result"]["schemas"]]
SHIPPED = sorted(CONFIGS.rglob("*.toml"))
ANSWERS = {
    "check-answer": ("check", "--items", "configs/twinset.toml", "configs/gear.toml"),
    "trip-answer": ("trip", "configs/trip-reef.toml"),
    "gear-answer": ("gear", "configs/gear.toml"),
    "losses-answer": ("losses", "configs/cold-single.toml"),
    "report-answer": ("report", "configs/warm-single.toml", "configs/trip-reef.toml", "gone.toml"),
}
FEW = 8
"""Alterations of each that are tried by default; ten times as many when thorough."""


@cache
def schema_of(name: str) -> dict[str, Any]:
    schema: dict[str, Any] = json.loads(run("format", "--json-schema", name).stdout)
    return schema


@cache
def validator(name: str) -> jsonschema.Draft202012Validator:
    schema = schema_of(name)
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER)


def test_every_schema_has_a_name_of_its_own_with_its_version():
    schemas = {name: schema_of(name) for name in NAMES}
    assert {name: schema["$id"] for name, schema in schemas.items()} == {
        name: f"urn:kitbuilder:{name}:1" for name in NAMES
    }
    assert {schema["$schema"] for schema in schemas.values()} == {"https://json-schema.org/draft/2020-12/schema"}
    versions = [schema["properties"]["format"] for schema in schemas.values()]
    assert all({version.get("const"), *version.get("enum", ())} >= {1} for version in versions)


def plain(data: Any) -> Any:
    """What TOML holds as JSON writes it; a day is a text."""
    if isinstance(data, dict):
        return {key: plain(value) for key, value in data.items()}
    if isinstance(data, list):
        return [plain(value) for value in data]
    return str(data) if isinstance(data, date | time) else data


def test_every_file_that_is_shipped_is_accepted_and_altered_ones_are_not():
    """By the schema of what it holds. A key nobody knows, a value of another kind, another format, no name."""
    validators = {name: validator(name) for name in ("kit", "diver", "stock", "gear", "trip")}
    seen = set()
    for path in SHIPPED:
        data = plain(tomllib.loads(path.read_text("utf-8")))
        seen.add(holds := data.get("holds", "kit"))
        assert [error.message for error in validators[holds].iter_errors(data)] == [], path
        head = {key: value for key, value in data.items() if not isinstance(value, list)}
        altered = [data | {"kolour": "blue"}, data | {"format": 2}, head | {"name": ["a"]}]
        altered += [{key: value for key, value in data.items() if key != "format"}]
        tables = [
            key for key, value in data.items() if isinstance(value, list) and value and isinstance(value[0], dict)
        ]
        altered += [data | {key: [data[key][0] | {"kolour": "blue"}]} for key in tables]
        altered += [data | {key: data[key][0]} for key in tables]
        assert [found for found in altered if validators[holds].is_valid(found)] == [], path
    assert seen == {*validators}


def alterations(data: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[tuple[Any, ...], str]]:
    """Every key of an answer, with what is done to it; of an array the first entry alone."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from (((*path, key), what) for what in ("taken out", "of another kind", "with a neighbour"))
            yield from alterations(value, (*path, key))
    elif isinstance(data, list) and data:
        yield from alterations(data[0], (*path, 0))


def altered(data: Any, path: tuple[Any, ...], what: str) -> Any:
    made = copy.deepcopy(data)
    place = made
    for key in path[:-1]:
        place = place[key]
    if what == "taken out":
        del place[path[-1]]
    elif what == "of another kind":
        place[path[-1]] = {"kolour": [0]}
    else:
        place["kolour"] = [0]
    return made


OPEN = {"by_body", "if_all", "dates", "taken"}
"""Objects whose keys are words of the catalogue or of a file: one may be missing."""


@pytest.mark.parametrize("name", ANSWERS)
def test_every_answer_is_accepted_and_altered_ones_are_not(name):
    answer = json.loads(run(*ANSWERS[name], "--json").stdout)
    checks = validator(name)
    assert [error.message[:200] for error in checks.iter_errors(answer)] == []
    every = [
        (path, what) for path, what in alterations(answer) if not (what == "taken out" and {*path[:-1][-1:]} & OPEN)
    ]
    assert len(every) > 5 * FEW
    count = FEW * laws.MORE if laws.is_thorough() else FEW
    tried = islice(every, 0, None, max(len(every) // count, 1))
    accepted = [(path, what) for path, what in tried if checks.is_valid(altered(answer, path, what))]
    assert accepted == []
