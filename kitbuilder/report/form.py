"""The rows of an item's form: each key with its value, and what is taken for it when the file does not say."""

import re
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from typing import NamedTuple

from kitbuilder.assess.defaults import MEASURE_OF, Default
from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import ByUnits
from kitbuilder.assess.fit.routes import ranked_routes
from kitbuilder.assess.fit.stock_lengths import neighbour_length
from kitbuilder.assess.gear.due import format_day
from kitbuilder.assess.rules.context import port_states
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import SEEN
from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.file_kinds import Contents
from kitbuilder.kit.items import Cylinder, Device, Entry, Hose, Kit, Other
from kitbuilder.kit.spare import worn_or_spare
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.starters import WHICH
from kitbuilder.report.cells import format_line
from kitbuilder.report.lengths import written_length
from kitbuilder.report.numbers import System, digits, shown, unit, with_spread
from kitbuilder.spellings import pattern_of_units, spellings_of, with_sign, with_unit
from kitbuilder.units import unit_written


class FormRow(NamedTuple):
    """One key of an item."""

    field: Field
    label: str
    value: str
    """As the file says; empty when it does not."""
    note: str
    """The value in the reader's units and where it comes from, or what is taken when the file does not say."""


class Choice(NamedTuple):
    """One word to choose, and what to know about it."""

    word: str
    note: str
    list_name: str = ""
    """The list of everyday words by which it is found too; empty for none."""


def form_rows(
    contents: Contents, raw_values: dict[str, str], item: int | None, system: System, taken: Callable[[Field], str]
) -> tuple[FormRow, ...]:
    """Build the rows of the form of one entry, or of the top of the file when `item` is None.

    Args:
        contents: What the file says.
        raw_values: The values as the file has them, by key.
        item: The number of the entry.
        system: The reader's units.
        taken: What to say of a key the file does not have.
    """
    record = contents.header if item is None else contents.items[item]
    return tuple(
        FormRow(
            field,
            field.label,
            visible(raw_values.get(field.key, "")),
            _said_of(record, field, raw_values[field.key], system) if field.key in raw_values else taken(field),
        )
        for field in fields_of(type(record))
    )


def choices_of(
    contents: Contents, item: int | None, field: Field, system: System, elsewhere: tuple[Choice, ...] = ()
) -> tuple[Choice, ...]:
    """List the words a field may take, each with a note; empty for a field that is typed.

    Args:
        contents: What the file says.
        item: The number of the entry; None for the top of the file.
        field: The field.
        system: The reader's units.
        elsewhere: What other files offer: their own names, or the items of the gear file.
    """
    table = "" if item is None else contents.items[item].kind
    entry = None if item is None else contents.items[item]
    if field.vocabulary == "route" and isinstance(contents, Kit) and isinstance(entry, Hose):
        return route_choices(entry, contents.header.layout)
    match field.kind:
        case ValueKind.CHOICE | ValueKind.WHOLE:
            name = table if field.key in WHICH else field.key
            words = choices_for(field, table)
            return tuple(Choice(word, _choice_note(table, field, word, system), name) for word in words)
        case ValueKind.FLAG:
            return (Choice("true", "yes"), Choice("false", "no"))
        case ValueKind.FILE | ValueKind.OWNED | ValueKind.KIT_ITEM:
            return elsewhere
        case ValueKind.TAG:
            others = [other for other in contents.items if other is not entry and _may_name(field, other)]
            others.sort(key=lambda other: field.vocabulary == "any" and other.kind != Other.kind)  # bags first
            return tuple(Choice(other.tag, other.title) for other in others)
        case ValueKind.PORT if isinstance(contents, Kit):
            return tuple(_port_choices(contents))
    return ()


def _may_name(field: Field, other: Entry) -> bool:
    """Say whether the tag of an item may stand in a field."""
    match field.vocabulary:
        case "any":
            return True
        case "":
            return isinstance(other, Device)
        case kind:
            return other.kind == kind


