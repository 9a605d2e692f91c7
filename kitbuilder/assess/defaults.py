"""Defaults for keys that a file does not have, and where each comes from."""

from dataclasses import replace
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment
from kitbuilder.assess.body import assess_body
from kitbuilder.assess.buoyancy.cylinder_weight import USUAL_VALVE, Vessel, work_out_vessel
from kitbuilder.assess.buoyancy.lead_pieces import usual_sizes
from kitbuilder.assess.buoyancy.trim import carried_as, place_of
from kitbuilder.assess.depths import deepest_of, stop_of
from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import ByUnits
from kitbuilder.assess.fit.measures import TAPES, wearer_of
from kitbuilder.assess.fit.routes import route_of
from kitbuilder.assess.gas.breathing import gas_uses, oxygen_limits
from kitbuilder.assess.gas.seating import connection_of, outlet_of
from kitbuilder.assess.hoses.joints import with_ends
from kitbuilder.assess.hoses.ports import inlet_of, ports_of
from kitbuilder.assess.rules.skin import crosses_neck
from kitbuilder.assess.water import USUAL_WATER
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.fields import Field, ValueKind
from kitbuilder.kit.items import Cylinder, Device, FirstStage, Header, Hose, Item, Kit, Lead
from kitbuilder.kit.owned import shared_attributes
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit, resolve
from kitbuilder.kit.spare import Spare, in_hand
from kitbuilder.kit.travel import NO_BATTERY, Traveller
from kitbuilder.kit.trip import Leg, Luggage, Trip, TripHeader

PRESET, USUAL, COMPUTED, GEAR = "preset", "as usual", "computed", "from the gear file"
TO_JOIN = "as its port or its device takes"
ESTIMATED, TAKEN, PUBLISHED = "estimated", "taken", "published rules"
"""Sources of a default; others are named where they are used."""

NOTHING_WORN = Kit(Header(format=1, name="nothing", layout="single"), ())
"""What a diver wears whose body alone is asked about."""

MEASURE_OF = {
    "length": "radius",
    "mass": "mass",
    "buoyancy": "buoyancy",
    "density": "density",
    "volume": "volume",
    "pressure": "pressure",
    "energy": "energy",
}
"""The measure in which a value of a dimension is shown."""


class Default(NamedTuple):
    """The default for one key that the file does not have."""

    value: Figure | Range | float | tuple[str, ...] | ByUnits | str
    """A figure, a range or an amount, in SI; or words."""
    measure: str = ""
    """How an amount is shown, such as "length"; empty for words."""
    source: str = ""
    """Where it comes from; empty where the words say it themselves."""


def default_in_kit(assessment: Assessment, item: int | None, field: Field) -> Default | None:
    """Find what is taken for a key that a kit file does not have; None when nothing is.

    Args:
        assessment: The kit, worked out.
        item: The number of the entry; None for the top of the file.
        field: The key.
    """
    if item is None:
        return _default_of_header(assessment.kit, field.key)
    record = in_hand(assessment.kit.items[item])
    if found := _default_from_gear(assessment.kit, record, field):
        return found
    if field.key in ("place", "along", "behind"):
        is_spare = isinstance(assessment.kit.items[item], Spare)
        return None if is_spare else _default_of_place(assessment, item, field.key)
    if isinstance(record, Lead):
        words = {"pieces": "1", "droppable": "no"}.get(field.key)
        return Default(words, source="by default") if words else None
    if field.key in ("deepest", "shallowest"):
        return _default_of_depth(assessment, item, field.key)
    if isinstance(record, Cylinder):
        vessel = work_out_vessel(record, assessment.water)
        return _default_of_cylinder(vessel, assessment.kit.header.layout, field.key) if vessel else None
    if field.key == "mass":
        return _default_of_mass(assessment, item)
    if isinstance(record, Hose):
        return _default_of_hose(assessment.kit, record, field.key)
    return _default_of_device(record, field.key)


def _default_of_header(kit: ResolvedKit, key: str) -> Default | None:
    match key:
        case "water":
            return Default(USUAL_WATER, source=USUAL)
        case "deepest":
            return Default(deepest_of(kit), "depth", USUAL)
        case "stop":
            return Default(stop_of(kit), "depth", USUAL)
        case "oxygen_limit":
            return Default(oxygen_limits(kit.header).limit_pa, "oxygen pressure", USUAL)
        case "oxygen_highest":
            return Default(oxygen_limits(kit.header).highest_pa, "oxygen pressure", USUAL)
        case "oxygen_lowest":
            return Default(oxygen_limits(kit.header).lowest_pa, "oxygen pressure", USUAL)
        case "stock":
            return Default("every usual length")
    return None


