"""Parses TOML; turns the parser's error into words that a diver understands."""

import re
import tomllib
from typing import Any

from kitbuilder.kitfile.problems import Problem
from kitbuilder.kitfile.raw_values import shorten

_ENDLESS_NUMBER = re.compile(r"\d[\d_]{4299,}")
MOST_DOTS = 100
_ENDLESS_KEY = re.compile(r"""(?<![\w-])(?:(?:[\w-]+|"[^"\n]*"|'[^'\n]*')[ \t]*\.[ \t]*){100}""")
"""A key of so many parts takes tomllib more memory than there is."""
_SYNTAX = (
    (
        r"Cannot (overwrite|declare)",
        "this key or table appears a second time",
        "Remove one of the two. A new item begins with two brackets on each side, as in [[hose]].",
    ),
    (
        r"Unterminated string|Illegal character '\\n'|Expected \"'",
        "a text in quotes is not closed",
        "Write the closing quote.",
    ),
    (
        r"Expected newline or end of document",
        "this line has more than a key and one value",
        'Look for a missing quote. A quantity stands in quotes with its unit, as in length = "75 cm".',
    ),
)
"""What tomllib says of the commonest slips, and what it means to somebody who has not read a grammar."""


class NotToml(Exception):
    """A text could not be parsed."""

    def __init__(self, problem: Problem) -> None:
        """Keep what there is to say."""
        super().__init__(str(problem))
        self.problem = problem


def parse_toml(text: str) -> dict[str, Any]:
    """Read a text as TOML.

    Raises:
        NotToml: It is not TOML, or none that a parser can take.
    """
    if text.count(".") >= MOST_DOTS and (match := _ENDLESS_KEY.search(text)):
        raise NotToml(_too_deep(_line_at(text, match.start())))
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise NotToml(_explained(text, error)) from None
    # Python's own refusal of endless numbers, which tomllib lets through; it is no TOMLDecodeError.
    except ValueError:
        raise NotToml(_endless_number(text)) from None
    except RecursionError:
        raise NotToml(_too_deep(None)) from None


def is_toml_table(value: object) -> bool:
    """Say whether a parsed value is a table, or a list of tables."""
    return isinstance(value, dict) or (
        isinstance(value, list) and bool(value) and all(isinstance(row, dict) for row in value)
    )


def _explained(text: str, error: tomllib.TOMLDecodeError) -> Problem:
    """Take the place out of tomllib's message, which names it only there: "... (at line 3, column 7)"."""
    match = re.search(r"\(at line (\d+)", str(error))
    line = int(match[1]) if match else _line_at(text, len(text))
    what = re.sub(r" \(at .*\)$", "", str(error))
    for pattern, found, accepted in _SYNTAX:
        if re.match(pattern, what):
            return Problem(line, "", found, accepted)
    return Problem(
        line,
        "",
        f"this is not TOML: {what[:1].lower()}{shorten(what[1:])}",
        "Look on this line or the one above for a missing or curly quote, bracket or equals sign.",
    )


def _endless_number(text: str) -> Problem:
    """Find the number that Python refuses to read because it has thousands of digits; Python does not say where."""
    places = list(_ENDLESS_NUMBER.finditer(text))
    line = _line_at(text, places[0].start()) if len(places) == 1 else None
    return Problem(line, "", "a number has thousands of digits", 'A quantity stands in quotes: "75 cm".')


def _too_deep(line: int | None) -> Problem:
    accepted = "A kit file has only keys, and tables such as [[hose]] with keys."
    return Problem(line, "", "lists or tables are nested too deep to read", accepted)


def _line_at(text: str, position: int) -> int:
    return text.count("\n", 0, position) + 1
