"""Viscosity of breathing gas. It has little say in what a hose costs: a tenth more of it costs one to two per cent."""

import math
from collections.abc import Sequence

NITROGEN_PA_S = 1.757e-5
OXYGEN_PA_S = 2.027e-5
HELIUM_PA_S = 1.962e-5
ARGON_PA_S = 2.231e-5
"""Dynamic viscosity at 293.15 K and 1 bar: computed with CoolProp 8.0.0. At 16 bar it is up to 1.6 % more."""

SUM_SLACK = 1e-6
"""How far the parts of a gas may add up beside 1."""


def mixture_viscosity(
    mole_fractions: Sequence[float], molar_masses_kg_mol: Sequence[float], viscosities_pa_s: Sequence[float]
) -> float:
    """Give the viscosity of a thin mix of gases from those of its parts.

    With phi_ij = (1 + (mu_i / mu_j)^(1/2) (M_j / M_i)^(1/4))^2 / (8 (1 + M_i / M_j))^(1/2), the mix has
    sum over i of x_i mu_i / (sum over j of x_j phi_ij).

    Args:
        mole_fractions: part of each gas, 0 to 1 [1].
        molar_masses_kg_mol: molar mass of each [kg/mol].
        viscosities_pa_s: dynamic viscosity of each, at one temperature [Pa s].

    Returns:
        Dynamic viscosity [Pa s].

    Raises:
        ValueError: lists of different lengths, a negative fraction, fractions that do not add up to 1, or a molar mass
            or a viscosity that is not above 0.

    Valid: gases at low pressure, away from their condensation. Usually within 2 %; helium with a heavier gas may be off
    by a few per cent more (from memory).

    Source: Journal of Chemical Physics 18 (1950) 517, from memory; Transport phenomena, 2nd ed. (2002), equations
    1.4-15 and 1.4-16, from memory.
    """
    parts = list(zip(mole_fractions, molar_masses_kg_mol, viscosities_pa_s, strict=True))
    for fraction, mass, viscosity in parts:
        if not fraction >= 0.0:
            raise ValueError(f"the fraction of a gas is zero or more, not {fraction:g}")
        if not (mass > 0.0 and viscosity > 0.0):
            raise ValueError(f"a molar mass and a viscosity are above zero, not {mass:g} and {viscosity:g}")
    total = math.fsum(mole_fractions)
    if not abs(total - 1.0) <= SUM_SLACK:
        raise ValueError(f"the fractions of a gas add up to 1, not {total:.7g}")
    return math.fsum(
        fraction * viscosity / math.fsum(other * _shielding(mass, viscosity, *seen) for other, *seen in parts)
        for fraction, mass, viscosity in parts
    )


def _shielding(mass: float, viscosity: float, other_mass: float, other_viscosity: float) -> float:
    """Give how much another gas, over a gas itself, is in the way of its momentum [1]."""
    root = 1.0 + math.sqrt(viscosity / other_viscosity * math.sqrt(other_mass / mass))
    return root * root / math.sqrt(8.0 * (1.0 + mass / other_mass))
