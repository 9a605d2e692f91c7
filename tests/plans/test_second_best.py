"""The second best set where the runs fall apart into kits that share nothing, by hand."""

from kitbuilder.plans.fewest import find_fewest
from tests.plans.test_fewest import hose, kits, shelved, stock


def test_the_change_that_costs_least_is_the_second_best_wherever_it_is() -> None:
    """For a run of 100 cm there are 105 and 107 cm, for one of 40 cm there are 42 and 52 cm; the lightest are best.

    2 cm more on the long hose weigh less than 10 cm more on the short one, though the long ones weigh more.
    """
    sources = stock(*(shelved(length) for length in (105, 107, 42, 52)))
    for order in (("first", 100), ("second", 40)), (("second", 40), ("first", 100)):
        plan = find_fewest(kits(*((hose(tag, run + 5, run),) for tag, run in order)), sources)
        assert sorted(round(each.offer.spec.length_m * 100) for each in plan.hoses) == [42, 105]
        assert plan.second is not None
        assert sorted(round(each.offer.spec.length_m * 100) for each in plan.second.hoses) == [42, 107]
