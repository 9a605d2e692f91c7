"""One verdict on the length of a hose: check, bench, fit and fewest hoses never disagree, on any kit there is.

The cases are kits of users to whom the tool gave answers that contradict each other. A length that was only estimated
from landmarks and lies within its uncertainty is measured first: it is neither a finding nor bought.
"""

import json
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kitfile.starters import starter_text
from tests.commands.run import CONFIGS, ROOT, run

CASES = ROOT / "tests" / "cases"
TWIN, SIDE = CASES / "technical" / "twin.toml", CASES / "technical" / "side.toml"
NECK = CASES / "counter" / "neck.toml"
WRONG = CONFIGS / "wrong-on-purpose.toml"
KITS = sorted(
    path
    for folder in (CONFIGS, *CASES.iterdir())
    for path in folder.glob("*.toml")
    if "\n[[hose]]" in path.read_text("utf-8") and "\nholds" not in path.read_text("utf-8")
)
NAMES = [str(path.relative_to(ROOT)) for path in KITS]
SURELY_SHORT, SURELY_LONG = {"too short", "short by estimate"}, {"stands off", "hangs in a loop"}


def result(*words: str) -> dict[str, Any]:
    """What a command answers, as a program reads it."""
    found: dict[str, Any] = json.loads(run(*words, "--json").stdout)["result"]
    return found


def fitted(path: Path) -> dict[str, dict[str, Any]]:
    """What `fit` says of every hose, by tag."""
    return {hose["tag"]: hose for hose in result("fit", str(path))["hoses"]}


def checked(path: Path) -> dict[str, Any]:
    """What `check` says of a kit."""
    [kit] = result("check", str(path))["files"]
    return dict(kit)


def findings_of(kit: dict[str, Any], tag: str) -> Iterator[tuple[str, str]]:
    """The rules that speak about a hose, each with its signal word."""
    for finding in kit["findings"]:
        if finding["item"] == tag:
            yield finding["rule"], finding["signal"]


