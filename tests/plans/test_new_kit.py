"""What a new kit needs once it is put together: another length only where one is better, and lead in whole pieces."""

import pytest

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.styles import styles
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.starters import Adjusted, Answers, kit_text
from kitbuilder.plans.new_kit import plan_new_kit

USUAL = {"stature": "178 cm", "mass": "82 kg", "sex": "male"}
LARGE = {"stature": "195 cm", "mass": "110 kg", "sex": "male"}


def assessed(style: str, body: dict[str, str], lengths: dict[str, str] | None = None) -> Assessment:
    kit = read_kit(kit_text(Answers("x", style), Adjusted(lengths or {}))).kit
    assert kit is not None
    return assess(resolve(kit, LinkedFiles(diver=override_diver(None, body))))


@pytest.mark.parametrize("style", styles().styles)
def test_what_is_advised_is_left_alone_afterwards(style: str) -> None:
    """Lengths that were set by the plan need no other; each is a length that is sold."""
    plan = plan_new_kit(assessed(style, LARGE))
    written = {tag: f"{length_m * 100:.4g} cm" for tag, length_m in plan.lengths_m.items()}
    after = assessed(style, LARGE, written)
    assert plan_new_kit(after).lengths_m == {}
    for figures in after.hoses:
        sold = catalogue().stock_lengths[figures.service]
        assert any(abs(figures.hose.length_m - length_m) < 0.001 for length_m in sold)


@pytest.mark.parametrize("body", [USUAL, LARGE], ids=["usual", "large"])
@pytest.mark.parametrize("style", styles().styles)
def test_a_new_kit_opens_without_a_finding_about_a_hose(style: str, body: dict[str, str]) -> None:
    """Longer hoses are sold, so it takes the next one that is likely to be long enough, and nothing calls that odd."""
    plan = plan_new_kit(assessed(style, body))
    after = assessed(style, body, {tag: f"{length_m * 100:.4g} cm" for tag, length_m in plan.lengths_m.items()})
    hoses = [figures.number for figures in after.hoses]
    assert [(finding.item, finding.rule) for finding in after.findings if finding.item in hoses] == []


def test_a_hose_that_does_not_fit_gets_another_length() -> None:
    """A gauge hose of 35 cm cannot reach the hip of a tall diver; one of 210 cm to the mouth stays as it is."""
    found = assessed("twinset", LARGE, {"gauge hose": "35 cm"})
    [hose] = [figures for figures in found.hoses if figures.hose.tag == "gauge hose"]
    assert hose.fit is not None
    assert hose.fit.present.verdict.is_too_short
    lengths_m = plan_new_kit(found).lengths_m
    assert lengths_m["gauge hose"] > 0.5
    assert "long hose" not in lengths_m


def test_three_measurements_are_named_the_best_first() -> None:
    steps = plan_new_kit(assessed("jacket", {})).measure
    assert len(steps) == 3
    assert [step.spread_after_kg for step in steps] == sorted(step.spread_after_kg for step in steps)


def test_without_a_cylinder_nothing_is_said_of_the_lead() -> None:
    kit = read_kit('format = 1\nname = "x"\nlayout = "single"\n').kit
    assert kit is not None
    plan = plan_new_kit(assess(resolve(kit)))
    assert (plan.lead, plan.measure, plan.lengths_m) == (None, (), {})
