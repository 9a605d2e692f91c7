"""From a mass of lead to whole pieces: enough, no more than a piece too much, and as few pieces as can be."""

from itertools import product
from math import gcd, inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.buoyancy.lead_pieces import is_cast_in_pounds, lead_to_take, pieces_for
from kitbuilder.units import POUND
from tests.laws import tried

SIZES = st.lists(st.sampled_from((0.25, 0.5, 1.0, 1.5, 2.0, 3.0)), min_size=1, max_size=3, unique=True).map(tuple)
NEEDS = st.integers(1, 1200).map(lambda hundredths: hundredths / 100)


@given(need=NEEDS, sizes=SIZES)
@tried(60)
def test_the_pieces_are_enough_and_no_smaller_piece_is_too_many(need: float, sizes: tuple[float, ...]) -> None:
    """And they weigh what is said."""
    found = pieces_for(need, sizes)
    assert found.mass_kg == pytest.approx(sum(size * count for size, count in found.counts))
    assert {size for size, _ in found.counts} <= set(sizes)
    assert need - 1e-9 <= found.mass_kg < need + min(sizes)


@given(need=NEEDS, sizes=SIZES)
@tried(25)
def test_no_other_choice_is_lighter_or_has_fewer_pieces(need: float, sizes: tuple[float, ...]) -> None:
    """Every choice of up to so many pieces of each size is tried, in quarters of a kilogram."""
    found = pieces_for(need, sizes)
    quarters = [round(size * 4) for size in sizes]
    best = (inf, inf)
    for counts in product(*(range(round(need * 4) // size + 2) for size in quarters)):
        mass = sum(size * count for size, count in zip(quarters, counts, strict=True))
        if mass / 4 >= need - 1e-9:
            best = min(best, (mass, sum(counts)))
    assert (round(found.mass_kg * 4), sum(count for _, count in found.counts)) == best


@pytest.mark.parametrize("need", [0.0, -0.01, -7.0])
def test_no_need_takes_no_pieces(need: float) -> None:
    """A kit that is too heavy without lead asks for none."""
    found = pieces_for(need, (1.0, 2.0))
    assert (found.mass_kg, found.counts) == (0, ())


def test_the_heaviest_stands_first() -> None:
    """5 kg of twos and ones: two of 2 kg and one of 1 kg."""
    assert pieces_for(4.2, (1.0, 2.0)).counts == ((2.0, 2), (1.0, 1))


def test_a_greedy_choice_is_not_always_the_best() -> None:
    """6 kg of 1, 3 and 4 kg: two of 3 kg, though a piece of 4 kg fits."""
    assert gcd(1, 3, 4) == 1
    assert pieces_for(6.0, (1.0, 3.0, 4.0)).counts == ((3.0, 2),)


def test_odd_sizes_weigh_what_they_weigh() -> None:
    """2 lb are 0.907 kg, counted as 0.90: ten of them for 9 kg, and they weigh 9.07 kg."""
    assert pieces_for(9.0, (0.907,)) == (pytest.approx(9.07), ((0.907, 10),))


@given(need=NEEDS, sizes=st.lists(st.integers(1, 10).map(lambda half_pounds: half_pounds * POUND / 2), min_size=1))
@tried(40)
def test_odd_sizes_are_enough_too(need: float, sizes: list[float]) -> None:
    """Half pounds and their multiples: true masses, true sizes, never short; rounding asks for 10 g a piece at most."""
    found = pieces_for(need, tuple(sizes))
    pieces = sum(count for _, count in found.counts)
    assert {size for size, _ in found.counts} <= set(sizes)
    assert found.mass_kg == pytest.approx(sum(size * count for size, count in found.counts))
    assert need - 1e-9 <= found.mass_kg < need + min(sizes) + 0.01 * pieces


def test_more_than_is_needed_beats_too_little() -> None:
    """2.1 kg of pieces of 2 kg: two."""
    assert pieces_for(2.1, (2.0,)) == (4.0, ((2.0, 2),))


@pytest.mark.parametrize(
    ("size_kg", "is_pounds"), [(0.4536, True), (0.9072, True), (1.361, True), (0.5, False), (1.0, False), (2.25, False)]
)
def test_pieces_cast_in_pounds(size_kg: float, is_pounds: bool) -> None:
    """One, two and three pounds (0.45359237 kg each, by definition); half, one and two and a quarter kilograms."""
    assert is_cast_in_pounds(size_kg) is is_pounds


@pytest.mark.parametrize(
    ("pounds", "counts"), [(6.8, ((5, 1), (2, 1))), (3.0, ((3, 1),)), (11.2, ((5, 2), (2, 1))), (4.0, ((4, 1),))]
)
def test_pieces_in_pounds_are_counted_in_pounds(pounds: float, counts: tuple[tuple[int, int], ...]) -> None:
    """Of 1 to 5 lb: 6.8 lb are 5 + 2, 3 lb is one piece and not three, since rounding loses nothing."""
    found = pieces_for(pounds * POUND, tuple(size * POUND for size in (1, 2, 3, 4, 5)))
    assert found.counts == tuple((pytest.approx(size * POUND), count) for size, count in counts)


def test_a_reader_of_pounds_gets_pieces_in_pounds_unless_the_diver_lists_his() -> None:
    """3.08 kg are 6.8 lb: 4 x 1 kg, or 5 + 2 lb; a diver who has pieces of 2 kg takes those in either units."""
    usual, own = lead_to_take(6.8 * POUND), lead_to_take(6.8 * POUND, (2.0,))
    assert (usual.words.metric, usual.words.imperial) == ("4 × 1 kg", "1 × 5 lb + 1 × 2 lb")
    assert (own.words.metric, own.words.imperial) == ("2 × 2 kg", "2 × 2 kg")
