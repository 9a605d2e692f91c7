"""Styles of new kits and what is worn with them, from `styles.toml`. Read on first use, not at the start."""

from collections.abc import Collection
from functools import lru_cache
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import CatalogueError, CatalogueTable, read_catalogue_file

LAYOUTS = FOLDER / "layouts"
"""The folder of the kits that styles start from."""


class Foam(NamedTuple):
    """One part of a foam suit."""

    tag: str
    cut: str
    thickness: str
    """As a kit file has it: "5 mm"."""


class Exposure(NamedTuple):
    """What keeps a diver warm."""

    name: str
    undersuit: str
    """Worn below a drysuit; empty where there is no drysuit."""
    neck: str
    """What a hose round the neck lies on: "bare" or "covered"."""
    foam: tuple[Foam, ...]
    note: str
    origin: str


class Style(NamedTuple):
    """A way to rig a layout, from which a new kit starts."""

    name: str
    layout: str
    file: str
    """A kit file of `LAYOUTS`, without its ending."""
    exposure: str
    """What is usually worn with it."""
    foam_cylinder: str
    """A preset, taken in place of the file's where no drysuit is worn; empty where the file's is light enough."""
    foam_lead: str
    """The tag of a belt that holds the lead where no drysuit is worn; empty where the file's lead stays."""
    note: str
    origin: str

    @property
    def path(self) -> Path:
        """The kit file that it starts from."""
        return LAYOUTS / f"{self.file}.toml"


class Styles(NamedTuple):
    """All styles and exposures, by name, in the order of the file."""

    styles: dict[str, Style]
    exposures: dict[str, Exposure]

    def usual_of(self, layout: str) -> Style:
        """Give the usual style of a layout.

        Raises:
            KeyError: There is no style of such a layout.
        """
        for style in self.styles.values():
            if style.layout == layout:
                return style
        raise KeyError(layout)


@lru_cache(maxsize=1)
def styles() -> Styles:
    """Give the styles that come with the program, read once."""
    return load_styles(FOLDER / "styles.toml")


def load_styles(path: Path) -> Styles:
    """Give the styles and exposures of a TOML file.

    Raises:
        CatalogueError: A key is unknown or missing, or a word is none of the catalogue.
    """
    document, trade = read_catalogue_file(path), catalogue()
    exposures = [_exposure(table, trade.undersuits, trade.cuts) for table in document.tables("exposure")]
    by_name = {exposure.name: exposure for exposure in exposures}
    found = [_style(table, by_name) for table in document.tables("style")]
    document.finish()
    return Styles({style.name: style for style in found}, by_name)


def _exposure(table: CatalogueTable, undersuits: Collection[str], cuts: Collection[str]) -> Exposure:
    exposure = Exposure(
        table.text("name"),
        table.choice("undersuit", undersuits),
        table.text("neck", ("bare", "covered")),
        tuple(_foam(row, cuts) for row in table.rows("foam")),
        table.text("note"),
        table.text("origin"),
    )
    table.finish()
    return exposure


def _foam(table: CatalogueTable, cuts: Collection[str]) -> Foam:
    table.quantity("thickness", "length")
    foam = Foam(table.text("tag"), table.text("cut", cuts), table.text("thickness"))
    table.finish()
    return foam


def _style(table: CatalogueTable, exposures: dict[str, Exposure]) -> Style:
    style = Style(
        table.text("name"),
        table.text("layout"),
        table.text("file"),
        table.text("exposure", exposures),
        table.choice("foam_cylinder", catalogue().cylinders),
        table.text("foam_lead") if "foam_lead" in table else "",
        table.text("note"),
        table.text("origin"),
    )
    table.finish()
    if not style.path.is_file():
        raise CatalogueError(f'{table.place}, file: layouts/ has no "{style.file}.toml"')
    return style
