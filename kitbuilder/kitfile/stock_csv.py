"""A stock as a table that a spreadsheet saved: a line of heads, then one line per hose.

Every line is read by itself, so that a quote that is not closed breaks one row and not all below it.
"""

import csv
import re
from collections.abc import Sequence
from typing import NamedTuple

from kitbuilder.kit.fields import Field, ValueKind, fields_of
from kitbuilder.kit.items import FORMAT
from kitbuilder.kit.stock import Stock, StockHeader, StockHose
from kitbuilder.kitfile.problems import Problem, nearest
from kitbuilder.kitfile.raw_values import describe, shorten
from kitbuilder.kitfile.values import Refusal, parse_value
from kitbuilder.spellings import factors, folded, with_unit

FIELDS = {field.key: field for field in fields_of(StockHose)}
"""The columns that are read, by their heads."""
SEPARATORS = (",", ";")
LONGEST_LINE = 20_000
"""Characters; one cell may have a tenth of it."""
MOST_NAMED = 5
"""Columns named in one sentence."""

_LINE_END = re.compile(r"\r\n|\r|\n")
_DECIMAL_COMMA = re.compile(r"([+-]?[0-9]+),([0-9]+)([^0-9.,]*)")


class CsvColumn(NamedTuple):
    """One column of the table."""

    place: int
    field: Field
    unit: str
    """From its head; empty when the cells tell it."""


def read_csv(text: str, name: str) -> tuple[Stock | None, tuple[Problem, ...]]:
    """Give the stock of a table less its broken rows, and what is wrong with it; None when it is no such table.

    Args:
        text: The table, with commas or semicolons between the cells.
        name: What to call the stock; the table has no place for it.
    """
    numbered = enumerate(_LINE_END.split(text), 1)
    lines = [(line, row) for line, row in numbered if row.strip(' \t"' + "".join(SEPARATORS))]
    if not lines:
        return Stock(plain_header(name), ()), ()
    (head_line, head), *rows = lines
    separator = max(SEPARATORS, key=head.count)
    try:
        heads = _cells(head, separator)
    except Refusal as refusal:
        return None, (Problem(head_line, "", refusal.found, refusal.accepted),)
    columns, ignored = _columns(heads, head_line)
    if lacking := _find_lacking(columns, head_line):
        return None, (*lacking, *ignored)
    hoses, broken = _read_rows(rows, separator, columns, len(heads))
    currency = next((column.unit for column in columns if column.field.kind is ValueKind.PRICE), "")
    return Stock(plain_header(name, currency or None), hoses), (*ignored, *broken)


def plain_header(name: str, currency: str | None = None) -> StockHeader:
    """Give the header of a stock whose file says next to nothing of itself."""
    return StockHeader(format=FORMAT, holds="stock", name=name, currency=currency)


def _columns(heads: list[str], line: int) -> tuple[tuple[CsvColumn, ...], list[Problem]]:
    """Give the columns that are read, and a word about the others."""
    columns: dict[str, CsvColumn] = {}
    unknown: list[str] = []
    twice: list[str] = []
    for place, head in enumerate(heads):
        key, unit = _key_and_unit(head)
        if key in columns:
            twice.append(head)
        elif key in FIELDS:
            columns[key] = CsvColumn(place, FIELDS[key], unit)
        elif key:
            unknown.append(head)
    problems = []
    if unknown:
        hint = nearest(unknown[0].strip(), FIELDS.keys() - columns.keys())
        accepted = f"Known columns: {', '.join(FIELDS)}.{hint}"
        problems.append(Problem(line, "", f"unknown columns are ignored: {_named(unknown)}", accepted))
    if twice:
        problems.append(Problem(line, "", f"columns appear twice: {_named(twice)}", "Only the first of each is read."))
    return tuple(columns.values()), problems


def _named(heads: list[str]) -> str:
    names = [f'"{shorten(head.strip())}"' for head in heads[:MOST_NAMED]]
    more = len(heads) - MOST_NAMED
    return ", ".join(names) + (f" and {more} more" if more > 0 else "")


def _key_and_unit(head: str) -> tuple[str, str]:
    """Give the key of a head, and the unit in its brackets: "In stock", "length (cm)", "price [EUR]"."""
    key, _, unit = head.replace("[", "(").replace("]", ")").partition("(")
    return "_".join(key.lower().replace("-", " ").replace("_", " ").split()), unit.replace(")", "").strip()


