"""How independent deviations add up."""

import math
from collections.abc import Iterable


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
