"""Numbers as a diver reads them: a unit, an honest number of digits, a true minus sign."""

from enum import Enum
from math import floor, log10
from typing import NamedTuple

from kitbuilder.assess.figures import NEGLIGIBLE, Figure, Range, are_lopsided
from kitbuilder.foreign import NO_BREAK
from kitbuilder.units import DIMENSIONS, convert

MINUS = "\N{MINUS SIGN}"


class System(Enum):
    """The units items are shown in."""

    METRIC = "metric"
    IMPERIAL = "imperial"

    # A member is one object; Enum's own hash goes by its name and is looked up for every number shown.
    __hash__ = object.__hash__

    @property
    def other(self) -> "System":
        """The other one."""
        return System.IMPERIAL if self is System.METRIC else System.METRIC


class DisplayUnit(NamedTuple):
    """The unit and the digits a measure is shown with."""

    dimension: str
    unit: str
    decimals: int
    signed: bool = False
    label: str = ""
    """The unit as shown, when it is not the unit's name."""


MEASURES: dict[str, dict[System, DisplayUnit]] = {
    "length": {System.METRIC: DisplayUnit("length", "cm", 0), System.IMPERIAL: DisplayUnit("length", "in", 1)},
    "radius": {System.METRIC: DisplayUnit("length", "cm", 1), System.IMPERIAL: DisplayUnit("length", "in", 1)},
    "bore": {System.METRIC: DisplayUnit("length", "mm", 1), System.IMPERIAL: DisplayUnit("length", "in", 2)},
    "thickness": {System.METRIC: DisplayUnit("length", "mm", 0), System.IMPERIAL: DisplayUnit("length", "in", 2)},
    "slack": {
        System.METRIC: DisplayUnit("length", "cm", 0, signed=True),
        System.IMPERIAL: DisplayUnit("length", "in", 1, signed=True),
    },
    "reach": {
        System.METRIC: DisplayUnit("length", "cm", 0, signed=True),
        System.IMPERIAL: DisplayUnit("length", "in", 0, signed=True),
    },
    "hose mass": {System.METRIC: DisplayUnit("mass", "g", 0), System.IMPERIAL: DisplayUnit("mass", "oz", 1)},
    "hose buoyancy": {
        System.METRIC: DisplayUnit("buoyancy", "g", 0, signed=True),
        System.IMPERIAL: DisplayUnit("buoyancy", "oz", 1, signed=True),
    },
    "mass": {System.METRIC: DisplayUnit("mass", "kg", 2), System.IMPERIAL: DisplayUnit("mass", "lb", 2)},
    "buoyancy": {
        System.METRIC: DisplayUnit("buoyancy", "kg", 2, signed=True),
        System.IMPERIAL: DisplayUnit("buoyancy", "lb", 2, signed=True),
    },
    "lead": {System.METRIC: DisplayUnit("mass", "kg", 1), System.IMPERIAL: DisplayUnit("mass", "lb", 1)},
    "lead change": {
        System.METRIC: DisplayUnit("mass", "kg", 1, signed=True),
        System.IMPERIAL: DisplayUnit("mass", "lb", 1, signed=True),
    },
    "lift": {
        System.METRIC: DisplayUnit("buoyancy", "kg", 1, signed=True),
        System.IMPERIAL: DisplayUnit("buoyancy", "lb", 1, signed=True),
    },
    "body mass": {System.METRIC: DisplayUnit("mass", "kg", 0), System.IMPERIAL: DisplayUnit("mass", "lb", 0)},
    "depth": {System.METRIC: DisplayUnit("length", "m", 0), System.IMPERIAL: DisplayUnit("length", "ft", 0)},
    "pressure": {System.METRIC: DisplayUnit("pressure", "bar", 0), System.IMPERIAL: DisplayUnit("pressure", "psi", 0)},
    "oxygen pressure": {
        System.METRIC: DisplayUnit("pressure", "bar", 2),
        System.IMPERIAL: DisplayUnit("pressure", "bar", 2),
    },
    "drop": {System.METRIC: DisplayUnit("pressure", "bar", 1), System.IMPERIAL: DisplayUnit("pressure", "psi", 0)},
    "volume": {
        System.METRIC: DisplayUnit("volume", "L", 1),
        System.IMPERIAL: DisplayUnit("volume", "ft3", 2, label="ft³"),
    },
    "gas": {
        System.METRIC: DisplayUnit("volume", "L", 0),
        System.IMPERIAL: DisplayUnit("volume", "ft3", 1, label="ft³"),
    },
    "flow": {System.METRIC: DisplayUnit("flow", "L/min", 0), System.IMPERIAL: DisplayUnit("flow", "L/min", 0)},
    "pitch": {System.METRIC: DisplayUnit("angle", "°", 0), System.IMPERIAL: DisplayUnit("angle", "°", 0)},
    "turn": {
        System.METRIC: DisplayUnit("moment", "kg m", 1, label="kg·m"),
        System.IMPERIAL: DisplayUnit("moment", "lb ft", 1, label="lb·ft"),
    },
    "moment": {
        System.METRIC: DisplayUnit("moment", "kg m", 1, signed=True, label="kg·m"),
        System.IMPERIAL: DisplayUnit("moment", "lb ft", 1, signed=True, label="lb·ft"),
    },
    "torque": {
        System.METRIC: DisplayUnit("torque", "Nm", 1, label="N·m"),
        System.IMPERIAL: DisplayUnit("torque", "lbf·in", 0),
    },
    "density": {
        System.METRIC: DisplayUnit("density", "kg/m3", 0, label="kg/m³"),
        System.IMPERIAL: DisplayUnit("density", "lb/ft3", 1, label="lb/ft³"),
    },
    "energy": {System.METRIC: DisplayUnit("energy", "Wh", 1), System.IMPERIAL: DisplayUnit("energy", "Wh", 1)},
    "thread": {System.METRIC: DisplayUnit("length", "mm", 3), System.IMPERIAL: DisplayUnit("length", "in", 4)},
}
"""Every measure that is shown, by name."""


