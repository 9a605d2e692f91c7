"""The outlines of the gear on a standing diver, seen from the front or the back, for pictures only."""

from collections.abc import Iterable, Iterator
from math import copysign, cos, pi, sin

from kitbuilder.assess.worn_gear import BLADDER, CYLINDER, FIRST_STAGE, GAUGE, SECOND_STAGE, WornPiece
from kitbuilder.pictures.body_outline import OutlinePoint
from kitbuilder.pictures.body_picture import DEVICE, Extra

RADIUS_M = {FIRST_STAGE: 0.032, SECOND_STAGE: 0.038, GAUGE: 0.032}
"""Of what is drawn as a disc; from memory."""
NECK_M, NECK_HALF_M = 0.035, 0.018
"""From the middle of a valve down to the shoulder of its cylinder, and half the breadth of the neck; from memory."""
BEND = 6
"""Pieces of a quarter of a circle."""


def gear_extras(pieces: Iterable[WornPiece]) -> list[Extra]:
    """Give the outline of every piece, in the order given."""
    extras = []
    for piece in pieces:
        right, forward, up = piece.place
        name = piece.kind if piece.kind in (CYLINDER, BLADDER) else DEVICE
        extras.append(Extra(tuple((right + x, forward, up + z) for x, z in _outline(piece)), name))
    return extras


def _outline(piece: WornPiece) -> list[OutlinePoint]:
    """Draw one piece about its place."""
    if piece.kind == CYLINDER:
        return [*_cylinder(piece.length_m, piece.diameter_m / 2)]
    if piece.kind == BLADDER:
        return [*_ellipse(piece.diameter_m / 2, piece.length_m / 2, FULLNESS)]
    radius = RADIUS_M[piece.kind]
    return [*_ellipse(radius, radius, 1.0)]


def _cylinder(length_m: float, radius_m: float) -> Iterator[OutlinePoint]:
    """Draw from the valve down: a neck, a round shoulder, straight sides, a round bottom; once round."""
    shoulder, bottom = -NECK_M, -NECK_M - length_m
    low, high = bottom + 0.5 * radius_m, shoulder - radius_m
    yield from ((-NECK_HALF_M, 0.0), (NECK_HALF_M, 0.0), (NECK_HALF_M, shoulder))
    for side, angles in ((1, range(BEND, -1, -1)), (-1, range(BEND + 1))):
        corner = [(side * radius_m * cos(a), radius_m * sin(a)) for a in (pi * step / 2 / BEND for step in angles)]
        if side == 1:
            yield from ((max(x, NECK_HALF_M), high + z) for x, z in corner)
            yield from ((x, low - 0.5 * z) for x, z in reversed(corner))
        else:
            yield from ((x, low - 0.5 * z) for x, z in reversed(corner))
            yield from ((min(x, -NECK_HALF_M), high + z) for x, z in corner)
    yield (-NECK_HALF_M, shoulder)


def _ellipse(half_breadth: float, half_height: float, power: float) -> Iterator[OutlinePoint]:
    """Draw an ellipse, once round; a power below 1 draws it towards its rectangle."""
    for step in range(4 * BEND):
        angle = 2 * pi * step / (4 * BEND)
        x, z = cos(angle), sin(angle)
        yield copysign(half_breadth * abs(x) ** power, x), copysign(half_height * abs(z) ** power, z)


FULLNESS = 0.75
"""The power for a bladder; chosen for appearance."""
