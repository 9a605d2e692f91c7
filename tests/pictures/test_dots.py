"""A line of dots: without gaps, from end to end, and never more than half a dot off the line it stands for."""

from itertools import pairwise
from math import floor, hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.pictures.dots import inside, line_between

AMONG = st.floats(-50.0, 50.0)
PLACES = st.tuples(AMONG, AMONG)


def half_up(value: float) -> int:
    return floor(value + 0.5)


def distance(dot: tuple[int, int], start: tuple[float, float], end: tuple[float, float]) -> float:
    """From a dot to the nearest place of a straight stretch."""
    (x0, y0), (x1, y1) = start, end
    long = (x1 - x0) ** 2 + (y1 - y0) ** 2
    share = ((dot[0] - x0) * (x1 - x0) + (dot[1] - y0) * (y1 - y0)) / long if long else 0.0
    share = min(max(share, 0.0), 1.0)
    return hypot(dot[0] - x0 - share * (x1 - x0), dot[1] - y0 - share * (y1 - y0))


@pytest.mark.parametrize("nearest", [round, half_up])
@given(places=st.lists(PLACES, min_size=2, max_size=5))
def test_a_line_has_no_gaps_and_stays_on_its_way(nearest, places):
    dots = list(line_between(places, nearest))
    assert dots[0] == tuple(map(nearest, places[0]))
    assert dots[-1] == tuple(map(nearest, places[-1]))
    # A step of at most 1.5 dots, when the longer way is rounded down to a number of steps, skips one dot at most.
    assert all(max(abs(x1 - x0), abs(y1 - y0)) <= 2 for (x0, y0), (x1, y1) in pairwise(dots))
    half = 0.5 * 2**0.5 + 1e-9
    assert all(min(distance(dot, *stretch) for stretch in pairwise(places)) <= half for dot in dots)


@pytest.mark.parametrize("nearest", [round, half_up])
@given(places=st.lists(st.tuples(st.integers(-50, 50), st.integers(-50, 50)), min_size=2, max_size=5))
def test_between_whole_dots_each_dot_touches_the_next(nearest, places):
    dots = list(line_between(places, nearest))
    assert all(max(abs(x1 - x0), abs(y1 - y0)) <= 1 for (x0, y0), (x1, y1) in pairwise(dots))


def test_one_place_alone_has_no_line():
    assert list(line_between([(1.0, 2.0)])) == []


def test_the_dots_inside_an_outline_are_those_within_its_lines():
    """A triangle: each row as wide as its height says; a notch divides a row."""
    triangle = list(inside([(0.0, 0.0), (8.0, 0.0), (0.0, 8.0)]))
    assert {y: sum(row == y for _, row in triangle) for y in range(8)} == {y: 9 - y for y in range(8)}
    notch = [(0.0, 0.0), (2.5, 0.0), (5.0, 8.0), (7.5, 0.0), (10.0, 0.0), (10.0, 9.0), (0.0, 9.0)]
    assert {x for x, y in inside(notch) if y == 1} == {0, 1, 2, 8, 9, 10}


@given(corners=st.lists(PLACES, min_size=3, max_size=7))
def test_any_outline_holds_dots_between_its_ends_only(corners):
    dots = list(inside(corners))
    assert all(min(x for x, _ in corners) <= x <= max(x for x, _ in corners) for x, _ in dots)
    assert all(min(y for _, y in corners) <= y <= max(y for _, y in corners) for _, y in dots)
