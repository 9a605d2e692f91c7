"""A page laid out in lines of a width: what text and the app's widgets share.

A line is spans, each with its role, so that a widget can colour what a text cannot. Columns are as wide as their
content; a table that is too wide wraps the columns that may wrap, and else puts each row below the other. A word is
divided only when it alone is wider than the room there is.
"""

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from itertools import zip_longest
from textwrap import wrap
from typing import NamedTuple

from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import NO_BREAK
from kitbuilder.report.cells import cell_parts, format_cell, format_sentence, is_number
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Cell,
    Column,
    Entries,
    Entry,
    Field,
    Fields,
    Node,
    Page,
    Picture,
    Section,
    Series,
    Table,
    Text,
    Values,
)

STEP = 2
"""Spaces by which what belongs to something stands further in."""
GAP = "  "
"""Between two columns."""
LEAST_COLUMN = 8
"""Characters of a column that wraps, at least."""
LONG_WORD = 24
"""Characters from which a word does not keep its column wide."""


class Span(NamedTuple):
    """Text in one line, and what it is: "", "title", "head", "label", or a signal word in small letters."""

    text: str
    role: str = ""


Line = tuple[Span, ...]


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

    Columns that may wrap are cut where the width does not hold them.
    """
    shown = [place for place, column in enumerate(table.columns) if column.head]
    columns = [_Set.of(table.columns[place], [row[place] for row in table.rows], system) for place in shown]  # type: ignore[misc]
    widths = _shrunk([column.width for column in columns], columns, width) or [column.width for column in columns]
    head = _joined([column.head for column in columns], widths, columns, "head")
    rows = [
        _joined([_cut(column.cells[number], at) for column, at in zip(columns, widths, strict=True)], widths, columns)
        for number in range(len(table.rows))
    ]
    return head, rows


def plain(line: Line) -> str:
    """Give the text of a line without its roles."""
    return "".join(span.text for span in line)


# ---- parts of a page ----


def _stack(parts: Sequence[Node], room: Room) -> Iterator[Line]:
    """Set parts below each other, a blank line between two of them, none between two paragraphs."""
    before: Node | None = None
    for part in parts:
        lines = list(_lines(part, room))
        if not lines:
            continue
        if before is not None and not (isinstance(before, Text) and isinstance(part, Text)):
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
            for row in _wrapped(format_sentence(words, room.system), room.within(indent).width):
                yield (Span(" " * indent + row),)
        case Fields(rows):
            yield from _field_lines([row for row in rows if row.label], room)
        case Table():
            yield from _with_title(part.title, part.empty, list(_table_lines(part, _below(part.title, room))), room)
        case Entries():
            lines = list(_entry_lines(part.entries, _below(part.title, room)))
            yield from _with_title(part.title, part.empty, lines, room)
        case Picture(drawing, height):
            yield from ((Span(row.rstrip()),) for row in drawing.lines(room.width, height))
        case Values():
            return


def _below(title: str, room: Room) -> Room:
    return room.within(STEP) if title else room


def _with_title(title: str, empty: str, lines: list[Line], room: Room) -> Iterator[Line]:
    """Set lines below their title; without lines, say what there is to say about that."""
    if not lines and not empty:
        return
    if not lines:
        text = f"{title}: {empty}" if title else empty
        yield from ((Span(row),) for row in _wrapped(text, room.width))
    elif title:
        yield from _titled(title, lines, room)
    else:
        yield from lines


def _titled(title: str, lines: Iterable[Line], room: Room) -> Iterator[Line]:
    for row in _wrapped(title, room.width):
        yield (Span(row, "title"),)
    for line in lines:
        yield (Span(" " * STEP), *line) if line else ()


# ---- fields ----


def _field_lines(rows: Sequence[Field], room: Room) -> Iterator[Line]:
    """Set values beside their labels, or below them where there is no room beside."""
    label_width = max((len(row.label) for row in rows), default=0) + len(GAP)
    beside = label_width + LONG_WORD <= room.width
    for row in rows:
        indent = label_width if beside else STEP
        lines = _wrapped(_field_text(row, room.system), room.width - indent)
        if not beside:
            yield (Span(row.label, "label"),)
        for number, text in enumerate(lines):
            label = Span(f"{row.label:<{indent}}", "label") if beside and not number else Span(" " * indent)
            yield label, Span(text)


def _field_text(row: Field, system: System) -> str:
    if isinstance(row.value, Values):
        return ", ".join(format_cell(value, system) for value in row.value.values)
    return format_cell(row.value, system)  # type: ignore[arg-type]  # a node has no label


# ---- entries ----


def _entry_lines(entries: Sequence[Entry], room: Room) -> Iterator[Line]:
    marks = [entry.mark.word if isinstance(entry.mark, Signal) else entry.mark for entry in entries]
    width = max(map(len, marks), default=0)
    indent = width + len(GAP) if width else 0
    below = indent or STEP
    for entry, mark in zip(entries, marks, strict=True):
        role = mark.lower() if isinstance(entry.mark, Signal) else ""
        lead = (Span(mark.rjust(width) if mark.isdigit() else mark.ljust(width), role), Span(GAP)) if width else ()
        first, *rest = _wrapped(format_sentence(entry.head, room.system), room.width - indent) or [""]
        yield *lead, Span(first)
        for row in rest:
            yield (Span(" " * below + row),)
        for words in entry.body:
            for row in _wrapped(format_sentence(words, room.system), room.width - below):
                yield (Span(" " * below + row),)


# ---- tables ----


class _Set(NamedTuple):
    """A column set in type: its cells as words, aligned among themselves."""

    head: str
    cells: list[str]
    is_right: bool
    may_wrap: bool

    @classmethod
    def of(cls, column: Column, cells: Sequence[Cell], system: System) -> "_Set":
        """Set the cells of one column."""
        right = any(map(is_number, cells))
        return cls(column.head, _aligned(cells, system), right, column.may_wrap and not right)

    @property
    def width(self) -> int:
        """Characters that the column takes when nothing is wrapped."""
        return max([len(self.head), *map(len, self.cells)])

    @property
    def least(self) -> int:
        """Characters below which a word would be divided, except for the longest words."""
        if not self.may_wrap:
            return self.width
        words = (word for text in (self.head, *self.cells) for word in text.split())
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


def _table_lines(table: Table, room: Room) -> Iterator[Line]:
    if not table.rows:
        return
    shown = [place for place, column in enumerate(table.columns) if column.head]
    columns = [_Set.of(table.columns[place], [row[place] for row in table.rows], room.system) for place in shown]  # type: ignore[misc]
    widths = _shrunk([column.width for column in columns], columns, room.width)
    if widths is None:
        yield from _rows_below(columns, len(table.rows), room)
        return
    if any(column.head.strip() for column in columns):
        yield from _row_lines([column.head for column in columns], widths, columns, "head")
    for number in range(len(table.rows)):
        yield from _row_lines([column.cells[number] for column in columns], widths, columns)


def _row_lines(cells: Sequence[str], widths: Sequence[int], columns: Sequence[_Set], role: str = "") -> Iterator[Line]:
    """Set one row in as many lines as its longest cell takes."""
    wrapped = [_wrapped(cell, at) for cell, at in zip(cells, widths, strict=True)]
    for row in zip_longest(*wrapped, fillvalue=""):
        yield _joined(row, widths, columns, role)


def _shrunk(widths: list[int], columns: Sequence[_Set], room: int) -> list[int] | None:
    """Narrow the columns that may wrap, the widest first, until all fit; None when they cannot."""
    excess = sum(widths) + len(GAP) * (len(widths) - 1) - room
    leasts = [column.least for column in columns]
    while excess > 0:
        wide = [place for place in range(len(widths)) if widths[place] > leasts[place]]
        if not wide:
            return None
        widest = max(wide, key=lambda place: widths[place])
        others = [widths[place] for place in wide if place != widest]
        by = min(excess, widths[widest] - max([leasts[widest], *(at for at in others if at < widths[widest])]))
        widths[widest] -= max(by, 1)
        excess -= max(by, 1)
    return widths


def _joined(texts: Iterable[str], widths: Sequence[int], columns: Sequence[_Set], role: str = "") -> Line:
    cells = [
        text.rjust(width) if column.is_right else text.ljust(width)
        for text, width, column in zip(texts, widths, columns, strict=True)
    ]
    return (Span(GAP.join(cells).rstrip(), role),)


def _rows_below(columns: Sequence[_Set], count: int, room: Room) -> Iterator[Line]:
    """Set each row as a block: the first cell, and the others below it with their heads as labels."""
    name, *others = columns
    for number in range(count):
        yield from ((Span(row),) for row in _wrapped(name.cells[number].strip(), room.width))
        fields = [Field("", column.head.strip(), column.cells[number].strip()) for column in others]
        for line in _field_lines([field for field in fields if field.value], room.within(STEP)):
            yield Span(" " * STEP), *line


# ---- words ----


@lru_cache(maxsize=4096)
def _wrapped(text: str, width: int) -> tuple[str, ...]:
    """Break a text into lines; a hyphen or a slash within a word does not break it."""
    if len(text) <= width:
        return (text.replace(NO_BREAK, " "),)
    lines = wrap(text, max(width, 1), break_on_hyphens=False)
    return tuple(line.replace(NO_BREAK, " ") for line in lines)


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: max(width - 1, 0)] + "…"
