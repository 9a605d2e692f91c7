"""Items a kit takes from the locker: what the kit does not say about one, the locker says."""

import dataclasses
from functools import cache, lru_cache
from math import isclose

from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.locker import LOCKER_KINDS, Locker, Owned
from kitbuilder.kit.things import KINDS, Kit, Thing

OF_EACH_FILE = ("tag", "notes", "kept_in", "pieces", "measured")
"""What each file says for itself; `measured` goes with the length, and every file gives the length of its hoses."""


def with_locker(kit: Kit, locker: Locker | None) -> Kit:
    """Fill in from the locker what the kit's own file does not say about the items it takes from there."""
    if locker is None or not any(thing.owned for thing in kit.things):
        return kit
    known = {(entry.kind, entry.tag): entry for entry in locker.things}
    return Kit(kit.header, tuple(_filled(thing, known.get((thing.kind, thing.owned or ""))) for thing in kit.things))


def differing(thing: Thing, entry: Owned) -> tuple[str, ...]:
    """The attributes of which kit and locker say different things."""
    return tuple(
        name
        for name in shared_attributes(thing.kind)
        if _is_told(kits := getattr(thing, name)) and _is_told(own := getattr(entry, name)) and not _agree(kits, own)
    )


@cache
def shared_attributes(kind: str) -> tuple[str, ...]:
    """What both records of a kind of thing can say, that of a kit and that of a locker."""
    own = {field.attribute for field in fields_of(LOCKER_KINDS[kind])}
    names = (field.attribute for field in fields_of(KINDS[kind]))
    return tuple(name for name in names if name in own and name not in OF_EACH_FILE)


@lru_cache(maxsize=1024)
def _filled(thing: Thing, entry: Owned | None) -> Thing:
    """Kept, so that a thing that no edit touched stays the same object."""
    if entry is None:
        return thing
    names = shared_attributes(thing.kind)
    missing = {name: getattr(entry, name) for name in names if not _is_told(getattr(thing, name))}
    return dataclasses.replace(thing, **missing) if missing else thing


def _agree(kits: object, own: object) -> bool:
    """Whether two values say the same; one length written in two units does."""
    if isinstance(kits, float) and isinstance(own, float):
        return isclose(kits, own, rel_tol=1e-6)
    return kits == own


def _is_told(value: object) -> bool:
    return value is not None and value != ()
