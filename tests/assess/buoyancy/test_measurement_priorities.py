"""What to weigh or check next: whoever does it, and finds what was expected, gets the spread that was promised."""

from dataclasses import replace

import pytest

from kitbuilder.assess.assessment import assess
from kitbuilder.assess.body import assess_body
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.assess.buoyancy.measurement_priorities import MOST_STEPS, Priority
from kitbuilder.kit.items import Cylinder, Hose, Item, Kit, Suit
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles, resolve
from tests.assess.kits import PLAIN, WHOLE, balance_of, beside, config, float_check, kit_of, with_header

FRESH_KG_M3 = 999.0
"""Tap water in a bucket, 15 to 20 °C."""
KITS = {name: kit_of(config(name)) for name in WHOLE} | {"plain": kit_of(PLAIN)}
ELSEWHERE = replace(KITS["twinset"], header=replace(KITS["twinset"].header, name="another"))
EXPECTED_KG = balance_of(ELSEWHERE).lead.value
"""A check that shows what was expected moves nothing, nor does a weighing after it."""
CHECKED = beside(float_check(kit="other.toml", lead_kg=EXPECTED_KG), kits=(("other.toml", ELSEWHERE),))


def carried_out(kit: Kit, step: Priority, around: LinkedFiles) -> Kit:
    """The kit with the weighing of a step, which shows what was computed."""
    vessels = dict(balance_of(kit, around).buoyancy_model.vessels)
    bucket = balance_of(with_header(kit, water=None, density_kg_m3=FRESH_KG_M3), around).buoyancy_model
    in_bucket = {part.item: part.floats.value for part in bucket.parts}

    def weighed(number: int, item: Item) -> Item:
        if isinstance(item, Cylinder):
            named = step.what.removeprefix("read the mass stamped on ") in (item.preset, f'"{item.tag}"')
            return replace(item, stamped_mass_kg=vessels[number].shell_mass_kg) if named else item
        if isinstance(item, Suit):
            wet = step.what == f'weigh "{item.tag}" wet in fresh water'
            return replace(item, buoyancy_kgf=in_bucket[number]) if wet else item
        dry = ("weigh the hoses",) if isinstance(item, Hose) else (f'weigh "{item.tag}"',)
        if step.what in dry:
            return replace(item, mass_kg=mass_of(kit, number, around))
        if step.what == f'weigh "{item.tag}" in fresh water':
            return replace(item, mass_kg=mass_of(kit, number, around), buoyancy_kgf=in_bucket[number])
        return item

    return Kit(kit.header, tuple(weighed(number, item) for number, item in enumerate(kit.items)))


def mass_of(kit: Kit, number: int, around: LinkedFiles) -> float:
    """As worked out and put on a scale: a hose without its adapters."""
    found = assess(resolve(kit, around))
    weight, hose = found.weights[number], found.hose_figures(number)
    assert weight is not None
    return weight.mass.value - sum(adapter.mass.value for adapter in (hose.ends.adapters if hose else ()))


def steps(found: Balance) -> list[Priority]:
    return [step for step in found.measurement_priorities if step.what.startswith(("weigh", "read"))]


@pytest.mark.parametrize("around", [beside(), CHECKED], ids=["unchecked", "checked"])
@pytest.mark.parametrize("name", KITS)
def test_a_weighing_gives_what_it_promises(name: str, around: LinkedFiles) -> None:
    """To 15 % or 0.1 kg; and the lead stays where it was, for the scale showed what was expected."""
    before = balance_of(KITS[name], around)
    assert steps(before) or around is CHECKED
    for step in steps(before):
        after = balance_of(carried_out(KITS[name], step, around), around)
        assert after.lead.value == pytest.approx(before.lead.value, abs=0.02), step.what
        assert after.lead.spread == pytest.approx(step.spread_after_kg, rel=0.15, abs=0.1), step.what
        assert after.lead.spread < before.lead.spread, step.what


@pytest.mark.parametrize("around", [beside(), CHECKED], ids=["unchecked", "checked"])
@pytest.mark.parametrize("name", KITS)
def test_a_float_check_gives_what_it_promises(name: str, around: LinkedFiles) -> None:
    """Neutral in this kit with the reserve and the lead that is given so far: whoever finds what was expected."""
    before = balance_of(KITS[name], around)
    step = before.measurement_priorities[0]
    assert step.what == ("make another float check" if around is CHECKED else "make a float check in this kit")
    checks = (*around.diver.items, float_check("next", lead_kg=max(0.0, before.lead.value)))
    after = balance_of(KITS[name], around._replace(diver=replace(around.diver, items=checks)))
    assert after.lead.spread == pytest.approx(step.spread_after_kg, rel=0.02)
    assert after.lead.spread < before.lead.spread


@pytest.mark.parametrize("name", KITS)
def test_to_tell_the_body_gives_what_it_promises(name: str) -> None:
    """A diver as heavy and tall as was taken: the lead stays, and its spread falls as predicted.

    Only a suit weighed dry tells of its wearer's area too, the more the less is known of that, and shifts a little.
    """
    usual = assess_body(None)
    before = balance_of(KITS[name], NOTHING_LINKED)
    given = balance_of(KITS[name], beside(stature_m=usual.stature.value, mass_kg=usual.mass.value, sex=None))
    assert given.lead.value == pytest.approx(before.lead.value, abs=0.2 if name == "warm-single" else 1e-6)
    found = [step for step in before.measurement_priorities if step.what.startswith("give stature")]
    for step in found:
        assert given.lead.spread == pytest.approx(step.spread_after_kg, rel=0.15)
    assert found or given.lead.spread > 0.99 * before.lead.spread


@pytest.mark.parametrize("name", KITS)
def test_the_best_step_stands_first(name: str) -> None:
    """Few, each worth its while."""
    found = balance_of(KITS[name])
    after = [step.spread_after_kg for step in found.measurement_priorities]
    assert after == sorted(after)
    assert 0 < len(after) <= MOST_STEPS
    assert after[-1] < 0.995 * found.lead.spread
