"""Correction by measurements: least squares of another library, cases worked by hand, and laws."""

import itertools
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.estimation import condition, condition_by, credit, evidence_with_slips, misfit

Shares = dict[str, float]
SOURCES = ("suit", "lead", "hoses", "cylinder")
SHARES = st.fixed_dictionaries({source: st.floats(-3.0, 3.0) for source in SOURCES})
MISSES = st.floats(-5.0, 5.0)
OBSERVATIONS = st.lists(st.tuples(SHARES, st.floats(0.1, 2.0), MISSES), min_size=1, max_size=6)
Observations = list[tuple[Shares, float, float]]
"""Shares without reading, error of reading, miss."""


def split(observations: Observations) -> tuple[list[Shares], list[float]]:
    """Observations as the functions want them: the error of reading is a source of its own."""
    observed = [
        {**components, f"reading {number}": error} for number, (components, error, _) in enumerate(observations)
    ]
    return observed, [residual for _, _, residual in observations]


def spread(components: Shares) -> float:
    return math.hypot(*components.values())


@given(target=SHARES, observations=OBSERVATIONS)
def test_it_agrees_with_least_squares_over_prior_and_observations(target: Shares, observations: Observations) -> None:
    """Source: numpy's least squares of the unknowns themselves: rows u = 0, and rows of observations over their error.

    The figure's correction is its shares times the solution, its variance follows from the inverse of the normal
    equations: another way to the same answer, which never forms the covariance of the observations.
    """
    errors = np.array([error for _, error, _ in observations])
    known = (
        np.array([[components[source] for source in SOURCES] for components, _, _ in observations]) / errors[:, None]
    )
    residuals = np.array([residual for _, _, residual in observations]) / errors
    system: Any = np.vstack([np.eye(len(SOURCES)), known])
    unknowns = np.linalg.lstsq(system, np.concatenate([np.zeros(len(SOURCES)), residuals]), rcond=None)[0]
    wanted = np.array([target[source] for source in SOURCES])
    variance = wanted @ np.linalg.inv(system.T @ system) @ wanted
    correction, remaining = condition(target, *split(observations))
    assert correction == pytest.approx(float(wanted @ unknowns), abs=1e-7)
    assert spread(remaining) == pytest.approx(math.sqrt(variance), abs=1e-6)


def test_one_weighing_and_what_was_known_before() -> None:
    """By hand: spread 3 before, reading 4: the miss counts for 9 of 25, and 3 * 4 / 5 = 2.4 remains."""
    correction, remaining = condition({"lead": 3.0}, [{"lead": 3.0, "scale": 4.0}], [1.0])
    assert correction == pytest.approx(9.0 / 25.0)
    assert spread(remaining) == pytest.approx(2.4)
    assert remaining == pytest.approx({"lead": 3.0 * 16.0 / 25.0, "scale": -4.0 * 9.0 / 25.0})


def test_many_equal_weighings_average() -> None:
    """Source: JCGM 100:2008, 4.2.3: nothing known before, the mean of n readings has their spread over root n."""
    readings = [9.0, 10.0, 11.0, 14.0]
    observed = [{"lead": 1e4, f"reading {number}": 0.2} for number in range(4)]
    correction, remaining = condition({"lead": 1e4}, observed, readings)
    assert correction == pytest.approx(11.0, abs=1e-6)
    assert spread(remaining) == pytest.approx(0.2 / math.sqrt(4.0), rel=1e-3)


def test_a_scale_that_reads_wrong_every_time_does_not_average() -> None:
    """By hand: the part that all weighings share stays, however often one weighs; the rest goes down as root n."""
    observed = [{"lead": 1e4, "scale": 0.3, f"reading {number}": 0.4} for number in range(16)]
    _, remaining = condition({"lead": 1e4}, observed, [1.0] * 16)
    assert spread(remaining) == pytest.approx(math.hypot(0.3, 0.4 / 4.0), rel=1e-3)


def test_without_observations_all_stays_as_it_was() -> None:
    """Nothing seen, nothing learnt."""
    assert condition({"lead": 0.3, "suit": 1.2}, [], []) == (0.0, {"lead": 0.3, "suit": 1.2})


@given(target=SHARES.filter(lambda components: spread(components) > 0.01), residual=MISSES)
def test_the_figure_itself_read_without_error_has_no_spread_left(target: Shares, residual: float) -> None:
    """It is what was measured."""
    correction, remaining = condition(target, [target], [residual])
    assert correction == pytest.approx(residual, abs=1e-9)
    assert spread(remaining) <= 1e-11


