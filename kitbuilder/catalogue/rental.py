"""Cylinders and pieces of lead that are usually for hire, from `rental.toml`. Read on first use."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import read_catalogue_file


class HireCylinder(NamedTuple):
    """A cylinder that is likely there."""

    name: str
    """One of the catalogue."""
    outlets: tuple[str, ...]
    """What its valve may have; see `Catalogue.outlets`."""
    origin: str


class HireLead(NamedTuple):
    """Pieces of lead that are likely there."""

    name: str
    """The units they are cast in."""
    sizes_kg: tuple[float, ...]
    origin: str


class Rental(NamedTuple):
    """What is usually for hire."""

    cylinders: tuple[HireCylinder, ...]
    """The most usual first."""
    lead: tuple[HireLead, ...]


@lru_cache(maxsize=1)
def rental() -> Rental:
    """Give what comes with the program, read once."""
    return load_rental(FOLDER / "rental.toml")


def load_rental(path: Path) -> Rental:
    """Give the facts of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, or a name is not one of the catalogue.
    """
    document, trade = read_catalogue_file(path), catalogue()
    cylinders, lead = [], []
    for table in document.tables("cylinder"):
        outlets = tuple(table.texts("outlets", trade.outlets))
        cylinders.append(HireCylinder(table.text("name", trade.cylinders), outlets, table.text("origin")))
        table.finish()
    for table in document.tables("lead"):
        lead.append(HireLead(table.text("name"), tuple(table.quantities("pieces", "mass")), table.text("origin")))
        table.finish()
    document.finish()
    return Rental(tuple(cylinders), tuple(lead))
