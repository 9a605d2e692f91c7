"""What can stand in for what on a journey, and what is for hire, from `swaps.toml`. Read on first use."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.records import KINDS as KINDS_WITH_PRESETS
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file
from kitbuilder.catalogue.travel_facts import KINDS


class Family(NamedTuple):
    """Items of the catalogue that do the same job."""

    name: str
    kind: str
    presets: tuple[str, ...]
    gives_up: str
    """What a lighter one may do less well; empty where nothing is known."""
    alone: bool
    """Whether it is never put into a set: what it gives up cannot be set against mass and lead."""
    origin: str


class FoamSizes(NamedTuple):
    """The thicknesses in which foam suits are sold."""

    thickness_m: tuple[float, ...]
    """The thickest first."""
    gives_up: str
    origin: str


class RentalKind(NamedTuple):
    """What is rented together."""

    name: str
    kinds: tuple[str, ...]
    presets: tuple[str, ...]
    """Only these of the kinds, or cuts of foam suits; empty for all."""
    with_cylinders: bool
    """Whether what belongs to the cylinders is rented with them."""
    gives_up: str
    alone: bool
    origin: str


class SwapFacts(NamedTuple):
    """All of it."""

    families: tuple[Family, ...]
    foam: FoamSizes
    rentals: tuple[RentalKind, ...]


@lru_cache(maxsize=1)
def swap_facts() -> SwapFacts:
    """Give what comes with the program, read once."""
    return load_swap_facts(FOLDER / "swaps.toml")


def load_swap_facts(path: Path) -> SwapFacts:
    """Give the facts of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, a preset is not one of the catalogue or stands in two families, or
            thicknesses are not in order.
    """
    document = read_catalogue_file(path)
    families = tuple(map(_family, document.tables("family")))
    [foam] = map(_foam, document.tables("foam"))
    rentals = tuple(map(_rental, document.tables("rental")))
    document.finish()
    named = [(family.kind, preset) for family in families for preset in family.presets]
    if len(set(named)) < len(named):
        raise CatalogueError(f"{path.name}, family: a preset stands in two of them")
    return SwapFacts(families, foam, rentals)


def _family(table: CatalogueTable) -> Family:
    kind = table.text("kind", KINDS_WITH_PRESETS)
    presets = table.texts("presets", {name for known, name in catalogue().presets if known == kind})
    family = Family(
        table.text("name"), kind, tuple(presets), _gives_up(table), table.flag("alone"), table.text("origin")
    )
    table.finish()
    return family


def _foam(table: CatalogueTable) -> FoamSizes:
    table.text("name")
    sizes = tuple(table.quantities("thickness", "length"))
    foam = FoamSizes(sizes, _gives_up(table), table.text("origin"))
    table.finish()
    if sorted(sizes, reverse=True) != [*sizes]:
        raise CatalogueError(f"{table.place}, thickness: is not in order, the thickest first")
    return foam


def _rental(table: CatalogueTable) -> RentalKind:
    kinds = table.texts("kinds", KINDS)
    known = {name for kind, name in catalogue().presets if kind in kinds}
    cuts = table.texts("cuts", catalogue().cuts) if "cuts" in table else []
    rental = RentalKind(
        table.text("name"),
        tuple(kinds),
        (*(table.texts("presets", known) if "presets" in table else ()), *cuts),
        table.flag("with_cylinders"),
        _gives_up(table),
        table.flag("alone"),
        table.text("origin"),
    )
    table.finish()
    return rental


def _gives_up(table: CatalogueTable) -> str:
    return table.text("gives_up") if "gives_up" in table else ""
