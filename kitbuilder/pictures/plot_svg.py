"""The plot of `plot.py` as SVG: curves over an axis, the area between the first two filled, each named at its end."""

from collections.abc import Iterator, Sequence
from itertools import cycle

from kitbuilder.pictures.body_svg import HOSES
from kitbuilder.pictures.plot import PlotCurve, PlotData, PlotPoint
from kitbuilder.pictures.svg import GRID, INK, PAPER, QUIET, circle, drawing, path, tag, words_at

WIDTH, HEIGHT = 720, 300
LEFT, RIGHT, TOP, BOTTOM = 64.0, 610.0, 20.0, 262.0
"""The edges of the plot [px]; the names of the curves stand to the right of it."""
APART = 16.0
"""Between two lines of words [px]."""


def plot_svg(data: PlotData, title: str, said: str) -> str:
    """Write a plot as SVG.

    Args:
        data: What is drawn, with its words.
        title: What it shows.
        said: The same for those who listen, with what the curves say.
    """
    place = _Scale(data)
    curves = [*zip(data.curves, cycle(HOSES), strict=False)]
    parts = [
        *_grid(data, place),
        _area(data.curves, place),
        *(_curve(curve, place, colour, bool(number)) for number, (curve, colour) in enumerate(curves)),
        *_names(curves, place),
        *_mark(data, place),
    ]
    return drawing(parts, (WIDTH, HEIGHT), title, said)


class _Scale:
    """From values to pixels."""

    def __init__(self, data: PlotData) -> None:
        self.first, last = data.x_ticks[0][0], data.x_ticks[-1][0]
        low, self.high = data.y_ticks[0][0], data.y_ticks[-1][0]
        self.per_x = (RIGHT - LEFT) / ((last - self.first) or 1.0)
        self.per_y = (BOTTOM - TOP) / ((self.high - low) or 1.0)

    def of(self, point: PlotPoint) -> PlotPoint:
        """Find the pixel of a point."""
        return LEFT + (point[0] - self.first) * self.per_x, TOP + (self.high - point[1]) * self.per_y

    def line(self, points: Sequence[PlotPoint]) -> str:
        """Write points as the data of a path, without its first letter."""
        return " L".join(f"{x:.1f},{y:.1f}" for x, y in map(self.of, points))


def _grid(data: PlotData, place: _Scale) -> Iterator[str]:
    for value, words in data.y_ticks:
        _, y = place.of((place.first, value))
        yield path(f"M{LEFT},{y:.1f} H{RIGHT}", QUIET if not value else GRID, 1.2 if not value else 1.0)
        yield words_at(LEFT - 8, y + 4, words, size=13, anchor="end", css="tick")
    for value, words in data.x_ticks:
        x, _ = place.of((value, 0.0))
        yield path(f"M{x:.1f},{BOTTOM} v5", QUIET, 1.0)
        yield words_at(x, BOTTOM + 19, words, size=13, css="tick")
    yield words_at((LEFT + RIGHT) / 2, BOTTOM + 33, data.x_name, size=13, colour=QUIET, css="axis")
    _, zero = place.of((place.first, 0.0))
    for words, y, has_room in (
        (data.above, zero - 6, zero - TOP > APART),
        (data.below, zero + APART, BOTTOM - zero > APART),
    ):
        if has_room:
            yield words_at(LEFT + 8, y, words, size=13, colour=QUIET, anchor="start", css="axis")


def _area(curves: Sequence[PlotCurve], place: _Scale) -> str:
    """Fill what lies between the first two curves, or between the only one and zero."""
    first = curves[0].points
    ends = curves[1].points if len(curves) > 1 else [(x, 0.0) for x, _ in first]
    return tag("path", d=f"M{place.line([*first, *reversed(ends)])} Z", fill=HOSES[0], fill_opacity="0.08")


def _curve(curve: PlotCurve, place: _Scale, colour: str, is_dashed: bool) -> str:
    return path(f"M{place.line(curve.points)}", colour, 2.4, dash="7 6" if is_dashed else "", css="curve")


def _names(curves: Sequence[tuple[PlotCurve, str]], place: _Scale) -> Iterator[str]:
    """Write the name of each curve at its end, those that would touch apart from each other."""
    ends = sorted((place.of(curve.points[-1])[1], curve.label, colour) for curve, colour in curves if curve.points)
    last = -APART
    for y, label, colour in ends:
        last = max(y + 4, last + APART)
        yield words_at(RIGHT + 10, last, label, size=13, colour=colour, anchor="start", css="name")


def _mark(data: PlotData, place: _Scale) -> Iterator[str]:
    """Mark one point, its words above it on the side where there is room."""
    if data.mark is None:
        return
    x, y = place.of(data.mark)
    is_right = x > (LEFT + RIGHT) / 2
    yield circle(x, y, 5, INK, PAPER)
    beside = x - 10 if is_right else x + 10
    yield words_at(beside, y - 9, data.mark_label, size=13, weight="bold", anchor="end" if is_right else "start")
