"""The rows of a thing's form: each key with its value, and what is taken for it when the file does not say."""

from collections.abc import Callable
from dataclasses import replace
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.context import inlet_of, port_reference, ports_of
from kitbuilder.assess.cylinder_weight import USUAL_VALVE, work_out_vessel
from kitbuilder.assess.due import day_words
from kitbuilder.assess.fit import neighbour_length
from kitbuilder.assess.float_checks import deepest_of, stop_of
from kitbuilder.assess.on_body.routes import route_of, usual_routes
from kitbuilder.assess.rules.skin import crosses_neck
from kitbuilder.assess.trim import carried_as, place_of
from kitbuilder.assess.water import USUAL_WATER
from kitbuilder.catalogue import Route, catalogue
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.foreign import visible
from kitbuilder.kit.diver import SEEN
from kitbuilder.kit.fields import Field, Kind, field_named, fields_of
from kitbuilder.kit.files import KIT_FILE, Contents, FileKind
from kitbuilder.kit.owned import shared_attributes
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kit.things import Cylinder, Device, Entry, FirstStage, Hose, Kit, Lead, Other, Thing
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.starters import which_key
from kitbuilder.report.numbers import System, shown, unit, with_spread
from kitbuilder.units import convert

_SHOWN_AS = {
    "length": "radius",
    "mass": "mass",
    "buoyancy": "buoyancy",
    "density": "density",
    "volume": "volume",
    "pressure": "pressure",
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
    contents: Contents, written: dict[str, str], thing: int | None, system: System, taken: Callable[[Field], str]
) -> tuple[FormRow, ...]:
    """The rows of an entry of a file, or of its top when None.

    Args:
        contents: What the file says.
        written: The values as the file has them, by key.
        thing: The number of the entry.
        system: The reader's units.
        taken: What to say of a key the file does not have.
    """
    record = contents.header if thing is None else contents.things[thing]
    return tuple(
        FormRow(
            field,
            field.key.replace("_", " "),
            visible(written.get(field.key, "")),
            _converted(record, field, written[field.key], system) if field.key in written else taken(field),
        )
        for field in fields_of(type(record))
    )


def choices_of(
    contents: Contents, thing: int | None, field: Field, system: System, elsewhere: tuple[Choice, ...] = ()
) -> tuple[Choice, ...]:
    """The words a field may take, with a note; empty for a field that is typed.

    Args:
        contents: What the file says.
        thing: The number of the entry; None for the top of the file.
        field: The field.
        system: The reader's units.
        elsewhere: What other files offer: their own names, or the things of the locker.
    """
    table = "" if thing is None else contents.things[thing].kind
    entry = None if thing is None else contents.things[thing]
    if field.vocabulary == "route" and isinstance(contents, Kit) and isinstance(entry, Hose):
        return route_choices(entry, contents.header.layout)
    match field.kind:
        case Kind.CHOICE | Kind.WHOLE:
            return tuple(Choice(word, _choice_note(table, field, word, system)) for word in choices_for(field, table))
        case Kind.FLAG:
            return (Choice("true", "yes"), Choice("false", "no"))
        case Kind.FILE | Kind.OWNED:
            return elsewhere
        case Kind.TAG:
            others = [other for other in contents.things if other is not entry and _may_name(field, other)]
            others.sort(key=lambda other: field.vocabulary == "any" and other.kind != Other.kind)  # bags first
            return tuple(Choice(other.tag, other.title) for other in others)
        case Kind.PORT if isinstance(contents, Kit):
            return tuple(_port_choices(contents))
    return ()


def _may_name(field: Field, other: Entry) -> bool:
    """Whether the tag of a thing may stand in a field."""
    match field.vocabulary:
        case "any":
            return True
        case "":
            return isinstance(other, Device)
        case kind:
            return other.kind == kind


def route_choices(hose: Hose, layout: str) -> tuple[Choice, ...]:
    """The routes: those of the hose's role and layout, then those of its role, then all others of the layout."""
    routes = catalogue().routes.values()
    usual = usual_routes(hose.role, layout)
    others = sorted((route for route in routes if route not in usual), key=lambda route: _rank(route, hose, layout))
    return tuple(Choice(route.name, _note(route, hose, layout)) for route in (*usual, *others))


