"""The form of an item of a gear file, and the items that a kit may name."""

from kitbuilder.assess.gear.due import dues_of, format_day
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.gear import Gear, Owned
from kitbuilder.report.cells import format_line
from kitbuilder.report.form import Choice, FormRow, form_rows
from kitbuilder.report.numbers import System, shown
from kitbuilder.report.owned import owned_words

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


def owned_choices(gear: Gear | None, kind: str, system: System) -> tuple[Choice, ...]:
    """Give the items of a gear file that an item of a kit may be; none without a gear file."""
    entries = gear.items if gear else ()
    return tuple(Choice(entry.tag, format_owned(entry, system)) for entry in entries if entry.kind == kind)


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
