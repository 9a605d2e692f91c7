"""A pair of divers: what each gives the other, and what they must agree on."""

from dataclasses import replace
from itertools import permutations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Signal
from kitbuilder.assess.gas.breathing import Breathable
from kitbuilder.kit.diver import Diver, DiverHeader
from kitbuilder.kit.items import Kit, Other, SecondStage, Wing
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.plans.pair.agreement import Agreement, whose
from kitbuilder.plans.pair.joining import NO, WITH_ADAPTER, YES
from kitbuilder.plans.pair.lift import HeldByOther
from kitbuilder.plans.pair.members import directions, kits_of_one_diver
from kitbuilder.plans.pair.pair import Pair, pair_up
from tests.assess.kits import CONFIGS, config, kit_of, swapped, with_header, with_items
from tests.laws import tried
from tests.physics.published import rows

BAR, ATMOSPHERE, PSI, CUBIC_FOOT = 1e5, 101325.0, 6894.757293168, 0.3048**3
"""Definitions: SP 811 of 2008, appendix B.8."""
HOST, GUEST = ((CONFIGS / "pair" / f"{name}.toml").read_text("utf-8") for name in ("host", "guest"))
KITS = [kit_of(text) for text in (HOST, GUEST, config("warm-single"), config("sidemount"), config("twinset"))]


def worn(kit: Kit, name: str, **keys: object) -> Assessment:
    """A kit on a diver of that name."""
    header = DiverHeader(**{"format": 1, "holds": "diver", "name": name, "stature_m": 1.75, "mass_kg": 75.0} | keys)  # type: ignore[arg-type]
    return assess(resolve(kit, LinkedFiles(diver=Diver(header, ()))))


def pair(*kits: Kit, units: tuple[str, ...] = ("metric", "imperial", "metric")) -> Pair:
    """The kits on divers called one, two and three."""
    divers = zip(("one", "two", "three"), units, strict=True)
    return pair_up(
        [(f"{name}.toml", worn(kit, name, units=own)) for kit, (name, own) in zip(kits, divers, strict=False)]
    )


def topics(found: Pair) -> dict[str, Signal]:
    return {agreement.topic: agreement.signal for agreement in found.agreements}


def the(found: Pair, topic: str) -> Agreement:
    [agreement] = [each for each in found.agreements if each.topic == topic]
    return agreement


# ---- laws ----

BODIES = st.tuples(st.floats(1.5, 2.0), st.floats(50.0, 110.0))


@given(first=st.sampled_from(KITS), second=st.sampled_from(KITS), bodies=st.tuples(BODIES, BODIES))
@tried(8)
def test_a_pair_says_the_same_whoever_is_named_first(first: Kit, second: Kit, bodies) -> None:
    """What to agree on, what is missing, and every figure of a direction or a diver."""
    one, two = (
        (f"{name}.toml", worn(kit, name, stature_m=stature, mass_kg=mass, units=units))
        for (stature, mass), kit, name, units in zip(
            bodies, (first, second), ("one", "two"), ("metric", "imperial"), strict=True
        )
    )
    forth, back = pair_up([one, two]), pair_up([two, one])
    assert forth.agreements == back.agreements
    assert set(forth.missing) == set(back.missing)
    assert forth.facts.by_name() == back.facts.by_name()._replace(shared_hoses=forth.facts.shared_hoses)
    assert {hose.tags for hose in forth.facts.shared_hoses} == {hose.tags[::-1] for hose in back.facts.shared_hoses}


def test_three_divers_say_the_same_in_any_order() -> None:
    divers = [(f"{name}.toml", worn(kit, name)) for name, kit in zip(("one", "two", "three"), KITS, strict=False)]
    said = [pair_up(order).agreements for order in permutations(divers)]
    assert said == [said[0]] * 6


LIGHTS = st.sampled_from(["back-up torch", "hand-held torch", None])


@given(first=st.sampled_from(KITS), second=st.sampled_from(KITS), light=LIGHTS, to_first=st.booleans())
@tried(8)
def test_a_redundant_light_never_adds_a_finding(first: Kit, second: Kit, light: str | None, to_first: bool) -> None:
    """A light that neither pulls nor lifts, so that nothing but its being there changes; the pair has one already."""
    tag = "one more torch" if light is None else "one more"
    more = Other(tag=tag, preset=light, mass_kg=0.3, buoyancy_kgf=0.0)
    before = pair(first, second)
    assume(before.facts.counted[0].in_all)
    after = pair(with_items(first, more), second) if to_first else pair(first, with_items(second, more))
    assert {(each.topic, each.who) for each in after.agreements} <= {
        (each.topic, each.who) for each in before.agreements
    }
    lights = [counted.in_all for found in (before, after) for counted in found.facts.counted[:1]]
    assert lights[1] == lights[0] + 1


