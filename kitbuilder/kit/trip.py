"""A trip: which kits travel, what is rented or left at home, the bags, and what each leg allows.

Energies are in joules; everything else is in the units of the records of a kit. A limit of None means that the file
does not give it; zero means that nothing is allowed.
"""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from kitbuilder.kit.entry import Entry
from kitbuilder.kit.fields import (
    Group,
    battery,
    choice,
    day,
    files,
    flag,
    name,
    price,
    quantities,
    quantity,
    tags,
    text,
    weighed,
    whole,
)
from kitbuilder.kit.fields import tag as tag_of
from kitbuilder.kit.travel import BATTERY_COUNTS, BATTERY_TYPES, LITHIUM_ION
from kitbuilder.kit.trip_items import (
    BODY,
    CABIN,
    HOLD,
    NOWHERE,
    WEAR,
    WHERE,
    Leave,
    OfItems,
    OfKits,
    OfLuggage,
    Option,
    OwnRule,
    Pin,
    Rent,
)

__all__ = [
    "BODY",
    "CABIN",
    "HOLD",
    "NOWHERE",
    "PIECES",
    "SPARES",
    "TRIP_KINDS",
    "WAYS",
    "WEAR",
    "WHERE",
    "Bag",
    "Leave",
    "Leg",
    "Luggage",
    "OfItems",
    "OfKits",
    "OfLuggage",
    "Option",
    "OwnRule",
    "Pin",
    "Rent",
    "Trip",
    "TripEntry",
    "TripHeader",
]

