"""Reading one TOML table strictly: every key is asked for by name, and none may be left over."""

from collections.abc import Collection, Iterator
from pathlib import Path

import tomli

from kitbuilder.catalogue.entries import Value
from kitbuilder.units import QuantityError, parse_quantity

_VALUE_KEYS = frozenset(("value", "low", "high", "ends", "origin"))
_COVER_95 = "95 %"
"""What `ends` says of a low and a high that are no bounds."""


class CatalogueError(ValueError):
    """The catalogue contradicts itself; the message names the file, the entry and the key."""


def read_catalogue_file(path: Path) -> "CatalogueTable":
    """Read a file of the catalogue.

    Raises:
        CatalogueError: It cannot be read, or is not TOML.
    """
    try:
        return CatalogueTable(tomli.loads(path.read_text(encoding="utf-8")), path.name)
    except OSError as problem:
        raise CatalogueError(f"{path.name}: cannot be read: {problem.strerror}") from problem
    except tomli.TOMLDecodeError as problem:
        raise CatalogueError(f"{path.name}: is not TOML: {problem}") from problem


class CatalogueTable:
    """A table of a catalogue file, which knows its place there."""

    __slots__ = ("_asked", "_rows", "place")

    def __init__(self, rows: object, place: str) -> None:
        """Take the rows of a table that stands at a place: a file, an entry, a key."""
        if not isinstance(rows, dict):
            raise CatalogueError(f"{place}: is not a table")
        self.place = place
        self._rows = rows
        self._asked: set[str] = set()

    def __contains__(self, key: str) -> bool:
        """Say whether the table has a key; asking makes it a known one."""
        self._asked.add(key)
        return key in self._rows

    def __iter__(self) -> Iterator[str]:
        """Give all keys, in the order of the file."""
        return iter(self._rows)

    def finish(self) -> None:
        """Raise if the table has a key nobody asked for."""
        for key in self._rows.keys() - self._asked:
            raise CatalogueError(f"{self.place}, {key}: unknown key{_nearest(key, self._asked)}")

    def text(self, key: str, among: Collection[str] | None = None) -> str:
        """Give a text that is not blank, and one of those given, if any are."""
        text = self._take(key)
        if not isinstance(text, str) or not text.strip():
            raise CatalogueError(f"{self.place}, {key}: is not a text, or is blank")
        if among is not None and text not in among:
            raise CatalogueError(f'{self.place}, {key}: there is no "{text}"{_nearest(text, among)}')
        return text

    def note(self) -> str:
        """Give the note, where there is one."""
        return self.text("note") if "note" in self else ""

    def choice(self, key: str, among: Collection[str]) -> str:
        """Give one of the given words; empty where it is left out."""
        return self.text(key, among) if key in self else ""

    def texts(self, key: str, among: Collection[str] | None = None) -> list[str]:
        """Give a list of texts, each one of those given, if any are."""
        texts = self._take(key)
        if not isinstance(texts, list) or not texts or not all(isinstance(text, str) for text in texts):
            raise CatalogueError(f"{self.place}, {key}: is not a list of texts")
        for text in texts:
            if among is not None and text not in among:
                raise CatalogueError(f'{self.place}, {key}: there is no "{text}"{_nearest(text, among)}')
        return texts

    def number(self, key: str) -> float:
        """Give a number without a unit."""
        number = self._take(key)
        if isinstance(number, bool) or not isinstance(number, (int, float)):
            raise CatalogueError(f"{self.place}, {key}: is not a number")
        return float(number)

    def flag(self, key: str) -> bool:
        """Say whether something is so; a key left out says no."""
        flag = self._take(key) if key in self else False
        if not isinstance(flag, bool):
            raise CatalogueError(f"{self.place}, {key}: is not true or false")
        return flag

    def table(self, key: str) -> "CatalogueTable":
        """Give a table within the table; empty where it is left out."""
        return CatalogueTable(self._take(key) if key in self else {}, f"{self.place}, {key}")

    def tables(self, key: str) -> Iterator["CatalogueTable"]:
        """Give an array of tables, each placed by its name, which no other has."""
        rows = self._take(key)
        if not isinstance(rows, list):
            raise CatalogueError(f"{self.place}, {key}: is not an array of tables")
        places = set()
        for number, row in enumerate(rows, start=1):
            name = row.get("name") if isinstance(row, dict) else None
            place = f'{self.place}, {key} "{name or number}"'
            if place in places:
                raise CatalogueError(f"{place}, name: is there twice")
            places.add(place)
            yield CatalogueTable(row, place)

    def rows(self, key: str) -> list["CatalogueTable"]:
        """Give tables without names, written within a line; none where they are left out."""
        rows = self._take(key) if key in self else []
        if not isinstance(rows, list):
            raise CatalogueError(f"{self.place}, {key}: is not a list of tables")
        return [CatalogueTable(row, f"{self.place}, {key} {number}") for number, row in enumerate(rows, start=1)]

    def quantity(self, key: str, dimension: str) -> float:
        """Give a quantity, in SI."""
        return _quantity(self.text(key), dimension, f"{self.place}, {key}")

    def quantities(self, key: str, dimension: str) -> list[float]:
        """Give a list of quantities, in SI."""
        return [_quantity(text, dimension, f"{self.place}, {key}") for text in self.texts(key)]

    def value(self, key: str, dimension: str) -> Value:
        """Give a number with its range and origin: { value, low, high, ends, origin }.

        Without low and high no range is known; with low and high alone the middle is meant. They are bounds, unless
        `ends = "95 %"`.
        """
        rows, place = self._take(key), f"{self.place}, {key}"
        if not isinstance(rows, dict):
            raise CatalogueError(f"{place}: is not a value with an origin")
        if unknown := rows.keys() - _VALUE_KEYS:
            raise CatalogueError(f"{place}: unknown key {min(unknown)}{_nearest(min(unknown), _VALUE_KEYS)}")
        origin = rows.get("origin")
        if not isinstance(origin, str) or not origin.strip():
            raise CatalogueError(f"{place}: has no origin")
        if "low" in rows or "high" in rows:
            low = _quantity(rows.get("low"), dimension, f"{place}, low")
            high = _quantity(rows.get("high"), dimension, f"{place}, high")
            value = _quantity(rows["value"], dimension, f"{place}, value") if "value" in rows else (low + high) / 2
        else:
            low = high = value = _quantity(rows.get("value"), dimension, f"{place}, value")
        if not low <= value <= high:
            raise CatalogueError(f"{place}: the value does not lie between low and high")
        if rows.get("ends", _COVER_95) != _COVER_95 or ("ends" in rows and low == high):
            raise CatalogueError(f'{place}, ends: is left out for bounds, or "{_COVER_95}" beside low and high')
        return Value(value, low, high, origin, "ends" in rows)

    def optional(self, key: str, dimension: str) -> Value | None:
        """Give a number with its range and origin; None where it is left out."""
        return self.value(key, dimension) if key in self else None

    def _take(self, key: str) -> object:
        self._asked.add(key)
        try:
            return self._rows[key]
        except KeyError:
            raise CatalogueError(f"{self.place}, {key}: is missing") from None


def _quantity(text: object, dimension: str, place: str) -> float:
    if not isinstance(text, str):
        raise CatalogueError(f"{place}: is missing, or is not a quantity in quotes")
    try:
        return parse_quantity(text, dimension)
    except QuantityError as problem:
        raise CatalogueError(f"{place}: {problem}") from None


def _nearest(text: str, known: Collection[str]) -> str:
    from difflib import get_close_matches  # only a broken catalogue needs it, and it takes 2 ms to import

    nearest = get_close_matches(text, known, n=1)
    return f'; did you mean "{nearest[0]}"?' if nearest else ""