def digits(value_si: float, measure: str, system: System, decimals: int | None = None) -> str:
    """Write the number alone, with its sign if the measure has one; never "-0".

    With the decimals of the measure, unless others are given; -1 rounds to tens.
    """
    shape = MEASURES[measure][system]
    decimals = shape.decimals if decimals is None else decimals
    number = f"{round(convert(abs(value_si), shape.unit, shape.dimension), decimals):.{max(decimals, 0)}f}"
    if not (value_si < 0 or shape.signed) or not number.strip("0."):
        return number
    return (MINUS if value_si < 0 else "+") + number


def signed_count(number: int) -> str:
    """Write a whole number with its sign; zero has none."""
    return f"{MINUS if number < 0 else '+' if number > 0 else ''}{abs(number)}"


def unit(measure: str, system: System) -> str:
    """Give the unit of a measure, as shown."""
    shape = MEASURES[measure][system]
    return shape.label or shape.unit


def unit_size(measure: str, system: System) -> float:
    """Give the size of the unit of a measure in SI: 0.3048 for a foot."""
    shape = MEASURES[measure][system]
    return DIMENSIONS[shape.dimension].units[shape.unit]


def shown(value_si: float, measure: str, system: System) -> str:
    """Write a number with its unit: "11 cm". A degree sign follows its number without a space: "12°"."""
    word = unit(measure, system)
    return f"{digits(value_si, measure, system)}{'' if word == '°' else ' '}{word}"


class FigureDigits(NamedTuple):
    """A figure as numbers without a unit, none finer than its spread."""

    value: str
    spread: str
    """Without a sign; empty where the two sides differ."""
    low: str = ""
    high: str = ""
    """The ends of the range, where the two sides differ."""


def figure_digits(figure: Figure, measure: str, system: System) -> FigureDigits:
    """Write a figure to two digits of its spread, or to the digits of the measure where those are fewer.

    A small spread is rounded up to the last digit, never to zero. Source: JCGM 100:2008, 7.2.6.
    """
    below, above = figure.sides
    decimals = _decimals((below + above) / 2, measure, system)
    value = digits(figure.value, measure, system, decimals)
    if are_lopsided(below, above):
        low, high = (digits(figure.value + side, measure, system, decimals) for side in (-below, above))
        return FigureDigits(value, "", low, high)
    spread = digits((below + above) / 2, measure, system, decimals).lstrip("+")
    if above > NEGLIGIBLE and not spread.strip("0."):
        spread = spread[:-1] + "1"
    return FigureDigits(value, spread)


def is_shown_as_zero(figure: Figure, measure: str, system: System) -> bool:
    """Say whether all digits of a figure that are shown are zeros."""
    return not figure_digits(figure, measure, system).value.strip(f"{MINUS}+0.")


