"""Sentences for a reader, with amounts in the reader's units."""

from functools import lru_cache

from kitbuilder.assess.findings import Amount, Finding, Tag, Unchecked, Words
from kitbuilder.foreign import visible
from kitbuilder.kit.items import Kit
from kitbuilder.report.numbers import System, shown

CAUTIONS = (
    "kitbuilder advises and never certifies. Regulators are worked on by trained people; threads and pressure "
    "ratings are read off the part; a leak check and a function check follow every hose change; ballast is confirmed "
    "by a check in the water. Local rules and a licensed technician come first."
)


def cut(text: str, width: int) -> str:
    """The text made visible, or its beginning and an ellipsis, so that it is no longer than a column."""
    text = visible(text)
    return text if len(text) <= width else text[: max(width - 1, 0)] + "…"


def ended(words: Words) -> Words:
    """Give a sentence with a full stop at its end, unless it ends already."""
    last = words[-1] if words else ""
    return words if isinstance(last, str) and last.endswith((".", "!", "?")) else (*words, ".")


def counted_items(count: int, name: str) -> str:
    """Say a number of items: "1 hose", "6 hoses"."""
    return f"{count} {name}" if count == 1 else f"{count} {name}s"


def sentence(words: Words, system: System) -> str:
    """Write words with their amounts in the reader's units and a full stop last. A tag marked as one has quotes."""
    # A tag equals its text: it would find the sentence without quotes in the memory, were they not put on first.
    return _sentence(tuple(f'"{piece}"' if isinstance(piece, Tag) else piece for piece in words), system)


@lru_cache(maxsize=4096)
def _sentence(words: Words, system: System) -> str:
    text = visible("".join(piece if isinstance(piece, str) else _amount(piece, system) for piece in words))
    return text if text.endswith((".", "!", "?")) else f"{text}."


def subject(kit: Kit, finding: Finding | Unchecked) -> str:
    """The tag of the item it is about; "kit" for the whole."""
    return "kit" if finding.item is None else visible(kit.items[finding.item].tag)


def _amount(amount: Amount, system: System) -> str:
    return shown(amount.value, amount.measure, system)
