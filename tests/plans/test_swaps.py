"""Each swap is the difference of two assessments, and what it lists makes the file it promises."""

import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.item_weight import mass_alone
from kitbuilder.assess.fit.verdict import FITS
from kitbuilder.kit.file_kinds import GEAR_FILE
from kitbuilder.kit.items import Cylinder
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.item_edits import apply_edits
from kitbuilder.kitfile.read import read
from kitbuilder.plans.swaps.options import BODY, BODY_AND_LENGTH, INLET, LENGTH, OWNED, RENTED, THICKNESS
from kitbuilder.plans.swaps.swaps import Swap, Swaps, plan_swaps
from kitbuilder.plans.swaps.trial import plan_swaps_there
from tests.assess.kits import CONFIGS, WHOLE, changed, with_keys
from tests.laws import is_thorough

TRIED = WHOLE if is_thorough() else ("warm-single", "twinset")
STOCK = """\
format = 1
holds = "stock"
name = "shop"
currency = "EUR"

[[hose]]
body = "braided"
length = "75 cm"
price = 39.90
[[hose]]
body = "polyurethane"
length = "90 cm"
"""
CHECK = """
[[float_check]]
tag      = "ladder"
kit      = "twinset.toml"
seen     = "neutral"
lead     = "2 kg"
pressure = "55 bar"
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for path in CONFIGS.glob("*.toml"):
        shutil.copy(path, tmp_path)
    return tmp_path


def kit_at(path: Path) -> ResolvedKit:
    kit = read(path).resolved
    assert kit is not None
    return kit


@cache
def plan_of(name: str) -> Swaps:
    """The swaps of a kit that comes with the program."""
    return plan_swaps(kit_at(CONFIGS / f"{name}.toml"))


def swap_named(plan: Swaps, kind: str, *tags: str) -> Swap:
    return next(swap for swap in plan.swaps if swap.option.kind == kind and swap.tags == tags)


def bag_kg(found: Assessment, away: frozenset[str] = frozenset()) -> float:
    """The sum over the items that travel, a cylinder without its gas."""
    masses = [
        mass_alone(item) if isinstance(item, Cylinder) else mass
        for item, mass in zip(found.kit.items, found.masses, strict=True)
        if not item.rented and item.tag not in away
    ]
    return sum(mass.value for mass in masses if mass)


def lead_kg(found: Assessment) -> float:
    assert found.balance is not None
    return found.balance.lead.value


def promised(plan: Swaps) -> Iterator[tuple[str, tuple, float, float | None]]:
    for swap in plan.swaps:
        lead = swap.effect.lead.value if swap.effect.lead else None
        yield f"{swap.option.kind} {swap.tags} {swap.option.new}", swap.option.edits, swap.effect.saved.value, lead
    for number, found in enumerate(plan.sets):
        lead = found.effect.lead.value if found.effect.lead else None
        yield f"set {number}", found.edits, found.effect.saved.value, lead


@pytest.mark.parametrize("name", TRIED)
def test_the_file_of_each_swap_and_set_has_the_figures_that_were_promised(name: str, folder: Path) -> None:
    """Written, saved and read again; and one undo gives back every byte."""
    path = folder / f"{name}.toml"
    before = path.read_bytes()
    plan = plan_of(name)
    first = assess(kit_at(path))
    document = Document(path)
    assert plan.sets
    tried = [*promised(plan)]
    for what, edits, saved_kg, more_lead_kg in tried if is_thorough() or len(tried) < 25 else tried[::2]:
        apply_edits(document, edits)
        after = assess(document.resolved_kit())
        assert bag_kg(first) - bag_kg(after) == pytest.approx(saved_kg, abs=1e-9), what
        assert lead_kg(after) - lead_kg(first) == pytest.approx(more_lead_kg, abs=1e-9), what
        assert document.undo()
        assert document.text.encode() == before, what
        assert not document.can_undo, what


def test_a_saved_swap_reads_as_promised(folder: Path) -> None:
    path = folder / "twinset.toml"
    plan = plan_of("twinset")
    document = Document(path)
    apply_edits(document, plan.sets[0].edits)
    document.save()
    after = assess(kit_at(path))
    assert plan.bag.value - bag_kg(after) == pytest.approx(plan.sets[0].effect.saved.value, abs=1e-9)
    assert [finding[:3] for finding in after.findings] == [
        finding[:3] for finding in plan.sets[0].effect.after.findings
    ]


def test_a_lighter_plate_is_the_difference_of_two_files(folder: Path) -> None:
    """Written by hand: steel of 3 mm weighed 2.61 kg, aluminium 0.8 to 1.2 kg, whose middle is 1.0 kg."""
    path = folder / "cold-single.toml"
    swap = next(each for each in plan_swaps(kit_at(path)).swaps if each.option.new == "back-plate, aluminium")
    first = assess(kit_at(path))
    text = path.read_text(encoding="utf-8")
    [old] = [block for block in text.split("\n\n") if 'tag    = "plate"' in block or 'tag = "plate"' in block]
    [mass] = [line for line in old.splitlines() if line.startswith("mass")]
    new = "\n".join(line for line in old.splitlines() if line != mass).replace("steel 3 mm", "aluminium")
    path.write_text(changed(text, (old, new)), encoding="utf-8")
    after = assess(kit_at(path))
    assert swap.effect.saved.value == pytest.approx(bag_kg(first) - bag_kg(after))
    assert swap.effect.lead is not None
    assert swap.effect.lead.value == pytest.approx(lead_kg(after) - lead_kg(first))
    assert swap.effect.saved.value == pytest.approx(float(mass.split('"')[1].split()[0]) - 1.0)


def test_a_check_made_in_the_kit_still_counts_for_its_swaps(folder: Path) -> None:
    """The lead of lighter fins: what they float more at the stop, corrected by what the check taught of the body."""
    diver = folder / "diver.toml"
    path = folder / "twinset.toml"
    without = plan_of("twinset")
    diver.write_text(diver.read_text(encoding="utf-8") + CHECK, encoding="utf-8")
    plan = plan_swaps(kit_at(path))
    checks = [plan.before.balance.checks, plan.swaps[0].effect.after.balance.checks]
    assert [[seen.is_counted for seen in found] for found in checks] == [[True], [True]]
    # Masses have nothing to do with the check; of the lead, only what is known of the same parts may move.
    assert [swap.effect.saved.value for swap in plan.swaps] == [swap.effect.saved.value for swap in without.swaps]
    rented = swap_named(plan, RENTED, "upper pockets")
    assert rented.effect.lead.value == pytest.approx(0.0, abs=1e-9)
    assert not rented.effect.new


# ---- which swaps there are ----


def test_nothing_is_saved_with_what_does_not_travel(folder: Path) -> None:
    kit = kit_at(folder / "warm-single.toml")
    away = frozenset({"hire cylinder", "belt", "fins"})
    plan = plan_swaps(kit, away)
    assert not any(away & {*swap.tags} for swap in plan.swaps)
    assert plan.bag.value == pytest.approx(bag_kg(plan.before, away))


def test_a_trip_says_what_does_not_travel(folder: Path) -> None:
    trip = read(folder / "trip-wreck.toml").contents
    plan = plan_swaps_there(trip, trip.kits[0])
    assert plan.away >= {"right cylinder", "left cylinder", "manifold", "bands"}
    assert RENTED not in {swap.option.kind for swap in plan.swaps if {*swap.tags} & plan.away}
    assert plan.before.kit.header.water == "ocean"


def test_on_a_trip_the_lead_is_that_with_what_is_rented_there(folder: Path) -> None:
    """The kit names no steel cylinder, and needs another lead with the one that the trip rents; fins stay at home."""
    there = folder / "trip-reef.toml"
    text = there.read_text(encoding="utf-8").replace("aluminium 11.1 L 207", "steel 8.5 L 232")
    there.write_text(f'{text}\n[[leave]]\nitem = "fins"\n', encoding="utf-8")
    trip = read(there).contents
    plan = plan_swaps_there(trip, trip.kits[0])
    path = folder / "warm-single.toml"
    own = path.read_text(encoding="utf-8")
    fins = '[[other]]\ntag    = "fins"\npreset = "fins, light travel"\n'
    kit = changed(own, (fins, ""), ('"ocean"', '"salty sea"'), ('"aluminium 11.1 L 207"', '"steel 8.5 L 232"'))
    path.write_text(kit, encoding="utf-8")
    balance = assess(kit_at(path)).balance
    assert plan.before.balance.lead.value == pytest.approx(balance.lead.value)
    numbers = {item.tag: number for number, item in enumerate(plan.before.kit.items)}
    assert all(numbers[tag] in swap.option.items for swap in plan.swaps for tag in swap.tags)
    assert "fins" not in {tag for swap in plan.swaps for tag in swap.tags}


def test_titanium_is_offered_where_no_gas_rich_in_oxygen_reaches_it(folder: Path) -> None:
    path = folder / "warm-single.toml"
    air = path.read_text(encoding="utf-8")
    rich = with_keys(air, "hire cylinder", gas="EAN50")
    offered = []
    for text in (air, rich):
        path.write_text(text, encoding="utf-8")
        swaps = plan_swaps(kit_at(path)).swaps
        offered.append({swap.option.gives_up for swap in swaps if swap.option.new.startswith("titanium")})
    assert offered == [{"gas rich in oxygen"}, set()]


def test_what_saves_most_comes_first_and_hoses_come_last() -> None:
    plan = plan_of("twinset")
    saved = [swap.effect.saved.value for swap in plan.swaps]
    assert saved == sorted(saved, reverse=True)
    assert plan.hoses is not None
    ahead = {swap.tags for swap in plan.ahead_of_hoses}
    assert {("plate",), ("fins",)} <= ahead
    assert all(swap.effect.saved.value > plan.hoses.effect.saved.value for swap in plan.ahead_of_hoses)


def test_what_gives_up_warmth_is_in_no_set() -> None:
    for name in TRIED:
        plan = plan_of(name)
        kinds = {swap.option.kind for found in plan.sets for swap in found.swaps}
        assert THICKNESS not in kinds
        assert not any(swap.effect.is_worse for found in plan.sets for swap in found.swaps)


def test_a_clamp_becomes_a_thread_with_the_same_ports(folder: Path) -> None:
    path = folder / "warm-single.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(with_keys(text, "first", preset="brass, yoke, 4 LP 2 HP", mass=None), encoding="utf-8")
    found = [swap for swap in plan_swaps(kit_at(path)).swaps if swap.option.kind == INLET]
    assert {swap.option.new for swap in found} == {"brass, DIN, 4 LP 2 HP", "titanium, DIN, 4 LP 2 HP"}
    assert all("DIN" in swap.option.gives_up for swap in found)


def test_a_hose_that_is_too_long_may_be_shorter_where_the_shorter_one_fits(folder: Path) -> None:
    """Of 100 cm on a run of 76 cm; 80 cm are sold and leave 4 cm, more than a string may be off."""
    path = folder / "warm-single.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(with_keys(text, "octopus hose", length="100 cm", run="76 cm", rest_run="76 cm"), encoding="utf-8")
    found = [swap for swap in plan_swaps(kit_at(path)).swaps if swap.tags == ("octopus hose",)]
    lengths = {(swap.option.kind, swap.option.new): swap.option.length_m for swap in found}
    assert lengths == {
        (BODY, "braided"): 1.0,
        (BODY, "polyurethane"): 1.0,
        (LENGTH, "rubber"): 0.80,
        (BODY_AND_LENGTH, "braided"): 0.80,
        (BODY_AND_LENGTH, "polyurethane"): 0.80,
    }
    assert all(swap.effect.hoses[0].verdict[1].outcome == FITS for swap in found if swap.option.kind != BODY)


def test_thinner_foam_is_written_in_millimetres(folder: Path) -> None:
    """A second suit of 5 mm in the place of the one that was weighed."""
    path = folder / "warm-single.toml"
    path.write_text(
        with_keys(path.read_text(encoding="utf-8"), "suit", thickness="7 mm", mass="4 kg"), encoding="utf-8"
    )
    swap = swap_named(plan_swaps(kit_at(path)), THICKNESS, "suit")
    document = Document(path)
    apply_edits(document, swap.option.edits)
    suit = next(number for number, item in enumerate(document.reading.kit.items) if item.tag == "suit")
    assert document.raw_value(suit, "thickness") == "5 mm"
    assert not document.has(suit, "mass")


def test_a_spare_is_in_the_bag_and_is_not_swapped(folder: Path) -> None:
    """Fins of 1.65 kg in the mean, from 1.3 to 2.0, carried as a spare; a lighter pair would do no job."""
    path = folder / "warm-single.toml"
    before = plan_swaps(kit_at(path))
    text = path.read_text(encoding="utf-8")
    spare = '\n[[other]]\ntag = "more fins"\npreset = "fins, light travel"\nin_spares = true\n'
    path.write_text(text + spare, encoding="utf-8")
    plan = plan_swaps(kit_at(path))
    assert plan.bag.value - before.bag.value == pytest.approx(1.65)
    assert not any("more fins" in swap.tags for swap in plan.swaps)


# ---- money ----


def test_prices_come_from_the_stock_alone(folder: Path) -> None:
    """Of two hoses in stock, the one with a price has it; nothing else has one."""
    (folder / "shop.toml").write_text(STOCK, encoding="utf-8")
    path = folder / "warm-single.toml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("[[first_stage]]", 'stock = "shop.toml"\n\n[[first_stage]]', 1), encoding="utf-8")
    plan = plan_swaps(kit_at(path))
    prices = {swap.tags: swap.option.price for swap in plan.swaps if swap.option.kind == BODY}
    assert prices == {("primary hose",): 39.90, ("octopus hose",): None}
    assert plan.currency == "EUR"
    assert {swap.option.price for swap in plan.swaps if swap.option.kind != BODY} == {None}


def test_what_is_owned_costs_nothing_and_serves_once() -> None:
    plan = plan_of("twinset")
    owned = [swap for swap in plan.swaps if swap.option.kind == OWNED]
    assert {swap.option.price for swap in owned} == {0.0}
    for found in plan.sets:
        tags = [swap.option.owned for swap in found.swaps if swap.option.owned]
        assert len({*tags}) == len(tags)


def test_another_gear_file_is_named_by_the_edits(folder: Path) -> None:
    """A kit without gear takes a hose of the one that is given; the file then names both."""
    path = folder / "warm-single.toml"
    gear = read(folder / "gear.toml", GEAR_FILE).gear
    plan = plan_swaps(kit_at(path), gear=("gear.toml", gear))
    swap = next(each for each in plan.swaps if each.option.kind == OWNED)
    document = Document(path)
    apply_edits(document, swap.option.edits)
    assert document.raw_value(None, "gear") == "gear.toml"
    after = assess(document.resolved_kit())
    assert plan.bag.value - bag_kg(after) == pytest.approx(swap.effect.saved.value, abs=1e-9)
