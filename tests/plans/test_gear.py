"""A gear file among kits: where items are used, and what is to be got, counted by hand."""

from collections import Counter
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.gear.gear import report_on_gear
from kitbuilder.assess.gear.sameness import does_for, record_of
from kitbuilder.assess.gear.shortage import Shortage, allocate_from
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import (
    OUT_OF_USE,
    Gear,
    GearHeader,
    Owned,
    OwnedAdapter,
    OwnedFirstStage,
    OwnedHose,
    OwnedLead,
    OwnedSecondStage,
    Plug,
    pieces_of,
)
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Header, Hose, Item, Kit, Lead, SecondStage
from kitbuilder.kit.resolved import resolve
from kitbuilder.kitfile.folder import kits_naming
from kitbuilder.kitfile.read import read_written
from kitbuilder.plans.gear import Use, contacts_of, kits_using, needs_of, uses_of
from tests.assess.kits import CONFIGS, config, kit_of, with_keys

FOUR_LP, TURRET = "brass, DIN, 4 LP 2 HP", "brass, DIN, turret 5 LP 2 HP"
LP, HP = "3/8-24 UNF", "7/16-20 UNF"


def gear(*items: Owned) -> Gear:
    return Gear(GearHeader(format=1, holds="gear", name="gear"), items)


def kit(*items: Item) -> Kit:
    return Kit(Header(format=1, name="kit", layout="single", gear="gear.toml"), items)


def hose(tag: str = "hose", length_m: float = 0.75, **keys: object) -> Hose:
    return Hose(**({"tag": tag, "role": "primary", "body": "rubber", "length_m": length_m} | keys))  # type: ignore[arg-type]


def owned(tag: str = "B75", length_m: float = 0.75, **keys: object) -> OwnedHose:
    ends = {"body": "rubber", "from_end": "LP 3/8", "to_end": "second stage 9/16"}
    return OwnedHose(tag=tag, length_m=length_m, **(ends | keys))  # type: ignore[arg-type]


def is_same_hose(have: OwnedHose, want: Hose) -> bool:
    """Whether one does for the other, by their records."""
    records = record_of(have), record_of(want)
    assert records[0] is not None
    assert records[1] is not None
    return does_for(*records)


def counts(shortages: tuple[Shortage, ...]) -> dict[tuple[str, str], int]:
    """How many pieces, by kind and what."""
    return {(shortage.kind, shortage.what): shortage.pieces for shortage in shortages}


def shipped_gear() -> Gear:
    found = read_written(CONFIGS / "gear.toml", GEAR_FILE).gear
    assert found is not None
    return found


# ---- gases that items meet ----


def test_a_clean_item_that_air_and_rich_gas_share_is_asked_about() -> None:
    """Used in both kits; in the second one alone it is not."""
    stage = OwnedFirstStage(tag="green", preset=FOUR_LP, oxygen_clean=True)
    first = FirstStage(tag="first", preset=FOUR_LP, owned="green")
    air, rich = (
        resolve(kit(first, Cylinder(tag="tank", preset="steel 12 L 232 long", oxygen=oxygen))) for oxygen in (0.21, 0.5)
    )
    for kits, rules in (
        ([("a.toml", air), ("b.toml", rich)], ["clean and used with air"]),
        ([("b.toml", rich)], []),
        ([("a.toml", air)], []),
    ):
        report = report_on_gear(gear(stage), date(2026, 5, 1), {}, contacts=contacts_of(kits))
        assert [finding.rule for finding in report.findings] == rules


# ---- where items are used ----


def test_where_each_item_is_used() -> None:
    items = gear(owned("B75"), owned("B61"), OwnedFirstStage(tag="grey"))
    reef = kit(hose("primary hose", owned="B75"), FirstStage(tag="first", owned="grey"))
    lake = kit(hose("long hose", owned="B75"), hose("spare", owned="nothing"))
    uses = uses_of(items, [("reef.toml", reef), ("lake.toml", lake)])
    assert uses == {
        "B75": (Use("reef.toml", "primary hose"), Use("lake.toml", "long hose")),
        "grey": (Use("reef.toml", "first"),),
    }
    assert kits_using(uses) == {"B75": ("reef.toml", "lake.toml"), "grey": ("reef.toml",)}


