"""A change of the values of one item of a kit file, as data: tried on a resolved kit, made on a document."""

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple, TypeVar

from kitbuilder.kit.fields import Field, fields_of
from kitbuilder.kit.items import Header, Item, Kit
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit, resolve

RecordT = TypeVar("RecordT", bound=Header | Item)


class ItemEdit(NamedTuple):
    """What becomes of some values of one item."""

    number: int | None
    """Of the item in its kit; None for the keys at the top of the file."""
    values: Mapping[str, Any]
    """By attribute, in SI; None takes a key out of the file."""


def with_edits(kit: ResolvedKit, edits: Sequence[ItemEdit], linked: LinkedFiles | None = None) -> ResolvedKit:
    """Give a kit as its file would say it after some edits.

    Args:
        kit: The kit as it is.
        edits: What changes in its own file.
        linked: What its other files say; as they are when None.
    """
    own = kit.unresolved
    items, header = list(own.items), own.header
    for edit in edits:
        if edit.number is None:
            header = with_values(header, edit.values)
        else:
            items[edit.number] = with_values(items[edit.number], edit.values)
    changed = Kit(header, tuple(items), old_words=own.old_words)
    return resolve(changed, kit.linked if linked is None else linked, kit.lines)


def field_of_edit(kit: Kit, edit: ItemEdit, attribute: str) -> Field:
    """Give the key that an attribute of an edit is written as."""
    record = Header if edit.number is None else type(kit.items[edit.number])
    return next(field for field in fields_of(record) if field.attribute == attribute)


def with_values(record: RecordT, values: Mapping[str, Any]) -> RecordT:
    """Set values; what a reading said of its own spread goes with the reading."""
    fields = {field.attribute: field for field in fields_of(type(record))}
    beside: dict[str, Any] = {}
    for name in values:
        if fields[name].keeps_spread:
            beside[fields[name].spread_attribute] = None
        if fields[name].takes_spread:
            beside[fields[name].half_digit_attribute] = None
    return dataclasses.replace(record, **(beside | dict(values)))


GIVEN_BY_ONE_SPECIMEN = (
    "mass_kg",
    "stamped_mass_kg",
    "buoyancy_kgf",
    "density_kg_m3",
    "volume_m3",
    "lift_kgf",
    "suit_gas_m3",
    "area_m2",
    "bore_m",
    "make",
)
"""What was weighed, measured or read off one specimen, and does not hold for another in its place."""


def of_another_specimen(item: Item) -> dict[str, object]:
    """Give the values to take out of an item when another specimen takes its place."""
    given = (name for name in GIVEN_BY_ONE_SPECIMEN if getattr(item, name, None) is not None)
    return dict.fromkeys(given)
