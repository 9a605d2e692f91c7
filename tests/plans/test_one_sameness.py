"""One sameness: the gear file's needs, the changeover and fewest hoses say the same of which hose does for which."""

from itertools import permutations
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.gear import OUT_OF_USE, Gear, GearHeader, Owned, OwnedAdapter, OwnedGauge, OwnedHose
from kitbuilder.kit.items import Cylinder, FirstStage, Gauge, Header, Hose, Item, Kit
from kitbuilder.kit.resolved import NOTHING_LINKED, resolve
from kitbuilder.kitfile.read import read_written
from kitbuilder.plans.changeover import plan_changeover
from kitbuilder.plans.fewest import HoseSources, find_fewest
from kitbuilder.plans.gear import needs_of
from tests.assess.kits import kit_of

INCH, MILLIMETRE = 0.0254, 1e-3
"""As files are read: 0.13 in and 3.302 mm differ in their last bits."""
ENDS_M = 0.044
"""Both ends of a hose together: "two ends together take 3 to 6 cm", in the middle, as the catalogue has it."""
NIPPLE, SECOND = "standard nipple coupling", "second stage 9/16"
STAGE = FirstStage(tag="first", preset="brass, DIN, 4 LP 2 HP", on="cylinder")
PORTS = ("first LP1", "first LP2", "first LP3")


def kit(*items: Item, oxygen: float = 0.21) -> Assessment:
    cylinder = Cylinder(tag="cylinder", preset="steel 12 L 232 long", oxygen=oxygen)
    return assess(resolve(Kit(Header(format=1, name="kit", layout="single"), (cylinder, *items))))


def gear(*items: Owned) -> Gear:
    return Gear(GearHeader(format=1, holds="gear", name="gear"), items)


def hose(tag: str = "hose", length_m: float = 0.75, port: str = PORTS[0], **keys: object) -> Hose:
    """A hose of no usual route, so that fewest hoses knows no more of its run than that it is as long as it is."""
    given = {"role": "other LP", "body": "rubber", "to_end": NIPPLE} | keys
    return Hose(tag=tag, length_m=length_m, from_=port, **given)  # type: ignore[arg-type]


def owned(tag: str = "O", length_m: float = 0.75, **keys: object) -> OwnedHose:
    given = {"body": "rubber", "from_end": "LP 3/8", "to_end": NIPPLE} | keys
    return OwnedHose(tag=tag, length_m=length_m, **given)  # type: ignore[arg-type]


# ---- what each of the three says ----


def lacking_of_needs(wanted: Assessment, mine: Gear) -> int:
    return sum(
        shortage.pieces for shortage in needs_of(resolve(wanted.kit), mine).shortages if shortage.kind == Hose.kind
    )


def lacking_of_changeover(wanted: Assessment, mine: Gear) -> int:
    """From nothing but a cylinder."""
    plan = plan_changeover(kit(), wanted, mine)
    return sum(plan.match.target.parts[key].kind == Hose.kind for key in plan.match.bought)


def lacking_of_fewest(wanted: Assessment, mine: Gear) -> int:
    return len(find_fewest([("kit.toml", wanted)], HoseSources(mine, may_buy=False)).unserved_runs)


def say_all(wanted: Assessment, mine: Gear) -> tuple[int, int, int]:
    """How many hoses are lacking, by each of the three."""
    return lacking_of_needs(wanted, mine), lacking_of_changeover(wanted, mine), lacking_of_fewest(wanted, mine)


# ---- by hand ----

KIT_TEXT = """
format = 1
name = "B"
layout = "single"

[[cylinder]]
tag = "tank"
preset = "aluminium 11.1 L 207"

[[first_stage]]
tag = "first"
preset = "brass, DIN, 4 LP 2 HP"
on = "tank"

[[second_stage]]
tag = "primary"
preset = "plastic body"

[[hose]]
tag = "primary hose"
role = "primary"
from = "first LP1"
to = "primary"
body = "rubber"
length = "100 cm"
from_end = "LP 3/8"
to_end = "second stage 9/16"
"""
GEAR_TEXT = """
format = 1
holds = "gear"
name = "L"

[[first_stage]]
tag = "F"
preset = "brass, DIN, 4 LP 2 HP"

[[second_stage]]
tag = "S"
preset = "plastic body"

[[hose]]
tag = "O"
body = "rubber"
length = "94 cm"
measured = "hose only"
from_end = "LP 3/8"
to_end = "second stage 9/16"
"""


