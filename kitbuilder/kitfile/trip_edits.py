"""Edits of a trip file that are known by what they mean: an item goes into a bag, is rented, or stays at home."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.kit.trip import Leave, Luggage, OfKits, Pin, Rent, Trip
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.new_trip import usual_bag

RENT, LEAVE = Rent.kind, Leave.kind


def entry_about(trip: Trip, kind: type[OfKits], file: str, tag: str, item_kind: str = "") -> int | None:
    """Find the entry that decides about an item: the last of its kind that means it. None where there is none.

    Args:
        trip: What the file says.
        kind: A pin, a rental, or what stays at home.
        file: The kit of the item; empty for luggage.
        tag: Of the item.
        item_kind: The kind of the item, for a rental of every such item.
    """
    found = None
    for number, entry in enumerate(trip.items):
        if isinstance(entry, kind) and entry.kit in (None, file):
            every = entry.every if isinstance(entry, Rent) else None
            if entry.item == tag or (every and every == item_kind):
                found = number
    return found


def luggage_with(trip: Trip, tag: str) -> int | None:
    """Find a piece of luggage by its tag."""
    found = (number for number, entry in enumerate(trip.items) if isinstance(entry, Luggage) and entry.tag == tag)
    return next(found, None)


def put_into(document: Document, file: str, tag: str, bag: str | None) -> None:
    """Let an item have a fixed bag: luggage by its own key, an item of a kit by a pin. One edit.

    Args:
        document: A trip file.
        file: The kit of the item; empty for luggage, and for spares that are packed together.
        tag: Of the item.
        bag: The bag; None lets the packing choose again.

    Raises:
        RefusedEdit: The file cannot be changed in this way.
    """
    trip = _trip(document)
    number = None if file else luggage_with(trip, tag)
    if number is not None:
        document.set_value(number, "bag", bag)
        return
    pin = entry_about(trip, Pin, file, tag)
    if bag is None:
        if pin is not None:
            document.remove_item(*_all_about(trip, file, tag))
    elif pin is not None and (not file or _means_one(trip, pin)):
        document.set_value(pin, "bag", bag)
    else:
        document.add_item(Pin.kind, {**_named(trip, file, tag), "bag": bag}, last_entry(trip))


def rent_or_leave(document: Document, file: str, tag: str, kind: str) -> None:
    """Let an item of a kit be rented there, or stay at home. One edit.

    Args:
        document: A trip file.
        file: The kit of the item.
        tag: Of the item.
        kind: `RENT` or `LEAVE`.

    Raises:
        RefusedEdit: The file cannot be changed in this way.
    """
    trip = _trip(document)
    document.add_item(kind, _named(trip, file, tag), last_entry(trip))


def rent_items(document: Document, file: str, tags: Sequence[str]) -> None:
    """Let items of a kit be rented there. One edit.

    Args:
        document: A trip file.
        file: The kit of the items.
        tags: Of the items.

    Raises:
        RefusedEdit: The file cannot be changed in this way.
    """
    trip = _trip(document)
    document.add_items(RENT, [_named(trip, file, tag) for tag in tags], last_entry(trip))


def bring_again(document: Document, gone: Sequence[int], file: str, tag: str, bag: str | None) -> None:
    """Let an item of a kit travel that was rented or left, and have a fixed bag. One edit.

    Args:
        document: A trip file.
        gone: The numbers of the entries that rent or leave it, and nothing else.
        file: The kit of the item.
        tag: Of the item.
        bag: The bag; None lets the packing choose.

    Raises:
        RefusedEdit: The file cannot be changed in this way.
    """
    trip = _trip(document)
    if bag is None:
        document.remove_item(*gone)
        return
    old = [number for number in _all_about(trip, file, tag) if _means_one(trip, number)]
    document.exchange_items([*gone, *old], Pin.kind, {**_named(trip, file, tag), "bag": bag})


class Addition(NamedTuple):
    """A new entry of a trip file."""

    name: str
    """What it is called where it is chosen."""
    note: str
    kind: str
    values: dict[str, TomlValue]
    key: str
    """Which of its keys is filled in first."""


def additions_of_trip() -> tuple[Addition, ...]:
    """List what can be added to a trip, with usual values until the traveller writes the real ones."""
    return (
        Addition("luggage", "clothes, camera, papers", "luggage", {"tag": "luggage", "mass": "1 kg"}, "tag"),
        Addition("bag for the hold", "with a usual mass", "bag", usual_bag("hold"), "mass"),
        Addition("bag for the cabin", "with a usual mass", "bag", usual_bag("cabin"), "mass"),
        Addition(
            "pockets", "of a jacket worn on board", "bag", {"tag": "pockets", "goes": "body", "mass": "0 kg"}, "tag"
        ),
        Addition("leg", "a flight, ferry or transfer", "leg", {"tag": "flight"}, "hold_piece"),
        Addition("rental", "every item of a kind", "rent", {"every": "cylinder"}, "every"),
        # Without an item, these two change nothing until the traveller says what they are about.
        Addition("option", "what may be left, rented or worn", "option", {"do": "leave"}, "item"),
        Addition("rule of the airline", "where it wants an item", "rule", {"goes": "cabin"}, "item"),
    )


def last_entry(trip: Trip) -> int | None:
    """Give the number of the last entry, after which a new one stands; None in a file without entries."""
    return len(trip.items) - 1 if trip.items else None


def _trip(document: Document) -> Trip:
    trip = document.reading.contents
    assert isinstance(trip, Trip), "asked of trip files only"
    return trip


def _named(trip: Trip, file: str, tag: str) -> dict[str, TomlValue]:
    """Name an item, with its kit where several travel."""
    item: dict[str, TomlValue] = {"item": tag}
    return item | ({"kit": file} if file and len(trip.header.kits) > 1 else {})


def _means_one(trip: Trip, pin: int) -> bool:
    """Say whether a pin is about one kit only, so that changing it moves no item of another kit."""
    entry = trip.items[pin]
    return len(trip.header.kits) < 2 or (isinstance(entry, OfKits) and entry.kit is not None)


def _all_about(trip: Trip, file: str, tag: str) -> list[int]:
    """List the pins of an item: without the last, an earlier one would count again."""
    return [
        number
        for number, entry in enumerate(trip.items)
        if isinstance(entry, Pin) and entry.kit in (None, file) and entry.item == tag
    ]