def _rank(route: Route, hose: Hose, layout: str) -> tuple[bool, bool]:
    return hose.role not in route.roles, layout not in route.layouts


def _note(route: Route, hose: Hose, layout: str) -> str:
    if hose.role in route.roles and layout in route.layouts:
        return "usual"
    return f"{', '.join(route.roles)}; {', '.join(route.layouts)}"


def landmark_choices() -> tuple[Choice, ...]:
    """Every landmark, with where it is."""
    return tuple(Choice(landmark.name, landmark.where) for landmark in catalogue().landmarks.values())


def which_choices(kind: str, system: System, file: FileKind = KIT_FILE) -> tuple[Choice, ...]:
    """The words that say which one of its kind a new thing of a file is."""
    key = which_key(kind, file)
    if key is None:
        return ()
    field = field_named(file.kinds[kind], key)
    return tuple(Choice(word, _choice_note(kind, field, word, system)) for word in choices_for(field, kind))


def water_choices() -> tuple[Choice, ...]:
    """The waters to choose from."""
    return tuple(Choice(water.name, water.note) for water in catalogue().waters.values())


def cylinder_choices(first: tuple[str, ...], system: System) -> tuple[Choice, ...]:
    """The cylinders to choose from, some of them first."""
    presets = catalogue().cylinders
    names = (*first, *(name for name in presets if name not in first))
    return tuple(Choice(name, f"{shown(presets[name].mass.value, 'mass', system)} without valve") for name in names)


def next_length(hose: Hose, by: int, system: System) -> str | None:
    """The next stock length up (+1) or down (-1), written as the file would; None at the end of the list."""
    length = neighbour_length(hose, by)
    return None if length is None else written_length(length, system)


def written_length(length_m: float, system: System) -> str:
    """A length as a file would say it: "75 cm"; in inches "30 in", by which that stock hose is sold, else exactly."""
    if system is System.METRIC:
        return f"{convert(length_m, 'cm', 'length'):.3g} cm"
    stock = (known for lengths in catalogue().stock_lengths.values() for known in lengths)
    if any(abs(length_m - known) < SAME_M for known in stock):
        return f"{round(convert(length_m, 'cm', 'length') / 2.5)} in"
    return f"{convert(length_m, 'in', 'length'):.1f} in"


SAME_M = 1e-6
"""Two lengths that differ by less are one, written in two units."""


def typed_note(contents: Contents, thing: int | None, field: Field, system: System) -> str:
    """What to say beside a value while it is typed: the same in the other units, and how to go on."""
    record = contents.header if thing is None else contents.things[thing]
    value = getattr(record, field.attribute)
    if field.kind is Kind.DATE and value is not None:
        return day_words(value)
    if field.kind is not Kind.QUANTITY or value is None or field.dimension not in _SHOWN_AS:
        return "accepted"
    measure = _SHOWN_AS[field.dimension]
    return f"= {shown(value, measure, system)} = {shown(value, measure, system.other)}"


def _converted(record: object, field: Field, text: str, system: System) -> str:
    """The value again in the reader's unit, when the file is in another; a date in words."""
    value = getattr(record, field.attribute)
    if field.kind is Kind.DATE:
        return day_words(value)
    if field.kind is not Kind.QUANTITY or field.dimension not in _SHOWN_AS:
        return ""
    if text.endswith(unit(_SHOWN_AS[field.dimension], system)) or (system is System.METRIC and text.endswith("m")):
        return ""
    return f"= {shown(value, _SHOWN_AS[field.dimension], system)}"


