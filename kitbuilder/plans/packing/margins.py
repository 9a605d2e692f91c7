"""Limits that hold with a probability, as rows of an integer programme.

What must hold is mean + so many standard deviations ≤ limit (1.645 for 95 %), and the deviation is no sum: it is a
root. Rows that are sums are made where they are needed: each is true for every packing and exact for the one that it
was made for, so that the programme with all of them has the same best packing.

The variance of a packing has two parts. Sources that only one item has add up item by item: the root of such a sum
grows less with each item added, so that adding the items in any order gives what each counts at least (the polymatroid
inequality: "Submodular functions, matroids, and certain polyhedra", 1970; for the root of a sum: "Polymatroids and
mean-risk minimization in discrete optimization", 2008; both from memory). Sources that several share add up before they
are squared. The two parts are joined by the inequality of Cauchy and Schwarz.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from math import hypot, inf, sqrt
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.physics.spread import NORMAL_95
from kitbuilder.plans.integer_programme import HALF, Constraint
from kitbuilder.plans.packing.chance import ROOM, deviations_for


class Load(NamedTuple):
    """What one unknown adds to a bag when it is one."""

    mass_kg: float
    own: float
    """The square of its margin from sources that it has alone [kg²]."""
    shared: Mapping[str, float]
    """Its margin from each source that others have as well [kg]."""


def shared_sources(carriers: Iterable[Iterable[Figure]]) -> frozenset[str]:
    """Give the sources that more than one carrier has: an item with all that may go in its place is one."""
    counts = Counter[str]()
    for figures in carriers:
        counts.update({source for figure in figures for source in figure.components})
    return frozenset(source for source, count in counts.items() if count > 1)


def load_of(figure: Figure, shared: frozenset[str], likelihood: float) -> Load:
    """Give what a mass adds to a bag, its sources kept apart by whether others have them."""
    margin = deviations_for(likelihood) / NORMAL_95  # a component is 1.96 standard deviations
    own = hypot(*(part for source, part in figure.components.items() if source not in shared)) * margin
    common = {source: part * margin for source, part in figure.components.items() if source in shared}
    return Load(figure.value, own**2, common)


class Sum:
    """Loads added up one by one."""

    def __init__(self, loads: Iterable[Load] = ()) -> None:
        """Add up the loads given."""
        self.mass_kg, self._own, self._shared = 0.0, 0.0, defaultdict[str, float](float)
        for load in loads:
            self.add(load)

    def add(self, load: Load, sign: float = 1.0) -> None:
        """Add a load, or take it away again."""
        self.mass_kg += sign * load.mass_kg
        self._own += sign * load.own
        for source, part in load.shared.items():
            self._shared[source] += sign * part

    @property
    def parts(self) -> tuple[float, Mapping[str, float]]:
        """The margin from sources of single items, and from each shared source [kg]."""
        return sqrt(max(self._own, 0.0)), self._shared

    @property
    def most_kg(self) -> float:
        """What the sum stays below with the probability asked for."""
        own, shared = self.parts
        return self.mass_kg + hypot(own, *shared.values())

    def with_more(self, loads: Sequence[Load]) -> tuple[float, float]:
        """Give what the sum would stay below with more loads, and its mean [kg]."""
        for load in loads:
            self.add(load)
        found = self.most_kg, self.mass_kg
        for load in loads:
            self.add(load, -1.0)
        return found


class MassLimit(NamedTuple):
    """A limit of mass over unknowns that are zero or one, and over numbers of kilograms that are bought beyond it."""

    loads: Mapping[int, Load]
    """By unknown."""
    most_kg: float
    only_if: int | None
    """The unknown that is one when anything of it is packed; the limit of a sum of bags has none."""
    bag: str = ""
    """Empty for a sum of bags."""

    def row(self, factors: Mapping[int, float], less_kg: float = 0.0) -> Constraint:
        """Limit a sum of unknowns, to so much less than the limit."""
        terms, most_kg = dict(factors), self.most_kg - less_kg
        if self.only_if is None:
            return list(terms.items()), -inf, most_kg
        terms[self.only_if] = terms.get(self.only_if, 0.0) - most_kg
        return list(terms.items()), -inf, 0.0

    def mean_row(self) -> Constraint:
        """Limit the mean, which the limit itself implies."""
        return self.row({unknown: load.mass_kg for unknown, load in self.loads.items()})

    def is_kept(self, values: Sequence[float]) -> bool:
        """Say whether the limit holds with the probability asked for."""
        return self.reached_kg(values) <= self.most_kg + ROOM

    def reached_kg(self, values: Sequence[float]) -> float:
        """Give what the sum stays below with the probability asked for [kg]."""
        return Sum(self.chosen(values)).most_kg

    def chosen(self, values: Sequence[float]) -> list[Load]:
        """List what a packing has of it."""
        chosen = ((load, values[unknown]) for unknown, load in self.loads.items() if values[unknown] > HALF)
        return [load if value == 1 else load._replace(mass_kg=load.mass_kg * value) for load, value in chosen]

    def cut(self, values: Sequence[float]) -> Constraint:
        """Give a row that is true for every packing, and exact for this one."""
        own, shared = Sum(self.chosen(values)).parts
        margin = hypot(own, *shared.values())
        if not margin:
            return self.mean_row()
        steps = self._steps(values)
        factors = {}
        for unknown, load in self.loads.items():
            common = sum(part * shared.get(source, 0.0) for source, part in load.shared.items())
            factors[unknown] = load.mass_kg + (own * steps[unknown] + common) / margin
        return self.row(factors)

    def most_own(self, more_kg: float) -> float:
        """Give what the squares of single items can add up to at most, if items may be divided [kg²].

        Args:
            more_kg: By how much the limit can be raised [kg].
        """
        left_kg, squares = self.most_kg + more_kg, 0.0
        for load in sorted(self.loads.values(), key=lambda load: load.mass_kg / load.own if load.own else inf):
            part = 1.0 if load.mass_kg <= left_kg else left_kg / load.mass_kg
            squares += load.own * part
            left_kg -= max(0.0, load.mass_kg) * part
        return squares

    def tangent(self, values: Sequence[float]) -> Constraint:
        """Give a row that is close to the limit near a packing: the margin as its square changes, to first order.

        Sources of single items are counted too high by it, shared ones too low; what it allows has to be checked.
        """
        own, shared = Sum(self.chosen(values)).parts
        margin = hypot(own, *shared.values())
        if not margin:
            return self.mean_row()
        factors = {}
        for unknown, load in self.loads.items():
            common = sum(part * shared.get(source, 0.0) for source, part in load.shared.items())
            factors[unknown] = load.mass_kg + (load.own / 2 + common) / margin
        return self.row(factors, (margin - sum(part**2 for part in shared.values()) / margin) / 2)

    def _steps(self, values: Sequence[float]) -> dict[int, float]:
        """Give by how much each load raises the root of the sum of squares: those packed first, the largest ahead."""
        order = sorted(self.loads, key=lambda unknown: (values[unknown] <= HALF, -self.loads[unknown].own))
        steps, squares = {}, 0.0
        for unknown in order:
            more = squares + self.loads[unknown].own
            steps[unknown], squares = sqrt(more) - sqrt(squares), more
        return steps
