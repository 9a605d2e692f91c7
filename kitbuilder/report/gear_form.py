"""The form of an item of a gear file, and the items that a kit may name."""

from kitbuilder.assess.gear.due import dues_of, format_day
from kitbuilder.assess.gear.joinable import Candidate, candidates_for
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.gear import OUT_OF_USE, Gear, Owned
from kitbuilder.kit.items import Item
from kitbuilder.kit.owned import changes_to_take_up
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.report.cells import format_line
from kitbuilder.report.form import Choice, FormRow, form_rows, usual_unit
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.owned import owned_words
from kitbuilder.units import convert

DEFAULTS = {
    "condition": "in order (default)",
    "oxygen_clean": "no (default)",
    "pieces": "1 (default)",
    "measured": "end to end (default)",
}
"""What is taken for a key of any kind."""


def gear_rows(gear: Gear, raw_values: dict[str, str], item: int | None, system: System) -> tuple[FormRow, ...]:
    """Give the rows of the form of an item; beside a date stands when what counts from it is due first."""
    entry = None if item is None else gear.items[item]
    rows = form_rows(gear, raw_values, item, system, lambda field: default_in_gear(entry, field, system))
    due = {} if entry is None else {due.interval.since: due for due in reversed(dues_of(entry, gear.header.region))}
    return tuple(
        row._replace(note=f"due {format_day(due[row.field.key].on)}") if row.field.key in due else row for row in rows
    )


def owned_choices(kit: ResolvedKit, item: int, system: System) -> tuple[Choice, ...]:
    """Give the items of the gear file that an item of a kit can be, those that can be built with first."""
    return tuple(Choice(each.entry.tag, _candidate_note(each, system)) for each in candidates_for(kit, item))


def _candidate_note(candidate: Candidate, system: System) -> str:
    """Say what it is, and before that why it may not be the one."""
    entry = candidate.entry
    doubts = (
        f"cannot be joined: {candidate.reasons[0]}" if candidate.reasons else "",
        f'is "{candidate.taken_by}" already' if candidate.taken_by else "",
        entry.condition if entry.condition == OUT_OF_USE else "",
    )
    return "; ".join(filter(None, (*doubts, format_owned(entry, system))))


def values_to_take_up(item: Item, entry: Owned, written: dict[str, str], system: System) -> dict[str, TomlValue | None]:
    """Give the keys to set so that an item of a kit is one of the gear file; None takes a key out.

    Args:
        item: As the kit's own file has it.
        entry: The item of the gear file.
        written: The values as the kit file has them, by key; a quantity keeps its unit.
        system: The reader's units.
    """
    fields = {field.attribute: field for field in fields_of(type(item))}
    values: dict[str, TomlValue | None] = {"owned": entry.tag}
    for name, value in changes_to_take_up(item, entry).items():
        field = fields[name]
        if isinstance(value, float):
            unit = usual_unit(field, written.get(field.key, ""), system)
            values[field.key] = f"{convert(value, unit, field.dimension):.7g} {unit}"
        else:
            assert value is None or isinstance(value, str), f"{name} is neither a quantity nor a word"
            values[field.key] = value
    return values


def format_owned(item: Owned, system: System) -> str:
    """Write what an item is, in the reader's units."""
    return format_line(owned_words(item), system)


def default_in_gear(item: Owned | None, field: Field, system: System) -> str:
    """Say what is taken for a key that a gear file does not have."""
    if item is None:
        return "common practice only" if field.key == "region" else ""
    if field.kind is ValueKind.DATE:
        return "not given"
    if field.key in DEFAULTS:
        return DEFAULTS[field.key]
    preset = catalogue().presets.get((item.kind, getattr(item, "preset", None) or ""))
    if preset is None:
        return ""
    match field.key:
        case "mass":
            return f"{shown(preset.mass.low, 'mass', system)} to {shown(preset.mass.high, 'mass', system)}, preset"
        case "inlet":
            return f"{preset.inlet}, preset" if preset.inlet else ""
        case "connection":
            return f"{preset.connection}, preset" if preset.connection else ""
        case "ports":
            return f"{', '.join(row.split(' ', 1)[0] for row in preset.ports)}; preset"
    return ""
