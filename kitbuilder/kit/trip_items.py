"""Entries of a trip file about items of its kits: what is rented, left, fixed to a bag, may be done, or is ruled."""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from kitbuilder.kit.entry import Entry
from kitbuilder.kit.fields import Group, choice, day, file, kit_item, optional_name, price, text
from kitbuilder.kit.fields import tag as tag_of
from kitbuilder.kit.items import KINDS

CABIN, HOLD, BODY = "cabin", "hold", "body"
WHERE = (CABIN, HOLD, BODY)
NOWHERE = "nowhere"
LEAVE, RENT, WEAR = "leave", "rent", "wear"
OPTIONS = (LEAVE, RENT, WEAR)
"""What may be done with an item that finds no room."""


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OfKits(Entry):
    """An entry about items of the kits. It needs no tag of its own."""

    tag: str = optional_name("Name of this entry. Unique in the file.", '"rental 1"')
    kit: str | None = file(
        "Kit file whose item is meant. Default: each kit of the trip.", '"warm-single.toml"', group=Group.WHAT
    )
    item: str | None = None

    @property
    def label(self) -> str:
        """What a list calls the entry: its tag, else the item it is about."""
        return self.tag or self.item or self.title


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Rent(OfKits):
    """What is rented there instead of brought: one item, or every item of a kind."""

    kind: ClassVar = "rent"
    title: ClassVar = "rental"
    attributes: ClassVar = ("tag", "item", "every", "kit", "preset", "price", "notes")

    item: str | None = kit_item("Tag of the item in its kit that is rented.", '"hire cylinder"')
    every: str | None = choice(
        "Kind of item of which every one is rented, instead of one item.",
        '"cylinder"',
        choices=tuple(KINDS),
        always_shown=True,
    )
    preset: str | None = choice(
        "Item of the catalogue that the rental has. Default: as in the kit.",
        '"steel 12 L 232 long"',
        vocabulary="rental",
        always_shown=True,
    )
    price: float | None = price("Price of the rental for the whole trip.", "60")
    notes: str | None = text("Free text.", '"ask for DIN"', group=Group.NOTES)

    @property
    def label(self) -> str:
        """What a list calls the entry: its tag, else what is rented."""
        every = f"every {KINDS[self.every].title}" if self.every else self.title
        return self.tag or self.item or every


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Leave(OfKits):
    """What stays at home."""

    kind: ClassVar = "leave"
    title: ClassVar = "item left at home"
    attributes: ClassVar = ("tag", "item", "kit", "notes")

    item: str = kit_item("Tag of the item in its kit that stays at home.", '"knife"', required=True)
    notes: str | None = text("Free text.", '"not allowed there"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Pin(OfKits):
    """An item that goes into one bag, whatever the packing would choose."""

    kind: ClassVar = "pin"
    title: ClassVar = "item with a fixed bag"
    attributes: ClassVar = ("tag", "item", "kit", "bag", "notes")

    item: str = kit_item("Tag of the item in its kit that has a fixed bag.", '"first"', required=True)
    bag: str = tag_of("Tag of the bag.", '"backpack"', kind="bag", required=True)
    notes: str | None = text("Free text.", '"must not be lost"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Option(OfKits):
    """What may be done with items, or with luggage, where not everything fits."""

    kind: ClassVar = "option"
    title: ClassVar = "option"
    attributes: ClassVar = ("tag", "item", "every", "kit", "do", "price", "notes")

    item: str | None = kit_item("Tag of the item in its kit, or of the luggage.", '"fins"')
    every: str | None = choice(
        "Kind of item of which every one has the option, instead of one item.",
        '"suit"',
        choices=tuple(KINDS),
        always_shown=True,
    )
    do: str = choice(
        "What may be done where not everything fits: leave it at home, rent one there, or wear it on board.",
        '"rent"',
        choices=OPTIONS,
        required=True,
    )
    price: float | None = price(
        "Price for the whole trip; of what is left, what it is worth to you. Default: free.", "25"
    )
    notes: str | None = text("Free text.", '"the centre has size L"', group=Group.NOTES)

    @property
    def label(self) -> str:
        """What a list calls the entry: its tag, else what may be done with what."""
        every = f"every {KINDS[self.every].title}" if self.every else ""
        return self.tag or f"{self.do} {self.item or every}".strip()


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnRule(OfKits):
    """A rule of the airline itself about where items or luggage may travel. It counts beside the published ones."""

    kind: ClassVar = "rule"
    title: ClassVar = "rule of the airline"
    attributes: ClassVar = ("tag", "item", "every", "kit", "goes", "source", "read", "notes")

    item: str | None = kit_item("Tag of the item in its kit, or of the luggage.", '"canister torch"')
    every: str | None = choice(
        "Kind of item for which the rule holds, instead of one item.",
        '"cylinder"',
        choices=tuple(KINDS),
        always_shown=True,
    )
    goes: str = choice(
        "Where the airline wants it: in the cabin, in the hold, or nowhere.",
        '"cabin"',
        choices=(CABIN, HOLD, NOWHERE),
        required=True,
    )
    source: str | None = text(
        "Where the airline says so.", '"letter of the airline"', group=Group.TRAVEL, always_shown=True
    )
    read: date | None = day("Day on which you read it.", '"2031-04-02"', group=Group.TRAVEL, always_shown=True)
    notes: str | None = text("Free text.", '"ask again before the way home"', group=Group.NOTES)

    @property
    def label(self) -> str:
        """What a list calls the entry: its tag, else what it is about."""
        every = f"every {KINDS[self.every].title}" if self.every else self.title
        return self.tag or self.item or every


OfItems = Rent | Option | OwnRule
"""Entries about one item, or about every item of a kind."""
OfLuggage = Pin | Option | OwnRule
"""Entries that may be about luggage instead of an item of a kit."""
