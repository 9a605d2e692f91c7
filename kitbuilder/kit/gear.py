"""What a diver owns: the items of a gear file, with what was weighed, their dates and their state.

Each kind takes over the kit's record of its kind, so that a key has one declaration. `attributes` names what the gear
file says: first what it shares with the kit file, then what it adds. Whatever else a kit's record has, such as a port
or a place, a gear file does not say; it stays as it is when a file does not say.
"""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from kitbuilder.kit.fields import Group, choice, day, flag, name, needed, tag, tags, text, whole
from kitbuilder.kit.items import (
    Cylinder,
    Drysuit,
    Entry,
    FirstStage,
    Gauge,
    Hose,
    Jacket,
    Lead,
    Other,
    SecondStage,
    Suit,
    Transmitter,
    Wing,
)
from kitbuilder.kit.old_words import OldWord
from kitbuilder.kit.travel import TRAVEL

IN_ORDER, WATCHED, OUT_OF_USE = "in order", "to be watched", "out of use"
CONDITIONS = (IN_ORDER, WATCHED, OUT_OF_USE)
MOST_PIECES = 200
DEVICE = ("preset", "inlet", "mass_kg", "buoyancy_kgf", "make", "serviced")
"""What a gear file says of an item that a hose may feed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GearHeader:
    """The gear file as a whole: the keys at the top of the file, before the first item."""

    title: ClassVar = "gear"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    holds: str = choice("What the file holds.", '"gear"', choices=("gear",), required=True)
    name: str = name("Name of the gear file in reports.", '"the shelf in the cellar"')
    region: str | None = choice(
        "Region whose rules for cylinders count, in addition to common practice. Default: none.",
        '"European Union"',
        vocabulary="region",
        group=Group.UPKEEP,
    )
    notes: str | None = text("Free text.", '"Keys are with the neighbour."', group=Group.NOTES)


EVERY_OWNED = ("condition", "oxygen_clean", "cleaned", "kept_in", "notes")
"""What a gear file says of every item, behind what it says of its kind."""


def _says(*attributes: str) -> tuple[str, ...]:
    """List the attributes that a gear file has for a kind of item, in the order of its table."""
    return ("tag", *attributes, *EVERY_OWNED)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Owned(Entry):
    """An item that is owned: it is there once, and in one place at a time."""

    attributes: ClassVar[tuple[str, ...]]

    condition: str | None = choice(
        "Condition of the item. Items out of use are not built into a kit. Default: in order.",
        '"in order"',
        choices=CONDITIONS,
        last=True,
        group=Group.UPKEEP,
    )
    oxygen_clean: bool | None = flag(
        "Whether the item is clean for oxygen-rich gas. Default: no.", "true", last=True, group=Group.UPKEEP
    )
    cleaned: date | None = day("Date of the last cleaning for oxygen.", '"2026-05"', last=True)
    kept_in: str | None = tag(
        "Tag of the bag or box in the gear file where the item is kept.", '"blue bag"', kind="any", last=True
    )
    notes: str | None = text("Free text.", '"stiff near the crimp"', last=True, group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Counted(Owned):
    """Items of one kind, all alike, kept as one."""

    pieces: int | None = whole(
        "Number of pieces. Default: one.",
        "4",
        choices=tuple(str(number) for number in range(1, MOST_PIECES + 1)),
        always_shown=True,
    )


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedHose(Owned, Hose):
    """A hose with its two ends."""

    attributes = _says(
        "body", "length_m", "measured", "from_end", "to_end", "bore_m", "swivel_pin", "mass_kg", "make", "made"
    )

    role: str = ""
    """Only a kit says what a hose is for."""
    from_end: str | None = needed(Hose, "from_end")
    to_end: str | None = needed(Hose, "to_end")
    made: date | None = day("Date of manufacture, stamped on the ferrule.", '"2024-03"', always_shown=True)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedFirstStage(Owned, FirstStage):
    """A first stage with its ports."""

    attributes = _says("preset", "ports", "connection", "mass_kg", "make", "serviced")

    serviced: date | None = day("Date of the last service.", '"2026-03-02"', always_shown=True)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedDevice(Owned):
    """An item that a hose may feed."""

    attributes = _says(*DEVICE)

    serviced: date | None = day("Date of the last service or comparison.", '"2026-03-02"')


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedSecondStage(OwnedDevice, SecondStage):
    """A second stage."""


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedGauge(OwnedDevice, Gauge):
    """A pressure gauge."""

    attributes = _says(*DEVICE, *TRAVEL)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedTransmitter(OwnedDevice, Transmitter):
    """A pressure sender."""

    attributes = _says(*DEVICE, *TRAVEL)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedWing(OwnedDevice, Wing):
    """A wing."""

    attributes = _says(*DEVICE, "lift_kgf")


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedJacket(OwnedDevice, Jacket):
    """A jacket."""

    attributes = _says(*DEVICE, "lift_kgf")


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedDrysuit(OwnedDevice, Drysuit):
    """A dry suit."""

    attributes = _says(*DEVICE, "suit_gas_m3")


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedSuit(Owned, Suit):
    """A suit of foam, or a part of one."""

    attributes = _says("cut", "thickness_m", "foam", "area_m2", "mass_kg", "buoyancy_kgf")


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedCylinder(Owned, Cylinder):
    """A cylinder with its valve."""

    attributes = _says(
        "preset",
        "metal",
        "volume_m3",
        "working_pressure_pa",
        "stamped_mass_kg",
        "mass_kg",
        "valve",
        "outlet",
        "diameter_m",
        "length_m",
        "inspected",
        "tested",
    )

    inspected: date | None = day("Date of the last internal inspection.", '"2026-04"', always_shown=True)
    tested: date | None = day("Date of the last pressure test, as stamped.", '"2024-04"', always_shown=True)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Plug(Counted):
    """Blanking plugs for ports."""

    kind: ClassVar = "plug"
    title: ClassVar = "plug"

    attributes = _says("pieces", "thread", "service")

    thread: str = choice("Thread of the port that the plug closes.", '"3/8-24 UNF"', vocabulary="thread", required=True)
    service: str | None = choice(
        "Pressure class that the plug is made for. Default: that of the ports that usually have its thread.",
        '"LP"',
        choices=("LP", "HP"),
    )


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedAdapter(Counted):
    """Adapters: elbows, swivels, from thread to thread."""

    kind: ClassVar = "adapter"
    title: ClassVar = "adapter"

    attributes = _says("pieces", "adapter")

    adapter: str = choice("Adapter of the catalogue.", '"elbow 90"', vocabulary="adapter", required=True)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class ORing(Counted):
    """Spare O-rings."""

    kind: ClassVar = "o_ring"
    title: ClassVar = "O-ring"

    attributes = _says("pieces", "size")

    size: str = choice("AS568 number of the O-ring.", '"011"', vocabulary="o-ring", required=True)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedLead(Counted, Lead):
    """Pieces of lead."""

    attributes = _says("pieces", "mass_kg")


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedOther(Owned, Other):
    """Anything else: plates, manifolds, torches, bags."""

    attributes = _says("preset", "mass_kg", "buoyancy_kgf", *TRAVEL)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class OwnedAssembly(Owned):
    """Items of the gear file that are kept screwed together, such as a regulator for a stage."""

    kind: ClassVar = "assembly"
    title: ClassVar = "assembly"

    attributes = ("tag", "parts", "kept_in", "notes")

    parts: tuple[str, ...] = tags(
        "Tags of the items that are kept screwed together. Each belongs to at most one assembly.",
        '["stage first", "stage hose", "stage second"]',
        always_shown=True,
    )


GEAR_KINDS: dict[str, type[Owned]] = {
    record.kind: record
    for record in (
        OwnedHose,
        OwnedFirstStage,
        OwnedSecondStage,
        OwnedGauge,
        OwnedTransmitter,
        OwnedWing,
        OwnedJacket,
        OwnedDrysuit,
        OwnedSuit,
        OwnedCylinder,
        Plug,
        OwnedAdapter,
        ORing,
        OwnedLead,
        OwnedOther,
        OwnedAssembly,
    )
}
"""Every kind of item a gear file may hold, by the name of its table."""


@dataclass(frozen=True, slots=True)
class Gear:
    """Everything one gear file says."""

    header: GearHeader
    items: tuple[Owned, ...]
    """In the order of the file. An item's number is its place here."""
    old_words: tuple[OldWord, ...] = ()

    def item(self, tag: str | None) -> Owned | None:
        """Give the item with a tag; None when there is none."""
        return next((item for item in self.items if item.tag == tag), None)

    @property
    def assemblies(self) -> tuple[OwnedAssembly, ...]:
        """What is kept screwed together."""
        return tuple(item for item in self.items if isinstance(item, OwnedAssembly))

    @property
    def in_use(self) -> tuple[Owned, ...]:
        """The items that can be built with."""
        return tuple(item for item in self.items if item.condition != OUT_OF_USE)


def service_of_plug(plug: Plug) -> str:
    """Give the pressure a plug is made for, "LP" or "HP"; HP only where no LP port has its thread."""
    return plug.service or ("HP" if plug.thread == HP_THREAD else "LP")


HP_THREAD = "7/16-20 UNF"
"""The thread of HP ports that no LP port has."""


def pieces_of(item: Owned) -> int:
    """Say how many pieces an entry of the gear file stands for."""
    return item.pieces or 1 if isinstance(item, Counted) else 1
