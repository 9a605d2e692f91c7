"""How far the density of a real gas may lie from the computed one, held against tables of other equations.

Tables: `gas_density.tsv` and `gas_helium_oxygen.tsv` beside the tests of physics (computed, CoolProp 8.0.0).
"""

import pytest

from kitbuilder.assess.gas.mixes import Mix, density_spread
from kitbuilder.physics.gas import gas_density
from tests.physics.published import ZERO_CELSIUS, Row, rows

BAR = 1e5
PUBLISHED = 0.001
"""Uncertainty of the equation of air as one fluid: J. Phys. Chem. Ref. Data 29 (2000) 331, abstract (found)."""
OF_AIR = [row for row in rows("gas_density.tsv") if row["gas"] == "air as one fluid"]
OF_PAIR = rows("gas_helium_oxygen.tsv")


def mix_of_row(row: Row) -> Mix:
    """The gas of a row, with its argon."""
    return Mix(*(float(row[part]) for part in ("nitrogen", "oxygen", "helium", "argon")))


def distance(row: Row, temperature_c: float) -> float:
    """How far the computed density lies from that of a row, as a part of it."""
    computed = gas_density(*mix_of_row(row), float(row["pressure_bar"]) * BAR, temperature_c + ZERO_CELSIUS)
    return abs(computed / float(row["density_kg_m3"]) - 1)


def test_air_is_as_near_to_its_published_equation_as_its_spread_says() -> None:
    """What lies between the two equations, and the published uncertainty of the one of air, both fit in the spread."""
    farthest = max(distance(row, float(row["temperature_c"])) for row in OF_AIR)
    assert farthest + PUBLISHED <= density_spread(mix_of_row(OF_AIR[0])) <= 1.2 * (farthest + PUBLISHED)


@pytest.mark.parametrize("gas", sorted({row["gas"] for row in OF_PAIR}))
def test_a_helium_mix_may_have_any_plausible_pair_of_helium_and_oxygen(gas: str) -> None:
    """The coefficient of that pair was never measured. Gases without helium add what they are off by themselves."""
    states = [row for row in OF_PAIR if row["gas"] == gas]
    without = density_spread(Mix(0.79, 0.21, 0.0, 0.0))
    assert max(distance(row, 20.0) for row in states) + without <= density_spread(mix_of_row(states[0]))


def test_the_spread_of_helium_is_no_wider_than_its_parts() -> None:
    """Up to half oxygen, the richest helium mix that is in use, the parts come to nine tenths of it."""
    farthest = max(distance(row, 20.0) for row in OF_PAIR)
    assert density_spread(Mix(0.37, 0.18, 0.45, 0.0)) <= 1.2 * (farthest + density_spread(Mix(0.79, 0.21, 0.0, 0.0)))


@pytest.mark.parametrize("part", [0.22, 0.32, 0.5, 1.0])
def test_nitrox_and_oxygen_are_known_as_air_is(part: float) -> None:
    """One equation of mixes gives them all; a step between air and nitrox 22 would be no fact."""
    assert density_spread(Mix(1.0 - part, part, 0.0, 0.0)) == density_spread(Mix(0.7812, 0.2096, 0.0, 0.0092))
