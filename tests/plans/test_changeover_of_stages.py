"""The changeover of a twinset that gains and loses a stage: what stays is left alone, and what is free is not in use.

The kits are those of `cases/technical`, with what the diver owns in `cellar.toml`.
"""

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.gear import Gear, Owned, OwnedAdapter, OwnedAssembly, Plug
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Header, Hose, Item, Kit, SecondStage, Transmitter
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit, resolve
from kitbuilder.kitfile.read import read
from kitbuilder.plans.changeover import Changeover, plan_changeover
from kitbuilder.plans.changeover.build import build_of
from kitbuilder.plans.changeover.checks import gauges_on_one_gas
from kitbuilder.plans.changeover.match import match_builds
from tests.cases.folders import TECHNICAL
from tests.laws import tried
from tests.plans.bench_model import what_is_wanted
from tests.plans.test_changeover import gear, kit, owned_hose, said, small
from tests.plans.test_changeover_steps import bench_after

GREEN = ("green first", "stage 100", "second C green", "HP 15 green", "gauge 2 green")


def case(name: str, *more: Owned, swap: dict[str, Owned] | None = None) -> Assessment:
    """A kit of the case folder, its gear file with more items, or with some swapped for others by tag."""
    found = read(TECHNICAL / f"{name}.toml").resolved
    assert found is not None
    assert found.linked.gear is not None
    items = tuple((swap or {}).get(item.tag, item) for item in found.linked.gear.items)
    owned = Gear(found.linked.gear.header, (*items, *more))
    return assess(resolve(found.unresolved, found.linked._replace(gear=owned)))


def plan(source: Assessment, target: Assessment, **options: object) -> Changeover:
    return plan_changeover(source, target, **options)  # type: ignore[arg-type]


# ---- what stays is left alone ----


def test_a_stage_is_unclipped_as_one_and_the_twinset_is_left_alone() -> None:
    """Seven items go; of the twinset no first stage comes off its valve and no coupling off its nipple."""
    found = plan(case("twinstage"), case("twin"))
    assert found.match.cost == (0, 0, 0, 0)
    assert {step.verb for step in found.steps} == {"store", "work", "check"}
    [unclip] = [step for step in found.steps if step.verb == "store"]
    words = "".join(map(str, unclip.what))
    for tag in (
        "deco",
        "stage rigging",
        "stage first",
        "stage hose",
        "stage second",
        "stage gauge hose",
        "stage gauge",
    ):
        assert tag in words
    assert "Comes off" not in said(found)
    assert "Vacuum" not in said(found)
    assert len(found.steps) <= 10
    assert bench_after(found.match, found.steps).what_is_built() == what_is_wanted(found.match.target)


def test_a_stage_that_is_added_is_put_together_and_the_twinset_is_left_alone() -> None:
    """By hand: hose, second stage, gauge hose and gauge are four joints and the first stage on its valve a fifth.

    Its first stage comes with all ports closed: LP1 and HP1 are opened.
    """
    found = plan(case("twin"), case("twinstage"))
    assert found.match.cost == (0, 2, 5, 5)
    assert [step.verb for step in found.steps if step.verb in ("coupling off", "off the valve", "undo")] == []
    assert [step.places[0].part for step in found.steps if step.verb == "on the valve"] == ["green first"]


def test_a_first_stage_on_another_cylinder_is_work() -> None:
    """The same parts in a single, from one cylinder to another: the first stage off, and on again."""
    stage = FirstStage(tag="first", preset="brass, DIN, 2 LP 1 HP", plugged=("LP1", "LP2", "HP1"))
    one, other = (kit(stage, Cylinder(tag="cylinder", preset=name)) for name in ("steel 12 L 232", "steel 15 L 232"))
    assert plan(one, other).match.cost == (0, 1, 1, 0)
    assert plan(one, one).match.cost == (0, 0, 0, 0)


