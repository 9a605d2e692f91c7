"""What the pictures of the balance show, in the reader's units: ticks, curves, and the letters on the diver."""

from collections.abc import Sequence
from itertools import count
from math import ceil, floor
from typing import NamedTuple

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.curves import Curves
from kitbuilder.assess.buoyancy.trim import Pull
from kitbuilder.kit.items import Cylinder, Jacket, Lead, Wing
from kitbuilder.pictures.plot import Tick
from kitbuilder.report.numbers import System, shown, unit
from kitbuilder.units import DIMENSIONS


class PlotRows(NamedTuple):
    """A plot in words: ticks of both axes and what the curves are."""

    x_ticks: tuple[Tick, ...]
    y_ticks: tuple[Tick, ...]
    title: str


class SpotMark(NamedTuple):
    """An item on the lying diver, in statures."""

    sign: str
    along: float
    behind: float
    length: float
    radius: float


def plot_rows(
    curves: Curves, system: System, *, bladder: str = "wing", wing_full: bool = False, plain: bool = False
) -> PlotRows:
    """Ticks at round numbers, and the title of a plot with the signs that are drawn."""
    values = [y for _, points in curves.lines for _, y in points]
    y_ticks = _kilograms(min(0.0, *values), max(0.0, *values), system)
    first, last = curves.lines[0][1][0][0], curves.lines[0][1][-1][0]
    measure = "depth" if curves.over == "depth" else "pressure"
    x_ticks = tuple((x, shown(x, measure, system)) for x in (first, *_middle(first, last, measure, system), last))
    whole, broken, mark = "ox#" if plain else "─╌◆"
    title = f"{whole} full {broken} reserve {mark} stop" if curves.over == "depth" else f"at the stop {mark} reserve"
    return PlotRows(x_ticks, y_ticks, f"Buoyancy, {bladder} {'full' if wing_full else 'empty'} {title}")


def _middle(first: float, last: float, measure: str, system: System) -> tuple[float, ...]:
    """A round number near the middle of an axis; none on an axis too short for one."""
    step = ROUND[measure][system] * DIMENSIONS[ROUND_OF[measure]].units[unit(measure, system)]
    middle = round((first + last) / 2 / step) * step
    return (middle,) if min(first, last) < middle < max(first, last) else ()


ROUND = {
    "depth": {System.METRIC: 5, System.IMPERIAL: 10},
    "pressure": {System.METRIC: 10, System.IMPERIAL: 100},
}
"""What the tick in the middle of an axis is a multiple of, in the unit shown."""
ROUND_OF = {"depth": "length", "pressure": "pressure"}
"""The dimension of each of these measures."""


def _kilograms(low: float, high: float, system: System) -> tuple[Tick, ...]:
    """Nought, and the ends at whole steps around the values."""
    factor = DIMENSIONS["buoyancy"].units[unit("lift", system)]
    span = (high - low) / factor
    step = next(digit * 10**power for power in count() for digit in (1, 2, 5) if span / (digit * 10**power) <= 6)
    bottom, top = floor(low / factor / step - 1e-9), max(ceil(high / factor / step + 1e-9), 1)
    ends = sorted({bottom * step, 0, top * step})
    word = unit("lift", system)
    return tuple((value * factor, _signed(value, word if value == ends[-1] else "")) for value in ends)


def _signed(value: int, word: str) -> str:
    sign = "−" if value < 0 else "+" if value > 0 else ""
    return f"{sign}{abs(value)} {word}".strip()


def spot_marks(balance: Balance) -> tuple[SpotMark, ...]:
    """Cylinders, bladder and lead, and what else pulls by half a kilogram or more."""
    stature, marks = balance.buoyancy_model.body.stature.value, []
    vessels = dict(balance.buoyancy_model.vessels)
    for spot in sorted(balance.trim.spots, key=lambda spot: _rank(balance, spot)):
        if not (sign := _sign(balance, spot)):
            continue
        vessel = vessels.get(spot.item) if spot.item is not None else None
        length, radius = (vessel.length_m / stature, vessel.diameter_m / 2 / stature) if vessel else (0.0, 0.0)
        marks.append(SpotMark(sign, spot.along_m / stature, spot.behind_m / stature, length, radius))
    return tuple(marks)


def _sign(balance: Balance, spot: Pull) -> str:
    if spot.item is None:
        return ""
    item = balance.buoyancy_model.kit.items[spot.item]
    if isinstance(item, Lead):
        return "L"
    if isinstance(item, Cylinder):
        return "C"
    if isinstance(item, (Wing, Jacket)):
        return "W"
    value = spot.reserve.value
    return "" if abs(value) < 0.5 else "+" if value > 0 else "−"


def _rank(balance: Balance, spot: Pull) -> int:
    order: Sequence[str] = ("+", "−", "C", "W", "L")
    sign = _sign(balance, spot)
    return order.index(sign) if sign else -1


MARKS = "Trim: L lead  C cylinder  W bladder  + floats  − sinks"
"""What the letters stand for."""
BRIEF_MARKS = "L lead C cylinder W bladder"
"""The same where room is scarce."""
