"""A hose at rest over its free span: the line of the body, the hose, and how far it stands off, to scale."""

from collections.abc import Sequence

from kitbuilder.pictures.dots import COLUMNS, ROWS, dot_lines, line_between, plain_lines

SpanPoint = tuple[float, float]


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
