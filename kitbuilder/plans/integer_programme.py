"""Integer programmes, by the solver HiGHS."""

from collections.abc import Sequence
from itertools import accumulate
from math import ceil, isfinite
from operator import mul
from time import monotonic
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from highspy import HighsLp

Constraint = tuple[list[tuple[int, float]], float, float]
"""Terms, each an unknown and its factor, and the least and the most that their sum may be."""
HALF = 0.5
"""Whole numbers come out of the solver as floats."""
ROUNDING = 1e-6
"""By how much the solver's bound may be off."""


class Search(NamedTuple):
    """How an integer programme is searched."""

    gap: int = 0
    """The search may stop once the sum of costs is within this of its bound."""
    start: Sequence[float] = ()
    """Unknowns to begin with, in which the rows hold; none by default."""
    real: frozenset[int] = frozenset()
    """Unknowns that need not be whole numbers; they have no cost."""


EXACT = Search()


def part_of(until: float, part: float) -> float:
    """Give until when a part of the time that is left lasts, on the monotonic clock [s]."""
    now = monotonic()
    return now + (until - now) * part


def minimise(
    costs: Sequence[float],
    rows: Sequence[Constraint],
    most: Sequence[float],
    until: float,
    search: Search = EXACT,
) -> tuple[Sequence[float], int] | None:
    """Find the unknowns in whole numbers with the least sum of costs, and a bound that the sum cannot be below.

    Args:
        costs: A whole number for each unknown.
        rows: What must hold.
        most: The most each unknown can be; the least is zero.
        until: When to stop, on the monotonic clock [s]; then it is the best found so far.
        search: Where to begin, how close to the best is enough, and which unknowns are no whole numbers.

    Returns:
        None when nothing was found in time, or when nothing fulfils the rows.
    """
    from highspy import HighsModelStatus, HighsSolution, SolutionStatus  # slow to import, and needed only here
    from highspy._core import _Highs

    left = until - monotonic()
    if left <= 0:
        return None
    # The public class writes a banner to the process's own stdout while it is set up, before it can be silenced.
    solver = _Highs()
    # A gap of zero: by default the solver may stop a little short of the best, which proves nothing.
    gaps = (("mip_rel_gap", 0.0), ("mip_abs_gap", float(search.gap) or ROUNDING))
    for option, value in (("output_flag", False), ("time_limit", left), *gaps):
        solver.setOptionValue(option, value)
    solver.passModel(_programme(costs, rows, most, search.real))
    if search.start:
        begun = HighsSolution()
        begun.col_value = list(search.start)
        solver.setSolution(begun)
    solver.run()
    info = solver.getInfo()
    if info.primal_solution_status != SolutionStatus.kSolutionStatusFeasible:
        return None
    values = list(solver.getSolution().col_value)
    if search.start and abs(sum(map(mul, costs, values)) - info.objective_function_value) > HALF:
        # HiGHS 1.16.0 now and then gives the start back, with the objective of the solution that it found.
        return minimise(costs, rows, most, until, search._replace(start=()))
    if solver.getModelStatus() == HighsModelStatus.kOptimal and not search.gap:
        return values, round(info.objective_function_value)
    bound, below = info.mip_dual_bound, sum(min(0.0, cost) * high for cost, high in zip(costs, most, strict=True))
    # Costs are whole numbers, so that a bound between two of them is as good as the upper one.
    return values, ceil(max(bound, below) - ROUNDING) if isfinite(bound) else round(below)


def _programme(
    costs: Sequence[float], rows: Sequence[Constraint], most: Sequence[float], real: frozenset[int]
) -> "HighsLp":
    """Write an integer programme as the solver takes it: its matrix row by row."""
    from highspy import HighsLp, HighsVarType, MatrixFormat

    programme = HighsLp()
    programme.num_col_, programme.num_row_ = len(costs), len(rows)
    programme.col_cost_, programme.col_lower_, programme.col_upper_ = list(costs), [0.0] * len(costs), list(most)
    programme.integrality_ = [
        HighsVarType.kContinuous if column in real else HighsVarType.kInteger for column in range(len(costs))
    ]
    programme.row_lower_, programme.row_upper_ = [low for _, low, _ in rows], [high for _, _, high in rows]
    matrix = programme.a_matrix_
    matrix.format_ = MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = len(costs), len(rows)
    matrix.start_ = [0, *accumulate(len(terms) for terms, _, _ in rows)]
    matrix.index_ = [column for terms, _, _ in rows for column, _ in terms]
    matrix.value_ = [factor for terms, _, _ in rows for _, factor in terms]
    return programme
