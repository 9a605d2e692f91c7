"""What holds, passes on and shows the gas: cylinder, first stage, second stage, gauge and transmitter."""

from dataclasses import dataclass
from typing import ClassVar

from kitbuilder.kit.entry import Device, Item
from kitbuilder.kit.fields import (
    Group,
    capacity,
    choice,
    gas_name,
    port,
    port_names,
    ports,
    quantity,
    tag,
    text,
    weighed,
)
from kitbuilder.kit.gas_mix import Gas
from kitbuilder.kit.travel import Traveller


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Cylinder(Item):
    """A cylinder with its valve and its gas."""

    kind: ClassVar = "cylinder"
    title: ClassVar = "cylinder"

    preset: str | None = choice(
        "Cylinder of the catalogue. It gives metal, volume, pressure, mass and size.",
        '"steel 12 L 232 long"',
        vocabulary="preset",
        always_shown=True,
    )
    metal: str | None = choice("Metal of the cylinder. Default: that of the preset.", '"steel"', vocabulary="metal")
    volume_m3: float | None = capacity(
        'Water volume, as stamped; or the rated capacity: "80 cu ft at 3000 psi". Steel is often rated for a '
        "tenth more "
        "than the stamped pressure: write the pressure of the rating. Default: that of the preset.",
        '"12 L"',
        lowest=0.0003,
        highest=0.03,
    )
    volume_spread_m3: float | None = None
    working_pressure_pa: float | None = quantity(
        "pressure",
        "Working pressure, as stamped. Default: that of the preset.",
        '"232 bar"',
        lowest=50e5,
        highest=300e5,
    )
    stamped_mass_kg: float | None = quantity(
        "mass",
        "Mass stamped on the shoulder: without valve and gas. Default: that of the preset.",
        '"14.2 kg"',
        lowest=0.5,
        highest=40.0,
        group=Group.WEIGHED,
    )
    mass_kg: float | None = weighed(
        "mass",
        "Weighed mass without gas, with the valve. It counts before the stamped mass. Default: not weighed.",
        '"15.0 kg"',
        lowest=0.5,
        highest=45.0,
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    valve: str | None = choice("Valve of the cylinder. Default: one outlet.", '"single outlet"', vocabulary="valve")
    outlet: str | None = choice(
        "Outlet of the valve for a first stage. Default: DIN 300 above 237 bar (3442 psi), else not known.",
        '"DIN 232"',
        vocabulary="outlet",
        group=Group.ENDS,
    )
    diameter_m: float | None = quantity(
        "length", "Outside diameter. Default: that of the preset.", '"171 mm"', lowest=0.05, highest=0.35
    )
    length_m: float | None = quantity(
        "length", "Length without valve. Default: that of the preset.", '"69 cm"', lowest=0.15, highest=1.2
    )
    carried: str | None = choice(
        "How the cylinder is carried. Default: on the back, or in sidemount at the side.",
        '"back"',
        choices=("back", "side", "stage"),
        group=Group.WHERE,
    )
    gas: Gas | None = gas_name("Name of the gas. Default: air.", '"nitrox 31"')
    oxygen: float | None = quantity(
        "fraction",
        "Part of oxygen in the gas. Default: that of `gas`.",
        '"31 %"',
        lowest=0.0,
        highest=1.0,
        group=Group.GAS,
    )
    helium: float | None = quantity(
        "fraction",
        "Part of helium in the gas, together with `oxygen`. Default: none.",
        '"35 %"',
        lowest=0.0,
        highest=1.0,
        group=Group.GAS,
    )
    nitrogen: float | None = quantity(
        "fraction",
        "Part of nitrogen in the gas. Default: the rest.",
        '"69 %"',
        lowest=0.0,
        highest=1.0,
        group=Group.GAS,
    )
    deepest_m: float | None = quantity(
        "length",
        "Greatest depth at which the gas is breathed. Default: that of the kit; not known for a stage with "
        "oxygen-rich gas.",
        '"21 m"',
        lowest=1.0,
        highest=100.0,
        group=Group.GAS,
    )
    shallowest_m: float | None = quantity(
        "length",
        "Least depth at which the gas is breathed. Default: the surface; not known for a stage with too little "
        "oxygen for it.",
        '"10 m"',
        lowest=0.0,
        highest=100.0,
        group=Group.GAS,
    )
    filled_pa: float | None = quantity(
        "pressure",
        "Gauge pressure before the dive. Default: the working pressure.",
        '"220 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.GAS,
    )
    temperature_k: float | None = quantity(
        "temperature",
        "Temperature of the gas when `filled` was read. Default: 20 °C.",
        '"20 °C"',
        lowest=273.15,
        highest=313.15,
        group=Group.GAS,
    )
    turn_pa: float | None = quantity(
        "pressure",
        "Gauge pressure at which the dive is turned. Default: two thirds of the filling.",
        '"150 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.GAS,
    )
    reserve_pa: float | None = quantity(
        "pressure",
        "Gauge pressure left at the end of the dive. Default: 50 bar.",
        '"50 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.GAS,
    )
    notes: str | None = text("Free text.", '"inspected in May"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class FirstStage(Item):
    """The part that sits on the cylinder valve and has the ports."""

    kind: ClassVar = "first_stage"
    title: ClassVar = "first stage"

    preset: str | None = choice(
        "First stage of the catalogue. It gives ports, mass and volume.",
        '"brass, DIN, 4 LP 2 HP"',
        vocabulary="preset",
        always_shown=True,
    )
    ports: tuple[str, ...] = ports(
        "Ports, each a name that begins with LP or HP, then the thread. Default: those of the preset.",
        '["LP1 3/8-24 UNF", "HP1 7/16-20 UNF"]',
    )
    connection: str | None = choice(
        "Connection to the valve. Default: that of the preset.", '"DIN 300"', vocabulary="connection", group=Group.ENDS
    )
    on: str | None = tag(
        "Tag of the cylinder that the first stage sits on. Default: the only one, or the one of its side.",
        '"right cylinder"',
        kind="cylinder",
    )
    plugged: tuple[str, ...] = port_names("Ports that a blanking plug closes. Default: none.", '["LP4", "HP2"]')
    side: str | None = choice(
        "Side on which the first stage sits when worn. Default: as its tag says.",
        '"right"',
        choices=("left", "right", "middle"),
        group=Group.WHERE,
    )
    mass_kg: float | None = weighed(
        "mass", "Weighed mass, dry. Default: that of the preset.", '"0.68 kg"', lowest=0.01, highest=10.0
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    make: str | None = text("A label for the make.", '"grey"')
    notes: str | None = text("Free text.", '"serviced in spring"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class SecondStage(Device):
    """The part that is breathed from."""

    kind: ClassVar = "second_stage"
    title: ClassVar = "second stage"


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Gauge(Traveller):
    """A pressure gauge on a high-pressure hose."""

    kind: ClassVar = "gauge"
    title: ClassVar = "gauge"

    port: str | None = port("Port that the item is screwed into, if it has no hose.", '"first HP2"')


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Transmitter(Traveller):
    """A pressure sender, in a port or on a short hose."""

    kind: ClassVar = "transmitter"
    title: ClassVar = "transmitter"

    port: str | None = port("Port that the item is screwed into, if it has no hose.", '"first HP2"')
