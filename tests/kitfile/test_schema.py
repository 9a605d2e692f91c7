"""One declaration of what a kit file may say: is it whole, and do the page and the JSON Schema made from it hold?"""

import re
import tomllib
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from kitbuilder.kit.fields import Field, Kind, field_named, fields_of
from kitbuilder.kit.things import KINDS, Header
from kitbuilder.kitfile.choices import choices_for, example_for
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.reference import json_schema, reference_page
from kitbuilder.kitfile.values import Refusal, limits_words, parse_value
from kitbuilder.units import DIMENSIONS
from tests.kitfile.support import KITS, LAYOUTS, SMALL

RECORDS: dict[str, type] = {"": Header, **KINDS}
FIELDS = [
    pytest.param(table, field, id=f"{table or 'heading'}-{field.key}")
    for table, record in RECORDS.items()
    for field in fields_of(record)
]
EVERY_FIELD = pytest.mark.parametrize(("table", "field"), FIELDS)
QUANTITIES = [param for param in FIELDS if param.values[1].kind is Kind.QUANTITY]
CHOICES = [param for param in FIELDS if param.values[1].kind in (Kind.CHOICE, Kind.WHOLE)]
SUFFIXES = {
    "length": "_m",
    "mass": "_kg",
    "buoyancy": "_kgf",
    "density": "_kg_m3",
    "temperature": "_k",
    "salinity": "_kg_per_kg",
}
"""The unit in the name of an attribute, by dimension."""


def toml_value(text: str) -> object:
    """A value written in TOML."""
    return tomllib.loads(f"value = {text}")["value"]


# ---- the declaration ----


def test_every_kind_of_value_is_used() -> None:
    assert {param.values[1].kind for param in FIELDS} == set(Kind)


@pytest.mark.parametrize("record", RECORDS.values(), ids=lambda record: record.__name__)
def test_no_key_stands_twice_in_a_table(record: type) -> None:
    keys = [field.key for field in fields_of(record)]
    assert len(keys) == len(set(keys))
    assert [field_named(record, key).key for key in keys] == keys
    with pytest.raises(KeyError):
        field_named(record, "lenght")


@pytest.mark.parametrize("field", [pytest.param(param.values[1], id=param.id) for param in FIELDS])
def test_every_key_says_what_it_means(field: Field) -> None:
    """In a sentence; the key is one that TOML takes without quotes."""
    assert re.fullmatch(r"[A-Z].*\.", field.meaning)
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", field.key)
    assert "|" not in field.meaning + field.example, "it would break the table of the page"


@EVERY_FIELD
def test_every_example_is_accepted(table: str, field: Field) -> None:
    parse_value(field, table, toml_value(example_for(field, table)))


def test_every_declared_example_is_accepted_somewhere() -> None:
    """A preset is a word of one table only; the other tables show a word of their own."""
    refused = {param.values[1].example for param in FIELDS}
    for param in FIELDS:
        table, field = param.values
        if example_for(field, table) == field.example:
            refused.discard(field.example)
    assert refused == set()


@pytest.mark.parametrize(("table", "field"), QUANTITIES)
def test_every_quantity_has_a_dimension_and_limits(table: str, field: Field) -> None:
    """And the limits are those that the messages name, ends included."""
    assert field.dimension in DIMENSIONS
    assert field.attribute == field.key + SUFFIXES[field.dimension]
    low, high, unit = re.fullmatch(r"from (\S+) to (\S+) (.+)", limits_words(field)).groups()
    beyond = (float(high) - float(low)) * 1e-4
    assert parse_value(field, table, f"{low} {unit}") == pytest.approx(field.lowest)
    assert parse_value(field, table, f"{high} {unit}") == pytest.approx(field.highest)
    for outside in (float(low) - beyond, float(high) + beyond):
        with pytest.raises(Refusal, match=re.escape(limits_words(field))):
            parse_value(field, table, f"{outside:.9f} {unit}")


@pytest.mark.parametrize(("table", "field"), CHOICES)
def test_every_choice_has_words_and_takes_them(table: str, field: Field) -> None:
    words = choices_for(field, table)
    assert words
    assert len(words) == len(set(words))
    for word in words:
        parse_value(field, table, int(word) if field.kind is Kind.WHOLE else word)
        with pytest.raises(Refusal):
            parse_value(field, table, f"{word} ")


