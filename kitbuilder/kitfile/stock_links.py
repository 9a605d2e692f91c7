"""A stock file, TOML or CSV: what a shop has. Sound rows are used, each broken one is named."""

import re
from dataclasses import replace
from pathlib import Path

from kitbuilder.kit.file_kinds import STOCK_FILE
from kitbuilder.kit.stock import Stock
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.reader import ParseResult, parse_as
from kitbuilder.kitfile.stock_csv import plain_header, read_csv
from kitbuilder.kitfile.syntax import NotToml, parse_toml

_TABLE_START = re.compile(r"^(?=[ \t]*\[\[)", re.MULTILINE)


def read_stock_text(text: str, path: Path) -> ParseResult:
    """Read a text as a stock: a table if the file's ending says so, else TOML. Never raises.

    Without contents for a text that cannot be used at all. A text without one sound row is a stock of nothing, and its
    problems say so.
    """
    reading = _read(text, path)
    if reading.stock is None or reading.stock.items:
        return reading
    return replace(reading, problems=(*reading.problems, _no_hose(reading.problems)))


def is_table(path: Path) -> bool:
    """Tell by its ending whether a file is a table that a spreadsheet saved, which holds nothing but a stock."""
    return path.suffix.lower() == ".csv"


def _read(text: str, path: Path) -> ParseResult:
    if not text.strip():
        return ParseResult(Stock(plain_header(path.stem), ()), (), text, file=STOCK_FILE)
    if not is_table(path):
        return _read_toml(text)
    stock, problems = read_csv(text, path.stem)
    return ParseResult(stock, problems, text, file=STOCK_FILE)


def _no_hose(problems: tuple[Problem, ...]) -> Problem:
    found = "none of its hoses can be used" if problems else "it contains no hose"
    return Problem(None, "", found, "Add a hose, or advice cannot name any.")


def _read_toml(text: str) -> ParseResult:
    reading = parse_as(text, STOCK_FILE)
    if reading.rows:
        return reading
    sound, broken = _without_broken_tables(text)
    again = parse_as(sound, STOCK_FILE)
    if again.stock is None:
        return reading
    problems = sorted((*broken, *again.problems), key=lambda problem: problem.line or 0)
    return replace(again, problems=tuple(problems))


def _without_broken_tables(text: str) -> tuple[str, list[Problem]]:
    """Blank the lines of each table that is not TOML, so that lines keep their numbers; give the text, and why."""
    line, kept, broken = 1, [], []
    for piece in _TABLE_START.split(text):
        lines = piece.count("\n")
        try:
            parse_toml(piece)
            kept.append(piece)
        except NotToml as error:
            kept.append("\n" * lines)
            inside = min(error.problem.line or 1, lines + 1)
            broken.append(error.problem._replace(line=line + inside - 1))
        line += lines
    return "".join(kept), broken