def test_twice_in_a_kit_is_one_kit() -> None:
    uses = uses_of(gear(owned("B75")), [("reef.toml", kit(hose("a", owned="B75"), hose("b", owned="B75")))])
    assert len(uses["B75"]) == 2
    assert kits_using(uses) == {"B75": ("reef.toml",)}


def test_a_tag_of_another_kind_is_no_use() -> None:
    assert uses_of(gear(OwnedFirstStage(tag="grey")), [("reef.toml", kit(hose(owned="grey")))]) == {}


def test_the_two_regulators_of_the_kits_that_come_along() -> None:
    """The lake takes one, the twinset and sidemount take both, as their comments say."""
    uses = uses_of(shipped_gear(), kits_naming(CONFIGS / "gear.toml"))
    assert [use.file for use in uses["grey"]] == ["cold-single.toml", "sidemount.toml", "twinset.toml"]
    assert [use.file for use in uses["black"]] == ["sidemount.toml", "twinset.toml"]


# ---- what is taken ----


@pytest.mark.parametrize("name", ["cold-single", "twinset", "sidemount"])
def test_the_kits_that_come_along_can_be_built_from_their_gear_file(name: str) -> None:
    """Also when nobody says which item is which."""
    described = kit_of(config(name))
    bare = Kit(described.header, tuple(replace(item, owned=None) for item in described.items))
    for each in (described, bare):
        assert needs_of(resolve(each), shipped_gear()).shortages == ()
    assert len(needs_of(resolve(described), shipped_gear()).taken) == len(needs_of(resolve(bare), shipped_gear()).taken)


def test_what_is_named_is_taken_before_what_is_alike() -> None:
    """The second hose names the one that the first would else have taken."""
    items = gear(owned("one"), owned("two"))
    assert needs_of(resolve(kit(hose("a"), hose("b", owned="one"))), items).taken == (("a", "two"), ("b", "one"))


def test_what_is_rented_is_neither_taken_nor_bought() -> None:
    """Two hoses and one that is owned: the second has to be bought, unless it is rented."""
    shown = gear(owned())
    assert counts(needs_of(resolve(kit(hose("one"), hose("two"))), shown).shortages) == {("hose", ""): 1}
    rented = needs_of(resolve(kit(hose("one"), hose("two", rented=True))), shown)
    assert (rented.taken, rented.shortages) == ((("one", "B75"),), ())


def test_a_item_is_taken_once() -> None:
    found = needs_of(resolve(kit(hose("a", owned="B75"), hose("b", owned="B75"))), gear(owned()))
    assert found.taken == (("a", "B75"),)
    assert [(shortage.pieces, shortage.tags) for shortage in found.shortages] == [(1, ("b",))]


def test_what_is_out_of_use_is_not_taken() -> None:
    """Not even by name: it is not built with, and the changeover does not fetch it either."""
    items = gear(owned(condition=OUT_OF_USE))
    assert len(needs_of(resolve(kit(hose())), items).shortages) == 1
    assert len(needs_of(resolve(kit(hose(owned="B75"))), items).shortages) == 1


@pytest.mark.parametrize(
    ("mine", "is_it"),
    [
        (owned(), True),
        (owned(length_m=30 * 0.0254), True),  # 30 in is how 75 cm is sold in inches
        (owned(length_m=0.80), False),
        (owned(body="braided"), False),
        (owned(to_end="standard nipple coupling"), False),
        (owned(from_end="LP 1/2"), False),
        (owned(make="black"), True),  # the kit tells no make
        (owned(bore_m=0.005), True),
    ],
)
def test_which_hose_is_the_same(mine: OwnedHose, is_it: bool) -> None:
    """A primary of which the kit does not tell the ends has those of its role: LP 3/8 and second stage 9/16."""
    assert is_same_hose(mine, hose()) is is_it


def test_another_make_or_bore_is_another_hose() -> None:
    assert not is_same_hose(owned(make="black"), hose(make="grey"))
    assert not is_same_hose(owned(bore_m=0.005), hose(bore_m=0.006))
    assert is_same_hose(owned(swivel_pin=True), hose(swivel_pin=False)), "a pin can be put in"


