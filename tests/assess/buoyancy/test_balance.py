"""Balance: buoyancy over the dive, the lead for the stop, what may fail; outside checks and what always holds."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.buoyancy.balance import Balance, BladderNeed, swing, work_out_balance
from kitbuilder.assess.buoyancy.buoyancy_model import FILLED, RESERVE, TURN, Switches, lead_sinks, total_buoyancy
from kitbuilder.assess.buoyancy.curves import over_depth, over_gas
from kitbuilder.assess.buoyancy.item_weight import weigh_lead
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.items import Cylinder, Drysuit, FirstStage, Hose, Item, Kit, Lead, Other, Suit
from kitbuilder.kit.resolved import NOTHING_LINKED, resolve
from tests.assess.kits import (
    PLAIN,
    WHOLE,
    balance_of,
    beside,
    config,
    float_check,
    kit_of,
    number_of,
    shipped,
    swapped,
    with_header,
    with_items,
    without,
)
from tests.laws import tried

pytestmark = pytest.mark.usefixtures("usual_values")

KITS = {name: kit_of(config(name)) for name in WHOLE}
FEW = tried(15)
ANY_KIT = st.sampled_from(WHOLE)


# --- outside checks ---------------------------------------------------------------------------------------------------


def test_lead_loses_nine_per_cent_in_the_sea() -> None:
    """Source: lead of 11.34 g/cm3 in water of 1.025: 9.0 % by hand."""
    sea = assess_water(with_header(kit_of(PLAIN), density_kg_m3=1025.0).header)
    assert weigh_lead(10.0, sea).buoyancy.value == pytest.approx(-9.1, abs=0.02)
    assert lead_sinks(sea) == pytest.approx(0.91, abs=0.002)


def test_from_fresh_water_to_the_sea_the_lead_grows_by_the_fortieth_part_of_all() -> None:
    """Source: 2.5 % of all that is displaced, 1025 over 1000, over what lead keeps of its weight under water.

    All is the diver, the kit with the gas of the reserve, and the lead that makes it neutral in fresh water: then it
    displaces its own mass. At 1 m both waters press the foam alike, to 10 g.
    """
    at_reserve = with_header(swapped(kit_of(PLAIN), "tank", filled_pa=50e5, reserve_pa=50e5), stop_m=1.0)
    fresh, sea = (balance_of(with_header(at_reserve, density_kg_m3=density)) for density in (1000.0, 1025.0))
    neutral = swapped(with_header(at_reserve, density_kg_m3=1000.0), "belt", mass_kg=fresh.lead.value, pieces=1)
    all_up = 82.0 + assess(resolve(neutral, beside())).everything.mass.value
    assert sea.lead.value - fresh.lead.value == pytest.approx(0.025 * all_up / (1 - 1025 / 11340), abs=0.02)


def test_the_plain_kit_by_hand() -> None:
    """As added up beside its text, each part rounded to 0.1 kg."""
    found = balance_of(kit_of(PLAIN))
    assert found.lead.value == pytest.approx(5.1 / 0.91, abs=0.2)
    deep = total_buoyancy(found.buoyancy_model, 30.0, FILLED, 0.0)
    assert deep.value == pytest.approx(0.3, abs=0.2)
    assert swing(found).value == pytest.approx(2.0, abs=0.15)


# --- the moments of a dive --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", WHOLE)
def test_the_lead_makes_the_stop_neutral(name: str) -> None:
    """With the reserve, an empty wing, and that lead in place of the kit's."""
    found = shipped(name).balance
    assert found is not None
    assert total_buoyancy(found.buoyancy_model, found.stop.depth_m, RESERVE, found.lead.value).value == pytest.approx(
        0, abs=1e-9
    )
    assert found.lead.spread > 0.5
    # A breath makes up for 0.3 kg (common practice, no source); beyond that, not a piece of 1 kg too many.
    needed = found.lead.value - 0.3
    assert needed - 1e-9 <= found.pieces.metric.mass_kg < needed + 1.0