@given(target=SHARES, observations=OBSERVATIONS)
def test_more_observations_never_widen(target: Shares, observations: Observations) -> None:
    """One can leave a measurement aside, so having it can't hurt."""
    observed, residuals = split(observations)
    spreads = [spread(condition(target, observed[:count], residuals[:count])[1]) for count in range(len(observed) + 1)]
    assert spreads[0] == pytest.approx(spread(target), abs=1e-9)
    assert all(later <= earlier + 1e-7 for earlier, later in itertools.pairwise(spreads))


@given(target=SHARES, observations=OBSERVATIONS)
def test_what_remains_has_nothing_in_common_with_what_was_seen(target: Shares, observations: Observations) -> None:
    """Source: principle of orthogonality: else the observations would still tell something."""
    observed, residuals = split(observations)
    _, remaining = condition(target, observed, residuals)
    for components in observed:
        common = math.fsum(share * remaining.get(source, 0.0) for source, share in components.items())
        assert common == pytest.approx(0.0, abs=1e-8)


@given(target=SHARES, observations=OBSERVATIONS)
def test_the_order_of_observations_does_not_matter(target: Shares, observations: Observations) -> None:
    """Nor of what is weighed first."""
    observed, residuals = split(observations)
    correction, remaining = condition(target, observed, residuals)
    turned, remaining_turned = condition(target, observed[::-1], residuals[::-1])
    assert turned == pytest.approx(correction, abs=1e-7)
    assert spread(remaining_turned) == pytest.approx(spread(remaining), abs=1e-7)


@given(target=SHARES, observations=OBSERVATIONS, factor=st.floats(0.1, 10.0))
def test_units_do_not_matter(target: Shares, observations: Observations, factor: float) -> None:
    """A figure in another unit gets its correction in that unit; an observation in another unit tells the same."""
    observed, residuals = split(observations)
    correction, remaining = condition(target, observed, residuals)
    in_another_unit = {source: factor * share for source, share in target.items()}
    scaled, scaled_remaining = condition(in_another_unit, observed, residuals)
    assert scaled == pytest.approx(factor * correction, abs=1e-7)
    assert spread(scaled_remaining) == pytest.approx(factor * spread(remaining), abs=1e-6)
    observed[0] = {source: factor * share for source, share in observed[0].items()}
    same, same_remaining = condition(target, observed, [factor * residuals[0], *residuals[1:]])
    assert same == pytest.approx(correction, abs=1e-7)
    assert spread(same_remaining) == pytest.approx(spread(remaining), abs=1e-6)


def test_fifty_weighings_are_not_too_many() -> None:
    """By hand: fifty items weighed each by itself, and the sum of them wanted."""
    observed = [{f"item {number}": 3.0, f"reading {number}": 4.0} for number in range(50)]
    correction, remaining = condition({f"item {number}": 3.0 for number in range(50)}, observed, [1.0] * 50)
    assert correction == pytest.approx(50.0 * 9.0 / 25.0)
    assert spread(remaining) == pytest.approx(2.4 * math.sqrt(50.0))


def test_a_weighing_that_disagrees_with_the_others_shows() -> None:
    """By hand: two agree on 1 with readings of 0.1; the third says 3, so it misses the mean of the two by 2."""
    observed = [{"lead": 1e3, f"reading {number}": 0.1} for number in range(3)]
    left, expected_spread = misfit(observed, [1.0, 1.0, 3.0], 2)
    assert left == pytest.approx(2.0, abs=1e-6)
    assert expected_spread == pytest.approx(math.hypot(0.1, 0.1 / math.sqrt(2.0)), rel=1e-3)


def test_the_only_observation_is_judged_by_what_was_known_before() -> None:
    """There are no others to learn from."""
    assert misfit([{"lead": 0.3, "scale": 0.4}], [0.7], 0) == (0.7, pytest.approx(0.5))


@given(observations=OBSERVATIONS)
def test_misfits_are_the_residuals_of_the_whole_over_their_leverage(observations: Observations) -> None:
    """Source: leave-one-out identity, textbook: (C^-1 miss)_j over (C^-1)_jj; its spread is 1 over the root of that."""
    observed, residuals = split(observations)
    names = sorted({source for components in observed for source in components})
    table = np.array([[components.get(name, 0.0) for name in names] for components in observed])
    inverse = np.linalg.inv(table @ table.T)
    for number in range(len(observed)):
        left, left_spread = misfit(observed, residuals, number)
        assert left == pytest.approx(float((inverse @ residuals)[number] / inverse[number, number]), abs=1e-6)
        assert left_spread == pytest.approx(1.0 / math.sqrt(inverse[number, number]), abs=1e-6)


