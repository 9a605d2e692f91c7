"""Where everything stands in the text of a kit file.

A kit file is a heading of keys and then one block of lines for each item, from its `[[table]]` line, with the comment
lines right above it, up to the next block. Blocks are what an edit cuts out and puts back, so the rest of the file
keeps its bytes; and they are where line numbers come from, which no TOML parser gives. What follows the last key of a
block (blank lines, a comment that introduces the next part of the file) belongs to no item and stays where it is.

Works on text that parses as TOML; on other text the blocks mean nothing.
"""

import re
import tomllib
from typing import NamedTuple

_QUOTED = r"""(?:"(?:\\.|[^"\\\n])*"|'[^'\n]*')"""
_STATEMENT = re.compile(
    rf"""^[ \t]*(?:
        \[\[?[ \t]*(?P<table>(?:{_QUOTED}|[^\]\#"'\n])*?)[ \t]*\]
        |(?P<key>[A-Za-z0-9_-]+|{_QUOTED})[ \t]*(?:\.(?:{_QUOTED}|[^="'\n])*)?=[ \t]*(?P<open>\"{{3}}|'{{3}}|\[|\{{)?
        |(?P<comment>\#)
    )""",
    re.MULTILINE | re.VERBOSE,
)
_TOKEN = re.compile(
    r'"{3}[\s\S]*?(?<!\\)(?:\\\\)*"{3,5}|\'{3}[\s\S]*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}]'
)


class Block(NamedTuple):
    """The lines of one item, or of the heading."""

    table: str
    """Empty for the heading."""
    start: int
    """Offset of its first character, comments above it included."""
    end: int
    """Offset after the line of its last key, or of its table's name."""
    line: int
    """Line of the table's name, counted from 1."""
    key_lines: dict[str, int]
    key_spans: dict[str, tuple[int, int]]
    """Offsets of the whole lines that a key and its value take."""


def find_blocks(text: str) -> tuple[Block, ...]:
    """Give the heading and then every table of a text, in order.

    Args:
        text: TOML that parses.
    """
    blocks: list[Block] = []
    block = Block("", 0, 0, 1, {}, {})
    position, counted, line = 0, 0, 1
    comments_start, comments_last_line = 0, -1
    end = 0
    while match := _STATEMENT.search(text, position):
        line += text.count("\n", counted, match.start())
        counted = match.start()
        position = _end_of_line(text, match.end())
        if match["comment"]:
            comments_start = comments_start if line == comments_last_line + 1 else match.start()
            comments_last_line = line
            continue
        if match["key"]:
            if match["open"]:
                position = _end_of_value(text, match.start("open"))
            key = _unquoted(match["key"])
            block.key_lines[key] = line
            block.key_spans[key] = (match.start(), position)
        else:
            blocks.append(block._replace(end=end))
            start = comments_start if line == comments_last_line + 1 else match.start()
            block = Block(_unquoted(match["table"]), start, position, line, {}, {})
        end = position
    blocks.append(block._replace(end=end))
    return tuple(blocks)


def _unquoted(name: str) -> str:
    """Give the name of a key or a table without quotes and escapes; the parts of a dotted one with plain dots."""
    if not {'"', "'", "."} & set(name):
        return name
    parts: list[str] = []
    # The TOML parser reads the name, so that quotes and escapes mean here what they mean there.
    inner = tomllib.loads(f"{name} = 0")
    while isinstance(inner, dict):
        ((part, inner),) = inner.items()
        parts.append(part)
    return ".".join(parts)


def _end_of_line(text: str, position: int) -> int:
    """Give the offset after the line break that ends the line at a position."""
    return text.find("\n", position) + 1 or len(text)


def _end_of_value(text: str, position: int) -> int:
    """Give the end of the line on which an array, inline table or string of several lines ends."""
    depth = 0
    while match := _TOKEN.search(text, position):
        position = match.end()
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(match[0], 0)
        if depth == 0:
            break
    return _end_of_line(text, position)
