"""What may take the place of what: thread, pressure class, length, cleanliness, and the word of the gear file."""

from dataclasses import replace

import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.gear import (
    Gear,
    GearHeader,
    ORing,
    Owned,
    OwnedAdapter,
    OwnedFirstStage,
    OwnedHose,
    OwnedOther,
    OwnedSecondStage,
)
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Header, Hose, Item, Kit, SecondStage
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.plans.changeover import Changeover, Unbuildable, plan_changeover
from kitbuilder.plans.changeover.build import build_of
from kitbuilder.plans.changeover.match import match_builds
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import shipped

STAGE = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP", plugged=("LP2", "LP3", "LP4", "HP1", "HP2"))
HOSE = Hose(tag="hose", role="primary", from_="first LP1", to="second", body="rubber", length_m=0.75)
SECOND = SecondStage(tag="second", preset="plastic body")


def kit(*items: Item, name: str = "kit") -> Assessment:
    return assess(resolve(Kit(Header(format=1, name=name, layout="single"), items)))


def small(**changes: object) -> Assessment:
    """A first stage, one hose and a second stage; the hose changed."""
    return kit(STAGE, replace(HOSE, **changes), SECOND)


def beside_gear(assessment: Assessment, items: Gear) -> Assessment:
    """The same kit in the folder of a gear file that it names."""
    return assess(resolve(assessment.kit.unresolved, LinkedFiles(gear=items)))


def gear(*items: Owned) -> Gear:
    return Gear(GearHeader(format=1, holds="gear", name="gear"), items)


def owned_hose(tag: str, **changes: object) -> OwnedHose:
    keys = {"body": "rubber", "length_m": 0.75, "from_end": "LP 3/8", "to_end": "second stage 9/16"} | changes
    return OwnedHose(tag=tag, **keys)  # type: ignore[arg-type]


def outcome(plan: Changeover, tag: str) -> str:
    return next(outcome.what for outcome in plan.outcomes if outcome.becomes == tag)


def reasons(refused: Unbuildable) -> str:
    return " ".join(sentence(reason, System.METRIC) for reason in refused.reasons)


def said(plan: Changeover) -> str:
    return "\n".join("".join(str(piece) for piece in step.what) for step in plan.steps)


# ---- what is the same ----


@pytest.mark.parametrize(
    ("changes", "what"),
    [
        ({}, "stays"),
        ({"tag": "another name"}, "stays"),
        ({"role": "alternate"}, "stays"),
        ({"length_m": 0.762}, "stays"),  # 30 in is sold as 75 cm
        ({"length_m": 0.80}, "to buy"),
        ({"body": "braided"}, "to buy"),
        ({"to_end": "second stage 1/2", "to": None}, "to buy"),
        ({"from_": "first LP3"}, "moves"),
    ],
)
def test_a_hose_is_kept_where_it_is_the_same(changes: dict[str, object], what: str) -> None:
    """By what it is, never by what it is called or used for."""
    plan = plan_changeover(small(), small(**changes))
    assert outcome(plan, changes.get("tag", "hose")) == what  # type: ignore[arg-type]


def test_thirty_inches_are_75_cm_in_both_directions() -> None:
    assert outcome(plan_changeover(small(length_m=0.762), small()), "hose") == "stays"
    assert outcome(plan_changeover(small(), small(length_m=0.762)), "hose") == "stays"


def test_an_hp_hose_never_stands_in_for_an_lp_hose() -> None:
    gauge_hose = Hose(tag="hose", role="gauge", from_="first HP1", to="gauge", body="rubber", length_m=0.75)
    stage = replace(STAGE, plugged=("LP1", "LP2", "LP3", "LP4", "HP2"))
    plan = plan_changeover(kit(stage, gauge_hose, Gauge(tag="gauge", preset="brass gauge")), small())
    assert outcome(plan, "hose") == "to buy"


def test_a_first_stage_with_other_ports_is_another() -> None:
    turret = replace(STAGE, preset="brass, DIN, turret 5 LP 2 HP", plugged=("LP2", "LP3", "LP4", "LP5", "HP1", "HP2"))
    plan = plan_changeover(small(), kit(turret, HOSE, SECOND))
    assert "first" in plan.match.bought
    assert outcome(plan, "hose") == "moves"


def test_makes_that_contradict_are_not_one() -> None:
    assert outcome(plan_changeover(small(make="grey"), small(make="black")), "hose") == "to buy"
    assert outcome(plan_changeover(small(), small(make="black")), "hose") == "stays"


# ---- the gear file ----


