"""The words on the pictures of the balance: ticks in the reader's units, what the curves are, what the letters mean."""

from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.curves import Curves
from kitbuilder.assess.buoyancy.trim import Trim, turn_of
from kitbuilder.pictures.plot import PlotCurve, PlotData, Tick
from kitbuilder.pictures.side_view import Turning
from kitbuilder.pictures.ticks import RoundTick, round_middle, round_ticks
from kitbuilder.report.numbers import System, shown, signed_count, unit, unit_size

ROUND = {
    "depth": {System.METRIC: 5, System.IMPERIAL: 10},
    "pressure": {System.METRIC: 10, System.IMPERIAL: 100},
}
"""What the tick in the middle of an axis is a multiple of, in the unit shown."""


def plot_data(curves: Curves, system: System) -> PlotData:
    """Give the plot of a balance with its words: ticks at round numbers, the name of each curve, the stop."""
    values = [y for _, points in curves.lines for _, y in points]
    is_over_depth = curves.over == "depth"
    return PlotData(
        curves=[PlotCurve(points, name) for name, points in curves.lines],
        x_ticks=_x_ticks(curves, system),
        y_ticks=_y_ticks(round_ticks(values, unit_size("lift", system)), system),
        x_name="depth" if is_over_depth else "gas left",
        above="floats",
        below="sinks",
        mark=curves.stop,
        mark_label=f"stop, {shown(curves.stop[0], 'depth', system)}" if is_over_depth else "reserve",
    )


def plot_title(balance: Balance) -> str:
    """Say what a plot of a balance shows, and with how much gas in the bladder."""
    return f"Buoyancy over the dive, {balance.bladder} {'full' if balance.switches.wing_full else 'empty'}"


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
    words = [signed_count(tick.number) for tick in ticks]
    words[-1] += f" {unit('lift', system)}"
    return tuple((tick.place, word) for tick, word in zip(ticks, words, strict=True))


def turning_of(trim: Trim) -> Turning:
    """Say which way the arrows of the trim point, with the reserve, when the lead has to hold the stop."""
    end = trim.end
    head = turn_of(end.moment).head
    return Turning(1 if head == "down" else -1, f"head {head}, or level" if end.may_be_level else f"head {head}")


MARKS = "Trim: L lead  C cylinder  W bladder  + floats  − sinks"
"""What the letters stand for."""
BRIEF_MARKS = "L lead C cylinder W bladder"
"""The same where room is scarce."""
