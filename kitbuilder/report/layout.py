"""A page laid out in lines of a width: what text and the app's widgets share.

A line is spans, each with its role, so that a widget can colour what a text cannot. Columns are as wide as their
content; a table that is too wide wraps the columns that may wrap, and else puts each row below the other. A word is
divided only when it alone is wider than the room there is.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import NamedTuple

from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible
from kitbuilder.report.cells import format_cell, format_sentence, format_value
from kitbuilder.report.columns import LEAST_COLUMN, SetColumn, head_lines, joined, set_columns, shrunk, widths_of
from kitbuilder.report.lines import GAP, LONG_WORD, STEP, Line, Span, cut, wrapped
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Box,
    Fact,
    Facts,
    Node,
    Page,
    Picture,
    Section,
    Series,
    Statement,
    Statements,
    Table,
    Text,
    Values,
)
from kitbuilder.report.words import box

BESIDE_A_NAME = 6
"""Characters of a column, at least, before the name of its row is cut: "50 cm…"."""
BOX_DIGITS = 3
"""Digits for which there is room beside a box, so that boxes are aligned from one list to the next."""


class Room(NamedTuple):
    """What a page is laid out for, handed down as one."""

    width: int
    system: System

    def within(self, indent: int) -> "Room":
        """Give the room that is left further in."""
        return self._replace(width=max(self.width - indent, LEAST_COLUMN))


def lay_out(page: Page, width: int, system: System) -> list[Line]:
    """Lay a page out in lines of at most `width` characters."""
    return list(_stack(page.parts, Room(width, system)))


def list_rows(table: Table, width: int, system: System) -> tuple[Line, list[Line]]:
    """Lay a table out with one line for each row, as a list with a cursor needs it: its heads, and its rows.

    Columns that may wrap are cut where the width does not hold them: first those that are repeated elsewhere, which are
    left out before any other is cut; last those that name their row.
    """
    columns = set_columns(table, system)
    leasts = [min(column.width, LEAST_COLUMN) if column.is_repeated else column.width for column in columns]
    if sum(leasts) + len(GAP) * (len(leasts) - 1) > width:
        columns = [column for column in columns if not column.is_repeated]
        leasts = [min(column.width, LEAST_COLUMN) if column.may_wrap else column.width for column in columns]
    names_whole = [
        column.width if column.names_row else min(least, BESIDE_A_NAME) if column.may_wrap else least
        for column, least in zip(columns, leasts, strict=True)
    ]
    widths = shrunk([column.width for column in columns], names_whole, width) or shrunk(names_whole, leasts, width)
    widths = widths or leasts
    heads = [cut(column.head, at) for column, at in zip(columns, widths, strict=True)]
    head = joined(heads, widths, columns, ["head"] * len(columns))
    rows = [
        joined(
            [cut(column.cells[number], at) for column, at in zip(columns, widths, strict=True)],
            widths,
            columns,
            [column.roles[number] for column in columns],
        )
        for number in range(len(table.rows))
    ]
    return head, rows


def entry_rows(entries: Sequence[Statement], width: int, system: System) -> list[list[Line]]:
    """Lay entries out, the lines of each by themselves, as a list with a cursor needs them; marks are aligned."""
    return list(_entries_apart(entries, Room(width, system)))


# ---- parts of a page ----


def _stack(parts: Sequence[Node], room: Room) -> Iterator[Line]:
    """Set parts below each other, a blank line between two of them, none between paragraphs or beside a picture."""
    before: Node | None = None
    for part in parts:
        lines = list(_lines(part, room))
        if not lines:
            continue
        if before is not None and not (isinstance(before, Text | Picture) and isinstance(part, Text | Picture)):
            yield ()
        yield from lines
        before = part


def _lines(part: Node, room: Room) -> Iterator[Line]:
    match part:
        case Section(title, parts):
            below = list(_stack(parts, room.within(STEP if title else 0)))
            if title and below:
                yield from _titled(title, below, room)
            else:
                yield from below
        case Series(_, sections):
            yield from _stack(sections, room)
        case Text(words, _, indent):
            for row in wrapped(format_sentence(words, room.system), room.within(indent).width):
                yield (Span(" " * indent + row),)
        case Facts(rows):
            yield from _field_lines([(row.label, _field_text(row, room.system)) for row in rows if row.label], room)
        case Table():
            yield from _with_title(part.title, part.empty, list(_table_lines(part, _below(part.title, room))), room)
        case Statements():
            lines = list(_entry_lines(part.entries, _below(part.title, room)))
            yield from _with_title(part.title, part.empty, lines, room)
        case Picture(drawing, height) if drawing is not None:
            yield from ((Span(row, "picture"),) for row in drawing.lines(room.width, height))
        case Values() | Picture():
            return


def _below(title: str, room: Room) -> Room:
    return room.within(STEP) if title else room


def _with_title(title: str, empty: str, lines: list[Line], room: Room) -> Iterator[Line]:
    """Set lines below their title; without lines, say what there is to say about that."""
    if not lines and not empty:
        return
    if not lines:
        text = visible(f"{title}: {empty}" if title else empty)
        yield from ((Span(row),) for row in wrapped(text, room.width))
    elif title:
        yield from _titled(title, lines, room)
    else:
        yield from lines


def _titled(title: str, lines: Iterable[Line], room: Room) -> Iterator[Line]:
    for row in wrapped(visible(title), room.width):
        yield (Span(row, "title"),)
    for line in lines:
        yield (Span(" " * STEP), *line) if line else ()


# ---- fields ----


def _field_lines(rows: Sequence[tuple[str, str]], room: Room) -> Iterator[Line]:
    """Set texts beside their labels, or below them where there is no room beside."""
    label_width = max((len(label) for label, _ in rows), default=0) + len(GAP)
    beside = label_width + LONG_WORD <= room.width
    for label, words in rows:
        indent = label_width if beside else STEP
        lines = wrapped(words, room.width - indent)
        if not beside:
            yield (Span(label, "label"),)
        for number, text in enumerate(lines):
            lead = Span(f"{label:<{indent}}", "label") if beside and not number else Span(" " * indent)
            yield lead, Span(text)


def _field_text(row: Fact, system: System) -> str:
    return GAP.join(filter(None, (format_value(row.value, system), format_cell(row.note, system))))


# ---- entries ----


def _entry_lines(entries: Sequence[Statement], room: Room) -> Iterator[Line]:
    shown = [entry for entry in entries if entry.is_shown]
    return (line for lines in _entries_apart(shown, room) for line in lines)


def _entries_apart(entries: Sequence[Statement], room: Room) -> Iterator[list[Line]]:
    marks = [_mark_text(entry.mark) for entry in entries]
    width = max(map(len, marks), default=0)
    indent = width + len(GAP) if width else 0
    below = indent or STEP
    for entry, mark in zip(entries, marks, strict=True):
        role = mark.lower() if isinstance(entry.mark, Signal) else ""
        lead = (Span(mark.rjust(width) if mark.isdigit() else mark.ljust(width), role), Span(GAP)) if width else ()
        first, *rest = wrapped(format_sentence(entry.head, room.system), room.width - indent) or [""]
        body = (wrapped(format_sentence(words, room.system), room.width - below) for words in entry.body)
        if rest and below > indent:  # what goes on below is set further in than the first line
            rest = list(wrapped(" ".join(rest), room.width - below))
        further = [*rest, *(row for rows in body for row in rows)]
        yield [(*lead, Span(first)), *((Span(" " * below + row),) for row in further)]


def _mark_text(mark: str | Signal | Box) -> str:
    match mark:
        case Signal():
            return mark.word
        case Box(number, is_ticked):
            return f"{box(is_ticked)} {number:>{BOX_DIGITS}}"
    return mark


# ---- tables ----


def _table_lines(table: Table, room: Room) -> Iterator[Line]:
    if not table.rows:
        return
    columns = set_columns(table, room.system)
    widths = widths_of(columns, room.width)
    if widths is None:
        columns = [column for column in columns if not column.is_repeated]
        widths = widths_of(columns, room.width)
    if widths is None:
        yield from _rows_below(columns, len(table.rows), room)
        return
    if any(column.head.strip() for column in columns):
        yield from head_lines(columns, widths)
    for number in range(len(table.rows)):
        cells = [wrapped(column.cells[number], at) for column, at in zip(columns, widths, strict=True)]
        for row in zip_longest(*cells, fillvalue=""):
            yield joined(row, widths, columns, [column.roles[number] for column in columns])


def _rows_below(columns: Sequence[SetColumn], count: int, room: Room) -> Iterator[Line]:
    """Set each row as a block: the cells that name it, and the others below them with their heads as labels."""
    names = [column for place, column in enumerate(columns) if column.names_row or not place]
    others = [column for place, column in enumerate(columns) if not column.names_row and place]
    for number in range(count):
        name = GAP.join(column.cells[number].strip() for column in names).strip()
        yield from ((Span(row),) for row in wrapped(name, room.width))
        fields = [(column.head.strip(), column.cells[number].strip(" ")) for column in others]
        for line in _field_lines([field for field in fields if field[1]], room.within(STEP)):
            yield Span(" " * STEP), *line
