"""The lists of the trip screen: the bags with all that goes on beside them, and the items of one of them."""

from collections.abc import Iterator, Sequence
from enum import Enum
from typing import NamedTuple, TypeVar

from kitbuilder.assess.findings import Amount, Finding, Signal, Tag
from kitbuilder.foreign import visible
from kitbuilder.kit.entry import Entry
from kitbuilder.kit.resolved_trip import Fate, ResolvedTrip
from kitbuilder.kit.spare import in_hand
from kitbuilder.kit.trip import Bag, Leave, Leg, Luggage, Pin, Rent
from kitbuilder.kitfile.trip_edits import entry_about, luggage_with
from kitbuilder.pictures.bags import bag_scale_head, draw_bag
from kitbuilder.plans.packing.limits import CABIN_TOTAL, HOLD_TOTAL, TOTAL, places_of
from kitbuilder.plans.packing.packing import ADVISED, BY_RULE, EVEN, ONLY_BAG, PINNED, PackedBag, Use
from kitbuilder.plans.trip_moves import Whereabouts, whereabouts
from kitbuilder.plans.trip_packing import TripPacking, all_hold
from kitbuilder.report.packing_steps import DO
from kitbuilder.report.page import Cell, Column, Estimate, Row, Share, Table
from kitbuilder.report.words import counted_items

EntryT = TypeVar("EntryT")

BAR, LONG_BAR, LONGEST_BAR = 12, 24, 40
"""Cells of a bar."""
WIDE, WIDEST = 105, 150
"""Columns of the list from which on bars are longer, and both ways have their columns."""


class Group(Enum):
    """What a row of the upper list stands for: which items the lower list shows."""

    TRIP = "trip"
    BAG = "bag"
    SUM = "sum"
    NO_PLACE = "no place"
    INSTEAD = "instead"
    RENT = "rent"
    LEAVE = "leave"
    LEG = "leg"


class Bars(NamedTuple):
    """How the bars of a list are drawn."""

    cells: int
    is_plain: bool

    @property
    def is_long(self) -> bool:
        """Whether there is room for both ways beside a bar."""
        return self.cells > BAR


def bars_for(width: int, *, plain: bool) -> Bars:
    """Choose the bars of a list by its width; `plain` asks for ASCII signs."""
    return Bars(LONGEST_BAR if width >= WIDEST else LONG_BAR if width >= WIDE else BAR, plain)


class PlaceRow(NamedTuple):
    """One row of the upper list."""

    group: Group
    tag: str
    """Of the bag or the leg; which bags a sum is about; what it is called otherwise."""
    entry: int | None
    """The entry of the file whose form belongs to it."""
    signal: Signal | str
    cells: Row

    @property
    def has_form(self) -> bool:
        """Whether the file has something to edit for it."""
        return self.entry is not None or self.group is Group.TRIP


class ItemRow(NamedTuple):
    """One row of the lower list: an item, or an entry of the file that is about no item."""

    name: str
    where: Whereabouts | None
    """None for an entry that is about no item."""
    entry: int | None
    """The entry of the file that decides about it."""
    bag: str
    """The bag that it is in; empty for none."""
    signal: Signal | str
    cells: Row

    @property
    def is_of(self) -> tuple[str, str]:
        """What it is about, by kit and tag, whichever bag it is in."""
        return (self.where.item.file, self.where.item.tag) if self.where else ("", self.name)


# ---- the upper list ----


def place_rows(trip: ResolvedTrip, found: TripPacking | None, bars: Bars) -> list[PlaceRow]:
    """Give the rows of the upper list: the trip, its bags, limits of several bags, what is not packed, the legs.

    Args:
        trip: What the file says now.
        found: How it is packed; None before that is known.
        bars: How its bars are drawn.
    """
    rows = [_trip_row(trip, found), *(_bag_row(found, number, bag, bars) for number, bag in _numbered(trip, Bag))]
    rows += list(_beside(trip, found, bars)) if found else []
    legs = _numbered(trip, Leg)
    return rows + [
        PlaceRow(Group.LEG, leg.tag, number, _worst(found, number), [f"leg {visible(leg.tag)}", *[None] * 7])
        for number, leg in legs
    ]


def place_table(rows: Sequence[PlaceRow], bars: Bars) -> Table:
    """Build the upper list as a table."""
    columns = [
        Column("", "bag", may_wrap=True, names_row=True),
        Column("", "goes", is_repeated=not bars.is_long),
        Column("", "mass", unit_in_head=True),
        Column("", bag_scale_head(bars.cells)),
        Column("", "limit", unit_in_head=True),
        Column("", "holds"),
        Column("", "home" if bars.is_long else ""),
        Column("", "items"),
    ]
    return Table("", columns, [row.cells for row in rows])


