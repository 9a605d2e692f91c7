"""Curves over an axis, with the zero line and ticks in words: pure text."""

from collections.abc import Iterator, Sequence

from kitbuilder.pictures.dots import COLUMNS, ROWS, Dot, dot_lines, line_between, plain_lines

PlotPoint = tuple[float, float]
Tick = tuple[float, str]

SIGNS = "ox+"
"""Of the curves, where dots are not drawn."""


def draw_plot(  # noqa: PLR0913 - two axes, two sizes and what lies on them
    curves: Sequence[Sequence[PlotPoint]],
    x_ticks: Sequence[Tick],
    y_ticks: Sequence[Tick],
    width: int,
    height: int,
    *,
    mark: PlotPoint | None = None,
    plain: bool = False,
) -> list[str]:
    """Draw a plot in `width` by `height` cells: labels to the left, curves, and the labels of the axis below.

    Args:
        curves: Points in any one pair of units; the first curve is drawn whole, the second broken.
        x_ticks: Places and words below; the first and the last are the ends of the axis, in the order drawn.
        y_ticks: Places and words to the left; the lowest and the highest are the ends.
        width: Cells across.
        height: Cells down.
        mark: One point to point out.
        plain: Signs instead of braille dots.
    """
    margin = max(len(words) for _, words in y_ticks) + 1
    across, down = width - margin, height - 1
    if across < 8 or down < 3:
        return [""] * max(height, 0)
    scale = _PlotScale(x_ticks[0][0], x_ticks[-1][0], y_ticks[0][0], y_ticks[-1][0], across, down)
    if plain:
        grid = _plain_grid(curves, scale, across, down)
    else:
        dots = [dot for number, curve in enumerate(curves) for dot in _broken(scale.line(curve), number)]
        grid = dot_lines([*dots, *scale.zero_line()], across, down)
    if mark is not None:
        x, y = scale.dot(mark)
        row, column = min(y // ROWS, down - 1), min(x // COLUMNS, across - 1)
        grid[row] = f"{grid[row][:column]}◆{grid[row][column + 1 :]}" if not plain else _put(grid[row], column, "#")
    labels = {min(scale.dot((x_ticks[0][0], y))[1] // ROWS, down - 1): words for y, words in y_ticks}
    lines = [f"{labels.get(number, ''):>{margin - 1}} {row}" for number, row in enumerate(grid)]
    return [*lines, " " * margin + _axis(x_ticks, scale, across)]


class _PlotScale:
    """From values to dots."""

    def __init__(self, left: float, right: float, low: float, high: float, across: int, down: int) -> None:  # noqa: PLR0913 - the ends of both axes
        self.left, self.low, self.high = left, low, high
        self.columns, self.rows = across * COLUMNS, down * ROWS
        self.per_x = (self.columns - 1) / ((right - left) or 1.0)
        self.per_y = (self.rows - 1) / (high - low)

    def dot(self, point: PlotPoint) -> Dot:
        """Find the dot of a point."""
        x, y = point
        return round((x - self.left) * self.per_x), round((self.high - y) * self.per_y)

    def line(self, curve: Sequence[PlotPoint]) -> Iterator[Dot]:
        """List the dots of a curve, without gaps."""
        return line_between(map(self.dot, curve))

    def zero_line(self) -> list[Dot]:
        """Give the dots of a thin line at zero."""
        _, row = self.dot((self.left, 0.0))
        return [(x, row) for x in range(0, self.columns, 4)]


def _broken(dots: Iterator[Dot], number: int) -> Iterator[Dot]:
    """List every dot of the first curve, and short dashes of the others."""
    return (dot for dot in dots if number == 0 or dot[0] % 6 < 3)


def _plain_grid(curves: Sequence[Sequence[PlotPoint]], scale: _PlotScale, across: int, down: int) -> list[str]:
    grid = plain_lines(scale.zero_line(), across, down, "-")
    for number, curve in enumerate(curves):
        layer = plain_lines(scale.line(curve), across, down, SIGNS[number % len(SIGNS)])
        grid = [
            "".join(new if new != " " else old for old, new in zip(*rows, strict=True))
            for rows in zip(grid, layer, strict=True)
        ]
    return grid


def _put(line: str, column: int, sign: str) -> str:
    return line[:column] + sign + line[column + 1 :]


def _axis(ticks: Sequence[Tick], scale: _PlotScale, across: int) -> str:
    """Write the labels below the axis, each centred on its place; one that would run into another is left out."""
    line = " " * across
    for x, words in sorted(ticks, key=lambda tick: tick is not ticks[0] and tick is not ticks[-1]):
        centre = scale.dot((x, 0.0))[0] // COLUMNS
        start = max(0, min(centre - len(words) // 2, across - len(words)))
        room = line[max(0, start - 1) : start + len(words) + 1]
        if not room.strip():
            line = line[:start] + words + line[start + len(words) :]
    return line
