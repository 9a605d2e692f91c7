"""How independent deviations add up."""

import math
from collections.abc import Iterable
from typing import NamedTuple


def root_sum_square(values: Iterable[float]) -> float:
    """Give the spread of a sum from the deviations of its independent parts.

    Args:
        values: deviations of the parts, all in one unit, each already multiplied by its sensitivity, of either sign
            [any unit].

    Returns:
        The combined spread, never negative [the same unit]; 0 for no parts.

    Raises:
        ValueError: a deviation is not a number.

    Valid: parts that are independent of each other, and all stated at the same level of confidence. Parts that share
    a cause (two weighings on one wrong scale) add up linearly and must be added before they come here.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.2, equation (10).
    """
    combined = math.hypot(*values)
    if math.isnan(combined):
        raise ValueError("a deviation is a number; one of these is not")
    return combined


NORMAL_95 = 1.959964
"""Standard deviations to each side that hold 95 % of a normal distribution. JCGM 100:2008, table G.1."""


class Moments(NamedTuple):
    """The first four moments of a distribution."""

    mean: float
    """In the unit of the value."""
    deviation: float
    """Standard deviation, in the unit of the value."""
    skewness: float
    """Third central moment over the cube of the standard deviation [1]."""
    excess: float
    """Fourth central moment over the fourth power of the standard deviation, less 3 [1]."""


def moments_between(low: float, value: float, high: float) -> Moments:
    """Give the moments of what lies between two ends: half below the value, half above it, evenly on each side.

    Args:
        low: the lower end [any unit].
        value: the value that as many lie below as above, from low to high [the same unit].
        high: the upper end [the same unit].

    Returns:
        The moments; a deviation, skewness and excess of 0 where both ends are the value.

    Raises:
        ValueError: the value does not lie between the ends, or one of them is not a number.

    Valid: a range of which nothing is known but its ends and its middle value. With the value halfway it is the uniform
    distribution of JCGM 100:2008, 4.3.7: the deviation is the half-width over the root of 3.

    Source: integrals of the powers over both halves; JCGM 100:2008, 4.3.8, leaves the distribution of a lopsided range
    to whoever states it.
    """
    if not low <= value <= high:
        raise ValueError(f"a value lies between the ends of its range; {value} does not, from {low} to {high}")
    below, above = value - low, high - value
    if not below + above:
        return Moments(value, 0.0, 0.0, 0.0)
    first, second = (above - below) / 4, (above**2 + below**2) / 6
    third, fourth = (above**3 - below**3) / 8, (above**4 + below**4) / 10
    variance = second - first**2
    deviation = math.sqrt(variance)
    return Moments(
        value + first,
        deviation,
        (third - 3 * first * second + 2 * first**3) / deviation**3,
        (fourth - 4 * first * third + 6 * first**2 * second - 3 * first**4) / variance**2 - 3,
    )


def sides_95(combined: float, skewness: float, excess: float) -> tuple[float, float]:
    """Give how far 95 % of a sum reach to both sides of its mean, 2.5 % being left out at each end.

    Args:
        combined: 1.96 standard deviations of the sum, 0 or above [any unit].
        skewness: of the sum [1].
        excess: excess kurtosis of the sum, from -1.2, a single uniform part, to 0, a normal distribution [1].

    Returns:
        The distance to the lower end and that to the upper end, never negative [the unit of combined].

    Raises:
        ValueError: an argument is not a number, or the combined spread is below 0.

    Valid: sums of normal parts and of parts by `moments_between`. Parts that lie halfway in their ranges: 94.5 to 96 %
    lie inside (a simulation of sums of one to three parts). A single part that is as lopsided as 2 to 3: 97.5 %.

    Source: the expansion of quantiles in cumulants (Cornish and Fisher, Revue de l'Institut International de
    Statistique 5 (1938) 307, from memory), whose term in the skewness and first term in the excess are used. It fails
    near a uniform distribution; the terms in the square and the cube of the excess are set so that it is exact for one
    uniform part (0.95 of its half-width) and for two equal ones (2 less the root of 0.2, of the half-width of one).
    """
    if not combined >= 0 or math.isnan(skewness + excess):
        raise ValueError("a combined spread is 0 or above, skewness and excess are numbers; one of these is not so")
    deviation = combined / NORMAL_95
    factor = NORMAL_95 + excess * (0.0688 + excess * (0.0687 + excess * 0.1918))
    lean = skewness * (NORMAL_95**2 - 1) / 6
    return max((factor - lean) * deviation, 0.0), max((factor + lean) * deviation, 0.0)
