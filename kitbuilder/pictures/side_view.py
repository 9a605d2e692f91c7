"""A diver lying face down, head to the left, with what pulls on him, the level line, and which way he turns."""

from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.pictures.canvas import Canvas, StyledText
from kitbuilder.pictures.dots import COLUMNS, ROWS, Dot, inside, line_between
from kitbuilder.pictures.side_outline import FIGURE, LEFT, RIGHT, Mark, cylinder_outline

UP, DOWN = {False: "▲", True: "^"}, {False: "▼", True: "v"}
"""The tips of the arrows, in dots and in plain signs."""
BEYOND = 0.09
"""Room beyond head and fins for the arrows, in statures."""
TALL = 0.42
"""From top to bottom, in statures."""
LEAST_WIDTH, LEAST_HEIGHT = 16, 3


class Turning(NamedTuple):
    """Which way a diver turns who lies level."""

    head_is: int
    """Plus where the head goes down, minus where it goes up, zero where nothing turns the diver."""
    words: str = ""
    """Stands at the arrow of the head."""


def draw_side_view(
    marks: Sequence[Mark], width: int, height: int, *, turning: Turning | None = None, plain: bool = False
) -> list[list[StyledText]]:
    """Draw the diver and the marks in lines of `width` by `height` cells; later marks cover earlier ones.

    Roles are "body", "item", "level", "sign" for the letters of the marks, and "turn" for arrows and their words.
    """
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return [[] for _ in range(max(height, 0))]
    left, right = LEFT - BEYOND, RIGHT + BEYOND
    scale = min((width * COLUMNS - 1) / (right - left), (height * ROWS - 1) / TALL)
    top = height * ROWS * 0.56

    def dot(along: float, behind: float) -> Dot:
        return round((along - left) * scale), round(top - behind * scale)

    canvas = Canvas(width, height, plain=plain)
    level = dot(0.0, 0.0)[1]
    canvas.paint(((x, level) for x in range(0, dot(right, 0.0)[0], 4)), "level", "-")
    body = {spot for outline in FIGURE for spot in line_between(dot(*place) for place in outline)}
    items: set[Dot] = set()
    for mark in marks:
        if mark.length:
            corners = [dot(*place) for place in cylinder_outline(mark)]
            items |= set(line_between(corners))
            body -= set(inside(corners))
    canvas.paint(body, "body", ".")
    canvas.paint(items, "item", "'")
    for mark in marks:
        x, y = dot(mark.along, mark.behind)
        column, row = min(max(x // COLUMNS, 0), width - 1), min(max(y // ROWS, 0), height - 1)
        canvas.write(column, row, mark.sign, "sign")
    if turning:
        ends = (dot(left, 0.0)[0] // COLUMNS, dot(right, 0.0)[0] // COLUMNS - 1)
        _draw_turn(canvas, turning, ends, level // ROWS)
    return canvas.rows()


def _draw_turn(canvas: Canvas, turning: Turning, ends: tuple[int, int], level: int) -> None:
    """Draw an arrow at the head and the opposite one at the fins, and the words above or below that of the head."""
    head, fins = ends
    way = (turning.head_is > 0) - (turning.head_is < 0)
    if way:
        shaft = "|" if canvas.plain else "│"
        for column, by in ((head, way), (min(fins, canvas.width - 1), -way)):
            canvas.write(column, level + by, shaft, "turn")
            canvas.write(column, level + 2 * by, (DOWN if by > 0 else UP)[canvas.plain], "turn")
    rows = [level + by * way for by in (3, 2, 4)] if way else [0]
    rows += [0, canvas.height - 1]
    places = [(column, row) for row in rows for column in (head, head + 2)]
    canvas.write_first(places, turning.words, "turn")
