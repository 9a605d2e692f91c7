"""What the catalogue holds: trade data in SI, each number with its origin.

Masses are in kilograms, lengths in metres, densities in kg/m3, pressures in pascals, salinities in kg/kg, temperatures
in kelvins. Buoyancy is in kilogram-force and positive when the item floats.
"""

from functools import lru_cache
from typing import NamedTuple

from kitbuilder.catalogue.body_entries import Landmark, Pose, Route, Survey
from kitbuilder.physics.spread import NORMAL_95, Moments, moments_between


class Value(NamedTuple):
    """A number of the trade: its value, how far it may be off, and where it comes from.

    Low and high are bounds: as many real parts lie below the value as above it, evenly between it and each end. Where
    a source gives a range that covers 95 % (two standard deviations), low and high are the ends of that.
    """

    value: float
    low: float
    high: float
    origin: str
    covers_95: bool = False
    """Whether low and high are the ends of a range that covers 95 % of a normal distribution, and no bounds."""

    @property
    def expected(self) -> float:
        """The mean: the value, unless one end lies nearer to it than the other."""
        return self.value if self.covers_95 else self.value + (self.high - 2 * self.value + self.low) / 4

    @property
    def spread(self) -> float:
        """What it adds to the spread of a sum: 1.96 standard deviations; zero where no range is known."""
        if self.covers_95:
            return (self.high - self.low) / 2
        return NORMAL_95 * self.moments.deviation

    @property
    def moments(self) -> Moments:
        """How real parts are distributed between low and high, where these are bounds."""
        return _moments(self.low, self.value, self.high)


@lru_cache(maxsize=4096)
def _moments(low: float, value: float, high: float) -> Moments:
    """Keep the moments: every figure that a value goes into asks for them, and the values stay the same."""
    return moments_between(low, value, high)


class HoseBody(NamedTuple):
    """What a hose is made of, between its ends."""

    name: str
    """Such as "rubber"."""
    service: str
    """"LP" or "HP"."""
    surface: str
    """"smooth", or "coarse" where it rubs bare skin and soft suits."""
    bore: Value
    """[m]"""
    outside_diameter: Value
    """[m]"""
    density: Value
    """Of the whole wall: liner, textile and cover together. [kg/m3]"""
    minimum_bend_radius: Value
    """To the middle of the hose. [m]"""
    rated_pressure: Value
    """Above ambient. [Pa]"""
    mass_per_length: Value
    """Without its ends and without gas. [kg/m]"""


class Fitting(NamedTuple):
    """A hose end."""

    name: str
    service: str
    """"LP" or "HP"."""
    place: str
    """Which end of a hose it is: "first stage" or "device"."""
    joint: str
    """The thread or the coupling by which it is joined."""
    gender: str
    """"male" or "female"."""
    mass: Value
    """With its ferrule. [kg]"""
    density: Value
    """[kg/m3]"""
    envelope_length: Value
    """How much of the stated hose length it takes. [m]"""
    note: str
    only_from_maker: bool
    """Whether no stock has it: it is made for one device, by the maker of that."""


class Adapter(NamedTuple):
    """A part between a hose end and a port or device: elbow, swivel, thread adapter."""

    name: str
    service: str
    """"LP" or "HP"."""
    hose_side: tuple[str, str]
    """Joint and gender offered to the hose end."""
    far_side: tuple[str, str]
    """Joint and gender offered to the port or the device."""
    mass: Value
    """[kg]"""
    density: Value
    """[kg/m3]"""
    length: Value
    """What it adds to the hose. [m]"""
    note: str
    defeats_coding: bool
    """Whether it lets a hose of one pressure class into a port of another."""


