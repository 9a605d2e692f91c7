"""Correct a computed figure by measurements that share its sources of error.

A figure is known as value + sum of share * u, one share for every source of error, where every u is an independent
unknown of unit spread. A measurement of another figure misses its prediction because of the same unknowns, and so
tells something about this one: a weighing of the whole kit corrects the parts it contains.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from operator import mul
from typing import NamedTuple

NEGLIGIBLE = 1e-12
"""A share below this is rounding; so is a pivot below this part of its variance."""

DEVIATIONS = 1.959964
"""Standard deviations in a spread: 95 % of a normal distribution lie within."""

MOST_SUSPECTS = 6
"""Readings that may be slips at a time: six of them combine in 64 ways."""


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
    return condition_by(target, evidence_of(observed, residuals))


class Evidence(NamedTuple):
    """Observations made ready to correct figures; `condition_by` takes it, for each of many figures."""

    observed: tuple[Mapping[str, float], ...]
    """Shares of the prediction of every observation by source, reading too [unit of that observation]."""
    residuals: tuple[float, ...]
    """Measured less predicted, less what is taken for a slip [unit of that observation]."""
    factor: list[list[float]]
    """The triangle of their covariance, row by row up to the diagonal [the same]."""
    doubts: Mapping[str, tuple[float, ...]]
    """How far the answer moves with which readings are slips, by source, for each observation [one over that unit]."""


def evidence_of(observed: Sequence[Mapping[str, float]], residuals: Sequence[float]) -> Evidence:
    """Make observations ready that are all good.

    Args:
        observed: as in `condition` [unit of that observation].
        residuals: as in `condition` [unit of that observation].

    Returns:
        What `condition_by` needs to correct any figure.

    Raises:
        ValueError: as `condition`.

    Valid: as `condition`.

    Source: `condition`.
    """
    _require_sound(observed, residuals)
    return Evidence(tuple(observed), tuple(residuals), _cholesky(_shared(observed)), {})


def condition_by(target: Mapping[str, float], evidence: Evidence) -> tuple[float, dict[str, float]]:
    """Give what evidence tells about a figure: what to add to it, and what stays uncertain.

    Args:
        target: shares of the figure by source of error [unit of the figure].
        evidence: what `evidence_of` or `evidence_with_slips` gave [unit of its observations].

    Returns:
        What to add to the figure, and its remaining shares by source [unit of the figure]. With slips the remaining
        spread may be above the one before, where what was read contradicts it.

    Raises:
        ValueError: a share that is not finite.

    Valid: as `condition`.

    Source: `condition`; the variance of a mixture is the mean of its variances and their means' variance (textbook).
    """
    _require_finite(target.values())
    shared = [_common(target, one) for one in evidence.observed]
    gains = _solved(evidence.factor, shared)
    remaining = _remaining(target, evidence.observed, gains)
    for name, doubts in evidence.doubts.items():
        doubt = _product(shared, doubts)
        if abs(doubt) >= NEGLIGIBLE:
            remaining[name] = doubt
    return _product(gains, evidence.residuals), remaining


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
    _require_sound(observed, residuals)
    if not 0 <= number < len(observed):
        raise ValueError(f"there is no observation number {number} among {len(observed)}")
    others = [components for index, components in enumerate(observed) if index != number]
    other_residuals = [residual for index, residual in enumerate(residuals) if index != number]
    expected, remaining = condition(observed[number], others, other_residuals)
    return residuals[number] - expected, math.hypot(*remaining.values())


class Credit(NamedTuple):
    """What readings are worth of which some are slips; `evidence_with_slips` takes it."""

    residuals: tuple[float, ...]
    """Measured less predicted, less what is taken for a slip [unit of that observation]."""
    readings: tuple[tuple[float, ...], ...]
    """How far each reading may be off by as many independent sources, row by row up to its own [the same]."""
    doubts: tuple[tuple[float, ...], ...]
    """How far the answer moves with which readings are slips, by as many independent sources, for each observation
    [one over that unit]."""
    slips: tuple[float, ...]
    """The probability that each reading is a slip [1]."""


def credit(
    observed: Sequence[Mapping[str, float]],
    residuals: Sequence[float],
    readings: Sequence[float],
    slips: Sequence[float],
    probability: float,
) -> Credit:
    """Say what readings are worth of which some are slips, without knowing which.

    Each reading is a good one or, with the given probability, a slip, whose error is far larger. Every combination of
    good readings and slips leaves an answer of its own, and has a probability by how well it explains what was read.
    The answers together have a mean and a variance.

    Args:
        observed: shares of the prediction of every observation by source, without the error of reading [unit of that
            observation].
        residuals: measured less predicted, in the same order [unit of that observation].
        readings: spreads of good readings, in the same order, above zero [unit of that observation].
        slips: spreads of what a slip adds, in the same order [unit of that observation].
        probability: that a reading is a slip, above 0 and below 1 [1].

    Returns:
        What `evidence_with_slips` needs for that mean and that variance of any figure, and the probability that each
        reading is a slip.

    Raises:
        ValueError: not as many of each, a value that is not finite, a probability that is none.

    Valid: as `condition`, with shares and spreads of 1.96 standard deviations. Where more than six readings are given,
        only the six that are farthest off may be slips.

    Source: the model of two components is that of A survey of sampling from contaminated distributions (Contributions
    to Probability and Statistics, 1960, page 448), its probabilities those of A Bayesian approach to some outlier
    problems (Biometrika 55 (1968) 119); both from memory. The mean and the variance of a mixture: textbook.
    """
    _require_sound(observed, residuals)
    if not len(readings) == len(slips) == len(observed):
        raise ValueError("every observation has the spread of a good reading and that of a slip")
    if not 0 < probability < 1:
        raise ValueError(f"the probability of a slip lies between 0 and 1, not at {probability}")
    if not all(0 < reading < math.inf for reading in readings) or not all(0 <= slip < math.inf for slip in slips):
        raise ValueError("the spread of a reading is finite and above zero, that of a slip not below it")
    shared = _shared(observed)
    answers = _answers(_all_good(shared, residuals, readings, probability), slips, probability)
    logs = [answer.log_chance - _misfit_squared(answer, residuals) / 2 for answer in answers]
    explains = [(answer, math.exp(log - max(logs))) for answer, log in zip(answers, logs, strict=True)]
    likely = [(answer, chance) for answer, chance in explains if chance >= NEGLIGIBLE]
    whole = math.fsum(chance for _, chance in likely)
    return _merged(shared, [answer for answer, _ in likely], [chance / whole for _, chance in likely])


class _Answer(NamedTuple):
    """What one combination of good readings and slips makes of the observations."""

    slipped: frozenset[int]
    log_chance: float
    """Of the combination, and of its readings at no misfit."""
    inverse: list[list[float]]
    """Of the covariance of the observations."""
    pull: list[float]
    """The inverse times the residuals."""


def _all_good(
    shared: Sequence[Sequence[float]], residuals: Sequence[float], readings: Sequence[float], probability: float
) -> _Answer:
    variances = [
        [value + (readings[row] ** 2 if row == column else 0.0) for column, value in enumerate(values)]
        for row, values in enumerate(shared)
    ]
    factor = _cholesky(variances)
    log_chance = len(readings) * math.log(1.0 - probability) - math.fsum(math.log(row[-1]) for row in factor)
    return _Answer(frozenset(), log_chance, _inverse_of(factor), _solved(factor, residuals))


def _answers(good: _Answer, slips: Sequence[float], probability: float) -> list[_Answer]:
    """List the answers of all combinations in which any of the few readings that are farthest off are slips."""
    # The pull over the root of the diagonal is the misfit to all others over its spread: the leave-one-out identity.
    far_off = [abs(pull) / math.sqrt(good.inverse[place][place]) for place, pull in enumerate(good.pull)]
    suspects = sorted(range(len(far_off)), key=lambda place: -far_off[place])[:MOST_SUSPECTS]
    answers = [good]
    for place in suspects:
        answers += [_with_slip(answer, place, slips[place], probability) for answer in answers]
    return answers


def _with_slip(answer: _Answer, place: int, slip: float, probability: float) -> _Answer:
    """Give the answer when one reading more is a slip: an update of the inverse by one row (textbook)."""
    row = answer.inverse[place]
    grown = 1.0 + slip**2 * row[place]
    factor = slip**2 / grown
    log_chance = answer.log_chance + math.log(probability / (1.0 - probability)) - math.log(grown) / 2
    inverse = [
        [value - factor * row[one] * row[other] for other, value in enumerate(values)]
        for one, values in enumerate(answer.inverse)
    ]
    pull = [value - factor * row[one] * answer.pull[place] for one, value in enumerate(answer.pull)]
    return _Answer(answer.slipped | {place}, log_chance, inverse, pull)


def _misfit_squared(answer: _Answer, residuals: Sequence[float]) -> float:
    """Give how far the readings are off all together, in standard deviations, squared."""
    return DEVIATIONS**2 * _product(answer.pull, residuals)


def _merged(shared: Sequence[Sequence[float]], answers: Sequence[_Answer], weights: Sequence[float]) -> Credit:
    """Give the mean of all answers, the mean of what each leaves uncertain, and how far they lie apart."""
    places = range(len(shared))
    pull = [_mean(weights, [answer.pull[place] for answer in answers]) for place in places]
    known = _inverse(
        [[_mean(weights, [a.inverse[row][column] for a in answers]) for column in places] for row in places]
    )
    readings = [[known[row][column] - shared[row][column] for column in places] for row in places]
    apart = [[DEVIATIONS * (answer.pull[place] - pull[place]) for place in places] for answer in answers]
    between = [[_mean(weights, [one[row] * one[column] for one in apart]) for column in places] for row in places]
    return Credit(
        tuple(_product(row, pull) for row in known),
        tuple(map(tuple, _cholesky(readings))),
        tuple(map(tuple, _triangle(between))),
        tuple(_mean(weights, [float(place in answer.slipped) for answer in answers]) for place in places),
    )


def evidence_with_slips(observed: Sequence[Mapping[str, float]], worth: Credit, names: Sequence[str]) -> Evidence:
    """Make observations ready of which some are slips.

    Args:
        observed: shares of the prediction of every observation by source, as `credit` had them [unit of that one].
        worth: what `credit` gave for them [unit of those observations].
        names: a name for every observation, of the source that is its error of reading, which no figure has [text].

    Returns:
        What `condition_by` needs to correct any figure.

    Raises:
        ValueError: as `condition`.

    Valid: as `credit`.

    Source: `credit`.
    """
    read = [
        {**components, **dict(zip(names, row, strict=False))}
        for components, row in zip(observed, worth.readings, strict=True)
    ]
    columns = zip(*worth.doubts, strict=True)
    doubts = {f"{name}, slip or not": column for name, column in zip(names, columns, strict=True)}
    return evidence_of(read, worth.residuals)._replace(doubts=doubts)


def _inverse(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    return _inverse_of(_cholesky(matrix))


def _inverse_of(factor: Sequence[Sequence[float]]) -> list[list[float]]:
    """Give the inverse of the matrix of which this is the triangle."""
    size = len(factor)
    return [_solved(factor, [float(row == column) for row in range(size)]) for column in range(size)]


def _mean(weights: Sequence[float], values: Sequence[float]) -> float:
    return math.fsum(weight * value for weight, value in zip(weights, values, strict=True))


def _triangle(variances: Sequence[Sequence[float]]) -> list[list[float]]:
    """Give the lower triangle which times its transpose is the matrix, in full rows; sources of no size stay zero."""
    size = len(variances)
    least = NEGLIGIBLE * max((variances[place][place] for place in range(size)), default=0.0)
    factor = [[0.0] * size for _ in range(size)]
    for column in range(size):
        pivot = variances[column][column] - _product(factor[column][:column], factor[column][:column])
        if pivot <= least:
            continue
        factor[column][column] = math.sqrt(pivot)
        for row in range(column + 1, size):
            left = variances[row][column] - _product(factor[row][:column], factor[column][:column])
            factor[row][column] = left / factor[column][column]
    return factor


def _shared(observed: Sequence[Mapping[str, float]]) -> list[list[float]]:
    return [[_common(one, other) for other in observed] for one in observed]


def _common(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    """Give the covariance of two figures: what they owe to the same sources."""
    return math.fsum([share * other[source] for source, share in one.items() if source in other])


def _remaining(
    target: Mapping[str, float], observed: Sequence[Mapping[str, float]], gains: Sequence[float]
) -> dict[str, float]:
    remaining = dict(target)
    for components, gain in zip(observed, gains, strict=True):
        for source, share in components.items():
            remaining[source] = remaining.get(source, 0.0) - gain * share
    return {source: share for source, share in remaining.items() if share >= NEGLIGIBLE or share <= -NEGLIGIBLE}


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
    return math.fsum(map(mul, one, other))


def _require_sound(observed: Sequence[Mapping[str, float]], residuals: Sequence[float]) -> None:
    if len(observed) != len(residuals):
        raise ValueError(
            f"every observation has one residual: {len(observed)} observations, {len(residuals)} residuals"
        )
    for values in (residuals, *(components.values() for components in observed)):
        _require_finite(values)


def _require_finite(values: Iterable[float]) -> None:
    if not all(map(math.isfinite, values)):
        raise ValueError("a share or a residual is a finite number; one of these is not")