# ---- gas ----


@pytest.mark.parametrize("row", [row for row in rows("gas_air_z.tsv") if float(row["pressure_bar"]) >= 40], ids=str)
def test_volumes_against_the_printed_table_of_air(row) -> None:
    """Source: handbook of chemical engineering, 1984, table 3-162, from memory; the table argues for 0.2 %.

    By hand: an amount of gas goes by p/Z; what stays in the open cylinder at one atmosphere is not counted. The first
    row of the table, 1 bar, stands for the atmosphere.
    """
    absolute = float(row["pressure_bar"]) * BAR
    inside, outside = absolute / float(row["compressibility"]), ATMOSPHERE / 0.9999
    kit = swapped(KITS[0], "steel 15", preset=None, metal="steel", volume_m3=0.015, working_pressure_pa=300 * BAR,
                  stamped_mass_kg=18.0, filled_pa=absolute - ATMOSPHERE, temperature_k=300.0)  # fmt: skip
    supply = pair(kit, KITS[1]).facts.supplies[0]
    assert supply.start is not None
    assert supply.start.value == pytest.approx(0.015 * (inside - outside) / outside, rel=0.0025)


def test_a_cylinder_of_80_cubic_feet_holds_77() -> None:
    """11.03 L at 3000 psi hold 77.0 cubic feet of air: page "scuba cylinder specifications" of a textbook."""
    kit = swapped(KITS[1], "boat cylinder", preset=None, metal="aluminium", volume_m3=0.01103, gas=None,
                  working_pressure_pa=3000 * PSI, stamped_mass_kg=14.2, filled_pa=3000 * PSI)  # fmt: skip
    start = pair(KITS[0], kit).facts.supplies[1].start
    assert start is not None
    assert start.value / CUBIC_FOOT == pytest.approx(77.0, rel=0.01)


def test_a_reserve_reads_lower_on_a_larger_cylinder() -> None:
    """By hand: equal cylinders read the same; half the volume reads twice as much, but for what gas is from ideal."""
    host = KITS[0]
    half = swapped(host, "steel 15", preset=None, metal="steel", volume_m3=0.0075, working_pressure_pa=232 * BAR,
                   stamped_mass_kg=9.0)  # fmt: skip
    whole = swapped(half, "steel 15", volume_m3=0.015)
    same = [each.pressure_pa for each in pair(whole, whole).facts.elsewhere]
    assert same == pytest.approx([50 * BAR, 50 * BAR], abs=0.02 * BAR)
    on_half, on_whole = (each.pressure_pa for each in pair(whole, half).facts.elsewhere)
    assert on_half == pytest.approx(100 * BAR, rel=0.02)
    assert on_whole == pytest.approx(25 * BAR, rel=0.02)


def test_a_reserve_that_the_other_cannot_hold_is_not_known() -> None:
    small = swapped(KITS[0], "steel 15", preset=None, metal="steel", volume_m3=0.001, working_pressure_pa=232 * BAR,
                    stamped_mass_kg=2.0)  # fmt: skip
    assert pair(KITS[0], small).facts.elsewhere[0].pressure_pa is None


def test_a_gas_that_the_other_cannot_breathe_at_the_common_depth() -> None:
    """By hand: nitrox 50 at 30 m of sea has 0.5 x 4.03 bar of oxygen, above 1.6; nitrox 32 has 1.3, below 1.4."""
    assert "gas that the other cannot breathe" not in topics(pair(KITS[0], KITS[1]))
    rich = swapped(KITS[1], "boat cylinder", oxygen=0.5)
    found = pair(KITS[0], rich)
    agreement = the(found, "gas that the other cannot breathe")
    assert (agreement.signal, agreement.who) == (Signal.DANGER, ("two", "one"))
    assert agreement.what[-1] == " two's nitrox 50 has too much oxygen for one and two"
    assert "nothing left to breathe" not in topics(found)
    assert found.agreements[0] is agreement
    [given] = [given for given in found.facts.given if given.way.names == ("two", "one")]
    assert [judged for _, judged in given.gas] == [Breathable.TOO_RICH]


def test_kits_for_different_depths() -> None:
    """100 ft and 30 m are one depth; 40 m is another."""
    assert "greatest depth" not in topics(pair(KITS[0], KITS[1]))
    found = pair(with_header(KITS[0], deepest_m=40.0), KITS[1])
    assert the(found, "greatest depth").signal is Signal.CAUTION
    assert found.deepest_m == pytest.approx(100 * 0.3048)