@pytest.mark.parametrize(
    "observed",
    [[{}], [{"lead": 0.0}], [{"lead": 1.0}, {"lead": 2.0}], [{"lead": 1.0}, {"suit": 1.0}, {"lead": 1.0, "suit": 1.0}]],
    ids=["nothing to learn", "no share", "twice the same", "a sum already known"],
)
def test_an_observation_without_a_spread_of_its_own_is_refused(observed: list[Shares]) -> None:
    """It repeats the others or contradicts them, and no weight can be given to it."""
    with pytest.raises(ValueError, match=f"number {len(observed) - 1} has no spread of its own"):
        condition({"lead": 1.0}, observed, [0.1] * len(observed))


def test_what_does_not_fit_together_is_refused() -> None:
    """A residual without observation, a number that is none, an observation that is not there."""
    with pytest.raises(ValueError, match="one residual"):
        condition({"lead": 1.0}, [{"lead": 1.0}], [])
    for target, observed, residual in (
        ({"lead": math.nan}, {"lead": 1.0}, 0.1),
        ({"lead": 1.0}, {"lead": math.inf}, 0.1),
        ({"lead": 1.0}, {"lead": 1.0}, math.nan),
    ):
        with pytest.raises(ValueError, match="finite"):
            condition(target, [observed], [residual])
    for number in (-1, 1):
        with pytest.raises(ValueError, match="no observation number"):
            misfit([{"lead": 1.0}], [0.1], number)


# ---- readings of which some are slips ----

CHANCE = 0.1
"""The probability of a slip in these tests."""


def by_integration(prior: float, readings: list[float], slip: float, misses: list[float]) -> tuple[float, float]:
    """Mean and 1.96 standard deviations of one unknown, by summing over a fine grid of its values; nothing is linear.

    Each reading is the unknown and an error of two kinds, of which the density is written down as it stands.
    """
    grid = np.linspace(-6 * prior, 6 * prior, 40_001)
    density = np.exp(-0.5 * (1.96 * grid / prior) ** 2)
    for reading, miss in zip(readings, misses, strict=True):
        wide = math.hypot(reading, slip)
        error = 1.96 * (miss - grid)
        good, bad = (np.exp(-0.5 * (error / spread) ** 2) / spread for spread in (reading, wide))
        density = density * ((1 - CHANCE) * good + CHANCE * bad)
    density /= density.sum()
    mean = float((grid * density).sum())
    return mean, 1.96 * math.sqrt(float((((grid - mean) ** 2) * density).sum()))


def credited(prior: float, readings: list[float], slip: float, misses: list[float]) -> tuple[float, float]:
    """The same by `credit` and `evidence_with_slips`."""
    observed = [{"lead": prior}] * len(readings)
    worth = credit(observed, misses, readings, [slip] * len(readings), CHANCE)
    names = [f"reading {place}" for place in range(len(readings))]
    correction, remaining = condition_by({"lead": prior}, evidence_with_slips(observed, worth, names))
    return correction, spread(remaining)


@pytest.mark.parametrize(
    "misses",
    [
        [0.0],
        [1.0],
        [2.0],
        [3.0],
        [-4.0],
        [5.0],
        [-3.0, 3.0],
        [0.5, 0.6],
        [0.0, 2.0],
        [1.0, -1.0],
        [0.2, 0.1, 2.5],
        [0.0, 0.3, -0.2, 0.1],
    ],
)
def test_slips_count_as_in_the_sum_over_a_grid(misses: list[float]) -> None:
    """One, two and more readings of one unknown: agreeing, in doubt, and one of them off; some leave more than before.

    Source: Bayes' rule, summed over the unknown itself; no combination of slips is listed there.
    """
    prior, readings, slip = 3.0, [0.5] * len(misses), 5.0
    assert credited(prior, readings, slip, misses) == pytest.approx(
        by_integration(prior, readings, slip, misses), rel=2e-4, abs=1e-6
    )


def test_one_reading_that_agrees_leaves_room_for_a_slip_and_a_second_takes_it() -> None:
    """Prior 3, reading 0.5: a good reading would leave 0.49, and two would leave 0.35.

    By hand for the one: the slip has a probability of 0.1 * 3.04 / (0.9 * 5.85 + 0.1 * 3.04) = 0.055, and leaves
    3 * 5.02 / 5.85 = 2.57; the root of 0.945 * 0.49² + 0.055 * 2.57² is 0.77.
    """
    (_, alone), (_, both) = credited(3.0, [0.5], 5.0, [0.0]), credited(3.0, [0.5, 0.5], 5.0, [0.0, 0.0])
    assert alone == pytest.approx(0.77, abs=0.01)
    assert 0.35 < both < 0.40


