"""The columns of a table: their cells as words, aligned among themselves, and how wide each may be."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import NamedTuple

from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.foreign import visible
from kitbuilder.report.cells import cell_parts, is_number
from kitbuilder.report.lines import GAP, LONG_WORD, Line, Span, wrapped
from kitbuilder.report.numbers import System, unit
from kitbuilder.report.page import Cell, Column, Estimate, Table

LEAST_COLUMN = 8
"""Characters of a column that wraps, at least."""


def set_columns(table: Table, system: System) -> list["SetColumn"]:
    """Set the columns that have a head; columns without one are for JSON only."""
    shown = [(place, column) for place, column in enumerate(table.columns) if column.head]
    return [SetColumn.of(column, [row[place] for row in table.rows], system) for place, column in shown]  # type: ignore[misc]


class SetColumn(NamedTuple):
    """A column set in type: its cells as words, aligned among themselves."""

    head: str
    cells: list[str]
    roles: list[str]
    is_right: bool
    may_wrap: bool
    names_row: bool
    is_repeated: bool

    @classmethod
    def of(cls, column: Column, cells: Sequence[Cell], system: System) -> "SetColumn":
        """Set the cells of one column."""
        right = any(map(is_number, cells))
        texts, head = _aligned(cells, system), column.head
        if column.unit_in_head and (word := _unit_of(cells, system)):
            texts, head = [text.removesuffix(word).rstrip() for text in texts], f"{head} {word}"
        roles = [cell.word.lower() if isinstance(cell, Signal) else column.role for cell in cells]
        wraps = column.may_wrap and not right
        return cls(visible(head), texts, roles, right, wraps, column.names_row, column.is_repeated)

    @property
    def width(self) -> int:
        """Characters that the column takes when nothing is wrapped."""
        return max([len(self.head), *map(len, self.cells)])

    @property
    def least_in_one_line(self) -> int:
        """Characters that the column takes when its head is wrapped and its cells are not."""
        return max(map(len, (*self.head.split(), *self.cells)), default=0)

    @property
    def least(self) -> int:
        """Characters below which a word would be split, except for the longest words. Every head may wrap."""
        if not self.may_wrap:
            return self.least_in_one_line
        words = (word for text in (self.head, *self.cells) for word in text.split(" "))
        longest = max((min(len(word), LONG_WORD) for word in words), default=0)
        return min(self.width, max(longest, LEAST_COLUMN))


def _aligned(cells: Sequence[Cell], system: System) -> list[str]:
    """Write cells so that the ± signs of figures stand below each other."""
    parts = [cell_parts(cell, system) for cell in cells]
    estimates = [part for part in parts if part.spread]
    left = max((len(part.number) for part in estimates), default=0)
    right = max((len(part.spread) for part in estimates), default=0)
    return [
        f"{part.number:>{left}} ± {part.spread:>{right}}{part.rest}" if part.spread else part.number for part in parts
    ]


def _unit_of(cells: Sequence[Cell], system: System) -> str:
    measures = {cell.measure for cell in cells if isinstance(cell, Amount | Estimate)}
    assert len(measures) < 2, f"a column with the unit in its head has one measure: {measures}"
    return "".join(unit(measure, system) for measure in measures)


def head_lines(columns: Sequence[SetColumn], widths: Sequence[int]) -> Iterator[Line]:
    """Set the heads so that the last line of each stands on its column."""
    heads = [wrapped(column.head, at) for column, at in zip(columns, widths, strict=True)]
    upside_down = zip_longest(*(reversed(head) for head in heads), fillvalue="")
    yield from (joined(row, widths, columns, ["head"] * len(columns)) for row in reversed([*upside_down]))


def widths_of(columns: Sequence[SetColumn], room: int) -> list[int] | None:
    """Find how wide columns may be: heads wrap before cells do; None where there is no room for them."""
    # Heads wrap first: otherwise a table became one block per row although its numbers had room.
    one_line = [column.least_in_one_line for column in columns]
    widths = shrunk([column.width for column in columns], one_line, room)
    return widths or shrunk(one_line, [column.least for column in columns], room)


def shrunk(widths: list[int], leasts: Sequence[int], room: int) -> list[int] | None:
    """Narrow columns towards their least, the widest first, until all fit; None when they cannot."""
    excess = sum(widths) + len(GAP) * (len(widths) - 1) - room
    while excess > 0:
        wide = [place for place in range(len(widths)) if widths[place] > leasts[place]]
        if not wide:
            return None
        widest = max(widths[place] for place in wide)
        alike = [place for place in wide if widths[place] == widest]
        floor = max([*(leasts[place] for place in alike), *(widths[place] for place in wide if widths[place] < widest)])
        by = min(widest - floor, max(excess // len(alike), 1))
        for place in alike[: max(excess, 1)]:
            widths[place] -= by
            excess -= by
    return widths


def joined(texts: Iterable[str], widths: Sequence[int], columns: Sequence[SetColumn], roles: Sequence[str]) -> Line:
    """Put the cells of a row beside each other; those of one role that follow each other are one span."""
    cells = [
        text.rjust(width) if column.is_right else text.ljust(width)
        for text, width, column in zip(texts, widths, columns, strict=True)
    ]
    if len(set(roles)) == 1:  # nearly every row, and it takes a tenth of the time
        return (Span(GAP.join(cells).rstrip(), roles[0]),)
    spans: list[Span] = []
    for cell, role in zip(cells, roles, strict=True):
        if spans and spans[-1].role == role:
            spans[-1] = Span(f"{spans[-1].text}{GAP}{cell}", role)
        else:
            spans += [Span(GAP), Span(cell, role)] if spans else [Span(cell, role)]
    return (*spans[:-1], Span(spans[-1].text.rstrip(), spans[-1].role))
