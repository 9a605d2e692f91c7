"""A page as JSON for programs: SI units whatever the reader's units are, and one envelope for every command.

The schema of each answer is declared beside its builder (`SHAPE`) and printed by `kitbuilder format --json-schema`.
Numbers have the digits that their spread allows and one more: JCGM 100:2008 (GUM), 7.2.6, states uncertainties to two
digits and lets further ones stand to avoid rounding errors in later calculations.
"""

import json
from collections.abc import Sequence
from datetime import date
from math import floor, log10

from kitbuilder.assess.figures import NEGLIGIBLE, Figure
from kitbuilder.assess.findings import About, Amount, Signal
from kitbuilder.report.answer import FORMAT, Answer, Complaint
from kitbuilder.report.cells import format_line
from kitbuilder.report.numbers import MEASURES, System
from kitbuilder.report.page import (
    Amounts,
    Between,
    BothUnits,
    Cell,
    Duration,
    Estimate,
    Fact,
    Facts,
    Interval,
    InUnits,
    Node,
    Page,
    Picture,
    Price,
    Section,
    Series,
    Share,
    Statements,
    StockLength,
    Table,
    Text,
    Values,
    is_node,
)

Json = None | bool | int | float | str | list["Json"] | dict[str, "Json"]

SPREAD_DIGITS = 3
"""Significant digits of a spread."""
DIGITS = 6
"""Significant digits of a number without a spread."""

SUFFIXES = {
    "length": "_m",
    "mass": "_kg",
    "buoyancy": "_kgf",
    "pressure": "_pa",
    "volume": "_m3",
    "density": "_kg_m3",
    "angle": "_rad",
    "moment": "_kgf_m",
    "torque": "_nm",
    "pitch": "_m",
    "flow": "_m3_s",
}
"""How the key of a quantity ends, by its dimension."""


def render(answer: Answer, _system: System, _width: int) -> str:
    """Write the envelope in ASCII: every encoding can take it, and no character from a file is obeyed."""
    data = {
        "format": FORMAT,
        "command": answer.command,
        "files": [{"file": read.file, "holds": read.holds, "name": read.name} for read in answer.files],
        "problems": [_problem(problem) for problem in answer.problems],
        "result": None if answer.page is None else page_data(answer.page),
    }
    return json.dumps(data, indent=2, allow_nan=False) + "\n"


def _problem(found: Complaint) -> Json:
    return {
        "file": found.file,
        "line": found.line,
        "place": found.place,
        "found": found.found,
        "accepted": found.accepted,
        "message": found.message,
    }


def page_data(page: Page) -> dict[str, Json]:
    """Give everything on a page that has a key."""
    return _object(page.parts)


def _object(parts: Sequence[Node]) -> dict[str, Json]:
    found: dict[str, Json] = {}
    for part in parts:
        match part:
            case Section(_, below, key):
                _put(found, {key: _object(below)} if key else _object(below))
            case Facts(rows, key):
                _put(found, {key: _fields(rows)} if key else _fields(rows))
            case Table() | Statements() | Series():
                _put(found, {part.key: _node(part.key, part)} if part.key else {})
            case Text(words, key):
                _put(found, {key: format_line(words, System.METRIC)} if key else {})
            case Values() | Picture():
                pass
    return found


def _put(found: dict[str, Json], more: dict[str, Json]) -> None:
    assert not found.keys() & more.keys(), f"twice on one page: {found.keys() & more.keys()}"
    found.update(more)


def _fields(rows: Sequence[Fact]) -> dict[str, Json]:
    return {row.key: _value(row.key, row.value) for row in rows if row.key}


def _node(key: str, node: Node) -> Json:
    match node:
        case Table(_, columns, rows):
            return [
                {column.key: _value(column.key, cell) for column, cell in zip(columns, row, strict=True) if column.key}
                for row in rows
            ]
        case Statements(_, entries):
            return [_fields(entry.data) for entry in entries]
        case Series(_, sections):
            return [_object(section.parts) for section in sections]
        case Values(values):
            _check_suffix(key, values)
            return [_cell(value) for value in values]
        case Facts(rows):
            return _fields(rows)
    return _object([node])


def _value(key: str, value: Cell | Node) -> Json:
    if is_node(value):
        return _node(key, value)  # type: ignore[arg-type]  # mypy takes the union, which is recursive, for another
    _check_suffix(key, [value])
    return _cell(value)


def _check_suffix(key: str, values: Sequence[Cell]) -> None:
    """Hold a key to the unit of its values, so that no program has to guess it."""
    for value in values:
        suffix = _suffix(value.value if isinstance(value, BothUnits | InUnits) else value)
        assert key.endswith(suffix), f"the key {key!r} does not end in {suffix!r}"


def _suffix(value: Cell) -> str:
    match value:
        case Amount() | Amounts() | Estimate() | Interval() | Between():
            return SUFFIXES[MEASURES[value.measure][System.METRIC].dimension]
        case StockLength():
            return "_m"
        case Duration():
            return "_s"
    return ""


def _cell(cell: Cell) -> Json:
    match cell:
        case None | bool():
            return cell
        case Signal():
            return cell.word.lower()
        case int():
            return int(cell)
        case str():
            return str(cell)
        case date():
            return cell.isoformat()
        case Amount(value, _):
            return rounded(value)
        case Amounts(values, _):
            return [rounded(value) for value in values]
        case Estimate(figure, _):
            return _figure(figure)
        case Interval(found, _) | Duration(found):
            return {"value": rounded(found.value), "low": rounded(found.low), "high": rounded(found.high)}
        case Between(low, high, _):
            return {"low": rounded(low), "high": rounded(high)}
        case StockLength(length_m):
            return rounded(length_m)
        case BothUnits(value) | InUnits(value, _):
            return _cell(value)
        case Share(value):
            return _figure(value) if isinstance(value, Figure) else round(value, 4)
        case Price(value, _):
            return round(value, 2)
        case About():
            return format_line((cell,), System.METRIC)
    return format_line(cell, System.METRIC)


def _figure(figure: Figure) -> dict[str, Json]:
    spread = figure.spread
    if spread <= NEGLIGIBLE:
        return {"value": rounded(figure.value), "spread": 0.0, "origin": figure.origin}
    decimals = SPREAD_DIGITS - 1 - floor(log10(spread))
    found: dict[str, Json] = {
        "value": round(figure.value, decimals) + 0.0,
        "spread": rounded(spread, SPREAD_DIGITS),
        "origin": figure.origin,
    }
    if figure.is_lopsided:
        below, above = figure.sides
        found["low"] = round(figure.value - below, decimals) + 0.0
        found["high"] = round(figure.value + above, decimals) + 0.0
    return found


def rounded(value: float, significant: int = DIGITS) -> float:
    """Round to significant digits: 0.7112 for what arithmetic made 0.7111999999999999."""
    return float(f"{value:.{significant}g}") + 0.0
