"""What hangs on an item: a stage goes with its regulator, its gauge and its rigging, and nothing of the rest."""

import pytest

from kitbuilder.assess.assembly import goes_with, gone_with_stages
from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.balance import work_out_balance
from kitbuilder.assess.buoyancy.buoyancy_model import Switches
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.items import Cylinder, FirstStage, Hose, Kit, Other, SecondStage
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kitfile.read import read
from tests.assess.kits import number_of, with_items
from tests.cases.folders import TECHNICAL

STAGE = ("deco", "stage rigging", "stage first", "stage hose", "stage second", "stage gauge hose", "stage gauge")
"""All that belongs to the stage of `twinstage.toml`, read from the file by hand."""


def kit_named(name: str) -> ResolvedKit:
    kit = read(TECHNICAL / f"{name}.toml").resolved
    assert kit is not None
    return kit


def tags(kit: ResolvedKit, numbers: tuple[int, ...] | frozenset[int]) -> set[str]:
    return {kit.items[number].tag for number in numbers}


def lost(assessment: Assessment) -> float:
    assert assessment.balance is not None
    [found] = [each for each in assessment.balance.what_ifs if each.name == "stages lost"]
    return found.buoyancy.value


def test_a_stage_is_its_cylinder_and_all_that_hangs_on_it() -> None:
    kit = kit_named("twinstage")
    assert tags(kit, goes_with(kit, number_of(kit, "deco"))) == set(STAGE)
    assert tags(kit, gone_with_stages(kit)) == set(STAGE)


@pytest.mark.parametrize(
    ("item", "with_it"),
    [
        ("stage first", set(STAGE) - {"deco", "stage rigging"}),
        ("stage hose", {"stage hose", "stage second"}),
        ("stage second", {"stage second"}),
        ("wing hose", {"wing hose"}),  # the wing stays on the diver
        ("left post", {"left post", "necklace hose", "backup", "suit hose", "gauge hose", "gauge"}),
        ("right post", {"right post", "long hose", "primary", "wing hose", "sender"}),
        ("plate", {"plate"}),
    ],
)
def test_what_hangs_on_an_item_goes_with_it(item: str, with_it: set[str]) -> None:
    kit = kit_named("twinstage")
    assert tags(kit, goes_with(kit, number_of(kit, item))) == with_it


def test_what_two_hoses_feed_stays_with_the_other() -> None:
    kit = kit_named("twinstage")
    shared = with_items(
        kit.unresolved,
        Hose(tag="spare", role="alternate", from_="left post LP3", to="stage second", length_m=1, body="rubber"),
    )
    both = resolve(shared, kit.linked)
    assert "stage second" not in tags(both, goes_with(both, number_of(both, "deco")))


def test_each_stage_has_a_rigging_of_its_own_in_the_order_of_the_file() -> None:
    kit = kit_named("two")  # two stages, one rigging
    more = resolve(with_items(kit.unresolved, Other(tag="second rigging", preset="stage rigging")), kit.linked)
    deco, oxygen = (tags(more, goes_with(more, number_of(more, tag))) for tag in ("deco", "oxy"))
    assert "stage rigging" in deco
    assert "second rigging" in oxygen
    assert not deco & oxygen


def test_a_cylinder_that_two_stages_do_not_share_takes_only_its_own() -> None:
    kit = kit_named("two")
    assert tags(kit, goes_with(kit, number_of(kit, "oxy"))) == {
        "oxy", "oxy first", "oxy hose", "oxy second", "oxy gauge",
    }  # fmt: skip


def test_the_stages_lost_are_those_of_a_kit_that_never_had_them() -> None:
    """The stop of the kit without the seven items of its stage, each taken out of the file by its tag."""
    kit = kit_named("twinstage")
    plain = kit.unresolved
    bare = Kit(plain.header, tuple(item for item in plain.items if item.tag not in STAGE))
    without = work_out_balance(resolve(bare, kit.linked), assess_water(kit.header))
    assert without is not None
    assert lost(assess(kit)) == pytest.approx(without.stop.buoyancy.value, abs=1e-9)


def test_all_that_hangs_on_a_lost_stage_counts_at_the_stop() -> None:
    """By hand, in sea water, from the catalogue's values for the parts beside the cylinder.

    First stage, 0.5 to 0.85 kg of brass (8400 kg/m3): 0.675 x (1 - 1025/8400) = 0.593 down. Second stage 0.03 to
    0.12, gauge 0.08 to 0.20, rigging 0.05 to 0.20: 0.075, 0.14 and 0.125 down. Hoses of 1 m and of 15 cm, of rubber and
    two brass ends: about 0.1 together, by memory. That is 1.03 kg more than the cylinder by itself takes away.
    """
    kit = kit_named("twinstage")
    stage = number_of(kit, "deco")
    cylinder_only = Kit(kit.header, tuple(item for number, item in enumerate(kit.unresolved.items) if number != stage))
    without = work_out_balance(resolve(cylinder_only, kit.linked), assess_water(kit.header))
    assert without is not None
    assert lost(assess(kit)) - without.stop.buoyancy.value == pytest.approx(1.03, abs=0.03)


def test_without_a_stage_nothing_is_gone() -> None:
    kit = kit_named("twin")
    assert gone_with_stages(kit) == frozenset()
    rigged = resolve(with_items(kit.unresolved, Other(tag="stage rigging", preset="stage rigging")), kit.linked)
    assert gone_with_stages(rigged) == frozenset()


def test_the_trim_without_the_stages_has_none_of_their_parts() -> None:
    kit = kit_named("twinstage")
    found = work_out_balance(kit, assess_water(kit.header), Switches(stages_lost=True))
    assert found is not None
    there = {spot.item for spot in found.trim.spots}
    assert not there & gone_with_stages(kit)
    assert number_of(kit, "primary") in there


def test_a_kit_that_names_an_item_of_its_stage_in_a_circle_is_left_alone() -> None:
    """A hose that feeds the cylinder it comes from: the walk ends."""
    items = (
        Cylinder(tag="deco", preset="aluminium 7 L 207", carried="stage"),
        FirstStage(tag="first", preset="brass, DIN, 2 LP 1 HP", on="deco"),
        Hose(tag="hose", role="stage second stage", from_="first LP1", to="first", length_m=1.0, body="rubber"),
        SecondStage(tag="second", preset="plastic body"),
    )
    kit = resolve(Kit(kit_named("twin").header, items))
    assert tags(kit, goes_with(kit, 0)) == {"deco", "first", "hose"}
