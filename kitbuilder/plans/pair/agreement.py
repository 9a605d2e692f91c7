"""One point that the divers of a pair agree on before the dive: what is so, why it matters, what to do."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from kitbuilder.assess.findings import Amount, Signal, Word
from kitbuilder.plans.pair.members import Member


class OwnAmount(NamedTuple):
    """A quantity in a sentence about one diver, to be shown in the units of that diver's gauges and scales first."""

    amount: Amount
    units: str
    """ "metric" or "imperial"."""


Said = tuple[Word | OwnAmount, ...]
"""A sentence of a pair, its quantities and its tags kept apart."""


def said(*pieces: Word | OwnAmount) -> Said:
    """Give a sentence of texts and quantities."""
    return pieces


def in_own_units(member: Member, value: float, measure: str) -> OwnAmount:
    """Give a quantity in the units of a diver."""
    return OwnAmount(Amount(value, measure), member.units)


def whose(name: str, item: str) -> str:
    """Say whose item it is: "guest's hose", but "the hose of the diver of these kits"."""
    is_long = " of " in name or name.endswith(")")
    return f"the {item} of {name}" if is_long else f"{name}'s {item}"


class Agreement(NamedTuple):
    """One point to agree on."""

    signal: Signal
    topic: str
    """What it is about, in a few words."""
    who: tuple[str, ...]
    """The divers it is about, by name: the giver first where one gives."""
    what: Said
    why: Said
    do: Said

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
