"""Two kits side by side, where a key stands in one of them only."""

import pytest

from kitbuilder.plans.side_by_side import set_side_by_side
from tests.assess.kits import assessed, lone_hose

PLAIN = lone_hose()


@pytest.mark.parametrize(("key", "value"), [("bore", "6 mm"), ("mass", "140 g"), ("run", "70 cm"), ("make", "grey")])
def test_a_key_of_one_side_is_a_difference_whichever_side_it_is(key: str, value: str) -> None:
    """A length against none is no length of zero."""
    given = lone_hose(**{key: value})
    for left, right in ((PLAIN, given), (given, PLAIN)):
        [pair] = set_side_by_side(assessed(left), assessed(right)).pairs
        assert key in pair.differs_in
    [same] = set_side_by_side(assessed(given), assessed(given)).pairs
    assert same.differs_in == ()
