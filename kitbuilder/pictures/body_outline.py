"""The outline of a standing body, drawn from the measures of a survey, for pictures only: no figure comes from it."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist, radians, sin
from typing import NamedTuple

OutlinePoint = tuple[float, float]
"""To the diver's right and up, from the skin over C7 [m]."""
Curve = tuple[OutlinePoint, ...]
"""Spots close enough together to be joined by straight lines."""
Measures = Mapping[str, float]
"""Measures of the body survey by name [m]."""
STEPS = 5
"""Pieces of a curve between two of the points it is led through."""


class BodyOutline(NamedTuple):
    """A body seen from the front; seen from the back it is the same with left and right swapped."""

    silhouette: Curve
    """Once round, the last spot beside the first."""
    front: tuple[Curve, ...]
    """A few lines on the front that distinguish it from the back."""
    back: tuple[Curve, ...]

    def holds(self, spot: OutlinePoint) -> bool:
        """Say whether a point is inside the outline: a line outward from it leaves once more than it enters."""
        x, z = abs(spot[0]), spot[1]
        crossings = 0
        for (x0, z0), (x1, z1) in pairwise(self.silhouette[: len(self.silhouette) // 2 + 1]):
            if (z0 > z) != (z1 > z) and x < x0 + (x1 - x0) * (z - z0) / (z1 - z0):
                crossings += 1
        return crossings % 2 == 1


def outline(measures: Measures) -> BodyOutline:
    """Draw a body that stands relaxed, its arms a little away from it and its feet apart.

    Args:
        measures: Heights, breadths and lengths of the body survey ANSUR II of 2012, by their names [m].

    Where the survey has no measure, a proportion of one that it has is used: from memory, for appearance only.
    """
    half = _half(measures)
    around = (*half, *mirrored(half)[-2:0:-1])
    drop = measures["C7 height"]
    return BodyOutline(
        _lowered(around, drop),
        tuple(_lowered(curve, drop) for curve in _front(measures)),
        tuple(_lowered(curve, drop) for curve in _back(measures)),
    )


def mirrored(curve: Curve) -> Curve:
    """Swap right and left."""
    return tuple((-x, z) for x, z in curve)


def _lowered(curve: Curve, drop: float) -> Curve:
    return tuple((x, z - drop) for x, z in curve)


# ---- the silhouette ----


def _half(measures: Measures) -> Curve:
    """Draw the right half, from the top of the head to the crotch."""
    arm, trunk = _arm(measures), _trunk(measures)
    head = _head(measures)
    # Begun on the other side, so that the top of the head is round.
    above = _smooth_spots((*mirrored(head[1:2]), *head, *_shoulder(measures), *arm))[STEPS:]
    # The fold of the armpit is a corner: two curves meet in it.
    below = _smooth_spots((arm[-1], *trunk, *_leg(measures)))
    return (*above, *below[1:])


def _head(measures: Measures) -> Curve:
    top, wide = measures["stature"], measures["head breadth"] / 2
    ear, chin = top - measures["ear to top of head"], chin_height(measures)
    neck, root = neck_half_breadth(measures), measures["C7 height"]
    jaw = chin + 0.22 * (top - chin)
    return (
        (0.0, top),
        (0.45 * wide, top - 0.01),
        (0.9 * wide, top - 0.05),
        (wide, top - 0.085),
        (0.99 * wide, ear + 0.024),
        (1.14 * wide, ear + 0.02),
        (1.12 * wide, ear - 0.015),
        (0.96 * wide, ear - 0.034),
        (max(0.85 * wide, neck + 0.004), jaw),
        (neck, root + 0.45 * max(jaw - root, 0.03)),
    )


def _shoulder(measures: Measures) -> Curve:
    """Draw from the neck over the muscle of the shoulder to the upper arm."""
    neck, point = neck_half_breadth(measures), measures["shoulder breadth"] / 2
    root, shoulder = measures["C7 height"], measures["acromion height"]
    widest = measures["breadth over the upper arms"] / 2
    return (
        (1.07 * neck, root + 0.006),
        (1.4 * neck, root - 0.014),
        (0.5 * point + 0.7 * neck, root - 0.014 - 0.45 * (root - shoulder - 0.03)),
        (0.95 * point, shoulder + 0.012),
        (0.5 * widest + 0.5 * point, shoulder - 0.008),
        (0.85 * widest + 0.15 * point, shoulder - 0.034),
    )


class _Bones(NamedTuple):
    """The joints along the middle of an arm."""

    shoulder: OutlinePoint
    elbow: OutlinePoint
    wrist: OutlinePoint
    radius: float
    """Half the breadth of the upper arm."""


def _bones(measures: Measures) -> _Bones:
    """Place the bones of an arm that hangs as close to the body as trunk and hip allow."""
    widest = measures["breadth over the upper arms"] / 2
    radius = 0.53 * (2 * widest - measures["shoulder breadth"])
    shoulder = (widest - radius, measures["acromion height"] - 0.065)
    elbow = _hung(shoulder, measures["upper arm"] - 0.05, _side(measures) + 0.045 + 0.75 * radius, 9.0)
    wrist = _hung(elbow, measures["forearm"], measures["hip breadth"] / 2 + 0.045 + 0.6 * radius, 6.0)
    return _Bones(shoulder, elbow, wrist, radius)


def _side(measures: Measures) -> float:
    return max(measures["chest breadth"] / 2 + CHEST_MUSCLE, measures["waist breadth"] / 2)


def _hung(start: OutlinePoint, length: float, clear: float, least: float) -> OutlinePoint:
    """Find the lower end of a bone: far enough out to be clear of the body, and tilted by at least `least` degrees."""
    across = min(max(clear - start[0], length * sin(radians(least))), 0.6 * length)
    return start[0] + across, start[1] - (length**2 - across**2) ** 0.5


def _arm(measures: Measures) -> Curve:
    """Draw from the outside of the upper arm, round the hand and up to the armpit."""
    bones = _bones(measures)
    palm = _along((bones.elbow, bones.wrist), 1 + HAND_OF_SPAN * measures["arm span"] / measures["forearm"])
    ends = {
        "upper": (bones.shoulder, bones.elbow),
        "lower": (bones.elbow, bones.wrist),
        "hand": (bones.wrist, palm),
    }
    around = (_beside(ends[bone], share, across * bones.radius) for bone, share, across in AROUND_AN_ARM)
    return (*around, _armpit(measures, bones))


AROUND_AN_ARM = (
    ("upper", 0.12, 1.02), ("upper", 0.5, 0.95), ("upper", 0.95, 0.8), ("lower", 0.25, 0.84), ("lower", 0.95, 0.52),
    ("hand", 0.1, 0.56), ("hand", 0.42, 0.72), ("hand", 0.75, 0.6), ("hand", 1.0, 0.16), ("hand", 0.97, -0.2),
    ("hand", 0.72, -0.5), ("hand", 0.46, -0.68), ("hand", 0.62, -0.84), ("hand", 0.55, -1.08), ("hand", 0.36, -1.0),
    ("hand", 0.14, -0.68), ("lower", 0.95, -0.52), ("lower", 0.3, -0.8), ("upper", 0.95, -0.76), ("upper", 0.5, -0.92),
)  # fmt: skip
"""How far down a bone, and how far beside it, outward, in half breadths of the upper arm; from memory."""


def _armpit(measures: Measures, bones: _Bones) -> OutlinePoint:
    height = measures["armpit height"]
    share = (bones.shoulder[1] - height) / (bones.shoulder[1] - bones.elbow[1])
    inner, _ = _beside((bones.shoulder, bones.elbow), share, -0.98 * bones.radius)
    return max(inner, measures["chest breadth"] / 2 + CHEST_MUSCLE + 0.004), height


def _along(bone: tuple[OutlinePoint, OutlinePoint], share: float) -> OutlinePoint:
    (x0, z0), (x1, z1) = bone
    return x0 + share * (x1 - x0), z0 + share * (z1 - z0)


def _beside(bone: tuple[OutlinePoint, OutlinePoint], share: float, across: float) -> OutlinePoint:
    """Find a point beside a bone; positive `across` is outward."""
    (x0, z0), (x1, z1) = bone
    x, z = _along(bone, share)
    length = dist((x0, z0), (x1, z1))
    return x + across * (z0 - z1) / length, z + across * (x1 - x0) / length


def _trunk(measures: Measures) -> Curve:
    """Draw from below the armpit to the hip."""
    chest, waist, hip = (measures[f"{part} breadth"] / 2 for part in ("chest", "waist", "hip"))
    armpit, nipples, rib = (measures[f"{part} height"] for part in ("armpit", "chest", "tenth rib"))
    crest = measures["hip crest height"]
    return (
        (chest + CHEST_MUSCLE, armpit - 0.035),
        (chest + 0.75 * CHEST_MUSCLE, min(nipples - 0.03, armpit - 0.05)),
        (0.6 * min(0.94 * waist, chest + 0.02) + 0.4 * 0.94 * waist, rib + 0.01),
        (waist, crest - 0.012),
        (0.35 * waist + 0.65 * max(hip, 0.97 * waist), crest - 0.07),
        (hip, _hip_height(measures)),
    )


def _hip_height(measures: Measures) -> float:
    return measures["crotch height"] + 0.05


def _leg(measures: Measures) -> Curve:
    """Draw from the outside of the thigh, round the foot and up to the crotch."""
    hip, crotch, knee = measures["hip breadth"] / 2, measures["crotch height"], measures["knee height"]
    middle = 0.6 * hip
    ankle = (0.57 * hip, 0.2 * knee)
    thigh, half, calf = (crotch + knee) / 2, 0.31 * hip, 0.33 * hip
    return (
        (0.985 * hip, crotch - 0.05),
        (0.5 * hip + 0.5 * (middle + half) + 0.012, thigh),
        (middle + half, knee + 0.03),
        (middle + 0.96 * half, knee - 0.035),
        (middle + calf, 0.72 * knee),
        (0.4 * (middle + calf) + 0.6 * (ankle[0] + 0.036), 0.42 * knee),
        (ankle[0] + 0.036, ankle[1]),
        (ankle[0] + 0.05, 0.06),
        (ankle[0] + 0.078, 0.022),
        (ankle[0] + 0.066, 0.003),
        (ankle[0] + 0.01, 0.0),
        (ankle[0] - 0.03, 0.006),
        (ankle[0] - 0.035, 0.06),
        (ankle[0] - 0.03, ankle[1] + 0.02),
        (middle - 0.9 * calf, 0.68 * knee),
        (middle - 0.92 * half, knee - 0.03),
        (middle - half, knee + 0.03),
        (0.16 * hip, thigh + 0.02),
        (0.05 * hip, crotch - 0.05),
        (0.0, crotch),
    )


def chin_height(measures: Measures) -> float:
    """Estimate how high the chin is above the ground [m], from the ear; from memory."""
    return measures["stature"] - measures["ear to top of head"] - 0.82 * measures["chin to brow"]


def neck_half_breadth(measures: Measures) -> float:
    """Estimate half the breadth of a neck that is a little deeper than broad [m]."""
    return 0.148 * measures["neck circumference"]


HAND_OF_SPAN = 0.1078
"""The length of a hand, of the arm span; means of the body survey ANSUR II of 2012."""
CHEST_MUSCLE = 0.02
"""Muscle beside the breadth of the chest below the armpits [m]; from memory, for appearance only."""


# ---- the lines within ----


def _front(measures: Measures) -> tuple[Curve, ...]:
    """Draw a diving mask, the jaw, the collarbones, the navel and the folds of the groin."""
    top, chin = measures["stature"], chin_height(measures)
    wide, ear = measures["head breadth"] / 2, measures["stature"] - measures["ear to top of head"]
    notch, point = measures["breastbone height"], measures["shoulder breadth"] / 2
    crest, crotch, hip = measures["hip crest height"], measures["crotch height"], measures["hip breadth"] / 2
    jaw = chin + 0.22 * (top - chin)
    side = max(0.85 * wide, neck_half_breadth(measures) + 0.004)
    face = _smooth_spots(
        ((-side, jaw), (-0.42 * wide, chin + 0.01), (0.0, chin), (0.42 * wide, chin + 0.01), (side, jaw))
    )
    collar = _smooth_spots(((0.016, notch), (0.4 * point, notch + 0.014), (0.85 * point, notch + 0.026)))
    groin = _smooth_spots(((0.06 * hip, crotch + 0.005), (0.45 * hip, crotch + 0.045), (0.85 * hip, crotch + 0.12)))
    navel = ((-0.006, crest), (0.006, crest))
    return face, collar, mirrored(collar), groin, mirrored(groin), navel, _mask(wide, ear)


def _mask(wide: float, ear: float) -> Curve:
    high, low = ear + 0.045, ear - 0.022
    return _smooth_spots((
        (0.0, high), (0.6 * wide, high), (0.82 * wide, high - 0.02), (0.74 * wide, low + 0.008), (0.4 * wide, low),
        (0.15 * wide, low + 0.02), (-0.15 * wide, low + 0.02), (-0.4 * wide, low), (-0.74 * wide, low + 0.008),
        (-0.82 * wide, high - 0.02), (-0.6 * wide, high), (0.0, high),
    ))  # fmt: skip


def _back(measures: Measures) -> tuple[Curve, ...]:
    """Draw the hairline of the neck, the spine, the shoulder blades and the seat."""
    point, armpit = measures["shoulder breadth"] / 2, measures["armpit height"]
    root, crest, crotch = measures["C7 height"], measures["hip crest height"], measures["crotch height"]
    hip = measures["hip breadth"] / 2
    spine = ((0.0, root - 0.01), (0.0, crest - 0.03))
    blade = _smooth_spots((
        (0.8 * point, armpit + 0.05), (0.4 * point, armpit + 0.055), (0.36 * point, armpit + 0.02),
        (0.46 * point, armpit - 0.06), (0.6 * point, armpit - 0.045),
    ))  # fmt: skip
    cleft = ((0.0, crotch + 0.12), (0.0, crotch))
    fold = _smooth_spots(((0.08 * hip, crotch - 0.004), (0.4 * hip, crotch - 0.014), (0.72 * hip, crotch + 0.012)))
    return spine, blade, mirrored(blade), cleft, fold, mirrored(fold)


# ---- curves ----


def smooth(points: Sequence[tuple[float, ...]], steps: int = STEPS) -> tuple[tuple[float, ...], ...]:
    """Draw a curve through points of any dimension: a centripetal Catmull-Rom spline, which adds no loops."""
    apart = [points[0], *(point for last, point in pairwise(points) if dist(last, point) > 1e-9)]
    if len(apart) < 2:
        return tuple(apart)
    knots = [_beyond(apart[1], apart[0]), *apart, _beyond(apart[-2], apart[-1])]
    pieces = (_piece(knots[number : number + 4], steps) for number in range(len(apart) - 1))
    return (apart[0], *(point for piece in pieces for point in piece))


def _smooth_spots(spots: Sequence[OutlinePoint]) -> Curve:
    return tuple((x, z) for x, z in smooth(spots))


def _beyond(inner: tuple[float, ...], end: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(2 * b - a for a, b in zip(inner, end, strict=True))


def _piece(points: Sequence[tuple[float, ...]], steps: int) -> Iterator[tuple[float, ...]]:
    """Draw the curve from the second of four points to the third (left out), by repeated linear interpolation."""
    times = [0.0]
    for a, b in pairwise(points):
        times.append(times[-1] + dist(a, b) ** 0.5)
    for step in range(1, steps + 1):
        time = times[1] + (times[2] - times[1]) * step / steps
        level = list(points)
        for ends in (((0, 1), (1, 2), (2, 3)), ((0, 2), (1, 3)), ((1, 2),)):
            level = [
                _mixed(a, b, (time - times[first]) / (times[last] - times[first]))
                for (a, b), (first, last) in zip(pairwise(level), ends, strict=True)
            ]
        yield level[0]


def _mixed(a: tuple[float, ...], b: tuple[float, ...], share: float) -> tuple[float, ...]:
    return tuple((1 - share) * x + share * y for x, y in zip(a, b, strict=True))
