"""Packings that cannot be as they are asked for: what is wrong is named, and the rest is packed."""

import random

import pytest

from kitbuilder.plans.packing import choices as why
from kitbuilder.plans.packing import limits
from kitbuilder.plans.packing.packing import pack
from kitbuilder.plans.packing.records import CABIN, HOLD, RENT, Leg, Option, PackingTask
from tests.plans.packing_cases import (
    CABIN_ONLY,
    DUFFEL,
    FLIGHT,
    HOLD_ONLY,
    NO_FLIGHT,
    RUCKSACK,
    bag,
    item,
    missing,
    packed,
    where,
)


def test_a_bag_too_heavy_when_empty_or_too_large_is_not_used():
    legs = [Leg("small", hold_piece_kg=5, hold_edges_m=1.58, cabin_piece_kg=8, cabin_edges_m=(0.55, 0.4, 0.2))]
    bags = [
        bag("chest", mass_kg=6.0),
        bag("long bag", edges_m=(1.2, 0.3, 0.3)),
        bag("trolley", CABIN, edges_m=(0.25, 0.4, 0.55)),
        bag("fits", CABIN, edges_m=(0.2, 0.55, 0.4)),
    ]
    found = packed([item("mask", 0.3), item("knife", 0.2, HOLD_ONLY)], bags, legs)
    assert [(each.bag.tag, each.why, each.leg) for each in found.unusable] == [
        ("chest", limits.TOO_HEAVY_EMPTY, "small"),
        ("long bag", limits.TOO_LARGE, "small"),
        ("trolley", limits.TOO_LARGE, "small"),
    ]
    assert where(found) == {"mask": "fits"}
    assert missing(found) == {"knife": why.NO_BAG_THERE}


def test_a_limit_of_zero_closes_a_place():
    found = packed([item("mask", 0.3)], legs=[Leg("bus", hold_piece_kg=23, cabin_total_kg=0)])
    assert [(each.bag.tag, each.why) for each in found.unusable] == [("rucksack", limits.ZERO_LIMIT)]
    assert where(found) == {"mask": "duffel"}


@pytest.mark.parametrize(
    ("given", "bags", "reason"),
    [
        (item("mask", 0.3), [], why.NO_BAG),
        (item("anvil", 40.0), [DUFFEL, RUCKSACK], why.TOO_HEAVY),
        (item("cylinder", 9.0, NO_FLIGHT), [DUFFEL], why.MAY_NOT_FLY),
        (item("odd lamp", 1.0, CABIN_ONLY, HOLD_ONLY), [DUFFEL, RUCKSACK], why.RULES_CONTRADICT),
        (item("cells", 0.1, CABIN_ONLY), [DUFFEL], why.NO_BAG_THERE),
        (item("suit", 4.0, volume_m3=0.05), [DUFFEL._replace(volume_m3=0.03)], why.TOO_BULKY),
        (item("mask", 0.3, pinned="lost bag"), [DUFFEL], why.PIN_UNKNOWN),
        (item("cells", 0.1, CABIN_ONLY, pinned="duffel"), [DUFFEL, RUCKSACK], why.PIN_REFUSED),
        (item("mask", 0.3, pinned="chest"), [bag("chest", mass_kg=30.0)], why.PIN_UNUSABLE),
        (item("lead", 22.0, pinned="duffel"), [DUFFEL], why.PIN_TOO_MUCH),
    ],
)
def test_an_item_that_can_go_nowhere_is_named_with_the_reason(given, bags, reason):
    assert missing(packed([given], bags)) == {given.tag: reason}


@pytest.mark.parametrize("wrong", [-1.0, float("nan"), float("inf")])
@pytest.mark.parametrize(
    "make",
    [
        lambda wrong: PackingTask((item("mask", wrong),), (DUFFEL,)),
        lambda wrong: PackingTask((), (DUFFEL._replace(volume_m3=wrong),)),
        lambda wrong: PackingTask((), (), (Leg("hop", total_kg=wrong),)),
        lambda wrong: PackingTask((item("mask", 1.0, options=(Option(RENT, wrong),)),), (DUFFEL,)),
        lambda wrong: PackingTask((), (), (Leg("hop", price_per_kilogram=wrong),)),
    ],
)
def test_numbers_that_are_none_are_refused(make, wrong):
    with pytest.raises(ValueError, match="zero or a positive number"):
        pack(make(wrong))


@pytest.mark.parametrize("wrong", [0.0, 0.49, 1.0, float("nan")])
def test_a_likelihood_below_one_half_or_of_one_is_refused(wrong):
    with pytest.raises(ValueError, match=r"likelihood: a number from 0\.5"):
        pack(PackingTask((), (DUFFEL,), (), wrong))


def test_nothing_to_pack_is_packed():
    found = packed([])
    assert (found.placed, found.missing, found.uses) == ((), (), ())
    assert found.proof.is_proved


def test_without_legs_everything_goes():
    assert not packed([item("lead", 40.0)], legs=[]).missing


def many() -> PackingTask:
    """Three hundred items and twelve bags, which are just enough."""
    draw = random.Random(3)
    items = tuple(item(f"item {n}", draw.randrange(50, 1000) / 1000, spread=0.02) for n in range(300))
    bags = tuple(bag(f"bag {n}", HOLD if n < 8 else CABIN) for n in range(12))
    return PackingTask(items, bags, (FLIGHT,))


@pytest.mark.parametrize("seconds", [0.0, 0.4])
def test_a_search_out_of_time_gives_the_best_so_far_with_its_bound(seconds):
    found = pack(many(), time_limit_s=seconds)
    assert not found.missing
    assert all(use.chance >= 0.95 for use in found.uses)
    assert all(found.proof.bounds[stage] <= found.proof.comes_to[stage] for stage in found.proof.bounds)
    if not seconds:
        assert not found.proof.is_proved


def test_a_moved_item_is_shown_at_once_and_all_else_stays():
    """Without the solver: two bags of 2 + 8 kg in 23; 2 kg go over."""
    things = [item(f"rice {n}", 2.0) for n in range(8)]
    bags = [DUFFEL, bag("trunk", mass_kg=2.0)]
    before = packed(things, bags)
    moved = next(tag for tag, there in where(before).items() if there == "duffel")
    pinned = tuple(each._replace(pinned="trunk") if each.tag == moved else each for each in things)
    after = pack(PackingTask(pinned, tuple(bags), (FLIGHT,)), before, time_limit_s=0.0)
    assert where(after) == where(before) | {moved: "trunk"}
