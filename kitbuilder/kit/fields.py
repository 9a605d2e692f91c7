"""One key of a file, declared where the record that holds it is declared.

The records of this package are the only list of what a file may say. Each attribute carries a `Field` that tells
its kind, its limits and its meaning; the reader's checks, the app's forms and choices, the JSON Schema and the
format's reference page are all made from these.
"""

import dataclasses
from dataclasses import dataclass
from enum import Enum
from typing import Any


class ValueKind(Enum):
    """How the value of a key is written."""

    TEXT = "text"
    NAME = "a name"
    CHOICE = "one of a list"
    QUANTITY = "number with a unit"
    FLAG = "true or false"
    WHOLE = "whole number"
    PORTS = "list of ports"
    PORT_NAMES = "list of port names"
    PORT = "tag of a first stage and the name of one of its ports"
    TAG = "tag of an item"
    TAGS = "list of tags"
    OWNED = "tag of an item in the gear file"
    DATE = "year, month or day"
    GAS = "name of a gas"
    FILE = "name of a file in the same folder"
    FILES = "list of names of files in the same folder"
    KIT_ITEM = "tag of an item of a kit"
    QUANTITIES = "list of numbers with a unit"
    LANDMARKS = "list of landmarks"
    PRICE = "number, at most two decimals"


class Group(Enum):
    """What a key is about. Forms show the keys group by group, in this order, each below its words."""

    WHAT = "what it is"
    WHERE = "where it goes"
    LENGTH = "length and run"
    ENDS = "ends and threads"
    DIVE = "the dive"
    GAS = "gas"
    BODY = "body and lead"
    CHECK = "the check"
    WEIGHED = "weighed"
    TRAVEL = "travel"
    UPKEEP = "upkeep"
    FILES = "other files"
    NOTES = "notes"


@dataclass(frozen=True, slots=True)
class Field:
    """What one key of the file means and accepts."""

    key: str
    attribute: str
    kind: ValueKind
    meaning: str
    example: str
    required: bool = False
    dimension: str = ""
    """Of a quantity: a key of `kitbuilder.units.DIMENSIONS`."""
    lowest: float | None = None
    """Of a quantity, in SI."""
    highest: float | None = None
    vocabulary: str = ""
    """Of a choice: the name of the catalogue's list, when the choices are not written here. Of the tag of an item: the
    kind of item, when it is not any that a hose may feed."""
    choices: tuple[str, ...] = ()
    fewest: int = 1
    """Of a list of landmarks: how many there must be."""
    exactly: int = 0
    """Of a list of quantities: how many there must be; 0 for any number."""
    endings: tuple[str, ...] = (".toml",)
    """Of the name of a file."""
    takes_spread: bool = False
    """Of a quantity: whether it is the reading of a scale, which may carry its spread."""
    takes_rating: bool = False
    """Of a volume: whether the rated capacity of a cylinder may stand in its place: "80 cu ft at 3000 psi"."""
    takes_charge: bool = False
    """Of an energy: whether voltage and charge of a battery may stand in its place: "3.7 V x 5 Ah"."""
    group: Group = Group.WHAT
    label: str = ""
    """What a form calls it: its key with spaces, unless declared otherwise."""
    origin: str = ""
    """What a form says of where a given value comes from, when it can only come from there."""
    always_shown: bool = False
    """Whether a form shows it though the file does not have it; other empty keys are folded away."""
    last: bool = False
    """Whether it stands behind the keys of the item's own: the keys that every item has."""

    @property
    def keeps_spread(self) -> bool:
        """Whether the record has a `spread_attribute`."""
        return self.takes_spread or self.takes_rating

    @property
    def spread_attribute(self) -> str:
        """The attribute of the record that keeps a spread given with the value: `mass_spread_kg` of `mass_kg`."""
        return f"{self.key}_spread{self.attribute.removeprefix(self.key)}"

    @property
    def half_digit_attribute(self) -> str:
        """The attribute that keeps half of what the last typed digit is worth: `mass_half_digit_kg` of `mass_kg`."""
        return f"{self.key}_half_digit{self.attribute.removeprefix(self.key)}"


