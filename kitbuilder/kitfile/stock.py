"""A stock file, TOML or CSV: what a shop has. Sound rows are used, each broken one is named."""

import re
from dataclasses import replace
from pathlib import Path

from kitbuilder.kit.files import STOCK_FILE
from kitbuilder.kit.stock import Stock
from kitbuilder.kitfile.disk import UnreadableFile, read_text
from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.reader import Reading, read_as
from kitbuilder.kitfile.stock_csv import plain_header, read_csv
from kitbuilder.kitfile.syntax import NotToml, parse_toml

_TABLE_START = re.compile(r"^(?=[ \t]*\[\[)", re.MULTILINE)
_SAYS_SO = re.compile(r"""^holds[ \t]*=[ \t]*["']stock["']""", re.MULTILINE)


def read_stock(path: Path) -> tuple[Stock | None, tuple[Problem, ...]]:
    """The stock of a .toml or .csv file, and what is wrong with it. Never raises.

    None for a file that cannot be used at all. A file without one sound row is a stock of nothing, and says so.
    """
    try:
        text = read_text(path)
    except UnreadableFile as error:
        found, _, accepted = str(error).partition(". ")
        return None, (Problem(None, "", found, accepted + "."),)
    stock, problems = _read(path, text)
    return stock, problems if stock is None or stock.things else (*problems, _no_hose(problems))


def is_stock(path: Path, text: str, reading: Reading) -> bool:
    """Whether a file means to be a stock, by its name or its own word, even where it is no TOML.

    Args:
        path: The file.
        text: Its text.
        reading: What came of reading it as any kind of file.
    """
    says_so = reading.holds == STOCK_FILE.name or (not reading.rows and _SAYS_SO.search(text) is not None)
    return _is_csv(path) or says_so


def _is_csv(path: Path) -> bool:
    return path.suffix.lower() == ".csv"


def _read(path: Path, text: str) -> tuple[Stock | None, tuple[Problem, ...]]:
    if not text.strip():
        return Stock(plain_header(path.stem), ()), ()
    return read_csv(text, path.stem) if _is_csv(path) else _read_toml(text)


def _no_hose(problems: tuple[Problem, ...]) -> Problem:
    found = "no hose in it can be used" if problems else "there is no hose in it"
    return Problem(None, "", found, "Until there is one, no hose can be advised.")


def _read_toml(text: str) -> tuple[Stock | None, tuple[Problem, ...]]:
    reading = read_as(text, STOCK_FILE)
    if reading.rows:
        return reading.stock, reading.problems
    sound, broken = _without_broken_tables(text)
    again = read_as(sound, STOCK_FILE)
    if again.stock is None:
        return None, reading.problems
    return again.stock, tuple(sorted((*broken, *again.problems), key=lambda problem: problem.line or 0))


def _without_broken_tables(text: str) -> tuple[str, list[Problem]]:
    """The text with blank lines in place of each table that is not TOML, so that lines keep their numbers; and why."""
    line, kept, broken = 1, [], []
    for piece in _TABLE_START.split(text):
        lines = piece.count("\n")
        try:
            parse_toml(piece)
            kept.append(piece)
        except NotToml as error:
            kept.append("\n" * lines)
            inside = min(error.problem.line or 1, lines + 1)
            broken.append(replace(error.problem, line=line + inside - 1))
        line += lines
    return "".join(kept), broken