def test_a_coupling_that_comes_off_is_work() -> None:
    """By hand, from twinset to sidemount: every coupling of the two kits changes its first stage or its bladder."""
    found = plan(case("twin"), case("side"))
    offs = [step for step in found.steps if step.verb in ("coupling off", "off the valve")]
    assert len(offs) == 4  # wing, suit, two first stages
    undone = [step for step in found.steps if step.verb in ("undo", "plug out")]
    assert found.match.cost[1] == len(undone) + 4


def test_a_hose_added_to_an_open_port_takes_the_first_stage_off_its_valve() -> None:
    open_port = FirstStage(tag="first", preset="brass, DIN, 2 LP 1 HP", plugged=("LP1", "HP1"))
    hose = Hose(tag="hose", role="primary", from_="first LP2", body="rubber", length_m=0.75)
    loose = replace(hose, from_=None)
    before = replace(kit(open_port, loose).kit, items=(open_port,))
    after = kit(open_port, hose)
    match = match_builds(build_of(before), build_of(after.kit))
    assert match.cost == (1, 1, 2, 0)  # the hose bought; the stage off; the stage on and the hose in
    assert match.left_alone == ()


def test_a_stage_that_loses_its_hose_does_not_leave_as_one() -> None:
    """The hose of the stage is the only one that does for the twinset: its first stage comes off the valve first."""
    deco = Cylinder(tag="deco", preset="aluminium 7 L 207", carried="stage")
    stage = FirstStage(tag="deco first", preset="brass, DIN, 2 LP 1 HP", on="deco", plugged=("LP2", "HP1"))
    hose = Hose(tag="deco hose", role="primary", from_="deco first LP1", body="rubber", length_m=0.75)
    first = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP", plugged=("LP2", "LP3", "LP4", "HP1", "HP2"))
    before, after = kit(first, deco, stage, hose), kit(first, replace(hose, tag="hose", from_="first LP1"))
    match = match_builds(build_of(before.kit), build_of(after.kit))
    assert match.left_on_stages == ()
    assert match.cost == (0, 3, 2, 0)  # hose out, both first stages off; hose in, first stage on


# ---- assemblies of the gear file ----


def green(**changes: object) -> OwnedAssembly:
    keys = {"tag": "stage regulator, green", "parts": GREEN, "kept_in": "blue bag"} | changes
    return OwnedAssembly(**keys)  # type: ignore[arg-type]


def test_an_assembly_is_fetched_as_one_and_only_screwed_onto_its_cylinder() -> None:
    found = plan(case("twin", green()), case("twinstage", green()))
    assert found.match.cost == (0, 0, 1, 5)
    [fetch] = [step for step in found.steps if step.verb == "fetch"]
    words = "".join(map(str, fetch.what))
    assert words.startswith("Fetch stage regulator, green from blue bag as one:")
    assert "stage first LP1 has stage hose" in words
    assert {place.part for place in fetch.places} == set(GREEN)
    assert [step.verb for step in found.steps if step.verb in ("make", "plug out", "plug in", "undo")] == []


def test_an_assembly_is_put_away_as_one() -> None:
    """The stage regulator without its cylinder: the kit has it on a cylinder that both kits have."""
    first = case("twinstage", green())
    stageless = [item for item in first.kit.unresolved.items if item.owned not in GREEN]
    second = assess(resolve(Kit(first.kit.header, tuple(stageless)), first.kit.linked))
    assert "Put stage regulator, green into blue bag as one: stage first" in said(plan(first, second))


def test_a_part_of_an_assembly_is_taken_off_the_rest() -> None:
    """Only its hose is wanted: one joint at least is undone in the gear, beside those of the kit."""
    items = gear(owned_hose("B61", length_m=0.61), owned_hose("B90", length_m=0.90))
    loose = plan(small(), small(length_m=0.61), gear=items)
    together = Gear(items.header, (*items.items, OwnedAssembly(tag="pair", parts=("B61", "B90"))))
    kept = plan(small(), small(length_m=0.61), gear=together)
    assert kept.match.cost[1] == loose.match.cost[1] + 1
    assert "It is part of pair: take it off there first." in said(kept)
    spare = Gear(together.header, (owned_hose("spare", length_m=0.61), *together.items))
    assert plan(small(), small(length_m=0.61), gear=spare).match.fetched == {"hose": "spare"}


