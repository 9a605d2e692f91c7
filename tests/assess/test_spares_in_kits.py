"""A spare of a kit file travels and stays out of the water: it changes what travels weighs, and nothing else."""

from dataclasses import replace
from functools import cache

import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.configuration_fingerprint import configuration_fingerprint
from kitbuilder.assess.defaults import default_in_kit
from kitbuilder.assess.gear.joinable import candidates_for
from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.items import (
    KINDS,
    Cylinder,
    Drysuit,
    FirstStage,
    Gauge,
    Hose,
    Item,
    Jacket,
    Lead,
    Other,
    SecondStage,
    Suit,
    Transmitter,
    Wing,
)
from kitbuilder.kit.resolved import ResolvedKit, resolve
from kitbuilder.kit.spare import Spare
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.plans.changeover import plan_changeover
from kitbuilder.plans.fitting import plan_fitting
from kitbuilder.plans.losses import work_out_losses
from kitbuilder.plans.weigh_in import plan_weigh_in
from kitbuilder.report.origins import origins_page
from kitbuilder.report.totals import brief_totals, total_rows
from tests.assess.kits import CONFIGS, WHOLE, config, kit_of
from tests.laws import is_thorough
from tests.report.pages import page_text

SPARES: tuple[Item, ...] = (
    Hose(tag="one more", in_spares=True, role="alternate", body="rubber", length_m=0.9),
    FirstStage(tag="one more", in_spares=True, preset="brass, DIN, 4 LP 2 HP"),
    SecondStage(tag="one more", in_spares=True, preset="plastic body"),
    Other(tag="one more", in_spares=True, preset="back-up torch"),
    Cylinder(tag="one more", in_spares=True, preset="steel 12 L 232 long"),
    Lead(tag="one more", in_spares=True, mass_kg=1.0, pieces=2, droppable=True),
    Suit(tag="one more", in_spares=True, cut="full suit", thickness_m=0.005),
    Wing(tag="one more", in_spares=True, preset="single-cylinder wing"),
    Jacket(tag="one more", in_spares=True, preset="travel jacket"),
    Drysuit(tag="one more", in_spares=True, preset="trilaminate shell", undersuit="medium"),
    Gauge(tag="one more", in_spares=True, preset="brass gauge", port="first HP1"),
    Transmitter(tag="one more", in_spares=True, preset="transmitter", port="first HP1"),
)


@cache
def shipped_as_resolved(name: str) -> ResolvedKit:
    """A kit that comes with the program, with its linked files."""
    return resolve_at(CONFIGS / f"{name}.toml", kit_of(config(name)))


@cache
def assessed(name: str) -> Assessment:
    """The same, worked out."""
    return assess(shipped_as_resolved(name))


def with_spare(kit: ResolvedKit, spare: Item) -> ResolvedKit:
    """A kit with one more item at its end."""
    return resolve(replace(kit.unresolved, items=(*kit.unresolved.items, spare)), kit.linked, kit.lines)


def pairs() -> list[tuple[str, Item]]:
    """Every spare in one shipped kit, in turn; in a thorough run in each of them."""
    if is_thorough():
        return [(name, spare) for name in WHOLE for spare in SPARES]
    return [(WHOLE[number % len(WHOLE)], spare) for number, spare in enumerate(SPARES)]


def test_every_kind_of_item_may_be_a_spare() -> None:
    assert {type(spare) for spare in SPARES} == set(KINDS.values())


@pytest.mark.parametrize(("name", "spare"), pairs(), ids=lambda value: value if isinstance(value, str) else value.kind)
def test_a_spare_changes_what_travels_weighs_and_nothing_else(name: str, spare: Item) -> None:
    before, after = assessed(name), assess(with_spare(shipped_as_resolved(name), spare))
    assert isinstance(after.kit.items[-1], Spare)
    assert after.findings == before.findings
    assert after.unchecked == before.unchecked
    assert configuration_fingerprint(after.kit) == configuration_fingerprint(before.kit)
    assert after.hoses == before.hoses
    assert after.if_all == before.if_all
    assert before.balance is not None
    assert after.balance is not None
    assert after.balance.lead == before.balance.lead
    assert after.balance.moments == before.balance.moments
    assert after.balance.trim == before.balance.trim
    assert after.balance.buoyancy_model.left_out == before.balance.buoyancy_model.left_out
    assert after.balance.measurement_priorities == before.balance.measurement_priorities
    assert after.everything.buoyancy == before.everything.buoyancy
    mass = after.masses[-1]
    assert mass is not None
    more = after.everything.mass.value - before.everything.mass.value
    assert more == pytest.approx(mass.value)
    assert more > 0
    travels = plan_weigh_in(after).bring.mass.value - plan_weigh_in(before).bring.mass.value
    assert travels == pytest.approx(more)


