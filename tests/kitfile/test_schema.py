"""One declaration of what a file may say: is it whole, and do the page and the JSON Schemas made from it hold?"""

import json
import re
import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from kitbuilder.catalogue import catalogue
from kitbuilder.cli import main
from kitbuilder.kit.fields import Field, ValueKind, field_named, fields_of
from kitbuilder.kit.file_kinds import (
    DIVER_FILE,
    FILE_KINDS,
    GEAR_FILE,
    KIT_FILE,
    STOCK_FILE,
    TRIP_FILE,
    FileKind,
    record_of,
)
from kitbuilder.kitfile.accepted_words import format_limits
from kitbuilder.kitfile.choices import ON_THE_PAGE, choices_for, example_for
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.kitfile.reference import json_schema, reference_page
from kitbuilder.kitfile.values import Refusal, parse_value
from kitbuilder.units import DIMENSIONS
from tests.each import each
from tests.kitfile.support import (
    CONFIGS,
    DIVERS,
    GEAR_FILES,
    GOOD_DIVER,
    GOOD_GEAR,
    GOOD_KIT,
    GOOD_STOCK,
    GOOD_TRIP,
    KITS,
    LAYOUTS,
    SMALL,
    STOCKS,
    TRIPS,
)

TABLES = [(file, table) for file in FILE_KINDS.values() for table in ("", *file.kinds)]
"""Every table of every kind of file; the top of a file is the one without a name."""
RECORDS = [record_of(table, file) for file, table in TABLES]
FIELDS = [
    pytest.param(file, table, field, id=f"{table or f'top of {file.name}'}-{field.key}")
    for file, table in TABLES
    for field in fields_of(record_of(table, file))
]
EVERY_FIELD = each(("file", "table", "field"), FIELDS)
KEYS = [pytest.param(*param.values[1:], id=param.id) for param in FIELDS]
"""The same without the kind of file."""
EVERY_FILE_KIND = pytest.mark.parametrize("file", FILE_KINDS.values(), ids=FILE_KINDS)
OF_QUANTITIES = (ValueKind.QUANTITY, ValueKind.QUANTITIES)
QUANTITIES = [param for param in KEYS if param.values[1].kind in OF_QUANTITIES]
CHOICES = [param for param in KEYS if param.values[1].kind in (ValueKind.CHOICE, ValueKind.WHOLE)]
SUFFIXES = {
    "length": "_m",
    "mass": "_kg",
    "buoyancy": "_kgf",
    "density": "_kg_m3",
    "temperature": "_k",
    "salinity": "_kg_per_kg",
    "volume": "_m3",
    "area": "_m2",
    "pressure": "_pa",
    "fraction": "",
    "energy": "_j",
}
"""The unit in the name of an attribute, by dimension; a fraction is a part of one and has none."""


def toml_value(text: str) -> object:
    """A value written in TOML."""
    return tomllib.loads(f"value = {text}")["value"]


# ---- the declaration ----


def test_every_kind_of_value_is_used() -> None:
    assert {param.values[2].kind for param in FIELDS} == set(ValueKind)


@pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.__name__)
def test_no_key_stands_twice_in_a_table(record: type) -> None:
    keys = [field.key for field in fields_of(record)]
    assert len(keys) == len(set(keys))
    assert [field_named(record, key).key for key in keys] == keys
    with pytest.raises(KeyError):
        field_named(record, "lenght")


@pytest.mark.parametrize("record", KIT_FILE.kinds.values(), ids=KIT_FILE.kinds)
def test_the_keys_that_every_item_has_come_last(record: type) -> None:
    """A diver looks for an item's own keys first. They start with its tag."""
    keys = [field.key for field in fields_of(record)]
    assert keys[0] == "tag"
    assert keys[-3:] == ["place", "along", "behind"]


@each("field", [param.values[2] for param in FIELDS])
def test_every_key_says_what_it_means(field: Field) -> None:
    """In a sentence; the key is one that TOML takes without quotes."""
    assert re.fullmatch(r"[A-Z].*\.", field.meaning)
    assert re.fullmatch(r"[a-z]+(_[a-z]+)*", field.key)
    assert "|" not in field.meaning + field.example, "it would break the table of the page"