def _default_from_gear(kit: ResolvedKit, record: Item, field: Field) -> Default | None:
    """Find what the gear file says where the kit does not; None when it does not either."""
    gear = kit.linked.gear
    entry = gear.item(record.owned) if gear and record.owned else None
    if entry is None or entry.kind != record.kind or field.attribute not in shared_attributes(record.kind):
        return None
    value = getattr(entry, field.attribute)
    if value is None or value == ():
        return None
    if field.kind is ValueKind.QUANTITY and field.dimension in MEASURE_OF:
        return Default(value, MEASURE_OF[field.dimension], GEAR)
    if isinstance(value, bool):
        return Default(_yes_or_no(value), source=GEAR)
    return Default(value if isinstance(value, tuple) else f"{value}", source=GEAR)


def _default_of_place(assessment: Assessment, item: int, key: str) -> Default | None:
    """Find the usual place, and where its middle then lies."""
    if key == "place":
        return Default(place_of(assessment.kit.items[item], assessment.kit.header.layout).name, source=USUAL)
    spots = assessment.balance.trim.spots if assessment.balance else ()
    spot = next((spot for spot in spots if spot.item == item), None)
    if spot is None:
        return None
    return Default(spot.along.value if key == "along" else spot.behind_m, "length", "of its place")


def _default_of_depth(assessment: Assessment, item: int, key: str) -> Default | None:
    """Find the depths at which the gas of a cylinder is breathed; None of one that only inflates."""
    use = next((use for use in gas_uses(assessment.kit, assessment.water) if use.number == item), None)
    if use is None:
        return None
    depth = use.deepest_m if key == "deepest" else use.shallowest_m
    return Default("not known") if depth is None else Default(depth, "depth", USUAL)


def _default_of_cylinder(vessel: Vessel, layout: str, key: str) -> Default | None:
    """Find what the preset, or custom, says of a cylinder."""
    mass = vessel.empty.mass
    match key:
        case "metal":
            return Default(vessel.metal, source=PRESET)
        case "volume":
            return Default(vessel.volume, "volume", PRESET)
        case "working_pressure":
            return Default(vessel.working_pressure_pa, "pressure", PRESET)
        case "mass":
            return Default(mass, "mass", mass.origin)
        case "valve":
            return Default(USUAL_VALVE, source=USUAL)
        case "outlet":
            return Default(outlet, source=USUAL) if (outlet := outlet_of(vessel.cylinder)) else Default("not known")
        case "carried":
            return Default(carried_as(vessel.cylinder, layout), source=USUAL)
        case "gas" if vessel.cylinder.oxygen is None:
            return Default("air", source="unless oxygen is given")
        case "filled":
            return Default(vessel.filled_pa, "pressure", "its working pressure")
        case "turn":
            return Default(vessel.turn_pa, "pressure", "two thirds")
        case "reserve":
            return Default(vessel.reserve_pa, "pressure", USUAL)
    return None


def _default_of_mass(assessment: Assessment, item: int) -> Default:
    mass = assessment.masses[item]
    if mass is None:
        return Default("not known")
    if isinstance(in_hand(assessment.kit.items[item]), Hose):
        return Default(mass, "hose mass", COMPUTED)
    return Default(mass, "mass", PRESET)


def _default_of_hose(kit: ResolvedKit, hose: Hose, key: str) -> Default | None:
    role = catalogue().roles[hose.role]
    match key:
        case "route":
            route = route_of(replace(hose, path=(), holds=()), kit)
            return Default(route.name, source=USUAL) if route else Default("none is usual")
        case "path":
            return Default("that of its route")
        case "bore":
            return Default(catalogue().bodies[role.service, hose.body].bore.value, "bore", "of its body")
        case "measured":
            return Default("end to end", source=USUAL)
        case "span":
            return Default("the whole run")
        case "from_end" | "to_end":
            left_out = replace(hose, from_end=None) if key == "from_end" else replace(hose, to_end=None)
            taken = getattr(with_ends(left_out, {item.tag: item for item in kit.items}), key)
            return Default(taken, source=USUAL if taken == getattr(role, key) else TO_JOIN)
        case "crosses_neck":
            return Default(_yes_or_no(crosses_neck(hose)), source=USUAL)
    return None


