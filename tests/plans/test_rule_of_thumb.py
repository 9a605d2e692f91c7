"""The trade's rule of thumb beside the lead: worked out by hand, and parted without a rest."""

from pathlib import Path

import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.catalogue import CatalogueError, catalogue
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.rules_of_thumb import load_rules_of_thumb
from kitbuilder.catalogue.styles import styles
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.starters import Answers, kit_text
from kitbuilder.plans import rule_of_thumb
from kitbuilder.plans.rule_of_thumb import CYLINDERS, PLATE, SUIT, RuleOfThumb, plan_rule_of_thumb

BODY = {"stature": "178 cm", "mass": "82 kg", "sex": "male"}
STEEL = "steel 12 L 232 long"
SEA_KG_M3, LEAD_KG_M3, STEEL_KG_M3 = 1026.0, 11340.0, 7900.0
"""Usual densities, from memory."""


def assessed(answers: Answers, *, plate: str = "") -> Assessment:
    text = kit_text(answers)
    if plate:
        text = text.replace('"back-plate, carbon or soft"', f'"{plate}"')
        assert plate in text
    kit = read_kit(text).kit
    assert kit is not None
    return assess(resolve(kit, LinkedFiles(diver=override_diver(None, BODY))))


def planned(style: str, suit: str, cylinder: str = "", water: str = "ocean", plate: str = "") -> RuleOfThumb:
    found = plan_rule_of_thumb(assessed(Answers("x", style, suit, cylinder or None, water), plate=plate), suit)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("style", "suit", "cylinder", "water", "low_kg", "high_kg"),
    [
        ("jacket", "5 mm wetsuit", "", "ocean", 8.2, 8.2),
        ("jacket", "3 mm wetsuit", "", "ocean", 4.1, 4.1),
        ("jacket", "no suit", "", "ocean", 0.5, 2.0),
        ("jacket", "7 mm wetsuit", "", "ocean", 9.7, 11.2),
        ("jacket", "5 mm wetsuit", STEEL, "ocean", 5.2, 7.2),
        ("jacket", "5 mm wetsuit", STEEL, "fresh", 2.2, 5.2),
        # A tenth of 82 kg, 3 to 5 kg for the undersuit, 1 to 3 kg and 0 to 2 kg off for two cylinders of steel.
        ("twinset", "drysuit, medium undersuit", STEEL, "ocean", 8.2 + 3 - 3 - 2, 8.2 + 5 - 1 - 0),
        ("jacket", "no suit", STEEL, "fresh", 0.0, 0.0),
    ],
)
def test_the_rule_by_hand(style: str, suit: str, cylinder: str, water: str, low_kg: float, high_kg: float) -> None:
    rule = planned(style, suit, cylinder, water)
    assert (rule.low_kg, rule.high_kg) == pytest.approx((low_kg, high_kg))


@pytest.mark.parametrize("style", styles().styles)
def test_the_differences_add_up(style: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(rule_of_thumb, "WORTH_NAMING_KG", 0.0)
    suit = styles().styles[style].exposure
    found = assessed(Answers("x", style))
    rule = plan_rule_of_thumb(found, suit)
    assert rule is not None
    assert found.balance is not None
    middle = sum(term.low_kg + term.high_kg for term in rule.terms) / 2
    assert middle + sum(each.lead_kg for each in rule.differences) == pytest.approx(found.balance.lead.value)
    assert [abs(each.lead_kg) for each in rule.differences] == sorted(
        (abs(each.lead_kg) for each in rule.differences), reverse=True
    )


def named(rule: RuleOfThumb) -> dict[str, float]:
    return {each.name: each.lead_kg for each in rule.differences}


def test_what_the_rule_takes_for_granted_is_no_difference() -> None:
    """One cylinder of aluminium, no plate."""
    assert not {CYLINDERS, PLATE} & named(planned("jacket", "5 mm wetsuit")).keys()


def test_foam_loses_lift_at_the_stop() -> None:
    """At 5 m gas has two thirds of its volume (Boyle); foam, held by its rubber, loses no more than gas does."""
    found = assessed(Answers("x", "jacket"))
    assert found.balance is not None
    foam = found.balance.buoyancy_model.foam.value
    lost = named(planned("jacket", "5 mm wetsuit"))[SUIT] * (1 - SEA_KG_M3 / LEAD_KG_M3)
    assert -foam / 3 * 1.02 <= lost < -foam / 10


def test_a_plate_of_steel_saves_what_it_weighs_in_water() -> None:
    preset = catalogue().presets["other", "back-plate, steel 6 mm"]
    assert preset.mass is not None
    by_hand = -preset.mass.expected * (1 - SEA_KG_M3 / STEEL_KG_M3) / (1 - SEA_KG_M3 / LEAD_KG_M3)
    found = named(planned("wing", "5 mm wetsuit", plate="back-plate, steel 6 mm"))
    assert found[PLATE] == pytest.approx(by_hand, rel=0.02)


def test_a_word_without_a_rule_is_refused(tmp_path: Path) -> None:
    text = (FOLDER / "rules_of_thumb.toml").read_text("utf-8")
    (tmp_path / "rules.toml").write_text(text.replace('name = "brackish"', 'name = "ocean2"'), "utf-8")
    with pytest.raises(CatalogueError, match='there is no "ocean2"'):
        load_rules_of_thumb(tmp_path / "rules.toml")
    (tmp_path / "rules.toml").write_text(text[: text.index('[[water]]\nname = "salty sea"')], "utf-8")
    with pytest.raises(CatalogueError, match='there is no rule for "salty sea"'):
        load_rules_of_thumb(tmp_path / "rules.toml")