@pytest.mark.parametrize("name", WHOLE)
def test_the_moments_follow_the_dive(name: str) -> None:
    """The kit's own depths; gas leaves on the way, so the diver gets lighter, and foam swells on the way up."""
    found = shipped(name).balance
    assert found is not None
    deepest, stop = found.buoyancy_model.kit.header.deepest_m, found.buoyancy_model.kit.header.stop_m
    plan = [(moment.name, moment.depth_m, moment.gas) for moment in found.moments]
    assert plan == [
        ("going in", 0.0, FILLED),
        ("at depth", deepest, FILLED),
        ("turning", deepest, TURN),
        ("leaving", deepest, RESERVE),
        ("at the stop", stop, RESERVE),
        ("coming out", 0.0, RESERVE),
    ]
    values = [moment.buoyancy.value for moment in found.moments]
    assert values[0] >= values[1] < values[2] < values[3] <= values[4] <= values[5]
    assert found.heaviest.name == "at depth"


def test_depth_stop_and_reserve_are_usual_by_default() -> None:
    """30 m, 5 m and 50 bar: limits of the catalogue."""
    found = balance_of(kit_of(PLAIN))
    assert [moment.depth_m for moment in found.moments] == [0, 30, 30, 30, 5, 0]
    described = balance_of(with_header(kit_of(PLAIN), deepest_m=30.0, stop_m=5.0))
    assert described.lead.value == found.lead.value


@pytest.mark.parametrize("name", WHOLE)
def test_curves_pass_through_the_moments(name: str) -> None:
    """From the surface to the greatest depth, and from the filling to the reserve at the stop."""
    found = shipped(name).balance
    assert found is not None
    value = {moment.name: moment.buoyancy.value for moment in found.moments}
    full, reserve = (points for _, points in over_depth(found).lines)
    assert (full[0][1], full[-1][1]) == (pytest.approx(value["going in"]), pytest.approx(value["at depth"]))
    assert (reserve[0][1], reserve[-1][1]) == (pytest.approx(value["coming out"]), pytest.approx(value["leaving"]))
    [(_, points)] = over_gas(found).lines
    assert points[-1][1] == pytest.approx(value["at the stop"])
    assert [point[1] for point in points] == sorted(point[1] for point in points)


# --- what may fail ----------------------------------------------------------------------------------------------------


def what_if(found: Balance, name: str) -> float:
    [item] = [item for item in found.what_ifs if item.name == name]
    return item.buoyancy.value


def test_what_ifs_by_hand() -> None:
    """Dropping 2 of 6 kg lifts by 1.82 kgf; 13 L of gas are 13.3 kgf; a lost stage takes its cylinder and reserve."""
    kit = with_items(
        kit_of(PLAIN),
        Lead(tag="drop", mass_kg=2.0, droppable=True),
        Drysuit(tag="drysuit", preset="trilaminate shell", suit_gas_m3=0.013),
        Cylinder(tag="stage", preset="aluminium 7 L 207", carried="stage"),
    )
    found = balance_of(kit)
    value = {moment.name: moment.buoyancy.value for moment in found.moments}
    assert what_if(found, "wing fails") == pytest.approx(value["at depth"])
    assert what_if(found, "lead dropped") - value["at the stop"] == pytest.approx(2.0 * (1 - 1025 / 11340))
    assert what_if(found, "drysuit floods") - value["at depth"] == pytest.approx(-13 * 1.025)
    stageless = balance_of(Kit(kit.header, kit.items[:-1]))
    assert what_if(found, "stages lost") == pytest.approx(stageless.stop.buoyancy.value)


SWITCHES = [
    Switches(wing_full=True),
    Switches(suit_flooded=True),
    Switches(stages_lost=True),
    Switches(lead_dropped=True),
    Switches(*[True] * 4),
]


@pytest.mark.parametrize("switches", SWITCHES)
def test_the_lead_is_the_same_whatever_is_asked_on_top(switches: Switches) -> None:
    """Nobody takes lead for a flooded suit: lead, pieces and what comes next stay, and the moments do not."""
    kit = with_items(
        kit_of(PLAIN),
        Lead(tag="drop", mass_kg=2.0, droppable=True),
        Drysuit(tag="drysuit", preset="trilaminate shell", suit_gas_m3=0.013),
        Cylinder(tag="stage", preset="steel 7 L 232", carried="stage"),
    )
    water, described = assess_water(kit.header), beside(float_check(lead_kg=15.0))
    plain, asked = (
        work_out_balance(resolve(kit, described), water),
        work_out_balance(resolve(kit, described), water, switches),
    )
    assert plain is not None
    assert asked is not None
    assert (asked.lead, asked.pieces, asked.measurement_priorities) == (
        plain.lead,
        plain.pieces,
        plain.measurement_priorities,
    )
    assert asked.full_at_depth == plain.full_at_depth
    for one, other in zip(plain.moments, asked.moments, strict=True):
        bare = switches == Switches(wing_full=True)  # moments are those of an empty wing
        assert (one.buoyancy.value == other.buoyancy.value) == bare