def _trip_row(trip: ResolvedTrip, found: TripPacking | None) -> PlaceRow:
    if found is None:
        return PlaceRow(Group.TRIP, trip.header.name, None, "", ["all to bring", *[None] * 7])
    brought = found.weights.of(Fate.BRING)
    dry = Estimate(found.weights.dry(Fate.BRING), "mass")
    cells = ["all to bring", None, dry, *[None] * 4, len(brought)]
    return PlaceRow(Group.TRIP, trip.header.name, None, _worst(found, None), cells)


def _bag_row(found: TripPacking | None, number: int, bag: Bag, bars: Bars) -> PlaceRow:
    packed = _packed(found, bag.tag)
    if found is None or packed is None:
        note = "not usable" if found else None
        signal = Signal.WARNING if found else ""
        return PlaceRow(Group.BAG, bag.tag, number, signal, [Tag(bag.tag), bag.goes, None, note, *[None] * 4])
    if not packed.items:
        return PlaceRow(
            Group.BAG, bag.tag, number, _worst(found, number), [Tag(bag.tag), bag.goes, None, "stays home", *[None] * 4]
        )
    uses = found.uses_of(bag.tag)
    mass = Estimate(packed.mass, "mass")
    cells = [Tag(bag.tag), bag.goes, *_use_cells(mass, uses, bars), len(packed.items)]
    return PlaceRow(Group.BAG, bag.tag, number, _signal(uses, _worst(found, number)), cells)


def _use_cells(mass: Estimate, uses: tuple[Use, ...], bars: Bars) -> list[Cell]:
    """Give the mass, the bar, the limit and how likely it holds; without room for both ways, on the worse one."""
    if not uses:
        return [mass, None, None, None, None]
    limit = uses[0].limit.most_kg
    out = uses[0].chance if bars.is_long else min(use.chance for use in uses)
    home = Share(uses[1].chance) if len(uses) > 1 else None
    bar = draw_bag(mass.figure, limit, bars.cells, plain=bars.is_plain)
    return [mass, bar, Amount(limit, "mass"), Share(out), home]


def _beside(trip: ResolvedTrip, found: TripPacking, bars: Bars) -> Iterator[PlaceRow]:
    """Give the rows of limits that count several bags, and of what is in no bag."""
    for use in found.packing.sums:
        uses = found.uses_of_sum(use.limit.what)
        places = places_of(use.limit.what)
        count = sum(len(packed.items) for packed in found.packing.bags if packed.bag.place in places)
        cells = [SUM_WORDS[use.limit.what], None, *_use_cells(Estimate(use.mass, "mass"), uses, bars), count]
        yield PlaceRow(Group.SUM, use.limit.what, None, _signal(uses, ""), cells)
    everything = whereabouts(found)
    without = [where for where in everything if _is_without_place(where)]
    if without:
        cells = ["no place for", None, *[None] * 5, len(without)]
        yield PlaceRow(Group.NO_PLACE, "no place for", None, Signal.WARNING, cells)
    instead = [where for where in everything if _is_done_instead(where)]
    if instead:
        yield PlaceRow(Group.INSTEAD, TO_KEEP, None, "", [TO_KEEP, *[None] * 6, len(instead)])
    for group, fate, kind in ((Group.RENT, Fate.RENT, Rent), (Group.LEAVE, Fate.LEAVE, Leave)):
        items = found.weights.of(fate)
        if items or _numbered(trip, kind):
            words = FATE_WORDS[fate]
            yield PlaceRow(group, words, None, "", [words, *[None] * 6, len(items)])


SUM_WORDS = {HOLD_TOTAL: "all in the hold", CABIN_TOTAL: "all in the cabin", TOTAL: "hold and cabin"}
TO_KEEP = "to keep limits"
"""Stands before what is left, rented or worn so that the limits hold."""
FATE_WORDS = {Fate.RENT: "rented there", Fate.LEAVE: "left at home"}


def _packed(found: TripPacking | None, tag: str) -> PackedBag | None:
    bags = found.packing.bags if found else ()
    return next((packed for packed in bags if packed.bag.tag == tag), None)


def _numbered(trip: ResolvedTrip, kind: type[EntryT]) -> list[tuple[int, EntryT]]:
    return [(number, entry) for number, entry in enumerate(trip.items) if isinstance(entry, kind)]


def _signal(uses: tuple[Use, ...], worst: Signal | str) -> Signal | str:
    """Give the worst signal word of a bag: a limit that may not hold is a warning."""
    return worst if all_hold(uses) else max(each for each in (worst, Signal.WARNING) if isinstance(each, Signal))


def _worst(found: TripPacking | None, entry: int | None) -> Signal | str:
    findings: tuple[Finding, ...] = found.findings if found else ()
    return max((finding.signal for finding in findings if finding.item == entry), default="")


# ---- the lower list ----


def item_rows(trip: ResolvedTrip, found: TripPacking | None, place: PlaceRow) -> list[ItemRow]:
    """Give the items of a row of the upper list, those of bags in the order of the bags, the heaviest first.

    Args:
        trip: What the file says now.
        found: How it is packed; None before that is known.
        place: The row.
    """
    if found is None:
        return []
    order = {packed.bag.tag: number for number, packed in enumerate(found.packing.bags)}
    shown = [where for where in whereabouts(found) if _is_shown(found, where, place)]
    shown.sort(key=lambda where: (order.get(where.bag, len(order)), -where.item.mass.value if where.item.mass else 0))
    rows = [_item_row(trip, found, where) for where in shown]
    return [*rows, *_entries_about_nothing(trip, found, place)]


