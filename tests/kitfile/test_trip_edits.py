"""Edits of a trip by what they mean: each is one edit, and undo gives the file back to the byte."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from kitbuilder.kit.trip import Pin, Rent, Trip
from kitbuilder.kitfile.differences import differences
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.trip_edits import (
    LEAVE,
    RENT,
    additions_of_trip,
    bring_again,
    entry_about,
    last_entry,
    put_into,
    rent_or_leave,
)
from kitbuilder.report.undone import undone_words

HEAD = 'format = 1\nholds = "trip"\nname = "x"\nkits = [{}]\n'
ONE, TWO = HEAD.format('"a.toml"'), HEAD.format('"a.toml", "b.toml"')
BAGS = (
    '\n[[bag]]  # weighed\ntag = "duffel"\ngoes = "hold"\nmass = "2 kg"\n'
    '\n[[bag]]\ntag = "pack"\ngoes = "cabin"\nmass = "1 kg"\n'
)
CLOTHES = '\n[[luggage]]\ntag = "clothes"\nmass = "5 kg"\n'


def opened(folder: Path, text: str) -> Document:
    path = folder / "trip.toml"
    path.write_text(text, encoding="utf-8")
    document = Document(path)
    assert isinstance(document.reading.contents, Trip)
    return document


def pins(document: Document) -> list[dict[str, Any]]:
    return tomllib.loads(document.text).get("pin", [])


def test_an_item_of_a_kit_gets_a_pin_that_the_next_move_changes(tmp_path: Path) -> None:
    document = opened(tmp_path, ONE + BAGS)
    put_into(document, "a.toml", "fins", "duffel")
    assert pins(document) == [{"item": "fins", "bag": "duffel"}]
    put_into(document, "a.toml", "fins", "pack")
    assert pins(document) == [{"item": "fins", "bag": "pack"}]
    put_into(document, "a.toml", "fins", None)
    assert document.text == ONE + BAGS
    assert [document.undo() for _ in range(4)] == [True, True, True, False]


def test_with_two_kits_only_the_item_that_was_moved_is_pinned(tmp_path: Path) -> None:
    """A pin without a kit means both: it stays, and a pin of the one kit after it counts."""
    both = '\n[[pin]]\nitem = "fins"\nbag = "pack"\n'
    document = opened(tmp_path, TWO + BAGS + both)
    put_into(document, "b.toml", "fins", "duffel")
    assert pins(document) == [{"item": "fins", "bag": "pack"}, {"item": "fins", "kit": "b.toml", "bag": "duffel"}]
    trip = document.reading.trip
    assert trip is not None
    of_each = [entry_about(trip, Pin, file, "fins") for file in ("a.toml", "b.toml")]
    assert [trip.items[number or 0].bag for number in of_each] == ["pack", "duffel"]


def test_luggage_has_its_bag_in_its_own_entry(tmp_path: Path) -> None:
    document = opened(tmp_path, ONE + BAGS + CLOTHES)
    put_into(document, "", "clothes", "duffel")
    assert tomllib.loads(document.text)["luggage"] == [{"tag": "clothes", "mass": "5 kg", "bag": "duffel"}]
    assert pins(document) == []
    put_into(document, "", "clothes", None)
    assert document.text == ONE + BAGS + CLOTHES


@pytest.mark.parametrize("kind", [RENT, LEAVE])
def test_an_item_is_rented_or_left(tmp_path: Path, kind: str) -> None:
    document = opened(tmp_path, ONE)
    rent_or_leave(document, "a.toml", "fins", kind)
    assert tomllib.loads(document.text)[kind] == [{"item": "fins"}]


def test_an_item_that_was_left_is_brought_again_in_one_edit(tmp_path: Path) -> None:
    """The entries that keep it away go, and so does an earlier pin; what stands between them stays."""
    away = '\n[[leave]]\nitem = "fins"\n\n[[leave]]  # heavy\nitem = "knife"\n\n[[rent]]\nitem = "fins"\n'
    before = ONE + BAGS + away + '\n[[pin]]\nitem = "fins"\nbag = "duffel"\n'
    document = opened(tmp_path, before)
    bring_again(document, [2, 4], "a.toml", "fins", "pack")
    written = tomllib.loads(document.text)
    assert (written["leave"], written.get("rent")) == ([{"item": "knife"}], None)
    assert pins(document) == [{"item": "fins", "bag": "pack"}]
    assert "[[leave]]  # heavy" in document.text
    assert document.undo()
    assert document.text == before
    bring_again(document, [2, 4], "a.toml", "fins", None)
    assert pins(document) == [{"item": "fins", "bag": "duffel"}]
    assert document.undo()
    assert (document.text, document.undo()) == (before, False)


def test_a_rental_of_every_item_of_a_kind_decides_about_each(tmp_path: Path) -> None:
    document = opened(tmp_path, ONE + '\n[[rent]]\nevery = "cylinder"\n')
    trip = document.reading.trip
    assert trip is not None
    assert entry_about(trip, Rent, "a.toml", "left tank", "cylinder") == 0
    assert entry_about(trip, Rent, "a.toml", "belt", "lead") is None


@pytest.mark.parametrize("addition", additions_of_trip(), ids=lambda addition: addition.name)
def test_every_addition_reads(tmp_path: Path, addition) -> None:
    document = opened(tmp_path, ONE)
    trip = document.reading.trip
    assert trip is not None
    number = document.add_item(addition.kind, dict(addition.values), last_entry(trip))
    assert document.has(number, addition.key) or addition.key not in addition.values


def test_an_undo_names_the_item_of_an_entry_without_a_tag(tmp_path: Path) -> None:
    """ "Undone: the trip is out of the file" would be another thing."""
    document = opened(tmp_path, ONE + BAGS)
    put_into(document, "a.toml", "fins", "duffel")
    pinned = document.reading
    document.undo()
    assert undone_words("Undone", differences(pinned, document.reading), "trip") == 'Undone: "fins" is out of the file.'