SPREAD_DIGITS = 2
"""Digits of a spread that are shown at most."""


def _decimals(spread: float, measure: str, system: System) -> int:
    shape = MEASURES[measure][system]
    if spread <= NEGLIGIBLE:
        return shape.decimals
    # Rounded first: 0.998 is shown as 1.0, not as 1.00.
    size = float(f"{convert(spread, shape.unit, shape.dimension):.{SPREAD_DIGITS - 1}e}")
    return min(shape.decimals, SPREAD_DIGITS - 1 - floor(log10(size)))


def with_spread(figure: Figure, measure: str, system: System) -> str:
    """Write a figure with its spread: "282 ± 46 g", or with its range where the sides differ: "14.0 (12.2 to 15.4) kg".

    A degree sign follows each number.
    """
    value, spread, low, high = figure_digits(figure, measure, system)
    word = unit(measure, system)
    sign, end = ("°", "") if word == "°" else ("", f" {word}")
    if not spread:
        return f"{value}{sign} ({low}{sign} to {high}{sign}){end}"
    return f"{value}{sign} ± {spread}{sign}{end}"


def with_range(found: Range, measure: str, system: System) -> str:
    """Write a value with the ends of its range: "11 cm (9 to 13)"."""
    low, high = digits(found.low, measure, system), digits(found.high, measure, system)
    return f"{shown(found.value, measure, system)} ({low} to {high})"


def about(value: float, low: float, high: float, measure: str, system: System) -> str:
    """Write a value and the ends of its range for a sentence: "about 3 kg, anything from 0.5 to 6".

    All three are rounded to 1 or 5 of the decimal place that is at most a quarter of the half range, so that no digit
    is finer than the spread, and never finer than the measure is shown.
    """
    shape, unit_si = MEASURES[measure][system], unit_size(measure, system)
    half = (high - low) / 2 / unit_si
    if half <= NEGLIGIBLE:
        return shown(value, measure, system)
    step = max(_round_step(half / 4), 10.0**-shape.decimals)
    decimals = max(0, -floor(log10(step)))
    rounded = (round(each / unit_si / step) * step * unit_si for each in (value, low, high))
    middle, least, most = (_without_zeros(digits(each, measure, system, decimals)) for each in rounded)
    word = unit(measure, system)
    ends = f", anything from {least} to {most}" if least != most else ""
    return f"about {middle}{'' if word == '°' else NO_BREAK}{word}{ends}"


def _without_zeros(number: str) -> str:
    """Leave out zeros behind the decimal point: "3" for "3.0"."""
    return number.rstrip("0").rstrip(".") if "." in number else number


def _round_step(size: float) -> float:
    """Give the largest of 1 and 5 times a power of ten that is not above a size."""
    power = 10.0 ** floor(log10(size))
    return max(step * power for step in (1, 5) if step * power <= size * (1 + NEGLIGIBLE))


def percent(share: Figure | float) -> str:
    """Write a part of a whole, or a probability, in per cent: "50 %", with a spread "50 ± 1 %".

    A spread is no less than 1 %. Without one, what is not quite all or nothing does not read as if it were.
    """
    value, spread = (share.value, share.spread) if isinstance(share, Figure) else (share, 0.0)
    if spread > NEGLIGIBLE:
        return f"{100 * value:.0f} ± {max(100 * spread, 1.0):.0f} %"
    if 0.99 < value < 1:
        return "over 99 %"
    if 0 < value < 0.01:
        return "under 1 %"
    return f"{100 * value:.0f} %"


LONGEST_SECONDS = 120.0
"""A longer time is written in minutes."""


def duration(found: Range) -> str:
    """Write a time with the ends of its range, to two digits each: "80 s (43 to 180)", "18 min (6.5 to 49)"."""
    value, _, low, high, word = duration_digits(found)
    return f"{value} {word} ({low} to {high})"


def duration_digits(found: Range) -> tuple[str, str, str, str, str]:
    """Write value, spread, both ends and unit of a time, each to two digits; it has ends, and no spread."""
    if found.value <= LONGEST_SECONDS:
        return _two_digits(found.value), "", _two_digits(found.low), _two_digits(found.high), "s"
    low, value, high = (_two_digits(each / 60) for each in (found.low, found.value, found.high))
    return value, "", low, high, "min"


def _two_digits(value: float) -> str:
    return f"{float(f'{value:.2g}'):g}"
