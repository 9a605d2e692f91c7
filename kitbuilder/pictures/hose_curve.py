"""A hose at rest over its free span: the line of the body, the hose, and how far it stands off, to scale."""

from collections.abc import Sequence
from itertools import dropwhile
from typing import NamedTuple

from kitbuilder.pictures.dots import COLUMNS, ROWS, dot_lines, line_between, plain_lines

SpanPoint = tuple[float, float]


class HoseCurve(NamedTuple):
    """A hose at rest, to be drawn wherever there is room."""

    points: Sequence[SpanPoint]
    """From hold to hold; x along the body, y away from it, in any one unit."""
    plain: bool = False
    """Whether it is drawn with signs instead of braille dots."""
    at_the_top: bool = False
    """Whether empty lines above it are left out, so that a flat hose lies close below its words."""

    def lines(self, width: int, height: int) -> list[str]:
        """Draw the hose and the line of the body in at most `height` lines of `width` cells."""
        drawn = draw_hose_curve(self.points, width, height, plain=self.plain)
        return [*dropwhile(lambda line: not line.strip(), drawn)] if self.at_the_top else drawn


def draw_hose_curve(curve: Sequence[SpanPoint], width: int, height: int, *, plain: bool = False) -> list[str]:
    """Draw the hose and the line of the body in lines of `width` by `height` cells.

    Args:
        curve: Points of the hose from hold to hold; x along the body, y away from it, in any one unit.
        plain: Signs instead of braille dots.
    """
    if width < 4 or height < 2 or len(curve) < 2:
        return [""] * max(height, 0)
    columns, rows = width * COLUMNS, height * ROWS
    left, right = min(x for x, _ in curve), max(x for x, _ in curve)
    top = max(y for _, y in curve)
    scale = min((columns - 3) / (right - left), (rows - 3) / top if top > 0 else float("inf"))
    across = round((columns - 1 - scale * (right - left)) / 2)
    base = rows - 1
    placed = [(across + scale * (x - left), base - 1 - scale * y) for x, y in curve]
    hose = list(line_between(placed))
    body = [(x, base) for x in range(columns) if x % 4 < 3]
    middle = round((placed[0][0] + placed[-1][0]) / 2)
    mark = [(middle, y) for y in range(round(base - 1 - scale * top), base) if y % 3 == 0]
    if not plain:
        return dot_lines([*hose, *body, *mark], width, height)
    layers = (
        plain_lines(body, width, height, "_"),
        plain_lines(mark, width, height, ":"),
        plain_lines(hose, width, height, "o"),
    )
    return ["".join(_topmost(cell) for cell in zip(*lines, strict=True)) for lines in zip(*layers, strict=True)]


def _topmost(cell: Sequence[str]) -> str:
    return next((sign for sign in reversed(cell) if sign != " "), " ")