def test_gauges_in_two_units_and_in_one() -> None:
    assert "gauges in two units" in topics(pair(KITS[0], KITS[1]))
    assert "gauges in two units" not in topics(pair(KITS[0], KITS[1], units=("imperial",) * 3))


def test_gas_that_is_not_given_is_not_said_as_a_fact() -> None:
    """The guest's cylinder without gas, filling, turn and reserve: asked for once, and nothing is concluded from it."""
    found = pair(KITS[0], swapped(KITS[1], "boat cylinder", gas=None, filled_pa=None, turn_pa=None, reserve_pa=None))
    assert [supply.assumed for supply in found.facts.supplies] == [set(), {"gas", "filled", "turn", "reserve"}]
    assert the(found, "gas that is not given").who == ("two",)
    assert "reserves that differ" not in topics(found)
    assert not any("air in two's cylinder" in str(each.what) for each in found.agreements)
    assert [(each.item, each.key) for each in found.missing] == [
        ("boat cylinder", key) for key in ("gas", "filled", "reserve")
    ]
    assert "gas that is not given" not in topics(pair(KITS[0], KITS[1]))


# ---- gas given ----


def handed(found: Pair) -> dict[str, tuple[str, str, str] | None]:
    """What each giver hands over, from which side, and keeps."""
    return {
        given.way.giver.name: given.handed and (given.handed.second_stage, given.handed.side, given.handed.then)
        for given in found.facts.given
    }


def test_who_hands_over_what() -> None:
    """Read off the files: the long hose feeds "primary", the alternate hose "alternate"; both come from the right."""
    found = pair(KITS[0], KITS[1])
    assert handed(found) == {"one": ("primary", "right", "necklace"), "two": ("alternate", "right", "primary")}
    assert "two ways of giving gas" in topics(found)
    assert "two ways of giving gas" not in topics(pair(KITS[0], KITS[0]))


def test_a_long_hose_reaches_in_file_only_when_it_is_long() -> None:
    """The twinset's 210 cm reach a diver ahead, the host's 150 cm do not."""
    found = pair(KITS[0], KITS[4])
    short, long = (given.reaches[2].verdict.outcome for given in found.facts.given)
    assert (short, long) == ("does not fit", "fits")
    assert [each.who for each in found.agreements if each.topic == "reach of the hose given"] == [("one", "two")]


def test_a_diver_with_one_second_stage_has_nothing_to_hand_over() -> None:
    kit = KITS[1]
    lone = Kit(kit.header, tuple(item for item in kit.items if not item.tag.startswith("alternate")))
    found = pair(KITS[0], lone)
    assert (the(found, "nothing to hand over").signal, the(found, "nothing to hand over").who) == (
        Signal.WARNING,
        ("two",),
    )
    assert handed(found)["two"] is None


def test_a_second_stage_that_is_no_item_is_not_handed_over() -> None:
    """The guest's hoses lead to "primary" and "alternate"; without those items nothing is concluded."""
    lost = Kit(KITS[1].header, tuple(item for item in KITS[1].items if not isinstance(item, SecondStage)))
    found = pair(KITS[0], lost)
    assert handed(found)["two"] is None
    assert [given.reaches for given in found.facts.given if given.way.giver.name == "two"] == [()]
    assert "nothing to hand over" not in topics(found)
    assert ("two.toml", "alternate hose", "to") in {each[:3] for each in found.missing}


def test_a_kit_with_grave_findings_of_its_own_is_named() -> None:
    """The kit that is wrong on purpose has some of each; the shipped pair has none worse than a caution."""
    agreement = the(pair(KITS[0], kit_of(config("wrong-on-purpose"))), "findings of one kit alone")
    assert (agreement.signal, agreement.who) == (Signal.DANGER, ("two",))
    assert "findings of one kit alone" not in topics(pair(KITS[0], KITS[1]))


# ---- what joins, lift, single items ----


def test_couplings_and_regulators_of_the_shipped_pair() -> None:
    """Read off the files: a large-bore nipple against standard ones, a clamp against DIN without its insert."""
    facts = pair(KITS[0], KITS[1]).facts
    assert {(*fed.way.names, fed.function, fed.answer) for fed in facts.fed} == {
        ("one", "two", "inflator", NO),
        ("two", "one", "inflator", NO),
        ("two", "one", "drysuit", NO),
    }
    assert [seated.answer for seated in facts.seated] == [WITH_ADAPTER, WITH_ADAPTER]
    assert facts.shared_hoses == ()


