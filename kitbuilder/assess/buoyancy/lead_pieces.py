"""From a mass of lead to the pieces that make it up."""

from functools import lru_cache
from math import ceil, floor, gcd
from typing import NamedTuple

from kitbuilder.assess.findings import ByUnits
from kitbuilder.catalogue import catalogue
from kitbuilder.units import POUND, convert

STEP_KG = 0.01
"""Pieces whose sizes differ by less than this are the same size."""
STEP_POUNDS_KG = POUND / 4
"""The same where all pieces are cast in pounds."""


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


class LeadToTake(NamedTuple):
    """The pieces of lead to take, for a reader of metric units and for one of pounds."""

    metric: Pieces
    imperial: Pieces

    @property
    def words(self) -> ByUnits:
        """The pieces by what is cast on them: "2 × 2 kg + 1 × 1 kg"."""
        return ByUnits(format_pieces(self.metric), format_pieces(self.imperial))


def lead_to_take(mass_kg: float, sizes_kg: tuple[float, ...] = ()) -> LeadToTake:
    """Choose the pieces of lead by `pieces_for`.

    Args:
        mass_kg: Lead that is needed; none for less than nothing.
        sizes_kg: Pieces that the diver has, whatever the units; the usual ones of the units where none is given.
    """
    usual = catalogue().lead_sizes
    return LeadToTake(*(pieces_for(mass_kg, sizes_kg or usual[units]) for units in ("metric", "imperial")))


def usual_sizes() -> ByUnits:
    """Name the pieces that are taken to be available where a diver file lists none."""
    metric, imperial = (", ".join(map(cast_on, sizes)) for sizes in catalogue().lead_sizes.values())
    return ByUnits(metric, imperial)


def format_pieces(pieces: Pieces) -> str:
    """Name the pieces by what is cast on them: "2 × 2 kg + 1 × 1 kg"."""
    return " + ".join(f"{count} × {cast_on(size)}" for size, count in pieces.counts) or "no lead"


@lru_cache(maxsize=256)
def pieces_for(mass_kg: float, sizes_kg: tuple[float, ...]) -> Pieces:
    """Choose the least lead in whole pieces that is not less than a mass, in the fewest pieces.

    Args:
        mass_kg: Lead that is needed; none for less than nothing.
        sizes_kg: Available sizes, as many of each as wanted; at least one.
    """
    # Pieces that are all in pounds are counted in quarters of a pound: a piece of 3 lb is three of 1 lb.
    in_pounds = all(map(is_cast_in_pounds, sizes_kg))
    step_kg, most_over = (STEP_POUNDS_KG, 0.5) if in_pounds else (STEP_KG, 1e-6)
    # Otherwise rounded down, so that pieces of an odd size are never counted for more than they weigh; the little
    # that is added keeps sizes that floats divide to just below a step: 0.29 kg gives 28.999... steps.
    true_size = {max(1, floor(size / step_kg + most_over)): size for size in sorted(sizes_kg, reverse=True)}
    unit = gcd(*true_size)
    sizes = [step // unit for step in sorted(true_size, reverse=True)]
    # Rounded before it is rounded up, so that the last bits of a float do not add a step.
    wanted = max(0, ceil(round(mass_kg / step_kg / unit, 6)))
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
