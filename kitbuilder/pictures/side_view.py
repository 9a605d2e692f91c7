"""A diver lying face down, head to the left, with what pulls on him: pure text."""

from collections.abc import Sequence

from kitbuilder.pictures.dots import COLUMNS, ROWS, Dot, dot_lines, line_between, plain_lines
from kitbuilder.pictures.side_outline import FIGURE, LEFT, RIGHT, Mark, cylinder_outline


def draw_side_view(marks: Sequence[Mark], width: int, height: int, *, plain: bool = False) -> list[str]:
    """Draw the diver and the marks in lines of `width` by `height` cells; later marks cover earlier ones."""
    if width < 16 or height < 3:
        return [""] * max(height, 0)
    scale = min((width * COLUMNS - 1) / (RIGHT - LEFT), (height * ROWS - 1) / 0.42)
    top = height * ROWS * 0.56

    def dot(along: float, behind: float) -> Dot:
        return round((along - LEFT) * scale), round(top - behind * scale)

    dots = [spot for outline in FIGURE for spot in line_between(dot(*place) for place in outline)]
    for mark in marks:
        if mark.length:
            dots += line_between(dot(*place) for place in cylinder_outline(mark))
    lines = plain_lines(dots, width, height, ".") if plain else dot_lines(dots, width, height)
    for mark in marks:
        x, y = dot(mark.along, mark.behind)
        column, row = min(max(x // COLUMNS, 0), width - 1), min(max(y // ROWS, 0), height - 1)
        lines[row] = lines[row][:column] + mark.sign + lines[row][column + 1 :]
    return lines
