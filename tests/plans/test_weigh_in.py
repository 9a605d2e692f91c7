"""The weigh-in: totals are those of the kit, and every column sorts."""

import pytest
from hypothesis import given

from kitbuilder.assess.assessment import assess
from kitbuilder.commands.check import SORTED_BY
from kitbuilder.kit.items import Lead
from kitbuilder.kit.resolved import resolve
from kitbuilder.plans.weigh_in import ORDERS, plan_weigh_in, reading_field
from kitbuilder.report.weigh_in import ORDER_WORDS, origin_words
from tests.assess.kits import PLAIN, assessed, config, kit_of, shipped, with_keys
from tests.laws import tried
from tests.report.test_any_kit import kits


@tried(30)
@given(kit=kits)
def test_what_is_brought_rented_and_lead_together_is_the_kit(kit) -> None:
    assessment = assess(resolve(kit))
    plan = plan_weigh_in(assessment)
    together = (plan.bring, plan.rented, plan.lead)
    assert sum(each.mass.value for each in together) == pytest.approx(assessment.everything.mass.value)
    assert sum(each.buoyancy.value for each in together) == pytest.approx(
        assessment.everything.buoyancy.value, abs=1e-9
    )


def test_an_item_is_rented_when_the_file_says_so_and_lead_is_always_lead() -> None:
    """Two of four items: the wing of 1 kg and the lead of 6 × 1 kg, of which only the wing counts as rented."""
    text = with_keys(with_keys(PLAIN, "wing", mass="1 kg", rented=True), "belt", rented=True)
    plan = plan_weigh_in(assessed(text))
    assert plan.rented.mass.value == 1.0
    assert plan.lead.mass.value == 6.0
    assert plan.has_rented
    assert not plan_weigh_in(assessed(PLAIN)).has_rented


def test_the_words_for_every_order_are_there() -> None:
    assert tuple(ORDERS) == SORTED_BY == tuple(ORDER_WORDS)


@pytest.mark.parametrize("order", ORDERS)
def test_an_order_only_moves_rows(order) -> None:
    assessment = shipped("twinset")
    rows = plan_weigh_in(assessment, order).rows
    assert sorted(row.number for row in rows) == list(range(len(assessment.kit.items)))


def test_numbers_are_sorted_with_the_largest_first_and_the_unknown_last() -> None:
    assessment = assessed(config("wrong-on-purpose"))
    for order, value in {
        "mass": lambda row: row.mass and row.mass.value,
        "mass-uncertainty": lambda row: row.mass and row.mass.spread,
        "buoyancy": lambda row: row.buoyancy and row.buoyancy.value,
        "buoyancy-uncertainty": lambda row: row.buoyancy and row.buoyancy.spread,
        "share": lambda row: row.share,
    }.items():
        values = [value(row) for row in plan_weigh_in(assessment, order).rows]
        known = [each for each in values if each is not None]
        assert known == sorted(known, reverse=True), order
        assert values[len(known) :] == [None] * (len(values) - len(known)), order


def test_a_spare_is_brought_and_says_that_it_is_out_of_the_water() -> None:
    text = with_keys(config("warm-single"), "mask", in_spares=True)
    [row] = [row for row in plan_weigh_in(assessed(text)).rows if row.item.tag == "mask"]
    assert row.mass is not None
    assert (row.buoyancy, row.share) == (None, None)
    assert origin_words(row) == "preset mask; a spare, out of the water"


def test_words_are_sorted_by_alphabet() -> None:
    assessment = shipped("twinset")
    tags = [row.item.tag for row in plan_weigh_in(assessment, "item").rows]
    assert tags == sorted(tags, key=str.casefold)
    origins = [row.mass.origin for row in plan_weigh_in(assessment, "from").rows]
    assert origins == sorted(origins)


def test_an_order_that_is_kept_holds_while_values_change() -> None:
    assessment = shipped("twinset")
    kept = [row.number for row in plan_weigh_in(assessment, "share").rows]
    assert [row.number for row in plan_weigh_in(assessment, "mass", kept).rows] == kept


def test_a_share_is_of_items_that_are_in_the_balance() -> None:
    for row in plan_weigh_in(shipped("cold-single")).rows:
        assert (row.share is None) == isinstance(row.item, Lead)
    bare = assess(resolve(kit_of('format = 1\nname = "x"\nlayout = "single"\n[[lead]]\ntag = "belt"\nmass = "1 kg"\n')))
    assert plan_weigh_in(bare).shares is None


def test_hoses_and_cylinders_are_weighed_dry_only() -> None:
    items = {item.kind: item for item in kit_of(config("cold-single")).items}
    dry_only = {kind for kind, item in items.items() if reading_field(item, "buoyancy") is None}
    assert dry_only == {"hose", "cylinder", "first_stage", "lead"}
    assert all(reading_field(item, "mass") for item in items.values())
