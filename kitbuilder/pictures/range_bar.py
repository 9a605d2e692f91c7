"""A figure and the range it may lie in, as a bar of one line on a scale that several bars share."""

from collections.abc import Iterable

from kitbuilder.assess.figures import Figure
from kitbuilder.pictures.ticks import RoundTick, round_ticks

SIGNS = {False: ("├", "─", "┤", "●"), True: ("|", "-", "|", "o")}
"""The lower end, the range, the upper end and the value; in plain signs where asked for."""


def scale_end(figures: Iterable[Figure], unit: float) -> RoundTick:
    """Find a round number that no figure exceeds with its spread.

    Args:
        figures: In SI.
        unit: The size in SI of the unit that is shown.
    """
    return round_ticks([0.0, *(figure.value + figure.sides[1] for figure in figures)], unit)[-1]


def draw_range(figure: Figure, end: float, width: int, *, plain: bool) -> str:
    """Draw a figure with its range on a scale from zero, in `width` cells; what is below zero begins without an end.

    Args:
        figure: The value and what it may be.
        end: What the last cell stands for, in the unit of the figure.
        width: Cells across.
        plain: ASCII signs.
    """
    if width < 1 or end <= 0:
        return " " * max(width, 0)
    low, high = figure.value - figure.sides[0], figure.value + figure.sides[1]
    start, middle, stop = (round(min(max(place, 0.0), end) / end * (width - 1)) for place in (low, figure.value, high))
    lower, line, upper, point = SIGNS[plain]
    cells = [" "] * width
    cells[start : stop + 1] = line * (stop - start + 1)
    cells[start] = lower if low >= 0 else line
    cells[stop] = upper if high <= end else line
    cells[middle] = point
    return "".join(cells)


def scale_head(first: str, name: str, last: str, width: int) -> str:
    """Write the ends of a scale over its bars, and what it is of between them where there is room."""
    between = width - len(first) - len(last)
    if between < len(name) + 2:
        name = ""
    return f"{first}{name:^{max(between, 1)}}{last}"
