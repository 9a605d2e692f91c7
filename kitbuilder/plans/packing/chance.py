"""How likely a limit holds when masses are uncertain.

A mass is taken to be normally distributed, with the standard deviation that its sources add up to: what comes from one
source adds up, what comes from different sources combines by root sum of squares. A bag is the sum of many items, which
is close to normal whatever each item is.
"""

from collections.abc import Iterable
from functools import lru_cache
from math import erf, sqrt
from statistics import NormalDist

from kitbuilder.assess.figures import Figure
from kitbuilder.physics.spread import NORMAL_95

ROOM = 1e-5
"""In kg, m and m³. What exceeds a limit by less is rounding; a solver keeps its rows no closer."""


def deviation_of(figure: Figure) -> float:
    """Give one standard deviation of a figure [its unit]; its components are 1.96 of them."""
    return figure.combined / NORMAL_95


NEARLY_SURE = 1 - 1e-9


@lru_cache
def deviations_for(likelihood: float) -> float:
    """Give how many standard deviations above the mean a normal distribution stays below with a probability [1]."""
    return NormalDist().inv_cdf(likelihood)


def reached_at_most(figure: Figure, likelihood: float) -> float:
    """Give what a figure stays below with a probability [its unit]."""
    return figure.value + deviations_for(likelihood) * deviation_of(figure)


def chance_of(figure: Figure, most: float) -> float:
    """Give the probability that a figure is not above a limit [1]; without a spread it is 0 or 1.

    With one it is never quite sure: the tails of a normal distribution say nothing about a scale that was misread.
    """
    deviation, room = deviation_of(figure), most - figure.value
    if deviation <= 0:
        return 1.0 if room >= -ROOM else 0.0
    return min((1 + erf(room / deviation / sqrt(2))) / 2, NEARLY_SURE)


def least_together(chances: Iterable[float]) -> float:
    """Give the probability that all of several limits hold at once, or more: they may fail together or one by one.

    Source: Boole's inequality, the chances of failing add up at most (textbook).
    """
    return max(0.0, 1.0 - sum(1.0 - chance for chance in chances))