def test_the_same_items_would_change_much_if_they_were_worn() -> None:
    """The test above could not fail if findings were blind to what it adds."""
    hose, *_, gauge, transmitter = SPARES
    for spare in (hose, gauge, transmitter):
        worn = assess(with_spare(shipped_as_resolved("warm-single"), replace(spare, in_spares=None)))
        assert worn.findings != assessed("warm-single").findings, spare


def test_a_spare_is_no_part_of_a_changeover_of_losses_or_of_what_to_buy() -> None:
    kit = shipped_as_resolved("warm-single")
    laden = kit
    for number, spare in enumerate(SPARES):
        laden = with_spare(laden, replace(spare, tag=f"spare {number}"))
    unchanged = plan_changeover(assessed("warm-single"), assessed("warm-single")).steps
    assert plan_changeover(assess(laden), assess(kit)).steps == unchanged
    assert plan_changeover(assess(kit), assess(laden)).steps == unchanged
    assert work_out_losses(assess(laden)).losses == work_out_losses(assessed("warm-single")).losses
    assert plan_fitting(assess(laden)).shopping == plan_fitting(assessed("warm-single")).shopping


def test_an_item_weighs_the_same_worn_and_as_a_spare() -> None:
    """A hose and a first stage weigh what they are made of, whether they are in the water or not."""
    kit = shipped_as_resolved("warm-single")
    for spare in SPARES[:4]:
        masses = [assess(with_spare(kit, replace(spare, in_spares=kept))).masses[-1] for kept in (True, None)]
        assert masses[0] is not None
        assert masses[0] == masses[1]


def test_a_spare_without_a_mass_is_named_and_one_with_a_mass_lacks_nothing() -> None:
    kit = shipped_as_resolved("warm-single")
    box = Other(tag="box", in_spares=True)
    unknown = set(assess(with_spare(kit, box)).unchecked) - set(assessed("warm-single").unchecked)
    assert [(found.item, found.key) for found in unknown] == [(len(kit.items), "preset")]
    known = assess(with_spare(kit, replace(box, mass_kg=0.4)))
    assert known.unchecked == assessed("warm-single").unchecked
    assert known.spares == 1
    assert "buoyancy of" not in total_rows(known)[-1].label


def test_a_spare_is_shown_with_the_defaults_of_its_keys() -> None:
    """Everything that a screen asks of the selected item: its defaults, its totals, where its mass comes from."""
    kit = shipped_as_resolved("warm-single")
    for spare in SPARES:
        found, number = assess(with_spare(kit, spare)), len(kit.items)
        worn = assess(with_spare(kit, replace(spare, in_spares=None)))
        for field in fields_of(type(spare)):
            given = default_in_kit(found, number, field)
            if field.key in ("mass", "valve", "diameter"):
                assert given == default_in_kit(worn, number, field), (spare.kind, field.key)
        brief_totals(found, number, 7)
        assert "stays out of the water" in page_text(origins_page(found, number))


def test_a_spare_may_be_any_free_item_of_its_kind_in_the_gear_file() -> None:
    """It joins nothing, so that its threads do not matter; what the kit wears already is not free."""
    kit = shipped_as_resolved("cold-single")
    assert kit.linked.gear is not None
    found = with_spare(kit, Hose(tag="one more", in_spares=True, role="alternate", body="rubber", length_m=0.9))
    candidates = candidates_for(found, len(kit.items))
    assert {each.entry.tag for each in candidates} == {e.tag for e in kit.linked.gear.items if e.kind == Hose.kind}
    assert not [each for each in candidates if each.reasons]
    worn = {item.owned for item in kit.items if isinstance(item, Hose) and item.owned}
    assert worn
    assert worn <= {each.entry.tag for each in candidates if each.taken_by}


def test_a_hose_that_feeds_a_spare_leads_nowhere() -> None:
    """Nobody breathes from what lies in the box."""
    text = config("warm-single")
    [tag] = {hose.to for hose in kit_of(text).hoses if hose.role == "primary"}
    kit = kit_of(text)
    items = tuple(replace(item, in_spares=True) if item.tag == tag else item for item in kit.items)
    found = assess(resolve(replace(kit, items=items)))
    assert "leads nowhere" in {finding.rule for finding in found.findings}
