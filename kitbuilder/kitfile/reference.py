"""The format for people and for programs: the reference page and the JSON Schema, both made from the records."""

from collections.abc import Iterable, Iterator
from typing import Any

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.file_kinds import DIVER_FILE, GEAR_FILE, KIT_FILE, STOCK_FILE, TRIP_FILE, FileKind
from kitbuilder.kit.items import FORMAT
from kitbuilder.kitfile.accepted_words import format_limits
from kitbuilder.kitfile.choices import ON_THE_PAGE, choices_for, example_for
from kitbuilder.kitfile.rated_capacity import RATED_EXAMPLE
from kitbuilder.kitfile.reader import SCHEMA_KEY
from kitbuilder.kitfile.values import LONGEST_QUANTITY, MOST_LISTED, format_choices
from kitbuilder.units import DIMENSIONS, pattern_of


def reference_page() -> str:
    """Give the reference page of the file formats, as Markdown."""
    parts = (
        (_INTRODUCTION, KIT_FILE),
        (_DIVER_INTRODUCTION, DIVER_FILE),
        (_STOCK_INTRODUCTION, STOCK_FILE),
        (_GEAR_INTRODUCTION, GEAR_FILE),
        (_TRIP_INTRODUCTION, TRIP_FILE),
    )
    files = [line for introduction, file in parts for line in (introduction, *_sections(file))]
    return "\n".join([*files, *_routes(), *_landmarks()])


def _sections(file: FileKind) -> list[str]:
    top = f"The top of the {'' if file is KIT_FILE else file.name + ' '}file"
    return [_section(top, file.header, ""), *(_section(f"`[[{kind}]]`", row, kind) for kind, row in file.kinds.items())]


def json_schema(file: FileKind = KIT_FILE) -> dict[str, Any]:
    """Give the JSON Schema (draft 2020-12) of a file, for editors; what the reader checks beyond it is in the page."""
    tables = {
        kind: {"type": "array", "items": _object(record, kind), "description": _summary(record)}
        for kind, record in file.kinds.items()
    }
    header = _object(file.header, "")
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:kitbuilder:{file.name}:{FORMAT}",
        "title": f"kitbuilder {file.name} file, format {FORMAT}",
        "type": "object",
        "properties": {SCHEMA_KEY: {"type": "string", "description": _SCHEMA_MEANING}} | header["properties"] | tables,
        "required": header["required"],
        "additionalProperties": False,
        "$defs": _forms_of_quantities((file.header, *file.kinds.values())),
    }


_SCHEMA_MEANING = "Where an editor finds this schema. It says nothing of the kit."


def _forms_of_quantities(records: Iterable[type]) -> dict[str, Any]:
    """Give what quantities look like, each form once."""
    fields = {_form_of(field): field for record in records for field in fields_of(record) if field.dimension}
    return {
        name: {
            "type": "string",
            "pattern": pattern_of(
                field.dimension, spread=field.takes_spread, rating=field.takes_rating, charge=field.takes_charge
            ),
            "maxLength": LONGEST_QUANTITY,
            "examples": [*DIMENSIONS[field.dimension].examples, *_longer_examples(field)],
        }
        for name, field in sorted(fields.items())
    }


def _form_of(field: Field) -> str:
    """Name the form of a quantity: its dimension, and what else it may carry."""
    more = "_with_spread" if field.takes_spread else "_or_rating" if field.takes_rating else ""
    more = "_or_charge" if field.takes_charge else more
    return field.dimension.replace(" ", "_") + more


def _longer_examples(field: Field) -> list[str]:
    if field.takes_charge:
        return ["3.7 V x 5 Ah"]
    return ["2.10 kg ± 0.05 kg"] if field.takes_spread else [RATED_EXAMPLE] if field.takes_rating else []