def read_gear(path: Path, text: str) -> Gear:
    path.write_text(text)
    found = read_written(path, GEAR_FILE).gear
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("more_of_kit", "more_of_gear", "lacking"),
    [
        ("", "", 0),  # 94 cm and both ends are 98.4 cm, and 1.6 cm is just what 100 cm may differ by
        ('bore = "0.13 in"', 'bore = "3.302 mm"', 0),
        ('bore = "5 mm"', 'bore = "6 mm"', 1),
        ("", 'bore = "6 mm"', 0),
        ('make = "grey"', 'make = "black"', 1),
    ],
)
def test_one_hose_written_in_two_ways(tmp_path: Path, more_of_kit: str, more_of_gear: str, lacking: int) -> None:
    """A kit of one hose, and a gear file with one: lengths measured in two ways, bores in two units."""
    mine = read_gear(tmp_path / "gear.toml", f"{GEAR_TEXT}{more_of_gear}\n")
    wanted = assess(resolve(kit_of(f"{KIT_TEXT}{more_of_kit}\n")))
    assert lacking_of_needs(wanted, mine) == lacking_of_changeover(wanted, mine) == lacking


def test_a_hose_of_the_gear_file_keeps_the_length_that_the_kit_gives_it(tmp_path: Path) -> None:
    """The kit gives it end to end, which needs no key; that the gear measured it without its ends changes nothing."""
    mine = read_gear(tmp_path / "gear.toml", GEAR_TEXT)
    linked = NOTHING_LINKED._replace(gear=mine)
    wanted = assess(resolve(kit_of(f'{KIT_TEXT}owned = "O"\n'), linked))
    assert say_all(wanted, mine) == (0, 0, 0)
    assert "unlike the gear file" not in {finding.rule for finding in wanted.findings}


@pytest.mark.parametrize(
    ("want", "have", "lacking"),
    [
        (hose(bore_m=0.13 * INCH), owned(bore_m=3.302 * MILLIMETRE), 0),
        (hose(bore_m=0.005), owned(bore_m=0.006), 1),
        (hose(make="grey"), owned(make="black"), 1),
        (hose(), owned(body="braided"), 1),
        (hose(), owned(to_end=SECOND), 1),
        (hose(), owned(from_end="LP 1/2"), 1),
        (hose(), owned(length_m=30 * INCH), 0),
        (hose(), owned(length_m=0.75 - ENDS_M, measured="hose only"), 0),
        (hose(), owned(length_m=0.80), 1),
        (hose(), owned(condition=OUT_OF_USE), 1),
        (hose(mass_kg=0.2), owned(mass_kg=0.3), 0),
        (hose(to_adapter="elbow 90"), owned(), 0),
    ],
)
def test_what_each_says_of_one_hose(want: Hose, have: OwnedHose, lacking: int) -> None:
    assert say_all(kit(STAGE, want), gear(have)) == (lacking,) * 3


@pytest.mark.parametrize(("oxygen", "is_clean", "lacking"), [(0.4, False, 0), (0.5, False, 1), (0.5, True, 0)])
def test_what_each_says_of_a_hose_for_rich_gas(oxygen: float, is_clean: bool, lacking: int) -> None:
    """More than 40 % oxygen: 29 CFR 1910.430 has gear for it cleaned."""
    wanted, mine = kit(STAGE, hose(), oxygen=oxygen), gear(owned(oxygen_clean=is_clean))
    assert say_all(wanted, mine) == (lacking,) * 3


@pytest.mark.parametrize(
    ("named", "condition", "lacking"), [("O", None, 0), ("O", OUT_OF_USE, 1), ("other", None, 0), ("gone", None, 1)]
)
def test_a_hose_that_is_wanted_by_its_tag(named: str, condition: str | None, lacking: int) -> None:
    """That one and no other; fewest hoses asks for the smallest set, whichever hose a kit names."""
    wanted, mine = kit(STAGE, hose(owned=named)), gear(owned(condition=condition), owned("other"))
    assert (lacking_of_needs(wanted, mine), lacking_of_changeover(wanted, mine)) == (lacking, lacking)


