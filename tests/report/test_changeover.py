"""The page of a changeover: what stands on it, at every width and in both units."""

import re

import pytest

from kitbuilder.kit.gear import Gear, GearHeader, ORing, Owned, Plug
from kitbuilder.plans.changeover import Changeover, Unbuildable, plan_changeover
from kitbuilder.report.changeover import changeover_page, step_page, steps_table, tick_key, unbuildable_page
from kitbuilder.report.layout import list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from tests.assess.kits import shipped
from tests.report.pages import page_json, page_text

FILES = ("a.toml", "b.toml")
COMMON_TORQUE = "4.5 to 7.0 N·m"
"""A gauge hose in a 7/16 port: common practice, as in `catalogue/bench_work.toml`."""


@pytest.fixture(scope="module")
def plan() -> Changeover:
    return plan_changeover(shipped("twinset"), shipped("sidemount"))


def unfolded(text: str) -> str:
    """A text in one line: where it is broken depends on the width."""
    return " ".join(text.split())


def gear(*items: Owned) -> Gear:
    return Gear(GearHeader(format=1, holds="gear", name="gear"), items)


def test_the_most_useful_fact_comes_first(plan) -> None:
    text = page_text(changeover_page(plan, FILES))
    assert text.splitlines()[:2] == ["from  Twinset, coast (a.toml)", "to    Sidemount, sea (b.toml)"]
    assert "Undo 12 joints, make 14. Fetch 7 parts, buy 0. No plan takes less." in text


def test_plugs_to_buy_stand_beside_the_parts_to_buy(plan) -> None:
    """By the files: the sidemount kit has plugs in six LP ports and two HP ports, the twinset in six and three."""
    few = plan_changeover(plan.target, plan.source, gear(Plug(tag="a", thread="3/8-24 UNF", pieces=5)))
    lp, hp = (count for count in few.plugs)
    assert (lp.in_use, lp.needed, lp.to_buy) == (6, 6, 0)
    assert (hp.in_use, hp.needed, hp.to_buy) == (2, 3, 1)
    found = unfolded(page_text(changeover_page(few, FILES)))
    assert "and 1 plug." in found
    assert "1 × plug HP 7/16-20 UNF" in found
    assert "Buy one plug, HP 7/16-20 UNF." in found
    assert page_json(changeover_page(few, FILES))["plugs_owned"][0] == {
        "plug": "LP 3/8-24 UNF", "pieces": 5, "in_use": 6, "needed": 6, "to_buy": 0,
    }  # fmt: skip


@pytest.mark.parametrize("width", [60, 80, 100])
@pytest.mark.parametrize("system", System)
def test_nothing_is_cut_at_any_width(plan, width: int, system: System) -> None:
    text = page_text(changeover_page(plan, FILES), system, width)
    assert max(map(len, text.splitlines())) <= width
    assert "…" not in text
    for step in plan.steps:
        assert unfolded(page_text(step_page(step), system, 500)).split(".")[0] in unfolded(text)


def test_each_step_has_a_box_and_those_that_are_done_a_cross(plan) -> None:
    done = frozenset({tick_key(plan.steps[0]), tick_key(plan.steps[11])})
    boxes = re.findall(r"^  \[([ x])\] +(\d+)  ", page_text(changeover_page(plan, FILES, done)), re.MULTILINE)
    assert [int(number) for _, number in boxes] == [*range(1, len(plan.steps) + 1)]
    assert [int(number) for box, number in boxes if box == "x"] == [1, 12]


def test_boxes_and_sentences_are_aligned_from_phase_to_phase(plan) -> None:
    lines = page_text(changeover_page(plan, FILES)).splitlines()
    starts = {re.match(r"  \[ \] +\d+  ", line).end() for line in lines if line.startswith("  [ ]")}
    assert len(starts) == 1