def test_two_of_one_kit_join_in_everything() -> None:
    facts = pair(KITS[0], KITS[0]).facts
    assert {fed.answer for fed in facts.fed} == {YES}
    assert {seated.answer for seated in facts.seated} == {YES}
    assert len(facts.shared_hoses) == len(KITS[0].hoses)


def test_a_spare_of_one_does_for_a_part_of_the_other() -> None:
    """A second stage like the guest's in the host's bag."""
    spare = SecondStage(tag="spare second", preset="plastic body", in_spares=True)
    facts = pair(with_items(KITS[0], spare), KITS[1]).facts
    assert [(*each.way.names, each.spare, each.part) for each in facts.spares] == [
        ("one", "two", "spare second", "primary")
    ]
    assert pair(KITS[0], KITS[1]).facts.spares == ()


def test_one_bladder_for_both_by_hand() -> None:
    """Lift less what pulls both down, in kilograms: the sum of three figures of the two kits."""
    found = pair(KITS[0], KITS[1])
    one, two = found.facts.weighed
    assert one.lift and two.lift and one.heavy and two.heavy
    held = {each.way.names: each.both for each in found.facts.held}
    assert held["one", "two"].value == pytest.approx(one.lift.value - one.heavy.value - two.heavy.value)
    assert held["two", "one"].value == pytest.approx(two.lift.value - one.heavy.value - two.heavy.value)
    assert {each.who: each.signal for each in found.agreements if each.topic == "lift for both"} == {
        each.way.names: Signal.NOTICE for each in found.facts.held if each.both.value < each.both.spread
    }
    weak = Kit(KITS[0].header, tuple(replace(i, lift_kgf=5.0) if isinstance(i, Wing) else i for i in KITS[0].items))
    found = pair(weak, KITS[1])
    assert [each.who for each in found.agreements if each.topic == "lift for both" and each.must_agree] == [
        ("one", "two")
    ]


def test_lift_that_may_not_be_enough_is_worth_a_notice() -> None:
    """Zero within the spread: 1.1 less and 1.8 more than is needed, ± 4; a cushion of 5 kg needs none."""
    way = directions(pair(KITS[0], KITS[1]).members)[0]

    def may_lack(value: float) -> bool:
        return HeldByOther(way, None, Figure(value, {"lift": 4.0}, "")).may_lack

    assert [may_lack(value) for value in (-1.1, 1.8, 3.9, 5.0)] == [True, True, True, False]


def test_what_the_pair_has_once_never_or_not_on_each() -> None:
    """Read off the files: the host alone has a cutter, a buoy and a spool; without a computer a diver lacks one."""
    found = pair(KITS[0], KITS[1])
    assert {counted.need.name: counted.counts for counted in found.facts.counted} == {
        "light": (1, 1), "cutter": (1, 0), "marker buoy": (1, 0), "spool": (1, 0),
        "computer": (1, 1), "mask": (1, 1), "gauge": (1, 1),
    }  # fmt: skip
    assert the(found, "items that are there once").who == ("one",)
    without = Kit(KITS[0].header, tuple(i for i in KITS[0].items if i.tag not in ("computer", "spool")))
    found = pair(without, KITS[1])
    assert the(found, "items that each diver needs").who == ("one",)
    assert the(found, "items that nobody carries").what == ("nobody carries a spool",)
    assert the(found, "items that nobody carries").do == ("Decide who brings one, or enter it in the kit file.",)


def test_items_that_are_lacking_read_as_one_sentence() -> None:
    lone = Kit(KITS[1].header, tuple(i for i in KITS[1].items if i.tag not in ("computer", "mask")))
    lacking = the(pair(KITS[0], lone), "items that each diver needs")
    assert (lacking.what, lacking.do) == (
        ("two has no computer and no mask",),
        ("Bring them, or enter them in the kit file.",),
    )


def test_a_long_name_takes_no_apostrophe() -> None:
    assert whose("Anna Schmidt", "hose") == "Anna Schmidt's hose"
    assert whose("the diver of these kits", "hose") == "the hose of the diver of these kits"
    assert whose("sam (a/kit.toml)", "hose") == "the hose of sam (a/kit.toml)"


