"""The form of an entry of a trip file, and the items of its kits that an entry may name."""

from kitbuilder.assess.defaults import default_in_trip
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kit.trip import OfKits, OfLuggage
from kitbuilder.report.form import Choice, FormRow, choices_of, form_rows, format_default
from kitbuilder.report.numbers import System

WITHOUT_ENTRY = "The trip file says nothing of this row. enter puts an item elsewhere, a adds what the trip needs."
"""What the form of an item says of which the trip file has no entry."""


def trip_rows(trip: ResolvedTrip, raw_values: dict[str, str], item: int | None, system: System) -> tuple[FormRow, ...]:
    """Build the rows of the form of an entry, or of the top of the file when `item` is None.

    Args:
        trip: What the file says.
        raw_values: The values as the file has them, by key.
        item: The number of the entry.
        system: The reader's units.
    """

    def taken(field: Field) -> str:
        return format_default(default_in_trip(trip, item, field.key), system)

    return form_rows(trip, raw_values, item, system, taken)


def trip_choices(
    trip: ResolvedTrip, item: int | None, field: Field, system: System, files: tuple[str, ...] = ()
) -> tuple[Choice, ...]:
    """List the words that a field of a trip file may take; empty for a field that is typed.

    Args:
        trip: What the file says.
        item: The number of the entry; None for the top of the file.
        field: The field.
        system: The reader's units.
        files: The kit files of the folder.
    """
    if field.kind is ValueKind.FILE:
        elsewhere = tuple(Choice(name, "" if name in trip.header.kits else "does not travel") for name in files)
    else:
        elsewhere = _items(trip, item)
    return choices_of(trip, item, field, system, elsewhere)


def _items(trip: ResolvedTrip, item: int | None) -> tuple[Choice, ...]:
    """List the items of the kits that an entry may be about, each tag once, and luggage where it may be."""
    entry = None if item is None else trip.items[item]
    kit = entry.kit if isinstance(entry, OfKits) else None
    notes = dict[str, list[str]]()
    for found in trip.every_item():
        if kit in (None, found.file):
            notes.setdefault(found.item.tag, []).append(f"{found.item.title}, {found.file}")
    luggage = trip.luggage if isinstance(entry, OfLuggage) and kit is None else ()
    return (
        *(Choice(tag, "; ".join(said)) for tag, said in notes.items()),
        *(Choice(each.tag, each.title) for each in luggage if each.tag not in notes),
    )
