"""The form of a trip: what is taken for an empty key, and which words a key may take."""

from kitbuilder.kit.fields import field_named, fields_of
from kitbuilder.kit.resolved_trip import ResolvedTrip
from kitbuilder.kit.trip import Leg, Pin, Rent
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.read import read
from kitbuilder.report.numbers import System
from kitbuilder.report.trip_form import trip_choices, trip_rows
from tests.kitfile.support import CONFIGS

PATH = CONFIGS / "trip-wreck.toml"


def wreck() -> ResolvedTrip:
    trip = read(PATH).contents
    assert isinstance(trip, ResolvedTrip)
    return trip


def number_of(trip: ResolvedTrip, kind: type) -> int:
    return next(number for number, entry in enumerate(trip.items) if isinstance(entry, kind))


def notes(item: int | None, system: System) -> dict[str, str]:
    document, trip = Document(PATH), wreck()
    record = trip.header if item is None else trip.items[item]
    keys = (field.key for field in fields_of(type(record)))
    written = {key: document.raw_value(item, key) for key in keys if document.has(item, key)}
    return {row.field.key: row.note for row in trip_rows(trip, written, item, system)}


def test_empty_keys_show_what_counts() -> None:
    """The published 32 kg, 100 and 160 Wh; in pounds as well: 32 / 0.45359237 = 70.55 lb."""
    leg = number_of(wreck(), Leg)
    metric = notes(leg, System.METRIC)
    assert metric["handling"] == "32.00 kg, published rules"
    assert metric["battery_free"] == "100.0 Wh, published rules"
    assert metric["battery_most"] == "160.0 Wh, published rules"
    assert notes(leg, System.IMPERIAL)["handling"] == "70.55 lb, published rules"
    assert notes(None, System.METRIC)["likelihood"] == "95 %, as usual"


def test_an_entry_may_name_the_items_of_its_kit() -> None:
    """A rental the items of the kit, a pin luggage as well; a bag only a bag."""
    trip = wreck()
    rent = number_of(trip, Rent)
    words = [choice.word for choice in trip_choices(trip, rent, field_named(Rent, "item"), System.METRIC)]
    kit = trip.kits[0].kit
    assert kit is not None
    assert words == [item.tag for item in kit.items]
    pinned = ResolvedTrip(trip.header, (*trip.items, Pin(item="tools", bag="backpack")), trip.kits)
    last = len(trip.items)
    of_pin = trip_choices(pinned, last, field_named(Pin, "item"), System.METRIC)
    assert [choice.word for choice in of_pin][-4:] == ["clothes", "toilet bag", "tools", "papers and phone"]
    bags = trip_choices(pinned, last, field_named(Pin, "bag"), System.METRIC)
    assert [choice.word for choice in bags] == ["large duffel", "small duffel", "backpack", "pockets"]


def test_an_entry_may_name_a_kit_of_the_folder() -> None:
    trip = wreck()
    field = field_named(Rent, "kit")
    choices = trip_choices(trip, 0, field, System.METRIC, ("twinset.toml", "sidemount.toml"))
    assert [(choice.word, choice.note) for choice in choices] == [
        ("twinset.toml", ""), ("sidemount.toml", "does not travel"),
    ]  # fmt: skip
