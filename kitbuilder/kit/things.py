"""The kit and the things in it. One class is one table of the kit file; one attribute is one key.

Lengths are in metres, masses in kilograms, buoyancies in kilogram-force (plus floats), temperatures in kelvin,
pressures in pascals above the atmosphere, volumes in cubic metres, fractions as parts of one.
None means that the file does not say.
"""

from dataclasses import dataclass, fields
from datetime import date
from typing import ClassVar

from kitbuilder.kit.fields import (
    choice,
    day,
    file,
    flag,
    gas_name,
    landmarks,
    name,
    owned,
    port,
    port_names,
    ports,
    quantity,
    tag,
    text,
    whole,
)
from kitbuilder.kit.gas import Gas

FORMAT = 1
LAYOUTS = ("single", "twinset", "sidemount")


@dataclass(frozen=True, slots=True, kw_only=True)
class Header:
    """The kit as a whole: the keys at the top of the file, before the first thing."""

    title: ClassVar = "kit"

    format: int = whole("Version of the file format.", "1", choices=("1",), required=True)
    name: str = name("What the kit is called on the shelf.", '"Reef single, warm water"')
    layout: str = choice("How the cylinders are carried.", '"single"', choices=LAYOUTS, required=True)
    water: str | None = choice("The water it is dived in. Ocean unless said.", '"ocean"', vocabulary="water")
    salinity_kg_per_kg: float | None = quantity(
        "salinity", "Salinity of the water, instead of the preset's.", '"35 g/kg"', lowest=0.0, highest=0.042
    )
    temperature_k: float | None = quantity(
        "temperature",
        "Temperature of the water, instead of the preset's.",
        '"18 °C"',
        lowest=271.15,
        highest=313.15,
    )
    density_kg_m3: float | None = quantity(
        "density", "Density of the water, when it was measured.", '"1026 kg/m3"', lowest=990.0, highest=1250.0
    )
    deepest_m: float | None = quantity(
        "length",
        "The greatest depth of the dive it is meant for. 30 m unless said.",
        '"30 m"',
        lowest=3.0,
        highest=100.0,
    )
    stop_m: float | None = quantity(
        "length",
        "The stop that must be held with the reserve and an empty wing. 5 m unless said.",
        '"5 m"',
        lowest=1.0,
        highest=15.0,
    )
    diver: str | None = file("The file of the diver who wears it: body, lead at hand, float checks.", '"diver.toml"')
    stock: str | None = file(
        "What is to be had, in a stock file; limits advice to it. Every customary length unless said.",
        '"stock.toml"',
        endings=(".toml", ".csv"),
    )
    locker: str | None = file("What the diver owns, in a locker file; things take it up by `owned`.", '"locker.toml"')
    day: date | None = day("The day it is dived. What is due before, of the things owned, is told.", '"2027-05-14"')
    neck: str | None = choice("What a hose round the neck lies on.", '"bare"', choices=("bare", "covered"))
    notes: str | None = text("Anything else.", '"Boat dives from the south jetty."')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Entry:
    """One table of a file, known by its tag."""

    kind: ClassVar[str]
    title: ClassVar[str]

    tag: str = name("The name other things know it by; once only in a file.", '"long hose"')

    def __repr__(self) -> str:
        """What the file says; written once here, since one for every record would double their time at the start."""
        told = ((known.name, getattr(self, known.name)) for known in fields(self))
        return f"{type(self).__name__}({', '.join(f'{name}={value!r}' for name, value in told if value is not None)})"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Thing(Entry):
    """Anything that can be held in the hand and has a place in the kit."""

    owned: str | None = owned(
        "Which thing of the locker it is. What the kit does not say of it, such as its mass, is then the locker's.",
        '"long hose, grey"',
    )
    place: str | None = choice(
        "Where it sits on the diver. As usual in the layout unless said.", '"waist"', vocabulary="place", last=True
    )
    along_m: float | None = quantity(
        "length",
        "How far its middle lies below the shoulders, towards the feet, instead of the place's.",
        '"45 cm"',
        lowest=-1.0,
        highest=2.0,
        last=True,
    )
    behind_m: float | None = quantity(
        "length",
        "How far its middle lies behind the middle of the body, towards the back, instead of the place's.",
        '"12 cm"',
        lowest=-0.6,
        highest=0.6,
        last=True,
    )


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Cylinder(Thing):
    """A cylinder with its valve and its gas."""

    kind: ClassVar = "cylinder"
    title: ClassVar = "cylinder"

    preset: str | None = choice(
        "What it is; gives metal, volume, pressure, mass and size.", '"steel 12 L 232 long"', vocabulary="preset"
    )
    metal: str | None = choice("What it is made of, when it is not the preset's.", '"steel"', vocabulary="metal")
    volume_m3: float | None = quantity("volume", "Water it holds, as stamped.", '"12 L"', lowest=0.0003, highest=0.03)
    working_pressure_pa: float | None = quantity(
        "pressure", "Working pressure, as stamped.", '"232 bar"', lowest=50e5, highest=300e5
    )
    stamped_mass_kg: float | None = quantity(
        "mass", "Mass stamped on its shoulder: without valve and gas.", '"14.2 kg"', lowest=0.5, highest=40.0
    )
    mass_kg: float | None = quantity(
        "mass",
        "Mass as weighed without gas, with its valve. Beats the stamped one.",
        '"15.0 kg"',
        lowest=0.5,
        highest=45.0,
    )
    valve: str | None = choice("Its valve. One outlet unless said.", '"single outlet"', vocabulary="valve")
    diameter_m: float | None = quantity("length", "Outside diameter.", '"171 mm"', lowest=0.05, highest=0.35)
    length_m: float | None = quantity("length", "Length without valve.", '"69 cm"', lowest=0.15, highest=1.2)
    carried: str | None = choice(
        "How it is carried. On the back, or in sidemount at the side, unless said.",
        '"back"',
        choices=("back", "side", "stage"),
    )
    gas: Gas | None = gas_name("Its gas by name. Air unless said.", '"nitrox 32"')
    oxygen: float | None = quantity(
        "fraction", "Oxygen in its gas, instead of a name.", '"32 %"', lowest=0.0, highest=1.0
    )
    helium: float | None = quantity(
        "fraction", "Helium in its gas, beside `oxygen`.", '"35 %"', lowest=0.0, highest=1.0
    )
    nitrogen: float | None = quantity(
        "fraction", "Nitrogen in its gas. The rest unless said.", '"68 %"', lowest=0.0, highest=1.0
    )
    filled_pa: float | None = quantity(
        "pressure",
        "Pressure before the dive. The working pressure unless said.",
        '"220 bar"',
        lowest=0.0,
        highest=305e5,
    )
    temperature_k: float | None = quantity(
        "temperature",
        "Temperature of the gas when that was read. 20 °C unless said.",
        '"20 °C"',
        lowest=273.15,
        highest=313.15,
    )
    turn_pa: float | None = quantity(
        "pressure",
        "Pressure at which the dive is turned. Two thirds of the filling unless said.",
        '"150 bar"',
        lowest=0.0,
        highest=305e5,
    )
    reserve_pa: float | None = quantity(
        "pressure", "Pressure left at the end of the dive. 50 bar unless said.", '"50 bar"', lowest=0.0, highest=305e5
    )
    notes: str | None = text("Anything else.", '"inspected in May"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class FirstStage(Thing):
    """The part that sits on the cylinder valve and has the ports."""

    kind: ClassVar = "first_stage"
    title: ClassVar = "first stage"

    preset: str | None = choice(
        "What it is; gives ports, mass and volume.", '"brass, DIN, 4 LP 2 HP"', vocabulary="preset"
    )
    ports: tuple[str, ...] = ports(
        "Its ports, when they are not the preset's: a name that begins with LP or HP, then the thread.",
        '["LP1 3/8-24 UNF", "HP1 7/16-20 UNF"]',
    )
    on: str | None = tag(
        "The cylinder whose valve it sits on. The only one, or the one of its side, unless said.",
        '"right cylinder"',
        kind="cylinder",
    )
    plugged: tuple[str, ...] = port_names("The ports that are closed with a blanking plug.", '["LP4", "HP2"]')
    side: str | None = choice(
        "On which side it sits, as worn; told by its tag unless said.", '"right"', choices=("left", "right", "middle")
    )
    mass_kg: float | None = quantity("mass", "Mass as weighed, dry.", '"0.68 kg"', lowest=0.01, highest=10.0)
    make: str | None = text("Any word that tells one make from another.", '"grey"')
    notes: str | None = text("Anything else.", '"serviced in spring"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Hose(Thing):
    """A hose with its two ends."""

    kind: ClassVar = "hose"
    title: ClassVar = "hose"

    role: str = choice("What it is for.", '"primary"', vocabulary="role", required=True)
    from_: str | None = port("The port it leaves from: tag of the first stage, then the port.", '"first LP1"')
    to: str | None = tag("The tag of the thing it feeds.", '"primary second"')
    body: str = choice("What the hose is made of.", '"rubber"', vocabulary="body", required=True)
    length_m: float = quantity("length", "Its stated length.", '"75 cm"', lowest=0.05, highest=5.0, required=True)
    measured: str | None = choice(
        "What the stated length covers. End to end unless said.",
        '"end to end"',
        choices=("end to end", "hose only"),
    )
    route: str | None = choice(
        "The way it is led. The usual one of its role, in this layout, unless said.",
        '"over the right shoulder"',
        vocabulary="route",
    )
    path: tuple[str, ...] = landmarks(
        "The way it is led at rest, by landmarks in order from the port, when it is not its route's.",
        '["left ports of the first stage", "left flank", "left hip ring"]',
        fewest=2,
    )
    holds: tuple[str, ...] = landmarks(
        "The landmarks of its way at which something holds it, besides both ends and those of its route.",
        '["left flank"]',
    )
    run_m: float | None = quantity(
        "length",
        "The length it must cover, by string over the worn kit, in the pose that needs most.",
        '"66 cm"',
        lowest=0.03,
        highest=5.0,
    )
    rest_run_m: float | None = quantity(
        "length",
        "The same at rest: head forward, arms down. Unless said, slack and stand-off are those of the run's pose.",
        '"52 cm"',
        lowest=0.03,
        highest=5.0,
    )
    span_m: float | None = quantity(
        "length",
        "The longest stretch of the run that nothing holds, straight from hold to hold. The whole run unless said.",
        '"45 cm"',
        lowest=0.03,
        highest=5.0,
    )
    stowed_m: float | None = quantity(
        "length", "Hose folded away on purpose, under a band or the waist strap.", '"20 cm"', lowest=0.0, highest=5.0
    )
    bore_m: float | None = quantity(
        "length",
        "Its inner diameter, for the pressure it costs. As usual for its body unless said.",
        '"6 mm"',
        lowest=0.002,
        highest=0.015,
    )
    from_end: str | None = choice("The end at the first stage.", '"LP 3/8"', vocabulary="first stage end")
    from_adapter: str | None = choice(
        "What sits between the port and the hose.", '"adapter 1/2 to 3/8"', vocabulary="adapter"
    )
    to_end: str | None = choice("The other end.", '"second stage 9/16"', vocabulary="device end")
    to_adapter: str | None = choice(
        "What sits between the hose and the thing it feeds.", '"elbow 90"', vocabulary="adapter"
    )
    swivel_pin: bool | None = flag("Whether the gauge end has its swivel pin with both O-rings.", "true")
    crosses_neck: bool | None = flag("Whether it lies on the neck. As usual for its role unless said.", "true")
    mass_kg: float | None = quantity(
        "mass", "Mass as weighed, dry, with both ends.", '"0.21 kg"', lowest=0.01, highest=3.0
    )
    make: str | None = text("Any word that tells one make from another; for the coupling.", '"grey"')
    notes: str | None = text("Anything else.", '"new this year"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Device(Thing):
    """A thing that a hose may feed, with the mass and volume of a preset unless weighed."""

    preset: str | None = choice("What it is; gives mass, volume and inlet.", '"plastic body"', vocabulary="preset")
    inlet: str | None = choice(
        "What it offers a hose to fasten to, when it is not the preset's.", '"9/16"', vocabulary="inlet"
    )
    mass_kg: float | None = quantity("mass", "Mass as weighed, dry.", '"0.21 kg"', lowest=0.005, highest=40.0)
    buoyancy_kgf: float | None = quantity(
        "buoyancy",
        "Buoyancy as weighed under fresh water; plus floats.",
        '"-0.12 kg"',
        lowest=-40.0,
        highest=40.0,
    )
    make: str | None = text("Any word that tells one make from another; for the coupling.", '"grey"')
    notes: str | None = text("Anything else.", '"spare mouthpiece in the box"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class SecondStage(Device):
    """The part that is breathed from."""

    kind: ClassVar = "second_stage"
    title: ClassVar = "second stage"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Gauge(Device):
    """A pressure gauge on a high-pressure hose."""

    kind: ClassVar = "gauge"
    title: ClassVar = "gauge"

    port: str | None = port("The port it is screwed into, when there is no hose.", '"first HP2"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Transmitter(Device):
    """A pressure sender, in a port or on a short hose."""

    kind: ClassVar = "transmitter"
    title: ClassVar = "transmitter"

    port: str | None = port("The port it is screwed into, when there is no hose.", '"first HP2"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Lifting(Device):
    """A thing with a bladder."""

    lift_kgf: float | None = quantity(
        "buoyancy",
        "Lift of its bladder when full, in fresh water, when it is not the preset's.",
        '"18 kg"',
        lowest=1.0,
        highest=60.0,
    )


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Wing(Lifting):
    """A bladder behind the back, with its inflator."""

    kind: ClassVar = "wing"
    title: ClassVar = "wing"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Jacket(Lifting):
    """A jacket with a bladder, with its inflator."""

    kind: ClassVar = "jacket"
    title: ClassVar = "jacket"


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Drysuit(Device):
    """A dry suit, with its inlet valve."""

    kind: ClassVar = "drysuit"
    title: ClassVar = "drysuit"

    undersuit: str | None = choice(
        "What is worn below it; gives mass and the gas it holds.", '"medium"', vocabulary="undersuit"
    )
    suit_gas_m3: float | None = quantity(
        "volume",
        "Gas it holds when it just does not squeeze, instead of the undersuit's.",
        '"9 L"',
        lowest=0.0,
        highest=0.04,
    )


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Suit(Thing):
    """A suit of foam, or a part of one: its foam is squeezed on the way down."""

    kind: ClassVar = "suit"
    title: ClassVar = "foam suit"

    cut: str = choice("How much of the body it covers.", '"full suit"', vocabulary="cut", required=True)
    thickness_m: float = quantity(
        "length", "Thickness of its foam.", '"5 mm"', lowest=0.0005, highest=0.012, required=True
    )
    foam: str | None = choice("How firm its foam is. Standard unless said.", '"standard"', vocabulary="foam")
    area_m2: float | None = quantity(
        "area", "Area of its foam, instead of what follows from body and cut.", '"1.6 m2"', lowest=0.01, highest=5.0
    )
    mass_kg: float | None = quantity("mass", "Mass as weighed, dry.", '"2.4 kg"', lowest=0.02, highest=12.0)
    buoyancy_kgf: float | None = quantity(
        "buoyancy",
        "Buoyancy as weighed just under the surface of fresh water, wetted through; plus floats.",
        '"+4.6 kg"',
        lowest=-2.0,
        highest=25.0,
    )
    notes: str | None = text("Anything else.", '"three seasons old"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Lead(Thing):
    """Pieces of lead that sit in one place."""

    kind: ClassVar = "lead"
    title: ClassVar = "lead"

    mass_kg: float = quantity("mass", "Mass of one piece.", '"1 kg"', lowest=0.05, highest=15.0, required=True)
    pieces: int | None = whole(
        "How many there are. One unless said.", "4", choices=tuple(str(number) for number in range(1, 25))
    )
    droppable: bool | None = flag("Whether it can be dropped with one hand. No unless said.", "true")
    notes: str | None = text("Anything else.", '"in the belt"')


@dataclass(frozen=True, slots=True, kw_only=True, repr=False, match_args=False)
class Other(Device):
    """Anything else that weighs or floats."""

    kind: ClassVar = "other"
    title: ClassVar = "other thing"

    density_kg_m3: float | None = quantity(
        "density", "Density of a solid thing; beside its mass.", '"7900 kg/m3"', lowest=20.0, highest=20000.0
    )
    volume_m3: float | None = quantity(
        "volume", "Water it displaces; beside its mass.", '"0.8 L"', lowest=0.0, highest=0.1
    )

    port: str | None = port("The port it is screwed into, such as an over-pressure valve.", '"first LP3"')


KINDS: dict[str, type[Thing]] = {
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
"""Every kind of thing, by the name of its table."""


@dataclass(frozen=True, slots=True)
class Kit:
    """Everything one kit file says."""

    header: Header
    things: tuple[Thing, ...]
    """In the order of the file. A thing's number is its place here."""

    @property
    def hoses(self) -> tuple[Hose, ...]:
        """The hoses, in the order of the file."""
        return tuple(thing for thing in self.things if isinstance(thing, Hose))


def split_port(reference: str) -> tuple[str, str]:
    """The tag and the port of "first LP1"; the port is the last word."""
    tag_part, _, port_part = reference.strip().rpartition(" ")
    return tag_part.strip(), port_part
