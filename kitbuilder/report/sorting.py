"""Rows of a list by the values of one of their columns, and how the list says so."""

import re
from collections.abc import Mapping, Sequence
from datetime import date
from enum import Enum
from typing import NamedTuple

from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.report.cells import format_cell
from kitbuilder.report.form import Choice
from kitbuilder.report.lines import Line, Span, plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Cell, Estimate, Interval, Share, StockLength, Table, is_node

Columns = Mapping[str, Sequence[Cell]]
"""What a list can be sorted by: the cells of each column, by the head of the column."""

AS_LISTED = "as listed"
"""Stands among the columns for no order."""
AS_LISTED_WORDS = "not sorted by a column"
REVERSED = " reversed"
SHELF_COLUMNS = {"kit": 0, "layout": 1, "mass": 2, "lead": 3, "worst": 5, "finding": 6}
"""What the kits of a folder can be sorted by, with the place of each in a row; between lead and worst stands a bar."""
SHELF_ORDERS = tuple(f"{column}{turned}" for column in SHELF_COLUMNS for turned in ("", REVERSED))
UP, DOWN = "↑", "↓"


class Kind(Enum):
    """What a column holds, and how its two orders are called; the first is taken when it is chosen first."""

    SIGNALS = ("worst first", "worst last")
    NUMBERS = ("largest first", "smallest first")
    TEXTS = ("a to z", "z to a")


class Order(NamedTuple):
    """By which column, and whether in the second of its two orders."""

    column: str
    is_turned: bool = False


class _Ranked(NamedTuple):
    """A cell as it is compared: values of one kind with each other, the kinds one after the other."""

    kind: Kind | None
    """None for an empty cell."""
    value: float | tuple[str | int, ...]


def columns_of(table: Table) -> dict[str, Sequence[Cell]]:
    """Give the columns of a table that have a head, and so a name to be sorted by."""
    columns = ((place, column) for place, column in enumerate(table.columns) if column.head.strip())
    return {
        column.head: [None if is_node(row[place]) else row[place] for row in table.rows]  # type: ignore[misc]
        for place, column in columns
    }


def kind_of(cells: Sequence[Cell]) -> Kind:
    """Say what a column holds: signal words or numbers where any cell does, else texts."""
    kinds = {_ranked(cell).kind for cell in cells}
    return next((kind for kind in Kind if kind in kinds), Kind.TEXTS)


def sorted_places(cells: Sequence[Cell], *, is_turned: bool = False) -> tuple[int, ...]:
    """Give the places of cells in their order. Equal ones stay as they are, empty ones come last in both orders.

    A signal word comes before a number, a number before a text: "not known" stands below all that is known.
    """
    ranked = [(_ranked(cell), place) for place, cell in enumerate(cells)]
    found: list[int] = []
    for kind in Kind:
        alike = [(each.value, place) for each, place in ranked if each.kind is kind]
        largest_first = (kind is not Kind.TEXTS) != is_turned
        found += [place for _, place in sorted(alike, key=lambda pair: pair[0], reverse=largest_first)]
    return (*found, *(place for each, place in ranked if each.kind is None))


def _ranked(cell: Cell) -> _Ranked:
    match cell:
        case Signal():
            return _Ranked(Kind.SIGNALS, cell.value)
        case Estimate(figure, _):
            return _Ranked(Kind.NUMBERS, figure.value)
        case Interval(found, _):
            return _Ranked(Kind.NUMBERS, found.value)
        case Share(value):
            return _Ranked(Kind.NUMBERS, value if isinstance(value, float | int) else value.value)
        case Amount(value, _) | StockLength(value):
            return _Ranked(Kind.NUMBERS, value)
        case date():
            return _Ranked(Kind.NUMBERS, cell.toordinal())
        case int():
            return _Ranked(Kind.NUMBERS, cell)
    # In metric units whatever the reader's, so that a change of units moves no row.
    words = format_cell(cell, System.METRIC).casefold().strip()
    return _Ranked(Kind.TEXTS, _with_numbers(words)) if words else _Ranked(None, 0.0)


def _with_numbers(words: str) -> tuple[str | int, ...]:
    """Cut a text so that "stage 2" comes before "stage 10": texts and whole numbers in turns, a text first."""
    return tuple(int(part) if part.isdecimal() else part for part in re.split(r"([0-9]+)", words))


# ---- keeping ----


def written_order(order: Order | None) -> str | None:
    """Write an order for the settings: "mass", "mass reversed"; None for none."""
    return None if order is None else f"{order.column}{REVERSED if order.is_turned else ''}"


def order_written(written: str | None) -> Order | None:
    """Read an order of the settings."""
    return None if not written else Order(written.removesuffix(REVERSED), written.endswith(REVERSED))


# ---- choosing and showing ----


def next_order(order: Order | None, column: str) -> Order | None:
    """Give the order once a column is chosen; choosing the one in force turns it round."""
    if column == AS_LISTED:
        return None
    return Order(column, is_turned=order is not None and order.column == column and not order.is_turned)


def order_words(order: Order | None, columns: Columns) -> str:
    """Say how a list is sorted: " by mass, largest first"; nothing where it is as it was listed."""
    if order is None or order.column not in columns:
        return ""
    return f" by {order.column}, {kind_of(columns[order.column]).value[order.is_turned]}"


def order_choices(order: Order | None, columns: Columns) -> list[Choice]:
    """List what a list can be sorted by, each with the order it would come in."""
    choices = [Choice(AS_LISTED, AS_LISTED_WORDS)]
    for column, cells in columns.items():
        wanted = next_order(order, column)
        assert wanted is not None
        turned = "now the other way round: " if order and order.column == column else ""
        choices.append(Choice(column, turned + kind_of(cells).value[wanted.is_turned]))
    return choices


def marked_head(head: Line, order: Order | None, columns: Columns) -> Line:
    """Put an arrow behind the head of the column that a list is sorted by, in the gap to the next one."""
    if order is None or order.column not in columns:
        return head
    words = plain(head)
    span = _head_spans(words, columns).get(order.column)
    if span is None:  # there was no room for that column
        return head
    largest_first = (kind_of(columns[order.column]) is not Kind.TEXTS) != order.is_turned
    words = f"{words[: span[1]]}{DOWN if largest_first else UP}{words[span[1] + 1 :]}"
    return (Span(words, "head"),)


def column_at(head: Line, columns: Columns, place: int) -> str | None:
    """Give the column whose head is nearest to a place in the line of heads."""
    spans = _head_spans(plain(head), columns)

    def distance(column: str) -> int:
        start, end = spans[column]
        return max(start - place, place - end + 1, 0)

    return min(spans, key=distance, default=None)


def _head_spans(words: str, columns: Columns) -> dict[str, tuple[int, int]]:
    """Find where each head stands, its unit with it; those that were cut or left out are not there."""
    found: dict[str, tuple[int, int]] = {}
    at = 0
    for column in columns:
        # A head ends with two spaces or the line; one word may follow within, its unit.
        match = re.compile(rf"(?<!\S){re.escape(column)}(?: \S+)?(?=\s|$)").search(words, at)
        if match:
            found[column], at = match.span(), match.end()
    return found