def test_an_assembly_of_which_a_part_is_out_of_use_or_in_the_kit_is_no_longer_one() -> None:
    bad = {"stage 100": replace(case("twin").kit.linked.gear.item("stage 100"), condition="out of use")}  # type: ignore[type-var, union-attr]
    found = plan(case("twin", green(), swap=bad), case("twinstage", green(), swap=bad))
    assert "as one" not in said(found)


# ---- what is free ----


def test_plugs_in_use_are_not_free_as_well() -> None:
    """By hand: 4 LP plugs owned; `twin` has 5 in its ports, `fewer` needs 6. One has to be bought, and no HP plug."""
    found = plan(case("twin"), case("fewer"))
    counts = {count.kind: count for count in found.plugs}
    lp, hp = counts["LP 3/8-24 UNF"], counts["HP 7/16-20 UNF"]
    assert (lp.owned, lp.in_use, lp.needed, lp.to_buy) == (4, 5, 6, 1)
    assert (hp.owned, hp.in_use, hp.needed, hp.to_buy) == (3, 2, 3, 0)
    assert not found.is_all_owned
    assert "Buy one plug, LP 3/8-24 UNF." in said(found)
    assert "this kit has 5. Your gear file counts only 4, so one of the two files is wrong" in said(found)
    assert plan(case("fewer"), case("twin")).is_all_owned


PORTS = ("LP1 3/8-24 UNF", "LP2 3/8-24 UNF", "LP3 3/8-24 UNF")


@st.composite
def plugged_kits(draw: st.DrawFn) -> Kit:
    """Up to three first stages of two makes, their ports plugged or open, each with a hose or without."""
    items: list[Item] = []
    for number in range(draw(st.integers(1, 3))):
        tag = f"stage {number}"
        plugged = tuple(name for name in ("LP1", "LP2") if draw(st.booleans()))
        items.append(FirstStage(tag=tag, ports=PORTS, plugged=plugged, make=draw(st.sampled_from(("grey", "black")))))
        adapter = draw(st.sampled_from((None, "elbow 90")))
        if draw(st.booleans()):
            hose = Hose(tag=f"hose {number}", role="primary", from_=f"{tag} LP3", body="rubber", length_m=0.75)
            items.append(replace(hose, to_adapter=adapter))
    return Kit(Header(format=1, name="kit", layout="single"), tuple(items))


@tried(150)
@given(plugged_kits(), plugged_kits(), st.integers(1, 8), st.integers(0, 3))
def test_plugs_and_adapters_to_buy_are_those_that_a_count_finds_missing(
    first: Kit, second: Kit, plugs: int, adapters: int
) -> None:
    """Counted on the finished bench: every plug in a port, and every adapter of the kit, against what is owned."""
    owned: list[Owned] = [Plug(tag="plugs", thread="3/8-24 UNF", pieces=plugs)]
    if adapters:
        owned.append(OwnedAdapter(tag="elbows", adapter="elbow 90", pieces=adapters))
    linked = LinkedFiles(gear=gear(*owned))
    source, target = (assess(resolve(each, linked)) for each in (first, second))
    found = plan(source, target)

    before, after = (sum(len(s.plugged) for s in each.items if isinstance(s, FirstStage)) for each in (first, second))
    stages = {item.tag: item for item in second.items if isinstance(item, FirstStage)}
    stay = {item.tag: item for item in first.items if isinstance(item, FirstStage)}
    for want in found.match.bought:
        after -= len(stages[want].plugged) if want in stages else 0  # a new one comes with its plugs
    after += sum(len(stay[key].plugged) for key in found.match.left_over if key in stay)  # put away with theirs
    assert sum(count.to_buy for count in found.plugs) == max(0, after - max(plugs, before))

    had, wanted = (sum(item.to_adapter is not None for item in each.hoses) for each in (first, second))
    bought = sum(found.match.target.parts[key].kind == "adapter" for key in found.match.bought)
    assert bought == max(0, wanted - max(adapters, had))


