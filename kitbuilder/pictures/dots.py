"""A grid of dots drawn with braille characters, or with plain signs for fonts that lack them."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise
from math import ceil, floor

BRAILLE = 0x2800
DOT_BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))
"""Bit of each dot in a cell, by row then column (Unicode chart U+2800)."""
COLUMNS, ROWS = 2, 4
"""Dots in one cell of the terminal."""

Dot = tuple[int, int]

DotPlace = tuple[float, float]
"""Among the dots, between them too."""


def line_between(places: Iterable[DotPlace], nearest: Callable[[float], int] = round) -> Iterator[Dot]:
    """List the dots of a line through some places, without gaps.

    Args:
        places: Corners of the line, in dots.
        nearest: The dot next to a place, along either axis.
    """
    for (x0, y0), (x1, y1) in pairwise(places):
        steps = max(1, round(max(abs(x1 - x0), abs(y1 - y0))))
        for step in range(steps + 1):
            share = step / steps
            yield nearest(x0 + share * (x1 - x0)), nearest(y0 + share * (y1 - y0))


def inside(corners: Sequence[DotPlace]) -> Iterator[Dot]:
    """List the dots inside a closed outline, row by row; the last corner is joined to the first."""
    crossings: dict[int, list[float]] = {}
    for (x0, y0), (x1, y1) in pairwise((*corners, *corners[:1])):
        for row in range(ceil(min(y0, y1)), ceil(max(y0, y1))):
            x = x0 + (x1 - x0) * (row - y0) / (y1 - y0)
            crossings.setdefault(row, []).append(min(max(x, min(x0, x1)), max(x0, x1)))  # rounding may leave the line
    for row, places in sorted(crossings.items()):
        places.sort()
        for left, right in zip(places[::2], places[1::2], strict=True):
            yield from ((x, row) for x in range(ceil(left), floor(right) + 1))


def dot_lines(dots: Iterable[Dot], width: int, height: int) -> list[str]:
    """Draw lines of `width` by `height` cells with every (x, y) dot inside them set; y grows downward."""
    cells = [[0] * width for _ in range(height)]
    for x, y in dots:
        if 0 <= x < width * COLUMNS and 0 <= y < height * ROWS:
            cells[y // ROWS][x // COLUMNS] |= DOT_BITS[y % ROWS][x % COLUMNS]
    return ["".join(chr(BRAILLE + bits) if bits else " " for bits in row) for row in cells]


def plain_lines(dots: Iterable[Dot], width: int, height: int, sign: str = "*") -> list[str]:
    """Draw the same picture with one sign in each cell that has a dot."""
    cells = [[" "] * width for _ in range(height)]
    for x, y in dots:
        if 0 <= x < width * COLUMNS and 0 <= y < height * ROWS:
            cells[y // ROWS][x // COLUMNS] = sign
    return ["".join(row) for row in cells]
