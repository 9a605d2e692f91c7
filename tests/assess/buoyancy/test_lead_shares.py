"""Shares in the uncertainty of the lead: together all of it, each source once, and less of what was weighed."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.lead_shares import divide_variance, share_lead
from kitbuilder.assess.figures import Figure
from kitbuilder.kit.items import Device, Drysuit
from kitbuilder.kit.resolved import LinkedFiles, resolve
from tests.assess.kits import PLAIN, WHOLE, balance_of, beside, config, float_check, kit_of, swapped, with_items
from tests.laws import tried
from tests.report.test_any_kit import divers, kits


def figure(**components: float) -> Figure:
    return Figure(0.0, components, "")


def test_a_source_of_two_parts_counts_once_and_is_divided_by_size() -> None:
    """3² + 4² = 25: 9 and a quarter of 16 are of one part, three quarters of 16 of the other."""
    shares = divide_variance(figure(own=3.0, common=4.0), {"a": figure(own=3.0, common=1.0), "b": figure(common=3.0)})
    assert shares == {None: 0.0, "a": pytest.approx(13 / 25), "b": pytest.approx(12 / 25)}


def test_what_no_part_has_stands_by_itself() -> None:
    """A reading of 1 beside a part of 2: a fifth and four fifths."""
    shares = divide_variance(figure(own=2.0, reading=-1.0), {"a": figure(own=5.0)})
    assert shares == {None: pytest.approx(0.2), "a": pytest.approx(0.8)}


def test_parts_that_pull_in_opposite_ways_have_shares_above_0() -> None:
    """+3 and -1 leave 2; three quarters and one quarter of it."""
    shares = divide_variance(figure(common=2.0), {"a": figure(common=3.0), "b": figure(common=-1.0)})
    assert shares == {None: 0.0, "a": pytest.approx(0.75), "b": pytest.approx(0.25)}


def test_a_sum_without_spread_has_no_shares() -> None:
    assert divide_variance(figure(), {"a": figure()}) == {None: 0.0, "a": 0.0}


@pytest.mark.parametrize("name", WHOLE)
def test_parts_of_the_lead_add_up_by_source_to_the_lead_itself(name: str) -> None:
    """Nothing but the items, the body and the lead is in it, unless there are float checks."""
    shares = share_lead(balance_of(kit_of(config(name)), beside()))
    assert shares.checks == 0.0
    assert math.fsum((*shares.items.values(), shares.body, shares.lead)) == pytest.approx(1.0)


@tried(40)
@given(kit=kits, diver=st.none() | divers)
def test_shares_add_up_to_100_percent(kit, diver) -> None:
    try:
        balance = balance_of(kit, LinkedFiles("own.toml", diver))
    except AssertionError:
        assume(False)
    shares = share_lead(balance)
    every = (*shares.items.values(), shares.body, shares.lead, shares.checks)
    assert all(-1e-12 <= share <= 1 + 1e-12 for share in every)
    assert math.fsum(every) == pytest.approx(1.0)


def test_a_float_check_takes_its_own_share() -> None:
    """Before it, readings have none; after it they have what is left of the reading itself."""
    kit = kit_of(PLAIN)
    before, after = share_lead(balance_of(kit)), share_lead(balance_of(kit, beside(float_check())))
    assert before.checks == 0.0
    assert after.checks > 0.1


def test_two_cylinders_of_one_preset_have_the_same_share() -> None:
    kit = kit_of(PLAIN)
    twins = with_items(kit, replace(kit.items[0], tag="twin"))
    shares = share_lead(balance_of(twins)).items
    assert shares[0] == pytest.approx(shares[4])


WEIGHABLE = [
    (name, number)
    for name in WHOLE
    for number, item in enumerate(kit_of(config(name)).items)
    if isinstance(item, Device) and not isinstance(item, Drysuit) and item.buoyancy_kgf is None
]


@tried(30)
@given(which=st.sampled_from(WEIGHABLE), off=st.floats(-0.5, 0.5))
def test_the_share_of_an_item_falls_when_it_is_weighed_in_water(which, off) -> None:
    """By a scale that is right to a gram and reads what may be expected of the item.

    Of a reading far from that the share of the water alone may rise: an item that displaces more has more of it.
    """
    name, number = which
    kit = kit_of(config(name))
    tag, weight = kit.items[number].tag, assess(resolve(kit, beside())).weights[number]
    mass, buoyancy = weight.mass.value, weight.buoyancy
    readings = {"mass_kg": mass, "buoyancy_kgf": buoyancy.value + off * buoyancy.spread}
    weighed = swapped(kit, tag, **readings, mass_spread_kg=0.001, buoyancy_spread_kgf=0.001)
    assert share_lead(balance_of(weighed)).items[number] < share_lead(balance_of(kit)).items[number]