def test_a_first_stage_is_the_same_by_its_preset_and_ports() -> None:
    grey = gear(OwnedFirstStage(tag="grey", preset=TURRET, mass_kg=0.7))
    assert needs_of(resolve(kit(FirstStage(tag="first", preset=TURRET))), grey).shortages == ()
    assert counts(needs_of(resolve(kit(FirstStage(tag="first", preset=FOUR_LP))), grey).shortages) == {
        ("first_stage", FOUR_LP): 1
    }
    spelled = FirstStage(tag="first", ports=("LP1 3/8-24 UNF", "HP1 7/16-20 UNF"))
    assert len(needs_of(resolve(kit(spelled)), grey).shortages) == 1
    mine = gear(OwnedFirstStage(tag="mine", ports=spelled.ports, mass_kg=0.7))
    weighed = FirstStage(tag="first", ports=spelled.ports, mass_kg=0.8)
    assert needs_of(resolve(kit(weighed)), mine).shortages == (), "what it weighs does not decide what it does"


# ---- what is to be got ----


def test_equal_hoses_are_one_line() -> None:
    (shortage,) = needs_of(resolve(kit(hose("a"), hose("b"), hose("c"))), gear(owned())).shortages
    assert (shortage.kind, shortage.pieces, shortage.tags) == ("hose", 2, ("b", "c"))
    assert shortage.hose is not None
    assert shortage.hose.length_m == 0.75


def test_unlike_hoses_are_lines_of_their_own() -> None:
    shortages = needs_of(resolve(kit(hose("a"), hose("b", 0.9), hose("c", role="jacket inflator"))), gear()).shortages
    assert [shortage.tags for shortage in shortages] == [("a",), ("b",), ("c",)]


def test_plugs_by_thread() -> None:
    """Three LP and three HP ports are closed on two first stages; five plugs of the one kind are there, none else."""
    stages = (
        FirstStage(tag="one", preset=FOUR_LP, plugged=("LP3", "LP4", "HP1", "HP2")),
        FirstStage(tag="two", preset=FOUR_LP, plugged=("LP4", "HP2")),
    )
    mine = gear(
        *(OwnedFirstStage(tag=tag, preset=FOUR_LP) for tag in ("one", "two")), Plug(tag="plugs", thread=LP, pieces=5)
    )
    (shortage,) = needs_of(resolve(kit(*stages)), mine).shortages
    assert (shortage.kind, shortage.what, shortage.pieces, shortage.tags) == ("plug", f"HP {HP}", 3, ("one", "two"))


def test_an_lp_plug_never_closes_an_hp_port() -> None:
    """Old first stages have one thread in both: a plug that is not said to be for HP is for LP."""
    old = FirstStage(tag="one", ports=(f"HP1 {LP}",), plugged=("HP1",))
    stage = OwnedFirstStage(tag="one", ports=(f"HP1 {LP}",))
    (shortage,) = needs_of(resolve(kit(old)), gear(stage, Plug(tag="plugs", thread=LP))).shortages
    assert (shortage.what, shortage.pieces) == (f"HP {LP}", 1)
    assert needs_of(resolve(kit(old)), gear(stage, Plug(tag="plugs", thread=LP, service="HP"))).shortages == ()


def test_plugs_of_a_first_stage_whose_ports_are_not_known_or_not_there() -> None:
    unknown = FirstStage(tag="one", plugged=("LP1",))
    wrong = FirstStage(tag="two", preset=FOUR_LP, plugged=("LP9",))
    mine = gear(OwnedFirstStage(tag="one"), OwnedFirstStage(tag="two", preset=FOUR_LP))
    assert needs_of(resolve(kit(unknown, wrong)), mine).shortages == ()


def test_adapters_by_name() -> None:
    hoses = (hose("a", to_adapter="elbow 90"), hose("b", to_adapter="elbow 90"), hose("c", to_adapter="swivel"))
    mine = gear(owned("1"), owned("2"), owned("3"), OwnedAdapter(tag="elbow", adapter="elbow 90"))
    assert counts(needs_of(resolve(kit(*hoses)), mine).shortages) == {
        ("adapter", "elbow 90"): 1,
        ("adapter", "swivel"): 1,
    }


def test_lead_by_the_piece() -> None:
    """Six of one kilogram and three of two are carried; four of one are there."""
    belts = (
        Lead(tag="a", mass_kg=1.0, pieces=4),
        Lead(tag="b", mass_kg=1.0, pieces=2),
        Lead(tag="c", mass_kg=2.0, pieces=3),
    )
    shortages = needs_of(resolve(kit(*belts)), gear(OwnedLead(tag="lead", mass_kg=1.0, pieces=4))).shortages
    assert [(shortage.mass_kg, shortage.pieces, shortage.tags) for shortage in shortages] == [
        (1.0, 2, ("a", "b")),
        (2.0, 3, ("c",)),
    ]