def route_choices(hose: Hose, layout: str) -> tuple[Choice, ...]:
    """List the routes: those of the hose's role and layout, then those of its role, then the rest of the layout."""
    return tuple(
        Choice(route.name, "usual" if is_usual else f"{', '.join(route.roles)}; {', '.join(route.layouts)}")
        for route, is_usual in ranked_routes(hose.role, layout)
    )


def landmark_choices() -> tuple[Choice, ...]:
    """List every landmark, with where it is."""
    return tuple(Choice(landmark.name, landmark.where) for landmark in catalogue().landmarks.values())


def narrowed(typed: str, choices: Sequence[Choice]) -> tuple[Choice, ...]:
    """Give the choices that fit what is typed, the best first.

    Masses and sizes in a note do not count: a reading of a scale typed there by mistake is no search.
    """
    from kitbuilder.catalogue.everyday_words import entry_of
    from kitbuilder.word_search import search

    entries = [entry_of(choice.list_name, (choice.word,), _quantity().sub("", choice.note)) for choice in choices]
    return tuple(choices[found.number] for found in search(typed, entries))


@cache
def _quantity() -> re.Pattern[str]:
    """Give the pattern of a quantity or a range in a note: "2.10 kg", "1.20 to 2.60 lb"."""
    units = pattern_of_units(unit for name in ("mass", "length", "volume", "pressure") for unit in spellings_of(name))
    return re.compile(rf"[0-9][0-9.,]*(?:\s+to\s+[0-9][0-9.,]*)?\s*{units}(?!\w)")


def water_choices() -> tuple[Choice, ...]:
    """List the waters to choose from."""
    return tuple(Choice(water.name, water.note, "water") for water in catalogue().waters.values())


def cylinder_choices(first: tuple[str, ...], system: System) -> tuple[Choice, ...]:
    """List the cylinders to choose from, some of them first."""
    presets = catalogue().cylinders
    names = (*first, *(name for name in presets if name not in first))
    return tuple(
        Choice(name, f"{shown(presets[name].mass.value, 'mass', system)} without valve", "cylinder") for name in names
    )


def next_length(hose: Hose, by: int, system: System) -> str | None:
    """Find the next stock length up (+1) or down (-1), written as in the file; None at the end of the list."""
    length = neighbour_length(hose, by)
    return None if length is None else written_length(length, system)


def with_usual_unit(field: Field, typed: str, written: str, system: System) -> str:
    """Add a unit to a typed number that has none: that of the value it replaces, else the usual one of the field.

    A buoyancy may have its sign in words: "sinks 150 g".

    Args:
        field: What it is typed for.
        typed: What was typed.
        written: The present value as the file has it; may be empty.
        system: The reader's units.
    """
    if field.kind is not ValueKind.QUANTITY:
        return typed
    number = with_sign(typed) if field.dimension == "buoyancy" else typed
    return with_unit(number, usual_unit(field, written, system), field.dimension)


def usual_unit(field: Field, written: str, system: System) -> str:
    """Give the unit that a bare number takes: that of the value it replaces, else the one of the field's example."""
    if unit_now := unit_written(written, field.dimension):
        return unit_now
    usual = unit_written(field.example.strip('"'), field.dimension)
    return IN_IMPERIAL.get(usual, usual) if system is System.IMPERIAL else usual


IN_IMPERIAL = {
    "mm": "in",
    "cm": "in",
    "m": "ft",
    "g": "oz",
    "kg": "lb",
    "bar": "psi",
    "L": "cu ft",
    "m2": "ft2",
    "kg/m3": "lb/ft3",
    "°C": "°F",
}
"""The unit that readers of imperial units write, by that of a field's example."""


def typed_note(contents: Contents, item: int | None, field: Field, system: System) -> str:
    """Say what a typed value is in the other units, and how to go on typing."""
    record = contents.header if item is None else contents.items[item]
    value = getattr(record, field.attribute)
    if field.kind is ValueKind.DATE and value is not None:
        return format_day(value)
    if field.kind is not ValueKind.QUANTITY or value is None or field.dimension not in MEASURE_OF:
        return "accepted"
    both = [_in_units(record, field, each, is_in_words=True) for each in (system, system.other)]
    return f"= {both[0]} = {both[1]}"


