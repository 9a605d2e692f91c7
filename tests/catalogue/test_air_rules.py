"""Rules of air travel and what they ask of items. Expected values come from the pages that each test names."""

from pathlib import Path

import pytest

from kitbuilder.catalogue import CatalogueError, catalogue
from kitbuilder.catalogue.air_rules import (
    ABOUT,
    BATTERY,
    CYLINDER,
    LAMP,
    METAL_CELLS,
    SHARP,
    SPARE_BATTERY,
    SPARE_METAL_CELLS,
    air_rules,
    load_air_rules,
)
from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.travel_facts import KINDS, LITHIUM_ION, load_travel_facts, travel_facts
from kitbuilder.kit import items, travel

WH = 3600.0
"""Joules in a watt-hour."""
RULES = (FOLDER / "air_rules.toml").read_text(encoding="utf-8")
FACTS = (FOLDER / "travel_facts.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("energy_wh", "spare", "may_go", "needs_approval", "most"),
    [
        # Provisions for dangerous goods carried by passengers or crew, table 1, batteries, b), c): 100 and 160 Wh, ends
        # included. Dangerous Goods Regulations, table 2.3.A: at most two spares above 100 Wh, all spares in the cabin.
        (9.6, False, {"cabin", "hold", "body"}, False, None),
        (100, False, {"cabin", "hold", "body"}, False, None),
        (100.1, False, {"cabin", "hold", "body"}, True, None),
        (160, False, {"cabin", "hold", "body"}, True, None),
        (160.1, False, set(), False, None),
        (18.5, True, {"cabin", "body"}, False, 20),
        (100, True, {"cabin", "body"}, False, 20),
        (151.2, True, {"cabin", "body"}, True, 2),
        (160, True, {"cabin", "body"}, True, 2),
        (300, True, set(), False, None),
    ],
)
def test_a_battery_may_go_where_the_published_table_says(
    energy_wh: float, spare: bool, may_go: set[str], needs_approval: bool, most: int | None
) -> None:
    rule = air_rules().for_energy(SPARE_BATTERY if spare else BATTERY, energy_wh * WH)
    assert (set(rule.may_go), rule.needs_approval, rule.most) == (may_go, needs_approval, most)


def test_the_class_of_a_battery_does_not_hang_on_the_last_bit() -> None:
    """10 V and 10 Ah, in another order of multiplying."""
    assert air_rules().for_energy(BATTERY, 100 * WH * (1 + 1e-12)).needs_approval is False


@pytest.mark.parametrize(
    ("subject", "may_go", "needs_approval"),
    [
        # 49 CFR 175.10(a)(14): diving lamps with the approval of the airline, in cabin and hold
        (LAMP, {"cabin", "hold"}, True),
        # Regulation (EU) 2015/1998, attachment 4-C, (c) and (d)
        (SHARP, {"hold"}, False),
        # page titled "Small Compressed Gas Cartridges": empty, open to be looked into, cabin or hold
        (CYLINDER, {"cabin", "hold"}, True),
        (METAL_CELLS, {"cabin", "hold", "body"}, False),
        (SPARE_METAL_CELLS, {"cabin", "body"}, False),
    ],
)
def test_other_items_may_go_where_the_published_pages_say(subject: str, may_go: set[str], needs_approval: bool) -> None:
    (rule,) = air_rules().about(subject)
    assert (set(rule.may_go), rule.needs_approval, rule.is_advice) == (may_go, needs_approval, False)