@each(("table", "field"), KEYS)
def test_every_example_is_accepted(table: str, field: Field) -> None:
    parse_value(field, table, toml_value(example_for(field, table)))


def test_every_declared_example_is_accepted_somewhere() -> None:
    """A preset is a word of one table only; the other tables show a word of their own."""
    refused = {param.values[2].example for param in FIELDS}
    for param in FIELDS:
        _, table, field = param.values
        if example_for(field, table) == field.example:
            refused.discard(field.example)
    assert refused == set()


@each(("table", "field"), QUANTITIES)
def test_every_quantity_has_a_dimension_and_limits(table: str, field: Field) -> None:
    """And the limits are those that the messages name, ends included."""
    assert field.dimension in DIMENSIONS
    assert field.attribute == field.key + SUFFIXES[field.dimension]
    low, high, unit = re.fullmatch(r"from (\S+) to (\S+) (.+)", format_limits(field)).groups()
    beyond = (float(high) - float(low)) * 1e-4

    def written(text: str) -> str | list[str]:
        return [text] * (field.exactly or 1) if field.kind is ValueKind.QUANTITIES else text

    for end, limit in ((low, field.lowest), (high, field.highest)):
        value = parse_value(field, table, written(f"{end} {unit}"))
        assert (value[0] if field.kind is ValueKind.QUANTITIES else value) == pytest.approx(limit)
    for outside in (float(low) - beyond, float(high) + beyond):
        with pytest.raises(Refusal, match=re.escape(format_limits(field))):
            parse_value(field, table, written(f"{outside:.9f} {unit}"))


@each(("table", "field"), CHOICES)
def test_every_choice_has_words_and_takes_them(table: str, field: Field) -> None:
    words = choices_for(field, table)
    assert words
    assert len(words) == len(set(words))
    for word in words:
        parse_value(field, table, int(word) if field.kind is ValueKind.WHOLE else word)
        with pytest.raises(Refusal):
            parse_value(field, table, f"{word} ")


# ---- the reference page ----


@cache
def sections() -> dict[tuple[str, str], dict[str, list[str]]]:
    """The rows of the page, by kind of file, table and key."""
    found: dict[tuple[str, str], dict[str, list[str]]] = {}
    # A heading of the first rank begins a kind of file, one of the second a table of it.
    for part in re.split(r"^# ", reference_page(), flags=re.MULTILINE)[1:]:
        kind = re.match(r"The (\w+) file", part)
        if kind is None:
            continue  # a list of words
        name = kind[1]
        titles_and_texts = re.split(r"^## (.*)$", part, flags=re.MULTILINE)[1:]
        for title, text in zip(titles_and_texts[::2], titles_and_texts[1::2], strict=True):
            rows = re.findall(r"^\| `(.*?)` \| (.*?) \| (.*?) \| (.*?) \| (.*?) \|$", text, re.MULTILINE)
            table = title.strip("`[]") if "`" in title else ""
            assert (name, table) not in found
            found[name, table] = {key: more for key, *more in rows}
    return found


def test_the_page_names_every_key_of_every_table() -> None:
    """In the order of the declaration, and no others."""
    wanted = {(file.name, table): [field.key for field in fields_of(record_of(table, file))] for file, table in TABLES}
    assert {table: list(rows) for table, rows in sections().items()} == wanted


@EVERY_FIELD
def test_the_page_says_what_a_key_accepts_and_means(file: FileKind, table: str, field: Field) -> None:
    accepts, default, example, meaning = sections()[file.name, table][field.key]
    said = meaning if default in ("**required**", "none") else f"{meaning} Default: {default}."
    assert said == field.meaning.removesuffix(" Default: none.")
    assert (default == "**required**") == field.required
    assert example.startswith(f"`{field.key} = ")
    if field.kind in OF_QUANTITIES:
        assert field.dimension in accepts
        assert format_limits(field) in accepts
    if field.vocabulary in ON_THE_PAGE:
        assert f"of the {field.vocabulary}s below" in accepts
    elif field.kind is ValueKind.CHOICE:
        assert accepts == "one of " + ", ".join(f'"{word}"' for word in choices_for(field, table))
    elif field.kind is ValueKind.WHOLE:
        assert accepts.startswith("whole number: ")
    if field.kind is ValueKind.GAS:
        for word in re.findall(r'"(.+?)"', accepts):
            parse_value(field, table, word)