def test_gases_couplings_and_inlets_are_agreed_on_one_by_one() -> None:
    """Two gases; a coupling and a nipple of two makes; an inlet of 1/2 inch: each with what to do about it."""
    guest = swapped(swapped(KITS[0], "steel 15", gas=None, oxygen=0.32), "necklace", inlet="1/2")
    found = pair(KITS[0], guest)
    do = {topic: the(found, topic).do for topic in ("different gases", "different inlets")}
    assert len(set(do.values())) == 2
    assert "couplings of two makes" not in topics(found)
    assert not {"different gases", "different inlets"} & set(topics(pair(KITS[0], KITS[0])))


def test_a_hose_that_is_short_for_two_divers_is_named_once() -> None:
    """The host's 150 cm do not reach in file; both receivers stand in one sentence."""
    found = pair(KITS[0], KITS[1], KITS[4])
    mine = [each for each in found.agreements if each.topic == "reach of the hose given" and each.who[0] == "one"]
    assert [each.who for each in mine] == [("one", "three", "two")]


def test_one_failure_leaves_a_diver_of_one_first_stage_without_gas() -> None:
    """A twinset has two first stages; the losses of that kit say that either is enough."""
    assert the(pair(KITS[0], KITS[1]), "one failure, no gas").who == ("one", "two")
    assert the(pair(KITS[0], KITS[4]), "one failure, no gas").who == ("one",)


# ---- what is missing ----


def test_a_kit_of_nothing_is_named_with_what_would_help() -> None:
    """It shares no function with the other: nothing is handed over, fed or lifted, and nothing fails."""
    bare = kit_of('format = 1\nname = "bare"\nlayout = "single"\n')
    found = pair_up([("one.toml", worn(KITS[0], "one", units="metric")), ("bare.toml", assess(resolve(bare)))])
    assert [member.name for member in found.members] == ["one", "diver of bare"]
    assert [(missing.file, missing.key) for missing in found.missing] == [("bare.toml", "diver")]
    assert topics(found)["nothing to hand over"] is Signal.WARNING


def test_two_divers_of_one_name_are_named_with_their_kits() -> None:
    one, two = worn(KITS[0], "sam"), worn(KITS[1], "sam")
    found = pair_up([("a/kit.toml", one), ("b/kit.toml", two)])
    assert [member.name for member in found.members] == ["sam (a/kit.toml)", "sam (b/kit.toml)"]
    assert found.shared_names == ("sam",)
    assert [member.name for member in pair_up([("a.toml", one), ("b.toml", two)]).members] == ["sam (a)", "sam (b)"]


def test_what_is_not_given_names_its_key_and_its_file() -> None:
    vague = swapped(swapped(KITS[1], "boat cylinder", outlet=None), "jacket", preset=None, lift_kgf=None)
    header = DiverHeader(format=1, holds="diver", name="two")
    two = assess(resolve(with_header(vague, diver="her.toml"), LinkedFiles(diver=Diver(header, ()))))
    found = pair_up([("one.toml", worn(KITS[0], "one", units="metric")), ("two.toml", two)])
    assert {(each.file, each.item, each.key) for each in found.missing} == {
        ("her.toml", None, "units"),
        ("her.toml", None, "stature"),
        ("her.toml", None, "mass"),
        ("two.toml", "boat cylinder", "outlet"),
        ("two.toml", "jacket", "inlet"),
        ("two.toml", "jacket", "lift"),
    }


def test_two_kits_that_name_one_diver_file_are_of_one_diver() -> None:
    """One path written in two ways; the same file name in two folders is two divers, and so is no diver file at all."""
    kit = worn(with_header(KITS[0], diver="sam.toml"), "sam")
    assert "sam.toml; a pair is two people" in kits_of_one_diver([("a/one.toml", kit), ("a/../a/two.toml", kit)])
    assert kits_of_one_diver([("a/one.toml", kit), ("b/two.toml", kit)]) == ""
    nobody = worn(with_header(KITS[0], diver=None), "sam")
    assert kits_of_one_diver([("one.toml", nobody), ("two.toml", nobody)]) == ""


@pytest.mark.parametrize(
    ("given", "called"),
    [
        (("Anna Schmidt", "John Miller"), ["Anna", "John"]),
        (("Anna Schmidt", "Anna Miller"), ["Anna Schmidt", "Anna Miller"]),
        (("Dr. Anna Schmidt", "guest"), ["Dr. Anna Schmidt", "guest"]),
        (("the diver of these kits", "Sam"), ["the diver of these kits", "Sam"]),
    ],
)
def test_divers_are_called_by_their_first_names(given: tuple[str, str], called: list[str]) -> None:
    members = pair_up([(f"{name}.toml", worn(KITS[0], name)) for name in given]).members
    assert [member.name for member in members] == called
    assert [member.full_name for member in members] == list(given)
