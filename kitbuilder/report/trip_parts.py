"""Parts of the page of a trip: the room in the bags, what to weigh first, what is rented, and the spares."""

from collections.abc import Iterator

from kitbuilder.assess.findings import Amount
from kitbuilder.catalogue.air_rules import CONFIRM, AirRule
from kitbuilder.kit.resolved_trip import Fate
from kitbuilder.plans.trip_packing import TripPacking
from kitbuilder.plans.trip_weights import TripItem
from kitbuilder.report.page import Cell, Column, Estimate, Price, Row, Share, Table, Tag, Text, Values, joined, text
from kitbuilder.report.shapes import FIGURE, NUMBER, SHARE, TEXT, listed, one_of, optional, record

ROOM = listed(record(bag=TEXT, taken_m3=FIGURE, room_m3=NUMBER, chance=SHARE, not_known=listed(TEXT)))
WEIGH_FIRST = listed(record(what=TEXT, tags=listed(TEXT), mass_kg=FIGURE, spread_after_kg=NUMBER))
NOT_BROUGHT = listed(
    record(
        tag=TEXT,
        kit=TEXT,
        do=one_of(Fate.RENT.value, Fate.LEAVE.value),
        preset=optional(TEXT),
        mass_kg=optional(FIGURE),
        price=optional(NUMBER),
    )
)
NEARLY_SURE = 0.999
"""Shown for any chance above it: no guess of a volume is a certainty."""
LIKELY = 0.95
"""Below it, a bag may be too small."""


def weigh_first_table(found: TripPacking) -> Table:
    """Build the table of what to weigh first, and how much that narrows the mass of all that is packed."""
    columns = [
        Column("what", "weigh", may_wrap=True),
        Column("mass_kg", "taken as"),
        Column("spread_after_kg", "sum then known to ±"),
        Column("tags", ""),
    ]
    rows: list[Row] = [
        [
            Tag(each.what),
            Estimate(each.mass, "mass"),
            Amount(each.spread_after_kg, "mass"),
            Values([Tag(tag) for tag in each.tags]),
        ]
        for each in found.weigh_first
    ]
    return Table("weigh_first", columns, rows, title="What to weigh first" if rows else "")


def room_table(found: TripPacking) -> Table:
    """Build the table of the room in the bags."""
    columns = [
        Column("bag", "bag"),
        Column("", "what is in it takes"),
        Column("", "room"),
        Column("", "it fits"),
        Column("taken_m3", ""),
        Column("room_m3", ""),
        Column("chance", ""),
        Column("not_known", ""),
    ]
    rows: list[Row] = [
        [
            Tag(each.bag),
            # What was given in litres has no spread, and is no certainty either.
            Estimate(each.taken, "volume") if each.taken.spread else Amount(each.taken.value, "volume"),
            Amount(each.room_m3, "volume"),
            Share(min(each.chance, NEARLY_SURE)),
            Estimate(each.taken, "volume"),
            Amount(each.room_m3, "volume"),
            Share(each.chance),
            Values([Tag(tag) for tag in each.unknown]),
        ]
        for each in found.rooms
    ]
    return Table("rooms", columns, rows, title="Room" if rows else "")


def room_notes(found: TripPacking) -> Iterator[Text]:
    """Say which bags may be too small, and what that rests on."""
    small = [Tag(each.bag) for each in found.rooms if each.chance < LIKELY]
    if small:
        yield text("May be too small: ", *joined(((tag,) for tag in small), ", "), ". Pack it once before you travel.")
    if found.rooms:
        yield text(
            "The room that gear takes is estimated from its mass, from memory; that of luggage is as you gave it."
        )


def spares_words(found: TripPacking) -> Iterator[Text]:
    """Say what the spares weigh, and where their list is."""
    listed_spares = found.weights.spares
    if listed_spares.lines:
        mass = Estimate(listed_spares.mass, "mass")
        yield text(
            f"Spares for {LEVEL_WORDS[listed_spares.level]}: ",
            mass,
            ". `kitbuilder spares` lists them from this trip file.",
        )


def rule_words(rule: AirRule, *, is_approved: bool) -> str:
    """Say what to do about a rule of air travel: before the airline has approved an item, and once it has."""
    return f"The airline has approved it. {rule.do_approved}" if is_approved else f"{rule.do} {CONFIRM}"


LEVEL_WORDS = {"day boat": "a day boat", "remote": "a place without a shop"}


def not_brought_table(found: TripPacking) -> Table:
    """Build the table of what is rented or left; of a rental with a preset, with the mass of that."""
    has_several_kits = len(found.trip.kits) > 1
    away = (*found.weights.of(Fate.RENT), *found.weights.of(Fate.LEAVE))
    has_prices = any(item.rental and item.rental.price is not None for item in away)
    columns = [
        Column("tag", "item"),
        Column("kit", "kit" if has_several_kits else "", may_wrap=True),
        Column("do", "rent or leave"),
        Column("preset", "as" if any(item.rental and item.rental.preset for item in away) else "", may_wrap=True),
        Column("mass_kg", "mass"),
        Column("price", "price" if has_prices else ""),
    ]
    priced: set[int] = set()
    rows: list[Row] = []
    for item in away:
        # An entry that rents every item of a kind has one price for all.
        price = None if item.rental is None or id(item.rental) in priced else item.rental.price
        priced.add(id(item.rental))
        rows.append(_not_brought(item, price, found.trip.header.currency or ""))
    return Table("not_brought", columns, rows, title="Not brought")


def _not_brought(item: TripItem, price: float | None, currency: str) -> Row:
    preset: Cell = item.rental.preset if item.rental else None
    mass = Estimate(item.mass, "mass") if item.mass else None
    cost = None if price is None else Price(price, currency)
    return [Tag(item.tag), Tag(item.file), item.fate.value, preset, mass, cost]
