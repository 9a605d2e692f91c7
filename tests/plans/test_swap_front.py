"""The sets that no other set beats, against every set there is."""

from collections.abc import Iterator, Sequence
from itertools import combinations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from kitbuilder.plans.swaps import front
from kitbuilder.plans.swaps.front import MOST_SETS, Front, Measures, SetOption, find_front
from tests.laws import tried

SAME = 1e-6


def every_set(options: Sequence[SetOption]) -> Iterator[tuple[SetOption, ...]]:
    """Each set in which no item is changed twice and no owned item is used twice."""
    for size in range(1, len(options) + 1):
        for chosen in combinations(options, size):
            items = [item for option in chosen for item in option.items]
            owned = [option.owned for option in chosen if option.owned]
            if len({*items}) == len(items) and len({*owned}) == len(owned):
                yield chosen


def sums(chosen: Sequence[SetOption]) -> Measures:
    mass, lead, price, without = (sum(values) for values in zip(*(each.measures for each in chosen), strict=True))
    return mass, lead, price, without


def beats(one: Measures, other: Measures) -> bool:
    """At least as small in every measure, and smaller in one, by more than a sum in another order differs."""
    pairs = [*zip(one, other, strict=True)]
    return all(left <= right + SAME for left, right in pairs) and any(left < right - SAME for left, right in pairs)


def unbeaten(options: Sequence[SetOption]) -> set[tuple[float, ...]]:
    """The measures of the whole front, found by trying everything; the empty set counts as well."""
    every = {tuple(round(value, 6) for value in sums(chosen)): sums(chosen) for chosen in every_set(options)}
    found = [*every.values(), (0.0, 0.0, 0.0, 0.0)]
    return {place for place, one in every.items() if not any(beats(other, one) for other in found)}


@st.composite
def small_cases(draw: st.DrawFn) -> list[SetOption]:
    """At most eight changes of five items; some change two, some take one of two owned items."""
    count = draw(st.integers(1, 8))
    return [
        SetOption(
            number,
            draw(st.frozensets(st.integers(0, 4), min_size=1, max_size=2)),
            draw(st.sampled_from(["", "", "one", "other"])),
            (
                -draw(st.integers(1, 3000)) / 1000,
                draw(st.integers(-500, 2000)) / 1000,
                draw(st.sampled_from([0.0, 0.0, 12.5, 30.0])),
                float(draw(st.booleans())),
            ),
        )
        for number in range(count)
    ]


def is_like(one: Sequence[float], other: Sequence[float]) -> bool:
    """Whether another set is the same to 50 g in bag and lead, and costs no more."""
    near = all(abs(left - right) <= 0.05 for left, right in zip(one[:2], other[:2], strict=True))
    return near and other[2] <= one[2] and other[3] <= one[3]


def of_front(found: Front) -> set[tuple[float, ...]]:
    return {tuple(round(value, 6) for value in point.measures) for point in found.points}


SUMS_IN_OTHER_ORDERS = [
    SetOption(number, frozenset({item}), "", (saved, lead, price, 0.0))
    for number, (item, saved, lead, price) in enumerate(
        [
            (2, -0.001, 0.0, 0.0),
            (0, -0.001, 0.001, 0.0),
            (3, -0.001, 0.0, 0.0),
            (1, -0.001, 0.0, 30.0),
            (0, -0.001, 0.001, 0.0),
            (3, -0.276, 0.0, 0.0),
            (0, -0.001, 0.0, 12.5),
            (2, -2.241, 0.0, 0.0),
        ]
    )
]
"""Two sets save 2.519 kg, one of them with less lead: in the last digit of its sum, the worse one is smaller."""


@tried(60)
@given(small_cases())
@example(SUMS_IN_OTHER_ORDERS)
def test_the_front_is_that_of_every_set(options: list[SetOption]) -> None:
    found, expected = find_front(options), unbeaten(options)
    assert found.is_whole
    assert found.found == len(expected)
    shown = of_front(found)
    assert shown <= expected
    if len(shown) < MOST_SETS:
        assert all(any(is_like(one, other) for other in shown) for one in expected)


@tried(30)
@given(small_cases())
def test_no_set_beats_one_of_a_large_front(options: list[SetOption]) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(front, "MOST_PARTIAL", 0)
        found = find_front(options)
    assert not found.is_whole
    assert of_front(found) <= unbeaten(options)


def test_each_set_adds_up() -> None:
    options = [SetOption(n, frozenset([n]), "", (-1.0 - n, 0.5 * n, 10.0, 0.0)) for n in range(4)]
    for point in find_front(options).points:
        assert point.measures == pytest.approx(sums([options[number] for number in point.options]))


def test_of_many_sets_a_dozen_is_shown_with_the_best_in_each_measure() -> None:
    """Seven changes with savings of powers of two: each of the 127 sets is on the front."""
    options = [SetOption(n, frozenset([n]), "", (-(2.0**n), 2.0**n, 0.0, 0.0)) for n in range(7)]
    found = find_front(options)
    assert (found.found, found.is_whole, len(found.points)) == (127, True, MOST_SETS)
    assert found.points[0].options == tuple(range(7))
    assert found.points[-1].options == (0,)


def test_without_a_change_there_is_no_set() -> None:
    assert find_front([]) == Front((), 0, is_whole=True)