def test_the_page_lists_the_long_vocabularies() -> None:
    """Each word once, with what it stands for."""
    for title, words in (("The routes", catalogue().routes), ("The landmarks", catalogue().landmarks)):
        table = reference_page().partition(f"# {title}\n")[2].partition("\n# ")[0]
        rows = re.findall(r"^\| (.*?) \| (.+) \|$", table, re.MULTILINE)[2:]  # below the heads and their line
        assert [word for word, _ in rows] == list(words)
        assert all(meaning.strip(" |") for _, meaning in rows)


@pytest.mark.parametrize(("file", "table"), [pytest.param(file, table, id=table) for file, table in TABLES if table])
def test_the_examples_of_the_page_are_a_file(file: FileKind, table: str) -> None:
    """Copied out one below the other, as somebody will who learns the format from it."""

    def copied(name: str) -> str:
        return "".join(f"{example.strip('`')}\n" for *_, example, _ in sections()[file.name, name].values())

    reading = parse_as(f"{copied('')}\n[[{table}]]\n{copied(table)}", file)
    assert reading.problems == ()
    assert reading.contents is not None
    item = reading.contents.items[0]
    assert all(getattr(item, field.attribute) is not None for field in fields_of(type(item)))


# ---- the JSON Schemas ----


@cache
def validators() -> dict[str, jsonschema.Draft202012Validator]:
    """One for each kind of file, made by the first test that asks and not while every worker reads this file."""
    return {name: jsonschema.Draft202012Validator(json_schema(file)) for name, file in FILE_KINDS.items()}


BAD_FOLDER = Path(__file__).parent / "bad"
BAD = [(KIT_FILE, path) for path in sorted(BAD_FOLDER.glob("*.toml"))]
BAD += [(DIVER_FILE, path) for path in sorted((BAD_FOLDER / "diver").glob("*.toml"))]
BEYOND_A_SCHEMA: set[tuple[str, str]] = set()
"""Files in which nothing is wrong but the size or the unit of a quantity, which a schema does not read."""
GOOD = [(KIT_FILE, path) for path in (*KITS, *LAYOUTS, GOOD_KIT)] + [
    (DIVER_FILE, path) for path in (*DIVERS, GOOD_DIVER)
]
GOOD += [(STOCK_FILE, path) for path in (*STOCKS, GOOD_STOCK)]
GOOD += [(GEAR_FILE, path) for path in (*GEAR_FILES, GOOD_GEAR)]
GOOD += [(TRIP_FILE, path) for path in (*TRIPS, GOOD_TRIP)]


@EVERY_FILE_KIND
def test_it_is_a_schema(file: FileKind) -> None:
    jsonschema.Draft202012Validator.check_schema(json_schema(file))


def test_a_schema_is_that_of_a_kit_by_default() -> None:
    assert json_schema() == json_schema(KIT_FILE)
    assert json_schema() != json_schema(DIVER_FILE)


@EVERY_FILE_KIND
def test_the_published_schema_is_the_one_of_this_program(file: FileKind, capsys: pytest.CaptureFixture[str]) -> None:
    """As the command prints it."""
    assert main(["format", "--json-schema", file.name]) == 0
    assert (CONFIGS / f"{file.name}.schema.json").read_text("utf-8") == capsys.readouterr().out


def test_the_command_prints_the_schema_of_a_kit_unless_asked(capsys: pytest.CaptureFixture[str]) -> None:
    printed = []
    for words in ([], ["kit"], ["diver"], ["stock"], ["gear"], ["trip"]):
        assert main(["format", "--json-schema", *words]) == 0
        printed.append(json.loads(capsys.readouterr().out))
    assert printed == [json_schema(), *(json_schema(file) for file in FILE_KINDS.values())]
    with pytest.raises(SystemExit) as refused:
        main(["format", "--json-schema", "fish"])
    assert refused.value.code == 2


