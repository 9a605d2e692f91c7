"""The second best set where the runs fall apart into kits that share nothing, by hand."""

import pytest

from kitbuilder.plans.fewest import find_fewest
from tests.plans.test_fewest import centimetres, gear, hose, kits, owned, shelved, stock


def test_the_change_that_costs_least_is_the_second_best_wherever_it_is() -> None:
    """For a run of 100 cm there are 105 and 107 cm, for one of 40 cm there are 42 and 52 cm; the lightest are best.

    2 cm more on the long hose weigh less than 10 cm more on the short one, though the long ones weigh more.
    """
    sources = stock(*(shelved(length) for length in (105, 107, 42, 52)))
    for order in (("first", 100), ("second", 40)), (("second", 40), ("first", 100)):
        plan = find_fewest(kits(*((hose(tag, run + 5, run),) for tag, run in order)), sources)
        assert sorted(round(each.candidate.spec.length_m * 100) for each in plan.hoses) == [42, 105]
        assert plan.second is not None
        assert sorted(round(each.candidate.spec.length_m * 100) for each in plan.second.hoses) == [42, 107]


@pytest.mark.parametrize(("more", "second"), [((), None), ((55,), [55, 70])])
def test_a_second_best_of_two_hoses_more_is_not_worth_telling(more: tuple[int, ...], second: list[int] | None) -> None:
    """For runs of 45, 52 and 57 cm 59 cm do alone. Without it 48, 56 and 70 cm do; 56 is black, and the first is grey.

    With 55 cm, which does for 45 and 52, it is but one hose more.
    """
    three = kits((hose("a", 50, 45, make="grey"),), (hose("b", 90, 52),), (hose("c", 63, 57),))
    lengths = (59, 48, 70, *more)
    plan = find_fewest(three, gear(*(owned(f"o{each}", each) for each in lengths), owned("b", 56, make="black")))
    assert centimetres(plan) == [59]
    found = plan.second and sorted(round(each.candidate.spec.length_m * 100) for each in plan.second.hoses)
    assert found == second


def test_a_set_is_forced_when_each_of_its_hoses_is() -> None:
    """One that might be spared is enough for not being forced; nothing forces a set without hoses."""
    apart = find_fewest(kits((hose("a", 50, 45),), (hose("b", 75, 70),)), stock(shelved(48), shelved(75)))
    assert centimetres(apart) == [48, 75]
    assert [bool(each.reason) for each in apart.hoses] == [True, True]
    assert apart.is_forced
    for spared in range(2):
        hoses = tuple(each._replace(reason=None) if at == spared else each for at, each in enumerate(apart.hoses))
        assert not apart._replace(hoses=hoses).is_forced
    assert not apart._replace(hoses=()).is_forced
