"""Straight pieces in space and turns: against numpy and scipy, and laws of geometry."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar
from scipy.spatial.transform import Rotation

from kitbuilder.physics.polyline import Point3D, distance_to_polyline, point_along, polyline_length, turned

PLACES = st.floats(-2.0, 2.0, allow_subnormal=False)
POINTS = st.tuples(PLACES, PLACES, PLACES)
LINES = st.lists(POINTS, min_size=2, max_size=7)
SHARES = st.floats(0.0, 1.0)
ANGLES = st.floats(-math.pi, math.pi)
AXES = st.sampled_from(["up", "right"])

CORNER: list[Point3D] = [(0.0, 0.0, 0.0), (3.0, 0.0, 0.0), (3.0, 4.0, 0.0)]


def close(point: Point3D) -> object:
    return pytest.approx(point, abs=1e-12)


def test_a_corner_of_three_and_four_metres() -> None:
    """Source: the right triangle of 3, 4 and 5; the height over the longest side is 12/5."""
    assert polyline_length(CORNER) == 7.0
    assert polyline_length([CORNER[0], CORNER[2]]) == 5.0
    assert distance_to_polyline(CORNER[1], [CORNER[0], CORNER[2]]) == pytest.approx(12.0 / 5.0, rel=1e-15)
    assert distance_to_polyline((5.0, -2.0, 1.0), CORNER) == 3.0
    assert point_along(CORNER, 5.0) == (3.0, 2.0, 0.0)
    assert point_along(CORNER, 3.0) == CORNER[1]


@given(LINES)
def test_the_length_is_that_of_the_differences(points: list[Point3D]) -> None:
    """Source: numpy."""
    expected = np.linalg.norm(np.diff(np.array(points), axis=0), axis=1).sum()
    assert polyline_length(points) == pytest.approx(float(expected), rel=1e-13, abs=1e-150)


@given(LINES, POINTS, st.integers(1, 6))
def test_a_detour_is_never_shorter(points: list[Point3D], detour: Point3D, place: int) -> None:
    """Source: triangle inequality."""
    assert polyline_length([*points[:place], detour, *points[place:]]) >= polyline_length(points) - 1e-12
    assert polyline_length(points) >= math.dist(points[0], points[-1]) - 1e-12
    assert polyline_length(points[::-1]) == pytest.approx(polyline_length(points), rel=1e-14)


@given(POINTS, LINES)
def test_the_nearest_place_is_the_one_a_search_finds(point: Point3D, points: list[Point3D]) -> None:
    """Source: scipy.optimize, minimum over each piece, and numpy at its ends."""

    def apart(share: float, start: Point3D, end: Point3D) -> float:
        return float(np.linalg.norm(np.array(point) - ((1 - share) * np.array(start) + share * np.array(end))))

    expected = min(
        min(
            minimize_scalar(apart, bounds=(0.0, 1.0), args=piece, method="bounded", options={"xatol": 1e-9}).fun,
            apart(0.0, *piece),
            apart(1.0, *piece),
        )
        for piece in pairwise(points)
    )
    assert distance_to_polyline(point, points) == pytest.approx(expected, abs=1e-7)


@given(POINTS, POINTS, LINES)
def test_the_distance_changes_no_more_than_the_point_moves(
    point: Point3D, other: Point3D, points: list[Point3D]
) -> None:
    """Source: triangle inequality."""
    change = distance_to_polyline(point, points) - distance_to_polyline(other, points)
    assert abs(change) <= math.dist(point, other) + 1e-12


@given(LINES, SHARES)
def test_a_place_along_lies_on_the_line_where_it_should(points: list[Point3D], share: float) -> None:
    """Source: numpy, each coordinate interpolated over the length passed; the line itself is no distance away."""
    length = polyline_length(points)
    place = point_along(points, share * length)
    assert distance_to_polyline(place, points) == pytest.approx(0.0, abs=1e-12)
    passed = np.concatenate([[0.0], np.cumsum([math.dist(*piece) for piece in pairwise(points)])])
    expected = [float(np.interp(share * length, passed, [point[axis] for point in points])) for axis in range(3)]
    assert place == pytest.approx(expected, abs=1e-9)


@given(LINES)
def test_the_ends_of_a_line_are_its_ends(points: list[Point3D]) -> None:
    assert point_along(points, 0.0) == close(points[0])
    assert point_along(points, polyline_length(points)) == close(points[-1])


@given(POINTS, POINTS, AXES, ANGLES)
def test_a_turn_is_that_of_a_rotation_matrix(point: Point3D, pivot: Point3D, axis: str, angle: float) -> None:
    """Source: scipy.spatial, right-handed about z (up) and x (to the right)."""
    rotation = Rotation.from_euler("z" if axis == "up" else "x", angle)
    expected = np.array(pivot) + rotation.apply(np.array(point) - np.array(pivot))
    assert turned(point, pivot, axis, angle) == close(tuple(expected))


def test_left_and_back_are_where_a_diver_has_them() -> None:
    """Source: the words; to the right, forward and up."""
    nose, crown, neck = (0.0, 0.2, 0.1), (0.0, 0.0, 0.3), (0.0, 0.0, 0.1)
    assert turned(nose, neck, "up", math.pi / 2) == close((-0.2, 0.0, 0.1))
    assert turned(nose, neck, "right", math.pi / 2) == close((0.0, 0.0, 0.3))
    assert turned(crown, neck, "right", math.pi / 2) == close((0.0, -0.2, 0.1))
    assert turned(crown, neck, "up", 1.0) == close(crown)


@given(POINTS, POINTS, AXES, ANGLES)
def test_a_turn_forth_and_back_is_none(point: Point3D, pivot: Point3D, axis: str, angle: float) -> None:
    assert turned(turned(point, pivot, axis, angle), pivot, axis, -angle) == close(point)
    assert turned(pivot, pivot, axis, angle) == pivot


@given(POINTS, LINES, POINTS, AXES, ANGLES)
def test_turning_everything_changes_no_length(
    point: Point3D, points: list[Point3D], pivot: Point3D, axis: str, angle: float
) -> None:
    """Source: a rotation keeps distances."""
    swung = [turned(each, pivot, axis, angle) for each in points]
    assert polyline_length(swung) == pytest.approx(polyline_length(points), abs=1e-12)
    there = turned(point, pivot, axis, angle)
    assert distance_to_polyline(there, swung) == pytest.approx(distance_to_polyline(point, points), abs=1e-12)


def test_points_that_coincide_have_no_length_and_do_no_harm() -> None:
    here: Point3D = (1.0, 2.0, 3.0)
    assert polyline_length([here, here]) == 0.0
    assert point_along([here, here], 0.0) == here
    assert distance_to_polyline((1.0, 2.0, 5.0), [here, here]) == 2.0
    assert point_along([CORNER[0], CORNER[0], CORNER[1], CORNER[1], CORNER[2]], 5.0) == (3.0, 2.0, 0.0)


def test_a_single_point_is_no_line() -> None:
    for points in ([], [(0.0, 0.0, 0.0)]):
        with pytest.raises(ValueError, match="2 points or more"):
            polyline_length(points)
        with pytest.raises(ValueError, match="2 points or more"):
            distance_to_polyline((0.0, 0.0, 0.0), points)
        with pytest.raises(ValueError, match="2 points or more"):
            point_along(points, 0.0)


@pytest.mark.parametrize("distance", [-1e-9, 7.001, math.nan])
def test_a_place_beyond_the_ends_is_refused(distance: float) -> None:
    with pytest.raises(ValueError, match="lies from 0 to its end"):
        point_along(CORNER, distance)


def test_an_axis_of_another_name_is_refused() -> None:
    with pytest.raises(ValueError, match='"up" or "right"'):
        turned(CORNER[0], CORNER[1], "forward", 1.0)
