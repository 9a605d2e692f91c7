"""The page of a new kit: what was written, its lead, fit and mass, and what to measure first."""

from kitbuilder.assess.assessment import assess
from kitbuilder.kit.resolved import LinkedFiles, resolve
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.starters import Answers, kit_text
from kitbuilder.plans.new_kit import plan_new_kit
from kitbuilder.report.new import NewKit, new_kit_page
from tests.report.pages import page_json, page_text


def new_kit(text: str, **more: bool) -> NewKit:
    kit = read_kit(text).kit
    assert kit is not None
    assessment = assess(resolve(kit))
    return NewKit("own.toml", None, assessment, plan_new_kit(assessment), **more)


def test_lead_fit_mass_and_three_measurements() -> None:
    """Counted by hand in the style: four hoses without a drysuit, and the pieces of its file."""
    made = new_kit(kit_text(Answers("own", "jacket")))
    written = page_text(new_kit_page(made))
    assert "Written: own.toml." in written
    assert "lead carried  6.0 kg" in written
    assert "Open it: kitbuilder own.toml" in written
    found = page_json(new_kit_page(made))
    assert sum(found["hoses"].values()) == 4
    assert len(found["measure"]) == 3
    assert found["diver"] is None
    assert made.assessment.balance is not None
    assert abs(found["lead_needed_kg"]["value"] - made.assessment.balance.lead.value) < 0.005


def test_a_kit_that_is_open_is_not_said_to_be_opened() -> None:
    made = new_kit(kit_text(Answers("own", "jacket")), is_open=True)
    assert "Open it" not in page_text(new_kit_page(made))


def test_a_kit_without_a_cylinder_says_why_there_is_no_lead() -> None:
    made = new_kit('format = 1\nname = "x"\nlayout = "single"\n')
    assert "not known: the mass of a cylinder is missing" in page_text(new_kit_page(made))
    assert page_json(new_kit_page(made))["lead_needed_kg"] is None


def test_the_rule_of_thumb_stands_beside_the_lead() -> None:
    """A tenth of the body mass for 5 mm: both on paper and for programs, with what differs."""
    kit = read_kit(kit_text(Answers("own", "jacket"))).kit
    assert kit is not None
    assessment = assess(resolve(kit, LinkedFiles(diver=override_diver(None, {"mass": "82 kg"}))))
    made = NewKit("own.toml", None, assessment, plan_new_kit(assessment, "5 mm wetsuit"))
    written = page_text(new_kit_page(made))
    assert "Lead by rule of thumb" in written
    assert "10 % of a body mass of 82 kg" in written
    assert "rule of thumb     8.2 kg" in written
    found = page_json(new_kit_page(made))["rule_of_thumb"]
    assert (found["low_kg"], found["high_kg"]) == (8.2, 8.2)
    assert "suit" in {row["term"] for row in found["differences"]}
    assert page_json(new_kit_page(new_kit(kit_text(Answers("own", "jacket")))))["rule_of_thumb"] is None