def test_a_reading_that_cannot_be_is_hardly_adopted() -> None:
    """Off by ten times what was known before: a slip, and what was known before stays."""
    worth = credit([{"lead": 3.0}], [30.0], [0.5], [30.0], CHANCE)
    assert worth.slips == (pytest.approx(1.0, abs=1e-6),)
    correction, left = credited(3.0, [0.5], 30.0, [30.0])
    assert abs(correction) < 0.31
    assert left == pytest.approx(3.0, rel=0.01)


@given(target=SHARES, observations=OBSERVATIONS, slip=st.floats(0.0, 5.0))
def test_slips_of_many_unknowns_count_as_in_the_space_of_the_unknowns(
    target: Shares, observations: Observations, slip: float
) -> None:
    """Source: numpy, for each combination the normal equations of all unknowns, and the mixture of their answers."""
    names = sorted({*target, *(name for components, _, _ in observations for name in components)})
    wanted = np.array([target.get(name, 0.0) for name in names])
    table = np.array([[components.get(name, 0.0) for name in names] for components, _, _ in observations])
    errors = np.array([error for _, error, _ in observations])
    misses = np.array([residual for _, _, residual in observations])
    logs, means, variances = [], [], []
    for chosen in itertools.product((False, True), repeat=len(observations)):
        noise = errors**2 + np.where(chosen, slip**2, 0.0)
        information = np.eye(len(names)) + table.T @ (table / noise[:, None])
        unknowns = np.linalg.solve(information, table.T @ (misses / noise))
        covariance = np.diag(noise) + table @ table.T
        logs.append(
            sum(math.log(CHANCE if is_slip else 1 - CHANCE) for is_slip in chosen)
            - 0.5 * np.linalg.slogdet(covariance)[1]
            - 0.5 * 1.959964**2 * misses @ np.linalg.solve(covariance, misses)
        )
        means.append(float(wanted @ unknowns))
        variances.append(float(wanted @ np.linalg.solve(information, wanted)))
    weights = np.exp(np.array(logs) - max(logs))
    weights /= weights.sum()
    mean = float(weights @ means)
    variance = float(weights @ (np.array(variances) + 1.959964**2 * (np.array(means) - mean) ** 2))
    observed = [components for components, _, _ in observations]
    worth = credit(observed, list(misses), list(errors), [slip] * len(errors), CHANCE)
    readings = [f"reading of {place}" for place in range(len(errors))]
    correction, remaining = condition_by(target, evidence_with_slips(observed, worth, readings))
    assert correction == pytest.approx(mean, abs=1e-6)
    assert spread(remaining) == pytest.approx(math.sqrt(variance), abs=1e-6)
    assert all(0 <= chance <= 1 for chance in worth.slips)


def test_without_slips_a_reading_is_worth_what_it_was() -> None:
    """A slip of no size is a good reading."""
    worth = credit([{"lead": 3.0}, {"lead": 3.0}], [1.0, 1.5], [0.5, 0.4], [0.0, 0.0], CHANCE)
    assert worth.residuals == pytest.approx((1.0, 1.5))
    assert [pytest.approx(row, abs=1e-9) for row in worth.readings] == [(0.5,), (0.0, 0.4)]
    assert not any(any(row) for row in worth.doubts)


def test_of_twenty_readings_the_ones_that_are_far_off_are_slips() -> None:
    """Eighteen agree; ten slips at a time would be a million combinations."""
    misses = [0.1 * (-1) ** place for place in range(20)]
    misses[4], misses[11] = 3.0, -2.5
    worth = credit([{"lead": 3.0}] * 20, misses, [0.5] * 20, [5.0] * 20, CHANCE)
    assert [place for place, chance in enumerate(worth.slips) if chance > 0.5] == [4, 11]


def test_what_no_credit_can_be_given_for_is_refused() -> None:
    """Too few spreads, a probability that is none, a reading without a spread."""
    for readings, slips, chance, says in (
        ([], [5.0], 0.1, "spread of a good reading"),
        ([0.5], [5.0], 0.0, "between 0 and 1"),
        ([0.5], [5.0], 1.0, "between 0 and 1"),
        ([0.0], [5.0], 0.1, "above zero"),
        ([0.5], [-1.0], 0.1, "above zero"),
        ([0.5], [math.inf], 0.1, "above zero"),
    ):
        with pytest.raises(ValueError, match=says):
            credit([{"lead": 3.0}], [0.0], readings, slips, chance)
