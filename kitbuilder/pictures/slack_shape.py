"""What becomes of hose beyond its run: a bow off the body where it is free, a bight where it is stowed."""

from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import dist, hypot, pi, sin

from kitbuilder.pictures.body_outline import OutlinePoint

PicturePoint = tuple[float, float, float]
"""To the right, forward and up from the skin over C7, the diver standing [m]."""


def bowed(points: Sequence[PicturePoint], stand_off_m: float) -> tuple[PicturePoint, ...]:
    """Move a stretch away from the body as a rod held at both ends bends, by the square of a sine [m]."""
    gone = list(accumulate((dist(*ends) for ends in pairwise(points)), initial=0.0))
    across, upward = _away(points)
    offs = [stand_off_m * sin(pi * along / (gone[-1] or 1.0)) ** 2 for along in gone]
    return tuple((x + off * across, y, z + off * upward) for (x, y, z), off in zip(points, offs, strict=False))


def _away(points: Sequence[PicturePoint]) -> OutlinePoint:
    """Find the direction square to a stretch that leads away from the middle of the trunk, seen from the front."""
    if not points:
        return 0.0, 0.0
    (x0, _, z0), (x1, _, z1) = points[0], points[-1]
    chord = hypot(x1 - x0, z1 - z0)
    if not chord:
        return 0.0, 0.0
    square = ((z1 - z0) / chord, (x0 - x1) / chord)
    is_away = (x0 + x1) / 2 * square[0] + ((z0 + z1) / 2 - MIDDLE_M) * square[1] >= 0
    return square if is_away else (-square[0], -square[1])


MIDDLE_M = -0.25
"""The height of the middle of the trunk."""


def bight(points: Sequence[PicturePoint], stowed_m: float) -> tuple[PicturePoint, ...]:
    """Draw what is stowed as one bight from the lowest point of a hose: along the waist, or down its cylinder."""
    if not stowed_m:
        return ()
    right, forward, up = min(points, key=lambda point: point[2])
    inward, length = -1 if right > 0 else 1, stowed_m / 2
    hangs = (right, forward, up) == points[0]
    shape = ((0.0, 0.0), (0.5, 0.0), (1.0, 0.0), (1.05, 0.5), (1.0, 1.0), (0.5, 1.0), (0.0, 1.0))
    return tuple(
        (right + inward * BIGHT_M * across, forward + BEFORE_M, up - along * length)
        if hangs
        else (right + inward * along * length, forward + BEFORE_M, up + BIGHT_M * across)
        for along, across in shape
    )


BIGHT_M = 0.03
"""Between the two parts of a bight; from memory."""
BEFORE_M = 0.02
"""A stowed hose lies under a strap before what it is led by; from memory."""
