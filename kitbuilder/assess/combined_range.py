"""The range of what follows from inputs that each have a range of their own."""

from collections.abc import Callable, Sequence
from math import exp, log

from kitbuilder.assess.figures import Figure, Range, from_catalogue
from kitbuilder.catalogue import Value

LEAST_LEFT = 0.01
"""Of a quantity: an end of an input that leaves less counts as if it left so much, since nothing has no logarithm."""


def combined_range(quantity: Callable[..., float], inputs: Sequence[Value]) -> Range:
    """Give a quantity that is never negative, with the ends between which 95 % of what it may be lie.

    Each input goes to either end by itself, and the quantity becomes so many times as large. Between these factors lies
    a source of its own, distributed as its input. The inputs are independent, and what follows from them is nearly a
    product: the logarithms of the factors add up as the sources of a figure do.
    Source: JCGM 100:2008 (GUM), 5.1.3, note 1, and 5.1.2; 5.1.6 for products.

    Args:
        quantity: Takes one number for each input.
        inputs: Each with its low and its high.
    """
    middle = [each.value for each in inputs]
    value = quantity(*middle)
    at_ends = [
        [quantity(*middle[:place], end, *middle[place + 1 :]) for end in (each.low, each.high)]
        for place, each in enumerate(inputs)
    ]
    if not value:
        return Range(value, value, max(*map(max, at_ends)))
    mean, components = 0.0, dict[str, float]()
    for place, each in enumerate(inputs):
        factors = [log(max(found / value, LEAST_LEFT)) for found in at_ends[place]]
        factor = each._replace(value=0.0, low=min(0.0, *factors), high=max(0.0, *factors))
        part = from_catalogue(f"input {place}", factor)
        mean += part.value
        components |= part.components
    below, above = Figure(mean, components, "").sides
    return Range(value, value * exp(min(mean - below, 0.0)), value * exp(max(mean + above, 0.0)))