IN_FRESH_WATER = "buoyancy in fresh water"
"""What a form calls a buoyancy: it is read in fresh water, wherever the dive is."""

_UNIT_SUFFIXES = ("_kg_per_kg", "_kg_m3", "_kgf", "_kg", "_k", "_m3", "_m2", "_m", "_pa", "_j")


def text(meaning: str, example: str, **options: Any) -> Any:
    """Declare a line of text."""
    return _declare(ValueKind.TEXT, meaning, example, **options)


def name(meaning: str, example: str) -> Any:
    """Declare a name that must be given: at least one character, no space at either end."""
    return _declare(ValueKind.NAME, meaning, example, required=True)


def optional_name(meaning: str, example: str) -> Any:
    """Declare a name that may be left out; empty when the file does not say."""
    return _declare(ValueKind.NAME, meaning, example, default="")


def choice(meaning: str, example: str, *, vocabulary: str = "", **options: Any) -> Any:
    """Declare a word from a list: the catalogue's list of that name, or the words given as `choices`."""
    return _declare(ValueKind.CHOICE, meaning, example, vocabulary=vocabulary, **options)


def quantity(dimension: str, meaning: str, example: str, *, lowest: float, highest: float, **options: Any) -> Any:
    """Declare a number with a unit; `lowest` and `highest` are in SI."""
    return _declare(
        ValueKind.QUANTITY, meaning, example, dimension=dimension, lowest=lowest, highest=highest, **options
    )


def weighed(dimension: str, meaning: str, example: str, *, lowest: float, highest: float, **options: Any) -> Any:
    """Declare the reading of a scale, which may carry its spread; the record keeps that, or its digits, beside it."""
    reading = {"takes_spread": True, "group": Group.WEIGHED, "always_shown": True}
    return quantity(dimension, meaning, example, lowest=lowest, highest=highest, **reading, **options)


def capacity(meaning: str, example: str, *, lowest: float, highest: float) -> Any:
    """Declare the water that a cylinder holds, or its rated capacity; the record has a `spread_attribute` beside it."""
    return quantity("volume", meaning, example, lowest=lowest, highest=highest, takes_rating=True)


def quantities(dimension: str, meaning: str, example: str, *, lowest: float, highest: float, **options: Any) -> Any:
    """Declare a list of numbers with a unit; `lowest` and `highest` of each are in SI."""
    limits = {"dimension": dimension, "lowest": lowest, "highest": highest}
    return _declare(ValueKind.QUANTITIES, meaning, example, default=(), **limits, **options)


def gas_name(meaning: str, example: str) -> Any:
    """Declare a gas by the name of the trade."""
    return _declare(ValueKind.GAS, meaning, example, group=Group.GAS, always_shown=True)


def file(meaning: str, example: str, **options: Any) -> Any:
    """Declare the name of another file in the same folder, with one of its `endings`: .toml by default."""
    return _declare(ValueKind.FILE, meaning, example, **({"group": Group.FILES} | options))


def files(meaning: str, example: str) -> Any:
    """Declare a list of names of other files in the same folder."""
    return _declare(ValueKind.FILES, meaning, example, default=(), group=Group.FILES, always_shown=True)


def kit_item(meaning: str, example: str, **options: Any) -> Any:
    """Declare the tag of an item of a kit that the file names."""
    return _declare(ValueKind.KIT_ITEM, meaning, example, always_shown=True, **options)


def battery(meaning: str, example: str) -> Any:
    """Declare the energy of one battery, or its voltage and charge as printed on it."""
    limits = {"lowest": 0.0, "highest": 3.6e6}
    return quantity("energy", meaning, example, takes_charge=True, group=Group.TRAVEL, **limits)


def flag(meaning: str, example: str, **options: Any) -> Any:
    """Declare a value that is true or false; None when the file does not say."""
    return _declare(ValueKind.FLAG, meaning, example, **options)


def whole(meaning: str, example: str, *, choices: tuple[str, ...], **options: Any) -> Any:
    """Declare a whole number from a short list."""
    return _declare(ValueKind.WHOLE, meaning, example, choices=choices, **options)


