"""Trade data: hoses, ends, threads, roles, devices, waters. Every number has an origin and travels with it."""

from functools import lru_cache

from kitbuilder.catalogue.body_entries import Landmark, Measure, Pose, Route, Usual
from kitbuilder.catalogue.entries import (
    Adapter,
    Catalogue,
    Connection,
    Coupling,
    CylinderPreset,
    Fitting,
    HoseBody,
    Inlet,
    Metal,
    Place,
    Preset,
    Role,
    Seating,
    Thread,
    Value,
    Valve,
    WaterType,
)
from kitbuilder.catalogue.load import load_catalogue
from kitbuilder.catalogue.table import CatalogueError

__all__ = [
    "Adapter",
    "Catalogue",
    "CatalogueError",
    "Connection",
    "Coupling",
    "CylinderPreset",
    "Fitting",
    "HoseBody",
    "Inlet",
    "Landmark",
    "Measure",
    "Metal",
    "Place",
    "Pose",
    "Preset",
    "Role",
    "Route",
    "Seating",
    "Thread",
    "Usual",
    "Value",
    "Valve",
    "WaterType",
    "catalogue",
]


@lru_cache(maxsize=1)
def catalogue() -> Catalogue:
    """Give the catalogue that comes with the program, read once."""
    return load_catalogue()
