"""What the diver wears apart from the regulators: bladders, suits, lead and everything else with a mass."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Device, Item
from kitbuilder.kit.fields import IN_FRESH_WATER, Group, choice, flag, port, quantity, text, weighed, whole
from kitbuilder.kit.travel import Traveller


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Lifting(Device):
    """An item with a bladder."""

    lift_kgf: float | None = quantity(
        "buoyancy",
        "Lift of the full bladder in fresh water. Default: that of the preset.",
        '"18 kg"',
        lowest=1.0,
        highest=60.0,
    )


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Wing(Lifting):
    """A bladder behind the back, with its inflator."""

    kind: ClassVar = "wing"
    title: ClassVar = "wing"


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Jacket(Lifting):
    """A jacket with a bladder, with its inflator."""

    kind: ClassVar = "jacket"
    title: ClassVar = "jacket"


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Drysuit(Device):
    """A dry suit, with its inlet valve."""

    kind: ClassVar = "drysuit"
    title: ClassVar = "drysuit"

    undersuit: str | None = choice(
        "Undersuit below the drysuit. It gives mass and the gas it holds.",
        '"medium"',
        vocabulary="undersuit",
        always_shown=True,
    )
    suit_gas_m3: float | None = quantity(
        "volume",
        "Volume of gas that the suit holds when it just does not squeeze. Default: that of the undersuit.",
        '"9 L"',
        lowest=0.0,
        highest=0.04,
    )


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Suit(Item):
    """A suit of foam, or a part of one: its foam is squeezed on the way down."""

    kind: ClassVar = "suit"
    title: ClassVar = "foam suit"

    cut: str = choice("How much of the body the suit covers.", '"full suit"', vocabulary="cut", required=True)
    thickness_m: float = quantity(
        "length", "Thickness of the foam.", '"5 mm"', lowest=0.0005, highest=0.012, required=True
    )
    foam: str | None = choice("How firm the foam is. Default: standard.", '"standard"', vocabulary="foam")
    area_m2: float | None = quantity(
        "area", "Area of the foam. Default: from body and cut.", '"1.6 m2"', lowest=0.01, highest=5.0
    )
    mass_kg: float | None = weighed(
        "mass", "Weighed mass, dry. Default: from foam and area.", '"2.4 kg"', lowest=0.02, highest=12.0
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    buoyancy_kgf: float | None = weighed(
        "buoyancy",
        "Buoyancy weighed soaked, just under the surface of fresh water: plus floats, minus sinks. Default: "
        "from its foam.",
        '"+4.6 kg"',
        lowest=-2.0,
        highest=25.0,
        label=IN_FRESH_WATER,
    )
    buoyancy_spread_kgf: float | None = None
    buoyancy_half_digit_kgf: float | None = None
    notes: str | None = text("Free text.", '"three seasons old"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Lead(Item):
    """Pieces of lead that sit in one place."""

    kind: ClassVar = "lead"
    title: ClassVar = "lead"

    mass_kg: float = quantity("mass", "Mass of one piece.", '"1 kg"', lowest=0.05, highest=15.0, required=True)
    pieces: int | None = whole(
        "Number of pieces. Default: one.", "4", choices=tuple(str(number) for number in range(1, 25)), always_shown=True
    )
    droppable: bool | None = flag("Whether the lead can be dropped with one hand. Default: no.", "true")
    notes: str | None = text("Free text.", '"in the belt"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Other(Traveller):
    """Anything else that weighs or floats."""

    kind: ClassVar = "other"
    title: ClassVar = "other item"

    density_kg_m3: float | None = quantity(
        "density",
        "Density of a solid item, together with its mass.",
        '"7900 kg/m3"',
        lowest=20.0,
        highest=20000.0,
        group=Group.WEIGHED,
    )
    volume_m3: float | None = quantity(
        "volume",
        "Volume of water that the item displaces, together with its mass.",
        '"0.8 L"',
        lowest=0.0,
        highest=0.1,
        group=Group.WEIGHED,
    )

    port: str | None = port(
        "Port that the item is screwed into, such as that of an over-pressure valve.", '"first LP3"'
    )