_INTRODUCTION = f"""# The kit file, format {FORMAT}

One kit per file, in TOML. `kitbuilder format` prints this page; `kitbuilder format --json-schema` prints the same for
editors.

- A quantity is a text with a unit: "75 cm", "28 1/2 in", "29½ in", "7 ft 2 in", "2'4", "0.21 kg", "12,5 kg",
  "3,000 psi". Letter case does not matter. Less common units are known by their names: "0.45 fathom", "2.2 stone".
  Refused are numbers without a unit, calculations, and metric mixed with imperial units.
- A comma before three digits, as in "1,250", may separate decimals or thousands. With psi, kPa, Pa, mbar, g, mL, cm3
  and kg/m3 it separates thousands. With every other unit it is refused. "0,250" and "12,5" are decimals.
- A buoyancy may be "neutral": 0 kg ± 0.1 kg.
- The volume of a cylinder may be given by its rated capacity: "80 cu ft at 3000 psi". Such ratings treat air as an
  ideal gas, so the water volume has a spread of ± 5 %.
- A weighed mass or buoyancy may have a spread, within which 19 of 20 weighings lie: "2.10 kg ± 0.05 kg", or
  "2.10 +- 0.05 kg". No other value may have one. Without it, the spread is that of a usual scale and of the digits:
  "2.1 kg" may be anything from 2.05 to 2.15 kg, so write every digit that the scale shows.
- One `[[table]]` is one item that can be held in the hand. Items stand in any order, and the app keeps it.
- A tag names one item. `to = "gauge"` leads to the item with that tag; `from = "first LP1"` names a first stage
  and one of its ports.
- A weighed mass counts before one from a preset.
- The first line, `#:schema ./kit.schema.json`, tells an editor of TOML where the schema lies, so that it completes and
  checks what you type. The key `"$schema"` does the same. kitbuilder keeps both as they are, and reads neither.
- In the tables below, "none" as a default means that nothing is assumed. Limits are given in one unit; every unit of
  that type is accepted.
- An unknown key is an error. Dotted keys and tables inside tables are not used.
"""


_DIVER_INTRODUCTION = """# The diver file

One diver per file, in the folder of the kits that name it: body, available lead, and the float checks. It begins with
`holds = "diver"`, and the shelf does not list it. `kitbuilder format --json-schema diver` prints this part for editors.
"""


_STOCK_INTRODUCTION = """# The stock file

What a shop has, in the folder of the kits that name it as `stock`. It begins with `holds = "stock"`, and the shelf does
not list it. A hose with an error is named and ignored; the others are used. `kitbuilder format --json-schema stock`
prints this part for editors.

A table that a spreadsheet saved as .csv is read as well: one line of column heads, which are the keys below, then one
line per hose, with commas or semicolons between the cells. A unit may stand in the head, as in `length (cm)`, and the
currency in the head of the price. Decimals may have a comma. `in_stock` may be yes, no, or a number of pieces. Other
columns are ignored.
"""


_GEAR_INTRODUCTION = """# The gear file

What a diver owns, in the folder of the kits that name it as `gear`. It begins with `holds = "gear"`, and the shelf does
not list it. An item of a kit refers to an item of this file with `owned = "its tag here"`. What the kit does not say
about the item is read here; where both say something, the kit counts. A date is a day, a month or a year: "2024-05-31",
"2024-05", "2024". For a month or a year, the first day counts. The old word `locker`, as a key and after `holds`, is
still read, with a notice. `kitbuilder format --json-schema gear` prints this part for editors.
"""


_TRIP_INTRODUCTION = """# The trip file

A journey with one or more kits: what is rented there, what stays at home, the bags, and what each flight allows. It
lies in the folder of the kits that it names and begins with `holds = "trip"`; the shelf does not list it. `item` names
an item by its tag in a kit; with `kit` it means that kit alone, else every kit of the trip. Items of a kit that say
`rented = true` are rented on every trip. Of several legs, the strictest limit counts. A leg may state the airline's
own rules; where it does not, the published rules count. Confirm both with the airline.
`kitbuilder format --json-schema trip` prints this part for editors.
"""


def _section(title: str, record: type, table: str) -> str:
    rows = [_row(field, table) for field in fields_of(record)]
    head = ["| key | type and unit | default | example | meaning |", "| --- | --- | --- | --- | --- |"]
    return "\n".join([f"## {title}", "", _summary(record), "", *head, *rows, ""])


def _routes() -> Iterator[str]:
    """Give the words of `route`: what they are for, and the way they go."""
    yield "# The routes\n\nThe words that `route` accepts, the most usual first.\n"
    yield "| route | layouts | roles | landmarks at rest, from the port |\n| --- | --- | --- | --- |"
    for name, route in catalogue().routes.items():
        yield f"| {name} | {', '.join(route.layouts)} | {', '.join(route.roles)} | {'; '.join(route.path)} |"
    yield ""


def _landmarks() -> Iterator[str]:
    """Give the words of `path` and `holds`, and how to find them."""
    yield "# The landmarks\n\nThe words that `path` and `holds` accept: points on body and kit of a standing diver.\n"
    yield "| landmark | where |\n| --- | --- |"
    for name, landmark in catalogue().landmarks.items():
        yield f"| {name} | {landmark.where} |"
    yield ""


