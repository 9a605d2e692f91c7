"""Rows of a list that end in a signal word."""

from collections.abc import Sequence

from textual.geometry import Size

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.listing import row_width
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.assess.findings import Signal
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import GAP, Line, Span, plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Cell, Table
from kitbuilder.report.sorting import columns_of

WIDE = 42
"""Columns of a list from which on signal words are written out; below, their first letter stands for them."""
LONGEST = max(len(signal.word) for signal in Signal)
UNCUT = 10_000
"""Columns that hold every row."""
HEAD = "worst"
"""Stands above the signal words."""


def signal_rows(
    table: Table, signals: Sequence[Signal | str], size: Size, system: System
) -> tuple[Content, list[Content]]:
    """Lay a table out with one line for each row, and put the signal word of the row behind it; gives heads and rows.

    Args:
        table: The rows without their signals.
        signals: The signal of each row, or what stands in its place.
        size: The list, its cursor among its columns, and its scroll bar where there are more rows than lines.
        system: The reader's units.
    """
    is_wide = size.width >= WIDE
    room = row_width(size, len(signals)) - len(GAP) - (LONGEST if is_wide else 1)
    head, lines = list_rows(table, room, system)
    across = max(map(len, map(plain, [head, *lines])), default=0)
    rows = [_row(line, across, _word(signal, is_wide=is_wide)) for line, signal in zip(lines, signals, strict=True)]
    return _row(head, across, Span(HEAD, "head")), rows


def row_texts(table: Table, signals: Sequence[Signal | str], system: System) -> list[str]:
    """Give what each row is found by: its cells and its signal word in full, however narrow the list is."""
    _, lines = list_rows(table, UNCUT, system)
    pairs = zip(lines, signals, strict=True)
    return [f"{plain(line)} {signal.word if isinstance(signal, Signal) else signal}" for line, signal in pairs]


def signal_columns(table: Table, signals: Sequence[Signal | str], first: int) -> dict[str, Sequence[Cell]]:
    """Give what such rows can be sorted by, without the first ones."""
    return {**columns_of(table._replace(rows=table.rows[first:])), HEAD: signals[first:]}


def _word(signal: Signal | str, *, is_wide: bool) -> Span:
    if not isinstance(signal, Signal):
        return Span(signal)
    return Span(signal.word if is_wide else signal.word[0], signal.word.lower())


def _row(line: Line, across: int, word: Span) -> Content:
    gap = " " * (across - len(plain(line))) + GAP
    return styled_line((*line, Span(gap), word) if word.text else line)
