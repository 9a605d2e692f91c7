"""The numbers of a cell apart from each other and from their unit, for a spreadsheet to calculate with."""

from typing import NamedTuple

from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.foreign import visible
from kitbuilder.report.lengths import written_length
from kitbuilder.report.numbers import MINUS, System, digits, duration_digits, figure_digits, percent, unit
from kitbuilder.report.page import (
    Amounts,
    Between,
    BothUnits,
    Cell,
    Duration,
    Estimate,
    Interval,
    InUnits,
    Price,
    Share,
    StockLength,
    is_sentence,
)


class NumberCell(NamedTuple):
    """Each number as plain digits with a decimal point, none finer than what people read; empty for none."""

    value: str = ""
    spread: str = ""
    low: str = ""
    high: str = ""
    unit: str = ""


def number_cell(cell: Cell, system: System) -> NumberCell | None:
    """Take a cell apart in the reader's units; None where it has no number that stands for all of it."""
    found = _taken_apart(cell, system)
    if found is None or not any(found[:4]):
        return None
    value, spread, low, high = map(_plain, found[:4])
    return NumberCell(value, spread, low, high, visible(found.unit))


def _taken_apart(cell: Cell, system: System) -> NumberCell | None:
    match cell:
        case bool() | Signal():
            return None
        case int():
            return NumberCell(str(cell))
        case Amount(value, measure) | Amounts((value,), measure):
            return NumberCell(digits(value, measure, system), unit=unit(measure, system))
        case Estimate(figure, measure):
            return NumberCell(*figure_digits(figure, measure, system), unit(measure, system))
        case Interval(found, measure):
            middle, least, most = (digits(each, measure, system) for each in (found.value, found.low, found.high))
            return NumberCell(middle, "", least, most, unit(measure, system))
        case Between(low, high, measure):
            least, most = (digits(each, measure, system) for each in (low, high))
            return NumberCell("", "", least, most, unit(measure, system))
        case BothUnits(shown):
            return _taken_apart(shown, system)
        case InUnits(own, units):
            return _taken_apart(own, System(units))
        case StockLength(length_m):
            number, word = written_length(length_m, system).split(" ")
            return NumberCell(number, unit=word)
        case Duration(found):
            return NumberCell(*duration_digits(found))
        case Price(price, currency):
            return NumberCell(f"{price:.2f}", unit=currency)
        case Share():
            return _share(cell)
    return _taken_apart(cell[0], system) if is_sentence(cell) and len(cell) == 1 else None


def _share(share: Share) -> NumberCell | None:
    """Take a share apart; "over 99 %" is no number."""
    value, _, spread = percent(share.value).removesuffix(" %").partition(" ± ")
    return NumberCell(value, spread, unit="%") if value.isdigit() else None


def _plain(number: str) -> str:
    return number.removeprefix("+").replace(MINUS, "-")
