"""The kit and the kinds of item in it. One class is one table of the kit file; one attribute is one key.

The records stand by subject in `entry.py`, `supply.py`, `hoses.py` and `worn.py`; other parts import them from here.

Lengths are in metres, masses in kilograms, buoyancies in kilogram-force (plus floats), temperatures in kelvin,
pressures in pascals above the atmosphere, volumes in cubic metres, fractions as parts of one.
None means that the file does not say.
"""

from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from kitbuilder.kit.entry import Device, Entry, Item
from kitbuilder.kit.fields import Group, choice, day, file, name, quantity, text, whole
from kitbuilder.kit.hoses import Hose
from kitbuilder.kit.old_words import OldWord
from kitbuilder.kit.supply import Cylinder, FirstStage, Gauge, SecondStage, Transmitter
from kitbuilder.kit.worn import Drysuit, Jacket, Lead, Lifting, Other, Suit, Wing

__all__ = [
    "FORMAT",
    "KINDS",
    "LAYOUTS",
    "Cylinder",
    "Device",
    "Drysuit",
    "Entry",
    "FirstStage",
    "Gauge",
    "Header",
    "Hose",
    "Item",
    "Jacket",
    "Kit",
    "Lead",
    "Lifting",
    "Other",
    "SecondStage",
    "Suit",
    "Transmitter",
    "Wing",
    "split_port",
]
"""Every record of a kit is imported from here."""

FORMAT = 1
LAYOUTS = ("single", "twinset", "sidemount")


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """The kit as a whole: the keys at the top of the file, before the first item."""

    title: ClassVar = "kit"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    name: str = name("Name of the kit on the shelf.", '"Reef single, warm water"')
    layout: str = choice("How the cylinders are carried.", '"single"', choices=LAYOUTS, required=True)
    water: str | None = choice(
        "Water of the dive. Default: ocean.", '"ocean"', vocabulary="water", group=Group.DIVE, always_shown=True
    )
    salinity_kg_per_kg: float | None = quantity(
        "salinity",
        "Salinity of the water. Default: that of `water`.",
        '"35 g/kg"',
        lowest=0.0,
        highest=0.042,
        group=Group.DIVE,
    )
    temperature_k: float | None = quantity(
        "temperature",
        "Temperature of the water. Default: that of `water`.",
        '"18 °C"',
        lowest=271.15,
        highest=313.15,
        group=Group.DIVE,
    )
    density_kg_m3: float | None = quantity(
        "density",
        "Measured density of the water. Default: from salinity and temperature.",
        '"1026 kg/m3"',
        lowest=990.0,
        highest=1250.0,
        group=Group.DIVE,
    )
    deepest_m: float | None = quantity(
        "length",
        "Greatest depth of the dive. Default: 30 m.",
        '"30 m"',
        lowest=3.0,
        highest=100.0,
        group=Group.DIVE,
        always_shown=True,
    )
    stop_m: float | None = quantity(
        "length",
        "Depth of the stop that has to be held with the reserve and an empty wing. Default: 5 m.",
        '"5 m"',
        lowest=1.0,
        highest=15.0,
        group=Group.DIVE,
    )
    oxygen_limit_pa: float | None = quantity(
        "pressure",
        "Limit of the oxygen pressure at depth. Default: 1.4 bar.",
        '"1.4 bar"',
        lowest=0.5e5,
        highest=2.0e5,
        group=Group.GAS,
    )
    oxygen_highest_pa: float | None = quantity(
        "pressure",
        "Oxygen pressure above which a gas cannot be breathed at all. Default: 1.6 bar.",
        '"1.6 bar"',
        lowest=0.5e5,
        highest=2.0e5,
        group=Group.GAS,
    )
    oxygen_lowest_pa: float | None = quantity(
        "pressure",
        "Oxygen pressure below which a gas cannot be breathed at all. Default: 0.16 bar.",
        '"0.16 bar"',
        lowest=0.1e5,
        highest=0.21e5,
        group=Group.GAS,
    )
    diver: str | None = file(
        "Diver file: body, available lead, float checks. Default: an average diver.", '"diver.toml"', always_shown=True
    )
    stock: str | None = file(
        "Stock file. Advice names only hoses that it has. Default: every usual length.",
        '"stock.toml"',
        endings=(".toml", ".csv"),
    )
    gear: str | None = file(
        "Gear file: what the diver owns. Items refer to it with `owned`.", '"gear.toml"', always_shown=True
    )
    day: date | None = day("Day of the dive. Findings name what is due before it.", '"2027-05-14"', group=Group.DIVE)
    neck: str | None = choice(
        "What a hose around the neck lies on. Default: not known.", '"bare"', choices=("bare", "covered")
    )
    notes: str | None = text("Free text.", '"Boat dives from the south jetty."', group=Group.NOTES)


KINDS: dict[str, type[Item]] = {
    record.kind: record
    for record in (
        Cylinder,
        FirstStage,
        Hose,
        SecondStage,
        Gauge,
        Transmitter,
        Wing,
        Jacket,
        Drysuit,
        Suit,
        Lead,
        Other,
    )
}
"""Every kind of item, by the name of its table."""


@dataclass(frozen=True, slots=True)
class Kit:
    """Everything one kit file says."""

    header: Header
    items: tuple[Item, ...]
    """In the order of the file. An item's number is its place here."""
    old_words: tuple[OldWord, ...] = field(default=(), kw_only=True)

    @property
    def hoses(self) -> tuple[Hose, ...]:
        """The hoses, in the order of the file."""
        return tuple(item for item in self.items if isinstance(item, Hose))


def split_port(reference: str) -> tuple[str, str]:
    """Give the tag and the port of "first LP1"; the port is the last word."""
    tag_part, _, port_part = reference.strip().rpartition(" ")
    return tag_part.strip(), port_part
