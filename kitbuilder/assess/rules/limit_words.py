"""A limit in a sentence, with the range that its sources leave it."""

from kitbuilder.assess.findings import Amount, Words
from kitbuilder.catalogue.entries import Value


def with_range(limit: Value, measure: str) -> Words:
    """Write a limit, and its range where it has one: "4.5 kg (3.0 to 6.0 kg)"."""
    value = Amount(limit.value, measure)
    if limit.low == limit.high:
        return (value,)
    return (value, " (", Amount(limit.low, measure), " to ", Amount(limit.high, measure), ")")
