"""How independent spreads add up."""

import math
from collections.abc import Iterable


def root_sum_square(values: Iterable[float]) -> float:
    """Give the spread of a sum from the spreads of its independent parts.

    Args:
        values: spreads of the parts, all in one unit, each already multiplied by its sensitivity [any unit].

    Returns:
        The combined spread [the same unit]; 0 for no parts.

    Raises:
        ValueError: a spread is negative or not a number.

    Valid: parts that are independent of each other, and all stated at the same level of confidence. Parts that share
    a cause (two weighings on one wrong scale) add up linearly and must be added before they come here.

    Source: JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.2, equation (10).
    """
    parts = tuple(values)
    combined = math.hypot(*parts)
    if parts and not (min(parts) >= 0.0 and combined >= 0.0):
        raise ValueError(f"a spread is zero or more, not {parts}")
    return combined
