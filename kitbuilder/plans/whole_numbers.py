"""Integer programmes, by the solver HiGHS that comes with scipy."""

from collections.abc import Sequence
from math import ceil, isfinite
from time import monotonic
from typing import Any

Row = tuple[list[tuple[int, float]], float, float]
"""Terms, each an unknown and its factor, and the least and the most that their sum may be."""
HALF = 0.5
"""Whole numbers come out of the solver as floats."""
ROUNDING = 1e-6
"""By how much the solver's bound may be off."""


def minimise(
    costs: Sequence[float], rows: Sequence[Row], most: Sequence[float], until: float
) -> tuple[Sequence[float], int] | None:
    """Unknowns in whole numbers with the least sum of costs, and below what that sum cannot come.

    Args:
        costs: A whole number for each unknown.
        rows: What must hold.
        most: The most each unknown can be; the least is nought.
        until: When to stop, on the monotonic clock [s]; then it is the best found so far.

    Returns:
        None when nothing was found in time.
    """
    import numpy as np  # slow to import, as scipy is, and needed only here
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import csr_array

    left = until - monotonic()
    if left <= 0:
        return None
    entries = [(row, column, value) for row, (terms, _, _) in enumerate(rows) for column, value in terms]
    row, column, value = (np.array(part) for part in zip(*entries, strict=True))
    matrix = csr_array((value, (row, column)), shape=(len(rows), len(costs)))
    limits = np.array([(low, high) for _, low, high in rows])
    found: Any = milp(
        np.array(costs),
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, np.array(most)),
        constraints=LinearConstraint(matrix, limits[:, 0], limits[:, 1]),
        options={"mip_rel_gap": 0.0, "time_limit": left},
    )
    if found.x is None:
        return None
    if found.status == 0:
        return found.x, round(found.fun)
    bound, below = found.mip_dual_bound, sum(min(0.0, cost) * high for cost, high in zip(costs, most, strict=True))
    return found.x, ceil(max(bound, below) - ROUNDING) if isfinite(bound) else round(below)