def test_an_adapter_that_sits_on_a_hose_of_the_kit_is_no_spare() -> None:
    """One elbow owned, and it is on the hose that stays; the second hose needs another."""
    linked = LinkedFiles(gear=gear(OwnedAdapter(tag="elbow", adapter="elbow 90")))
    stage = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP")
    one = Hose(tag="one", role="primary", from_="first LP1", body="rubber", length_m=0.75, to_adapter="elbow 90")
    two = replace(one, tag="two", from_="first LP2", length_m=0.56)
    before, after = (
        assess(resolve(Kit(Header(format=1, name="kit", layout="single"), items), linked))
        for items in ((stage, one, replace(two, to_adapter=None)), (stage, one, two))
    )
    assert plan(before, after).match.bought == ("two, to ",)


# ---- what is due ----


def test_what_is_due_on_the_day_of_the_dive_is_named_where_it_is_fetched() -> None:
    """By hand: `green first`, serviced in January 2026, is due in January 2027; the dive is on 6 March 2027."""
    found = plan(case("twin"), case("twinstage"))
    [fetch] = [step for step in found.steps if step.verb == "fetch" and step.places[0].part == "green first"]
    assert "Service of a regulator has been due since 1 January 2027" in "".join(map(str, fetch.note))
    [later] = [
        step
        for step in plan(case("twin"), case("twinstage"), day=date(2026, 12, 1)).steps
        if step.verb == "fetch" and step.places[0].part == "green first"
    ]
    assert later.note == ()
    assert later.what == fetch.what, "a ticked step would lose its tick"


def test_what_is_due_and_stays_in_the_kit_is_named_too() -> None:
    words = said(plan(case("fewer"), case("twin")))
    assert "take care of left post. Service of a regulator has been due since 1 June 2026" in words
    assert "take care of right cylinder. Internal inspection of a cylinder has been due since 1 May 2025" in words


# ---- checks ----


@pytest.mark.parametrize(
    ("name", "gone", "agree"),
    [
        ("twin", (), True),  # a gauge on the left post, a transmitter on the right: one gas
        ("twinstage", (), True),
        ("twinstage", ("sender",), False),  # a gauge on the back gas, one on the stage
        ("side", (), False),  # two cylinders that nothing joins
        ("fewer", (), False),  # a transmitter only
    ],
)
def test_gauges_agree_only_where_two_read_one_gas(name: str, gone: tuple[str, ...], agree: bool) -> None:
    kit = case(name).kit
    left = resolve(Kit(kit.header, tuple(i for i in kit.unresolved.items if i.tag not in gone)), kit.linked)
    assert gauges_on_one_gas(left) is agree


def test_the_check_of_the_gauges_is_a_step_from_side_to_twin_and_none_from_twin_to_side() -> None:
    assert "Gauges agree" in said(plan(case("side"), case("twin")))
    assert "Gauges agree" not in said(plan(case("twin"), case("side")))
    only_a_sender = plan(case("twin"), case("fewer"))
    assert "Gauges agree" not in said(only_a_sender), "joined cylinders with one instrument have none to compare"


def test_a_gauge_and_a_transmitter_on_one_first_stage_read_one_gas() -> None:
    stage = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP")
    cylinder = Cylinder(tag="cylinder", preset="steel 12 L 232")
    gauges = (Gauge(tag="gauge", preset="brass gauge", port="first HP1"), Transmitter(tag="sender", port="first HP2"))
    assert gauges_on_one_gas(kit(stage, cylinder, *gauges).kit)
    assert not gauges_on_one_gas(kit(stage, cylinder, gauges[0]).kit)