# ---- the reference page ----


def sections() -> dict[str, dict[str, list[str]]]:
    """The rows of the page, by table and key."""
    parts = re.split(r"^## (.*)$", reference_page(), flags=re.MULTILINE)[1:]
    rows = (re.findall(r"^\| `(.*?)` \| (.*?) \| (.*?) \|$", part, re.MULTILINE) for part in parts[1::2])
    titles = [title.strip("`[]") if "`" in title else "" for title in parts[::2]]
    return {title: {key: more for key, *more in found} for title, found in zip(titles, rows, strict=True)}


def test_the_page_names_every_key_of_every_table() -> None:
    """In the order of the declaration, and no others."""
    wanted = {table: [field.key for field in fields_of(record)] for table, record in RECORDS.items()}
    assert {table: list(rows) for table, rows in sections().items()} == wanted


@EVERY_FIELD
def test_the_page_says_what_a_key_accepts_and_means(table: str, field: Field) -> None:
    accepts, meaning = sections()[table][field.key]
    assert field.meaning in meaning
    assert ("Needed" in meaning) == field.required
    if field.kind is Kind.QUANTITY:
        assert field.dimension in accepts
        assert limits_words(field) in accepts
    if field.kind is Kind.CHOICE:
        assert accepts == ", ".join(f'"{word}"' for word in choices_for(field, table))


@pytest.mark.parametrize("table", KINDS)
def test_the_examples_of_the_page_are_a_kit(table: str) -> None:
    """Copied out one below the other, as somebody will who learns the format from it."""

    def copied(name: str) -> str:
        examples = (re.search(r"For example `(.*)`\.$", meaning) for _, meaning in sections()[name].values())
        return "".join(f"{example[1]}\n" for example in examples if example)

    reading = read_kit(f"{copied('')}\n[[{table}]]\n{copied(table)}")
    assert reading.problems == ()
    assert reading.kit is not None
    thing = reading.kit.things[0]
    assert all(getattr(thing, field.attribute) is not None for field in fields_of(type(thing)))


# ---- the JSON Schema ----

VALIDATOR = jsonschema.Draft202012Validator(json_schema())
BAD = sorted((Path(__file__).parent / "bad").glob("*.toml"))
BEYOND_A_SCHEMA = {"limits", "units"}
"""What is wrong with these is the size or the unit of a quantity, which a schema does not read."""


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(json_schema())


@pytest.mark.parametrize("path", KITS + LAYOUTS, ids=lambda path: path.stem)
def test_it_accepts_the_kits_that_come_with_the_program(path: Path) -> None:
    VALIDATOR.validate(tomllib.loads(path.read_text("utf-8")))


def test_it_refuses_the_bad_files() -> None:
    """All that are TOML, but for what a schema cannot see."""
    accepted, tried = set(), 0
    for path in BAD:
        try:
            data = tomllib.loads(path.read_text("utf-8"))
        except tomllib.TOMLDecodeError:
            continue
        tried += 1
        accepted |= {path.stem} if VALIDATOR.is_valid(data) else set()
    assert accepted == BEYOND_A_SCHEMA
    assert tried > 10


@EVERY_FIELD
def test_it_knows_every_key(table: str, field: Field) -> None:
    """The small kit with one key more is accepted, with the same key misspelt it is not."""
    data, value = with_a(table), toml_value(example_for(field, table))
    for key, accepted in ((field.key, True), (f"{field.key}x", False)):
        more = {table: [data[table][0] | {key: value}]} if table else {key: value}
        assert VALIDATOR.is_valid(data | more) == accepted


@EVERY_FIELD
def test_it_wants_the_keys_that_are_needed(table: str, field: Field) -> None:
    data = with_a(table)
    (data[table][0] if table else data).pop(field.key, None)
    assert VALIDATOR.is_valid(data) != field.required


def with_a(table: str) -> dict[str, Any]:
    """The small kit with one more thing, which has the keys it needs and no others."""
    data = tomllib.loads(SMALL)
    if table:
        needed = {field.key: toml_value(field.example) for field in fields_of(RECORDS[table]) if field.required}
        data[table] = [needed]
    return data
