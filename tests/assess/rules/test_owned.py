"""Items of the gear file in a kit: there, once, in date, clean, and what the kit says they are."""

from dataclasses import replace
from datetime import date

import pytest

from kitbuilder.assess.findings import Finding, Unchecked
from kitbuilder.kit.gear import (
    OUT_OF_USE,
    Gear,
    GearHeader,
    Owned,
    OwnedCylinder,
    OwnedFirstStage,
    OwnedGauge,
    OwnedHose,
    OwnedLead,
    OwnedSecondStage,
    OwnedWing,
    Plug,
)
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence
from tests.assess.kits import CASES_FOLDER, assessed, changed, config, lone_hose, with_keys
from tests.assess.rules.cases import CAUTION, NOTICE, WARNING, Case, check, of_item

FILE, NOWHERE, TWICE, UNLIKE = "gear file", "owned nowhere", "owned twice", "unlike the gear file"
LOST_GAS = "gas not known"
AIRED = "clean and used with air"
BROKEN, DIRTY, DUE, MORE = "out of use", "not clean for oxygen", "upkeep due", "more than the gear file has"

TURRET = "brass, DIN, turret 5 LP 2 HP"


def beside(*items: Owned, region: str | None = None) -> LinkedFiles:
    """A gear file with these items beside the kit."""
    return NOTHING_LINKED._replace(gear=Gear(GearHeader(format=1, holds="gear", name="gear", region=region), items))


def hose(tag: str = "B75", body: str = "rubber", length_m: float = 0.75, **keys: object) -> OwnedHose:
    ends = {"from_end": "LP 3/8", "to_end": "second stage 9/16"}
    return OwnedHose(tag=tag, body=body, length_m=length_m, **(ends | keys))  # type: ignore[arg-type]


def kit(day: str = "", **keys: str | bool) -> str:
    """One rubber hose of 75 cm that is "B75" of the gear file, in a kit that names a gear file."""
    given = f'layout = "single"\ngear = "gear.toml"{f"{chr(10)}day = {chr(34)}{day}{chr(34)}" if day else ""}'
    return changed(lone_hose(owned="B75", **keys), ('layout = "single"', given))


def rich(oxygen: str, *, on: bool = True) -> str:
    """A cylinder with so much oxygen, a first stage on it, a hose and a second stage, all owned."""
    owned = {"tank": "tank", "first": "grey", "second": "metal"} if on else {}
    items = {
        "cylinder": ("tank", f'preset = "steel 12 L 232 long"\noxygen = "{oxygen}"'),
        "first_stage": ("first", f'preset = "{TURRET}"'),
        "second_stage": ("second", 'preset = "metal body"'),
    }
    rows = [
        f'[[{table}]]\ntag = "{tag}"\n{keys}\n' + (f'owned = "{owned[tag]}"\n' if tag in owned else "")
        for table, (tag, keys) in items.items()
    ]
    return "\n".join([kit(from_="first LP1", to="second"), *rows])


def set_of(*, clean: str = "") -> LinkedFiles:
    """The items of `rich`, those of the tags given clean for oxygen."""
    keys = {tag: {"oxygen_clean": True} for tag in clean.split()}
    return beside(
        hose(**keys.get("B75", {})),
        OwnedCylinder(tag="tank", preset="steel 12 L 232 long", **keys.get("tank", {})),
        OwnedFirstStage(tag="grey", preset=TURRET, **keys.get("grey", {})),
        OwnedSecondStage(tag="metal", preset="metal body", **keys.get("metal", {})),
    )


ALL = "B75 tank grey metal"
TWO = kit() + '\n[[hose]]\ntag = "other"\nrole = "alternate"\nbody = "rubber"\nlength = "75 cm"\nowned = "B75"\n'
LEAD = kit() + '\n[[lead]]\ntag = "belt"\nmass = "1 kg"\npieces = 4\nowned = "lead"\n'
LOST = NOTHING_LINKED._replace(gear_problems=("gear.toml is not in this folder.",))
THE_HOSE = beside(hose())
OLD_TANK = OwnedCylinder(tag="tank", inspected=date(2026, 12, 1), tested=date(2021, 11, 1))

