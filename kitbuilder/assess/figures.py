"""A number with its spread and its origin.

The spread is the half-width of the range in which nearly every real part falls. It is kept by source: deviations that
come from the same source (the mass per metre of one hose body, in every hose of that body) add up, deviations from
different sources combine by root sum of squares. Source: JCGM 100:2008 (GUM), 5.1.2 and 5.2.2, note 1.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from kitbuilder.physics.spread import root_sum_square

NEGLIGIBLE = 1e-9
"""In SI. Sums of the same items in another order differ in their last bits; that is no difference."""


class Figure(NamedTuple):
    """A value in SI, how far it may be off, and where it comes from."""

    value: float
    components: Mapping[str, float]
    """What each source may add to the value, with its sign."""
    origin: str

    @property
    def spread(self) -> float:
        """Half-width of the range in which nearly every real part falls."""
        return root_sum_square(self.components.values())


class Sources(NamedTuple):
    """What a spread is made of."""

    main: tuple[tuple[str, float], ...]
    """The sources that matter, each with the size of its component, the largest first."""
    others: int
    """How many smaller ones there are."""


MOST_SOURCES = 6
LEAST_PART = 0.1
"""Of the spread: a component below it adds less than half a per cent, since components combine by their squares."""


def sources_of(figure: Figure) -> Sources:
    """Give the sources that make up the spread of a figure, without those that hardly add to it."""
    least = max(LEAST_PART * figure.spread, NEGLIGIBLE)
    sizes = ((source, abs(share)) for source, share in figure.components.items())
    real = sorted((pair for pair in sizes if pair[1] > NEGLIGIBLE), key=lambda pair: -pair[1])
    main = tuple((source, size) for source, size in real if size >= least)[:MOST_SOURCES]
    return Sources(main, len(real) - len(main))


class Range(NamedTuple):
    """A value whose spread is not the same to both sides."""

    value: float
    low: float
    high: float


def total(figures: Iterable[Figure], origin: str) -> Figure:
    """Give the sum of figures, with the components of one source added up."""
    value, components = 0.0, dict[str, float]()
    for figure in figures:
        value += figure.value
        if not components:
            components = dict(figure.components)
            continue
        for source, share in figure.components.items():
            components[source] = components.get(source, 0.0) + share
    return Figure(value, components, origin)


def difference(minuend: Figure, subtrahend: Figure, origin: str) -> Figure:
    """Give one figure less another; what they have in common cancels."""
    negative = Figure(-subtrahend.value, {source: -share for source, share in subtrahend.components.items()}, "")
    return total((minuend, negative), origin)


def scaled(figure: Figure, factor: float, origin: str = "") -> Figure:
    """Give a figure times a number; its components scale with it."""
    components = {source: share * factor for source, share in figure.components.items()}
    return Figure(figure.value * factor, components, origin or figure.origin)


def add_component(components: dict[str, float], source: str, share: float) -> None:
    """Add a share of a source to those there are."""
    components[source] = components.get(source, 0.0) + share


class Weight(NamedTuple):
    """What an item weighs dry [kg] and how it floats [kgf, plus floats]."""

    mass: Figure
    buoyancy: Figure


def total_weight(weights: Iterable[Weight], origin: str) -> Weight:
    """Give the sum of masses and of buoyancies."""
    listed = tuple(weights)
    return Weight(
        total((weight.mass for weight in listed), origin),
        total((weight.buoyancy for weight in listed), origin),
    )
