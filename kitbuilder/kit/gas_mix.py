"""A breathing gas, as divers name it."""

import re
from typing import NamedTuple


class Gas(NamedTuple):
    """A gas by its parts of oxygen and helium; the rest is nitrogen from air."""

    name: str
    oxygen: float
    helium: float


AIR = Gas("air", 0.2096, 0.0)
"""Dry air: oxygen 20.96 %, equation of state of J. Phys. Chem. Ref. Data 29 (2000) 331, from memory."""
OXYGEN = Gas("oxygen", 1.0, 0.0)

_NITROX = re.compile(r"(?:(?:nitrox|eanx?|nx) ?)?(\d{1,3}) ?%?")
_TRIMIX = re.compile(r"(?:(?:trimix|tx) ?)?(\d{1,2})/(\d{1,2})")


def gas_named(name: str) -> Gas | None:
    """Give the gas of a name: "air", "oxygen", "nitrox 31", "trimix 17/42" (oxygen, then helium); else None.

    Nitrox may also be written as "EAN31", "EANx31", "nx31", "31 %" or "31", and trimix as "17/42" or "tx 17/42".
    """
    plain = " ".join(name.lower().split())
    if plain in ("air", "oxygen"):
        return AIR if plain == "air" else OXYGEN
    if match := _NITROX.fullmatch(plain):
        return _mixed(f"nitrox {int(match[1])}", int(match[1]), 0)
    if match := _TRIMIX.fullmatch(plain):
        return _mixed(f"trimix {int(match[1])}/{int(match[2])}", int(match[1]), int(match[2]))
    return None


def _mixed(name: str, oxygen_percent: int, helium_percent: int) -> Gas | None:
    if oxygen_percent < 1 or oxygen_percent + helium_percent > 100:
        return None
    return Gas(name, oxygen_percent / 100, helium_percent / 100)
