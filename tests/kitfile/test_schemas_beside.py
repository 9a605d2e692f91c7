"""The schemas beside the files: how an editor of TOML finds them, and that they are never written over anything."""

import json
import tomllib
from pathlib import Path

import jsonschema
import pytest

from kitbuilder.catalogue.styles import styles
from kitbuilder.commands.making import WhoDives, make_kit
from kitbuilder.kit.file_kinds import DIVER_FILE, FILE_KINDS, GEAR_FILE, KIT_FILE, TRIP_FILE, FileKind
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.new_trip import TripAnswers, trip_text
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.kitfile.starters import Answers, diver_text, gear_text, kit_text
from kitbuilder.report.numbers import System
from tests.kitfile.support import CONFIGS, DIVERS, GEAR_FILES, KITS, SMALL, STOCKS, TRIPS

SHIPPED = {"kit": KITS, "diver": DIVERS, "stock": STOCKS, "gear": GEAR_FILES, "trip": TRIPS}
NEW = [
    *((KIT_FILE, kit_text(Answers("x", style))) for style in styles().styles),
    (DIVER_FILE, diver_text({"stature": "178 cm"})),
    (GEAR_FILE, gear_text()),
    (TRIP_FILE, trip_text(TripAnswers("x", ("one.toml",)))),
]


def shipped_schema(file: FileKind) -> dict[str, object]:
    schema: dict[str, object] = json.loads((CONFIGS / file.schema).read_text("utf-8"))
    return schema


@pytest.mark.parametrize("file", FILE_KINDS.values(), ids=FILE_KINDS)
def test_every_shipped_file_names_a_schema_that_accepts_it(file: FileKind) -> None:
    """The first line as editors of TOML read it: a comment `#:schema`, then a path from the file."""
    schema = shipped_schema(file)
    assert schema["$id"] == f"urn:kitbuilder:{file.name}:1"
    assert SHIPPED[file.name]
    for path in SHIPPED[file.name]:
        first, _, rest = path.read_text("utf-8").partition("\n")
        assert (path.parent / first.removeprefix("#:schema ")).resolve() == (CONFIGS / file.schema).resolve()
        jsonschema.validate(tomllib.loads(rest), schema)


@pytest.mark.parametrize(("file", "text"), NEW)
def test_every_new_file_names_its_schema_and_is_accepted(file: FileKind, text: str) -> None:
    assert text.startswith(f"#:schema ./{file.schema}\n#")
    jsonschema.validate(tomllib.loads(text), shipped_schema(file))
    assert not parse_as(text, file).problems


@pytest.mark.parametrize("spelled", ['"$schema"', "'$schema'"])
@pytest.mark.parametrize("file", FILE_KINDS.values(), ids=FILE_KINDS)
def test_a_schema_named_by_a_key_is_accepted(file: FileKind, spelled: str) -> None:
    path = SHIPPED[file.name][0]
    text = f'{spelled} = "./other.json"\n{path.read_text("utf-8")}'
    assert parse_as(text, file).problems == ()
    jsonschema.validate(tomllib.loads(text), shipped_schema(file))


def test_edits_keep_both_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / "kit.toml"
    head = '#:schema ./kit.schema.json\n"$schema"="https://example.org/kit.json"  # mine\n'
    path.write_text(head + SMALL)
    document = Document(path)
    document.set_value(0, "length", "80 cm")
    document.set_value(None, "water", "fresh")
    document.save()
    text = path.read_text()
    assert text.startswith(head)
    assert 'water  = "fresh"' in text
    assert '"80 cm"' in text
    assert document.reading.lines.of(0, "length") == text[: text.index("length =")].count("\n") + 1


@pytest.mark.parametrize("written", ["3", "true", "[]"])
def test_a_schema_that_is_no_text_is_named_with_its_line(written: str) -> None:
    [problem] = parse_as(f'# kit\n"$schema" = {written}\n{SMALL}', KIT_FILE).problems
    assert problem.line == 2
    assert '"$schema" = "./kit.schema.json"' in problem.accepted


def test_new_files_bring_their_schemas_and_leave_what_is_there(tmp_path: Path) -> None:
    (tmp_path / "kit.schema.json").write_text("mine")
    make_kit(tmp_path / "own.toml", Answers("x", "jacket"), WhoDives(None, {"mass": "82 kg"}), System.METRIC)
    assert (tmp_path / "kit.schema.json").read_text() == "mine"
    assert (tmp_path / "diver.schema.json").read_bytes() == (CONFIGS / "diver.schema.json").read_bytes()
