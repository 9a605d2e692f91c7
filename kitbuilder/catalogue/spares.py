"""Spare parts that divers bring, from `spares.toml`. Read on first use."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

DAY_BOAT, REMOTE = "day boat", "remote"
LEVELS = (DAY_BOAT, REMOTE)
"""For a day boat, and for a place without a shop, which takes all of it."""
SMALL_PARTS, TOOLS, BATTERIES, HOSES, MASK = "small parts", "tools", "batteries", "hoses", "mask"
GROUPS = (SMALL_PARTS, TOOLS, BATTERIES, HOSES, MASK)
"""What is packed together, in the order of a list."""
GAUGE_SWIVEL, SECOND_STAGE, OF_MASK, FIN_STRAP, O_RING = "gauge swivel", "second stage", "mask", "fin strap", "O-ring"
DIN_RENTED, YOKE_RENTED = "DIN on a rented cylinder", "yoke on a rented cylinder"
HEX_KEY, SPANNER, FIRST_STAGE, BATTERY = "hex key", "spanner", "first stage", "battery"
SECOND_STAGE_HOSE, INFLATOR_HOSE, HP_HOSE = "second-stage hose", "inflator hose", "HP hose"
OF_HOSES = (SECOND_STAGE_HOSE, INFLATOR_HOSE, HP_HOSE)
"""Needs whose spare is a hose like one of the kit."""
NEEDS = (
    GAUGE_SWIVEL,
    SECOND_STAGE,
    OF_MASK,
    FIN_STRAP,
    O_RING,
    DIN_RENTED,
    YOKE_RENTED,
    HEX_KEY,
    SPANNER,
    FIRST_STAGE,
    BATTERY,
    *OF_HOSES,
)
"""What a kit may have that calls for a spare."""


def packed_tag(group: str) -> str:
    """Give the tag by which a trip knows the spares of a group, which are packed together."""
    return f"spares: {group}"


class SpareEntry(NamedTuple):
    """A spare part that divers bring."""

    name: str
    need: str
    """One of `NEEDS`."""
    level: str
    """One of `LEVELS`: from there on it is brought."""
    group: str
    """One of `GROUPS`."""
    mass: Value | None
    """Of one piece [kg]; None of a hose, which weighs what its like in the kit does."""
    preset: str
    """The item of the catalogue that it is; empty where the catalogue has none."""
    up_to_j: float | None
    """The greatest energy of a battery that is brought as a spare [J]."""
    why: str
    origin: str


class RingRule(NamedTuple):
    """How many O-rings are brought."""

    least: int
    """Of each size at the joints, at least."""
    most: int
    """Of each size at the joints, at most."""
    face: int
    """Of each size between first stage and valve."""
    density: Value
    """[kg/m3]"""
    origin: str


class Spares(NamedTuple):
    """All spare parts."""

    rings: RingRule
    faces: dict[str, str]
    """The O-ring between first stage and valve, by connection; one that is missing is not known."""
    plug_mass: Value
    """Of one plug with its O-ring [kg]."""
    plug_origin: str
    packed_density: Value
    """Mass of spares by the room that they take in a bag [kg/m3]."""
    entries: tuple[SpareEntry, ...]


@lru_cache(maxsize=1)
def spares() -> Spares:
    """Give the spare parts that come with the program, read once."""
    return load_spares(FOLDER / "spares.toml")


def load_spares(path: Path) -> Spares:
    """Give the spare parts of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, a connection, ring or preset is not one of the catalogue, or what
            is no hose has no mass.
    """
    document = read_catalogue_file(path)
    faces = {}
    for table in document.rows("face"):
        faces[table.text("connection", catalogue().connections)] = table.text("ring", bench_work().o_rings)
        table.finish()
    plug = document.table("plug")
    found = Spares(
        _rings(document.table("o_rings")),
        faces,
        plug.value("mass", "mass"),
        plug.text("origin"),
        document.value("packed_density", "density"),
        tuple(map(_entry, document.tables("spare"))),
    )
    plug.finish()
    document.finish()
    return found


def _rings(table: CatalogueTable) -> RingRule:
    rule = RingRule(
        least=int(table.number("least")),
        most=int(table.number("most")),
        face=int(table.number("face")),
        density=table.value("density", "density"),
        origin=table.text("origin"),
    )
    table.finish()
    if not 0 < rule.least <= rule.most:
        raise CatalogueError(f"{table.place}, most: is below `least`")
    return rule


def _entry(table: CatalogueTable) -> SpareEntry:
    presets = {name for kind, name in catalogue().presets if kind == "other"}
    entry = SpareEntry(
        name=table.text("name"),
        need=table.text("need", NEEDS),
        level=table.text("level", LEVELS),
        group=table.text("group", GROUPS),
        mass=table.optional("mass", "mass"),
        preset=table.choice("preset", presets),
        up_to_j=table.quantity("up_to", "energy") if "up_to" in table else None,
        why=table.text("why"),
        origin=table.text("origin"),
    )
    table.finish()
    if (entry.mass is None) != (entry.need in OF_HOSES):
        raise CatalogueError(f"{table.place}, mass: a hose has that of its like in the kit, and only a hose has")
    if (entry.up_to_j is None) != (entry.need != BATTERY):
        raise CatalogueError(f"{table.place}, up_to: goes with a battery, and only with that")
    return entry
