"""kitbuilder format: the reference page and the schemas."""

import json
import re

from kitbuilder.kit.diver import CHECK_KINDS
from kitbuilder.kit.gear import GEAR_KINDS
from kitbuilder.kit.items import KINDS
from kitbuilder.kit.trip import TRIP_KINDS
from tests.commands.run import run
from tests.markdown_reader import structure


def test_the_format_is_printed_as_a_page_and_as_a_schema() -> None:
    """Every section of the page on a kind of item is in the schema of its kind of file."""
    page = run("format").stdout
    kit, diver, gear, trip = (
        json.loads(run("format", "--json-schema", *words).stdout)["properties"]
        for words in ([], ["diver"], ["gear"], ["trip"])
    )
    tables = set(re.findall(r"^#+ `\[\[(\w+)\]\]`", page, re.MULTILINE))
    assert tables == KINDS.keys() | CHECK_KINDS.keys() | GEAR_KINDS.keys() | TRIP_KINDS.keys()
    assert tables & kit.keys() == KINDS.keys()
    assert tables & diver.keys() == CHECK_KINDS.keys()
    assert tables & gear.keys() == GEAR_KINDS.keys()
    assert tables & trip.keys() == TRIP_KINDS.keys()
    assert run("format", "--json-schema", "kit").stdout == run("format", "--json-schema").stdout
    assert run("format", "--json-schema", "dive").returncode == 2


def test_the_page_is_markdown_as_it_stands() -> None:
    """Whichever form it is asked in: `--form markdown` has no list of schemas, which is for programs."""
    done = run("format", "--form", "markdown")
    assert (done.returncode, done.stdout) == (0, run("format").stdout)
    assert {"heading_open h1", "table_open table"} <= set(structure(done.stdout))


def test_the_schema_of_stock_files_has_the_keys_of_the_page() -> None:
    """Those of the section on a hose of a stock, the required ones as required."""
    page = run("format").stdout
    section = page[page.index("# The stock file") : page.index("# The gear file")]
    rows = re.findall(r"^\| `(\w+)` \|", section[section.index("## `[[hose]]`") :], re.MULTILINE)
    schema = json.loads(run("format", "--json-schema", "stock").stdout)
    hose = schema["properties"]["hose"]["items"]
    assert {"length", "body", "price"} <= set(rows)
    assert set(rows) == hose["properties"].keys()
    assert set(hose["required"]) == {"body", "length"}
    assert schema["properties"]["holds"]["enum"] == ["stock"]


def test_json_lists_every_schema_that_can_be_printed() -> None:
    """Of each kind of file, and of what each command prints; each has an `$id` or a title of its own."""
    listed = json.loads(run("format", "--json").stdout)["result"]["schemas"]
    names = [row["name"] for row in listed]
    assert {"kit", "diver", "stock", "gear", "check-answer", "gear-answer", "format-answer"} <= set(names)
    schemas = [json.loads(run("format", "--json-schema", name).stdout) for name in names]
    assert len({schema["title"] for schema in schemas}) == len(names)


def test_the_schema_of_an_answer_has_an_id_and_the_envelope() -> None:
    schema = json.loads(run("format", "--json-schema", "threads-answer").stdout)
    assert schema["$id"] == "urn:kitbuilder:threads-answer:1"
    assert list(schema["properties"]) == ["format", "command", "files", "problems", "result"]
    assert schema["properties"]["command"] == {"const": "threads"}