@pytest.mark.parametrize(("file", "path"), GOOD, ids=lambda part: getattr(part, "stem", getattr(part, "name", "")))
def test_it_accepts_the_good_files(file: FileKind, path: Path) -> None:
    """Of its own kind; the other schema does not."""
    data = tomllib.loads(path.read_text("utf-8"))
    for name, validator in validators().items():
        assert validator.is_valid(data) == (name == file.name)


def test_it_refuses_the_bad_files() -> None:
    """All that are TOML, but for what a schema cannot see."""
    accepted, tried = set(), 0
    for file, path in BAD:
        try:
            data = tomllib.loads(path.read_text("utf-8"))
        except tomllib.TOMLDecodeError:
            continue
        tried += 1
        accepted |= {(file.name, path.stem)} if validators()[file.name].is_valid(data) else set()
    assert accepted == BEYOND_A_SCHEMA
    assert tried > 25


@EVERY_FIELD
def test_it_knows_every_key(file: FileKind, table: str, field: Field) -> None:
    """The small file with one key more is accepted, with the same key misspelt it is not."""
    data, value = with_a(file, table), toml_value(example_for(field, table))
    for key, accepted in ((field.key, True), (f"{field.key}x", False)):
        more = {table: [data[table][0] | {key: value}]} if table else {key: value}
        assert validators()[file.name].is_valid(data | more) == accepted


@EVERY_FIELD
def test_it_wants_the_keys_that_are_needed(file: FileKind, table: str, field: Field) -> None:
    data = with_a(file, table)
    (data[table][0] if table else data).pop(field.key, None)
    assert validators()[file.name].is_valid(data) != field.required


ACCEPTED_BY_THE_READER = [
    (KIT_FILE, "cylinder", "gas", [" Nitrox  32 ", "AIR", "trimix 8/92"]),
    (KIT_FILE, "cylinder", "oxygen", ["0 %", "100%"]),
    (KIT_FILE, "lead", "pieces", [1, 24]),
    (KIT_FILE, "", "diver", ["x.toml", "a.b.toml", "-.toml", "Ü–ß 2.toml", "x..toml"]),
    (DIVER_FILE, "float_check", "kit", ["x.toml", "a.b.toml", "-.toml", "Ü–ß 2.toml", "x..toml"]),
    (DIVER_FILE, "", "lead_sizes", [[], ["500 g"], ["1 kg", "2 lb", "15 kg"]]),
    (DIVER_FILE, "float_check", "excluded", [True, False]),
    (KIT_FILE, "", "stock", ["x.toml", "x.csv", "a.b.csv"]),
    (KIT_FILE, "hose", "path", [["left flank", "left hip ring"], ["left flank", "left hip ring", "left flank"]]),
    (KIT_FILE, "hose", "holds", [["left flank"]]),
    (STOCK_FILE, "hose", "price", [0, 24, 24.5, "24.50", " 24 "]),
    (KIT_FILE, "", "gear", ["x.toml", "a.b.toml"]),
    (KIT_FILE, "", "day", ["2027", "2027-5", "2027-05", "2027-05-14", " 2027-05-14 "]),
    (KIT_FILE, "hose", "owned", ["long hose, grey", "Ü"]),
    (GEAR_FILE, "hose", "made", ["2027", "2027-5", "2027-05-14"]),
    (GEAR_FILE, "hose", "kept_in", ["blue box"]),
    (GEAR_FILE, "plug", "pieces", [1, 40]),
    (TRIP_FILE, "", "kits", [[], ["x.toml"], ["x.toml", "a.b.toml"]]),
    (
        TRIP_FILE,
        "luggage",
        "battery",
        ["18.5 Wh", "3.7 V x 5 Ah", "3,7V 5000mAh", "3.7 volts * 2,600 mAh", "10.8 V × 14 Ah"],
    ),
    (TRIP_FILE, "bag", "size", [["75 cm", "40 cm", "35 cm"], ["29½ in", "1 ft", "10 in"]]),
    (TRIP_FILE, "leg", "hold_pieces", [0, 40]),
    (TRIP_FILE, "pin", "item", ["first", "Ü 2"]),
]


