"""Correct a computed figure by measurements that share its sources of error.

A figure is known as value + sum of share * u, one share for every source of error, where every u is an independent
unknown of unit spread. A measurement of another figure misses its prediction because of the same unknowns, and so
tells something about this one: a weighing of the whole kit corrects the parts it contains.
"""

import math
from collections.abc import Callable, Mapping, Sequence

NEGLIGIBLE = 1e-12
"""A share below this is rounding; so is a pivot below this part of its variance."""

AS_BELIEVED = 1e-12
"""A contradiction that is less than what is believed by no more than this part of it is as large."""


def condition(
    target: Mapping[str, float], observed: Sequence[Mapping[str, float]], residuals: Sequence[float]
) -> tuple[float, dict[str, float]]:
    """Give what measurements tell about a figure: what to add to it, and what stays uncertain.

    Args:
        target: shares of the figure by source of error [unit of the figure].
        observed: shares of the prediction of every observation by source; the error of reading the instrument is one
            more source, under a name of its own unless readings share it [unit of that observation].
        residuals: measured less predicted, in the same order [unit of that observation].

    Returns:
        What to add to the figure, and its remaining shares by source, without those below 1e-12; their root sum of
        squares is the remaining spread [unit of the figure].

    Raises:
        ValueError: not as many residuals as observations, a value that is not finite, or an observation
            without a spread of its own, so that it repeats or contradicts others.

    Valid: shares that are small enough for the figures to be linear in the unknowns; all stated at the same level of
    confidence. Best among linear corrections; the best of all if the unknowns are normally distributed.

    Source: generalised least squares with prior knowledge (Gauss-Markov): On least squares and linear combination of
    observations, Proceedings of the Royal Society of Edinburgh 55 (1936), from memory; correlated quantities as in
    JCGM 100:2008, F.1.2, from memory.
    """
    _require_sound(target, observed, residuals)
    factor = _cholesky([[_common(one, other) for other in observed] for one in observed])
    gains = _solved(factor, [_common(target, one) for one in observed])
    correction = math.fsum(gain * residual for gain, residual in zip(gains, residuals, strict=True))
    return correction, _remaining(target, observed, gains)


def misfit(observed: Sequence[Mapping[str, float]], residuals: Sequence[float], number: int) -> tuple[float, float]:
    """Give by how much one observation misses what all the others lead to expect, and the spread to judge that by.

    Args:
        observed: shares of the prediction of every observation by source, as in `condition` [unit of that observation].
        residuals: measured less predicted, in the same order [unit of that observation].
        number: which observation to leave out, counted from 0 [1].

    Returns:
        The residual that is left once the others are taken into account, and its spread [unit of that observation].

    Raises:
        ValueError: as `condition`, or no observation of that number.

    Valid: as `condition`. A residual of more than about three spreads is a slip or an unknown source of error.

    Source: `condition`, applied to the prediction of the observation left out.
    """
    _require_sound({}, observed, residuals)
    if not 0 <= number < len(observed):
        raise ValueError(f"there is no observation number {number} among {len(observed)}")
    others = [components for index, components in enumerate(observed) if index != number]
    other_residuals = [residual for index, residual in enumerate(residuals) if index != number]
    expected, remaining = condition(observed[number], others, other_residuals)
    return residuals[number] - expected, math.hypot(*remaining.values())


def expansion_factor(worst: Callable[[float], float], believed: float) -> float:
    """Give how many times less certain all readings must be for the worst contradiction to be believed.

    Args:
        worst: the greatest of all residuals over their spreads, when all readings are so many times less certain [1].
        believed: how many spreads a residual may have [1].

    Returns:
        The factor, 1 when nothing contradicts; with it the worst contradiction is what is believed, or less by at
        most 1e-12 of it [1].

    Raises:
        ValueError: believed is not above zero, or the worst contradiction is not a finite number.

    Valid: contradictions that vanish as the factor grows, without a jump. If they rise in between, the factor lies
        below the first power of two that is enough.

    Source: the widening is that of the tables of physical constants (CODATA 2018, expansion factor), from memory; the
    root by false position in its Illinois variant (BIT 11, 1971, page 168), from memory.
    """
    if not 0 < believed < math.inf:
        raise ValueError(f"believed is above zero and finite, not {believed}")

    def excess(factor: float) -> float:
        found = worst(factor)
        if not math.isfinite(found):
            raise ValueError(f"the worst contradiction at {factor} is a finite number, not {found}")
        return found - believed

    low = 1.0
    above = excess(low)
    if above <= 0:
        return low
    high = 2.0 * low
    while (below := excess(high)) > 0:
        low, above, high = high, below, 2.0 * high
    return _crossing(excess, (low, above), (high, below), AS_BELIEVED * believed)


