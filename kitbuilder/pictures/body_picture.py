"""A diver's body, front and back, with hoses laid over it: curves in metres that text and SVG draw alike."""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import groupby, pairwise
from math import dist
from typing import NamedTuple

from kitbuilder.pictures.body_outline import BodyOutline, Curve, Measures, OutlinePoint, mirrored, outline, smooth
from kitbuilder.pictures.slack_shape import PicturePoint as PicturePoint  # whoever draws a hose takes it from here
from kitbuilder.pictures.slack_shape import bight, bowed

FRONT, BACK = 0, 1
"""The views of a picture, by their place in it."""


class HoseLine(NamedTuple):
    """A hose to be drawn."""

    number: int
    """Of the hose in the kit."""
    letter: str
    """One letter that distinguishes it from the others."""
    points: tuple[PicturePoint, ...]
    """Where it lies, from the port to the other end."""
    free: tuple[int, int] | None
    """The points between which its longest free stretch lies."""
    stand_off_m: float | None
    """How far that stretch may leave the body; None where it is not known."""
    signal: str
    """The signal word of its worst finding in small letters; empty without one."""
    is_selected: bool
    stowed_m: float = 0.0
    """How much of it is folded away on purpose."""


DEVICE = "device"
"""The name of an extra that a hose begins or ends at: it lies over the hoses."""


class Extra(NamedTuple):
    """Something else on the body, such as a cylinder, drawn faintly behind the hoses."""

    points: tuple[PicturePoint, ...]
    """Once round, the last beside the first."""
    name: str


class DrawnExtra(NamedTuple):
    """An extra in one view."""

    curve: Curve
    """Once round."""
    name: str


class DrawnHose(NamedTuple):
    """A hose in one view."""

    line: HoseLine
    seen: tuple[Curve, ...]
    hidden: tuple[Curve, ...]
    """What the body lies before."""
    bow: tuple[Curve, ...]
    """What is seen of the free stretch, as far off as its slack lets it."""
    stowed: tuple[Curve, ...] = ()
    """What is seen of the hose that is folded away, as one bight."""


class View(NamedTuple):
    """A body seen from one side: lengths across to the right of the picture, and up, from the skin over C7 [m]."""

    name: str
    left: str
    """Which side of the diver is at the left of the picture."""
    right: str
    silhouette: Curve
    lines: tuple[Curve, ...]
    behind: tuple[DrawnExtra, ...]
    """Extras that the body lies before."""
    before: tuple[DrawnExtra, ...]
    """Extras that lie before the body."""
    hoses: tuple[DrawnHose, ...]


class LetterPlace(NamedTuple):
    """A spot in one of the views."""

    view: int
    spot: OutlinePoint


class Lettered(NamedTuple):
    """A hose and the places for its letter, the best first."""

    line: HoseLine
    places: tuple[LetterPlace, ...]


class BodyPicture(NamedTuple):
    """Both views, and what they share."""

    front: View
    """The diver faces the reader: the right hand is at the left of the picture."""
    back: View
    letters: tuple[Lettered, ...]
    top: float
    """The height of the top of the head [m]."""
    thigh: float
    """The height of the middle of the thighs, down to which hoses may be led [m]."""
    sole: float
    half_breadth: float
    """From the middle to the tips of the fingers [m]."""

    @property
    def views(self) -> tuple[View, View]:
        """Front and back, in the order of `FRONT` and `BACK`."""
        return self.front, self.back


def body_picture(measures: Measures, lines: Sequence[HoseLine], extras: Sequence[Extra] = ()) -> BodyPicture:
    """Draw the body of the given measures with hoses over it.

    Args:
        measures: Of the body survey ANSUR II of 2012, by their names [m]; those of `outline`, and the depths of
            chest and waist.
        lines: The hoses; later ones lie over earlier ones.
        extras: What else is drawn.
    """
    body = _outline(tuple(sorted(measures.items())))
    halves = _Halves.of(measures)
    led = [_Led.of(line) for line in lines]
    front, back = (_view(side, body, halves, led, extras) for side in (FRONT, BACK))
    heights = [z for _, z in body.silhouette]
    return BodyPicture(
        front,
        back,
        tuple(_letters((front, back))),
        top=max(heights),
        thigh=(measures["crotch height"] + measures["knee height"]) / 2 - measures["C7 height"],
        sole=min(heights),
        half_breadth=max(x for x, _ in body.silhouette),
    )


@lru_cache(maxsize=8)
def _outline(measures: tuple[tuple[str, float], ...]) -> BodyOutline:
    return outline(dict(measures))


