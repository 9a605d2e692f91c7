"""From a mass of lead to the pieces that make it up."""

from functools import lru_cache
from math import ceil, floor, gcd
from typing import NamedTuple

from kitbuilder.units import convert

STEP_KG = 0.01
"""Pieces whose sizes differ by less than this are the same size."""


class Pieces(NamedTuple):
    """Pieces of lead."""

    mass_kg: float
    counts: tuple[tuple[float, int], ...]
    """Size of a piece [kg] and how many, the heaviest first."""


def is_cast_in_pounds(size_kg: float) -> bool:
    """Tell whether pounds make a rounder number of a piece than kilograms: quarters of a pound, but no 50 g."""
    twentieths, quarters = size_kg * 20, convert(size_kg, "lb", "mass") * 4
    return abs(twentieths - round(twentieths)) > 0.02 and abs(quarters - round(quarters)) < 0.05


def cast_on(size_kg: float) -> str:
    """Give what is cast on a piece, whatever the reader's units: "0.5 kg", or "2 lb" where that is rounder."""
    if is_cast_in_pounds(size_kg):
        return f"{convert(size_kg, 'lb', 'mass'):.3g} lb"
    return f"{size_kg:.3g} kg"


@lru_cache(maxsize=256)
def pieces_for(mass_kg: float, sizes_kg: tuple[float, ...]) -> Pieces:
    """Choose the least lead in whole pieces that is not less than a mass, in the fewest pieces.

    Args:
        mass_kg: Lead that is needed; none for less than nothing.
        sizes_kg: Available sizes, as many of each as wanted; at least one.
    """
    # Rounded down, so that pieces of an odd size are never counted for more than they weigh.
    # The addition keeps sizes that floats divide to just below a step: 0.29 kg gives 28.999... steps.
    true_size = {max(1, floor(size / STEP_KG + 1e-6)): size for size in sorted(sizes_kg, reverse=True)}
    unit = gcd(*true_size)
    sizes = [step // unit for step in sorted(true_size, reverse=True)]
    # Rounded before it is rounded up, so that the last bits of a float do not add a step.
    wanted = max(0, ceil(round(mass_kg / STEP_KG / unit, 6)))
    # The least lead that is enough is above what is wanted by less than the largest piece: the table ends there.
    fewest = [0] + [10**6] * (wanted + sizes[0])
    taken = [0] * len(fewest)
    for amount in range(1, len(fewest)):
        for size in sizes:
            if size <= amount and fewest[amount - size] + 1 < fewest[amount]:
                fewest[amount], taken[amount] = fewest[amount - size] + 1, size
    amount = next(amount for amount in range(wanted, len(fewest)) if fewest[amount] < 10**6)
    counts: dict[int, int] = {}
    while amount:
        counts[taken[amount]] = counts.get(taken[amount], 0) + 1
        amount -= taken[amount]
    made = tuple((true_size[size * unit], counts[size]) for size in sizes if size in counts)
    return Pieces(sum(size * count for size, count in made), made)