def _said_of(record: object, field: Field, text: str, system: System) -> str:
    """Say of a given value what it is in the reader's units, and where it comes from: "= 26 in, by string"."""
    return ", ".join(filter(None, (_converted(record, field, text, system), field.origin)))


def _converted(record: object, field: Field, text: str, system: System) -> str:
    """Convert a value to the reader's unit when the file uses another one; write a date in words."""
    value = getattr(record, field.attribute)
    if field.kind is ValueKind.DATE:
        return format_day(value)
    if field.kind is not ValueKind.QUANTITY or field.dimension not in MEASURE_OF:
        return ""
    if text.endswith(unit(MEASURE_OF[field.dimension], system)) or (system is System.METRIC and text.endswith("m")):
        return ""
    return f"= {_in_units(record, field, system)}"


def _in_units(record: object, field: Field, system: System, *, is_in_words: bool = False) -> str:
    """Write a quantity in the reader's units, with its spread where the file gives one.

    The sign of a buoyancy is a word while it is typed ("floats 0.15 kg"): a missing minus is easily overlooked.
    """
    value, measure = getattr(record, field.attribute), MEASURE_OF[field.dimension]
    spread = getattr(record, field.spread_attribute) if field.keeps_spread else None
    if is_in_words and measure == "buoyancy" and value:
        size = _with_given_spread(abs(value), spread, "mass", system)
        return f"{'floats' if value > 0 else 'sinks'} {size}"
    return _with_given_spread(value, spread, measure, system)


def _with_given_spread(value: float, spread: float | None, measure: str, system: System) -> str:
    if spread is None:
        return shown(value, measure, system)
    return with_spread(Figure(value, {"as given": spread}, "as given"), measure, system)


def format_default(default: Default | None, system: System) -> str:
    """Write what is used for a key that the file does not have, and where it comes from: "12.0 ± 0.1 L, preset"."""
    if default is None:
        return ""
    if not default.source:
        return default_value(default, system)
    between = "; " if isinstance(default.value, tuple) and not default.measure else ", "
    return f"{default_value(default, system)}{between}{default.source}"


def default_value(default: Default, system: System) -> str:
    """Say which default applies to a key that the file does not have."""
    match default.value:
        case Figure() as figure:
            return with_spread(figure, default.measure, system)
        case Range(_, low, high):
            return f"{digits(low, default.measure, system)} to {shown(high, default.measure, system)}"
        case float() | int() as amount:
            return shown(amount, default.measure, system)
        case str() as word:
            return visible(word)
        case ByUnits() as words:
            return format_line((words,), system)
        case several:
            return visible(", ".join(several))


def _choice_note(table: str, field: Field, word: str, system: System) -> str:
    trade = catalogue()
    if field.key == "seen":
        return SEEN[word]
    match field.vocabulary:
        case "preset":
            mass = (trade.cylinders[word] if table == Cylinder.kind else trade.presets[table, word]).mass
            return f"{shown(mass.low, 'mass', system)} to {shown(mass.high, 'mass', system)}"
        case "valve":
            return trade.valves[word].note
        case "cut":
            return trade.cuts[word].note
        case "foam":
            return trade.foams[word].note
        case "place":
            return trade.places[word].note
        case "undersuit":
            gas = trade.undersuits[word].gas
            return f"holds {shown(gas.low, 'volume', system)} to {shown(gas.high, 'volume', system)} of gas"
        case "role":
            return trade.roles[word].note
        case "water":
            return trade.waters[word].note
        case "first stage end" | "device end":
            fitting = trade.fittings[word]
            return f"{fitting.gender} {fitting.joint}"
        case "adapter":
            return trade.adapters[word].note
        case "thread":
            return trade.threads[word].used_for
        case "o-ring":
            return bench_work().o_rings[word].used_for
        case "inlet":
            return trade.inlets[word].note
    return ""


def _port_choices(kit: Kit) -> Iterator[Choice]:
    for found in port_states([worn_or_spare(item) for item in kit.items]):
        state = f"taken by {', '.join(found.taken_by)}" if found.taken_by else found.state
        yield Choice(found.reference, f"{found.port.thread}, {state}")