class _Halves(NamedTuple):
    """The surface between the front half of a body and the back half: how far forward it is at each height [m]."""

    corners: tuple[tuple[float, float], ...]
    """Height and forward, from the neck down."""

    @staticmethod
    def of(measures: Measures) -> "_Halves":
        """Find the halves of a body whose neck is round and whose trunk begins below C7."""
        root = measures["C7 height"]
        return _Halves((
            (0.0, NECK_RADIUS * measures["neck circumference"]),
            (measures["chest height"] - root, measures["chest depth"] / 2),
            (measures["hip crest height"] - root, measures["waist depth"] / 2),
        ))  # fmt: skip

    def forward(self, height: float) -> float:
        """Give how far forward the middle of the body is at a height [m]."""
        first, last = self.corners[0], self.corners[-1]
        if height >= first[0]:
            return first[1]
        for (z0, forward0), (z1, forward1) in pairwise(self.corners):
            if height >= z1:
                return forward0 + (forward1 - forward0) * (z0 - height) / (z0 - z1)
        return last[1]


NECK_RADIUS = 0.159
"""Of a girth: one part in two pi."""
EDGE_M = 0.025
"""How far beyond the middle of the body a hose at its side is seen still."""
BESIDE_M = 0.09
"""How far beyond the middle an extra may lie, in the mean: what hangs at the side is seen in both views."""
PIECES = 8
"""Of a hose between two of its points."""
SCRAP = 4
"""Points of a piece of bow too short to tell anything."""
# A cursor that walks the hoses asks for the same curves again and again; the two that take long are kept.


class _Led(NamedTuple):
    """A hose as smooth curves."""

    line: HoseLine
    points: tuple[PicturePoint, ...]
    free: tuple[PicturePoint, ...]
    """Its free stretch; nothing where no slack is known."""
    bow: tuple[PicturePoint, ...]
    """The same stretch, as far off as its slack lets it."""
    stowed: tuple[PicturePoint, ...]
    """What is folded away, out and back; nothing where nothing is."""

    @staticmethod
    def of(line: HoseLine) -> "_Led":
        """Draw a smooth curve through the points of a hose."""
        start, end = line.free or (0, 0)
        free = _curve(line.points[start : end + 1], 2 * PIECES) if line.stand_off_m else ()
        bow = bowed(free, line.stand_off_m or 0.0)
        return _Led(line, _curve(line.points, PIECES), free, bow, bight(line.points, line.stowed_m))


@lru_cache(maxsize=256)
def _curve(points: tuple[PicturePoint, ...], pieces: int) -> tuple[PicturePoint, ...]:
    return tuple((right, forward, up) for right, forward, up in smooth(points, pieces))


def _view(side: int, body: BodyOutline, halves: _Halves, lines: Sequence[_Led], extras: Sequence[Extra]) -> View:
    inner = body.front if side == FRONT else body.back
    is_before = [
        sum(_before(point, side, halves) for point in extra.points) >= -BESIDE_M * len(extra.points) for extra in extras
    ]
    return View(
        name="front" if side == FRONT else "back",
        left="R" if side == FRONT else "L",
        right="L" if side == FRONT else "R",
        silhouette=body.silhouette,
        lines=tuple(_turned(curve, side) for curve in inner),
        behind=tuple(_extra(extra, side) for extra, before in zip(extras, is_before, strict=True) if not before),
        before=tuple(_extra(extra, side) for extra, before in zip(extras, is_before, strict=True) if before),
        hoses=tuple(_drawn(side, body, halves, line) for line in lines),
    )


def _extra(extra: Extra, side: int) -> DrawnExtra:
    return DrawnExtra(_flat(extra.points, side), extra.name)


def _flat(points: Iterable[PicturePoint], side: int) -> Curve:
    return _turned(tuple((right, up) for right, _, up in points), side)


def _turned(curve: Curve, side: int) -> Curve:
    """Turn the diver's right into the picture's left: a diver who faces the reader has the right hand at the left."""
    return mirrored(curve) if side == FRONT else curve


def _drawn(side: int, body: BodyOutline, halves: _Halves, led: _Led) -> DrawnHose:
    seen, hidden = _parted(led.points, led.points, side, body, halves)
    bow, _ = _parted(led.free, led.bow, side, body, halves)
    stowed, _ = _parted(led.stowed, led.stowed, side, body, halves)
    return DrawnHose(led.line, seen, hidden, tuple(curve for curve in bow if len(curve) > SCRAP), stowed)


