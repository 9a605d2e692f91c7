"""A number with its spread and its origin.

The value is the mean of what it may be, and 95 % of real parts or divers lie within its spread. The spread is kept by
source: deviations that come from the same source (the mass per metre of one hose body, in every hose of that body) add
up, deviations from different sources combine by root sum of squares. Source: JCGM 100:2008 (GUM), 5.1.2 and 5.2.2,
note 1. A component is 1.96 standard deviations of its source. A source with a plain name is normally distributed; a
`Bounded` one lies between the ends of a range, and makes the sum lopsided and flatter than a normal distribution
(`sides_95` of `kitbuilder.physics.spread`).
"""

from collections import Counter
from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from math import sqrt
from typing import NamedTuple

from kitbuilder.catalogue import Value
from kitbuilder.physics.spread import NORMAL_95, root_sum_square, sides_95

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
        """Half-width of the range that covers 95 %; where its sides differ, their mean."""
        below, above = self.sides
        return (below + above) / 2

    @property
    def combined(self) -> float:
        """1.96 standard deviations: the half-width that would cover 95 % if all sources were normally distributed."""
        return root_sum_square(self.components.values())

    @property
    def sides(self) -> tuple[float, float]:
        """How far the range that covers 95 % reaches below and above the value."""
        combined = self.combined
        skewness = excess = 0.0
        # Parts count by their cubes: those below a tenth are left out, which saves most of the time.
        least = SHAPING * combined
        for source, share in self.components.items():
            if not -least < share < least and isinstance(source, Bounded) and combined:
                part = share / combined
                skewness += source.skewness * part**3
                excess += source.excess * part**4
        return sides_95(combined, skewness, excess)

    @property
    def is_lopsided(self) -> bool:
        """Whether the two sides differ so much that one number does not describe them."""
        return are_lopsided(*self.sides)

    @property
    def even(self) -> "Figure":
        """The same with one spread, the longer of its two sides, for where there is no room for both."""
        return Figure(self.value, {"the longer side": max(self.sides)}, self.origin) if self.is_lopsided else self


def are_lopsided(below: float, above: float) -> bool:
    """Say whether two sides differ so much that one number does not describe them."""
    return abs(above - below) > LOPSIDED * max(below, above)


SHAPING = 0.1
"""Of a spread: a bounded component below it does not change its shape."""
LOPSIDED = 0.1
"""Of the longer side. Sides that differ by less are the same to two digits, or nearly so; chosen, no source."""


class Bounded(str):
    """The name of a source whose deviations lie between the ends of a range; equal to the plain name."""

    __slots__ = ("excess", "skewness")

    skewness: float
    excess: float

    def __new__(cls, name: str, skewness: float, excess: float) -> "Bounded":
        """Name a source and say how its deviations are distributed: skewness and excess kurtosis."""
        source = super().__new__(cls, name)
        source.skewness, source.excess = skewness, excess
        return source


def source_named(name: str, value: Value) -> str:
    """Give the source that a value of the catalogue is: one between bounds, unless its ends cover 95 %."""
    if value.covers_95 or value.low == value.high:
        return name
    return Bounded(name, value.moments.skewness, value.moments.excess)


def from_catalogue(name: str, value: Value, origin: str = "") -> "Figure":
    """Give a value of the catalogue as a figure, with a source of that name."""
    return Figure(value.expected, {source_named(name, value): value.spread}, origin or value.origin)


def evenly_within(name: str, half_width: float) -> tuple[str, float]:
    """Give the source and the component of what lies evenly within a half-width. Source: JCGM 100:2008, 4.3.7."""
    return Bounded(name, 0.0, UNIFORM_EXCESS), NORMAL_95 * half_width / sqrt(3)


UNIFORM_EXCESS = -1.2
"""Excess kurtosis of a uniform distribution."""


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


def without_sources(figure: Figure, known: AbstractSet[str]) -> Figure:
    """Give a figure as it would be if some of its sources were known."""
    components = {source: share for source, share in figure.components.items() if source not in known}
    return figure._replace(components=components)


def count_sources(figures: Iterable[Figure]) -> Counter[str]:
    """Count the figures to whose uncertainty each source adds."""
    return Counter(source for figure in figures for source in figure.components)


def sources_only_in(these: Iterable[Figure], everywhere: Counter[str]) -> set[str]:
    """Name the sources of some figures that no other has: what a weighing of these alone does away with.

    Args:
        these: Some of the figures.
        everywhere: The sources of all of them, counted.
    """
    return {source for source, count in count_sources(these).items() if everywhere[source] == count}


def scaled(figure: Figure, factor: float, origin: str = "") -> Figure:
    """Give a figure times a number; its components scale with it."""
    components = {source: share * factor for source, share in figure.components.items()}
    return Figure(figure.value * factor, components, origin or figure.origin)


def of_another(figure: Figure, mark: str) -> Figure:
    """Give a figure with the sources of another body or kit, independent of those without the mark."""
    components = {_marked(source, mark): share for source, share in figure.components.items()}
    return figure._replace(components=components)


def _marked(source: str, mark: str) -> str:
    name = f"{mark}{source}"
    return Bounded(name, source.skewness, source.excess) if isinstance(source, Bounded) else name


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
