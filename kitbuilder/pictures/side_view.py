"""A diver lying face down, head to the left, with what pulls on him: pure text."""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from kitbuilder.pictures.dots import COLUMNS, ROWS, Dot, dot_lines, plain_lines

Outline = tuple[tuple[float, float], ...]

HEAD: Outline = ((-0.185, 0.0), (-0.17, 0.05), (-0.12, 0.065), (-0.07, 0.045), (-0.05, 0.03))
BACK: Outline = ((-0.05, 0.03), (0.0, 0.06), (0.1, 0.07), (0.22, 0.055), (0.3, 0.06), (0.5, 0.045), (0.75, 0.02))
FINS: Outline = ((0.75, 0.02), (0.83, 0.02), (1.02, 0.0), (0.83, -0.02), (0.75, -0.02))
FRONT: Outline = ((0.75, -0.02), (0.5, -0.045), (0.3, -0.05), (0.2, -0.06), (0.05, -0.07), (-0.03, -0.05))
CHIN: Outline = ((-0.03, -0.05), (-0.06, -0.05), (-0.12, -0.07), (-0.17, -0.05), (-0.185, 0.0))
ARM: Outline = ((0.0, -0.02), (0.06, -0.1), (-0.1, -0.13), (-0.18, -0.12))
FIGURE = (HEAD, BACK, FINS, FRONT, CHIN, ARM)
"""A figure from the side: along the body from the shoulders towards the feet, and towards the back, in statures.

Drawn for this picture after the heights of the body survey ANSUR II of 2012; it carries no numbers.
"""
LEFT, RIGHT = -0.22, 1.04


class Mark(NamedTuple):
    """One thing in the picture."""

    sign: str
    """One letter."""
    along: float
    """Below the shoulders, in statures."""
    behind: float
    """Towards the back, in statures."""
    length: float = 0.0
    """Of a cylinder, in statures; nought for a thing that is drawn as its letter alone."""
    radius: float = 0.0


def draw_lying(marks: Sequence[Mark], width: int, height: int, *, plain: bool = False) -> list[str]:
    """Lines of `width` by `height` cells; later marks lie over earlier ones."""
    if width < 16 or height < 3:
        return [""] * max(height, 0)
    scale = min((width * COLUMNS - 1) / (RIGHT - LEFT), (height * ROWS - 1) / 0.42)
    top = height * ROWS * 0.56

    def dot(along: float, behind: float) -> Dot:
        return round((along - LEFT) * scale), round(top - behind * scale)

    dots = [spot for outline in FIGURE for spot in _line(outline, dot)]
    for mark in marks:
        if mark.length:
            dots += _line(_cylinder(mark), dot)
    lines = plain_lines(dots, width, height, ".") if plain else dot_lines(dots, width, height)
    for mark in marks:
        x, y = dot(mark.along, mark.behind)
        column, row = min(max(x // COLUMNS, 0), width - 1), min(max(y // ROWS, 0), height - 1)
        lines[row] = lines[row][:column] + mark.sign + lines[row][column + 1 :]
    return lines


def _cylinder(mark: Mark) -> Outline:
    """A cylinder from the side: valve end to the left, round at the bottom."""
    left, right = mark.along - mark.length / 2, mark.along + mark.length / 2
    low, high = mark.behind - mark.radius, mark.behind + mark.radius
    bow = [
        (right - mark.radius + mark.radius * math.sin(a), mark.behind + mark.radius * math.cos(a))
        for a in (math.pi * step / 6 for step in range(7))
    ]
    return ((left, low), (left, high), *bow, (left, low))


def _line(outline: Sequence[tuple[float, float]], dot: object) -> Iterator[Dot]:
    assert callable(dot)
    for (x0, y0), (x1, y1) in pairwise(dot(*point) for point in outline):
        steps = max(1, abs(x1 - x0), abs(y1 - y0))
        for step in range(steps + 1):
            yield round(x0 + step / steps * (x1 - x0)), round(y0 + step / steps * (y1 - y0))