def taken_in_kit(assessment: Assessment, thing: int | None, field: Field, system: System) -> str:
    """What is taken for a key that a kit file does not have."""
    if thing is None:
        return _taken_for_kit(assessment.kit, field.key, system)
    record = assessment.kit.things[thing]
    if told := _told_by_locker(assessment, record, field, system):
        return f"{told}, from the locker"
    if field.key in ("place", "along", "behind"):
        return _taken_for_place(assessment, thing, field.key, system)
    if isinstance(record, Lead):
        return {"pieces": "1, unless said", "droppable": "no, unless said"}.get(field.key, "")
    if isinstance(record, Cylinder):
        return _taken_for_cylinder(assessment, record, field.key, system)
    if field.key == "mass":
        return _computed_mass(assessment, thing, system)
    if isinstance(record, Hose):
        return _taken_for_hose(assessment, record, field.key, system)
    if field.key == "side" and isinstance(record, FirstStage):
        return "as its tag says"
    if field.key == "inlet" and isinstance(record, Device):
        return f"{inlet}, preset" if (inlet := inlet_of(record)) else ""
    if field.key == "ports" and isinstance(record, FirstStage):
        return f"{', '.join(known)}; preset" if (known := ports_of(record)) else ""
    return ""


def _told_by_locker(assessment: Assessment, record: Thing, field: Field, system: System) -> str:
    """What the locker says where the kit does not; empty when it does not either."""
    locker = assessment.kit.linked.locker
    entry = locker.thing(record.owned) if locker and record.owned else None
    if entry is None or entry.kind != record.kind or field.attribute not in shared_attributes(record.kind):
        return ""
    value = getattr(entry, field.attribute)
    if value is None or value == ():
        return ""
    if field.kind is Kind.QUANTITY and field.dimension in _SHOWN_AS:
        return shown(value, _SHOWN_AS[field.dimension], system)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(value) if isinstance(value, tuple) else visible(f"{value}")


def _taken_for_place(assessment: Assessment, thing: int, key: str, system: System) -> str:
    """The usual place, and where its middle then lies."""
    if key == "place":
        return f"{place_of(assessment.kit.things[thing], assessment.kit.header.layout).name}, as usual"
    spots = assessment.balance.trim.spots if assessment.balance else ()
    spot = next((spot for spot in spots if spot.thing == thing), None)
    if spot is None:
        return ""
    return f"{shown(spot.along_m if key == 'along' else spot.behind_m, 'length', system)}, of its place"


def _taken_for_kit(kit: ResolvedKit, key: str, system: System) -> str:
    match key:
        case "water":
            return f"{USUAL_WATER}, as usual"
        case "deepest":
            return f"{shown(deepest_of(kit), 'depth', system)}, as usual"
        case "stop":
            return f"{shown(stop_of(kit), 'depth', system)}, as usual"
        case "stock":
            return "every customary length"
    return ""


def _taken_for_cylinder(assessment: Assessment, cylinder: Cylinder, key: str, system: System) -> str:
    """What the preset, or custom, says of a cylinder."""
    vessel = work_out_vessel(cylinder, assessment.water)
    if vessel is None:
        return ""
    match key:
        case "metal":
            return f"{vessel.metal}, preset"
        case "volume":
            return f"{with_spread(vessel.volume, 'volume', system)}, preset"
        case "working_pressure":
            return f"{shown(vessel.working_pressure_pa, 'pressure', system)}, preset"
        case "mass":
            return f"{with_spread(vessel.empty.mass, 'mass', system)}, {vessel.empty.mass.origin}"
        case "valve":
            return f"{USUAL_VALVE}, as usual"
        case "carried":
            return f"{carried_as(cylinder, assessment.kit.header.layout)}, as usual"
        case "gas":
            return "air, unless oxygen is told" if cylinder.oxygen is None else ""
        case "filled":
            return f"{shown(vessel.filled_pa, 'pressure', system)}, its working pressure"
        case "turn":
            return f"{shown(vessel.turn_pa, 'pressure', system)}, two thirds"
        case "reserve":
            return f"{shown(vessel.reserve_pa, 'pressure', system)}, as usual"
    return ""


def _taken_for_hose(assessment: Assessment, hose: Hose, key: str, system: System) -> str:
    role = catalogue().roles[hose.role]
    match key:
        case "route":
            usual = route_of(replace(hose, path=(), holds=()), assessment.kit)
            return f"{usual.name}, as usual" if usual else "none is usual"
        case "path":
            return "that of its route"
        case "bore":
            return f"{shown(catalogue().bodies[role.service, hose.body].bore.value, 'bore', system)}, of its body"
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
