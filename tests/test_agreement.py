"""No two commands contradict each other about a hose, a joint, a part, a gas or the lead, on any kit there is."""

import copy
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.agreement import CASES, FOLDERS, UNCLEAN, Answers, answers_about, disagreements

TWIN, SIDE, STAGE = "twin.toml", "side.toml", "twinstage.toml"


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda folder: folder.name)
def test_no_two_answers_contradict_each_other(folder: Path) -> None:
    assert list(disagreements(answers_about(folder))) == []


# ---- each kind of contradiction is seen when there is one ----


@pytest.fixture(scope="module")
def technical() -> Answers:
    return answers_about(CASES / "technical")


def another_lead(answers: Answers) -> None:
    answers.ballast[TWIN]["answers"][0]["balance"]["lead_needed_kg"]["value"] += 1


def lead_that_holds_silently(answers: Answers) -> None:
    findings = answers.check[TWIN]["findings"]
    findings[:] = [finding for finding in findings if finding["rule"] != "lead for stop"]


def another_lead_to_have_ready(answers: Answers) -> None:
    answers.ballast[TWIN]["answers"][0]["balance"]["lead_ready_kg"] += 1


def another_weight(answers: Answers) -> None:
    answers.compare[TWIN, SIDE]["kits"][0]["hoses_mass_kg"]["value"] += 0.1


def another_margin(answers: Answers) -> None:
    answers.fit[TWIN]["hoses"][0]["present"]["verdict"]["margin_m"]["value"] -= 0.1


def bought_although_it_fits(answers: Answers) -> None:
    [hose] = [hose for hose in answers.fit[TWIN]["hoses"] if hose["present"]["verdict"]["outcome"] == "fits"][:1]
    hose["action"] = "buy"


def no_finding_for_a_short_hose(answers: Answers) -> None:
    for verdict in (
        answers.fit[TWIN]["hoses"][0]["present"]["verdict"],
        answers.check[TWIN]["hoses"][0]["fit"]["verdict"],
    ):
        verdict |= {"outcome": "does not fit", "fault": "too short"}
    answers.fit[TWIN]["hoses"][0]["action"] = "buy"


def refused_although_it_fits(answers: Answers) -> None:
    [hose] = [hose for hose in answers.fit[TWIN]["hoses"] if hose["present"]["verdict"]["outcome"] == "fits"][:1]
    answers.fewest[TWIN]["without_hose"].append({"tag": hose["tag"]})


def a_warning_about_a_joint(answers: Answers) -> None:
    tag = answers.fit[TWIN]["hoses"][0]["tag"]
    answers.check[TWIN]["findings"].append({"rule": "thread at the port", "item": tag, "signal": "danger"})


def another_joint(answers: Answers) -> None:
    hose = answers.check[TWIN]["hoses"][0]
    hose["joins"] = not hose["joins"]


def something_to_buy(answers: Answers) -> None:
    answers.changeover[SIDE, TWIN]["to_buy"].append({"part": "long hose", "what": "a hose"})


def another_item_fetched(answers: Answers) -> None:
    [part] = [part for part in answers.changeover[TWIN, STAGE]["parts"] if part["what"] == "from your gear"][:1]
    part["is_now"] = "neck 65"


def work_for_nothing(answers: Answers) -> None:
    answers.changeover[TWIN, TWIN]["joints_undone"] = 1


def an_unclean_hose_left(answers: Answers) -> None:
    answers.check[STAGE]["findings"].append({"rule": UNCLEAN, "item": "stage hose", "signal": "warning"})


def a_gas_that_cannot_be_breathed(answers: Answers) -> None:
    answers.losses[TWIN]["losses"][0]["functions"]["breathing"]["not_breathable"].append("backup")
    for gas in answers.check[TWIN]["gases"]:
        gas |= {"deepest_m": 10.0, "breathable_to_m": 20.0, "shallowest_m": 0.0, "breathable_from_m": 0.0}


@pytest.mark.parametrize(
    "contradict",
    [
        another_lead,
        lead_that_holds_silently,
        another_lead_to_have_ready,
        another_weight,
        another_margin,
        bought_although_it_fits,
        no_finding_for_a_short_hose,
        refused_although_it_fits,
        a_warning_about_a_joint,
        another_joint,
        something_to_buy,
        another_item_fetched,
        work_for_nothing,
        an_unclean_hose_left,
        a_gas_that_cannot_be_breathed,
    ],
    ids=lambda each: each.__name__,
)
def test_a_contradiction_is_named(contradict: Callable[[Answers], None], technical: Answers) -> None:
    answers = copy.deepcopy(technical)
    contradict(answers)
    assert list(disagreements(answers))
