"""The range of what follows from inputs that each have a range of their own."""

from collections.abc import Callable, Sequence

from kitbuilder.assess.figures import Range
from kitbuilder.catalogue import Value
from kitbuilder.physics.spread import root_sum_square


def combined_range(quantity: Callable[..., float], inputs: Sequence[Value]) -> Range:
    """Give a quantity that is never negative, with the ends that the ranges of its inputs allow.

    Each input goes to either end by itself; the inputs are independent of each other, so that what they add to one side
    combines by root sum of squares. Source: JCGM 100:2008 (GUM), 5.1.3, note 1, and 5.1.2.

    Args:
        quantity: Takes one number for each input.
        inputs: Each with its low and its high.
    """
    middle = [each.value for each in inputs]
    value = quantity(*middle)
    less, more = [], []
    for place, each in enumerate(inputs):
        ends = [quantity(*middle[:place], end, *middle[place + 1 :]) - value for end in (each.low, each.high)]
        less.append(min(0.0, *ends))
        more.append(max(0.0, *ends))
    return Range(value, max(value - root_sum_square(less), 0.0), value + root_sum_square(more))