class Thread(NamedTuple):
    """A screw thread, by its designation."""

    name: str
    standard: str
    """"ASME B1.1", "ASME B1.20.1", "ISO 965-1" or "ISO 228-1"."""
    major: Value
    """Basic major diameter. [m]"""
    pitch: Value
    """[m]"""
    tolerances: dict[str, float]
    """es, Td, Td2, TD1 and TD2 of the ISO threads, all positive; empty where they follow from a formula. [m]"""
    tolerances_origin: str
    used_for: str
    beware: tuple[str, ...]
    """What it is mistaken for although the thread alone does not tell."""
    origin: str
    """Of `used_for`."""


class Coupling(NamedTuple):
    """A joint that is not a thread."""

    name: str
    kind: str
    """"quick-disconnect" or "swivel"."""
    note: str
    origin: str


class Inlet(NamedTuple):
    """What a device offers a hose."""

    name: str
    service: str
    """"LP" or "HP"."""
    joint: str
    gender: str
    """"male" or "female"."""
    note: str
    origin: str


class Role(NamedTuple):
    """What a hose is for."""

    name: str
    service: str
    """"LP" or "HP"."""
    device: str
    """The kind of item it ends at, as in `Preset.kind`."""
    crosses_neck: bool
    from_end: str
    """The usual fitting at the first stage."""
    to_end: str
    """The usual fitting at the device."""
    customary: dict[str, tuple[float, float]]
    """Shortest and longest customary length for "single", "twinset" and "sidemount", where there is a custom. [m]"""
    customary_origins: dict[str, str]
    """Where each of `customary` comes from."""
    note: str
    origin: str
    """Of the route and the ends."""


class Preset(NamedTuple):
    """A device to start from, until the diver weighs the real one.

    A solid item has a density, so that its buoyancy follows a weighed mass; an item with padding or trapped gas has a
    buoyancy instead. Each preset has exactly one of the two.
    """

    kind: str
    """A table of the kit file: "first_stage", "second_stage", "gauge" and so on."""
    name: str
    mass: Value
    """[kg]"""
    density: Value | None
    """[kg/m3]"""
    buoyancy_salt: Value | None
    """In water of 1025 kg/m3. [kgf]"""
    inlet: str | None
    ports: tuple[str, ...]
    """Of a first stage: label and thread, "LP1 3/8-24 UNF"."""
    connection: str | None
    """Of a first stage: how it sits on a valve."""
    lift: Value | None
    """Of its bladder, when full. [kgf]"""
    place: str | None
    """Where it sits, when that is not as usual for its kind."""
    is_foam: bool
    """Whether depth squeezes it."""
    not_for_rich_gas: bool
    """Whether it must not meet gas rich in oxygen, as titanium must not."""
    note: str


class Metal(NamedTuple):
    """What cylinders are made of."""

    name: str
    density: Value
    """[kg/m3]"""
    strength: Value
    """At which it tears; the most that any cylinder of it can be made to bear. [Pa]"""


class Valve(NamedTuple):
    """What closes a cylinder."""

    name: str
    mass: Value
    """[kg]"""
    density: Value
    """[kg/m3]"""
    note: str


class Connection(NamedTuple):
    """One side of the place where a first stage sits on a valve: that of the first stage, or the outlet."""

    name: str
    limit: Value
    """The greatest filling pressure that it bears; low and high where practice has a range. [Pa]"""
    note: str


class Seating(NamedTuple):
    """Whether a first stage with one connection goes on a valve with one outlet."""

    connection: str
    outlet: str
    fits: str
    """"yes", "no", "adapter" or "unknown"."""
    note: str
    origin: str


class CylinderPreset(NamedTuple):
    """A cylinder to start from, until its stamps are read."""

    name: str
    metal: str
    volume: Value
    """WaterType it holds. [m3]"""
    working_pressure: Value
    """[Pa]"""
    mass: Value
    """Without valve and gas, as stamped. [kg]"""
    diameter: Value
    """[m]"""
    length: Value
    """Without valve. [m]"""
    note: str


class Foam(NamedTuple):
    """A grade of the foam of suits."""

    name: str
    density: Value
    """At the surface. [kg/m3]"""
    note: str


