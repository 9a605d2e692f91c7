"""A line of a page: spans of text with their roles, and how words are broken into lines."""

from functools import lru_cache
from textwrap import wrap
from typing import NamedTuple

from kitbuilder.foreign import NO_BREAK

STEP = 2
"""Spaces by which what belongs to something stands further in."""
GAP = "  "
"""Between two columns."""
LONG_WORD = 24
"""Characters from which a word does not keep its column wide."""


class Span(NamedTuple):
    """Text in one line, and what it is: "", "title", "head", "label", "note", "picture", or a signal word."""

    text: str
    role: str = ""


Line = tuple[Span, ...]


def plain(line: Line) -> str:
    """Give the text of a line without its roles."""
    return "".join(span.text for span in line)


@lru_cache(maxsize=4096)
def wrapped(text: str, width: int) -> tuple[str, ...]:
    """Break a text into lines; a hyphen or a slash within a word does not break it."""
    if len(text) <= width:
        return (text.replace(NO_BREAK, " "),)
    lines = wrap(text, max(width, 1), break_on_hyphens=False)
    return tuple(line.replace(NO_BREAK, " ") for line in lines)


def cut(text: str, width: int) -> str:
    """Give the text, or its beginning and an ellipsis, so that it is no longer than a column."""
    text = text.replace(NO_BREAK, " ")
    return text if len(text) <= width else text[: max(width - 1, 0)] + "…"
