"""Sums and differences of figures whose deviations come from known sources.

Rules: JCGM 100:2008 (GUM), 5.1.2 for independent sources, 5.2.2 note 1 for the same source in both.
"""

from math import hypot, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure, count_sources, difference, sources_only_in, total, without_sources

VALUES = st.floats(-10, 10)
SHARES = st.dictionaries(st.sampled_from(["scale", "thickness", "water", "string"]), st.floats(-2, 2), max_size=4)
FIGURES = st.builds(Figure, VALUES, SHARES, st.just("an example"))


def figure(value: float, **components: float) -> Figure:
    return Figure(value, components, "an example")


def test_independent_sources_combine_by_root_sum_of_squares() -> None:
    """3 and 4 make 5."""
    assert total([figure(1, scale=3.0), figure(2, string=4.0)], "").spread == pytest.approx(5.0)


def test_a_common_source_adds_up_straight() -> None:
    """3 and 4 make 7: two hoses of one body are both heavy or both light."""
    both = total([figure(1, thickness=3.0), figure(2, thickness=4.0)], "sum")
    assert both == Figure(3, {"thickness": 7.0}, "sum")
    assert both.spread == pytest.approx(7.0)


def test_ten_equal_resistors() -> None:
    """JCGM 100:2008, 5.2.2, example: ten resistors calibrated against one standard, 100 mohm each, give 1 ohm."""
    assert total([figure(1000, standard=0.100)] * 10, "").spread == pytest.approx(1.0)
    apart = [Figure(1000, {f"standard {number}": 0.100}, "") for number in range(10)]
    assert total(apart, "").spread == pytest.approx(0.32, abs=0.005)


def test_shares_of_one_source_with_opposite_signs_cancel() -> None:
    """A thicker hose is heavier and displaces more."""
    assert total([figure(-1, thickness=-15.0), figure(1, thickness=12.0)], "").spread == pytest.approx(3.0)


def test_a_difference_keeps_only_what_is_not_common() -> None:
    """Two readings of one scale, which is 2 off in both; each string is off by itself."""
    found = difference(figure(10, scale=2.0, left=1.5), figure(7, scale=2.0, right=1.5), "change")
    assert found.value == 3
    assert found.spread == pytest.approx(1.5 * sqrt(2))
    assert found.origin == "change"


@given(one=FIGURES, other=FIGURES)
def test_a_sum_is_known_no_worse_than_its_parts_together_and_no_better_than_their_difference(
    one: Figure, other: Figure
) -> None:
    """The triangle inequality, to both sides."""
    spread = total([one, other], "").spread
    assert abs(one.spread - other.spread) - 1e-9 <= spread <= one.spread + other.spread + 1e-9


@given(one=FIGURES)
def test_a_figure_less_itself_is_zero_without_a_spread(one: Figure) -> None:
    """What is common cancels wholly."""
    nothing = difference(one, one, "")
    assert nothing.value == 0
    assert nothing.spread == 0


@given(figures=st.lists(FIGURES, min_size=1, max_size=6), data=st.data())
def test_the_order_of_a_sum_does_not_matter(figures: list[Figure], data: st.DataObject) -> None:
    """Neither for the value nor for the spread."""
    there, back = total(figures, ""), total(data.draw(st.permutations(figures)), "")
    assert there.value == pytest.approx(back.value, abs=1e-9)
    assert there.spread == pytest.approx(back.spread, abs=1e-9)


@given(scale=st.floats(0.001, 2), other=st.floats(0.001, 2))
def test_sources_of_different_names_never_add_up_straight(scale: float, other: float) -> None:
    """The sum of independent spreads is their root sum of squares, below the plain sum."""
    spread = total([figure(0, scale=scale), figure(0, other=other)], "").spread
    assert spread == pytest.approx(hypot(scale, other))
    assert spread < scale + other


def test_a_weighing_takes_away_what_no_other_figure_has() -> None:
    """Two hoses of one body, and a suit: either hose alone leaves the body unknown, both together do not."""
    first = Figure(0.2, {"body": 0.02, "ends of the first": 0.01}, "")
    second = Figure(0.3, {"body": 0.03, "ends of the second": 0.01}, "")
    suit = Figure(2.0, {"foam": 0.2}, "")
    everywhere = count_sources((first, second, suit))
    assert sources_only_in((first,), everywhere) == {"ends of the first"}
    both = sources_only_in((first, second), everywhere)
    assert both == {"body", "ends of the first", "ends of the second"}
    everything = total((first, second, suit), "sum")
    left = without_sources(everything, both)
    assert (left.value, left.components) == (everything.value, {"foam": 0.2})
