"""Edits that a plan lists, made on a document: as one step, so that one undo takes them back."""

from collections.abc import Sequence

from kitbuilder.kit.fields import Field
from kitbuilder.kit.item_edit import ItemEdit, field_of_edit
from kitbuilder.kit.items import Kit
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.values import parse_value
from kitbuilder.units import convert

UNITS = {"length": ("cm", "mm", "in", "m"), "mass": ("kg", "g", "lb")}
"""What a length or a mass is written in: the first that gives back the same number."""
THIN_M = 0.02
"""A length below it is written in millimetres, as the thickness of foam is."""
DIGITS = (6, 9, 12, 17)


def apply_edits(document: Document, edits: Sequence[ItemEdit]) -> None:
    """Make edits on the document of a kit, as one step of its history.

    Raises:
        RefusedEdit: A value is not accepted there; nothing was changed.
        ValueError: The document is not a kit.
    """
    kit = document.reading.kit
    if kit is None:
        raise ValueError(f"{document.path.name} is not a kit")
    document.set_items(written_edits(kit, edits))


def written_edits(kit: Kit, edits: Sequence[ItemEdit]) -> list[tuple[int | None, dict[str, TomlValue | None]]]:
    """Give edits as a file has them: the number of each item, and its values by key; None takes a key out."""
    written: list[tuple[int | None, dict[str, TomlValue | None]]] = []
    for edit in edits:
        table = "" if edit.number is None else kit.items[edit.number].kind
        fields = {field_of_edit(kit, edit, name): value for name, value in edit.values.items()}
        written.append((edit.number, {field.key: _written(field, table, value) for field, value in fields.items()}))
    return written


def _written(field: Field, table: str, value: object) -> TomlValue | None:
    """Write a value so that reading it gives the same one."""
    if isinstance(value, float):
        units = UNITS[field.dimension]
        if field.dimension == "length" and value < THIN_M:
            units = ("mm", *units)
        forms = (f"{convert(value, unit, field.dimension):.{n}g} {unit}" for n in DIGITS for unit in units)
        return next(form for form in forms if parse_value(field, table, form) == value)
    assert value is None or isinstance(value, bool | str), f"{field.key} is neither a quantity nor a word"
    return value