def test_tags_stand_in_quotes_and_ports_beside_them(plan) -> None:
    text = unfolded(page_text(changeover_page(plan, FILES)))
    assert 'Unscrew "wing hose" ("wing 61") from "right post" LP2.' in text
    assert 'Fetch "elbow" from "blue box". It becomes the elbow 90 of "short hose".' in text
    assert '2 × LP 3/8-24 UNF out of "right post" LP5, "left post" LP5' in text


def test_the_parts_say_where_they_are_and_where_they_go(plan) -> None:
    lines = [unfolded(line) for line in page_text(changeover_page(plan, FILES)).splitlines()]
    assert "hose what happens now called now on goes to" in lines
    assert "long hose stays right post LP1 right LP1" in lines
    assert "wing hose from your gear wing 35 left LP5" in lines
    assert "wing hose put away right post LP2" in lines


def test_torques_are_in_the_reader_s_units(plan) -> None:
    """4.5 N·m are 39.8 lbf·in, 7 N·m 62.0 (1 lbf·in is 0.112985 N·m: NIST SP 811, appendix B.8)."""
    assert COMMON_TORQUE in unfolded(page_text(changeover_page(plan, FILES)))
    imperial = unfolded(page_text(changeover_page(plan, FILES), System.IMPERIAL))
    assert "40 to 62 lbf·in" in imperial
    assert "N·m" not in imperial


def test_too_few_rings_are_said(plan) -> None:
    """The twinset becomes the sidemount with four rings of 003."""
    few = plan_changeover(plan.source, plan.target, gear(ORing(tag="a", size="003", pieces=3)))
    assert few.rings["003"] > 3
    text = unfolded(page_text(changeover_page(few, FILES)))
    assert "(pin of a gauge swivel, two of them; your gear has 3)" in text
    [ring] = [ring for ring in page_json(changeover_page(few, FILES))["o_rings"] if ring["size"] == "003"]
    assert (ring["pieces"], ring["owned"]) == (few.rings["003"], 3)


def test_a_part_to_buy_is_described(plan) -> None:
    bare = plan_changeover(plan.source, plan.target, gear())
    text = unfolded(page_text(changeover_page(bare, FILES)))
    assert '"wing hose" (LP hose, ' in text
    to_buy = {part["part"]: part["what"] for part in page_json(changeover_page(bare, FILES))["to_buy"]}
    assert to_buy.keys() >= {"wing hose", "drysuit hose"}
    assert "35 cm" in to_buy["drysuit hose"]


def test_json_of_the_steps_has_values(plan) -> None:
    steps = page_json(changeover_page(plan, FILES))["steps"]
    assert len(steps) == len(plan.steps)
    gauge = next(step for step in steps if step["joint"] == "hose on a gauge" and step["verb"] == "make")
    assert gauge["torque_nm"] == {"low": 4.5, "high": 7.0}
    assert gauge["hold_with"] == "14 mm (9/16 in) on the gauge"
    assert "number" not in gauge


def test_a_row_of_the_list_is_one_line(plan) -> None:
    _, rows = list_rows(steps_table(plan.steps, frozenset({tick_key(plan.steps[0])})), 60, System.METRIC)
    assert len(rows) == len(plan.steps)
    assert plain(rows[0]).split()[:2] == ["[x]", "1"]
    assert max(len(plain(row)) for row in rows) <= 60


def test_a_kit_that_cannot_be_built_has_its_reasons() -> None:
    source, target = shipped("twinset"), shipped("wrong-on-purpose")
    with pytest.raises(Unbuildable) as refused:
        plan_changeover(source, target)
    page = unbuildable_page(refused.value, source.kit, FILES, ("b.toml: gear.toml is not in this folder.",))
    text = unfolded(page_text(page))
    assert text.startswith('There is no plan until "b.toml" is corrected: - "primary hose": ')
    assert "Not used: b.toml: gear.toml is not in this folder." in text
    said = page_json(page)
    assert said["not_buildable"] == "b.toml"
    assert len(said["refused"]) == len(refused.value.reasons)