class Cut(NamedTuple):
    """How much of the body a suit covers."""

    name: str
    coverage: Value
    """Area of its foam over the area of the body; above 1 where it lies double."""
    place: str
    note: str


class Undersuit(NamedTuple):
    """What is worn below a drysuit."""

    name: str
    mass: Value
    """[kg]"""
    gas: Value
    """Gas it holds, with the suit, when it just does not squeeze. [m3]"""
    loft: Value
    """Thickness when worn. [m]"""
    note: str


class Place(NamedTuple):
    """A place on the diver."""

    name: str
    along: Value
    """How far below the shoulders, towards the feet, as a part of stature."""
    behind: Value
    """How far behind the middle of the body, towards the back. [m]"""
    hangs_from: bool
    """Whether a cylinder there begins at `along` and lies behind `behind`, rather than having its middle there."""
    note: str


class BodyFacts(NamedTuple):
    """What holds for every body in the water, for the foam on it, and for air."""

    density: dict[str, Value]
    """At resting lung volume, of "male" and "female", and of a diver whose sex is not given by "". [kg/m3]"""
    breath: Value
    """Gas in the lungs beyond resting lung volume, in the middle of a breath. [m3]"""
    lung_offset: Value
    """How much nearer to the head its displaced water pulls than its weight. [m]"""
    foam_lining: Value
    """Of a suit: mass of its linings over the area of the body. [kg/m2]"""
    foam_stretch: Value
    """Thickness of a worn suit over that of its foam."""
    air: dict[str, Value]
    """Parts of nitrogen, oxygen and argon in dry air."""


class WaterType(NamedTuple):
    """Water to dive in."""

    name: str
    salinity: Value
    """Absolute salinity. [kg/kg]"""
    temperature: Value
    """[K]"""
    note: str
    origin: str


class Catalogue(NamedTuple):
    """All trade data, keyed by name."""

    bodies: dict[tuple[str, str], HoseBody]
    """By service and name."""
    fittings: dict[str, Fitting]
    adapters: dict[str, Adapter]
    inlets: dict[str, Inlet]
    threads: dict[str, Thread]
    couplings: dict[str, Coupling]
    roles: dict[str, Role]
    second_stages: dict[str, tuple[str, ...]]
    """Their roles, in the order in which a hose is taken for the one that is "breathed" or "given"."""
    presets: dict[tuple[str, str], Preset]
    """By kind and name."""
    waters: dict[str, WaterType]
    metals: dict[str, Metal]
    valves: dict[str, Valve]
    connections: dict[str, Connection]
    """Of first stages."""
    outlets: dict[str, Connection]
    """Of valves."""
    seatings: dict[tuple[str, str], Seating]
    """By connection and outlet; what is not known is missing."""
    cylinders: dict[str, CylinderPreset]
    foams: dict[str, Foam]
    cuts: dict[str, Cut]
    undersuits: dict[str, Undersuit]
    places: dict[str, Place]
    usual_places: dict[str, dict[str, str]]
    """The usual place of each kind of item, by layout; of a cylinder, by how it is carried."""
    body: BodyFacts
    lead_sizes: dict[str, tuple[float, ...]]
    """Usual pieces of lead, by the reader's system of units: "metric" or "imperial". [kg]"""
    lead_sizes_origin: str
    survey: Survey
    skin: dict[str, Landmark]
    """Places on bare skin, by name: landmarks lie on some of them, and tapes of the survey are laid over them."""
    landmarks: dict[str, Landmark]
    poses: dict[str, Pose]
    routes: dict[str, Route]
    stock_lengths: dict[str, tuple[float, ...]]
    """Hose available lengths, by service, shortest first. [m]"""
    stock_origin: str
    limits: dict[str, Value]
    """Thresholds of the findings and spreads of measurements."""
    gas_density: dict[str, Value]
    """Of the gas inside a hose, by service. [kg/m3]"""