def test_what_lies_in_the_gear_file_is_fetched() -> None:
    plan = plan_changeover(small(), small(length_m=0.61), gear(owned_hose("B61", length_m=0.61)))
    assert outcome(plan, "hose") == "from your gear"
    assert "Fetch B61 from your gear. It becomes hose." in said(plan)
    assert plan.match.cost == (0, 3, 3, 1)  # both ends of a hose, and the first stage on its valve


def test_what_is_kept_somewhere_is_fetched_from_there() -> None:
    plan = plan_changeover(small(), small(length_m=0.61), gear(owned_hose("B61", length_m=0.61, kept_in="blue bag")))
    assert "Fetch B61 from blue bag" in said(plan)


def test_what_is_put_away_goes_where_it_is_kept() -> None:
    items = gear(owned_hose("B75", kept_in="blue bag"), owned_hose("B61", length_m=0.61))
    plan = plan_changeover(small(owned="B75"), small(length_m=0.61, owned="B61"), items)
    assert "Put hose (B75) into blue bag" in said(plan)


def test_spare_rings_are_counted_by_size() -> None:
    rings = gear(ORing(tag="a", size="011", pieces=3), ORing(tag="b", size="011"), ORing(tag="c", size="010"))
    assert plan_changeover(small(), small(length_m=0.61), rings).spare_rings == {"011": 4, "010": 1}
    assert plan_changeover(small(), small(length_m=0.61), gear()).spare_rings is None
    perished = gear(ORing(tag="a", size="011", pieces=3, condition="out of use"))
    assert plan_changeover(small(), small(length_m=0.61), perished).spare_rings is None


def test_what_is_to_be_watched_is_reported_when_it_is_fetched() -> None:
    stiff = owned_hose("B61", length_m=0.61, condition="to be watched", notes="stiff near the crimp")
    plan = plan_changeover(small(), small(length_m=0.61), gear(stiff))
    assert "It becomes hose. It is to be watched: stiff near the crimp." in said(plan)


def test_one_item_in_two_places_is_refused() -> None:
    other = replace(HOSE, tag="other", from_="first LP2", to=None, owned="one")
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(small(), kit(STAGE, replace(HOSE, owned="one"), SECOND, other), gear(owned_hose("one")))
    assert '"hose" and "other" are both "one" of the gear file' in reasons(refused.value)


def test_a_part_without_a_name_is_known_by_the_kits_own_gear_file() -> None:
    """The target names the hose; the source has it, and does not say so."""
    items = gear(owned_hose("mine"))
    source = beside_gear(small(), items)
    assert outcome(plan_changeover(source, small(owned="mine"), items), "hose") == "stays"


def test_every_step_with_a_spanner_names_the_hose_by_its_tag() -> None:
    items = gear(owned_hose("B75"), owned_hose("B61", length_m=0.61))
    text = said(plan_changeover(small(owned="B75"), small(length_m=0.61, owned="B61"), items))
    assert "Unscrew hose (B75) from first LP1." in text
    assert "Screw hose (B61) into first LP1, by hand for now." in text


def test_what_is_out_of_use_stays_there() -> None:
    broken = owned_hose("B61", length_m=0.61, condition="out of use")
    assert outcome(plan_changeover(small(), small(length_m=0.61), gear(broken)), "hose") == "to buy"


def test_a_kit_that_names_a_item_gets_that_one_and_no_other() -> None:
    """The present hose would do as well, and is not the one that is named."""
    items = gear(owned_hose("new"), owned_hose("old"))
    plan = plan_changeover(small(owned="old"), small(owned="new"), items)
    assert outcome(plan, "hose") == "from your gear"
    assert plan.match.fetched == {"hose": "new"}
    assert outcome(plan_changeover(small(owned="old"), small(owned="old"), items), "hose") == "stays"


def test_a_item_that_is_built_in_is_not_in_the_gear_file_as_well() -> None:
    """The only one of its kind hangs on the kit: a second one has to be bought."""
    two = kit(STAGE, HOSE, SECOND, replace(HOSE, tag="other hose", from_="first LP2", to=None))
    plan = plan_changeover(small(owned="the one"), two, gear(owned_hose("the one")))
    assert sorted(outcome(plan, tag) for tag in ("hose", "other hose")) == ["stays", "to buy"]


def test_a_built_hose_without_a_name_is_not_in_the_gear_file_as_well() -> None:
    """The only one the gear file has hangs on the kit that names this gear, whether it says so of the hose or not."""
    two = kit(STAGE, HOSE, SECOND, replace(HOSE, tag="other hose", from_="first LP2", to=None))
    items = gear(owned_hose("the one"))
    plan = plan_changeover(beside_gear(small(), items), two, items)
    assert sorted(outcome(plan, tag) for tag in ("hose", "other hose")) == ["stays", "to buy"]


