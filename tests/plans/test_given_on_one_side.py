"""Kits side by side, where a key stands in one of them only."""

import pytest

from kitbuilder.plans.side_by_side import set_side_by_side
from tests.assess.kits import assessed, lone_hose

PLAIN = lone_hose()


@pytest.mark.parametrize(
    ("key", "value", "reasons"),
    [("bore", "6 mm", ()), ("make", "grey", ()), ("mass", "240 g", ("mass",)), ("run", "70 cm", ("fit",))],
)
def test_a_key_of_one_side_counts_for_what_it_means(key: str, value: str, reasons: tuple[str, ...]) -> None:
    """Whichever side it is: what only one gives decides nothing by itself; a mass and a run give another figure.

    A plain hose of 75 cm has about 140 g, so that one of 240 g is another; a measured run is no estimate.
    """
    given = lone_hose(**{key: value})
    for left, right in ((PLAIN, given), (given, PLAIN)):
        [row] = set_side_by_side([assessed(left), assessed(right)]).rows
        assert set(reasons) <= set(row.differs_in)
        assert bool(reasons) is not row.is_equal
    [same] = set_side_by_side([assessed(given), assessed(given)]).rows
    assert same.is_equal
