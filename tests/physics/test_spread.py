"""Spreads add as the root of the sum of squares: worked examples of the guide on uncertainty."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.spread import root_sum_square

from .published import Row, half_a_digit, rows

SPREADS = st.lists(st.floats(0.001, 1e3), min_size=1, max_size=8)


@pytest.mark.parametrize("row", rows("spread.tsv"), ids=lambda row: row["example"])
def test_worked_examples_come_out_as_printed(row: Row) -> None:
    """Source: the table beside this test: JCGM 100:2008, H.1 (memory), and a web page (found)."""
    combined = root_sum_square(float(part) for part in row["parts"].split())
    assert combined == pytest.approx(float(row["combined"]), abs=half_a_digit(row["combined"]))


def test_no_parts_have_no_spread() -> None:
    """An exact figure stays exact."""
    assert root_sum_square([]) == 0.0


@given(parts=SPREADS)
def test_the_whole_lies_between_the_widest_part_and_the_plain_sum(parts: list[float]) -> None:
    """Independent parts partly cancel, but never below the widest."""
    assert max(parts) <= root_sum_square(parts) * (1.0 + 1e-12)
    assert root_sum_square(parts) <= sum(parts) * (1.0 + 1e-12)


@given(part=st.floats(0.001, 1e3), count=st.integers(2, 25))
def test_equal_parts_grow_as_the_root_of_their_number(part: float, count: int) -> None:
    """Source: JCGM 100:2008, 4.2.3, the spread of a mean, read the other way round."""
    assert root_sum_square([part] * count) == pytest.approx(part * math.sqrt(count), rel=1e-12)


@given(parts=SPREADS)
def test_the_sign_of_a_deviation_does_not_matter(parts: list[float]) -> None:
    """It goes in squared."""
    assert root_sum_square([-part for part in parts]) == root_sum_square(parts)


def test_what_is_not_a_number_is_refused() -> None:
    """It would make every figure it enters none."""
    with pytest.raises(ValueError, match="is a number"):
        root_sum_square([0.2, math.nan])