CASES = [
    # --- the file ---
    Case(
        FILE,
        CAUTION,
        None,
        "gear",
        kit(),
        kit(),
        says=("the gear file cannot be used: gear.toml is not in this folder.",),
        do=("Fix the gear file",),
        beside_wrong=LOST,
        beside_right=THE_HOSE,
    ),
    Case(
        FILE,
        NOTICE,
        None,
        "gear",
        lone_hose(owned="B75"),
        lone_hose(),
        says=("items name what is owned, but the kit names no gear file",),
        do=("Name the gear file",),
    ),
    Case(
        UNLIKE,
        CAUTION,
        "hose",
        "rented",
        kit(rented=True),
        kit(),
        says=('the item is marked as rented, and also as "B75" of the gear file',),
        do=("Remove `owned` or `rented`",),
        beside_wrong=THE_HOSE,
        beside_right=THE_HOSE,
    ),
    # --- there, and once ---
    Case(
        NOWHERE,
        CAUTION,
        "hose",
        "owned",
        kit(),
        kit(),
        says=('the gear file has no hose "B75"',),
        do=('"B61", "B90"',),
        beside_wrong=beside(hose("B61"), hose("B90"), OwnedGauge(tag="gauge")),
        beside_right=THE_HOSE,
    ),
    Case(
        NOWHERE,
        CAUTION,
        "hose",
        "owned",
        kit(),
        kit(),
        says=('"B75" is a gauge in the gear file, not a hose',),
        do=("none",),
        beside_wrong=beside(OwnedGauge(tag="B75")),
        beside_right=THE_HOSE,
    ),
    Case(
        TWICE,
        WARNING,
        "other",
        "owned",
        TWO,
        with_keys(TWO, "other", owned="B76"),
        says=('"B75" of the gear file is already used as "hose"',),
        do=("Name another item",),
        beside_wrong=beside(hose(), hose("B76")),
        beside_right=beside(hose(), hose("B76")),
    ),
    Case(
        TWICE,
        WARNING,
        "belt",
        "owned",
        LEAD,
        LEAD,
        says=('the kit uses 4 pieces of "lead", but your gear has only 3',),
        do=("Or remove `owned`, and buy one more",),
        beside_wrong=beside(hose(), OwnedLead(tag="lead", mass_kg=1.0, pieces=3)),
        beside_right=beside(hose(), OwnedLead(tag="lead", mass_kg=1.0, pieces=4)),
    ),
    # --- the same item ---
    Case(
        UNLIKE,
        CAUTION,
        "hose",
        "body",
        kit(),
        kit(),
        says=("body rubber in the kit, braided in the gear file; length 75.0 cm in the kit, 90.0 cm in the gear file",),
        do=("Correct one of the files, or name the right item as `owned`",),
        beside_wrong=beside(hose(body="braided", length_m=0.9)),
        beside_right=beside(hose(length_m=30 * 0.0254)),  # 30 in is how 75 cm is sold in inches
    ),
    # --- in use, clean, in date ---
    Case(
        BROKEN,
        WARNING,
        "hose",
        "owned",
        kit(),
        kit(),
        says=('"B75" is out of use: a bulge',),
        do=("Use another item",),
        beside_wrong=beside(hose(condition=OUT_OF_USE, notes="a bulge")),
        beside_right=beside(hose(condition="to be watched")),
    ),
    Case(
        DIRTY,
        WARNING,
        "first",
        "owned",
        rich("50 %"),
        rich("50 %"),
        says=(
            "gas with 50 % oxygen reaches the item, and the gear file does not say that it is oxygen-clean",
            "gas with 50 % oxygen reaches the item",
        ),
        do=("Or have this one cleaned",),
        beside_wrong=set_of(),
        beside_right=set_of(clean=ALL),
    ),
    Case(
        DIRTY,
        NOTICE,
        None,
        "gear",
        rich("32 %"),
        rich("32 %"),
        says=("gas with up to 32 % oxygen reaches items that are not known to be oxygen-clean", "hose, tank, second"),
        do=("Ask the manufacturer or the filling station which limit counts",),
        beside_wrong=set_of(clean="grey"),
        beside_right=set_of(clean=ALL),
    ),
    Case(
        DIRTY,
        None,
        "tank",
        "owned",
        rich("100 %", on=False),
        rich("21 %", on=False),
        says=(
            "whether items are clean that gas with up to 100 % oxygen reaches",
            "tank, first, second",
            "more than 23.5 % or more than 40 % (29 CFR 1910.430",
        ),
        beside_wrong=set_of(clean=ALL),
        beside_right=set_of(clean=ALL),
    ),
    Case(
        LOST_GAS,
        None,
        "first",
        "on",
        changed(rich("50 %"), ('tag = "tank"', 'tag = "tank"\ncarried = "stage"')),
        rich("50 %"),
        says=(
            "whether the first stage, and what it feeds, has to be clean for gas with up to 50 % oxygen",
            "it is not known on which cylinder it sits",
        ),
        beside_wrong=set_of(clean=ALL),
        beside_right=set_of(clean=ALL),
    ),
    Case(
        AIRED,
        NOTICE,
        None,
        "gear",
        rich("21 %"),
        rich("32 %"),
        says=("gas of 21 % oxygen: hose, first",),
        do=("If it is not, write `oxygen_clean = false` until the items are cleaned again",),
        beside_wrong=set_of(clean="grey B75"),
        beside_right=set_of(clean="grey B75"),
    ),
    Case(
        DUE,
        CAUTION,
        "hose",
        "owned",
        kit(day="2026-05-01"),
        kit(day="2026-04-30"),  # five years less a day
        says=("replacement of a rubber hose has been due since 1 May 2026", "by common practice"),
        do=("Replace the hose",),
        beside_wrong=beside(hose(made=date(2021, 5, 1))),
        beside_right=beside(hose(made=date(2021, 5, 1))),
    ),
    Case(
        DUE,
        WARNING,
        "tank",
        "owned",
        changed(rich("21 %"), ('gear = "gear.toml"', 'gear = "gear.toml"\nday = "2027-01-15"')),
        rich("21 %"),  # without a day nothing is due
        says=("pressure test by rule, US has been due since 1 November 2026", "by rule (United States)"),
        do=("requalified",),
        beside_wrong=beside(OLD_TANK, region="United States"),
        beside_right=beside(OLD_TANK, region="United States"),
    ),
    Case(
        DUE,
        None,
        "hose",
        "",
        kit(day="2026-05-01"),
        kit(day="2026-05-01"),
        says=('the gear file does not say when "B75" was made',),
        beside_wrong=THE_HOSE,
        beside_right=beside(hose(made=date(2026, 1, 1))),
    ),
    # --- enough ---
    Case(
        MORE,
        NOTICE,
        None,
        "gear",
        TWO,
        TWO,
        says=("1 hose",),
        do=("Buy what is missing, or change the kit",),
        beside_wrong=THE_HOSE,
        beside_right=beside(hose(), hose("B76")),
    ),
]


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_rule_speaks_and_is_silent(case: Case) -> None:
    """Each in the kit made for it."""
    check(case)


