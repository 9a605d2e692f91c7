"""Limits and figures in a sentence, with the range that each may lie in."""

from math import inf

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import About, Amount, Words
from kitbuilder.catalogue.entries import Value


def with_range(limit: Value, measure: str) -> Words:
    """Write a limit, and its range where it has one: "4.5 kg (3.0 to 6.0 kg)"."""
    value = Amount(limit.value, measure)
    if limit.low == limit.high:
        return (value,)
    return (value, " (", Amount(limit.low, measure), " to ", Amount(limit.high, measure), ")")


def about(figure: Figure, measure: str, *, times: float = 1.0, least: float = -inf) -> About:
    """Write a figure with its range: "about 3 kg, anything from 0.5 to 6".

    Args:
        figure: The figure.
        measure: How it is shown.
        times: A factor, such as -1.0 for a weight where the figure is a buoyancy.
        least: The range does not reach below it, such as 0.0 for lead.
    """
    below, above = figure.sides
    low, high = sorted((times * (figure.value - below), times * (figure.value + above)))
    return About(times * figure.value, max(low, least), high, measure)


def about_within(value: float, spread: float, measure: str, *, least: float = -inf) -> About:
    """Write a value with its range to both sides: "about 3 kg, anything from 0.5 to 6"."""
    return About(value, max(value - spread, least), value + spread, measure)