def _default_of_device(record: Item, key: str) -> Default | None:
    if key == "side" and isinstance(record, FirstStage):
        return Default("as its tag says")
    if key == "inlet" and isinstance(record, Device):
        return Default(inlet, source=PRESET) if (inlet := inlet_of(record)) else None
    if key == "connection" and isinstance(record, FirstStage):
        return Default(connection, source=PRESET) if (connection := connection_of(record)) else None
    if key == "ports" and isinstance(record, FirstStage):
        return Default(tuple(known), source=PRESET) if (known := ports_of(record)) else None
    return _default_for_travel(record, key) if isinstance(record, Traveller) else None


def _default_for_travel(record: Traveller, key: str) -> Default | None:
    """Find what the preset says of batteries and edges."""
    from kitbuilder.assess.trip.facts import facts_of, travelling  # not needed for the first screen

    asked = travelling(record)
    match key:
        case "battery_type":
            return Default(asked.battery.type if asked.battery else NO_BATTERY, source=PRESET)
        case "battery" if usual := facts_of(record).battery:
            return Default(Range(usual.value, usual.low, usual.high), "energy", PRESET)
        case "batteries" if asked.battery:
            return Default("1")
        case "breakable":
            return Default(_yes_or_no(asked.is_breakable), source=PRESET)
        case "sharp":
            return Default(_yes_or_no(asked.is_sharp), source=PRESET)
    return None


def default_in_trip(trip: Trip, item: int | None, key: str) -> Default | None:
    """Find what is taken for a key that a trip file does not have; None when nothing is.

    Args:
        trip: The trip.
        item: The number of the entry; None for the top of the file.
        key: The key.
    """
    from kitbuilder.assess.trip.placement import battery_limits  # not needed for a kit
    from kitbuilder.catalogue.air_rules import air_rules

    entry = trip.header if item is None else trip.items[item]
    match entry, key:
        case TripHeader(), "likelihood":
            return Default("95 %", source=USUAL)
        case TripHeader(), "spares":
            return Default("none")
        case TripHeader(), "wet":
            return Default(ESTIMATED)
        case Leg(), "way":
            return Default("both")
        case Leg(), "handling":
            return Default(air_rules().limits["handling"].value.value, "mass", PUBLISHED)
        case Leg(), "battery_free":
            return Default(battery_limits().free_j, "energy", PUBLISHED)
        case Leg(), "battery_most":
            return Default(battery_limits().most_j, "energy", PUBLISHED)
        case Luggage(), "batteries":
            return Default("1")
    return None


def default_in_diver(diver: Diver, is_check: bool, key: str) -> Default | None:
    """Find what is taken for a key that a diver file does not have; None when nothing is.

    Args:
        diver: The diver and the float checks.
        is_check: Whether the key is one of a float check; else it is one of the top of the file.
        key: The key.
    """
    return _default_of_check(key) if is_check else _default_of_body(diver, key)


def _default_of_body(diver: Diver, key: str) -> Default | None:
    if key in TAPES:
        worn = resolve(NOTHING_WORN, LinkedFiles(diver=diver))
        return Default(wearer_of(worn).measures[TAPES[key]], "length", ESTIMATED)
    match key:
        case "stature":
            return Default(assess_body(diver).stature, "length", TAKEN)
        case "mass":
            return Default(assess_body(diver).mass, "body mass", TAKEN)
        case "sex":
            return Default("midway between both")
        case "neck_turns":
            return Default("free, as usual")
        case "lead_sizes":
            return Default(usual_sizes())
    return None


def _default_of_check(key: str) -> Default | None:
    words = {
        "seen": "what was it? It counts from then",
        "by": "lead added + or taken - until so",
        "worn": "the kit as it is now",
        "lead": "what the kit carries",
        "pressure": "the reserve of each cylinder",
        "stage_pressure": "the reserve of each stage",
        "depth": "the stop of the kit",
        "water": "the kit's water",
        "excluded": "no: it counts",
    }.get(key)
    return Default(words) if words else None


def _yes_or_no(value: bool) -> str:
    return "yes" if value else "no"
