"""Findings about a kit, and the rules that could not run."""

from collections.abc import Iterable, Iterator
from enum import IntEnum
from typing import NamedTuple


class Signal(IntEnum):
    """How bad it is, in the signal words of ANSI Z535 and ISO 3864; a larger number is worse."""

    NOTICE = 1
    """Worth knowing."""
    CAUTION = 2
    """Will annoy, chafe, snag or cost."""
    WARNING = 3
    """Will fail, or lose gas, gear or the dive."""
    DANGER = 4
    """Could hurt."""

    @property
    def word(self) -> str:
        """The signal word as written on screens and reports."""
        return self.name


class Amount(NamedTuple):
    """A quantity inside a sentence, in SI, so that the reader's units can be used when it is shown."""

    value: float
    measure: str
    """How it is shown; a key of `kitbuilder.report.numbers.MEASURES`."""


class ByUnits(NamedTuple):
    """Words that are not the same for readers of other units, such as pieces of lead: "2 × 1 kg" or "1 × 5 lb"."""

    metric: str
    imperial: str


class About(NamedTuple):
    """A quantity that is not certain, inside a sentence, in SI: "about 3 kg, anything from 0.5 to 6"."""

    value: float
    low: float
    high: float
    measure: str


class Tag(str):
    """Text that comes from a file: a tag, a name. In a sentence it stands in quotes; without them, it is a `str`."""

    __slots__ = ()


Word = str | Amount | About | ByUnits

Words = tuple[Word, ...]
"""A sentence, its quantities and its tags kept apart."""


class Finding(NamedTuple):
    """What is wrong, why it matters and what to do."""

    signal: Signal
    item: int | None
    """The number of the item in the kit; None for the kit as a whole."""
    key: str | None
    """The key of the file to look at."""
    what: Words
    why: Words
    do: Words
    rule: str = ""
    """The name of the rule that found it, filled in when the rule is run."""
    rule_of_thumb: bool = False
    line: int | None = None
    """The line of the file to look at, filled in with the rule; None for a kit that was not read from a file."""


class Unchecked(NamedTuple):
    """A rule that could not run because a value is missing."""

    item: int | None
    key: str
    """The key that would let it run; empty when the sentence says where to look."""
    because: Words
    rule: str = ""
    line: int | None = None
    """The line where the key stands or belongs, filled in with the rule; None without a key or a file."""


RuleResults = Iterator[Finding | Unchecked]
"""What a rule gives."""


def words(*pieces: Word) -> Words:
    """Give a sentence of texts, amounts, and words that differ with the units."""
    return pieces


def keys_named(results: Iterable[Finding | Unchecked], item: int | None) -> frozenset[str]:
    """Give the keys of an item that a finding is about, or that a rule needs to run."""
    return frozenset(result.key for result in results if result.item == item and result.key)