def test_bags_have_the_published_limits() -> None:
    """Page titled "What is maximum baggage size and weight": 23 kg advised, 32 kg for a heavy bag, 158 cm."""
    limits = {name: limit.value.value for name, limit in air_rules().limits.items()}
    assert limits == pytest.approx({"handling": 32, "advised piece": 23, "hold edges": 1.58})


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('up_to = "160 Wh"', 'up_to = "150 Wh"', "do not have the same 3 classes"),
        ('up_to = "160 Wh"', 'up_to = "90 Wh"', "the rules do not rise to one without up_to"),
        ('name = "battery above 160 Wh"', 'name = "x"\nup_to = "170 Wh"', "the rules do not rise"),
        ('of = "lamp"', 'of = "lamb"', 'did you mean "lamp"?'),
        ('of = "lamp"', 'of = "cylinder"', "the rules do not rise to one without up_to"),
        ('read = "2026-11-29"', 'read = "last autumn"', "read: is neither a day"),
        ("most = 20", "most = 0", "most: is not a whole number"),
        ('name = "hold edges"', 'name = "handling"', "is there twice"),
        ('may_go = ["hold"]', 'may_go = ["roof"]', 'there is no "roof"'),
    ],
)
def test_rules_that_contradict_themselves_are_refused(old: str, new: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "air_rules.toml"
    assert old in RULES
    path.write_text(RULES.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CatalogueError, match=says.replace("?", r"\?")):
        load_air_rules(path)


def test_there_is_a_rule_for_everything() -> None:
    assert {rule.about for rule in air_rules().rules} == set(ABOUT)
    assert len({rule.name for rule in air_rules().rules}) == len(air_rules().rules)


# ---- facts of items ----


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('presets = ["mask"]', 'presets = ["knife"]', "an entry for one of its items already"),
        ('kinds = ["gauge"]', 'kinds = ["hose"]', "an entry for one of its items already"),
        ('presets = ["mask"]', 'presets = ["masc"]', 'did you mean "mask"?'),
        ('battery_type = "lithium metal"', 'battery_type = "lithium ion"', "battery: goes with"),
        ('kinds = ["gauge"]', 'kinds = ["gage"]', 'did you mean "gauge"?'),
    ],
)
def test_facts_that_contradict_themselves_are_refused(old: str, new: str, says: str, tmp_path: Path) -> None:
    path = tmp_path / "travel_facts.toml"
    assert old in FACTS
    path.write_text(FACTS.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(CatalogueError, match=says.replace("?", r"\?")):
        load_travel_facts(path)


def test_the_words_for_kinds_and_batteries_are_those_of_the_files() -> None:
    """They stand in two parts, since the catalogue does not know the records."""
    assert tuple(items.KINDS) == KINDS
    assert LITHIUM_ION == travel.LITHIUM_ION
    used = {facts.battery_type for facts in travel_facts().by_preset.values()} - {""}
    assert used <= set(travel.BATTERY_TYPES)


def test_a_preset_counts_before_its_kind() -> None:
    facts = travel_facts()
    assert facts.of("transmitter", "transmitter").is_breakable
    assert facts.of("other", "knife").is_sharp
    assert not facts.of("other", "reel").is_sharp
    assert not facts.of("other", None).is_sharp
    assert facts.of("lead", None).wet is None


def test_a_wet_set_weighs_what_travellers_report() -> None:
    """1.5 to 4 kg more than on the way out, from memory: 5 mm suit, boots, hood, gloves and a jacket.

    The dry masses are the middles of the ranges of trade practice: 2.4, 0.95, 0.265, 0.175 and 3.4 kg.
    """
    presets = {"boots, 5 mm": 0.95, "hood, 5 mm": 0.265, "gloves, 3 to 5 mm": 0.175}
    parts = [("suit", None, 2.4), ("jacket", "standard jacket", 3.4)]
    parts += [("other", preset, mass) for preset, mass in presets.items()]
    wet = [(travel_facts().of(kind, preset).wet, mass) for kind, preset, mass in parts]
    low, high = (sum(getattr(share, end) * mass for share, mass in wet) for end in ("low", "high"))
    assert (low, high) == pytest.approx((1.5, 4.0), abs=0.25)


def test_only_presets_of_the_catalogue_have_facts() -> None:
    assert travel_facts().by_preset.keys() <= catalogue().presets.keys()
