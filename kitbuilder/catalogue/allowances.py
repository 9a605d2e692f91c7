"""Allowances that are commonly met and usual bags, from `allowances.toml`. Read on first use."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import CatalogueError, read_catalogue_file

GOES = ("cabin", "hold", "body")


class Allowance(NamedTuple):
    """What an airline may allow, as a traveller writes it."""

    name: str
    origin: str


class UsualBag(NamedTuple):
    """A bag, until the traveller weighs the real one."""

    name: str
    goes: str
    """One of `GOES`."""
    mass: Value
    """Empty [kg]."""
    volume: Value
    """[m3]"""


class Allowances(NamedTuple):
    """What a new trip is made from."""

    allowances: tuple[Allowance, ...]
    """The most usual first."""
    bags: tuple[UsualBag, ...]

    def bag_for(self, goes: str) -> UsualBag:
        """Give the usual bag for a place.

        Raises:
            KeyError: No bag goes there.
        """
        found = {bag.goes: bag for bag in self.bags}
        return found[goes]


@lru_cache(maxsize=1)
def allowances() -> Allowances:
    """Give the allowances and bags that come with the program, read once."""
    return load_allowances(FOLDER / "allowances.toml")


def load_allowances(path: Path) -> Allowances:
    """Give the allowances and bags of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, or there is no bag for cabin or hold.
    """
    document = read_catalogue_file(path)
    known = []
    for table in document.tables("allowance"):
        known.append(Allowance(table.text("name"), table.text("origin")))
        table.finish()
    bags = []
    for table in document.tables("bag"):
        goes = table.text("goes", GOES)
        bags.append(UsualBag(table.text("name"), goes, table.value("mass", "mass"), table.value("volume", "volume")))
        table.finish()
    document.finish()
    if {bag.goes for bag in bags} < {"cabin", "hold"}:
        raise CatalogueError(f"{path.name}, bag: there is none for the cabin or none for the hold")
    return Allowances(tuple(known), tuple(bags))
