"""Sets of changes as points: the mass that each saves in the bag, over the change of the lead there."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.pictures.canvas import Canvas, StyledText
from kitbuilder.pictures.plot import PlotData, PlotPoint, PlotScale, Tick, left_axis, lower_axis

NOW, PLAIN_NOW = "◆", "#"
"""The kit as it is, in dots and in plain signs."""
LEAST_ACROSS, LEAST_DOWN = 8, 3
"""Cells below which nothing could be read."""
FARTHEST = 3
"""Cells by which a letter may stand beside its place, where another one stands there."""


class FrontData(NamedTuple):
    """Everything that is drawn."""

    points: Sequence[tuple[PlotPoint, str]]
    """Change of lead and mass saved of each set, in any one pair of units, and the letter that stands there."""
    x_ticks: Sequence[Tick]
    """Places and words below; the first and the last are the ends of the axis."""
    y_ticks: Sequence[Tick]
    """Places and words to the left, the lowest first."""
    x_name: str = ""
    selected: str = ""
    """The letter of the set under the cursor."""


def draw_front(data: FrontData, width: int, height: int, *, plain: bool = False) -> list[list[StyledText]]:
    """Draw the sets in `width` by `height` cells, each piece with its role; empty lines where there is no room.

    Roles are "axis", "label", "zero", "mark" (the kit as it is), "curve" (a set) and "selected". A letter whose place
    is taken stands beside it.
    """
    margin = max(len(words) for _, words in data.y_ticks) + 2
    across, down = width - margin, height - 1
    if across < LEAST_ACROSS or down < LEAST_DOWN:
        return [[] for _ in range(max(height, 0))]
    axes = PlotData((), data.x_ticks, data.y_ticks, data.x_name)
    scale, canvas = PlotScale(axes, across, down), Canvas(across, down, plain=plain)
    canvas.paint(scale.zero_line(), "zero", "-")
    column, row = scale.cell((0.0, 0.0))
    canvas.write(column, row, PLAIN_NOW if plain else NOW, "mark")
    # What is selected takes its place first.
    for point, letter in sorted(data.points, key=lambda each: each[1] != data.selected):
        free = (place for place in _around(scale.cell(point)) if canvas.is_free(*place, 1, ("zero",)))
        place = next(free, None)
        if place is not None:
            canvas.write(*place, letter, "selected" if letter == data.selected else "curve")
    left = left_axis(data.y_ticks, scale, margin, down, plain)
    rows = [[*axis, *row] for axis, row in zip(left, canvas.rows(), strict=True)]
    return [*rows, lower_axis(axes, scale, margin, across, plain)]


def _around(cell: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """List a place and those around it, the nearest first."""
    column, row = cell
    steps = range(-FARTHEST, FARTHEST + 1)
    near = sorted(((abs(x) + 2 * abs(y), x, y) for x in steps for y in (-1, 0, 1)), key=lambda step: step[0])
    yield from ((column + x, row + y) for _, x, y in near)
