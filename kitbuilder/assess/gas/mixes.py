"""The gas of a cylinder as a mix of four gases, and what follows from the mix alone."""

from functools import lru_cache
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.kit.gas_mix import AIR, OXYGEN
from kitbuilder.kit.items import Cylinder
from kitbuilder.physics.gas import ARGON_KG_PER_MOL, HELIUM_KG_PER_MOL, NITROGEN_KG_PER_MOL, OXYGEN_KG_PER_MOL
from kitbuilder.physics.gas_viscosity import ARGON_PA_S, HELIUM_PA_S, NITROGEN_PA_S, OXYGEN_PA_S, mixture_viscosity

MOLAR_MASSES_KG_MOL = (NITROGEN_KG_PER_MOL, OXYGEN_KG_PER_MOL, HELIUM_KG_PER_MOL, ARGON_KG_PER_MOL)
VISCOSITIES_PA_S = (NITROGEN_PA_S, OXYGEN_PA_S, HELIUM_PA_S, ARGON_PA_S)
PAIRED_HEAT, LONE_HEAT = 3.5, 2.5
"""Heat at constant pressure of a gas of two atoms and of one, over the gas constant: kinetic theory of gases."""


class Mix(NamedTuple):
    """Parts of a gas; what the file calls nitrogen comes from air and has its argon."""

    nitrogen: float
    oxygen: float
    helium: float
    argon: float


def parts_given(cylinder: Cylinder) -> tuple[float, float, float]:
    """Give oxygen, helium and nitrogen as the file gives them, nitrogen being the rest unless it is given too."""
    gas = cylinder.gas or AIR
    if cylinder.oxygen is None and cylinder.helium is None and cylinder.nitrogen is None:
        return gas.oxygen, gas.helium, 1.0 - gas.oxygen - gas.helium
    helium = (gas.helium if cylinder.gas else 0.0) if cylinder.helium is None else cylinder.helium
    if cylinder.oxygen is not None:
        oxygen = cylinder.oxygen
    elif cylinder.gas or cylinder.nitrogen is None:
        oxygen = gas.oxygen
    else:
        oxygen = 1.0 - helium - cylinder.nitrogen
    return oxygen, helium, 1.0 - oxygen - helium if cylinder.nitrogen is None else cylinder.nitrogen


def gas_name_of(cylinder: Cylinder) -> str:
    """Name the gas of a cylinder: "air", "nitrox 31", "trimix 17/42" (oxygen, then helium), "oxygen"."""
    oxygen, helium, _ = parts_given(cylinder)
    percent = f"{oxygen * 100:.3g}"
    if helium:
        return f"trimix {percent}/{helium * 100:.3g}"
    if oxygen == AIR.oxygen:
        return AIR.name
    return OXYGEN.name if oxygen == OXYGEN.oxygen else f"nitrox {percent}"


@lru_cache(maxsize=256)
def mix_of(cylinder: Cylinder) -> Mix:
    """Give the gas of a cylinder; parts that do not add up are scaled until they do, which a rule reports."""
    oxygen, helium, nitrogen = (max(0.0, part) for part in parts_given(cylinder))
    whole = oxygen + helium + nitrogen
    return _with_argon(*((oxygen / whole, helium / whole) if whole else (AIR.oxygen, 0.0)))


def mix_of_air() -> Mix:
    """Give air, with its argon."""
    return _with_argon(AIR.oxygen, 0.0)


def _with_argon(oxygen: float, helium: float) -> Mix:
    air = catalogue().body.air
    rest = max(0.0, 1.0 - oxygen - helium)
    argon = rest * air["argon"].value / (air["nitrogen"].value + air["argon"].value)
    return Mix(1.0 - oxygen - helium - argon if rest else 0.0, oxygen, helium, argon)


def density_spread(mix: Mix) -> float:
    """Give how far the density of a real gas may lie from that of the equation, as a part of it [1]."""
    return catalogue().limits["gas_density_with_helium" if mix.helium else "gas_density_without_helium"].value


def molar_mass(mix: Mix) -> float:
    """Give the molar mass of a gas [kg/mol]."""
    return sum(part * mass for part, mass in zip(mix, MOLAR_MASSES_KG_MOL, strict=True))


def heat_ratio(mix: Mix) -> float:
    """Give the ratio of the heats of a thin gas: 1.4 for air and nitrox, more with helium [1]."""
    heat = PAIRED_HEAT * (mix.nitrogen + mix.oxygen) + LONE_HEAT * (mix.helium + mix.argon)
    return heat / (heat - 1.0)


def viscosity(mix: Mix) -> float:
    """Give the viscosity of a gas at 20 °C [Pa s]."""
    return mixture_viscosity(mix, MOLAR_MASSES_KG_MOL, VISCOSITIES_PA_S)