def test_lead_in_pounds_is_not_lead_in_kilograms() -> None:
    pound = 0.45359237
    lead = kit(Lead(tag="a", mass_kg=2 * pound))
    assert needs_of(resolve(lead), gear(OwnedLead(tag="b", mass_kg=2 * pound))).shortages == ()
    assert len(needs_of(resolve(lead), gear(OwnedLead(tag="b", mass_kg=1.0))).shortages) == 1


def test_what_is_left_out() -> None:
    """Suits, wings, cylinders and the rest are hired as often as owned: nobody is sent to buy them."""
    text = config("warm-single")
    kinds = {shortage.kind for shortage in needs_of(resolve(kit_of(text)), gear()).shortages}
    assert kinds == {"first_stage", "hose", "second_stage", "gauge", "plug", "lead"}


def test_one_hose_more_than_there_is() -> None:
    """The sidemount kit with its short hose in another length."""
    text = with_keys(config("sidemount"), "short hose", length="100 cm", owned=None)
    (shortage,) = needs_of(resolve(kit_of(text)), shipped_gear()).shortages
    assert (shortage.pieces, shortage.tags) == (1, ("short hose",))


# ---- laws ----

LENGTHS = st.sampled_from((0.56, 0.61, 0.75, 0.9))


@given(st.lists(LENGTHS, max_size=6), st.lists(LENGTHS, max_size=6))
def test_what_is_taken_and_what_is_lacking_make_the_kit(wanted: list[float], there: list[float]) -> None:
    """Of each length as many are lacking as the kit has more than the gear file."""
    kits = kit(*(hose(f"h{number}", length) for number, length in enumerate(wanted)))
    mine = gear(*(owned(f"o{number}", length) for number, length in enumerate(there)))
    found = allocate_from(mine, kits)
    lacking = Counter({shortage.hose.length_m: shortage.pieces for shortage in found.shortages if shortage.hose})
    assert lacking == Counter(wanted) - Counter(there)
    assert len(found.taken) + lacking.total() == len(wanted)
    assert len({tag for _, tag in found.taken}) == len(found.taken)


@given(st.lists(LENGTHS, max_size=5), LENGTHS)
def test_one_item_more_in_the_gear_file_never_asks_for_more(there: list[float], more: float) -> None:
    kits = kit(hose("a", 0.61), hose("b", 0.75), SecondStage(tag="second"), Gauge(tag="gauge"))
    mine = [owned(f"o{number}", length) for number, length in enumerate(there)]
    before = sum(shortage.pieces for shortage in allocate_from(gear(*mine), kits).shortages)
    after = sum(shortage.pieces for shortage in allocate_from(gear(*mine, owned("one more", more)), kits).shortages)
    assert before - 1 <= after <= before


def test_pieces_of_what_is_counted_and_what_is_not() -> None:
    assert pieces_of(OwnedSecondStage(tag="second")) == 1
    assert pieces_of(Plug(tag="plugs", thread=LP)) == 1
    assert pieces_of(Plug(tag="plugs", thread=LP, pieces=7)) == 7


@given(st.permutations(("any", "the X")), st.permutations(("X", "Y")))
def test_the_order_of_the_files_does_not_matter(wanted: list[str], owned: list[str]) -> None:
    """One second stage of any make and one of make X: both are there, whichever is looked for first."""
    makes = {"any": None, "the X": "X"}
    items = [SecondStage(tag=name, preset="plastic body", make=makes[name]) for name in wanted]
    mine = gear(*(OwnedSecondStage(tag=make, preset="plastic body", make=make) for make in owned))
    assert needs_of(resolve(kit(*items)), mine).shortages == ()


def test_what_is_to_buy_joins_its_port() -> None:
    """A hose with an LP 3/8 end that is to leave a half-inch port: the gear lacks one with an LP 1/2 end."""
    stage = FirstStage(tag="first", preset="brass, DIN, 1/2 port")
    second = SecondStage(tag="second", preset="plastic body")
    want = hose(from_="first LP1", to="second", from_end="LP 3/8", to_end="second stage 9/16")
    found = allocate_from(gear(), resolve(kit(stage, second, want)))
    [lacking] = [each.hose for each in found.shortages if each.hose is not None]
    assert (lacking.from_end, lacking.to_end) == ("LP 1/2", "second stage 9/16")