RULES_OF_GEARS = (FILE, NOWHERE, TWICE, UNLIKE, BROKEN, DIRTY, AIRED, DUE, MORE)


def test_without_a_gear_file_nothing_is_said() -> None:
    """Not of a kit that has nothing to do with one, nor of one looked at by itself."""
    for text in (config("warm-single"), kit(day="2027-01-15"), rich("50 %")):
        given = {finding.rule for finding in assessed(text).findings}
        assert not given & set(RULES_OF_GEARS)


@pytest.mark.parametrize(
    ("oxygen", "signal"),
    # 29 CFR 1910.430 asks for clean gear above 40 %, others from 23.5 % on: both ends are still the milder side.
    [("23.5 %", None), ("23.6 %", NOTICE), ("40 %", NOTICE), ("40.1 %", WARNING), ("100 %", WARNING)],
)
def test_how_much_oxygen_asks_for_clean_gear(oxygen: str, signal: object) -> None:
    found = [finding for finding in assessed(rich(oxygen), set_of()).findings if finding.rule == DIRTY]
    assert {finding.signal for finding in found} == ({signal} if signal else set())


def test_everything_that_the_gas_reaches_has_to_be_clean() -> None:
    """Cylinder, first stage, hose and second stage; items that are in no gear file are not checked."""
    found = assessed(rich("50 %"), set_of())
    for tag in ("tank", "first", "hose", "second"):
        assert len(of_item(found, DIRTY, tag)) == 1
    lonely = assessed(rich("50 %", on=False), set_of())
    (unknown,) = of_item(lonely, DIRTY, "tank")
    assert isinstance(unknown, Unchecked)
    assert "tank, first, second" in sentence(unknown.because, System.METRIC)
    (dirty,) = of_item(lonely, DIRTY, "hose")
    assert isinstance(dirty, Finding)


def test_unowned_parts_of_a_user_with_100_per_cent_oxygen_are_not_silent() -> None:
    """His second stage regulator for oxygen is in no gear file; nothing was said of it."""
    text = (CASES_FOLDER / "technical" / "two.toml").read_text("utf-8")
    (missing,) = of_item(assessed(text, beside()), DIRTY, "deco")
    assert isinstance(missing, Unchecked)
    said = sentence(missing.because, System.METRIC)
    assert all(tag in said for tag in ("oxy first", "oxy hose", "oxy second", "oxy gauge"))


def test_gas_of_a_cylinder_with_no_first_stage_reaches_only_itself() -> None:
    text = changed(rich("50 %"), ("[[first_stage]]", "[[other]]"), (f'preset = "{TURRET}"\n', ""))
    found = assessed(text, set_of())
    assert len(of_item(found, DIRTY, "tank")) == 1
    assert not of_item(found, DIRTY, "hose")