def test_where_to_measure_the_intermediate_pressure_is_said_for_each_first_stage() -> None:
    """A stage regulator has no inflator hose; its LP2 has a plug. Without a plug its hose is opened."""
    words = said(plan(case("twin"), case("twinstage")))
    assert "right post: put the test gauge on wing hose, its coupling off." in words
    assert "left post: put the test gauge on suit hose, its coupling off." in words
    assert "stage first: it has no inflator hose. Screw a test gauge with its own hose into LP2" in words


def test_without_a_free_port_the_gauge_goes_between_hose_and_second_stage() -> None:
    full = FirstStage(tag="first", ports=("LP1 3/8-24 UNF",))
    hose = Hose(tag="hose", role="primary", from_="first LP1", to="second", body="rubber", length_m=0.75)
    second = SecondStage(tag="second", preset="plastic body")
    before = kit(replace(full, plugged=("LP1",)))
    words = said(plan(before, kit(full, hose, second)))
    assert "Put a test gauge between hose and its second stage" in words
    assert "A technician has to measure it." in said(plan(before, kit(replace(full, make="other"))))


def test_gas_is_analysed_after_a_change_of_cylinders_or_of_gas() -> None:
    """From twinset to sidemount both cylinders are others; `twin` and `twinstage` share theirs with another gas."""
    assert "Gas right cylinder, left cylinder: Analyse" in said(plan(case("twin"), case("side")))
    assert "Gas right cylinder, left cylinder, deco: Analyse" in said(plan(case("twin"), case("twinstage")))
    assert "Analyse" not in said(plan(case("fewer"), case("twin")))


def test_the_isolator_is_checked_on_a_manifold_and_valves_open_away_from_glass_and_faces() -> None:
    words = said(plan(case("side"), case("twin")))
    assert "Isolator: Open the isolator completely." in words
    assert "Isolator" not in said(plan(case("twin"), case("side")))
    assert "the glass of every gauge and every second stage away from faces" in words


# ---- two divers ----


def anna(name: str) -> Assessment:
    """The same kit of another diver with a gear file of her own."""
    found = case(name).kit
    assert found.linked.gear is not None
    assert found.linked.diver is not None
    owned = Gear(replace(found.linked.gear.header, name="Anna's shelf"), found.linked.gear.items)
    diver = replace(found.linked.diver, header=replace(found.linked.diver.header, name="Anna"))
    return assess(resolve(found.unresolved, found.linked._replace(gear=owned, diver=diver)))


def test_parts_of_another_diver_are_not_moved() -> None:
    """All of the target comes from its own diver's gear; the other's kit stays as it is."""
    found = plan(case("side"), anna("twin"))
    assert found.owners.names == ("me", "Anna")
    assert not found.moves_parts
    assert found.match.taken == {}
    assert found.match.bought == ()
    assert {step.verb for step in found.steps}.isdisjoint({"undo", "coupling off", "off the valve", "store"})
    assert "Comes off" not in said(found)


def test_parts_of_another_diver_are_moved_when_that_is_asked() -> None:
    found = plan(case("side"), anna("twin"), both_divers=True)
    assert found.moves_parts
    assert "Comes off" in said(found)


def test_two_divers_who_share_a_gear_file_share_its_parts() -> None:
    shared = anna("twin").kit
    mine = case("side").kit
    hers = assess(resolve(shared.unresolved, shared.linked._replace(gear=mine.linked.gear)))
    found = plan(assess(mine), hers)
    assert found.owners.are_several
    assert found.moves_parts


def test_one_diver_is_one_diver() -> None:
    assert not plan(case("side"), case("twin")).owners.are_several
    bare: ResolvedKit = kit(FirstStage(tag="first", preset="brass, DIN, 2 LP 1 HP")).kit
    assert not plan(assess(bare), case("twin")).owners.are_several


def test_counted_by_hand_the_plugs_of_the_bench_are_those_of_the_count() -> None:
    kinds = Counter(plug.kind for plug in build_of(case("twin").kit).plugs)
    assert kinds == {"LP 3/8-24 UNF": 5, "HP 7/16-20 UNF": 2}
