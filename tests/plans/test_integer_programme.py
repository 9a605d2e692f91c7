"""Integer programmes: against all whole numbers tried one by one, and against another interface to a solver."""

import json
import random
import subprocess
import sys
from collections.abc import Sequence
from itertools import product
from pathlib import Path
from time import monotonic

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from kitbuilder.plans.integer_programme import Constraint, Search, minimise

CONFIGS = Path(__file__).parents[2] / "configs"
NONE = float("inf")
A_MINUTE_S = 60.0

LIMITS = st.one_of(
    st.tuples(st.just(-NONE), st.integers(-4, 8)),
    st.tuples(st.integers(-4, 8), st.just(NONE)),
    st.integers(-4, 8).map(lambda value: (value, value)),
)


@st.composite
def programmes(draw: st.DrawFn) -> tuple[list[float], list[Constraint], list[float]]:
    """One to four unknowns, none to four rows, with factors and costs that may be negative."""
    size = draw(st.integers(1, 4))
    costs = draw(st.lists(st.integers(-5, 5), min_size=size, max_size=size))
    most = draw(st.lists(st.integers(0, 3), min_size=size, max_size=size))
    rows = []
    for _ in range(draw(st.integers(0, 4))):
        factors = draw(st.lists(st.integers(-3, 3), min_size=size, max_size=size))
        low, high = draw(LIMITS)
        rows.append(([(place, float(factor)) for place, factor in enumerate(factors) if factor], low, high))
    return [float(cost) for cost in costs], rows, [float(each) for each in most]


def total(terms: Sequence[tuple[int, float]], values: Sequence[float]) -> float:
    return sum(factor * values[place] for place, factor in terms)


def is_allowed(rows: list[Constraint], values: Sequence[float]) -> bool:
    return all(low <= total(terms, values) <= high for terms, low, high in rows)


def least_by_trying(costs: list[float], rows: list[Constraint], most: list[float]) -> float | None:
    boxes = (range(int(high) + 1) for high in most)
    return min(
        (total(list(enumerate(costs)), values) for values in product(*boxes) if is_allowed(rows, values)), default=None
    )


def least_by_scipy(
    costs: list[float], rows: list[Constraint], most: list[float], real: frozenset[int] = frozenset()
) -> float | None:
    matrix = np.zeros((len(rows), len(costs)))
    for number, (terms, _, _) in enumerate(rows):
        for place, factor in terms:
            matrix[number, place] = factor
    limits = LinearConstraint(matrix, [low for _, low, _ in rows], [high for _, _, high in rows]) if rows else ()
    whole = np.array([place not in real for place in range(len(costs))])
    found = milp(costs, integrality=whole, bounds=Bounds(0, most), constraints=limits)
    return None if found.x is None else round(found.fun)


@settings(deadline=None)
@given(programmes())
@example(([1.0, 0.0, 0.0], [([(0, 1.0), (1, 2.0), (2, 2.0)], 1, 1)], [2.0, 0.0, 0.0]))
def test_the_least_is_the_least(programme: tuple[list[float], list[Constraint], list[float]]) -> None:
    """Source: every whole number within the limits, tried; and scipy.optimize.milp. The bound proves it."""
    costs, rows, most = programme
    by_trying = least_by_trying(costs, rows, most)
    assert least_by_scipy(costs, rows, most) == by_trying
    found = minimise(costs, rows, most, monotonic() + A_MINUTE_S)
    if by_trying is None:
        assert found is None
        return
    assert found is not None
    values = [round(value) for value in found[0]]
    assert is_allowed(rows, values)
    assert all(0 <= value <= high for value, high in zip(values, most, strict=True))
    assert total(list(enumerate(costs)), values) == found[1] == by_trying


def test_no_time_finds_nothing() -> None:
    assert minimise([1.0], [], [1.0], monotonic() - 1) is None


@pytest.mark.parametrize("seconds", [0.01, 0.3])
def test_a_search_that_is_stopped_has_a_true_bound(seconds: float) -> None:
    """Thirty numbers split into two given sums, four times at once: hard to find, and what is missed is made least.

    A split that misses nothing is planted, so the least is zero; what is found in time is allowed, and the bound is
    not above zero.
    """
    draw, size, sums = random.Random(3), 30, 4
    planted = [draw.randint(0, 1) for _ in range(size)]
    rows: list[Constraint] = []
    for number in range(sums):
        factors = [(place, float(draw.randint(1, 99))) for place in range(size)]
        goal = total(factors, planted)
        over, under = size + 2 * number, size + 2 * number + 1
        rows.append(([*factors, (over, 1.0), (under, -1.0)], goal, goal))
    costs, most = [0.0] * size + [1.0] * 2 * sums, [1.0] * size + [9999.0] * 2 * sums
    found = minimise(costs, rows, most, monotonic() + seconds)
    if found is None:
        return
    values = [round(value) for value in found[0]]
    assert is_allowed(rows, values)
    assert found[1] <= 0 <= total(list(enumerate(costs)), values)


@pytest.mark.parametrize("words", [("changeover",), ("fewest",)])
def test_the_solver_writes_nothing_of_its_own(words: tuple[str, ...]) -> None:
    """A process of its own: the solver writes past the interpreter, where nothing else would catch it."""
    kits = [str(CONFIGS / name) for name in ("twinset.toml", "sidemount.toml")]
    command = [sys.executable, "-m", "kitbuilder", *words, *kits]
    as_json = subprocess.run([*command, "--json"], capture_output=True, text=True, check=False)
    assert as_json.stdout[0] in "{["
    assert json.loads(as_json.stdout)
    as_text = subprocess.run(command, capture_output=True, text=True, check=False)
    assert "HiGHS" not in as_json.stderr + as_text.stdout + as_text.stderr
    assert "Copyright" not in as_text.stdout


@settings(deadline=None, max_examples=40)
@given(programmes(), st.integers(0, 3))
def test_a_start_and_a_gap_change_the_way_and_not_the_answer(
    programme: tuple[list[float], list[Constraint], list[float]], gap: int
) -> None:
    """The start is a solution that some other cost would choose. Source: every whole number tried."""
    costs, rows, most = programme
    begun = minimise([-cost for cost in costs], rows, most, monotonic() + A_MINUTE_S)
    if begun is None:
        return
    least = least_by_trying(costs, rows, most)
    values, bound = minimise(costs, rows, most, monotonic() + A_MINUTE_S, Search(gap, begun[0])) or ([], 0)
    assert is_allowed(rows, [round(value) for value in values])
    assert bound <= least <= total(list(enumerate(costs)), [round(value) for value in values]) <= bound + gap


@settings(deadline=None, max_examples=40)
@given(programmes(), st.sets(st.integers(0, 3)))
def test_unknowns_that_may_be_divided_are(
    programme: tuple[list[float], list[Constraint], list[float]], divided: set[int]
) -> None:
    """Source: scipy.optimize.milp, with the same unknowns real. The costs of those are zero, as is asked for."""
    costs, rows, most = programme
    real = frozenset(divided & {*range(len(costs))})
    costs = [0.0 if place in real else cost for place, cost in enumerate(costs)]
    by_scipy = least_by_scipy(costs, rows, most, real)
    found = minimise(costs, rows, most, monotonic() + A_MINUTE_S, Search(real=real))
    assert (None if found is None else found[1]) == by_scipy