def _summary(record: type) -> str:
    return (record.__doc__ or "").strip().splitlines()[0]


def _row(field: Field, table: str) -> str:
    """Give the line of a key: what it accepts with its unit, its default, an example, and what it means."""
    meaning, _, default = field.meaning.partition(" Default: ")
    default = "**required**" if field.required else default.removesuffix(".") or "none"
    example = f"`{field.key} = {example_for(field, table)}`"
    return f"| `{field.key}` | {_accepts(field, table)} | {default} | {example} | {meaning} |"


def _accepts(field: Field, table: str) -> str:
    match field.kind:
        case ValueKind.QUANTITY:
            return f"{field.dimension}, {format_limits(field)}{_more_accepted(field)}"
        case ValueKind.QUANTITIES:
            number = f"list of {field.exactly}" if field.exactly else "list"
            return f"{number}, each a {field.dimension}, {format_limits(field)}"
        case ValueKind.GAS:
            return 'name of a gas, such as "air", "oxygen", "nitrox 31", "trimix 17/42"'
        case ValueKind.LANDMARKS:
            return f"list, at least {field.fewest}, of the landmarks below"
        case ValueKind.FILE:
            return f"{field.kind.value}, {' or '.join(field.endings)}"
        case ValueKind.CHOICE if field.vocabulary in ON_THE_PAGE:
            return f"one of the {field.vocabulary}s below"
        case ValueKind.PRICE:
            return f"{field.kind.value}, in the currency of the file"
        case ValueKind.WHOLE:
            return f"whole number: {format_choices(field)}"
        case ValueKind.CHOICE:
            return "one of " + ", ".join(f'"{word}"' for word in choices_for(field, table))
        case _:
            return str(field.kind.value)


def _more_accepted(field: Field) -> str:
    """Say what a quantity may carry, or what may stand in its place."""
    if field.takes_charge:
        return "; or voltage and charge"
    return "; may have a spread" if field.takes_spread else "; or a rated capacity" if field.takes_rating else ""


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
        case ValueKind.CHOICE:
            return {"enum": list(choices_for(field, table))} | description
        case ValueKind.WHOLE if len(field.choices) > MOST_LISTED:
            numbers = [int(word) for word in field.choices]
            return {"type": "integer", "minimum": numbers[0], "maximum": numbers[-1]} | description
        case ValueKind.WHOLE:
            return {"enum": [int(word) for word in field.choices]} | description
        case ValueKind.FLAG:
            return {"type": "boolean"} | description
        case ValueKind.PORTS | ValueKind.PORT_NAMES:
            return {"type": "array", "items": {"type": "string", "pattern": "^(LP|HP)"}} | description
        case ValueKind.TAGS:
            return {"type": "array", "items": {"type": "string", "minLength": 1}} | description
        case ValueKind.QUANTITY:
            return {"$ref": f"#/$defs/{_form_of(field)}"} | description
        case ValueKind.QUANTITIES:
            number = {"minItems": field.exactly, "maxItems": field.exactly} if field.exactly else {}
            return {"type": "array", "items": {"$ref": f"#/$defs/{_form_of(field)}"}} | number | description
        case ValueKind.LANDMARKS:
            words = {"enum": list(choices_for(field, table))}
            return {"type": "array", "items": words, "minItems": field.fewest} | description
        case ValueKind.PRICE:
            price = {"type": ["number", "string"], "minimum": 0, "pattern": r"^\s*[0-9]{1,7}(\.[0-9]{1,2})?\s*$"}
            return price | description
        case ValueKind.FILE:
            return _name_of_file(field) | description
        case ValueKind.FILES:
            return {"type": "array", "items": _name_of_file(field)} | description
        case ValueKind.PORT:
            return {"type": "string", "pattern": " (LP|HP)[A-Za-z0-9_]*$"} | description
        case ValueKind.DATE:
            return {"type": "string", "pattern": r"^\s*[0-9]{4}(-[0-9]{1,2}){0,2}\s*$"} | description
        case ValueKind.NAME | ValueKind.TAG | ValueKind.OWNED | ValueKind.KIT_ITEM:
            return {"type": "string", "minLength": 1} | description
        case _:
            return {"type": "string"} | description


def _name_of_file(field: Field) -> dict[str, Any]:
    endings = "|".join(ending.removeprefix(".") for ending in field.endings)
    return {"type": "string", "pattern": rf"^[^./\\][^/\\]*\.({endings})$"}
