"""What air travel asks of an item: its battery, whether it breaks, whether it cuts."""

from dataclasses import dataclass

from kitbuilder.kit.entry import Device
from kitbuilder.kit.fields import Group, battery, choice, flag, whole

LITHIUM_ION = "lithium ion"
"""The type whose energy decides where it may travel."""
LITHIUM_METAL = "lithium metal"
"""Not rechargeable; such cells are small in dive gear."""
NO_LITHIUM = "no lithium"
"""Alkaline or nickel cells."""
NO_BATTERY = "none"
BATTERY_TYPES = (LITHIUM_ION, LITHIUM_METAL, NO_LITHIUM, NO_BATTERY)
BATTERY_COUNTS = tuple(str(number) for number in range(1, 21))
TRAVEL = ("battery_type", "battery_j", "batteries", "breakable", "sharp")
"""The attributes of `Traveller`, for files that list theirs."""


@dataclass(frozen=True, kw_only=True, repr=False, match_args=False)
class Traveller(Device):
    """An item that may have a battery, break or cut."""

    battery_type: str | None = choice(
        f"Type of battery. Default: {LITHIUM_ION} where `battery` is given, else that of the preset.",
        '"lithium ion"',
        choices=BATTERY_TYPES,
        group=Group.TRAVEL,
    )
    battery_j: float | None = battery(
        "Energy of one battery, or its voltage and charge as printed on it. Default: that of the preset.", '"18.5 Wh"'
    )
    batteries: int | None = whole("Number of batteries. Default: one.", "2", choices=BATTERY_COUNTS, group=Group.TRAVEL)
    breakable: bool | None = flag("Whether it breaks easily. Default: that of the preset.", "true", group=Group.TRAVEL)
    sharp: bool | None = flag(
        "Whether it has an edge or a point, or is a tool. Default: that of the preset.", "true", group=Group.TRAVEL
    )