def test_both_limits_are_reported_with_their_origin() -> None:
    (finding,) = of_item(assessed(rich("50 %"), set_of(clean="B75 tank metal")), DIRTY, "first")
    assert all(word in "".join(map(str, finding.why)) for word in ("23.5 %", "40 %", "29 CFR 1910.430"))


def test_the_worst_of_one_item_due_twice() -> None:
    """A regulator that nobody serviced for years, and that was also cleaned too long ago."""
    old = OwnedFirstStage(
        tag="grey", preset=TURRET, serviced=date(2020, 1, 1), oxygen_clean=True, cleaned=date(2026, 1, 1)
    )
    text = changed(rich("21 %"), ('gear = "gear.toml"', 'gear = "gear.toml"\nday = "2027-01-15"'))
    found = of_item(assessed(text, beside(old)), DUE, "first")
    assert [finding.signal for finding in found] == [WARNING, CAUTION]


def test_a_pressure_test_without_a_region_is_not_silent() -> None:
    """The cylinder of the kit was tested long ago; whether that is too long, a region would say."""
    text = changed(rich("21 %"), ('gear = "gear.toml"', 'gear = "gear.toml"\nday = "2027-01-15"'))
    (missing,) = of_item(assessed(text, beside(replace(OLD_TANK, inspected=date(2027, 1, 1)))), DUE, "tank")
    assert isinstance(missing, Unchecked)
    assert "it was last tested on 1 November 2021, and rules differ" in sentence(missing.because, System.METRIC)


def test_without_a_day_it_is_said_once_that_nothing_is_held_against_its_date() -> None:
    """The cylinder of 2021 is overdue under any rule, and the kit says nothing of the day of the dive."""
    found = assessed(rich("21 %"), beside(OLD_TANK))
    (missing,) = of_item(found, DUE, None)
    assert isinstance(missing, Unchecked)
    assert missing.key == "day"
    assert "the day of the dive is not given" in sentence(missing.because, System.METRIC)
    assert not of_item(found, DUE, "tank")
    assert not of_item(assessed(rich("21 %"), beside()), DUE, None), "nothing of it is owned"


def test_what_is_owned_and_alike_is_not_unlike() -> None:
    """What only one of the two files tells is no difference; nor is a mass in other units."""
    text = with_keys(kit(), "hose", mass="0.5 lb", make="grey")
    assert not of_item(assessed(text, beside(hose(mass_kg=0.5 * 0.45359237))), UNLIKE, "hose")
    assert of_item(assessed(text, beside(hose(make="black"))), UNLIKE, "hose")


def test_lengths_that_differ_by_the_ends_say_which_is_without_them() -> None:
    (finding,) = of_item(assessed(kit(), beside(hose(measured="hose only"))), UNLIKE, "hose")
    said = sentence(finding.what, System.METRIC)
    assert said.endswith("length 75.0 cm in the kit, 75.0 cm without its ends in the gear file.")


def test_a_cylinder_is_as_long_in_both_files() -> None:
    text = kit() + '\n[[cylinder]]\ntag = "tank"\npreset = "steel 12 L 232 long"\nowned = "twelve"\nlength = "69 cm"\n'
    twelve = OwnedCylinder(tag="twelve", preset="steel 12 L 232 long", length_m=0.65)
    assert of_item(assessed(text, beside(hose(), twelve)), UNLIKE, "tank")
    assert not of_item(assessed(text, beside(hose(), replace(twelve, length_m=0.69))), UNLIKE, "tank")


def test_every_tag_of_a_large_gear_file_is_not_given() -> None:
    many = [hose(f"H{number}") for number in range(9)]
    (finding,) = of_item(assessed(kit(), beside(*many)), NOWHERE, "hose")
    assert "and 3 more" in "".join(map(str, finding.do))


def test_a_wing_takes_its_lift_from_the_gear_file() -> None:
    """What the kit does not say is the gear file's: the filled kit is what is assessed."""
    text = kit() + '\n[[wing]]\ntag = "wing"\npreset = "twinset wing"\nowned = "twin wing"\n'
    found = assessed(text, beside(hose(), OwnedWing(tag="twin wing", lift_kgf=23.0)))
    assert found.kit.items[1] == replace(found.kit.items[1], lift_kgf=23.0)


def test_plugs_count_by_thread() -> None:
    """Two LP ports and one HP port are plugged, and one LP plug is there."""
    text = with_keys(rich("21 %"), "first", plugged=["LP2", "LP3", "HP1"])
    around = set_of()
    assert around.gear is not None
    have = Gear(around.gear.header, (*around.gear.items, Plug(tag="plugs", thread="3/8-24 UNF")))
    (finding,) = of_item(assessed(text, around._replace(gear=have)), MORE, None)
    assert "2 plugs" in "".join(map(str, finding.what))