def test_tags_that_look_like_keys_take_no_part_away() -> None:
    other = replace(HOSE, tag="hose, to", from_="first LP2", to=None)
    odd = kit(STAGE, replace(HOSE, to_adapter="elbow 90"), SECOND, other)
    assert len(plan_changeover(odd, odd).match.target.parts) == 5


def test_adapters_are_counted() -> None:
    elbows = gear(OwnedAdapter(tag="elbows", adapter="elbow 90", pieces=1))
    second = replace(HOSE, tag="other", from_="first LP2", to="other second", to_adapter="elbow 90")
    both = kit(STAGE, replace(HOSE, to_adapter="elbow 90"), SECOND, second, replace(SECOND, tag="other second"))
    plan = plan_changeover(small(), both, elbows)
    adapters = [key for key in plan.match.bought if plan.match.target.parts[key].kind == "adapter"]
    assert (len(plan.match.fetched), len(adapters)) == (1, 1)


def test_an_empty_gear_file_gives_nothing() -> None:
    assert outcome(plan_changeover(small(), small(length_m=0.61), gear()), "hose") == "to buy"


def test_the_gear_file_the_kit_names_is_taken() -> None:
    target = small(length_m=0.61)
    items = gear(owned_hose("B61", length_m=0.61))
    assert outcome(plan_changeover(small(), beside_gear(target, items)), "hose") == "from your gear"


# ---- oxygen ----

RICH = Cylinder(tag="cylinder", preset="steel 12 L 232 long", oxygen=0.5)
LEAN = replace(RICH, oxygen=0.4)


@pytest.mark.parametrize(("cylinder", "what"), [(LEAN, "stays"), (RICH, "to buy")])
def test_for_rich_gas_only_what_is_known_to_be_clean_will_do(cylinder: Cylinder, what: str) -> None:
    """More than 40 % oxygen: 29 CFR 1910.430 has gear for it cleaned."""
    plan = plan_changeover(small(), kit(STAGE, HOSE, SECOND, cylinder))
    assert outcome(plan, "hose") == what
    assert ("first" in plan.match.bought) == (what == "to buy")


def test_what_is_used_with_rich_gas_already_goes_on_with_it() -> None:
    """Whether it is clean is asked by a finding; it is not bought again for what it does now."""
    rich = kit(STAGE, replace(HOSE, to_adapter="elbow 90"), SECOND, RICH)
    assert plan_changeover(rich, rich).match.cost == (0, 0, 0, 0)


def test_a_box_of_the_same_tag_makes_nothing_clean() -> None:
    """The gear file's item of that tag is of another kind."""
    box = gear(OwnedOther(tag="grey", oxygen_clean=True))
    plan = plan_changeover(small(owned="grey"), kit(STAGE, replace(HOSE, owned="grey"), SECOND, RICH), box)
    assert outcome(plan, "hose") == "to buy"


def test_a_clean_one_of_the_gear_file_is_fetched_for_it() -> None:
    clean = gear(
        owned_hose("clean hose", oxygen_clean=True),
        owned_hose("plain hose"),
        OwnedFirstStage(tag="clean first", preset=STAGE.preset, oxygen_clean=True),
    )
    plan = plan_changeover(small(), kit(STAGE, HOSE, SECOND, RICH), clean)
    assert plan.match.fetched == {"first": "clean first", "hose": "clean hose"}
    assert plan.match.bought == ("second",)


CLEAN_FIRST = OwnedFirstStage(tag="clean first", preset=STAGE.preset, oxygen_clean=True)
CLEAN_SECOND = OwnedSecondStage(tag="clean second", preset=SECOND.preset, oxygen_clean=True)
CLEAN = gear(owned_hose("clean hose", oxygen_clean=True), CLEAN_FIRST, CLEAN_SECOND)


def owned_kit(cylinder: Cylinder) -> Assessment:
    """The clean parts of `CLEAN` on a cylinder."""
    parts = (
        replace(STAGE, owned="clean first"),
        replace(HOSE, owned="clean hose"),
        replace(SECOND, owned="clean second"),
    )
    return beside_gear(kit(*parts, cylinder), CLEAN)


def test_clean_parts_used_with_air_are_cleaned_before_rich_gas() -> None:
    """They count as not clean after air: 50 % of oxygen must not reach them before."""
    steps = said(plan_changeover(owned_kit(replace(RICH, oxygen=0.21)), owned_kit(RICH), CLEAN))
    [first] = [line for line in steps.splitlines() if "cleaned for oxygen before gas with 50 % oxygen" in line]
    assert all(tag in first for tag in ("first", "hose", "second"))