def _crossing(
    function: Callable[[float], float], low_end: tuple[float, float], high_end: tuple[float, float], near: float
) -> float:
    """Find where a function crosses zero that is above zero at the low end and not at the high end."""
    (low, above), (high, below) = low_end, high_end
    weight_low, weight_high, last_moved = above, below, ""
    while below < -near:
        place = low + (high - low) * weight_low / (weight_low - weight_high)
        place = place if low < place < high else (low + high) / 2
        if not low < place < high:
            break  # the two ends are neighbours among floats
        value = function(place)
        # An end that stays twice gets half its weight, so that the next place lies on its side.
        if value > 0:
            weight_high /= 2 if last_moved == "low" else 1
            low, weight_low, last_moved = place, value, "low"
        else:
            weight_low /= 2 if last_moved == "high" else 1
            high, below, weight_high, last_moved = place, value, value, "high"
    # The high end: there the contradiction is believed, at the low one it is still too large.
    return high


def _common(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    """Give the covariance of two figures: what they owe to the same sources."""
    return math.fsum(share * other[source] for source, share in one.items() if source in other)


def _remaining(
    target: Mapping[str, float], observed: Sequence[Mapping[str, float]], gains: Sequence[float]
) -> dict[str, float]:
    remaining = dict(target)
    for components, gain in zip(observed, gains, strict=True):
        for source, share in components.items():
            remaining[source] = remaining.get(source, 0.0) - gain * share
    return {source: share for source, share in remaining.items() if abs(share) >= NEGLIGIBLE}


def _cholesky(variances: Sequence[Sequence[float]]) -> list[list[float]]:
    """Give the lower triangle which times its transpose is the matrix, row by row up to the diagonal."""
    factor: list[list[float]] = []
    for number, variance in enumerate(variances):
        row: list[float] = []
        for column, earlier in enumerate(factor):
            row.append((variance[column] - _product(row, earlier)) / earlier[column])
        pivot = variance[number] - _product(row, row)
        if not pivot > NEGLIGIBLE * variance[number]:
            raise ValueError(
                f"observation number {number} has no spread of its own: it is exact before it is measured, "
                "or repeats earlier ones; give it an error of reading"
            )
        factor.append([*row, math.sqrt(pivot)])
    return factor


def _solved(factor: Sequence[Sequence[float]], right_side: Sequence[float]) -> list[float]:
    """Solve by the triangle downwards, then by its transpose upwards."""
    down: list[float] = []
    for row, value in zip(factor, right_side, strict=True):
        down.append((value - _product(down, row)) / row[-1])
    solved = [0.0] * len(down)
    for index in reversed(range(len(down))):
        known = math.fsum(factor[later][index] * solved[later] for later in range(index + 1, len(down)))
        solved[index] = (down[index] - known) / factor[index][index]
    return solved


def _product(one: Sequence[float], other: Sequence[float]) -> float:
    """Give the product of two rows over the length of the shorter."""
    return math.fsum(left * right for left, right in zip(one, other, strict=False))


def _require_sound(
    target: Mapping[str, float], observed: Sequence[Mapping[str, float]], residuals: Sequence[float]
) -> None:
    if len(observed) != len(residuals):
        raise ValueError(
            f"every observation has one residual: {len(observed)} observations, {len(residuals)} residuals"
        )
    values = [*residuals, *target.values(), *(share for components in observed for share in components.values())]
    if not all(math.isfinite(value) for value in values):
        raise ValueError("a share or a residual is a finite number; one of these is not")
