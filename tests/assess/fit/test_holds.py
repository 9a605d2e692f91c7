"""One more hold parts the longest free stretch of a hose: at a landmark where one lies near its middle."""

from itertools import accumulate

import pytest

from kitbuilder.assess.fit.routed_hose import NEAR_THE_MIDDLE, RoutedHose, measure_route
from kitbuilder.catalogue import catalogue
from tests.assess.fit.bodies import percentile

PLACED = [(route, layout) for route in catalogue().routes.values() for layout in route.layouts]


def all_holds(found: RoutedHose) -> dict[str, float]:
    """The longer part that each landmark inside the longest free stretch would leave, of the whole."""
    start, end = found.span
    ends = list(accumulate(found.stretches[start:end]))
    inner = found.route.path[start + 1 : end]
    return {name: max(at, ends[-1] - at) / ends[-1] for name, at in zip(inner, ends[:-1], strict=True)}


@pytest.mark.parametrize("which", [5, 50, 95])
def test_the_landmark_nearest_the_middle_is_taken(which: int) -> None:
    """Whichever leaves the shortest longer part; the middle itself where each of them leaves more than 55 %."""
    several = 0
    for route, layout in PLACED:
        found = measure_route(route, layout, percentile("male", which))
        assert found is not None
        holds = all_holds(found)
        several += len(holds) > 1
        best = min(holds.values(), default=1.0)
        if best <= NEAR_THE_MIDDLE:
            assert (found.hold.until, found.hold.share) == ("", pytest.approx(best))
            assert holds[found.hold.landmark] == pytest.approx(best)
            continue
        assert found.hold.share == 0.5
        path, (start, end) = found.route.path, found.span
        before = path.index(found.hold.landmark, start, end)
        assert path[before + 1] == found.hold.until
        gone = sum(found.stretches[start:before])
        assert gone <= found.span_m / 2 <= gone + found.stretches[before]
    assert several > 5