def test_nothing_fails_that_is_not_there() -> None:
    """No wing, drysuit, stage, nor lead to drop."""
    assert [item.name for item in balance_of(kit_of(PLAIN)).what_ifs] == ["wing fails"]
    assert not balance_of(kit_of(without(PLAIN, "wing"))).what_ifs


def test_a_full_wing_lifts_as_much_more_in_the_sea() -> None:
    """Its maker filled it with fresh water: 18 kg in water of 999 kg/m3 (common practice, no source)."""
    buoyancy_model = balance_of(kit_of(PLAIN)).buoyancy_model
    full, flat = (
        total_buoyancy(buoyancy_model, 5.0, RESERVE, switches=Switches(wing_full=full)).value for full in (True, False)
    )
    assert full - flat == pytest.approx(18 * 1025 / 999)


# --- missing values ---------------------------------------------------------------------------------------------------


def test_without_a_diver_file_the_lead_is_wide() -> None:
    """Stature and mass are those of a wide middle."""
    kit = kit_of(PLAIN)
    alone, described = balance_of(kit, NOTHING_LINKED), balance_of(kit)
    assert not alone.buoyancy_model.body.is_given
    assert alone.lead.spread > described.lead.spread


@pytest.mark.parametrize("stamped", [False, True])
def test_a_cylinder_of_which_nothing_is_known_is_reported(stamped: bool) -> None:
    """Alone, it leaves no balance; beside another, it is among what is left out."""
    kit = kit_of(PLAIN)
    bare = Cylinder(tag="bare", metal="steel", volume_m3=0.012 if stamped else None)
    assert work_out_balance(resolve(Kit(kit.header, (bare,)), beside()), assess_water(kit.header)) is None
    found = balance_of(with_items(kit, bare))
    assert [found.buoyancy_model.kit.items[number].tag for number in found.buoyancy_model.left_out] == ["bare"]


# --- what always holds ------------------------------------------------------------------------------------------------


@given(name=ANY_KIT, mass=st.floats(0.01, 20.0), depth=st.floats(0, 30), density=st.floats(990, 1250))
@FEW
def test_a_neutral_item_changes_no_buoyancy(name: str, mass: float, depth: float, density: float) -> None:
    """Its volume is its mass over the density of the water."""
    kit = with_header(KITS[name], density_kg_m3=density)
    more = with_items(kit, Other(tag="neutral", mass_kg=mass, volume_m3=mass / density))
    before, after = (balance_of(each) for each in (kit, more))
    assert after.lead.value == pytest.approx(before.lead.value, abs=1e-9)
    floats = [total_buoyancy(found.buoyancy_model, depth, FILLED).value for found in (before, after)]
    assert floats[1] == pytest.approx(floats[0], abs=1e-9)


@given(name=ANY_KIT, data=st.data())
@FEW
def test_the_order_of_items_does_not_matter(name: str, data: st.DataObject) -> None:
    """Neither to the moments nor to the lead, its spread and what comes next."""
    kit = KITS[name]
    again = Kit(kit.header, tuple(data.draw(st.permutations(kit.items))))
    one, other = balance_of(kit), balance_of(again)
    assert other.lead.value == pytest.approx(one.lead.value, abs=1e-9)
    assert other.lead.spread == pytest.approx(one.lead.spread)
    for left, right in zip(one.moments, other.moments, strict=True):
        assert right.buoyancy.value == pytest.approx(left.buoyancy.value, abs=1e-9)
    assert other.trim.end.pitch_rad == pytest.approx(one.trim.end.pitch_rad, abs=1e-9)
    assert {step.what for step in other.measurement_priorities} == {step.what for step in one.measurement_priorities}


