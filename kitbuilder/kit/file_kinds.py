"""The kinds of file there are: what stands at the top of each, and which tables it may have."""

from collections.abc import Mapping
from dataclasses import dataclass

from kitbuilder.kit.diver import CHECK_KINDS, Diver, DiverHeader, FloatCheck
from kitbuilder.kit.gear import GEAR_KINDS, Gear, GearHeader, Owned
from kitbuilder.kit.items import KINDS, Entry, Header, Item, Kit
from kitbuilder.kit.old_words import OldWord
from kitbuilder.kit.stock import STOCK_KINDS, Stock, StockHeader, StockHose
from kitbuilder.kit.trip import TRIP_KINDS, Trip, TripHeader

Contents = Kit | Diver | Stock | Gear | Trip
"""What one file says."""


@dataclass(frozen=True, eq=False)
class FileKind:
    """One kind of file."""

    name: str
    """As its key `holds` says; a file without that key holds a kit."""
    header: type
    kinds: Mapping[str, type[Entry]]
    """Every kind of table, by its name."""
    article: str = "a "
    """What stands before its name in a sentence: "holds a kit", "holds gear"."""
    keeps_sound_rows: bool = False
    """Whether its sound tables are used although others are broken."""

    @property
    def schema(self) -> str:
        """The name of the file with its JSON Schema, which lies beside the files of this kind."""
        return f"{self.name}.schema.json"

    @property
    def schema_line(self) -> str:
        """The first line of a new file: a comment by which editors of TOML find the schema."""
        return f"#:schema ./{self.schema}\n"

    def contents(self, header: object, entries: list[object], old_words: tuple[OldWord, ...] = ()) -> Contents:
        """Make the contents of a header and entries of the right kinds; a kit and gear keep the old words found."""
        if isinstance(header, DiverHeader):
            return Diver(header, tuple(entry for entry in entries if isinstance(entry, FloatCheck)))
        if isinstance(header, StockHeader):
            return Stock(header, tuple(entry for entry in entries if isinstance(entry, StockHose)))
        if isinstance(header, GearHeader):
            return Gear(header, tuple(entry for entry in entries if isinstance(entry, Owned)), old_words)
        if isinstance(header, TripHeader):
            return Trip(header, tuple(entry for entry in entries if isinstance(entry, Entry)))
        assert isinstance(header, Header)
        return Kit(header, tuple(entry for entry in entries if isinstance(entry, Item)), old_words=old_words)


KIT_FILE = FileKind("kit", Header, KINDS)
DIVER_FILE = FileKind("diver", DiverHeader, CHECK_KINDS)
STOCK_FILE = FileKind("stock", StockHeader, STOCK_KINDS, keeps_sound_rows=True)
GEAR_FILE = FileKind("gear", GearHeader, GEAR_KINDS, article="")
TRIP_FILE = FileKind("trip", TripHeader, TRIP_KINDS)
FILE_KINDS = {file.name: file for file in (KIT_FILE, DIVER_FILE, STOCK_FILE, GEAR_FILE, TRIP_FILE)}
"""Every kind of file, by the word for what it holds."""


def record_of(table: str, file: FileKind) -> type:
    """Give the record of a table of a file; of its top when the name is empty."""
    return file.kinds[table] if table else file.header