SPARES = ("none", "day boat", "remote")
WAYS = ("both", "out", "home")
PIECES = tuple(str(number) for number in range(41))
"""Numbers of bags and of batteries that a leg may allow."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TripHeader:
    """The trip as a whole: the keys at the top of the file, before the first bag."""

    title: ClassVar = "trip"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    holds: str = choice("What the file holds.", '"trip"', choices=("trip",), required=True)
    name: str = name("Name of the trip in reports.", '"Two weeks on the reef"')
    kits: tuple[str, ...] = files("Kit files that travel, in this folder.", '["warm-single.toml"]')
    divers: tuple[str, ...] = files(
        "Diver files, one for each kit, in the same order. Default: those that the kits name.", '["diver.toml"]'
    )
    from_: date | None = day("First day of the trip.", '"2031-05-10"', group=Group.DIVE, always_shown=True)
    to: date | None = day("Last day of the trip.", '"2031-05-24"', group=Group.DIVE, always_shown=True)
    water: str | None = choice(
        "Water there. Default: that of each kit.",
        '"salty sea"',
        vocabulary="water",
        group=Group.DIVE,
        always_shown=True,
    )
    spares: str | None = choice(
        "Spare parts to bring: none, those for a day boat, or those for a place without a shop. Default: none.",
        '"day boat"',
        choices=SPARES,
        group=Group.TRAVEL,
        always_shown=True,
    )
    wet_kg: float | None = weighed(
        "mass",
        "Mass of the water that the gear still holds on the way home. Default: estimated for each item.",
        '"2.5 kg"',
        lowest=0.0,
        highest=30.0,
    )
    wet_spread_kg: float | None = None
    wet_half_digit_kg: float | None = None
    likelihood: float | None = quantity(
        "fraction",
        "How likely each limit has to hold, since masses are uncertain. Default: 95 %.",
        '"95 %"',
        lowest=0.5,
        highest=0.999,
        group=Group.TRAVEL,
    )
    currency: str | None = text("Currency of the prices.", '"EUR"', group=Group.TRAVEL)
    notes: str | None = text("Free text.", '"The boat has no scale."', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Luggage(Entry):
    """Other luggage: clothes, camera, chargers, documents."""

    kind: ClassVar = "luggage"
    title: ClassVar = "luggage"

    tag: str = name("Name of the luggage. Unique in the file.", '"camera"')
    mass_kg: float = weighed("mass", "Weighed mass.", '"1.4 kg"', lowest=0.0, highest=60.0, required=True)
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    bulk_m3: float | None = quantity(
        "volume", "Room that it takes in a bag. Default: not counted.", '"6 L"', lowest=0.0, highest=0.3
    )
    goes: str | None = choice(
        "Where it has to travel: in the cabin, in the hold or on the body. Default: where it fits.",
        '"cabin"',
        choices=WHERE,
        group=Group.TRAVEL,
        always_shown=True,
    )
    bag: str | None = tag_of("Tag of the bag that it goes into. Default: where it fits.", '"backpack"', kind="bag")
    battery_type: str | None = choice(
        f"Type of battery. Default: {LITHIUM_ION} where `battery`, `batteries` or `spare` is given, else none.",
        '"lithium ion"',
        choices=BATTERY_TYPES,
        group=Group.TRAVEL,
    )
    battery_j: float | None = battery("Energy of one battery, or its voltage and charge as printed on it.", '"18.5 Wh"')
    batteries: int | None = whole("Number of batteries. Default: one.", "2", choices=BATTERY_COUNTS, group=Group.TRAVEL)
    spare: bool | None = flag(
        "Whether the batteries are spares, outside any device. Default: no.", "true", group=Group.TRAVEL
    )
    breakable: bool | None = flag("Whether it breaks easily. Default: no.", "true", group=Group.TRAVEL)
    sharp: bool | None = flag(
        "Whether it has an edge or a point, or is a tool. Default: no.", "true", group=Group.TRAVEL
    )
    cartridges: int | None = whole(
        "Number of gas cartridges in it. Default: none.", "2", choices=BATTERY_COUNTS, group=Group.TRAVEL
    )
    life_jacket: bool | None = flag(
        "Whether the cartridges are those of a self-inflating life jacket. Default: no.", "true", group=Group.TRAVEL
    )
    notes: str | None = text("Free text.", '"chargers and cables"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Bag(Entry):
    """A bag, or the pockets of a jacket that is worn on board."""

    kind: ClassVar = "bag"
    title: ClassVar = "bag"

    tag: str = name("Name of the bag. Unique in the file.", '"duffel"')
    goes: str = choice(
        "Where the bag travels: in the cabin, in the hold, or worn on the body.", '"hold"', choices=WHERE, required=True
    )
    mass_kg: float = weighed(
        "mass", "Weighed mass of the empty bag.", '"2.6 kg"', lowest=0.0, highest=40.0, required=True
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    volume_m3: float | None = quantity(
        "volume",
        "Room in the bag. Default: not limited.",
        '"90 L"',
        lowest=0.0,
        highest=0.3,
        always_shown=True,
    )
    size_m: tuple[float, ...] = quantities(
        "length",
        "The three edges of the packed bag. Default: not checked.",
        '["75 cm", "40 cm", "35 cm"]',
        lowest=0.0,
        highest=3.0,
        exactly=3,
    )
    most_kg: float | None = quantity(
        "mass",
        "What it may weigh at most, whatever a leg allows. Default: no limit.",
        '"20 kg"',
        lowest=0.0,
        highest=200.0,
    )
    notes: str | None = text("Free text.", '"has wheels"', group=Group.NOTES)


def _limit(meaning: str, example: str, *, shown: bool = False, label: str = "") -> float | None:
    """Declare a limit of mass; the annotation is that of the attribute."""
    limit: float | None = quantity(
        "mass", meaning, example, lowest=0.0, highest=200.0, group=Group.TRAVEL, always_shown=shown, label=label
    )
    return limit


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Leg(Entry):
    """One flight, ferry or transfer, and what it allows."""

    kind: ClassVar = "leg"
    title: ClassVar = "leg"

    tag: str = name("Name of the leg. Unique in the file.", '"long flight"')
    way: str | None = choice(
        "Way that the leg is travelled; on the way home, gear is wet. Default: both.", '"home"', choices=WAYS
    )
    hold_pieces: int | None = whole(
        "Number of bags in the hold. Default: not limited.",
        "1",
        label="bags in the hold",
        choices=PIECES,
        group=Group.TRAVEL,
        always_shown=True,
    )
    hold_piece_kg: float | None = _limit(
        "Limit of mass of each bag in the hold. Default: none.", '"23 kg"', shown=True, label="limit of each hold bag"
    )
    hold_total_kg: float | None = _limit("Limit of mass of all bags in the hold together. Default: none.", '"46 kg"')
    hold_edges_m: float | None = quantity(
        "length",
        "Limit of the sum of the three edges of each bag in the hold. Default: none.",
        '"158 cm"',
        lowest=0.0,
        highest=5.0,
        group=Group.TRAVEL,
    )
    handling_kg: float | None = _limit(
        "Heaviest bag that is carried by hand at the airport. Default: the usual limit.", '"32 kg"'
    )
    cabin_pieces: int | None = whole(
        "Number of bags in the cabin. Default: not limited.",
        "1",
        label="bags in the cabin",
        choices=PIECES,
        group=Group.TRAVEL,
        always_shown=True,
    )
    cabin_piece_kg: float | None = _limit(
        "Limit of mass of each bag in the cabin. Default: none.", '"8 kg"', shown=True, label="limit of each cabin bag"
    )
    cabin_total_kg: float | None = _limit("Limit of mass of all bags in the cabin together. Default: none.", '"12 kg"')
    total_kg: float | None = _limit("Limit of mass of hold and cabin together. Default: none.", '"40 kg"')
    cabin_size_m: tuple[float, ...] = quantities(
        "length",
        "Limits of the three edges of a bag in the cabin. Default: none.",
        '["55 cm", "40 cm", "23 cm"]',
        lowest=0.0,
        highest=3.0,
        exactly=3,
        group=Group.TRAVEL,
    )
    price_per_kilogram: float | None = price(
        "Price of each kilogram begun beyond a limit of the hold, on the way out.", "12", group=Group.TRAVEL
    )
    price_per_piece: float | None = price("Price of each further bag in the hold.", "60", group=Group.TRAVEL)
    battery_free_j: float | None = battery(
        "The airline's own limit: energy of a battery up to which it need not approve. Default: that of the published "
        "rules.",
        '"100 Wh"',
    )
    battery_most_j: float | None = battery(
        "The airline's own limit: energy of a battery above which it takes none. Default: that of the published rules.",
        '"160 Wh"',
    )
    spare_batteries: int | None = whole(
        "The airline's own limit: number of spare batteries per person. Default: that of the published rules.",
        "20",
        choices=PIECES,
        group=Group.TRAVEL,
    )
    approved: tuple[str, ...] = tags(
        "Tags of items that the airline has approved, such as a large battery.",
        '["canister torch"]',
        group=Group.TRAVEL,
    )
    notes: str | None = text("Free text.", '"asked on the phone"', group=Group.NOTES)

    @property
    def is_out(self) -> bool:
        """Whether the leg is travelled on the way out."""
        return self.way != "home"

    @property
    def is_home(self) -> bool:
        """Whether the leg is travelled on the way home, with wet gear."""
        return self.way != "out"


TRIP_KINDS: dict[str, type[Entry]] = {
    record.kind: record for record in (Rent, Leave, Luggage, Bag, Leg, Pin, Option, OwnRule)
}
"""Every kind of entry of a trip file, by the name of its table."""

TripEntry = Rent | Leave | Luggage | Bag | Leg | Pin | Option | OwnRule


@dataclass(frozen=True, slots=True)
class Trip:
    """Everything one trip file says."""

    header: TripHeader
    items: tuple[Entry, ...]
    """In the order of the file. An entry's number is its place here."""

    @property
    def rents(self) -> tuple[Rent, ...]:
        """What is rented there."""
        return tuple(entry for entry in self.items if isinstance(entry, Rent))

    @property
    def leaves(self) -> tuple[Leave, ...]:
        """What stays at home."""
        return tuple(entry for entry in self.items if isinstance(entry, Leave))

    @property
    def luggage(self) -> tuple[Luggage, ...]:
        """What travels beside the kits."""
        return tuple(entry for entry in self.items if isinstance(entry, Luggage))

    @property
    def bags(self) -> tuple[Bag, ...]:
        """The bags."""
        return tuple(entry for entry in self.items if isinstance(entry, Bag))

    @property
    def legs(self) -> tuple[Leg, ...]:
        """The legs, in the order of the file."""
        return tuple(entry for entry in self.items if isinstance(entry, Leg))

    @property
    def options(self) -> tuple[Option, ...]:
        """What may be done with items that find no room."""
        return tuple(entry for entry in self.items if isinstance(entry, Option))

    @property
    def own_rules(self) -> tuple[OwnRule, ...]:
        """The rules of the airline itself."""
        return tuple(entry for entry in self.items if isinstance(entry, OwnRule))

    @property
    def pins(self) -> tuple[Pin, ...]:
        """The items that have a fixed bag."""
        return tuple(entry for entry in self.items if isinstance(entry, Pin))