def _find_lacking(columns: tuple[CsvColumn, ...], line: int) -> list[Problem]:
    """Report what keeps every row from being read."""
    found = {column.field.key for column in columns}
    lacking = [
        Problem(line, key, "this column is missing", f"The first line names columns: {', '.join(FIELDS)}.")
        for key, field in FIELDS.items()
        if field.required and key not in found
    ]
    for _, field, unit in columns:
        if field.kind is ValueKind.QUANTITY and unit and folded(unit) not in factors(field.dimension):
            accepted = f'Write a head such as "{field.key} (cm)", or the unit in every cell.'
            lacking.append(
                Problem(line, field.key, f'the unit "{shorten(unit)}" in the column head is not known', accepted)
            )
    return lacking


def _read_rows(
    rows: Sequence[tuple[int, str]], separator: str, columns: tuple[CsvColumn, ...], width: int
) -> tuple[tuple[StockHose, ...], list[Problem]]:
    """Give the sound rows, and what is wrong with the others."""
    hoses: list[StockHose] = []
    problems: list[Problem] = []
    lines: dict[str, int] = {}
    for count, (line, row) in enumerate(rows, 1):
        hose, found = _read_row(row, separator, columns, width)
        if hose is not None and hose.tag and lines.setdefault(hose.tag, line) != line:
            accepted = f"Line {lines[hose.tag]} has it already. A tag names one hose: change one of the two."
            found = [("tag", f'found "{shorten(hose.tag)}" a second time', accepted)]
        if hose is not None and not found:
            hoses.append(hose)
        for key, what, accepted in found:
            problems.append(Problem(line, f"hose no. {count}{f', {key}' if key else ''}", what, accepted))
    return tuple(hoses), problems


RowComplaint = tuple[str, str, str]
"""The key, what was found, and what is accepted."""


def _read_row(
    row: str, separator: str, columns: tuple[CsvColumn, ...], width: int
) -> tuple[StockHose | None, list[RowComplaint]]:
    """Give the hose of a row, or what is wrong with it."""
    try:
        cells = _cells(row, separator)
    except Refusal as refusal:
        return None, [("", refusal.found, refusal.accepted)]
    complaints: list[RowComplaint] = []
    if len(cells) > width:  # an empty last one as well: a price with a comma has pushed the others along
        found = f"found {len(cells)} cells below {width} heads"
        complaints.append(("", found, f'Put quotes around a cell that contains a "{separator}".'))
    values: dict[str, object] = {}
    for place, field, unit in columns:
        cell = cells[place].strip() if place < len(cells) else ""
        if not cell and field.required:
            complaints.append((field.key, "this cell is empty", f"Write for example {field.example}."))
        if not cell:
            continue
        try:
            values[field.attribute] = parse_value(field, StockHose.kind, _as_in_toml(field, cell, unit))
        except Refusal as refusal:
            complaints.append((field.key, refusal.found, refusal.accepted))
    return None if complaints else StockHose(**values), complaints  # type: ignore[arg-type]  # of the right kinds


def _cells(row: str, separator: str) -> list[str]:
    """Give the cells of a line.

    Raises:
        Refusal: Its quotes do not pair, or it is far too long.
    """
    if len(row) > LONGEST_LINE:
        raise Refusal(f"found a line of {len(row)} characters", f"At most {LONGEST_LINE}.")
    try:
        return next(csv.reader([row], delimiter=separator, strict=True), [])
    except csv.Error:
        raise Refusal(
            "a quote is not closed", "Close each quote on its line. Write a quote inside a cell twice."
        ) from None


def _as_in_toml(field: Field, cell: str, unit: str) -> str | bool:
    """Write a cell as a TOML file would have the value."""
    if field.kind is ValueKind.FLAG:
        return _yes_or_no(cell)
    if field.kind is ValueKind.PRICE:
        return _with_point(cell)
    if field.kind is ValueKind.QUANTITY:
        return with_unit(cell, unit, field.dimension)
    return cell


def _with_point(cell: str) -> str:
    """Put a point before the decimals of a number; two commas are no decimals and stay."""
    match = _DECIMAL_COMMA.fullmatch(cell)
    return f"{match[1]}.{match[2]}{match[3]}" if match else cell


def _yes_or_no(cell: str) -> bool:
    """Read whether a hose is in stock; a shop may give a count."""
    if cell.isascii() and cell.isdigit():
        return cell.strip("0") != ""
    if cell.lower() in ("yes", "true", "no", "false"):
        return cell.lower() in ("yes", "true")
    raise Refusal(f"found {describe(cell)}", "Accepted: yes, no, or the number of pieces.")
