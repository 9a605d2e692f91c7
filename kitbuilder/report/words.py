"""Sentences for a reader, with amounts in the reader's units."""

from kitbuilder.assess.findings import Words
from kitbuilder.foreign import visible
from kitbuilder.report.cells import format_line
from kitbuilder.report.numbers import System

CAUTIONS = (
    "kitbuilder advises and never certifies. Regulators are worked on by trained people; threads and pressure "
    "ratings are read off the part; a leak check and a function check follow every hose change; ballast is confirmed "
    "by a check in the water. Local rules and a licensed technician come first."
)


def cut(text: str, width: int) -> str:
    """Make a text visible and cut it to the width of a column, with an ellipsis at the end."""
    text = visible(text)
    return text if len(text) <= width else text[: max(width - 1, 0)] + "…"


def box(is_ticked: bool) -> str:
    """Draw a box to tick."""
    return "[x]" if is_ticked else "[ ]"


def ended(words: Words) -> Words:
    """Give a sentence with a full stop at its end, unless it ends already."""
    last = words[-1] if words else ""
    return words if isinstance(last, str) and last.endswith((".", "!", "?")) else (*words, ".")


def counted_items(count: int, name: str) -> str:
    """Say a number of items: "1 hose", "6 hoses"."""
    return f"{count} {name}" if count == 1 else f"{count} {name}s"


def sentence(words: Words, system: System) -> str:
    """Write words and amounts in the reader's units with a full stop last."""
    return format_line(ended(words), system)
