"""The format for people and for programs: the reference page and the JSON Schema, both made from the records."""

import json
from typing import Any

from kitbuilder.kit.fields import Field, Kind, fields_of
from kitbuilder.kit.files import DIVER_FILE, FILE_KINDS, KIT_FILE, FileKind
from kitbuilder.kit.things import FORMAT
from kitbuilder.kitfile.choices import choices_for, example_for
from kitbuilder.kitfile.values import limits_words
from kitbuilder.units import DIMENSIONS


def reference_page() -> str:
    """The reference page of the file formats, as Markdown."""
    return "\n".join([_INTRODUCTION, *_sections(KIT_FILE), _DIVER_INTRODUCTION, *_sections(DIVER_FILE)])


def _sections(file: FileKind) -> list[str]:
    top = f"The top of the {'' if file is KIT_FILE else file.name + ' '}file"
    return [_section(top, file.header, ""), *(_section(f"`[[{kind}]]`", row, kind) for kind, row in file.kinds.items())]


def json_schema(file: FileKind = KIT_FILE) -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a file, for editors; what the reader checks beyond it is in the page."""
    tables = {
        kind: {"type": "array", "items": _object(record, kind), "description": _summary(record)}
        for kind, record in file.kinds.items()
    }
    header = _object(file.header, "")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"kitbuilder {file.name} file, format {FORMAT}",
        "type": "object",
        "properties": header["properties"] | tables,
        "required": header["required"],
        "additionalProperties": False,
    }


def schema_text(holds: str) -> str:
    """The JSON Schema of kit or of diver files, as text."""
    return json.dumps(json_schema(FILE_KINDS[holds]), indent=2, ensure_ascii=False) + "\n"


_INTRODUCTION = f"""# The kit file, format {FORMAT}

One kit a file, in TOML. This page is printed by `kitbuilder format`; `kitbuilder format --json-schema` prints the same
for editors.

- A quantity is a text with a unit: "75 cm", "28 in", "7 ft 2 in", "0.21 kg". A bare number is refused.
- One `[[table]]` is one thing that can be held in the hand. Things stand in any order; the app keeps it.
- A tag names a thing once. `to = "gauge"` leads to the thing with that tag; `from = "first LP1"` names a first stage
  and one of its ports.
- A mass that was weighed beats the one computed from a preset.
- An unknown key is an error. Dotted keys and tables inside tables are not used.
"""


_DIVER_INTRODUCTION = """# The diver file

One diver a file, beside the kits that name it: body, lead to be had, and the float checks made. It says
`holds = "diver"` at its top; the shelf leaves it out. `kitbuilder format --json-schema diver` prints this part for
editors.
"""


def _section(title: str, record: type, table: str) -> str:
    rows = [f"| `{field.key}` | {_accepts(field, table)} | {_meaning(field, table)} |" for field in fields_of(record)]
    head = ["| key | accepts | meaning |", "| --- | --- | --- |"]
    return "\n".join([f"## {title}", "", _summary(record), "", *head, *rows, ""])


def _summary(record: type) -> str:
    return (record.__doc__ or "").strip().splitlines()[0]


def _meaning(field: Field, table: str) -> str:
    needed = "**Needed.** " if field.required else ""
    return f"{needed}{field.meaning} For example `{field.key} = {example_for(field, table)}`."


def _accepts(field: Field, table: str) -> str:
    match field.kind:
        case Kind.QUANTITY:
            return f"{field.dimension}, {limits_words(field)}"
        case Kind.QUANTITIES:
            return f"list, each a {field.dimension}, {limits_words(field)}"
        case Kind.GAS:
            return '"air", "oxygen", "nitrox 32", "trimix 18/45"'
        case Kind.CHOICE | Kind.WHOLE:
            return ", ".join(f'"{word}"' if field.kind is Kind.CHOICE else word for word in choices_for(field, table))
        case _:
            return str(field.kind.value)


def _object(record: type, table: str) -> dict[str, Any]:
    fields = fields_of(record)
    return {
        "type": "object",
        "properties": {field.key: _property(field, table) for field in fields},
        "required": [field.key for field in fields if field.required],
        "additionalProperties": False,
    }


def _property(field: Field, table: str) -> dict[str, Any]:
    description = {"description": field.meaning}
    match field.kind:
        case Kind.CHOICE:
            return {"enum": list(choices_for(field, table))} | description
        case Kind.WHOLE:
            return {"enum": [int(word) for word in field.choices]} | description
        case Kind.FLAG:
            return {"type": "boolean"} | description
        case Kind.PORTS | Kind.PORT_NAMES:
            return {"type": "array", "items": {"type": "string", "pattern": "^(LP|HP)"}} | description
        case Kind.QUANTITY:
            return {"type": "string", "examples": list(DIMENSIONS[field.dimension].examples)} | description
        case Kind.QUANTITIES:
            return {"type": "array", "items": {"type": "string"}} | description
        case Kind.FILE:
            return {"type": "string", "pattern": r"^[^./\\][^/\\]*\.toml$"} | description
        case Kind.PORT:
            return {"type": "string", "pattern": " (LP|HP)[A-Za-z0-9_]*$"} | description
        case Kind.NAME | Kind.TAG:
            return {"type": "string", "minLength": 1} | description
        case _:
            return {"type": "string"} | description
