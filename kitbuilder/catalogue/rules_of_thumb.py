"""Rules of thumb for lead, from `rules_of_thumb.toml`. Read on first use, not at the start."""

from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.entries import Value
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.styles import styles
from kitbuilder.catalogue.table import CatalogueError, read_catalogue_file


class SuitRule(NamedTuple):
    """The lead for what keeps the diver warm."""

    share: Value
    """Of the mass of the body."""
    more: Value
    """[kg]"""


class CylinderRule(NamedTuple):
    """The lead for a cylinder of a metal; below zero for what it saves."""

    first: Value
    """[kg]"""
    further: Value
    """Of each further one [kg]."""


class RulesOfThumb(NamedTuple):
    """All rules of thumb, by the words of the catalogue."""

    others: Value
    """Lead that the items stand for which the rules take for granted, below zero for those that sink [kg]."""
    exposures: dict[str, SuitRule]
    metals: dict[str, CylinderRule]
    waters: dict[str, Value]
    """[kg]"""


@lru_cache(maxsize=1)
def rules_of_thumb() -> RulesOfThumb:
    """Give the rules that come with the program, read once."""
    return load_rules_of_thumb(FOLDER / "rules_of_thumb.toml")


def load_rules_of_thumb(path: Path) -> RulesOfThumb:
    """Give the rules of thumb of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, or a word of the catalogue has no rule.
    """
    document, trade = read_catalogue_file(path), catalogue()
    usual, exposures, metals, waters = document.table("usual"), {}, {}, {}
    others = usual.value("others", "mass")
    usual.finish()
    for table in document.tables("exposure"):
        name = table.text("name", styles().exposures)
        exposures[name] = SuitRule(table.value("share", "fraction"), table.value("more", "mass"))
        table.finish()
    for table in document.tables("cylinder"):
        name = table.text("name", trade.metals)
        metals[name] = CylinderRule(table.value("first", "mass"), table.value("further", "mass"))
        table.finish()
    for table in document.tables("water"):
        name = table.text("name", trade.waters)
        waters[name] = table.value("more", "mass")
        table.finish()
    document.finish()
    for there, known in ((exposures, styles().exposures), (metals, trade.metals), (waters, trade.waters)):
        if lacking := known.keys() - there.keys():
            raise CatalogueError(f'{path.name}: there is no rule for "{min(lacking)}"')
    return RulesOfThumb(others, exposures, metals, waters)
