"""One reader for each kind of record: a strict table in, a record out."""

import re
from collections.abc import Collection, Mapping

from kitbuilder.catalogue.entries import (
    Adapter,
    BodyFacts,
    Connection,
    Coupling,
    Cut,
    CylinderPreset,
    Fitting,
    Foam,
    HoseBody,
    Inlet,
    Metal,
    Place,
    Preset,
    Role,
    Seating,
    Thread,
    Undersuit,
    Value,
    Valve,
    WaterType,
)
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable

SERVICES = ("LP", "HP")
SURFACES = ("smooth", "coarse")
GENDERS = ("male", "female")
PLACES = ("first stage", "device")
LAYOUTS = ("single", "twinset", "sidemount")
UNIFIED = "ASME B1.1"
STRAIGHT_PIPE = "ASME B1.20.1"
BY_FORMULA = (UNIFIED, STRAIGHT_PIPE)
STANDARDS = (*BY_FORMULA, "ISO 965-1", "ISO 228-1")
TOLERANCES = ("es", "Td", "Td2", "TD1", "TD2")
COUPLING_KINDS = ("quick-disconnect", "swivel")
SERVICE_OF_KIND = {
    "second_stage": "LP",
    "gauge": "HP",
    "transmitter": "HP",
    "wing": "LP",
    "jacket": "LP",
    "drysuit": "LP",
}
"""The kinds of device at the end of a hose, and the service of that hose."""
KINDS = ("first_stage", *SERVICE_OF_KIND, "other")
SEATINGS = ("yes", "no", "adapter", "unknown")
"""Whether a connection goes on an outlet."""
BLADDERS = ("wing", "jacket")
CARRIED = ("back", "side", "stage")
LIMIT_DIMENSIONS = ("length", "mass", "buoyancy", "pressure", "volume", "temperature", "fraction", "angle")

_PORT = re.compile(r"((?:LP|HP)\d) (.+)")


def make_body(table: CatalogueTable, service: str) -> HoseBody:
    """Make a hose body, LP or HP."""
    return HoseBody(
        name=table.text("name"),
        service=service,
        surface=table.text("surface", SURFACES),
        bore=table.value("bore", "length"),
        outside_diameter=table.value("outside_diameter", "length"),
        density=table.value("density", "density"),
        minimum_bend_radius=table.value("minimum_bend_radius", "length"),
        rated_pressure=table.value("rated_pressure", "pressure"),
        mass_per_length=table.value("mass_per_length", "mass per length"),
    )


def make_gas_density(table: CatalogueTable) -> dict[str, Value]:
    """Make the density of the gas inside LP and HP hoses."""
    densities = {service: table.value(service, "density") for service in SERVICES}
    table.finish()
    return densities


def make_common(table: CatalogueTable) -> tuple[Value, Value]:
    """Make the density and envelope length of every hose end."""
    common = table.value("density", "density"), table.value("envelope_length", "length")
    table.finish()
    return common


def make_fitting(table: CatalogueTable, joints: Collection[str], density: Value, envelope: Value) -> Fitting:
    """Make a hose end, with the density and envelope length of every end where it has none of its own."""
    return Fitting(
        name=table.text("name"),
        service=table.text("service", SERVICES),
        place=table.text("place", PLACES),
        joint=table.text("joint", joints),
        gender=table.text("gender", GENDERS),
        mass=table.value("mass", "mass"),
        density=table.optional("density", "density") or density,
        envelope_length=table.optional("envelope_length", "length") or envelope,
        note=table.note(),
        only_from_maker=table.flag("only_from_maker"),
    )


def make_adapter(table: CatalogueTable, joints: Collection[str], density: Value) -> Adapter:
    """Make an adapter, with the density of every end where it has none of its own."""
    return Adapter(
        name=table.text("name"),
        service=table.text("service", SERVICES),
        hose_side=_side(table.table("hose_side"), joints),
        far_side=_side(table.table("far_side"), joints),
        mass=table.value("mass", "mass"),
        density=table.optional("density", "density") or density,
        length=table.value("length", "length"),
        note=table.note(),
        defeats_coding=table.flag("defeats_coding"),
    )


def _side(table: CatalogueTable, joints: Collection[str]) -> tuple[str, str]:
    side = table.text("joint", joints), table.text("gender", GENDERS)
    table.finish()
    return side


def make_inlet(table: CatalogueTable, joints: Collection[str]) -> Inlet:
    """Make the inlet of a device."""
    return Inlet(
        name=table.text("name"),
        service=table.text("service", SERVICES),
        joint=table.text("joint", joints),
        gender=table.text("gender", GENDERS),
        note=table.note(),
        origin=table.text("origin"),
    )