@lru_cache(maxsize=256)
def _parted(
    points: tuple[PicturePoint, ...], drawn: tuple[PicturePoint, ...], side: int, body: BodyOutline, halves: _Halves
) -> tuple[tuple[Curve, ...], tuple[Curve, ...]]:
    """Divide a curve into seen and hidden pieces, drawn where it lies or elsewhere; one hidden end hides a piece."""
    seen = [_is_seen(point, side, body, halves) for point in points]
    pieces = [first and last for first, last in pairwise(seen)]
    stretches: tuple[list[Curve], list[Curve]] = ([], [])
    start = 0
    for is_seen, run in groupby(pieces):
        end = start + len(list(run))
        stretches[not is_seen].append(_flat(drawn[start : end + 1], side))
        start = end
    return tuple(stretches[0]), tuple(stretches[1])


def _is_seen(point: PicturePoint, side: int, body: BodyOutline, halves: _Halves) -> bool:
    """Say whether no part of the body is in front of a point."""
    return _before(point, side, halves) >= 0 or not body.holds((point[0], point[2]))


def _before(point: PicturePoint, side: int, halves: _Halves) -> float:
    """Measure how far a point is in front of what would hide it in a view; below zero when it is hidden [m]."""
    _, forward, up = point
    from_middle = forward - halves.forward(up)
    return (from_middle if side == FRONT else -from_middle) + EDGE_M


# ---- letters ----


def _letters(views: Sequence[View]) -> Iterator[Lettered]:
    """List the places for each hose's letter: in the view that shows more of it, clear of others, near its middle."""
    samples = [[list(_samples(hose.seen)) for hose in view.hoses] for view in views]
    for number, hose in enumerate(views[FRONT].hoses):
        main = max((FRONT, BACK), key=lambda side: len(samples[side][number]))
        places = []
        for side in (FRONT, BACK):
            others = [spot for other, spots in enumerate(samples[side]) if other != number for spot in spots]
            own = samples[side][number]
            for place, spot in enumerate(own):
                clear = min((dist(spot, other) for other in others), default=CLEAR_M)
                off_middle = abs(place - (len(own) - 1) / 2)
                places.append(((side != main, -round(min(clear, CLEAR_M), 2), off_middle), LetterPlace(side, spot)))
        ranked = sorted(places, key=lambda ranked: ranked[0])
        yield Lettered(hose.line, tuple(place for _, place in ranked) or (_hidden_place(views, number),))


def _samples(curves: Iterable[Curve]) -> Iterator[OutlinePoint]:
    for curve in curves:
        yield from curve[1:-1:2] if len(curve) > 2 else curve


def _hidden_place(views: Sequence[View], number: int) -> LetterPlace:
    """Choose a place for the letter of a hose that neither view shows."""
    hose = views[BACK].hoses[number]
    return LetterPlace(BACK, hose.hidden[0][0] if hose.hidden else (0.0, 0.0))


CLEAR_M = 0.06
"""A letter so far from every other hose is clear of them."""


def place_letters(
    wishes: Sequence[Sequence[OutlinePoint]], apart: OutlinePoint, least: OutlinePoint, most: OutlinePoint
) -> list[OutlinePoint]:
    """Place each letter, in any one unit, at its first free wish, or else at the nearest free spot around that.

    Args:
        wishes: The spots each letter may have, the best first; at least one.
        apart: How far two letters must be apart, across or up.
        least: The lowest corner of the picture.
        most: The highest corner of the picture.
    """
    taken: list[OutlinePoint] = []
    for wished in wishes:
        kept = [_kept(spot, least, most) for spot in wished]
        found = (spot for spot in kept if _is_free(spot, taken, apart))
        taken.append(next(found, None) or _near(kept[0], taken, apart, least, most))
    return taken


def _kept(spot: OutlinePoint, least: OutlinePoint, most: OutlinePoint) -> OutlinePoint:
    return min(max(spot[0], least[0]), most[0]), min(max(spot[1], least[1]), most[1])


def _is_free(spot: OutlinePoint, taken: Iterable[OutlinePoint], apart: OutlinePoint) -> bool:
    return all(abs(spot[0] - x) >= apart[0] or abs(spot[1] - z) >= apart[1] for x, z in taken)


def _near(
    spot: OutlinePoint, taken: Sequence[OutlinePoint], apart: OutlinePoint, least: OutlinePoint, most: OutlinePoint
) -> OutlinePoint:
    """Find the nearest free spot in rings around a wish; the wish itself when the picture is full."""
    reach = int(max((most[0] - least[0]) / apart[0], (most[1] - least[1]) / apart[1])) + 1
    for ring in range(1, reach + 1):
        steps = range(-ring, ring + 1)
        around = ((i, j) for i in steps for j in steps if max(abs(i), abs(j)) == ring)
        for i, j in around:
            tried = (spot[0] + i * apart[0], spot[1] + j * apart[1])
            if tried == _kept(tried, least, most) and _is_free(tried, taken, apart):
                return tried
    return spot
