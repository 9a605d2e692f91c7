"""Curves over an axis: the area between two curves, or a curve and zero, is filled; words stand at the curves."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.pictures.canvas import Canvas, StyledText
from kitbuilder.pictures.dots import COLUMNS, ROWS, Dot, line_between

PlotPoint = tuple[float, float]
Tick = tuple[float, str]

SIGNS = "ox+"
"""Of the curves, where dots are not drawn."""
STOP, PLAIN_STOP = "◆", "#"
"""The point that is marked, in dots and in plain signs."""
UNDER_WORDS = ("fill", "zero")
"""What words may cover."""
LEAST_ACROSS, LEAST_DOWN = 8, 3
"""Cells below which a plot would be unreadable."""


class PlotCurve(NamedTuple):
    """One curve and what it stands for."""

    points: Sequence[PlotPoint]
    """In any one pair of units; drawn whole if it is the first, in dashes otherwise."""
    label: str = ""


class PlotData(NamedTuple):
    """Everything that is drawn."""

    curves: Sequence[PlotCurve]
    x_ticks: Sequence[Tick]
    """Places and words below; the first and the last are the ends of the axis, in the order drawn."""
    y_ticks: Sequence[Tick]
    """Places and words to the left, the lowest first; the lowest and the highest are the ends."""
    x_name: str = ""
    above: str = ""
    """What it means to be above zero."""
    below: str = ""
    mark: PlotPoint | None = None
    """One point to point out."""
    mark_label: str = ""


def draw_plot(data: PlotData, width: int, height: int, *, plain: bool = False) -> list[list[StyledText]]:
    """Draw a plot in `width` by `height` cells, each piece with its role.

    Roles are "axis", "label", "fill", "zero", "curve" (the first), "second" (the others), "mark".
    """
    margin = max(len(words) for _, words in data.y_ticks) + 2
    across, down = width - margin, height - 1
    if across < LEAST_ACROSS or down < LEAST_DOWN:
        return [[] for _ in range(max(height, 0))]
    scale = PlotScale(data, across, down)
    canvas = Canvas(across, down, plain=plain)
    canvas.paint(_fill(data.curves, scale), "fill", ".")
    canvas.paint(scale.zero_line(), "zero", "-")
    for number, curve in reversed([*enumerate(data.curves)]):
        role = "curve" if number == 0 else "second"
        canvas.paint(_broken(scale.line(curve.points), number), role, SIGNS[number % len(SIGNS)])
    _write_words(canvas, data, scale)
    left = left_axis(data.y_ticks, scale, margin, down, plain)
    rows = [[*axis, *row] for axis, row in zip(left, canvas.rows(), strict=True)]
    return [*rows, lower_axis(data, scale, margin, across, plain)]


class PlotScale:
    """From values to dots."""

    def __init__(self, data: PlotData, across: int, down: int) -> None:
        """Lay the axes of a plot over so many cells."""
        self.left, right = data.x_ticks[0][0], data.x_ticks[-1][0]
        low, self.high = data.y_ticks[0][0], data.y_ticks[-1][0]
        self.columns, self.rows = across * COLUMNS, down * ROWS
        self.per_x = (self.columns - 1) / ((right - self.left) or 1.0)
        self.per_y = (self.rows - 1) / (self.high - low)

    def dot(self, point: PlotPoint) -> Dot:
        """Find the dot of a point."""
        x, y = point
        return round((x - self.left) * self.per_x), round((self.high - y) * self.per_y)

    def cell(self, point: PlotPoint) -> tuple[int, int]:
        """Find the cell of a point, by column and row; a point at an edge is inside."""
        x, y = self.dot(point)
        return min(max(x // COLUMNS, 0), self.columns // COLUMNS - 1), min(max(y // ROWS, 0), self.rows // ROWS - 1)

    def line(self, curve: Sequence[PlotPoint]) -> Iterator[Dot]:
        """List the dots of a curve, without gaps."""
        return line_between(map(self.dot, curve))

    def zero_line(self) -> list[Dot]:
        """Give the dots of a thin line at zero."""
        _, row = self.dot((self.left, 0.0))
        return [(x, row) for x in range(0, self.columns, 2)]


def _fill(curves: Sequence[PlotCurve], scale: PlotScale) -> Iterator[Dot]:
    """List one dot in eight between the first curve and the second, or zero where there is no second."""
    _, zero = scale.dot((scale.left, 0.0))
    edge = dict(scale.line(curves[1].points)) if len(curves) > 1 else {}
    for x, y in dict(scale.line(curves[0].points)).items():
        end = edge.get(x, zero)
        yield from (
            (x, between) for between in range(min(y, end) + 1, max(y, end)) if between % 2 == 0 == (x - between) % 4
        )


def _broken(dots: Iterator[Dot], number: int) -> Iterator[Dot]:
    """List every dot of the first curve, and short dashes of the others."""
    return (dot for dot in dots if number == 0 or dot[0] % 6 < 3)


# ---- words on the plot ----


def _write_words(canvas: Canvas, data: PlotData, scale: PlotScale) -> None:
    """Write what is marked, then the name of each curve at it, then what above and below zero mean."""
    if data.mark is not None:
        column, row = scale.cell(data.mark)
        sign = PLAIN_STOP if canvas.plain else STOP
        canvas.write(column, row, sign, "mark")
        words = data.mark_label
        beside = [(column + 2, row), *((column, row + by) for by in (-1, 1, -2, 2))]
        canvas.write_first([*beside, (column - len(words) - 1, row)], words, "mark", UNDER_WORDS)
    for curve in data.curves:
        canvas.write_first(_at_curve(curve, data.curves, scale), curve.label, "label", UNDER_WORDS)
    zero = scale.cell((scale.left, 0.0))[1]
    right = canvas.width - 1
    for words, rows in ((data.above, range(zero - 1, -1, -1)), (data.below, range(zero + 1, canvas.height))):
        corners = [(column, row) for row in rows for column in (1, right - len(words))]
        canvas.write_first(corners, words, "axis", UNDER_WORDS)


def _at_curve(curve: PlotCurve, curves: Sequence[PlotCurve], scale: PlotScale) -> Iterator[tuple[int, int]]:
    """List places beside a curve, from its end backwards: on the side where no other curve is, then on the other."""
    if not curve.points:
        return
    columns = scale.columns // COLUMNS
    long = len(curve.label)
    others = [other.points[-1][1] for other in curves if other is not curve and other.points]
    out = -1 if all(curve.points[-1][1] >= other for other in others) else 1
    rows = {x // COLUMNS: y // ROWS for x, y in scale.line(curve.points)}
    for by in (out, -out, 2 * out, -2 * out):
        for start in range(columns - long - 1, 0, -1):
            middle = rows.get(start + long // 2)
            if middle is not None:
                yield start, middle + by
    # A steep curve has room at its side only.
    for column, row in sorted(rows.items(), reverse=True):
        yield from ((column - long - 1, row), (column + 2, row))


# ---- axes ----


def left_axis(ticks: Sequence[Tick], scale: PlotScale, margin: int, down: int, plain: bool) -> list[list[StyledText]]:
    """Write the labels and the line of the axis; of two labels in one row, zero and the ends stay."""
    labels: dict[int, str] = {}
    ends = (ticks[0], ticks[-1])
    for place, words in sorted(ticks, key=lambda tick: (tick[0] != 0, tick not in ends)):
        labels.setdefault(scale.cell((scale.left, place))[1], words)
    line, tick = ("|", "+") if plain else ("│", "┤")
    return [
        [(f"{labels.get(row, ''):>{margin - 2}} ", "label"), (tick if row in labels else line, "axis")]
        for row in range(down)
    ]


def lower_axis(data: PlotData, scale: PlotScale, margin: int, across: int, plain: bool) -> list[StyledText]:
    """Write the line of the axis with its labels in it; one that would run into another is left out."""
    corner, line = ("+", "-") if plain else ("└", "─")
    canvas = Canvas(across, 1, plain=plain)
    canvas.write(0, 0, line * across, "axis")
    ends = (data.x_ticks[0], data.x_ticks[-1])
    for tick in sorted(data.x_ticks, key=lambda tick: tick not in ends):
        words = tick[1]
        start = scale.cell((tick[0], 0.0))[0] - len(words) // 2
        canvas.write_first([(max(1, min(start, across - len(words))), 0)], words, "label", ("axis",))
    middle = (across - len(data.x_name)) // 2
    places = [(middle + side * by, 0) for by in range(max(middle, 0)) for side in (1, -1)]
    canvas.write_first(places, data.x_name, "axis", ("axis",))
    return [(" " * (margin - 1), ""), (corner, "axis"), *canvas.rows()[0]]
