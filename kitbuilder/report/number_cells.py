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
    Sentence,
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
    words: str = ""
    """What stands before or behind the number; all of a cell without one."""


def number_cell(cell: Cell, system: System) -> NumberCell | None:
    """Take a cell apart in the reader's units; None where it has no number that stands for all of it."""
    found = _taken_apart(cell, system)
    if found is None or not any(found[:4]):
        return None
    value, spread, low, high = map(_plain, found[:4])
    return NumberCell(value, spread, low, high, visible(found.unit), visible(found.words))


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
    return _of_sentence(cell, system) if is_sentence(cell) else None


def _of_sentence(words: Sentence, system: System) -> NumberCell | None:
    """Take a value alone apart, or one in a diver's units that is repeated in brackets, with words on one side."""
    if len(words) == 1:
        return _taken_apart(words[0], system)
    places = [place for place, word in enumerate(words) if isinstance(word, InUnits)]
    if (
        len(places) != 2
        or words[places[0] + 1 : places[1]] != (" (",)
        or words[places[1] + 1 : places[1] + 2] != (")",)
    ):
        return None
    around = (*words[: places[0]], *words[places[1] + 2 :])
    found = _taken_apart(words[places[0]], system)
    if found is None or not all(isinstance(word, str) for word in around):
        return None
    return found._replace(words="".join(map(str, around)).strip(" ,:;"))


def _share(share: Share) -> NumberCell | None:
    """Take a share apart; "over 99 %" is no number."""
    value, _, spread = percent(share.value).removesuffix(" %").partition(" ± ")
    return NumberCell(value, spread, unit="%") if value.isdigit() else None


def _plain(number: str) -> str:
    return number.removeprefix("+").replace(MINUS, "-")
