"""One point that the divers of a pair agree on before the dive: what is so, why it matters, what to do."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from kitbuilder.assess.findings import Signal, Words


class Agreement(NamedTuple):
    """One point to agree on."""

    signal: Signal
    topic: str
    """What it is about, in a few words."""
    who: tuple[str, ...]
    """The divers it is about, by name: the giver first where one gives."""
    what: Words
    why: Words
    do: Words

    @property
    def must_agree(self) -> bool:
        """Whether it is more than good to know."""
        return self.signal > Signal.NOTICE


def distinct(names: Iterable[str]) -> tuple[str, ...]:
    """Give each name once, in their order."""
    return tuple(dict.fromkeys(names))


def listed(parts: Sequence[str], last: str, between: str = ",") -> str:
    """Put texts in a row: "a, b and c"."""
    *before, end = parts
    return f"{f'{between} '.join(before)} {last} {end}" if before else end
