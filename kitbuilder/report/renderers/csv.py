"""A page as CSV for spreadsheets: its facts, tables and lists below each other, each under a record with its title.

Records are those of RFC 4180, all with the same number of fields. A number stands alone, with a decimal point; its
spread or the ends of its range, and its unit, stand in columns of their own, so that a spreadsheet calculates with
them. A list whose entries have labelled data is a table of these. A text that a spreadsheet would take for a formula
begins with an apostrophe.
"""

import csv
from collections.abc import Iterable, Iterator, Sequence
from io import StringIO
from typing import NamedTuple

from kitbuilder.assess.findings import Signal
from kitbuilder.foreign import visible
from kitbuilder.report.answer import Answer, document_head
from kitbuilder.report.cells import format_cell, format_line, format_value
from kitbuilder.report.number_cells import NumberCell, number_cell
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Box,
    Cell,
    Column,
    Fact,
    Facts,
    Node,
    Picture,
    Section,
    Series,
    Statement,
    Statements,
    Table,
    Text,
    Values,
    is_node,
)

FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a spreadsheet takes for the beginning of a formula, wide signs too."""
BETWEEN_TITLES = " / "

Record = list[str]


class CsvBlock(NamedTuple):
    """Records that stand together."""

    records: list[Record]
    is_text: bool = False


def render(answer: Answer, system: System, _width: int) -> str:
    """Write the records in the reader's units, with line feeds; a file has CR LF, see `forms.py`."""
    if answer.page is None:
        return ""
    head = CsvBlock([[harmless(line)] for line in document_head(answer) if line])
    records = list(_set_apart([head, *_blocks(answer.page.parts, system, ())]))
    fields = max(map(len, records), default=0)
    written = StringIO(newline="")
    rows = ([*record, *[""] * (fields - len(record))] for record in records)
    csv.writer(written, lineterminator="\n").writerows(rows)
    return written.getvalue()


def harmless(text: str) -> str:
    """Write a text for a cell, in one line, so that no spreadsheet takes it for a formula."""
    text = " ".join(visible(text).split())
    return f"'{text}" if text.startswith(FORMULA) else text


def _set_apart(blocks: Iterable[CsvBlock]) -> Iterator[Record]:
    """Put an empty record between two blocks, and none between paragraphs."""
    before: CsvBlock | None = None
    for block in blocks:
        if before is not None and not (before.is_text and block.is_text):
            yield [""]
        yield from block.records
        before = block


# ---- parts of a page ----


def _blocks(parts: Sequence[Node], system: System, titles: tuple[str, ...]) -> Iterator[CsvBlock]:
    for part in parts:
        match part:
            case Section(title, below):
                yield from _titled(title, titles, _blocks(below, system, (*titles, title) if title else titles))
            case Series(_, sections):
                yield from _blocks(sections, system, titles)
            case Text(words):
                yield CsvBlock([[harmless(format_line(words, system))]], is_text=True)
            case Facts(rows):
                yield from _filled([_fact(row, system) for row in rows if row.label], FACT_HEADS)
            case Table(title=title):
                yield from _titled(title, titles, _table(part, system), part.empty)
            case Statements(title=title, entries=entries):
                yield from _titled(title, titles, _entries(entries, system), part.empty)
            case Picture() | Values():
                pass


def _titled(title: str, titles: tuple[str, ...], blocks: Iterable[CsvBlock], empty: str = "") -> Iterator[CsvBlock]:
    """Put a record with the titles that blocks stand below before the first of them."""
    first, *others = [*blocks] or [CsvBlock([[harmless(empty)]])]
    if not any(map(any, first.records)):
        return
    head = [[harmless(BETWEEN_TITLES.join((*titles, title)))]] if title else []
    yield CsvBlock([*head, *first.records], first.is_text and not head)
    yield from others


FACT_HEADS = ("what", "value", "±", "from", "to", "unit", "note")


def _fact(row: Fact, system: System) -> Record:
    value, *others, beside = _numbers(row.value, system)
    note = f"{beside if value else ''} {harmless(format_cell(row.note, system))}".strip()
    return [harmless(row.label), value or beside, *others, note]


def _numbers(cell: Cell | Node, system: System) -> NumberCell:
    """Give the numbers of a cell, or its words where they stand for no number. A currency is a text of a file."""
    found = None if is_node(cell) else number_cell(cell, system)
    if found is None:
        return NumberCell(words=harmless(format_value(cell, system)))
    return found._replace(unit=harmless(found.unit), words=harmless(found.words))


def _filled(records: list[Record], heads: Sequence[str]) -> Iterator[CsvBlock]:
    """Give records below their heads, without columns that are empty."""
    if not records:
        return
    used = [place for place in range(len(heads)) if any(record[place] for record in records)]
    yield CsvBlock([[record[place] for place in used] for record in ([*heads], *records)])


def _entries(entries: Sequence[Statement], system: System) -> list[CsvBlock]:
    """Give a list as a table where its data have labels, else a record for each entry that is on paper."""
    if entries and all(any(fact.label for fact in entry.data) for entry in entries):
        used = [
            place
            for place, facts in enumerate(zip(*(entry.data for entry in entries), strict=True))
            if any(fact.value is not None for fact in facts)
        ]
        columns = [Column("", entries[0].data[place].label) for place in used]
        return [*_table(Table("", columns, [[entry.data[place].value for place in used] for entry in entries]), system)]
    listed = [_entry(entry, system) for entry in entries if entry.is_shown]
    return [CsvBlock(_without_empty(listed))] if listed else []


def _entry(entry: Statement, system: System) -> Record:
    """Give the mark, the first line and the paragraphs of an entry."""
    words = [harmless(format_line(each, system)) for each in (entry.head, *entry.body)]
    match entry.mark:
        case Signal():
            return [entry.mark.word, *words]
        case Box(number, is_ticked):
            return [str(number), *(["done"] if is_ticked else ["to do"]), *words]
    return ["" if entry.mark == "-" else harmless(entry.mark), *words]


def _without_empty(records: list[Record]) -> list[Record]:
    """Leave out the marks where no entry has one."""
    return records if any(record[0] for record in records) else [record[1:] for record in records]


# ---- tables ----


def _table(table: Table, system: System) -> Iterator[CsvBlock]:
    shown = [(place, column) for place, column in enumerate(table.columns) if column.head]
    if not table.rows or not shown:
        return
    columns = [_column(column, [row[place] for row in table.rows], system) for place, column in shown]
    parts = [part for column in columns for part in column]
    yield CsvBlock([[*record] for record in zip(*parts, strict=True)])


def _column(column: Column, cells: Sequence[Cell | Node], system: System) -> list[Record]:
    """Give the columns that one column takes, each with its head: value, spread, both ends, unit.

    Words that stand beside a number have a column of their own before it; where no cell has both, all share one.
    """
    filled = [_numbers(cell, system) for cell in cells]
    words = [cell.words for cell in filled]
    is_mixed = any(cell.words and any(cell[:4]) for cell in filled)
    values = [cell.value if is_mixed else cell.value or cell.words for cell in filled]
    others = list(zip(*(cell[1:5] for cell in filled), strict=True))
    first = [("", words), (FACT_HEADS[1], values)] if is_mixed else [("", values)]
    parts = [
        [harmless(f"{column.head} {word}"), *texts]
        for word, texts in (*first, *zip(FACT_HEADS[2:6], others, strict=True))
    ]
    return [part for part in parts if part is parts[0] or any(part[1:])]
