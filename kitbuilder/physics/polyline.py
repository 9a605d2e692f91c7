"""Straight pieces joined end to end in space, and turns about an axis.

A point is three lengths: to the right, forward and up. Those three make a right-handed frame.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

Point3D = tuple[float, float, float]
"""To the right, forward and up [m]."""


def polyline_length(points: Sequence[Point3D]) -> float:
    """Give the length along straight pieces from point to point.

    Args:
        points: the corners and both ends, in order [m].

    Returns:
        Length [m].

    Raises:
        ValueError: fewer than 2 points.

    Valid: any points; those that coincide add nothing.

    Source: solid geometry, distance of two points.
    """
    return sum(math.dist(start, end) for start, end in _pieces(points))


def distance_to_polyline(point: Point3D, points: Sequence[Point3D]) -> float:
    """Give how far a point is from the nearest place on straight pieces, corners and ends included.

    Args:
        point: the point [m].
        points: the corners and both ends of the pieces, in order [m].

    Returns:
        Distance, 0 on the line [m].

    Raises:
        ValueError: fewer than 2 points.

    Valid: any points; pieces may have no length.

    Source: solid geometry, foot of a perpendicular.
    """
    return min(math.dist(point, _nearest(point, start, end)) for start, end in _pieces(points))


def point_along(points: Sequence[Point3D], distance_m: float) -> Point3D:
    """Give the place on straight pieces that lies a distance from their first end, counted along them.

    Args:
        points: the corners and both ends, in order [m].
        distance_m: distance along the pieces, 0 to their length [m].

    Returns:
        The place [m].

    Raises:
        ValueError: fewer than 2 points, or a distance outside 0 to the length.

    Valid: any points; pieces may have no length.

    Source: solid geometry, division of a straight line in a ratio.
    """
    length = polyline_length(points)
    if not 0.0 <= distance_m <= length:
        raise ValueError(f"a place on a line of {length} m lies from 0 to its end, not at {distance_m}")
    passed = 0.0
    for start, end in pairwise(points):
        piece = math.dist(start, end)
        if piece and distance_m <= passed + piece:
            return _between(start, end, (distance_m - passed) / piece)
        passed += piece
    return points[-1]


def turned(point: Point3D, pivot: Point3D, axis: Literal["up", "right"], angle_rad: float) -> Point3D:
    """Give a point turned about an axis of the frame through a pivot.

    Args:
        point: the point [m].
        pivot: a point on the axis [m].
        axis: an axis of the frame [right, forward, up]: "up", about which a head looks left, or "right", about which
            it tips back.
        angle_rad: angle; above 0 to the left about "up", backwards (a look upwards) about "right" [rad].

    Returns:
        The turned point [m].

    Raises:
        ValueError: an axis that is neither "up" nor "right".

    Valid: any angle.

    Source: solid geometry, rotation about an axis; right-hand rule, ISO 80000-2.
    """
    if axis not in ("up", "right"):
        raise ValueError(f'an axis is "up" or "right", not "{axis}"')
    right, forward, up = (there - here for there, here in zip(point, pivot, strict=True))
    cosine, sine = math.cos(angle_rad), math.sin(angle_rad)
    if axis == "up":
        right, forward = cosine * right - sine * forward, sine * right + cosine * forward
    else:
        forward, up = cosine * forward - sine * up, sine * forward + cosine * up
    return pivot[0] + right, pivot[1] + forward, pivot[2] + up


def _pieces(points: Sequence[Point3D]) -> Iterator[tuple[Point3D, Point3D]]:
    if len(points) < 2:
        raise ValueError(f"a line has 2 points or more, not {len(points)}")
    return pairwise(points)


def _between(start: Point3D, end: Point3D, share: float) -> Point3D:
    right, forward, up = ((1.0 - share) * here + share * there for here, there in zip(start, end, strict=True))
    return right, forward, up


def _nearest(point: Point3D, start: Point3D, end: Point3D) -> Point3D:
    """Give the place nearest to a point on one piece."""
    square = along = 0.0
    for place, here, there in zip(point, start, end, strict=True):
        square += (there - here) * (there - here)
        along += (place - here) * (there - here)
    if square == 0.0:
        return start
    return _between(start, end, min(max(along / square, 0.0), 1.0))
