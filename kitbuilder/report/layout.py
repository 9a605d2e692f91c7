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

from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.foreign import NO_BREAK, visible
from kitbuilder.report.cells import cell_parts, format_cell, format_sentence, is_number
from kitbuilder.report.numbers import System, unit
from kitbuilder.report.page import (
    Box,
    Cell,
    Column,
    Entries,
    Entry,
    Estimate,
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
from kitbuilder.report.words import box

STEP = 2
"""Spaces by which what belongs to something stands further in."""
GAP = "  "
"""Between two columns."""
LEAST_COLUMN = 8
"""Characters of a column that wraps, at least."""
BOX_DIGITS = 3
"""Digits for which there is room beside a box, so that boxes are aligned from one list to the next."""
LONG_WORD = 24
"""Characters from which a word does not keep its column wide."""


class Span(NamedTuple):
    """Text in one line, and what it is: "", "title", "head", "label", "note", or a signal word in small letters."""

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
    leasts = [min(column.width, LEAST_COLUMN) if column.may_wrap else column.width for column in columns]
    widths = _shrunk([column.width for column in columns], leasts, width) or leasts
    heads = [_cut(column.head, at) for column, at in zip(columns, widths, strict=True)]
    head = _joined(heads, widths, columns, ["head"] * len(columns))
    rows = [
        _joined(
            [_cut(column.cells[number], at) for column, at in zip(columns, widths, strict=True)],
            widths,
            columns,
            [column.roles[number] for column in columns],
        )
        for number in range(len(table.rows))
    ]
    return head, rows


def entry_rows(entries: Sequence[Entry], width: int, system: System) -> list[list[Line]]:
    """Lay entries out, the lines of each by themselves, as a list with a cursor needs them; marks are aligned."""
    return list(_entries_apart(entries, Room(width, system)))


def list_fields(rows: Sequence[Field], system: System) -> list[Line]:
    """Lay fields out with one line for each, as a form with a cursor needs it: label, value and note."""
    width = max((len(row.label) for row in rows), default=0) + 1
    return [_form_line(row, width, system) for row in rows]


def _form_line(row: Field, width: int, system: System) -> Line:
    value, note = (text.replace(NO_BREAK, " ") for text in (_value_text(row, system), format_cell(row.note, system)))
    label = Span(f"{row.label:<{width}}", "label")
    if not value:
        return label, Span(note or "·", "note")
    return (label, Span(value), Span(f"{GAP}{note}", "note")) if note else (label, Span(value))


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
            yield from _field_lines([(row.label, _field_text(row, room.system)) for row in rows if row.label], room)
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
        text = visible(f"{title}: {empty}" if title else empty)
        yield from ((Span(row),) for row in _wrapped(text, room.width))
    elif title:
        yield from _titled(title, lines, room)
    else:
        yield from lines


def _titled(title: str, lines: Iterable[Line], room: Room) -> Iterator[Line]:
    for row in _wrapped(visible(title), room.width):
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
        lines = _wrapped(words, room.width - indent)
        if not beside:
            yield (Span(label, "label"),)
        for number, text in enumerate(lines):
            lead = Span(f"{label:<{indent}}", "label") if beside and not number else Span(" " * indent)
            yield lead, Span(text)


def _field_text(row: Field, system: System) -> str:
    return GAP.join(filter(None, (_value_text(row, system), format_cell(row.note, system))))


def _value_text(row: Field, system: System) -> str:
    if isinstance(row.value, Values):
        return ", ".join(format_cell(value, system) for value in row.value.values)
    return format_cell(row.value, system)  # type: ignore[arg-type]  # a node has no label


# ---- entries ----


def _entry_lines(entries: Sequence[Entry], room: Room) -> Iterator[Line]:
    return (line for lines in _entries_apart(entries, room) for line in lines)


def _entries_apart(entries: Sequence[Entry], room: Room) -> Iterator[list[Line]]:
    marks = [_mark_text(entry.mark) for entry in entries]
    width = max(map(len, marks), default=0)
    indent = width + len(GAP) if width else 0
    below = indent or STEP
    for entry, mark in zip(entries, marks, strict=True):
        role = mark.lower() if isinstance(entry.mark, Signal) else ""
        lead = (Span(mark.rjust(width) if mark.isdigit() else mark.ljust(width), role), Span(GAP)) if width else ()
        first, *rest = _wrapped(format_sentence(entry.head, room.system), room.width - indent) or [""]
        body = (_wrapped(format_sentence(words, room.system), room.width - below) for words in entry.body)
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


class _Set(NamedTuple):
    """A column set in type: its cells as words, aligned among themselves."""

    head: str
    cells: list[str]
    roles: list[str]
    is_right: bool
    may_wrap: bool
    names_row: bool

    @classmethod
    def of(cls, column: Column, cells: Sequence[Cell], system: System) -> "_Set":
        """Set the cells of one column."""
        right = any(map(is_number, cells))
        texts, head = _aligned(cells, system), column.head
        if column.unit_in_head and (word := _unit_of(cells, system)):
            texts, head = [text.removesuffix(word).rstrip() for text in texts], f"{head} {word}"
        roles = [cell.word.lower() if isinstance(cell, Signal) else column.role for cell in cells]
        wraps = column.may_wrap and not right
        return cls(visible(head), texts, roles, right, wraps, column.names_row)

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
        """Characters below which a word would be divided, except for the longest words. Every head may wrap."""
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


def _table_lines(table: Table, room: Room) -> Iterator[Line]:
    if not table.rows:
        return
    shown = [place for place, column in enumerate(table.columns) if column.head]
    columns = [_Set.of(table.columns[place], [row[place] for row in table.rows], room.system) for place in shown]  # type: ignore[misc]
    widths = _widths(columns, room.width)
    if widths is None:
        columns = [each for each, place in zip(columns, shown, strict=True) if not table.columns[place].is_repeated]
        widths = _widths(columns, room.width)
    if widths is None:
        yield from _rows_below(columns, len(table.rows), room)
        return
    if any(column.head.strip() for column in columns):
        yield from _head_lines(columns, widths)
    for number in range(len(table.rows)):
        wrapped = [_wrapped(column.cells[number], at) for column, at in zip(columns, widths, strict=True)]
        for row in zip_longest(*wrapped, fillvalue=""):
            yield _joined(row, widths, columns, [column.roles[number] for column in columns])


def _head_lines(columns: Sequence[_Set], widths: Sequence[int]) -> Iterator[Line]:
    """Set the heads so that the last line of each stands on its column."""
    heads = [_wrapped(column.head, at) for column, at in zip(columns, widths, strict=True)]
    upside_down = zip_longest(*(reversed(head) for head in heads), fillvalue="")
    yield from (_joined(row, widths, columns, ["head"] * len(columns)) for row in reversed([*upside_down]))


def _widths(columns: Sequence[_Set], room: int) -> list[int] | None:
    """Find how wide columns may be: heads wrap before cells do; None where there is no room for them."""
    one_line = [column.least_in_one_line for column in columns]
    widths = _shrunk([column.width for column in columns], one_line, room)
    return widths or _shrunk(one_line, [column.least for column in columns], room)


def _shrunk(widths: list[int], leasts: Sequence[int], room: int) -> list[int] | None:
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


def _joined(texts: Iterable[str], widths: Sequence[int], columns: Sequence[_Set], roles: Sequence[str]) -> Line:
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


def _rows_below(columns: Sequence[_Set], count: int, room: Room) -> Iterator[Line]:
    """Set each row as a block: the cells that name it, and the others below them with their heads as labels."""
    names = [column for place, column in enumerate(columns) if column.names_row or not place]
    others = [column for place, column in enumerate(columns) if not column.names_row and place]
    for number in range(count):
        name = GAP.join(column.cells[number].strip() for column in names).strip()
        yield from ((Span(row),) for row in _wrapped(name, room.width))
        fields = [(column.head.strip(), column.cells[number].strip(" ")) for column in others]
        for line in _field_lines([field for field in fields if field[1]], room.within(STEP)):
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
    text = text.replace(NO_BREAK, " ")
    return text if len(text) <= width else text[: max(width - 1, 0)] + "…"
