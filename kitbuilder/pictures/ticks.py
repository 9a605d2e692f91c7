"""Round numbers at the axes of a plot: where they stand, and which number stands there."""

from collections.abc import Sequence
from itertools import count
from math import ceil, floor
from typing import NamedTuple

MOST_STEPS = 6
"""Round steps between the ends of an axis, at most."""


class RoundTick(NamedTuple):
    """A round number on an axis."""

    place: float
    """In SI."""
    number: int
    """What it is in the unit that is shown."""


def round_ticks(values: Sequence[float], unit: float) -> tuple[RoundTick, ...]:
    """Give round numbers at even steps, zero among them, that enclose all values, in ascending order.

    Args:
        values: What is drawn, in SI.
        unit: The size in SI of the unit that is shown.
    """
    low, high = min(0.0, *values) / unit, max(0.0, *values) / unit
    steps = (digit * 10**power for power in count() for digit in (1, 2, 5))
    step = next(step for step in steps if (high - low) / step <= MOST_STEPS)
    # A hair outwards, so that no value is drawn on the edge.
    bottom, top = floor(low / step - 1e-9), max(ceil(high / step + 1e-9), 1)
    return tuple(RoundTick(number * unit, number) for number in range(bottom * step, top * step + 1, step))


def round_middle(first: float, last: float, step: float) -> float | None:
    """Give a multiple of a step near the middle of an axis; None on an axis that is too short for one."""
    middle = round((first + last) / 2 / step) * step
    return middle if min(first, last) < middle < max(first, last) else None
