"""The outline of a diver who lies face down, head to the left, and of the cylinders on him, from the side."""

import math
from typing import NamedTuple

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
    """One item in the picture."""

    sign: str
    """One letter."""
    along: float
    """Below the shoulders, in statures."""
    behind: float
    """Towards the back, in statures."""
    length: float = 0.0
    """Of a cylinder, in statures; zero for an item that is drawn as its letter alone."""
    radius: float = 0.0


def cylinder_outline(mark: Mark) -> Outline:
    """Draw a cylinder from the side: valve end to the left, round at the bottom."""
    left, right = mark.along - mark.length / 2, mark.along + mark.length / 2
    low, high = mark.behind - mark.radius, mark.behind + mark.radius
    bow = [
        (right - mark.radius + mark.radius * math.sin(a), mark.behind + mark.radius * math.cos(a))
        for a in (math.pi * step / 6 for step in range(7))
    ]
    return ((left, low), (left, high), *bow, (left, low))
