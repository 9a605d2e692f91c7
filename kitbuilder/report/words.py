"""Sentences for a reader, with amounts in the reader's units."""

from kitbuilder.assess.findings import Tag, Words
from kitbuilder.foreign import visible
from kitbuilder.report.cells import format_line
from kitbuilder.report.numbers import System

CAUTIONS = (
    "kitbuilder advises and never certifies. Regulators are worked on by trained people; threads and pressure "
    "ratings are read off the part; a leak check and a function check follow every hose change; ballast is confirmed "
    "by a check in the water. Local rules and a licensed technician come first."
)

BALANCE_CAUTION = "An estimate: confirm it in shallow water, with lead to spare. Cautions: ?"
FIT_CAUTION = "Try it worn; check for leaks. Cautions: ?"
GEAR_CAUTION = "Limits are common practice; the maker's sheet comes first. Cautions: ?"
FEWEST_CAUTION = "Read thread and pressure class off each part first. Cautions: ?"
"""One line where the answer is used; help has the whole text, `CAUTIONS`."""
CARD_CAUTION = (
    "An estimate, never a certificate: a check in the water decides. Read threads and pressure ratings off each rented "
    "part, and check for leaks. Local rules come first."
)
"""The lines of a card, which goes on the boat without the page that it came with."""
PICTURE_CAUTION = (
    "Advice, never a certificate. Before a dive: threads and pressure classes read off the parts, a check for leaks, "
    "every hose tried worn. A trained person does the work."
)
"""The line of a drawing, which goes home without the page that it came with."""


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


def capitalised(words: Words) -> Words:
    """Give a sentence with a capital letter first, unless it begins with a tag or a value."""
    first = words[0] if words else ""
    if not isinstance(first, str) or isinstance(first, Tag):
        return words
    return (first[:1].upper() + first[1:], *words[1:])


def counted_items(count: int, name: str) -> str:
    """Say a number of items: "1 hose", "6 hoses"."""
    return f"{count} {name}" if count == 1 else f"{count} {name}s"


def counted_keys(count: int) -> str:
    """Say how many keys a file leaves out: "1 key at its default", "9 keys at their default"."""
    return "1 key at its default" if count == 1 else f"{count} keys at their default"


def sentence(words: Words, system: System) -> str:
    """Write words and amounts in the reader's units with a full stop last."""
    return format_line(ended(words), system)
