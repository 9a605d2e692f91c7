"""The catalogue's TOML files, read into records, strictly: what does not agree is refused, with its place."""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Concatenate, ParamSpec, TypeVar

from kitbuilder.catalogue.entries import Catalogue, HoseBody
from kitbuilder.catalogue.records import (
    KINDS,
    SERVICES,
    make_adapter,
    make_body,
    make_body_facts,
    make_common,
    make_connection,
    make_coupling,
    make_cut,
    make_cylinder,
    make_fitting,
    make_foam,
    make_gas_density,
    make_inlet,
    make_lengths,
    make_limits,
    make_metal,
    make_place,
    make_preset,
    make_role,
    make_seatings,
    make_second_stages,
    make_thread,
    make_undersuit,
    make_usual_places,
    make_valve,
    make_water,
)
from kitbuilder.catalogue.route_records import make_landmarks, make_pose, make_routes, make_skin
from kitbuilder.catalogue.survey_records import make_survey
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

FOLDER = Path(__file__).parent
FILES = (
    "joints",
    "fittings",
    "bodies",
    "roles",
    "presets",
    "waters",
    "limits",
    "outlets",
    "cylinders",
    "suits",
    "places",
    "diver",
    "survey",
    "landmarks",
    "routes",
)
"""The files of the catalogue, each for the subject it is named after."""

EntryT = TypeVar("EntryT")
Known = ParamSpec("Known")


def load_catalogue(folder: Path = FOLDER) -> Catalogue:
    """Give the catalogue in a folder of TOML files.

    Raises:
        CatalogueError: A file is missing or is not TOML, a key is unknown or missing, a value has no origin or lies
            outside its range, or a name refers to nothing.
    """
    documents = {name: read_catalogue_file(folder / f"{name}.toml") for name in FILES}
    stock, lead = documents["roles"].table("stock_lengths"), documents["diver"].table("lead_sizes")
    catalogue = _made_of(documents, stock, lead)
    for table in (*documents.values(), stock, lead):
        table.finish()
    return catalogue


def _made_of(documents: dict[str, CatalogueTable], stock: CatalogueTable, lead: CatalogueTable) -> Catalogue:
    """Make the catalogue from its documents; what is referred to comes before what refers to it."""
    joints, ends, hoses, uses, devices, seas, limits, seats, *others = documents.values()
    vessels, worn, spots, person, bodies, points, ways = others
    threads = {thread.name: thread for thread in _read(joints, "thread", make_thread)}
    couplings = {coupling.name: coupling for coupling in _read(joints, "coupling", make_coupling)}
    known_joints = threads.keys() | couplings.keys()
    density, envelope = make_common(ends.table("every_end"))
    fittings = {end.name: end for end in _read(ends, "fitting", make_fitting, known_joints, density, envelope)}
    adapters = {part.name: part for part in _read(ends, "adapter", make_adapter, known_joints, density)}
    inlets = {inlet.name: inlet for inlet in _read(ends, "inlet", make_inlet, known_joints)}
    connections = {side.name: side for side in _read(seats, "connection", make_connection)}
    outlets = {side.name: side for side in _read(seats, "outlet", make_connection)}
    metals = {metal.name: metal for metal in _read(vessels, "metal", make_metal)}
    places = {place.name: place for place in _read(spots, "place", make_place)}
    roles = {role.name: role for role in _read(uses, "role", make_role, fittings)}
    survey = make_survey(bodies)
    measures = ("stature", *survey.measures)
    skin = make_skin(points.tables("skin"), measures, {})
    landmarks = make_landmarks(points.tables("landmark"), measures, skin)
    poses = {pose.name: pose for pose in _read(ways, "pose", make_pose)}
    return Catalogue(
        bodies=_hose_bodies(hoses),
        fittings=fittings,
        adapters=adapters,
        inlets=inlets,
        threads=threads,
        couplings=couplings,
        roles=roles,
        second_stages=make_second_stages(uses.table("second_stages"), roles),
        presets={
            (kind, preset.name): preset
            for kind in KINDS
            for preset in _read(devices, kind, make_preset, kind, inlets, threads, connections, places)
        },
        waters={water.name: water for water in _read(seas, "water", make_water)},
        metals=metals,
        valves={valve.name: valve for valve in _read(vessels, "valve", make_valve)},
        connections=connections,
        outlets=outlets,
        seatings=make_seatings(seats, connections, outlets),
        cylinders={preset.name: preset for preset in _read(vessels, "cylinder", make_cylinder, metals)},
        foams={foam.name: foam for foam in _read(worn, "foam", make_foam)},
        cuts={cut.name: cut for cut in _read(worn, "cut", make_cut, places)},
        undersuits={undersuit.name: undersuit for undersuit in _read(worn, "undersuit", make_undersuit)},
        places=places,
        usual_places=make_usual_places(spots.table("usual"), places),
        body=make_body_facts(person),
        lead_sizes={system: tuple(lead.quantities(system, "mass")) for system in ("metric", "imperial")},
        lead_sizes_origin=lead.text("origin"),
        survey=survey,
        skin=skin,
        landmarks=landmarks,
        poses=poses,
        routes=make_routes(ways.tables("route"), landmarks, poses, roles),
        stock_lengths={service: make_lengths(stock, service) for service in SERVICES},
        stock_origin=stock.text("origin"),
        limits=make_limits(limits),
        gas_density=make_gas_density(hoses.table("gas_density")),
    )


def _read(
    document: CatalogueTable,
    array: str,
    build: Callable[Concatenate[CatalogueTable, Known], EntryT],
    *args: Known.args,
    **kwargs: Known.kwargs,
) -> Iterator[EntryT]:
    """Give the entries of an array of tables, each built and then checked for keys left over."""
    for table in document.tables(array):
        yield build(table, *args, **kwargs)
        table.finish()


def _hose_bodies(table: CatalogueTable) -> dict[tuple[str, str], HoseBody]:
    """Read the bodies of hoses, LP and HP.

    Raises:
        CatalogueError: A body is there for one service only.
    """
    bodies = {
        (service, body.name): body
        for service in SERVICES
        for body in _read(table, f"{service}_body", make_body, service)
    }
    for service, name in bodies:
        if not all((other, name) in bodies for other in SERVICES):
            raise CatalogueError(f"{table.place}: the body {name!r} is there for {service} only")
    return bodies
