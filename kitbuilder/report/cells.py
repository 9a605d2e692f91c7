"""One value of a page as words, in the reader's units."""

from datetime import date
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.assess.findings import About, Amount, ByUnits, Signal, Tag
from kitbuilder.assess.gear.due import format_day
from kitbuilder.foreign import NO_BREAK, visible
from kitbuilder.report.lengths import stock_length
from kitbuilder.report.numbers import (
    System,
    about,
    digits,
    duration,
    figure_digits,
    percent,
    shown,
    unit,
    with_range,
    with_spread,
)
from kitbuilder.report.page import (
    Amounts,
    Between,
    BothUnits,
    Cell,
    Duration,
    Estimate,
    Interval,
    InUnits,
    Node,
    Price,
    Scalar,
    Sentence,
    Share,
    StockLength,
    Values,
    is_node,
    is_sentence,
)


class Parts(NamedTuple):
    """A cell in the parts that a column aligns: what stands before and after the ± sign, and the rest."""

    number: str
    spread: str
    rest: str


def format_cell(cell: Cell, system: System) -> str:
    """Write a cell that stands alone: a tag has no quotes, an unknown value is empty."""
    if cell is None:
        return ""
    if isinstance(cell, Tag):
        return visible(cell)
    if is_sentence(cell):
        return format_sentence(cell, system)
    return _format_scalar(cell, system)


def format_value(value: Cell | Node, system: System) -> str:
    """Write the value of a field; several values stand beside each other. Another node is for programs alone."""
    if isinstance(value, Values):
        return ", ".join(format_cell(each, system) for each in value.values)
    return "" if is_node(value) else format_cell(value, system)  # type: ignore[arg-type]  # see renderers/json.py


def format_sentence(words: Sentence, system: System) -> str:
    """Write words and values as they follow each other: a tag in quotes, a number held to its unit by `NO_BREAK`."""
    try:
        return _remembered(system, *words)
    except TypeError:  # an estimate has its components with it, which cannot be looked up
        return _joined(system, *words)


def _joined(system: System, *words: Scalar) -> str:
    return "".join([_format_word(word, system) for word in words])


# The same advice stands in many kits. A tag equals its text, and yes equals 1, so it is `typed`.
_remembered = lru_cache(maxsize=4096, typed=True)(_joined)


def format_line(words: Sentence, system: System) -> str:
    """Write a sentence for a place that is not laid out here, with plain spaces only."""
    return format_sentence(words, system).replace(NO_BREAK, " ")


def _format_word(word: Scalar, system: System) -> str:
    if isinstance(word, Tag):
        return f'"{visible(word)}"'
    if isinstance(word, str):
        return visible(word).replace("± ", f"±{NO_BREAK}")
    if isinstance(word, About):  # long, so that a line may end in it
        return _format_scalar(word, system)
    return _format_scalar(word, system).replace(" ", NO_BREAK)


def cell_parts(cell: Cell, system: System) -> Parts:
    """Give the parts of a cell that its column aligns on the ± sign."""
    if not isinstance(cell, Estimate):
        return Parts(format_cell(cell, system), "", "")
    figure, measure = cell
    numbers = figure_digits(figure, measure, system)
    if not numbers.spread:  # a range has no sign to align on
        return Parts(with_spread(figure, measure, system), "", "")
    return Parts(numbers.value, numbers.spread, f" {unit(measure, system)}")


def is_number(cell: Cell) -> bool:
    """Say whether a cell is set flush right: a quantity, a count, a price."""
    if isinstance(cell, bool | Signal):
        return False
    return isinstance(cell, Amount | Estimate | StockLength | BothUnits | InUnits | Share | Price | int)


def _format_scalar(cell: Scalar, system: System) -> str:
    match cell:
        case Signal():
            return cell.word
        case bool():
            return "yes" if cell else "no"
        case int():
            return str(cell)
        case str():
            return visible(cell)
        case ByUnits(metric, imperial):
            return metric if system is System.METRIC else imperial
        case Amount(value, measure):
            return shown(value, measure, system)
        case About(value, low, high, measure):
            return about(value, low, high, measure, system)
        case Amounts(values, measure):
            numbers = dict.fromkeys(digits(value, measure, system) for value in values)
            return f"{', '.join(numbers)} {unit(measure, system)}" if numbers else ""
        case Estimate(figure, measure):
            return with_spread(figure, measure, system)
        case Interval(found, measure):
            return with_range(found, measure, system)
        case Between(low, high, measure):
            least, most = digits(low, measure, system), shown(high, measure, system)
            return most if most.startswith(f"{least} ") else f"{least} to {most}"
        case StockLength(length_m):
            return stock_length(length_m, system)
        case BothUnits(value):
            return f"{_format_scalar(value, system)} ({_format_scalar(value, system.other)})"
        case InUnits(value, units):
            return _format_scalar(value, System(units))
        case Share(value):
            return percent(value)
        case Duration(found):
            return duration(found)
        case Price(value, currency):
            return f"{value:.2f} {visible(currency)}".rstrip()
        case date():
            return format_day(cell)
    raise AssertionError(f"{cell!r} is no value of a page")