def item_table(rows: Sequence[ItemRow], place: PlaceRow) -> Table:
    """Build the lower list as a table; where all are in one bag, it says why they are there, else where they are."""
    head = "why" if place.group is Group.BAG else "where"
    columns = [Column("", "item", may_wrap=True, names_row=True), Column("", "mass")]
    columns.append(Column("", head, may_wrap=True))
    return Table("", columns, [[row.cells[0], row.cells[1], row.cells[2 if head == "why" else 3]] for row in rows])


def items_title(place: PlaceRow, rows: Sequence[ItemRow]) -> str:
    """Name the lower list, and count its items; other entries of the file are none."""
    count = sum(row.where is not None for row in rows)
    words = {Group.BAG: f"In {place.tag}", Group.RENT: "Rented there", Group.LEAVE: "Left at home"}
    words |= {
        Group.INSTEAD: "Not packed, to keep the limits",
        Group.NO_PLACE: "No place for",
        Group.SUM: f"Items, {SUM_WORDS.get(place.tag, '')}",
    }
    return f"{words.get(place.group, 'All items')}: {counted_items(count, 'item')}"


def _item_row(trip: ResolvedTrip, found: TripPacking, where: Whereabouts) -> ItemRow:
    item = where.item
    mass = Estimate(item.mass, "mass") if item.mass else None
    name = found.packing.task.items[where.number].tag if where.number is not None else item.tag
    entry = deciding_entry(trip, where)
    place = _where_words(where)
    signal = Signal.WARNING if _is_without_place(where) else _worst(found, entry) if entry is not None else ""
    why = WHY_SHORT.get(where.placed.why, "") if where.placed else place
    return ItemRow(name, where, entry, where.bag, signal, [Tag(name), mass, why, place])


WHY_SHORT = {PINNED: "pinned", BY_RULE: "by rule", ONLY_BAG: "only bag", ADVISED: "advised", EVEN: ""}
"""Why an item is in its bag, where it has the room of a word; what only keeps the bags even needs none."""


def _where_words(where: Whereabouts) -> Cell:
    if where.bag:
        return Tag(where.bag)
    if where.placed and where.placed.placement.option:
        return DO[where.placed.placement.option.kind]
    if where.item.fate is Fate.BRING:
        return "no place" if where.missing else "not weighed"
    return FATE_WORDS[where.item.fate]


def deciding_entry(trip: ResolvedTrip, where: Whereabouts) -> int | None:
    """Find the entry of the file that decides about an item: itself, its pin, its rental, or that it stays."""
    item = where.item
    if isinstance(item.item, Luggage):
        luggage = luggage_with(trip, item.tag)
        # Spares that are packed together have no entry of their own.
        return entry_about(trip, Pin, item.file, item.tag) if luggage is None else luggage
    kinds = {Fate.RENT: Rent, Fate.LEAVE: Leave, Fate.BRING: Pin}
    return entry_about(trip, kinds[item.fate], item.file, item.tag, in_hand(item.item).kind)


def _is_without_place(where: Whereabouts) -> bool:
    return where.item.fate is Fate.BRING and where.placed is None


def _is_done_instead(where: Whereabouts) -> bool:
    return where.placed is not None and not where.bag


def _is_shown(found: TripPacking, where: Whereabouts, place: PlaceRow) -> bool:
    match place.group:
        case Group.BAG:
            return where.bag == place.tag
        case Group.SUM:
            packed = _packed(found, where.bag)
            return packed is not None and packed.bag.place in places_of(place.tag)
        case Group.NO_PLACE:
            return _is_without_place(where)
        case Group.INSTEAD:
            return _is_done_instead(where)
        case Group.RENT:
            return where.item.fate is Fate.RENT
        case Group.LEAVE:
            return where.item.fate is Fate.LEAVE
    return True


def _entries_about_nothing(trip: ResolvedTrip, found: TripPacking, place: PlaceRow) -> Iterator[ItemRow]:
    """Give the entries that no other row has, so that their forms can be reached: those about no item, options, rules.

    Of the trip as a whole all of them, of what is rented or left those of that kind.
    """
    kinds = {Group.RENT: (Rent,), Group.LEAVE: (Leave,), Group.TRIP: (Entry,)}.get(place.group, ())
    if not kinds:
        return
    deciding = {deciding_entry(trip, where) for where in whereabouts(found)}
    for number, entry in enumerate(trip.items):
        if isinstance(entry, kinds) and not isinstance(entry, Bag | Leg) and number not in deciding:
            cells: Row = [Tag(entry.label), None, entry.title, entry.title]
            yield ItemRow(entry.label, None, number, "", _worst(found, number), cells)
