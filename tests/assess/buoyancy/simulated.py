"""A figure against a simulation of its inputs: which sources it carries, how much of each, and that 95 % lie inside."""

import random
from collections.abc import Callable, Mapping
from statistics import fmean, pstdev
from typing import NamedTuple

import pytest

from kitbuilder.assess.figures import Figure
from kitbuilder.catalogue import Value

DRAWS = 3000
NORMAL_95 = 1.959964
"""Standard deviations to each side that hold 95 % of a normal distribution."""


class Known(NamedTuple):
    """An input: its mean and 1.96 standard deviations of it."""

    middle: float
    half: float
    ends: tuple[float, float, float] | None = None
    """Low, value and high: half of it lies evenly on each side of the value. Without them it is normal."""

    def drawn(self, dice: random.Random) -> float:
        if self.ends is None:
            return dice.gauss(self.middle, self.half / NORMAL_95)
        low, value, high = self.ends
        return dice.uniform(low, value) if dice.random() < 0.5 else dice.uniform(value, high)


def between(low: float, value: float, high: float) -> Known:
    """What lies between two ends, half of it on each side of the value; mean and deviation of many such."""
    steps = [(number + 0.5) / GRID for number in range(GRID)]
    many = [value + part * (end - value) for end in (low, high) for part in steps]
    return Known(fmean(many), NORMAL_95 * pstdev(many), (low, value, high))


GRID = 2000


def known(value: Value) -> Known:
    """A value of the catalogue as an input."""
    if value.covers_95 or value.low == value.high:
        return Known(value.value, (value.high - value.low) / 2)
    return between(value.low, value.value, value.high)


Inputs = Mapping[str, Known]
"""By the name of the source."""
Model = Callable[[Mapping[str, float]], float]
"""The figure worked out plainly from its inputs."""


def check_against(figure: Figure, inputs: Inputs, model: Model, rel: float = 0.02) -> None:
    """Compare a figure with a model of it.

    Its value is the model's at the middles. It carries these sources and no other, each as large as the model moves
    when that input alone goes from one end to the other. Of models of random inputs, 95 % lie within its spread.
    """
    middles = {source: each.middle for source, each in inputs.items()}
    assert figure.value == pytest.approx(model(middles), rel=1e-6)
    carried = {source for source, share in figure.components.items() if abs(share) > 1e-12}
    assert carried == set(inputs)
    for source, each in inputs.items():
        up, down = (model({**middles, source: each.middle + sign * each.half}) for sign in (+1, -1))
        # A source may count its unknown upwards or downwards; what matters is how far it goes.
        assert abs(figure.components[source]) == pytest.approx(abs(up - down) / 2, rel=rel), source
    draw = random.Random(figure.origin)
    inside, (below, above) = 0, figure.sides
    for _ in range(DRAWS):
        found = model({source: each.drawn(draw) for source, each in inputs.items()}) - figure.value
        inside += -below <= found <= above
    # A lone lopsided range is covered by up to 97.5 %: `sides_95` of `kitbuilder.physics.spread`.
    assert 0.935 <= inside / DRAWS <= 0.98