def test_adapters_and_gauges_are_counted_alike() -> None:
    """Two elbows wanted and one there; a gauge whose thread nobody gives does for another such."""
    hoses = (hose("a", to_adapter="elbow 90"), hose("b", port=PORTS[1], to_adapter="elbow 90"))
    wanted = kit(STAGE, *hoses, Gauge(tag="gauge", port="first HP1"))
    mine = gear(owned("A"), owned("B"), OwnedAdapter(tag="elbow", adapter="elbow 90"), OwnedGauge(tag="G"))
    shortages = {shortage.kind: shortage.pieces for shortage in needs_of(resolve(wanted.kit), mine).shortages}
    plan = plan_changeover(kit(), wanted, mine)
    bought = [plan.match.target.parts[key].kind for key in plan.match.bought]
    assert shortages == {"adapter": 1, "first_stage": 1}
    assert sorted(bought) == ["adapter", "first_stage"]


# ---- laws ----

LENGTHS_M = st.sampled_from((0.75, 30 * INCH, 0.762, 0.738, 0.80, 0.75 - ENDS_M))
MEASURED = st.sampled_from((None, "end to end", "hose only"))
BORES_M = st.sampled_from((None, 3.302 * MILLIMETRE, 0.13 * INCH, 0.005))
MAKES = st.sampled_from((None, "grey", "black"))
BODIES = st.sampled_from(("rubber", "rubber", "braided"))
TO_ENDS = st.sampled_from((NIPPLE, NIPPLE, SECOND))


@st.composite
def small_gear_files(draw: st.DrawFn) -> tuple[float, tuple[Hose, ...], tuple[OwnedHose, ...]]:
    """The oxygen in a cylinder, one to three hoses on it, and up to three in a gear file, much alike."""

    def drawn() -> dict[str, object]:
        keys = {"measured": MEASURED, "bore_m": BORES_M, "make": MAKES, "body": BODIES, "to_end": TO_ENDS}
        return {"length_m": draw(LENGTHS_M)} | {name: draw(values) for name, values in keys.items()}

    hoses = tuple(hose(f"h{number}", port=PORTS[number], **drawn()) for number in range(draw(st.integers(1, 3))))  # type: ignore[arg-type]
    shelf = tuple(
        owned(f"o{number}", oxygen_clean=draw(st.booleans()), **drawn())  # type: ignore[arg-type]
        for number in range(draw(st.integers(0, 3)))
    )
    return draw(st.sampled_from((0.21, 0.5))), hoses, shelf


def does(have: OwnedHose, want: Hose, *, is_rich: bool) -> bool:
    """Whether a hose does, as the reference page says it: ends, body, stock length; bore and make where both say."""
    lengths = [each.length_m + (ENDS_M if each.measured == "hose only" else 0.0) for each in (have, want)]
    return (
        (have.to_end, have.body) == (want.to_end, want.body)
        and abs(lengths[0] - lengths[1]) <= 0.016 * max(lengths) + 1e-7
        and (have.bore_m is None or want.bore_m is None or abs(have.bore_m - want.bore_m) < 1e-4)
        and (have.make is None or want.make is None or have.make == want.make)
        and (not is_rich or have.oxygen_clean is True)
    )


def fewest_lacking(hoses: tuple[Hose, ...], shelf: tuple[OwnedHose, ...], *, is_rich: bool) -> int:
    """The fewest hoses without one of the gear file, of all ways to hand these out."""
    places = [*shelf, *[None] * len(hoses)]
    return min(
        sum(have is None or not does(have, want, is_rich=is_rich) for want, have in zip(hoses, way, strict=False))
        for way in permutations(places, len(hoses))
    )


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(small_gear_files())
@example((0.21, (hose(length_m=1.0),), (owned(length_m=0.94, measured="hose only"),)))
@example((0.21, (hose(length_m=0.6, measured="hose only"),), (owned(length_m=0.6105, measured="hose only"),)))
def test_all_three_agree(drawn: tuple[float, tuple[Hose, ...], tuple[OwnedHose, ...]]) -> None:
    """Source: every way to hand out the hoses of a small gear file, tried."""
    oxygen, hoses, shelf = drawn
    wanted, mine = kit(STAGE, *hoses, oxygen=oxygen), gear(*shelf)
    assert say_all(wanted, mine) == (fewest_lacking(hoses, shelf, is_rich=oxygen > 0.4),) * 3
