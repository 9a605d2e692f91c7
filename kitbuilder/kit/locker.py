"""What a diver owns: the things of a locker file, with what was weighed, their dates and their state."""

from dataclasses import dataclass
from datetime import date
from typing import ClassVar

from kitbuilder.kit.fields import choice, day, flag, name, same, tag, text, whole
from kitbuilder.kit.things import (
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

IN_ORDER, WATCHED, OUT_OF_USE = "in order", "to be watched", "out of use"
CONDITIONS = (IN_ORDER, WATCHED, OUT_OF_USE)
MOST_PIECES = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class LockerHeader:
    """The locker as a whole: the keys at the top of the file, before the first thing."""

    title: ClassVar = "locker"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    holds: str = choice("What this file holds.", '"locker"', choices=("locker",), required=True)
    name: str = name("What the locker is called in reports.", '"the shelf in the cellar"')
    region: str | None = choice(
        "Whose rules for cylinders count, besides custom. None unless said.", '"European Union"', vocabulary="region"
    )
    notes: str | None = text("Anything else.", '"Keys are with the neighbour."')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Owned(Entry):
    """A thing that is owned: it is there once, and in one place at a time."""

    condition: str | None = choice(
        "Its state. In order unless said; what is out of use is not built with.",
        '"in order"',
        choices=CONDITIONS,
        last=True,
    )
    oxygen_clean: bool | None = flag("Whether it is clean for gas rich in oxygen. No unless said.", "true", last=True)
    cleaned: date | None = day("When it was cleaned for oxygen.", '"2026-05"', last=True)
    kept_in: str | None = tag(
        "The thing of the locker it is kept in, such as a bag or a box.", '"blue bag"', kind="any", last=True
    )
    notes: str | None = text("Anything else.", '"stiff near the crimp"', last=True)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Counted(Owned):
    """Things of one kind, all alike, kept as one."""

    pieces: int | None = whole(
        "How many there are. One unless said.",
        "4",
        choices=tuple(str(number) for number in range(1, MOST_PIECES + 1)),
    )


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedHose(Owned):
    """A hose with its two ends."""

    kind: ClassVar = "hose"
    title: ClassVar = "hose"

    body: str = same(Hose, "body")
    length_m: float = same(Hose, "length_m")
    measured: str | None = same(Hose, "measured")
    from_end: str | None = choice(
        "The end at the first stage.", '"LP 3/8"', vocabulary="first stage end", required=True
    )
    to_end: str | None = choice("The other end.", '"second stage 9/16"', vocabulary="device end", required=True)
    bore_m: float | None = same(Hose, "bore_m")
    swivel_pin: bool | None = same(Hose, "swivel_pin")
    mass_kg: float | None = same(Hose, "mass_kg")
    make: str | None = same(Hose, "make")
    made: date | None = day("When it was made, by the stamp on its ferrule.", '"2024-03"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedFirstStage(Owned):
    """A first stage with its ports."""

    kind: ClassVar = "first_stage"
    title: ClassVar = "first stage"

    preset: str | None = same(FirstStage, "preset")
    ports: tuple[str, ...] = same(FirstStage, "ports")
    mass_kg: float | None = same(FirstStage, "mass_kg")
    make: str | None = same(FirstStage, "make")
    serviced: date | None = day("When it was serviced last.", '"2026-03-02"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedDevice(Owned):
    """A thing that a hose may feed."""

    preset: str | None = same(SecondStage, "preset")
    inlet: str | None = same(SecondStage, "inlet")
    mass_kg: float | None = same(SecondStage, "mass_kg")
    buoyancy_kgf: float | None = same(SecondStage, "buoyancy_kgf")
    make: str | None = same(SecondStage, "make")
    serviced: date | None = day("When it was serviced, or compared, last.", '"2026-03-02"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedSecondStage(OwnedDevice):
    """A second stage."""

    kind: ClassVar = SecondStage.kind
    title: ClassVar = SecondStage.title


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedGauge(OwnedDevice):
    """A pressure gauge."""

    kind: ClassVar = Gauge.kind
    title: ClassVar = Gauge.title


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedTransmitter(OwnedDevice):
    """A pressure sender."""

    kind: ClassVar = Transmitter.kind
    title: ClassVar = Transmitter.title


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedWing(OwnedDevice):
    """A wing."""

    kind: ClassVar = Wing.kind
    title: ClassVar = Wing.title

    lift_kgf: float | None = same(Wing, "lift_kgf")


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedJacket(OwnedDevice):
    """A jacket."""

    kind: ClassVar = Jacket.kind
    title: ClassVar = Jacket.title

    lift_kgf: float | None = same(Jacket, "lift_kgf")


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedDrysuit(OwnedDevice):
    """A dry suit."""

    kind: ClassVar = Drysuit.kind
    title: ClassVar = Drysuit.title

    suit_gas_m3: float | None = same(Drysuit, "suit_gas_m3")


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedSuit(Owned):
    """A suit of foam, or a part of one."""

    kind: ClassVar = Suit.kind
    title: ClassVar = Suit.title

    cut: str = same(Suit, "cut")
    thickness_m: float = same(Suit, "thickness_m")
    foam: str | None = same(Suit, "foam")
    area_m2: float | None = same(Suit, "area_m2")
    mass_kg: float | None = same(Suit, "mass_kg")
    buoyancy_kgf: float | None = same(Suit, "buoyancy_kgf")


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedCylinder(Owned):
    """A cylinder with its valve."""

    kind: ClassVar = Cylinder.kind
    title: ClassVar = Cylinder.title

    preset: str | None = same(Cylinder, "preset")
    metal: str | None = same(Cylinder, "metal")
    volume_m3: float | None = same(Cylinder, "volume_m3")
    working_pressure_pa: float | None = same(Cylinder, "working_pressure_pa")
    stamped_mass_kg: float | None = same(Cylinder, "stamped_mass_kg")
    mass_kg: float | None = same(Cylinder, "mass_kg")
    valve: str | None = same(Cylinder, "valve")
    diameter_m: float | None = same(Cylinder, "diameter_m")
    length_m: float | None = same(Cylinder, "length_m")
    inspected: date | None = day("When it was inspected inside last.", '"2026-04"')
    tested: date | None = day("When its pressure test was last, as stamped.", '"2024-04"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Plug(Counted):
    """Blanking plugs for ports."""

    kind: ClassVar = "plug"
    title: ClassVar = "plug"

    thread: str = choice("The thread of the port it closes.", '"3/8-24 UNF"', vocabulary="thread", required=True)
    service: str | None = choice(
        "The pressure it is made for. That of ports which usually have its thread unless said.",
        '"LP"',
        choices=("LP", "HP"),
    )


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedAdapter(Counted):
    """Adapters: elbows, swivels, from thread to thread."""

    kind: ClassVar = "adapter"
    title: ClassVar = "adapter"

    adapter: str = choice("What it is.", '"elbow 90"', vocabulary="adapter", required=True)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class ORing(Counted):
    """Spare O-rings."""

    kind: ClassVar = "o_ring"
    title: ClassVar = "O-ring"

    size: str = choice("Its number in AS568.", '"011"', vocabulary="o-ring", required=True)


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedLead(Counted):
    """Pieces of lead."""

    kind: ClassVar = Lead.kind
    title: ClassVar = Lead.title

    mass_kg: float = same(Lead, "mass_kg")


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class OwnedOther(Owned):
    """Anything else: plates, manifolds, torches, bags."""

    kind: ClassVar = Other.kind
    title: ClassVar = Other.title

    preset: str | None = same(Other, "preset")
    mass_kg: float | None = same(Other, "mass_kg")
    buoyancy_kgf: float | None = same(Other, "buoyancy_kgf")


LOCKER_KINDS: dict[str, type[Owned]] = {
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
    )
}
"""Every kind of thing a locker may hold, by the name of its table."""


@dataclass(frozen=True, slots=True)
class Locker:
    """Everything one locker file says."""

    header: LockerHeader
    things: tuple[Owned, ...]
    """In the order of the file. A thing's number is its place here."""

    def thing(self, tag: str | None) -> Owned | None:
        """The thing with a tag; None when there is none."""
        return next((thing for thing in self.things if thing.tag == tag), None)

    @property
    def in_use(self) -> tuple[Owned, ...]:
        """The things that can be built with."""
        return tuple(thing for thing in self.things if thing.condition != OUT_OF_USE)


def service_of_plug(plug: Plug) -> str:
    """The pressure a plug is made for, "LP" or "HP"; HP only where its thread is met in no LP port."""
    return plug.service or ("HP" if plug.thread == HP_THREAD else "LP")


HP_THREAD = "7/16-20 UNF"
"""The thread of HP ports that no LP port has."""


def pieces_of(thing: Owned) -> int:
    """How many pieces an entry of the locker stands for."""
    return thing.pieces or 1 if isinstance(thing, Counted) else 1