def test_clean_parts_that_go_to_air_count_as_not_clean_from_then_on() -> None:
    back = said(plan_changeover(owned_kit(RICH), owned_kit(replace(RICH, oxygen=0.21)), CLEAN))
    assert "From now on these count as not clean for oxygen" in back
    fetched = said(plan_changeover(kit(RICH), owned_kit(replace(RICH, oxygen=0.21)), CLEAN))
    assert "From now on these count as not clean for oxygen" in fetched
    assert "clean for oxygen" not in said(plan_changeover(owned_kit(RICH), owned_kit(RICH), CLEAN))


def test_a_part_of_ones_own_that_is_not_clean_is_named_and_never_used_for_rich_gas() -> None:
    """It is to be cleaned, or a clean one to be bought."""
    dirty = gear(owned_hose("plain hose"), CLEAN_FIRST, CLEAN_SECOND)
    target = kit(STAGE, replace(HOSE, owned="plain hose"), SECOND, RICH)
    plan = plan_changeover(small(), beside_gear(target, dirty), dirty)
    assert outcome(plan, "hose") == "to buy"
    assert "plain hose is not known to be clean for oxygen" in said(plan)
    assert "second stage 9/16, clean for oxygen)" in said(plan)


# ---- what is not planned with ----


@pytest.mark.parametrize(
    ("hose", "says"),
    [
        ({"from_end": "LP 1/2"}, "does not screw in"),
        ({"to_end": "second stage 1/2"}, "1/2"),
        (
            {"to_end": "standard nipple coupling"},
            "does not fit",
        ),
    ],
)
def test_a_joint_that_cannot_be_made_is_never_a_step(hose: dict[str, str], says: str) -> None:
    """The classic mistake, an end for another inlet, and a coupling on a thread."""
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(small(), small(**hose))
    assert says in reasons(refused.value)


def test_a_port_used_twice_is_named() -> None:
    twice = kit(STAGE, HOSE, SECOND, replace(HOSE, tag="other", to=None), name="twice")
    for pair in ((small(), twice), (twice, small())):
        with pytest.raises(Unbuildable) as refused:
            plan_changeover(*pair)
        assert refused.value.kit.header.name == "twice"
        assert '"first LP1" is used twice: by "hose" and by "other".' in reasons(refused.value)


def test_a_kit_with_a_joint_that_could_hurt_is_never_built() -> None:
    """It can be taken apart, if nothing else contradicts."""
    hurts = small(from_="first HP1")
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(small(), hurts)
    assert "high-pressure port" in reasons(refused.value)
    assert plan_changeover(hurts, small()).match.undone


def test_the_kit_wrong_on_purpose_is_refused_in_both_directions() -> None:
    for pair in (("twinset", "wrong-on-purpose"), ("wrong-on-purpose", "twinset")):
        with pytest.raises(Unbuildable):
            plan_changeover(*(shipped(name) for name in pair))


@pytest.mark.parametrize(
    ("hose", "says"),
    [
        ({"from_": "gone LP1"}, 'there is no first stage "gone"'),
        ({"from_": "first LP9"}, '"first" has no port "LP9"'),
    ],
)
def test_a_reference_that_leads_nowhere_is_named(hose: dict[str, str], says: str) -> None:
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(small(), small(**hose))
    assert says in reasons(refused.value)


def test_a_item_fed_twice_is_named() -> None:
    both = kit(STAGE, HOSE, SECOND, replace(HOSE, tag="other", from_="first LP2"))
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(small(), both)
    assert '"second" is fed twice: by "hose" and by "other".' in reasons(refused.value)


@pytest.mark.parametrize(
    ("changes", "second", "joints"),
    [
        ({}, SECOND, [("first", "hose"), ("hose", "second")]),
        ({}, SecondStage(tag="second"), [("first", "hose")]),
        ({"to": None}, SECOND, [("first", "hose")]),
        ({"to": "first"}, SECOND, [("first", "hose")]),
    ],
)
def test_a_joint_is_made_only_with_an_inlet_that_is_given(
    changes: dict[str, object], second: SecondStage, joints: list[tuple[str, str]]
) -> None:
    """Of a device without preset and inlet nobody can say what goes on it, so it has no joint."""
    build = build_of(kit(STAGE, replace(HOSE, **changes), second).kit)
    assert [(joint.inner, joint.outer) for joint in build.screwed] == joints


def test_out_of_time_the_best_so_far_is_reported_as_that() -> None:
    """A solver that is given no time at all proves nothing, and whatever it gives is one to one."""
    twinset, sidemount = (build_of(shipped(name).kit) for name in ("twinset", "sidemount"))
    found = match_builds(twinset, sidemount, limit_s=0.0)
    assert len(set(found.taken.values())) == len(found.taken)
    assert found.is_proved or found.cost >= match_builds(twinset, sidemount).cost
