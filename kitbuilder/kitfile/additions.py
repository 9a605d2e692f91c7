"""What can be added to a kit or to a gear file, found by everyday words: kinds and presets together."""

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple, cast

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.everyday_words import entry_of
from kitbuilder.kit.fields import Field, field_named
from kitbuilder.kit.file_kinds import KIT_FILE, FileKind
from kitbuilder.kit.items import KINDS, Cylinder, Hose, Item, Other, Suit
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.reader import read_item
from kitbuilder.kitfile.starters import first_owned, first_values, which_key
from kitbuilder.word_search import Entry, search


class Addition(NamedTuple):
    """One item that can be added."""

    kind: str
    """Its table."""
    word: str | None
    """Which one of its kind it is: a preset, the role of a hose, the cut of a suit; None where that is left open."""
    name: str
    """What it is called: "hand-held torch", "long hose", "gauge without preset"."""
    title: str
    """Of its kind."""
    tag: str
    """What its tag is made of."""
    thickness: str | None = None
    """Of a suit of foam, as a file writes it."""


THICKNESSES = ("5 mm", "3 mm", "7 mm")
"""In which foam suits are offered: those sold most, the most usual first."""


@cache
def additions(file: FileKind = KIT_FILE) -> tuple[Addition, ...]:
    """Give all that can be added to a kind of file. Hoses come last: most are named after what they feed."""
    kinds = sorted(file.kinds, key=lambda kind: kind == Hose.kind)
    return tuple(addition for kind in kinds for addition in _of_kind(kind, file))


def search_additions(typed: str, file: FileKind = KIT_FILE) -> tuple[Addition, ...]:
    """Give what fits the words typed, the best first; all there is when nothing is typed."""
    known = additions(file)
    return tuple(known[found.number] for found in search(typed, _entries(file)))


def kit_values(addition: Addition, layout: str, tag: str) -> dict[str, TomlValue]:
    """Give the keys of a new item of a kit.

    Args:
        addition: What is added.
        layout: That of the kit.
        tag: Its tag, not taken in the kit.
    """
    return first_values(layout, addition.kind, addition.word, tag) | _thickness(addition)


def owned_values(addition: Addition, tag: str) -> dict[str, TomlValue]:
    """Give the keys of a new item of a gear file.

    Args:
        addition: What is added.
        tag: Its tag, not taken in the gear file.
    """
    return first_owned(addition.kind, addition.word, tag) | _thickness(addition)


def first_item(addition: Addition, layout: str) -> Item | None:
    """Give the item of a kit as it would be added, so that it can be weighed; None for what only a gear file has."""
    if addition.kind not in KINDS:
        return None
    return cast("Item | None", read_item(addition.kind, kit_values(addition, layout, addition.name)))


def _thickness(addition: Addition) -> dict[str, TomlValue]:
    return {"thickness": addition.thickness} if addition.thickness else {}


def _of_kind(kind: str, file: FileKind) -> Iterator[Addition]:
    title = file.kinds[kind].title
    field = _which_field(kind, file)
    if field is None:
        yield Addition(kind, None, title, title, title)
        return
    for word in choices_for(field, kind):
        if kind == Suit.kind:
            yield from (Addition(kind, word, f"{word}, {size}", title, title, size) for size in THICKNESSES)
            continue
        name = f"{word.removesuffix(' hose')} {title}" if kind == Hose.kind else word
        yield Addition(kind, word, name, title, _tag(kind, name, title))
    if field.key == "preset":
        yield Addition(kind, None, f"{title} without preset", title, title)


def _tag(kind: str, name: str, title: str) -> str:
    """Give what a tag is made of: a hose and any other item are called by what they are, the rest by their kind."""
    return name.partition(",")[0] if kind in (Hose.kind, Other.kind) else title


def _which_field(kind: str, file: FileKind) -> Field | None:
    """Give the key that says which one of its kind an item is; an owned hose has none, and its ends tell."""
    if kind == Hose.kind:
        return field_named(Hose, "role")
    key = which_key(kind, file)
    return field_named(file.kinds[kind], key) if key else None


@cache
def _entries(file: FileKind) -> tuple[Entry, ...]:
    return tuple(_entry(addition, file) for addition in additions(file))


def _entry(addition: Addition, file: FileKind) -> Entry:
    """Make the entry of an addition: its name, its kind, everyday words, and what is said of it."""
    names = (addition.name, addition.title) if addition.word else (addition.title,)
    return entry_of(addition.kind, names, f"{_note(addition)} {file.kinds[addition.kind].__doc__ or ''}")


def _note(addition: Addition) -> str:
    trade, word = catalogue(), addition.word or ""
    if addition.kind == Hose.kind:
        return trade.roles[word].note
    if addition.kind == Cylinder.kind:
        return trade.cylinders[word].note if word else ""
    preset = trade.presets.get((addition.kind, word))
    return preset.note if preset else ""
