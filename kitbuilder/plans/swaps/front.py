"""Sets of changes that no other set beats: in the mass of the bag, the lead there and money (the Pareto front).

Savings add up: of the masses because a bag is a sum, of the lead because it is linear in the buoyancy. A small front is
built whole, change by change: a partial set is dropped when another is at least as good in every measure and leaves at
least as much free, since whatever is added to the one can be added to the other. Of a large front, sets are found that
are best at some rate of exchange between the measures. None beats such a set: it would be better at that rate as well.
Source: A. M. Geoffrion, Journal of Mathematical Analysis and Applications 22 (1968) 618, theorem 1; from memory.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from typing import TYPE_CHECKING, NamedTuple

from kitbuilder.assess.buoyancy.balance import JUST_KG

if TYPE_CHECKING:
    from numpy.typing import NDArray

MOST_SETS = 12
"""Sets that are shown."""
MOST_PARTIAL = 200
"""Partial sets that are kept; of a larger front, single sets are looked for."""
SAME = 1e-9
"""Sums of the same changes in another order differ by less."""

Measures = tuple[float, float, float, float]
"""Change of the bag [kg], of the lead [kg], money that is known, and how many have no price: all are to be small."""

KG_OF_LEAD = (0.02, 0.1, 0.3, 0.7, 1.0, 1.5, 3.0, 10.0)
"""How many kilograms in the bag a kilogram of lead is worth."""
WITHOUT_PRICE = (1e-6, 0.01, 0.03, 0.1, 0.3, 1.0, 3.0)
"""How many kilograms in the bag it is worth to buy or rent one item less."""
PRICE = (1e-6, 0.001, 0.01, 0.1)
"""How many kilograms in the bag one unit of the currency is worth."""


class SetOption(NamedTuple):
    """One change, as far as sets are concerned."""

    number: int
    """By which the caller knows it."""
    items: frozenset[int]
    """What it changes: no item is changed twice in a set."""
    owned: str
    """The owned item that it takes, which is there once; empty for none."""
    measures: Measures


class FrontPoint(NamedTuple):
    """One set."""

    options: tuple[int, ...]
    """The numbers of its changes, in order."""
    measures: Measures


class Front(NamedTuple):
    """Sets that no other set beats, without the empty one."""

    points: tuple[FrontPoint, ...]
    """At most `MOST_SETS`, far from each other; the lightest first."""
    found: int
    """How many were found."""
    is_whole: bool
    """Whether there are no more than those that were found."""


class _Partial(NamedTuple):
    """A set in the making."""

    measures: Measures
    taken: int
    """What it uses that another change may want, a bit each."""
    options: tuple[int, ...]


EMPTY = _Partial((0.0, 0.0, 0.0, 0.0), 0, ())


class _Group(NamedTuple):
    """Changes of which a set has one at most, and what of it the groups that follow may want as well."""

    options: list[tuple[SetOption, int]]
    """Each with the bits that it uses."""
    later: int


def find_front(options: Sequence[SetOption]) -> Front:
    """Find sets that no other set beats."""
    groups = _groups(options)
    whole = _whole_front(groups)
    found = _some_of_front(groups, options) if whole is None else whole
    points = [FrontPoint(tuple(sorted(each.options)), each.measures) for each in found if each.options]
    return Front(tuple(_spread(points)), len(points), whole is not None)


def _groups(options: Sequence[SetOption]) -> list[_Group]:
    """Put changes of the same first item together."""
    by_item: dict[int, list[SetOption]] = {}
    for option in options:
        by_item.setdefault(min(option.items), []).append(option)
    wanted = Counter(use for group in by_item.values() for use in {use for each in group for use in _uses(each)})
    bits = {use: 1 << number for number, use in enumerate(use for use, count in wanted.items() if count > 1)}
    marked = [[(each, sum(bits.get(use, 0) for use in _uses(each))) for each in group] for group in by_item.values()]
    return [_Group(group, _union(marked[place + 1 :])) for place, group in enumerate(marked)]


def _uses(option: SetOption) -> Iterator[object]:
    """List what another change may want as well."""
    yield from option.items
    if option.owned:
        yield option.owned


def _union(groups: Iterable[Sequence[tuple[SetOption, int]]]) -> int:
    every = 0
    for group in groups:
        for _, uses in group:
            every |= uses
    return every


def _longer(partial: Iterable[_Partial], group: _Group) -> Iterator[_Partial]:
    """Give each partial set as it is and with each change of a group that is free.

    What no later change asks for is forgotten: it does not tell two sets apart.
    """
    for each in partial:
        yield each._replace(taken=each.taken & group.later)
        for option, uses in group.options:
            if not each.taken & uses:
                taken = (each.taken | uses) & group.later
                yield _Partial(_sum(each.measures, option.measures), taken, (*each.options, option.number))


def _sum(one: Measures, other: Measures) -> Measures:
    return one[0] + other[0], one[1] + other[1], one[2] + other[2], one[3] + other[3]


# ---- all of a small front ----


def _whole_front(groups: Sequence[_Group]) -> list[_Partial] | None:
    """Build the front change by change; None where too many partial sets are left."""
    partial = [EMPTY]
    for group in groups:
        partial = _unbeaten(_longer(partial, group))
        if len(partial) > MOST_PARTIAL:
            return None
    return partial


def _unbeaten(partial: Iterable[_Partial]) -> list[_Partial]:
    """Drop each set that another is at least as good as, and that leaves no more free."""
    import numpy as np  # imported here: only who asks for sets waits for it

    # Sorted, so that one that is beaten comes after one that beats it; of equals the first stays. Rounded, since sums
    # of the same changes in another order differ a little, and the next measure has to decide between them.
    ordered = sorted(
        partial, key=lambda each: ([round(value / SAME) for value in each.measures], each.taken.bit_count())
    )
    kept: list[_Partial] = []
    best: NDArray[np.float64] = np.empty((len(ordered), len(EMPTY.measures)))
    for each in ordered:
        as_good = (best[: len(kept)] <= np.asarray(each.measures) + SAME).all(axis=1)
        if not any(kept[place].taken & ~each.taken == 0 for place in np.flatnonzero(as_good)):
            best[len(kept)] = each.measures
            kept.append(each)
    return kept


# ---- some of a large front ----


def _some_of_front(groups: Sequence[_Group], options: Sequence[SetOption]) -> list[_Partial]:
    """Find the best set at each rate of exchange; every measure counts for something, so that none beats it."""
    has_prices = any(option.measures[2] for option in options)
    rates = product((1.0,), KG_OF_LEAD, PRICE if has_prices else PRICE[:1], WITHOUT_PRICE)
    return _unbeaten({_best_at(rate, groups) for rate in rates})


def _best_at(rate: Measures, groups: Sequence[_Group]) -> _Partial:
    """Find the best set at one rate of exchange: of the partial sets that use the same, only the best goes on."""
    partial = {0: EMPTY}
    for group in groups:
        best: dict[int, _Partial] = {}
        for each in _longer(partial.values(), group):
            known = best.get(each.taken)
            if known is None or _worth(each, rate) < _worth(known, rate):
                best[each.taken] = each
        partial = best
    return min(partial.values(), key=lambda each: _worth(each, rate))


def _worth(partial: _Partial, rate: Measures) -> float:
    one = partial.measures
    return one[0] * rate[0] + one[1] * rate[1] + one[2] * rate[2] + one[3] * rate[3]


# ---- a dozen of them ----


def _spread(points: list[FrontPoint]) -> list[FrontPoint]:
    """Choose sets that lie far from each other: the best in each measure, then always the one farthest from those.

    One that saves as much as another, costs no less and leaves as much lead is not worth a line of its own.
    """
    if not points:
        return []
    sizes = [max(values) - min(values) or 1.0 for values in zip(*(point.measures for point in points), strict=True)]
    chosen: list[FrontPoint] = []
    for measure in range(len(sizes)):
        least = min(points, key=lambda point: (point.measures[measure], point.measures))
        chosen += [least] if least not in chosen else []
    left = points
    while left := [point for point in left if not any(_is_like(point, other) for other in chosen)]:
        if len(chosen) == MOST_SETS:
            break
        chosen.append(max(left, key=lambda point: min(_distance(point, other, sizes) for other in chosen)))
    return sorted(chosen, key=lambda point: point.measures)


def _is_like(point: FrontPoint, other: FrontPoint) -> bool:
    """Say whether another set differs by less than is worth naming in bag and lead, and costs no more."""
    one, two = point.measures, other.measures
    is_near = abs(one[0] - two[0]) < JUST_KG and abs(one[1] - two[1]) < JUST_KG
    return is_near and two[2] <= one[2] and two[3] <= one[3]


def _distance(one: FrontPoint, other: FrontPoint, sizes: Sequence[float]) -> float:
    return sum(
        ((left - right) / size) ** 2 for left, right, size in zip(one.measures, other.measures, sizes, strict=True)
    )
