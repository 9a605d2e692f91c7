"""The two streams of the command line: everything printed is written here, visible and in the stream's encoding."""

import os
import sys
from contextlib import suppress
from functools import lru_cache
from typing import TextIO

from kitbuilder.foreign import NO_BREAK, visible_lines

SUBSTITUTES = {
    NO_BREAK: " ",
    "−": "-",
    "–": "-",
    "—": "-",
    "′": "'",
    "±": "+/-",
    "↑": "^",
    "↓": "v",
    "×": "x",
    "·": ".",
    "…": "...",
    "°": "deg",
    "℃": "degC",
    "℉": "degF",
    "²": "^2",
    "³": "^3",
    "‰": "per mille",
    "÷": "/",
    "µ": "u",
    "¼": " 1/4",
    "½": " 1/2",
    "¾": " 3/4",
    "⅓": " 1/3",
    "⅔": " 2/3",
    "⅕": " 1/5",
    "⅖": " 2/5",
    "⅗": " 3/5",
    "⅘": " 4/5",
    "⅙": " 1/6",
    "⅚": " 5/6",
    "⅛": " 1/8",
    "⅜": " 3/8",
    "⅝": " 5/8",
    "⅞": " 7/8",
    "≤": "<=",
    "≥": ">=",
    "≈": "~",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "→": "->",
    "←": "<-",
    "▸": ">",
    "▲": "^",
    "▼": "v",
    "●": "*",
    "┃": "|",
    "━": "=",
    "├": "|",
    "┤": "|",
    "◆": "#",
    "─": "-",
    "╌": "-",
    "│": "|",
    "┌": "+",
    "┐": "+",
    "└": "+",
    "┘": "+",
}
"""What is printed for a sign of ours that the encoding lacks. A number keeps its sign: "-36 g", never "\\u221236 g"."""


class OutputLost(Exception):
    """Standard output did not take everything; the message says why."""


def claim_closed_streams() -> None:
    """Give a stream that was closed at the start to the null device, so that no file opened later takes its place."""
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)


def write_out(text: str) -> None:
    """Write to standard output.

    Raises:
        BrokenPipeError: Whoever reads the pipe went away.
        OutputLost: Standard output is closed, or it takes no more.
    """
    if sys.stdout is None:
        raise OutputLost("it is closed")
    try:
        sys.stdout.write(printable(text, sys.stdout))
    except BrokenPipeError:
        raise
    except OSError as error:
        raise OutputLost(error.strerror or str(error)) from None


def flush_out() -> None:
    """Write out what is still held back; raises what `write_out` does."""
    if sys.stdout is None:
        return
    try:
        sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise OutputLost(error.strerror or str(error)) from None


def write_error(text: str) -> None:
    """Write to standard error. Where that is not possible, only the exit code says what happened."""
    if sys.stderr is None:
        return
    try:
        sys.stderr.write(printable(text, sys.stderr))
        sys.stderr.flush()
    except OSError:
        drop(sys.stderr)


def drop(stream: TextIO | None) -> None:
    """Let what a stream still holds go nowhere: Python would fail on it once more when it ends."""
    if stream is None:
        return
    with suppress(OSError):
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, stream.fileno())
        os.close(null)


def printable(text: str, stream: TextIO) -> str:
    """Make a text visible and fit for a stream: our own signs are replaced where its encoding lacks them."""
    text = visible_lines(text)
    if text.isascii():
        return text
    encoding = getattr(stream, "encoding", None) or "utf-8"
    substitutes = _substitutes(encoding)
    in_reach = text.translate(substitutes) if substitutes else text
    return in_reach.encode(encoding, "backslashreplace").decode(encoding)


@lru_cache(maxsize=8)
def _substitutes(encoding: str) -> dict[int, str]:
    """Give the substitutes for those signs that an encoding lacks."""
    return {ord(sign): plain for sign, plain in SUBSTITUTES.items() if not _has(encoding, sign)}


def _has(encoding: str, sign: str) -> bool:
    try:
        sign.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True