@given(name=ANY_KIT, factor=st.floats(0.98, 1.15))
@FEW
def test_denser_water_lifts_in_proportion(name: str, factor: float) -> None:
    """Buoyancy and mass together are what is displaced, item by item.

    Left out are hoses, whose gas counts in buoyancy and not in mass, and undersuits, which are neutral in every water.
    """
    kit = Kit(KITS[name].header, plain_items(KITS[name]))
    thin, thick = (
        assess(resolve(with_header(kit, density_kg_m3=density), beside())) for density in (1020.0, 1020.0 * factor)
    )
    for one, other in zip(thin.weights, thick.weights, strict=True):
        assert one is not None
        assert other is not None
        displaced = (one.mass.value + one.buoyancy.value, other.mass.value + other.buoyancy.value)
        assert displaced[1] == pytest.approx(factor * displaced[0])


def plain_items(kit: Kit) -> tuple[Item, ...]:
    """Its items without hoses, and a drysuit with gas but no undersuit."""
    return tuple(
        replace(item, undersuit=None, suit_gas_m3=0.01) if isinstance(item, Drysuit) else item
        for item in kit.items
        if not isinstance(item, Hose)
    )


@given(name=ANY_KIT, factor=st.floats(0.98, 1.15), leads=st.floats(0, 20))
@FEW
def test_diver_and_kit_displace_in_proportion(name: str, factor: float, leads: float) -> None:
    """Everything together at the surface, again without hoses and undersuits."""
    kit = Kit(KITS[name].header, plain_items(KITS[name]))
    thin, thick = (
        balance_of(with_header(kit, density_kg_m3=density)).buoyancy_model for density in (1020.0, 1020.0 * factor)
    )
    floats = [total_buoyancy(buoyancy_model, 0.0, FILLED, leads).value for buoyancy_model in (thin, thick)]
    mass = 82.0 + leads + assess(resolve(thin.kit, beside())).everything.mass.value - thin.lead_kg
    assert floats[1] + mass == pytest.approx(factor * (floats[0] + mass))


@given(name=ANY_KIT, leads=st.tuples(st.floats(0, 40), st.floats(0, 40)), depth=st.floats(0, 30))
@FEW
def test_more_lead_is_never_lighter(name: str, leads: tuple[float, float], depth: float) -> None:
    """At any depth."""
    buoyancy_model = balance_of(KITS[name]).buoyancy_model
    less, more = (total_buoyancy(buoyancy_model, depth, RESERVE, lead).value for lead in sorted(leads))
    assert more <= less


@given(name=ANY_KIT, gas=st.tuples(st.floats(0, 200e5), st.floats(0, 200e5)), depth=st.floats(0, 30))
@FEW
def test_more_gas_is_never_lighter(name: str, gas: tuple[float, float], depth: float) -> None:
    """At any depth."""
    buoyancy_model = balance_of(KITS[name]).buoyancy_model
    less, more = (total_buoyancy(buoyancy_model, depth, pressure).value for pressure in sorted(gas))
    assert more <= less


@given(name=ANY_KIT, depths=st.tuples(st.floats(0, 100), st.floats(0, 100)))
@FEW
def test_deeper_is_never_lighter(name: str, depths: tuple[float, float]) -> None:
    """The foam of suit and hood is squeezed; gas in a drysuit is kept."""
    buoyancy_model = balance_of(KITS[name]).buoyancy_model
    shallow, deep = (total_buoyancy(buoyancy_model, depth, FILLED).value for depth in sorted(depths))
    assert deep <= shallow + 1e-12


def weighable() -> list[tuple[str, str]]:
    """Everything whose mass is not given in the kits that come along, but drysuits, whose undersuit is apart."""
    return [
        (name, item.tag)
        for name, kit in KITS.items()
        for item in kit.items
        if not isinstance(item, (Lead, Drysuit)) and getattr(item, "mass_kg", 0.0) is None
    ]


def weighed(kit: Kit, tag: str) -> Kit:
    """The kit with the mass of an item as it is worked out: a cylinder without its gas, a hose without adapters."""
    found, number = assess(resolve(kit, beside())), number_of(kit, tag)
    assert found.balance is not None
    vessel = dict(found.balance.buoyancy_model.vessels).get(number)
    weight = vessel.empty if vessel else found.weights[number]
    assert weight is not None
    hose = found.hose_figures(number)
    adapters = sum(adapter.mass.value for adapter in hose.ends.adapters) if hose else 0.0
    return swapped(kit, tag, mass_kg=weight.mass.value - adapters)


