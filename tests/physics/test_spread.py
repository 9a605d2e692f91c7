"""Spreads add as the root of the sum of squares, and ranges by their moments: the guide on uncertainty, simulations."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.physics.spread import NORMAL_95, moments_between, root_sum_square, sides_95

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


# --- ranges -----------------------------------------------------------------------------------------------------------

RANGES = st.tuples(st.floats(-100, 100), st.floats(0.01, 50), st.floats(0.01, 50))


@given(pieces=RANGES)
def test_moments_of_a_range_are_those_of_its_density(pieces: tuple[float, float, float]) -> None:
    """Source: numpy: moments of half the probability on each side of the value, spread evenly (fine grid)."""
    value, below, above = pieces
    grid = (np.arange(4000) + 0.5) / 4000
    many = np.concatenate([value - grid * below, value + grid * above])
    off = many - many.mean()
    found = moments_between(value - below, value, value + above)
    assert found.mean == pytest.approx(many.mean(), abs=1e-6)
    assert found.deviation == pytest.approx(many.std(), rel=1e-5)
    assert found.skewness == pytest.approx((off**3).mean() / many.std() ** 3, abs=1e-4)
    assert found.excess == pytest.approx((off**4).mean() / many.std() ** 4 - 3, abs=1e-4)


def test_a_range_about_its_middle_is_the_uniform_distribution() -> None:
    """Source: JCGM 100:2008, 4.3.7: the half-width over the root of 3; its excess kurtosis is -6/5 (any textbook)."""
    found = moments_between(2.0, 3.0, 4.0)
    assert found == pytest.approx((3.0, 1.0 / math.sqrt(3), 0.0, -1.2))


def test_no_range_has_no_spread() -> None:
    """Both ends are the value."""
    assert moments_between(3.0, 3.0, 3.0) == (3.0, 0.0, 0.0, 0.0)


SUMS = {
    "normal": (("normal", 1.0),),
    "uniform": (("uniform", 1.0),),
    "two equal": (("uniform", 1.0), ("uniform", 1.0)),
    "three equal": (("uniform", 1.0),) * 3,
    "one and half of another": (("uniform", 1.0), ("uniform", 0.5)),
    "uniform and a small normal": (("uniform", 1.0), ("normal", 0.3)),
    "uniform and normal": (("uniform", 1.0), ("normal", 1.0)),
    "lopsided and normal": (("2 to 3", 1.0), ("normal", 0.5)),
    "two lopsided": (("2 to 3", 1.0), ("2 to 3", 1.0)),
    "lopsided against uniform": (("2 to 3", -1.0), ("uniform", 0.7)),
    "value at one end": (("0 to 1", 1.0), ("normal", 1.0)),
}
PARTS = {"normal": None, "uniform": (-1.0, 0.0, 1.0), "2 to 3": (-1.0, 0.0, 1.5), "0 to 1": (0.0, 0.0, 1.0)}


@pytest.mark.parametrize("name", SUMS)
def test_the_sides_of_a_sum_cover_95_percent(name: str) -> None:
    """Source: a simulation of 400,000 sums, from distributions drawn by numpy, without the moments of the module.

    And no end is left out more than three times as often as it should be.
    """
    dice, size = np.random.default_rng(5), 400_000
    drawn, combined, third, fourth = np.zeros(size), 0.0, 0.0, 0.0
    for kind, share in SUMS[name]:
        ends = PARTS[kind]
        if ends is None:
            unknown = dice.normal(size=size)
        else:
            is_below = dice.random(size) < 0.5
            many = np.where(is_below, dice.uniform(ends[0], ends[1], size), dice.uniform(ends[1], ends[2], size))
            unknown = (many - many.mean()) / many.std()
            moments = moments_between(*ends)
            third, fourth = third + moments.skewness * share**3, fourth + moments.excess * share**4
        drawn, combined = drawn + share * unknown, math.hypot(combined, share)
    below, above = sides_95(NORMAL_95 * combined, third / combined**3, fourth / combined**4)
    assert 0.945 <= np.mean((drawn >= -below) & (drawn <= above)) <= 0.965
    assert np.mean(drawn < -below) < 0.075
    assert np.mean(drawn > above) < 0.075


@given(combined=st.floats(0, 1e3), skewness=st.floats(-1, 1), excess=st.floats(-1.2, 0))
def test_sides_turn_with_the_skewness(combined: float, skewness: float, excess: float) -> None:
    """The longer side is that of the long tail; the other way round it is the other side."""
    below, above = sides_95(combined, skewness, excess)
    assert sides_95(combined, -skewness, excess) == pytest.approx((above, below))
    assert (above - below) * skewness >= 0


def test_a_lopsided_range_keeps_both_its_sides() -> None:
    """A cylinder of 14.2 kg, from 12.2 to 15.5: 2.5 % lie below 12.2 + 0.05 x 2.0, and above 15.5 - 0.05 x 1.3.

    By hand, its mean is 14.2 - 2.0 / 4 + 1.3 / 4 = 14.025 kg, 1.725 kg above the one end and 1.41 kg below the other.
    """
    found = moments_between(12.2, 14.2, 15.5)
    sides = sides_95(NORMAL_95 * found.deviation, found.skewness, found.excess)
    assert found.mean == pytest.approx(14.025)
    assert sides == pytest.approx((1.725, 1.41), abs=0.08)


@pytest.mark.parametrize("count", [3, 5, 10])
def test_a_sum_of_lopsided_ranges_leaves_out_as_much_at_either_end(count: int) -> None:
    """Drawn with numpy: ranges of which the upper side is three times the lower one; 2.5 % lie beyond each end."""
    dice, part = np.random.default_rng(2), moments_between(0.0, 1.0, 4.0)
    shape = (200_000, count)
    drawn = (1 + dice.random(shape) * np.where(dice.random(shape) < 0.5, -1.0, 3.0)).sum(axis=1)
    root = math.sqrt(count)
    below, above = sides_95(NORMAL_95 * part.deviation * root, part.skewness / root, part.excess / count)
    lowest, highest = np.percentile(drawn - count * part.mean, [2.5, 97.5])
    assert above == pytest.approx(highest, rel=0.02)
    assert below == pytest.approx(-lowest, rel=0.07)  # wider than needed where three are nearly bounds
    assert above > below


def test_without_bounds_both_sides_are_the_combined_spread() -> None:
    """A normal distribution."""
    assert sides_95(2.5, 0.0, 0.0) == pytest.approx((2.5, 2.5))


def test_impossible_ranges_and_sums_are_refused() -> None:
    """A value outside its range, a spread below none, what is not a number."""
    for ends in ((2.0, 1.0, 3.0), (1.0, 2.0, 1.5), (math.nan, 1.0, 2.0)):
        with pytest.raises(ValueError, match="between the ends"):
            moments_between(*ends)
    for arguments in ((-1.0, 0.0, 0.0), (1.0, math.nan, 0.0), (1.0, 0.0, math.nan), (math.nan, 0.0, 0.0)):
        with pytest.raises(ValueError, match="0 or above"):
            sides_95(*arguments)