@pytest.fixture(name="starter", params=LAYOUTS)
def starter_file(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A new kit that the tool made, untouched."""
    path = tmp_path / "new.toml"
    path.write_text(starter_text(request.param, "new"), "utf-8")
    return path


# --- what users met -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", [TWIN, SIDE, NECK], ids=["twinset", "sidemount", "long hose on a single"])
def test_an_estimate_alone_buys_no_hose(path: Path) -> None:
    """These hoses reach by landmarks, or nobody can tell: their runs are measured first."""
    assert result("fit", str(path))["to_buy"] == []
    assert {hose["action"] for hose in fitted(path).values()} <= {"keep", "measure"}


def test_slack_is_no_reason_to_buy() -> None:
    """The long hose has slack that a shorter one sold would have too: it is held, and the bench says the same."""
    verdict = fitted(NECK)["long hose"]["present"]["verdict"]
    assert (verdict["outcome"], verdict["has_too_much_slack"]) == ("fits", True)
    [hose] = [hose for hose in checked(NECK)["hoses"] if hose["tag"] == "long hose"]
    assert hose["fit"]["verdict"] == verdict


def test_a_new_kit_passes_its_own_fit(starter: Path) -> None:
    """None of its hoses is bought again, and no length of it is a finding that another length would avoid."""
    assert result("fit", str(starter))["to_buy"] == []
    rules = {finding["rule"] for finding in checked(starter)["findings"]}
    assert not rules & {*SURELY_SHORT, *SURELY_LONG, "stands off by estimate", "just reaches", "unusual length"}


def test_a_new_kit_opens_without_a_finding_that_its_maker_could_avoid(starter: Path) -> None:
    """Of a diver nobody has measured the lead cannot be known well enough; nothing else is a caution or worse."""
    loud = {finding["rule"] for finding in checked(starter)["findings"] if finding["signal"] != "notice"}
    assert loud == {"lead for stop"}


def test_fewest_hoses_takes_a_hose_that_may_reach_and_says_to_measure_first() -> None:
    """It refused the owned gauge hose of 60 cm as "0 cm too short"; what it needs is known to several centimetres."""
    plan = result("fewest", str(TWIN), str(SIDE), "--from", "gear")
    why = {(run["file"], run["tag"]): run["why"] for hose in plan["hoses"] for run in hose["serves"]}
    assert why[str(TWIN), "gauge hose"] == "measure this run first"
    assert plan["without_hose"] == []
    assert "Measure this run first" in run("fewest", str(TWIN), str(SIDE), "--from", "gear").stdout


# --- on every kit ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", KITS, ids=NAMES)
def test_check_and_fit_have_one_verdict_with_one_number(path: Path) -> None:
    """For every hose, the bench's figures, which are those of check, and the fitting say the same."""
    hoses, fit = {hose["tag"]: hose["fit"] for hose in checked(path)["hoses"]}, fitted(path)
    assert hoses.keys() == fit.keys()
    for tag, of_check in hoses.items():
        of_fit = fit[tag]["present"]
        assert (of_check is None) == (of_fit is None), tag
        if of_check is None:
            continue
        assert of_check["verdict"] == of_fit["verdict"], tag
        assert of_check["slack_m"] == of_fit["verdict"]["margin_m"], tag
        assert of_check["rest_slack_m"] == of_fit["rest_slack_m"], tag
        assert of_check["stand_off_m"] == of_fit["stand_off_m"], tag


@pytest.mark.parametrize("path", KITS, ids=NAMES)
def test_what_does_not_fit_is_a_finding_and_what_is_measured_first_is_none(path: Path) -> None:
    """And the other way round: a warning or caution about a length is a hose that `fit` replaces, or has too short."""
    kit = checked(path)
    for tag, hose in fitted(path).items():
        if hose["present"] is None:
            continue
        verdict, spoken = hose["present"]["verdict"], dict(findings_of(kit, tag))
        loud = {rule for rule, signal in spoken.items() if signal.lower() != "notice"}
        is_short = verdict["outcome"] == "does not fit" and verdict["fault"] == "too short"
        is_long = verdict["outcome"] == "does not fit" and verdict["fault"] == "too long"
        assert bool(loud & SURELY_SHORT) == is_short, tag
        assert not is_long or loud & {*SURELY_LONG, "stands off by estimate"}, tag
        if hose["joins"] is False:
            assert hose["action"] != "keep", tag  # it is replaced or moved for its ends, however long it is
        elif hose["action"] in ("buy", "make"):
            assert is_short or is_long, tag
        elif hose["action"] == "measure":
            assert verdict["outcome"] == "cannot be said yet", tag
        else:
            assert verdict["outcome"] == "fits", tag
        if loud & {*SURELY_LONG, "stands off by estimate"}:
            assert verdict["has_too_much_slack"], tag


@pytest.mark.parametrize("path", KITS, ids=NAMES)
def test_fewest_hoses_serves_with_its_own_length_what_fit_keeps(path: Path) -> None:
    """A refusal for a length is of a hose that does not fit, by an amount above its spread."""
    plan = result("fewest", str(path))
    actions = {tag: hose["action"] for tag, hose in fitted(path).items()}
    for run_ in plan["without_hose"]:
        if run_["missing_m"] is not None and run_["why"] == "too short":
            assert run_["missing_m"]["value"] > run_["missing_m"]["spread"] > 0
    marked = {run_["tag"]: run_["why"] for hose in plan["hoses"] for run_ in hose["serves"]}
    for tag, why in marked.items():
        if why == "as long as now, its run not known":
            assert actions[tag] is None, tag
    refused = {run_["tag"] for run_ in plan["without_hose"] if run_["why"] in ("too short", "may be too short")}
    assert not {tag for tag in refused if actions[tag] in ("keep", "measure")}


@pytest.mark.parametrize("path", KITS, ids=NAMES)
def test_fit_keeps_no_hose_in_silence_about_which_check_warns(path: Path) -> None:
    """One that is not clean for its gas, out of use or past its years may be long enough all the same."""
    said = " ".join(run("fit", str(path)).stdout.split())
    tags = set(fitted(path))
    for finding in checked(path)["findings"]:
        if finding["item"] in tags and finding["signal"] in ("warning", "danger") and finding["key"] == "owned":
            assert finding["what"] in said, finding


def test_fit_says_that_a_hose_it_keeps_is_not_clean_for_oxygen(tmp_path: Path) -> None:
    """The hose of the 50 % stage, owned and not clean: check warns, and `fit` said no more than its length."""
    folder = Path(shutil.copytree(CASES / "technical", tmp_path / "technical"))
    gear = folder / "cellar.toml"
    before, hose = gear.read_text("utf-8").split('tag = "stage 100"')
    hose = hose.replace("oxygen_clean = true", "oxygen_clean = false", 1)
    gear.write_text(f'{before}tag = "stage 100"{hose}', "utf-8")
    said = " ".join(run("fit", str(folder / "twinstage.toml")).stdout.split())
    assert (
        "WARNING gas with 50 % oxygen reaches the item, and the gear file does not say that it is oxygen-clean." in said
    )


def test_the_wrong_kit_is_still_found_wrong() -> None:
    """What a string shows to be too short by more than its uncertainty is replaced; a loop as well."""
    actions = {tag: hose["action"] for tag, hose in fitted(WRONG).items()}
    assert actions["octopus hose"] == actions["sender hose"] == "buy"
    assert fitted(WRONG)["primary hose"]["present"]["verdict"]["fault"] == "too short"


def test_a_new_kit_is_judged_alike_everywhere(starter: Path) -> None:
    """As every other kit."""
    test_check_and_fit_have_one_verdict_with_one_number(starter)
    test_what_does_not_fit_is_a_finding_and_what_is_measured_first_is_none(starter)
    test_fewest_hoses_serves_with_its_own_length_what_fit_keeps(starter)