@pytest.mark.parametrize(("file", "table", "key", "values"), ACCEPTED_BY_THE_READER)
def test_it_accepts_what_the_reader_accepts(file: FileKind, table: str, key: str, values: list[object]) -> None:
    """Every odd spelling; a schema that refused one would put a red line under what is right."""
    field = field_named(record_of(table, file), key)
    for value in values:
        parse_value(field, table, value)
        data = with_a(file, table)
        (data[table][0] if table else data)[key] = value
        validators()[file.name].validate(data)


QUANTITY_FIELDS = [
    (file, table, field)
    for file in FILE_KINDS.values()
    for table in ("", *file.kinds)
    for field in fields_of(record_of(table, file))
    if field.kind is ValueKind.QUANTITY
]


@each(("file", "table", "field"), QUANTITY_FIELDS)
def test_it_refuses_arithmetic_and_a_spread_where_none_is_kept(file: FileKind, table: str, field: Field) -> None:
    """As the reader does; a spread is accepted with what a scale reads alone."""
    data = with_a(file, table)
    written = json.loads(field.example)
    number, _, unit = written.partition(" ")
    for value, is_accepted in (
        (written, True),
        (f"{written} - {written}", False),
        (f"{written} * 2", False),
        (f"{written} \u00b1 0.001 {unit}", field.takes_spread),
        (f"{number} +/- 0.001 {unit}", field.takes_spread),
    ):
        (data[table][0] if table else data)[field.key] = value
        assert validators()[file.name].is_valid(data) == is_accepted, value


@each(("file", "table", "field"), QUANTITY_FIELDS)
def test_it_accepts_odd_spellings_of_a_quantity(file: FileKind, table: str, field: Field) -> None:
    """A few of them in place; `tests/units/test_spellings.py` holds pattern and reader against each other."""
    data = with_a(file, table)
    number, _, unit = json.loads(field.example).partition(" ")
    odd = [f"{number}{unit.upper()}", f" {number.replace('.', ',')} {unit} "]
    odd += ["neutral"] if field.dimension == "buoyancy" and field.lowest <= 0 else []
    odd += ["80 cu ft at 3000 psi", "80 CUFT @ 3,000 PSI"] if field.takes_rating else []
    for written in odd:
        parse_value(field, table, written)
        (data[table][0] if table else data)[field.key] = written
        assert validators()[file.name].is_valid(data), written
    (data[table][0] if table else data)[field.key] = f"{json.loads(field.example)} at 3000 psi"
    assert validators()[file.name].is_valid(data) == field.takes_rating


@pytest.mark.parametrize("edges", [[], ["75 cm"], ["75 cm", "40 cm"], ["75 cm", "40 cm", "35 cm", "1 cm"], "75 cm"])
def test_a_size_has_three_edges(edges: object) -> None:
    """For the reader and for the schema."""
    data = with_a(TRIP_FILE, "bag")
    data["bag"][0]["size"] = edges
    assert not validators()["trip"].is_valid(data)
    with pytest.raises(Refusal, match=r"75 cm"):
        parse_value(field_named(record_of("bag", TRIP_FILE), "size"), "bag", edges)


@pytest.mark.parametrize("name", ["../x.toml", "a/b.toml", "c:\\x.toml", ".hidden.toml", "x.txt", ""])
def test_it_refuses_a_file_that_lies_elsewhere(name: str) -> None:
    for file, table, key in ((KIT_FILE, "", "diver"), (KIT_FILE, "", "stock"), (DIVER_FILE, "float_check", "kit")):
        data = with_a(file, table)
        (data[table][0] if table else data)[key] = name
        assert not validators()[file.name].is_valid(data)
    assert not validators()["trip"].is_valid(with_a(TRIP_FILE, "") | {"kits": ["kit.toml", name]})


def with_a(file: FileKind, table: str) -> dict[str, Any]:
    """A small file with one more item, which has the keys it needs and no others."""
    data = tomllib.loads(SMALL) if file is KIT_FILE else {"format": 1, "holds": file.name, "name": "x"}
    if table:
        fields = fields_of(record_of(table, file))
        data[table] = [{field.key: toml_value(field.example) for field in fields if field.required}]
    return data
