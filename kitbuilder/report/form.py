"""The rows of a thing's form: each key with its value, and what is taken for it when the file does not say."""

from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.context import inlet_of, port_reference, ports_of
from kitbuilder.assess.fit import neighbour_length
from kitbuilder.assess.rules.skin import crosses_neck
from kitbuilder.assess.water import USUAL_WATER
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import Field, Kind, field_named, fields_of
from kitbuilder.kit.things import KINDS, Device, FirstStage, Header, Hose, Kit, Thing
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.report.numbers import System, shown, unit, with_spread
from kitbuilder.report.words import visible
from kitbuilder.units import convert

_SHOWN_AS = {
    "length": "radius",
    "mass": "mass",
    "buoyancy": "buoyancy",
    "density": "density",
}
"""The measure in which a quantity of a dimension is shown again in the reader's units."""


class FormRow(NamedTuple):
    """One key of a thing."""

    field: Field
    label: str
    value: str
    """As the file says; empty when it does not."""
    note: str
    """The value in the reader's units, or what is taken when the file does not say."""


class Choice(NamedTuple):
    """One word to choose, and what to know about it."""

    word: str
    note: str


def form_rows(
    assessment: Assessment, written: dict[str, str], thing: int | None, system: System
) -> tuple[FormRow, ...]:
    """The rows of a thing, or of the heading when None.

    Args:
        written: The values as the file has them, by key.
    """
    record = assessment.kit.header if thing is None else assessment.kit.things[thing]
    return tuple(
        FormRow(
            field,
            field.key.replace("_", " "),
            visible(written.get(field.key, "")),
            _converted(record, field, written[field.key], system)
            if field.key in written
            else _taken(assessment, thing, field, system),
        )
        for field in fields_of(type(record))
    )


def choices_of(kit: Kit, thing: int | None, field: Field, system: System) -> tuple[Choice, ...]:
    """The words a field may take, with a note; empty for a field that is typed."""
    table = "" if thing is None else kit.things[thing].kind
    match field.kind:
        case Kind.CHOICE | Kind.WHOLE:
            return tuple(Choice(word, _choice_note(table, field, word, system)) for word in choices_for(field, table))
        case Kind.FLAG:
            return (Choice("true", "yes"), Choice("false", "no"))
        case Kind.TAG:
            return tuple(Choice(other.tag, other.title) for other in kit.things if isinstance(other, Device))
        case Kind.PORT:
            return tuple(_port_choices(kit))
    return ()


def role_choices() -> tuple[Choice, ...]:
    """What a new hose may be for."""
    return tuple(Choice(role.name, role.note) for role in catalogue().roles.values())


def preset_choices(kind: str, system: System) -> tuple[Choice, ...]:
    """The presets of a new thing of a kind."""
    field = field_named(KINDS[kind], "preset")
    return tuple(Choice(word, _choice_note(kind, field, word, system)) for word in choices_for(field, kind))


def next_length(hose: Hose, by: int, system: System) -> str | None:
    """The next stock length up (+1) or down (-1), written as the file would; None at the end of the list."""
    length = neighbour_length(hose, by)
    return None if length is None else written_length(length, system)


def written_length(length_m: float, system: System) -> str:
    """A stock length as a file would say it: "75 cm", or "30 in", by which the same hose is sold."""
    if system is System.METRIC:
        return f"{convert(length_m, 'cm', 'length'):.3g} cm"
    return f"{round(convert(length_m, 'cm', 'length') / 2.5)} in"


def typed_note(assessment: Assessment, thing: int | None, field: Field, system: System) -> str:
    """What to say beside a value while it is typed: the same in the other units, and how to go on."""
    record = assessment.kit.header if thing is None else assessment.kit.things[thing]
    value = getattr(record, field.attribute)
    if field.kind is not Kind.QUANTITY or value is None or field.dimension not in _SHOWN_AS:
        return "accepted"
    measure = _SHOWN_AS[field.dimension]
    return f"= {shown(value, measure, system)} = {shown(value, measure, system.other)}"


def _converted(record: Header | Thing, field: Field, text: str, system: System) -> str:
    """The value again in the reader's unit, when the file is in another."""
    value = getattr(record, field.attribute)
    if field.kind is not Kind.QUANTITY or field.dimension not in _SHOWN_AS:
        return ""
    if text.endswith(unit(_SHOWN_AS[field.dimension], system)):
        return ""
    return f"= {shown(value, _SHOWN_AS[field.dimension], system)}"


def _taken(assessment: Assessment, thing: int | None, field: Field, system: System) -> str:
    """What is taken for a key the file does not have."""
    if thing is None:
        return f"{USUAL_WATER}, as usual" if field.key == "water" else ""
    record = assessment.kit.things[thing]
    if field.key == "mass":
        return _computed_mass(assessment, thing, system)
    if isinstance(record, Hose):
        return _taken_for_hose(record, field.key)
    if field.key == "inlet" and isinstance(record, Device):
        return f"{inlet}, preset" if (inlet := inlet_of(record)) else ""
    if field.key == "ports" and isinstance(record, FirstStage):
        return f"{', '.join(known)}; preset" if (known := ports_of(record)) else ""
    return ""


def _taken_for_hose(hose: Hose, key: str) -> str:
    role = catalogue().roles[hose.role]
    match key:
        case "measured":
            return "end to end, as usual"
        case "span":
            return "the whole run"
        case "from_end":
            return f"{role.from_end}, as usual"
        case "to_end":
            return f"{role.to_end}, as usual"
        case "crosses_neck":
            return f"{'yes' if crosses_neck(hose) else 'no'}, as usual"
    return ""


def _computed_mass(assessment: Assessment, thing: int, system: System) -> str:
    weight = assessment.weights[thing]
    if weight is None:
        return "not known"
    measure = "hose mass" if isinstance(assessment.kit.things[thing], Hose) else "mass"
    source = "computed" if measure == "hose mass" else "preset"
    return f"{with_spread(weight.mass, measure, system)}, {source}"


def _choice_note(table: str, field: Field, word: str, system: System) -> str:
    trade = catalogue()
    match field.vocabulary:
        case "preset":
            mass = trade.presets[table, word].mass
            return f"{shown(mass.low, 'mass', system)} to {shown(mass.high, 'mass', system)}"
        case "role":
            return trade.roles[word].note
        case "water":
            return trade.waters[word].note
        case "first stage end" | "device end":
            fitting = trade.fittings[word]
            return f"{fitting.gender} {fitting.joint}"
        case "adapter":
            return trade.adapters[word].note
        case "inlet":
            return trade.inlets[word].note
    return ""


def _port_choices(kit: Kit) -> list[Choice]:
    taken = {reference: thing.tag for thing in kit.things if (reference := port_reference(thing))}
    choices = []
    for stage in kit.things:
        if not isinstance(stage, FirstStage):
            continue
        for name, port in ports_of(stage).items():
            place = f"{stage.tag} {name}"
            state = f"taken by {taken[place]}" if place in taken else "plugged" if name in stage.plugged else "free"
            choices.append(Choice(place, f"{port.thread}, {state}"))
    return choices
