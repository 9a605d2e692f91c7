"""The rows that stand for a limit at 95 %: true for every packing, exact for the one that they are made for."""

from itertools import product
from math import inf, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure
from kitbuilder.plans.packing.margins import MassLimit, load_of, shared_sources
from tests.laws import tried
from tests.plans.packing_cases import DEVIATIONS_95, ONE_SIDED

SPREADS = st.floats(-2.0, 2.0)
SOURCES = st.dictionaries(st.sampled_from(["own", "scale", "fabric"]), SPREADS, max_size=3)


@st.composite
def limits(draw: st.DrawFn) -> tuple[MassLimit, list[Figure]]:
    """Two to five masses with sources of their own and shared ones; the last is the empty bag."""
    figures = [
        Figure(
            draw(st.floats(0.0, 5.0)),
            {f"own {number}" if source == "own" else source: part for source, part in draw(SOURCES).items()},
            "",
        )
        for number in range(draw(st.integers(2, 5)))
    ]
    shared = shared_sources([figure] for figure in figures)
    loads = {number: load_of(figure, shared, 0.95) for number, figure in enumerate(figures)}
    return MassLimit(loads, 10.0, len(figures) - 1, "bag"), figures


def at_95(figures: list[Figure], packing: tuple[float, ...]) -> float:
    """Mean and 1.645 deviations, from the covariance by sources."""
    packed = [figure for figure, value in zip(figures, packing, strict=True) if value]
    sources = {source for figure in packed for source in figure.components}
    sums = (sum(figure.components.get(source, 0.0) for figure in packed) / DEVIATIONS_95 for source in sources)
    return sum(figure.value for figure in packed) + ONE_SIDED * sqrt(sum(each**2 for each in sums))


def packings(size: int) -> list[tuple[float, ...]]:
    """With the bag taken along."""
    return [(*items, 1.0) for items in product((0.0, 1.0), repeat=size - 1)]


def left_side(row, packing) -> float:
    """What a row says that a packing weighs: its limit is 10 kg times the bag."""
    terms, low, high = row
    assert (low, high) == (-inf, 0.0)
    return sum(factor * packing[unknown] for unknown, factor in terms) + 10.0


@tried(30)
@given(limits())
def test_a_cut_is_true_for_all_packings_and_exact_for_its_own(drawn):
    limit, figures = drawn
    for made_for in packings(len(figures)):
        row = limit.cut(made_for)
        assert left_side(row, made_for) == pytest.approx(at_95(figures, made_for), abs=1e-9)
        for packing in packings(len(figures)):
            assert left_side(row, packing) <= at_95(figures, packing) + 1e-9


@tried(30)
@given(limits())
def test_a_tangent_is_exact_for_its_own_packing(drawn):
    limit, figures = drawn
    for made_for in packings(len(figures)):
        if at_95(figures, made_for) > sum(f.value for f, value in zip(figures, made_for, strict=True) if value) + 1e-6:
            assert left_side(limit.tangent(made_for), made_for) == pytest.approx(at_95(figures, made_for), abs=1e-6)


@tried(30)
@given(limits())
def test_a_limit_is_kept_if_95_percent_lie_below_it(drawn):
    limit, figures = drawn
    for packing in packings(len(figures)):
        assert limit.is_kept(packing) == (at_95(figures, packing) <= limit.most_kg + 1e-5)