def make_thread(table: CatalogueTable) -> Thread:
    """Make a thread; the tolerances of those in inches follow from formulas and are not listed."""
    standard = table.text("standard", STANDARDS)
    tolerances, origin = ({}, "") if standard in BY_FORMULA else _tolerances(table.table("tolerances"))
    return Thread(
        name=table.text("name"),
        standard=standard,
        major=table.value("major", "length"),
        pitch=table.value("pitch", "pitch"),
        tolerances=tolerances,
        tolerances_origin=origin,
        used_for=table.text("used_for"),
        beware=tuple(table.texts("beware")) if "beware" in table else (),
        origin=table.text("origin"),
    )


def _tolerances(table: CatalogueTable) -> tuple[dict[str, float], str]:
    tolerances = {name: table.quantity(name, "length") for name in TOLERANCES}
    origin = table.text("origin")
    table.finish()
    return tolerances, origin


def make_coupling(table: CatalogueTable) -> Coupling:
    """Make a coupling."""
    return Coupling(
        name=table.text("name"),
        kind=table.text("kind", COUPLING_KINDS),
        note=table.note(),
        origin=table.text("origin"),
    )


def make_role(table: CatalogueTable, fittings: Mapping[str, Fitting]) -> Role:
    """Make a role, whose ends are fittings of its own service."""
    service = table.text("service", SERVICES)
    custom = table.table("customary")
    lengths = {layout: length for layout in LAYOUTS if (length := custom.optional(layout, "length"))}
    custom.finish()
    return Role(
        name=table.text("name"),
        service=service,
        device=table.text("device", [kind for kind, hose in SERVICE_OF_KIND.items() if hose == service] + ["other"]),
        crosses_neck=table.flag("crosses_neck"),
        from_end=table.text("from_end", _ends(fittings, service, "first stage")),
        to_end=table.text("to_end", _ends(fittings, service, "device")),
        customary={layout: (length.low, length.high) for layout, length in lengths.items()},
        customary_origins={layout: length.origin for layout, length in lengths.items()},
        note=table.note(),
        origin=table.text("origin"),
    )


def _ends(fittings: Mapping[str, Fitting], service: str, place: str) -> list[str]:
    return [name for name, end in fittings.items() if end.service == service and end.place == place]


def make_second_stages(table: CatalogueTable, roles: Mapping[str, Role]) -> dict[str, tuple[str, ...]]:
    """Make the orders in which hoses are taken for the one that is breathed, and for the one that is given."""
    known = [role.name for role in roles.values() if role.device == "second_stage"]
    orders = {use: tuple(table.texts(use, known)) for use in ("breathed", "given")}
    table.text("origin")
    table.finish()
    if len({tuple(sorted(order)) for order in orders.values()}) > 1:
        raise CatalogueError(f"{table.place}: breathed and given do not have the same roles")
    return orders


def make_lengths(stock: CatalogueTable, service: str) -> tuple[float, ...]:
    """Make the stock lengths of LP or HP hoses, shortest first. [m]"""
    lengths = stock.quantities(service, "length")
    if sorted(set(lengths)) != lengths:
        raise CatalogueError(f"{stock.place}, {service}: is not in order, shortest first")
    return tuple(lengths)


def make_preset(  # noqa: PLR0913 - every list of names that a preset refers to
    table: CatalogueTable,
    kind: str,
    inlets: Mapping[str, Inlet],
    threads: Collection[str],
    connections: Collection[str],
    places: Collection[str],
) -> Preset:
    """Make a preset of a kind of device."""
    density = table.optional("density", "density")
    buoyancy = table.optional("buoyancy_salt", "buoyancy")
    if (density is None) == (buoyancy is None):
        raise CatalogueError(f"{table.place}, density: give either a density or a buoyancy_salt")
    service = SERVICE_OF_KIND.get(kind)
    matching = [name for name, inlet in inlets.items() if inlet.service == service]
    return Preset(
        kind=kind,
        name=table.text("name"),
        mass=table.value("mass", "mass"),
        density=density,
        buoyancy_salt=buoyancy,
        inlet=table.text("inlet", matching) if service else None,
        ports=_ports(table, threads) if kind == "first_stage" else (),
        connection=table.text("connection", connections) if kind == "first_stage" else None,
        lift=table.value("lift", "buoyancy") if kind in BLADDERS else None,
        place=table.text("place", places) if "place" in table else None,
        is_foam=table.flag("foam"),
        not_for_rich_gas=table.flag("not_for_rich_gas"),
        note=table.note(),
    )


def _ports(table: CatalogueTable, threads: Collection[str]) -> tuple[str, ...]:
    ports = table.texts("ports")
    labels = set()
    for port in ports:
        match = _PORT.fullmatch(port)
        if match is None or match[2] not in threads or match[1] in labels:
            raise CatalogueError(
                f'{table.place}, ports: "{port}" is not a new label and a known thread, as in "LP1 3/8-24 UNF"'
            )
        labels.add(match[1])
    return tuple(ports)


