"""Items a kit takes from the gear file: what the kit does not say about one, the gear file says."""

import dataclasses
from functools import cache, lru_cache
from math import isclose
from typing import Any

from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.gear import GEAR_KINDS, Gear, Owned
from kitbuilder.kit.items import KINDS, Hose, Item, Kit

OF_EACH_FILE = ("tag", "notes", "kept_in", "pieces", "measured")
"""What each file says for itself; `measured` goes with the length, and every file gives the length of its hoses."""


def with_gear(kit: Kit, gear: Gear | None) -> Kit:
    """Fill in from the gear file what the kit's own file does not say about the items it takes from there."""
    if gear is None or not any(item.owned for item in kit.items):
        return kit
    known = {(entry.kind, entry.tag): entry for entry in gear.items}
    return Kit(kit.header, tuple(_filled(item, known.get((item.kind, item.owned or ""))) for item in kit.items))


def differing(item: Item, entry: Owned) -> tuple[str, ...]:
    """Give the attributes in which kit and gear file disagree."""
    return tuple(
        name
        for name in shared_attributes(item.kind)
        if _is_given(kits := getattr(item, name)) and _is_given(own := getattr(entry, name)) and not _agree(kits, own)
    )


def taken_up(item: Item, entry: Owned) -> Item:
    """Give an item of a kit as it is once it is this item of the gear file, whose values then count."""
    names = [name for name in (*shared_attributes(item.kind), *_with_length(item)) if _is_given(getattr(entry, name))]
    return dataclasses.replace(item, owned=entry.tag, **{name: getattr(entry, name) for name in names})


def of_kit(entry: Owned, role: str) -> Item:
    """Give an item of a gear file as an item of a kit; a hose in a role, which only a kit gives it."""
    names = (*shared_attributes(entry.kind), *(beside for _, beside in _beside_readings(entry.kind)))
    values: dict[str, Any] = {name: getattr(entry, name) for name in names}
    if entry.kind == Hose.kind:
        values["role"] = role
    return KINDS[entry.kind](tag=entry.tag, **values)


def changes_to_take_up(item: Item, entry: Owned) -> dict[str, object]:
    """Give what changes in a kit file when an item becomes one of the gear file, by attribute, without `owned`.

    What the kit must give is given the gear's value. What it need not and gives otherwise is taken out: None.
    """
    must = {field.attribute for field in fields_of(type(item)) if field.required}
    changes = {name: getattr(entry, name) if name in must else None for name in differing(item, entry)}
    changed = [name for name in _with_length(item) if getattr(item, name) != getattr(entry, name)]
    return changes | {name: getattr(entry, name) for name in changed}


def _with_length(item: Item) -> tuple[str, ...]:
    """List what has to go along with the length of a hose: what that length covers."""
    return ("measured",) if isinstance(item, Hose) else ()


@cache
def shared_attributes(kind: str) -> tuple[str, ...]:
    """List the attributes that both records of a kind of item have: that of a kit and that of a gear file."""
    own = {field.attribute for field in fields_of(GEAR_KINDS[kind])}
    names = (field.attribute for field in fields_of(KINDS[kind]))
    return tuple(name for name in names if name in own and name not in OF_EACH_FILE)


@cache
def _beside_readings(kind: str) -> tuple[tuple[str, str], ...]:
    """List the values that may say how certain they are, each with an attribute that keeps it."""
    fields = [field for field in fields_of(KINDS[kind]) if field.keeps_spread]
    spreads = ((field.attribute, field.spread_attribute) for field in fields)
    return (*spreads, *((field.attribute, field.half_digit_attribute) for field in fields if field.takes_spread))


@lru_cache(maxsize=1024)
def _filled(item: Item, entry: Owned | None) -> Item:
    """Fill in what the gear file says. Cached, so that an item that no edit touched stays the same object."""
    if entry is None:
        return item
    names = [name for name in shared_attributes(item.kind) if not _is_given(getattr(item, name))]
    # A spread belongs to the reading it was given with, so that it comes along with that reading alone.
    spreads = [spread for name, spread in _beside_readings(item.kind) if name in names]
    missing = {name: getattr(entry, name) for name in (*names, *spreads)}
    return dataclasses.replace(item, **missing) if missing else item


def _agree(kits: object, own: object) -> bool:
    """Say whether two values are the same; one length written in two units does."""
    if isinstance(kits, float) and isinstance(own, float):
        # 0.13 in and 3.302 mm are one bore, and differ in their last bits as floats.
        return isclose(kits, own, rel_tol=1e-6)
    return kits == own


def _is_given(value: object) -> bool:
    return value is not None and value != ()