def ports(meaning: str, example: str) -> Any:
    """Declare a list of ports, each a name and a thread."""
    return _declare(ValueKind.PORTS, meaning, example, default=(), group=Group.ENDS)


def port_names(meaning: str, example: str) -> Any:
    """Declare a list of names of ports."""
    return _declare(ValueKind.PORT_NAMES, meaning, example, default=(), group=Group.ENDS)


def landmarks(meaning: str, example: str, *, fewest: int = 1) -> Any:
    """Declare a list of landmarks of body and kit, at least so many."""
    where = {"vocabulary": "landmark", "group": Group.WHERE}
    return _declare(ValueKind.LANDMARKS, meaning, example, default=(), fewest=fewest, **where)


def price(meaning: str, example: str, **options: Any) -> Any:
    """Declare what an item costs, in the currency of its file."""
    return _declare(ValueKind.PRICE, meaning, example, **options)


def port(meaning: str, example: str, **options: Any) -> Any:
    """Declare a place to screw something in: the tag of a first stage, then the port."""
    return _declare(ValueKind.PORT, meaning, example, group=Group.WHERE, **options)


def tag(meaning: str, example: str, *, kind: str = "", **options: Any) -> Any:
    """Declare the tag of another item of the file: of a kind, or "any"; by default one that a hose may feed."""
    return _declare(ValueKind.TAG, meaning, example, vocabulary=kind, group=Group.WHERE, **options)


def tags(meaning: str, example: str, **options: Any) -> Any:
    """Declare a list of tags of other items of the file."""
    return _declare(ValueKind.TAGS, meaning, example, default=(), **options)


def owned(meaning: str, example: str) -> Any:
    """Declare the tag of an item of the gear file."""
    return _declare(ValueKind.OWNED, meaning, example, last=True)


def day(meaning: str, example: str, **options: Any) -> Any:
    """Declare a day, or the first of the month or the year that is given."""
    return _declare(ValueKind.DATE, meaning, example, **({"group": Group.UPKEEP} | options))


def needed(record: type, attribute: str) -> Any:
    """Declare the field of another record, for a record that cannot do without it, and so has no default."""
    found = next(known for known in dataclasses.fields(record) if known.name == attribute)
    declared: Field = found.metadata["field"]
    meaning = declared.meaning.partition(" Default: ")[0]
    return dataclasses.field(metadata={"field": dataclasses.replace(declared, required=True, meaning=meaning)})


def fields_of(record: type) -> tuple[Field, ...]:
    """Give the fields of a record, in the order of its `attributes`; of all, as declared, where it has no such list.

    A record that takes over another says by `attributes` which of its fields its own file has. What every item has
    comes last.
    """
    if record not in _FIELDS:
        declared = {known.name: known.metadata["field"] for known in dataclasses.fields(record) if known.metadata}
        said: tuple[str, ...] = getattr(record, "attributes", tuple(declared))
        known_fields = (_named(declared[name], name) for name in said)
        _FIELDS[record] = tuple(sorted(known_fields, key=lambda field: field.last))
    return _FIELDS[record]


_FIELDS: dict[type, tuple[Field, ...]] = {}


def _named(field: Field, attribute: str) -> Field:
    """Fill in what follows from the name of its attribute."""
    key = _key(attribute)
    return dataclasses.replace(field, attribute=attribute, key=key, label=field.label or key.replace("_", " "))


def field_named(record: type, key: str) -> Field:
    """Give the field of a record with this key.

    Raises:
        KeyError: The record has no such key.
    """
    for field in fields_of(record):
        if field.key == key:
            return field
    raise KeyError(key)


def _key(attribute: str) -> str:
    """Give the key of an attribute, without its unit and the underscore that tells `from_` from the keyword."""
    for suffix in _UNIT_SUFFIXES:
        if attribute.endswith(suffix):
            return attribute.removesuffix(suffix)
    return attribute.rstrip("_")


def _declare(kind: ValueKind, meaning: str, example: str, *, default: object = None, **options: Any) -> Any:
    field = Field(key="", attribute="", kind=kind, meaning=meaning, example=example, **options)
    if field.required:
        return dataclasses.field(metadata={"field": field})
    return dataclasses.field(default=default, metadata={"field": field})
