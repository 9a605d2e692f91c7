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


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Cylinder(Item):
    """A cylinder with its valve and its gas."""

    kind: ClassVar = "cylinder"
    title: ClassVar = "cylinder"

    preset: str | None = choice(
        "What it is; gives metal, volume, pressure, mass and size.",
        '"steel 12 L 232 long"',
        vocabulary="preset",
        always_shown=True,
    )
    metal: str | None = choice("What it is made of, when it is not the preset's.", '"steel"', vocabulary="metal")
    volume_m3: float | None = capacity(
        'Water it holds, as stamped; or the gas it is rated for: "80 cu ft at 3000 psi". Steel is often rated a tenth '
        "above the stamped pressure: write that pressure.",
        '"12 L"',
        lowest=0.0003,
        highest=0.03,
    )
    volume_spread_m3: float | None = None
    working_pressure_pa: float | None = quantity(
        "pressure", "Working pressure, as stamped.", '"232 bar"', lowest=50e5, highest=300e5
    )
    stamped_mass_kg: float | None = quantity(
        "mass",
        "Mass stamped on its shoulder: without valve and gas.",
        '"14.2 kg"',
        lowest=0.5,
        highest=40.0,
        group=Group.WEIGHED,
    )
    mass_kg: float | None = weighed(
        "mass",
        "Mass as weighed without gas, with its valve. Beats the stamped one.",
        '"15.0 kg"',
        lowest=0.5,
        highest=45.0,
    )
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    valve: str | None = choice("Its valve. Default: one outlet.", '"single outlet"', vocabulary="valve")
    outlet: str | None = choice(
        "What its valve offers a first stage. Default: DIN 300 above 237 bar (3442 psi), else not known.",
        '"DIN 232"',
        vocabulary="outlet",
        group=Group.ENDS,
    )
    diameter_m: float | None = quantity("length", "Outside diameter.", '"171 mm"', lowest=0.05, highest=0.35)
    length_m: float | None = quantity("length", "Length without valve.", '"69 cm"', lowest=0.15, highest=1.2)
    carried: str | None = choice(
        "How it is carried. Default: on the back, or in sidemount at the side.",
        '"back"',
        choices=("back", "side", "stage"),
        group=Group.WHERE,
    )
    gas: Gas | None = gas_name("Its gas by name. Default: air.", '"nitrox 32"')
    oxygen: float | None = quantity(
        "fraction", "Oxygen in its gas, instead of a name.", '"32 %"', lowest=0.0, highest=1.0, group=Group.GAS
    )
    helium: float | None = quantity(
        "fraction", "Helium in its gas, beside `oxygen`.", '"35 %"', lowest=0.0, highest=1.0, group=Group.GAS
    )
    nitrogen: float | None = quantity(
        "fraction", "Nitrogen in its gas. Default: the rest.", '"68 %"', lowest=0.0, highest=1.0, group=Group.GAS
    )
    deepest_m: float | None = quantity(
        "length",
        "The greatest depth at which its gas is breathed. Default: the kit's; not known of a stage with rich gas.",
        '"21 m"',
        lowest=1.0,
        highest=100.0,
        group=Group.GAS,
    )
    shallowest_m: float | None = quantity(
        "length",
        "The least depth at which its gas is breathed. Default: the surface; not known of a stage with lean gas.",
        '"10 m"',
        lowest=0.0,
        highest=100.0,
        group=Group.GAS,
    )
    filled_pa: float | None = quantity(
        "pressure",
        "Pressure before the dive. Default: the working pressure.",
        '"220 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.GAS,
    )
    temperature_k: float | None = quantity(
        "temperature",
        "Temperature of the gas when that was read. Default: 20 °C.",
        '"20 °C"',
        lowest=273.15,
        highest=313.15,
        group=Group.GAS,
    )
    turn_pa: float | None = quantity(
        "pressure",
        "Pressure at which the dive is turned. Default: two thirds of the filling.",
        '"150 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.GAS,
    )
    reserve_pa: float | None = quantity(
        "pressure",
        "Pressure left at the end of the dive. Default: 50 bar.",
        '"50 bar"',
        lowest=0.0,
        highest=305e5,
        group=Group.GAS,
    )
    notes: str | None = text("Anything else.", '"inspected in May"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class FirstStage(Item):
    """The part that sits on the cylinder valve and has the ports."""

    kind: ClassVar = "first_stage"
    title: ClassVar = "first stage"

    preset: str | None = choice(
        "What it is; gives ports, mass and volume.", '"brass, DIN, 4 LP 2 HP"', vocabulary="preset", always_shown=True
    )
    ports: tuple[str, ...] = ports(
        "Its ports, when they are not the preset's: a name that begins with LP or HP, then the thread.",
        '["LP1 3/8-24 UNF", "HP1 7/16-20 UNF"]',
    )
    connection: str | None = choice(
        "How it sits on a valve, when it is not the preset's.", '"DIN 300"', vocabulary="connection", group=Group.ENDS
    )
    on: str | None = tag(
        "The cylinder whose valve it sits on. Default: the only one, or the one of its side.",
        '"right cylinder"',
        kind="cylinder",
    )
    plugged: tuple[str, ...] = port_names("The ports that are closed with a blanking plug.", '["LP4", "HP2"]')
    side: str | None = choice(
        "On which side it sits, as worn. Default: as its tag says.",
        '"right"',
        choices=("left", "right", "middle"),
        group=Group.WHERE,
    )
    mass_kg: float | None = weighed("mass", "Mass as weighed, dry.", '"0.68 kg"', lowest=0.01, highest=10.0)
    mass_spread_kg: float | None = None
    mass_half_digit_kg: float | None = None
    make: str | None = text("Any word that tells one make from another.", '"grey"')
    notes: str | None = text("Anything else.", '"serviced in spring"', group=Group.NOTES)


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class SecondStage(Device):
    """The part that is breathed from."""

    kind: ClassVar = "second_stage"
    title: ClassVar = "second stage"


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Gauge(Device):
    """A pressure gauge on a high-pressure hose."""

    kind: ClassVar = "gauge"
    title: ClassVar = "gauge"

    port: str | None = port("The port it is screwed into, when there is no hose.", '"first HP2"')


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Transmitter(Device):
    """A pressure sender, in a port or on a short hose."""

    kind: ClassVar = "transmitter"
    title: ClassVar = "transmitter"

    port: str | None = port("The port it is screwed into, when there is no hose.", '"first HP2"')
