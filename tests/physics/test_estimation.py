"""Correction by measurements: least squares of another library, cases worked by hand, and laws."""

import itertools
import math
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.estimation import condition, expansion_factor, misfit

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


# ---- readings that contradict each other are all less certain ----

CONTRADICTIONS = st.lists(
    st.tuples(st.floats(0.0, 100.0), st.floats(0.0, 10.0), st.floats(0.01, 2.0)), min_size=1, max_size=5
)
"""Each miss, what is uncertain of it apart from the reading, and the error of reading."""
Contradictions = list[tuple[float, float, float]]


def worst_of(contradictions: Contradictions, factor: float) -> float:
    return max(residual / math.hypot(other, factor * reading) for residual, other, reading in contradictions)


@given(contradictions=CONTRADICTIONS, believed=st.floats(0.1, 5.0))
def test_the_worst_contradiction_is_just_believed(contradictions: Contradictions, believed: float) -> None:
    """By hand: miss = believed * hypot(other, factor * reading), solved for the factor; the greatest of all counts."""
    factors = [
        math.sqrt(max((residual / believed) ** 2 - other**2, 0.0)) / reading
        for residual, other, reading in contradictions
    ]
    found = expansion_factor(lambda factor: worst_of(contradictions, factor), believed)
    assert found == pytest.approx(max(1.0, *factors), rel=1e-9)
    assert worst_of(contradictions, found) <= believed


@given(observations=OBSERVATIONS, believed=st.floats(0.2, 2.0))
def test_real_misfits_are_just_believed_too(observations: Observations, believed: float) -> None:
    """They fall by no simple law and may rise in between: the first power of two that is enough is not exceeded."""
    observed, residuals = split(observations)

    def worst(factor: float) -> float:
        wider = [
            {source: share * (factor if source.startswith("reading") else 1.0) for source, share in components.items()}
            for components in observed
        ]
        return max(
            abs(residual) / may for residual, may in (misfit(wider, residuals, number) for number in range(len(wider)))
        )

    found = expansion_factor(worst, believed)
    if worst(1.0) <= believed:
        assert found == 1.0
        return
    assert worst(found) == pytest.approx(believed, rel=1e-9)
    enough = next(2.0**power for power in itertools.count() if worst(2.0**power) <= believed)
    assert enough / 2.0 < found <= enough


@pytest.mark.parametrize("residual", [1.0, 1.0 + 1e-9, 1.5, 2.0, 3.0, 1e3, 1e6])
def test_few_rounds_are_enough(residual: float) -> None:
    """A tight spread of all else, so that the contradiction falls as one over the factor; also at the ends."""
    tried = []

    def worst(factor: float) -> float:
        tried.append(factor)
        return residual / factor

    assert expansion_factor(worst, 1.0) == pytest.approx(residual, rel=1e-11)
    assert len(tried) < 40


def test_a_jump_is_found_to_the_last_digit() -> None:
    """Beyond what is valid; it ends all the same, on the side that is believed."""
    found = expansion_factor(lambda factor: 2.0 if factor < 1.7 else 0.5, 1.0)
    assert found == 1.7


def test_what_no_factor_can_be_found_for_is_refused() -> None:
    for believed in (0.0, -1.0, math.inf, math.nan):
        with pytest.raises(ValueError, match="above zero"):
            expansion_factor(lambda factor: 1.0 / factor, believed)
    for found in (math.nan, math.inf):
        with pytest.raises(ValueError, match="finite number"):
            expansion_factor(lambda _, found=found: found, 1.0)
