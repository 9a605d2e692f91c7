"""The words on the pictures of the balance: ticks in the reader's units, what the curves are, what the letters mean."""

from typing import NamedTuple

from kitbuilder.assess.buoyancy.curves import Curves
from kitbuilder.pictures.plot import Tick
from kitbuilder.pictures.ticks import RoundTick, ends_and_zero, round_middle
from kitbuilder.report.numbers import MINUS, System, shown, unit, unit_size


class PlotRows(NamedTuple):
    """A plot in words: ticks of both axes and what the curves are."""

    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    title: str


ROUND = {
    "depth": {System.METRIC: 5, System.IMPERIAL: 10},
    "pressure": {System.METRIC: 10, System.IMPERIAL: 100},
}
"""What the tick in the middle of an axis is a multiple of, in the unit shown."""


def plot_rows(
    curves: Curves, system: System, *, bladder: str = "wing", wing_full: bool = False, plain: bool = False
) -> PlotRows:
    """Give ticks at round numbers, and the title of a plot with the signs that are drawn."""
    values = [y for _, points in curves.lines for _, y in points]
    whole, broken, mark = "ox#" if plain else "─╌◆"
    title = f"{whole} full {broken} reserve {mark} stop" if curves.over == "depth" else f"at the stop {mark} reserve"
    return PlotRows(
        _x_ticks(curves, system),
        _y_ticks(ends_and_zero(values, unit_size("lift", system)), system),
        f"Buoyancy, {bladder} {'full' if wing_full else 'empty'} {title}",
    )


def _x_ticks(curves: Curves, system: System) -> tuple[Tick, ...]:
    """Give both ends of the axis, and a round number between them."""
    points = curves.lines[0][1]
    first, last = points[0][0], points[-1][0]
    measure = "depth" if curves.over == "depth" else "pressure"
    middle = round_middle(first, last, ROUND[measure][system] * unit_size(measure, system))
    places = (first, last) if middle is None else (first, middle, last)
    return tuple((place, shown(place, measure, system)) for place in places)


def _y_ticks(ticks: tuple[RoundTick, ...], system: System) -> tuple[Tick, ...]:
    """Give the numbers of the axis with their signs, the unit at the highest only."""
    words = [_signed(tick.number) for tick in ticks]
    words[-1] += f" {unit('lift', system)}"
    return tuple((tick.place, word) for tick, word in zip(ticks, words, strict=True))


def _signed(number: int) -> str:
    return f"{MINUS if number < 0 else '+' if number > 0 else ''}{abs(number)}"


MARKS = "Trim: L lead  C cylinder  W bladder  + floats  − sinks"
"""What the letters stand for."""
BRIEF_MARKS = "L lead C cylinder W bladder"
"""The same where room is scarce."""