def make_water(table: CatalogueTable) -> WaterType:
    """Make a water."""
    return WaterType(
        name=table.text("name"),
        salinity=table.value("salinity", "salinity"),
        temperature=table.value("temperature", "temperature"),
        note=table.note(),
        origin=table.text("origin"),
    )


def make_metal(table: CatalogueTable) -> Metal:
    """Make a metal."""
    return Metal(table.text("name"), table.value("density", "density"), table.value("strength", "pressure"))


def make_valve(table: CatalogueTable) -> Valve:
    """Make a valve."""
    return Valve(table.text("name"), table.value("mass", "mass"), table.value("density", "density"), table.note())


def make_connection(table: CatalogueTable) -> Connection:
    """Make a connection of first stages, or an outlet of valves."""
    return Connection(table.text("name"), table.value("limit", "pressure"), table.note())


def make_seatings(
    document: CatalogueTable, connections: Collection[str], outlets: Collection[str]
) -> dict[tuple[str, str], Seating]:
    """Make the pairs of connection and outlet, each of which stands once."""
    found: dict[tuple[str, str], Seating] = {}
    for table in document.tables("seating"):
        pair = table.text("connection", connections), table.text("outlet", outlets)
        if pair in found:
            raise CatalogueError(f"{table.place}, outlet: the pair is there twice")
        found[pair] = Seating(*pair, table.text("fits", SEATINGS), table.note(), table.text("origin"))
        table.finish()
    return found


def make_cylinder(table: CatalogueTable, metals: Collection[str]) -> CylinderPreset:
    """Make a preset of a cylinder."""
    return CylinderPreset(
        name=table.text("name"),
        metal=table.text("metal", metals),
        volume=table.value("volume", "volume"),
        working_pressure=table.value("working_pressure", "pressure"),
        mass=table.value("mass", "mass"),
        diameter=table.value("diameter", "length"),
        length=table.value("length", "length"),
        note=table.note(),
    )


def make_foam(table: CatalogueTable) -> Foam:
    """Make a grade of foam."""
    return Foam(table.text("name"), table.value("density", "density"), table.note())


def make_cut(table: CatalogueTable, places: Collection[str]) -> Cut:
    """Make a cut of suit."""
    return Cut(table.text("name"), table.value("coverage", "fraction"), table.text("place", places), table.note())


def make_undersuit(table: CatalogueTable) -> Undersuit:
    """Make an undersuit."""
    return Undersuit(
        name=table.text("name"),
        mass=table.value("mass", "mass"),
        gas=table.value("gas", "volume"),
        loft=table.value("loft", "length"),
        note=table.note(),
    )


def make_place(table: CatalogueTable) -> Place:
    """Make a place on the diver."""
    return Place(
        name=table.text("name"),
        along=table.value("along", "fraction"),
        behind=table.value("behind", "length"),
        hangs_from=table.flag("hangs_from"),
        note=table.note(),
    )


def make_usual_places(table: CatalogueTable, places: Collection[str]) -> dict[str, dict[str, str]]:
    """Make the usual place of each kind of item, by layout, over what is usual in every layout."""
    every, kinds = table.table("every"), (*KINDS, "hose", "suit", "lead", *CARRIED)
    common = {kind: every.text(kind, places) for kind in kinds}
    every.finish()
    usual = {}
    for layout in LAYOUTS:
        own = table.table(layout)
        usual[layout] = common | {kind: own.text(kind, places) for kind in kinds if kind in own}
        own.finish()
    table.finish()
    return usual


def make_body_facts(document: CatalogueTable) -> BodyFacts:
    """Make the facts used for a body and for the foam on it."""
    body, foam, air = (document.table(name) for name in ("body", "foam_suit", "air"))
    facts = BodyFacts(
        density={
            "male": body.value("density_male", "density"),
            "female": body.value("density_female", "density"),
            "": body.value("density_not_given", "density"),
        },
        breath=body.value("breath", "volume"),
        lung_offset=body.value("lung_offset", "length"),
        foam_lining=foam.value("lining", "area density"),
        foam_stretch=foam.value("stretch", "fraction"),
        air={name: air.value(name, "fraction") for name in ("nitrogen", "oxygen", "argon")},
    )
    for table in (body, foam, air):
        table.finish()
    return facts


def make_limits(document: CatalogueTable) -> dict[str, Value]:
    """Make the limits, which stand in one table for each dimension."""
    tables = {dimension: document.table(dimension) for dimension in LIMIT_DIMENSIONS}
    return {name: table.value(name, dimension) for dimension, table in tables.items() for name in table}
