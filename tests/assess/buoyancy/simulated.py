"""A figure against a simulation of its inputs: which sources it carries, how much of each, and that 95 % lie inside."""

import random
from collections.abc import Callable, Mapping
from typing import NamedTuple

import pytest

from kitbuilder.assess.figures import Figure
from kitbuilder.catalogue import Value

DRAWS = 3000
NORMAL_95 = 1.959964
"""Standard deviations to each side that hold 95 % of a normal distribution."""


class Known(NamedTuple):
    """An input: its middle and the half-width that covers 95 % of it."""

    middle: float
    half: float


def known(value: Value) -> Known:
    """A value of the catalogue as an input."""
    return Known(value.value, (value.high - value.low) / 2)


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
    inside = 0
    for _ in range(DRAWS):
        drawn = {source: draw.gauss(each.middle, each.half / NORMAL_95) for source, each in inputs.items()}
        inside += abs(model(drawn) - figure.value) <= figure.spread
    assert inside / DRAWS == pytest.approx(0.95, abs=0.015)
