"""The words in which an answer's JSON is declared, and the JSON Schema made of them.

Each builder of pages declares the shape of its answer as `SHAPE`, by hand: it is a promise to programs, and a test
holds every answer against it.
"""

from typing import Any

from kitbuilder.report.answer import FORMAT
from kitbuilder.report.meanings import MEANINGS

Shape = dict[str, Any]
"""A JSON Schema (draft 2020-12), or a part of one."""

TEXT: Shape = {"type": "string"}
NUMBER: Shape = {"type": "number"}
COUNT: Shape = {"type": "integer", "minimum": 0}
FLAG: Shape = {"type": "boolean"}
DAY: Shape = {"type": "string", "format": "date"}
SHARE: Shape = {"type": "number", "minimum": 0, "maximum": 1}
FIGURE: Shape = {"$ref": "#/$defs/figure"}
INTERVAL: Shape = {"$ref": "#/$defs/interval"}
LIMITS: Shape = {"$ref": "#/$defs/limits"}
SIGNAL: Shape = {"enum": ["notice", "caution", "warning", "danger"]}


def record(**keys: Shape) -> Shape:
    """Declare an object with exactly these keys; a key that may have no value is `optional`.

    A key of `MEANINGS` is described in the schema.
    """
    described = {
        key: {**shape, "description": MEANINGS[key]} if key in MEANINGS else shape for key, shape in keys.items()
    }
    return {"type": "object", "properties": described, "required": [*keys], "additionalProperties": False}


def listed(shape: Shape) -> Shape:
    """Declare an array."""
    return {"type": "array", "items": shape}


def mapped(shape: Shape) -> Shape:
    """Declare an object whose keys are words of the catalogue or of a file."""
    return {"type": "object", "additionalProperties": shape}


def optional(shape: Shape) -> Shape:
    """Declare a value that may be null: not known, or not there."""
    return {"anyOf": [shape, {"type": "null"}]}


def any_of(*shapes: Shape) -> Shape:
    """Declare a value that has one of several shapes."""
    return {"anyOf": [*shapes]}


def one_of(*words: str) -> Shape:
    """Declare a word out of a few."""
    return {"enum": [*words]}


def _with_optional(shape: Shape, **keys: Shape) -> Shape:
    """Let an object have these keys as well, which may be left out together."""
    return shape | {"properties": shape["properties"] | keys, "dependentRequired": {key: [*keys] for key in keys}}


DEFINITIONS: Shape = {
    "figure": _with_optional(
        record(value=NUMBER, spread={"type": "number", "minimum": 0}, origin=TEXT), low=NUMBER, high=NUMBER
    )
    | {
        "description": "The mean, the half-width of the range that covers 95 %, and where they come from; the ends of "
        "that range as well where it reaches much farther to one side than to the other."
    },
    "interval": record(value=NUMBER, low=NUMBER, high=NUMBER)
    | {"description": "A value and both ends of the range it may lie in."},
    "limits": record(low=NUMBER, high=NUMBER),
}
FILE = record(file=TEXT, holds=one_of("kit", "diver", "stock", "gear", "trip"), name=TEXT)
PROBLEM = record(file=optional(TEXT), line=optional(COUNT), place=TEXT, found=TEXT, accepted=TEXT, message=TEXT)


def answer_schema(command: str, shape: Shape) -> Shape:
    """Make the JSON Schema of everything that a command prints as JSON: the envelope with its result."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": f"urn:kitbuilder:{command}-answer:{FORMAT}",
        "title": f"What kitbuilder {command} --json prints",
        "description": "Quantities are in SI units, which the keys name; kgf is the kilogram-force. `result` is null "
        "when nothing could be worked out; `problems` say why.",
        **record(
            format={"const": FORMAT},
            command={"const": command},
            files=listed(FILE),
            problems=listed(PROBLEM),
            result=optional(shape),
        ),
        "$defs": DEFINITIONS,
    }