@pytest.mark.parametrize(("name", "tag"), weighable())
def test_weighing_never_widens_the_lead(name: str, tag: str) -> None:
    """The scale shows what was expected; 10 mg for hoses, whose gas is left as it is when they are weighed."""
    before, after = (balance_of(kit).lead for kit in (KITS[name], weighed(KITS[name], tag)))
    assert after.spread <= before.spread + 1e-5
    if not isinstance(KITS[name].items[number_of(KITS[name], tag)], (FirstStage, Suit)):
        assert after.value == pytest.approx(before.value, abs=1e-6)


@given(
    name=ANY_KIT,
    lead=st.floats(0, 20),
    by=st.none() | st.floats(-5, 5),
    depth=st.floats(0, 15),
    pressure=st.floats(0, 200e5),
    water=st.sampled_from(("ocean", "fresh", "brackish")),
)
@FEW
def test_a_float_check_never_widens(
    name: str, lead: float, by: float | None, depth: float, pressure: float, water: str
) -> None:
    """Wherever it was made: with the same lead, no moment of the dive is less certain, unless it contradicts all else.

    Another lead than before may be less certain: 3 % of it are not known.
    """
    check = float_check(lead_kg=lead, by_kgf=by, depth_m=depth, pressure_pa=pressure, water=water)
    before, after = (balance_of(KITS[name], beside(*checks)) for checks in ((), (check,)))
    if any(seen.contradicts for seen in after.checks):
        return
    for one, other in zip(before.moments, after.moments, strict=True):
        assert other.buoyancy.spread <= one.buoyancy.spread + 1e-9


@pytest.mark.parametrize("name", ["twinset", "sidemount"])
def test_equal_cylinders_may_change_places(name: str) -> None:
    """Right for left: the same lead, spread and trim."""
    kit = KITS[name]
    right, left = number_of(kit, "right cylinder"), number_of(kit, "left cylinder")
    items: list[Item] = list(kit.items)
    items[right], items[left] = (
        replace(items[left], tag="right cylinder"),
        replace(items[right], tag="left cylinder"),
    )
    one, other = balance_of(kit), balance_of(Kit(kit.header, tuple(items)))
    assert (one.lead.value, one.lead.spread) == (pytest.approx(other.lead.value), pytest.approx(other.lead.spread))
    assert one.trim.end.pitch_rad == pytest.approx(other.trim.end.pitch_rad)


@pytest.mark.parametrize(
    ("buoyancy_kgf", "lift_kgf", "need"),
    [
        (-6.0, 12.0, BladderNeed(False, False, 0.5, 0.0)),
        (-15.0, 12.0, BladderNeed(False, False, 1.25, 3.0)),
        (0.5, 12.0, BladderNeed(False, True, None, 0.0)),
        (-6.0, None, BladderNeed(False, False, None, 0.0)),
        (0.5, None, BladderNeed(False, True, None, 0.0)),
        (0.04, 12.0, BladderNeed(True, False, 0.0, 0.0)),
        (-0.04, None, BladderNeed(True, False, None, 0.0)),
    ],
)
def test_what_the_bladder_has_to_hold(buoyancy_kgf: float, lift_kgf: float | None, need: BladderNeed) -> None:
    found = balance_of(kit_of(PLAIN))
    lift = None if lift_kgf is None else Figure(lift_kgf, {}, "")
    found = found._replace(buoyancy_model=found.buoyancy_model._replace(lift=lift))
    assert found.bladder_need(Figure(buoyancy_kgf, {}, "")) == need
    assert found.when_full_kgf(Figure(buoyancy_kgf, {}, "")) == (None if lift_kgf is None else buoyancy_kgf + lift_kgf)


@pytest.mark.parametrize(("more_kg", "is_just"), [(0.04, True), (-0.04, True), (0.06, False), (-0.06, False)])
def test_lead_that_is_just_enough(more_kg: float, is_just: bool) -> None:
    found = balance_of(kit_of(PLAIN))
    found = found._replace(buoyancy_model=found.buoyancy_model._replace(lead_kg=found.lead.value + more_kg))
    assert found.surplus_kg == pytest.approx(more_kg)
    assert found.carries_just_enough is is_just
