"""Asks every command about every kit of a folder, and names each pair of answers that contradict each other.

The answers are read as a program reads them. Run it with `python -m tests.agreement [FOLDER...]`; by default it goes
over the shipped kits and every case, and ends with 1 when it finds any.
"""

import json
import shutil
import sys
from collections.abc import Iterator, Mapping
from itertools import permutations
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from kitbuilder.assess.rules.joints import JOINT_RULES
from tests.commands.run import CONFIGS, ROOT, run

CASES = ROOT / "tests" / "cases"
FOLDERS = (CONFIGS, *sorted(path for path in CASES.iterdir() if any(path.glob("*.toml"))))
SHORT_RULES = {"too short", "short by estimate"}
LOUD = ("caution", "warning", "danger")
UNCLEAN = "not clean for oxygen"

Result = dict[str, Any]


class Answers(NamedTuple):
    """What the commands say about the kits of one folder, by file; of two kits by both."""

    check: Mapping[str, Result]
    fit: Mapping[str, Result]
    ballast: Mapping[str, Result]
    losses: Mapping[str, Result]
    compare: Mapping[tuple[str, str], Result]
    changeover: Mapping[tuple[str, str], Result]
    gear: Mapping[str, Result]
    """By gear file."""
    fewest: Mapping[str, Result]
    """Of each kit alone, from its own gear file and nothing else."""

    def gear_of(self, kit: str) -> Result | None:
        """What `gear` says about the needs of a kit; None for one that names no gear file."""
        return next((need for file in self.gear.values() for need in file["kits"] if need["file"] == kit), None)


def answers_about(folder: Path) -> Answers:
    """Ask every command, in a copy of the folder."""
    with TemporaryDirectory() as place:
        copied = Path(place) / folder.name
        shutil.copytree(folder, copied)
        return _answers(copied)


def _answers(folder: Path) -> Answers:
    read = {path.name: found for path in sorted(folder.glob("*.toml")) if (found := _asked(folder, "check", path.name))}
    sections = {name: found["files"][0] for name, found in read.items()}
    kits = {name: section for name, section in sections.items() if section["holds"] == "kit"}
    gears = [name for name, section in sections.items() if section["holds"] == "gear"]
    gear = {name: found for name in gears if (found := _asked(folder, "gear", name))}
    names_gear = {need["file"] for found in gear.values() for need in found["kits"]}
    pairs = list(permutations(kits, 2))
    return Answers(
        check=kits,
        fit=_of_each(folder, "fit", kits),
        ballast=_of_each(folder, "ballast", kits),
        losses=_of_each(folder, "losses", kits),
        compare={pair: found for pair in pairs if (found := _asked(folder, "compare", *pair))},
        fewest={kit: found for kit in names_gear if (found := _asked(folder, "fewest", kit, "--from", "gear"))},
        gear=gear,
        changeover={pair: found for pair in pairs if (found := _asked(folder, "changeover", *pair))}
        | {(kit, kit): found for kit in kits if (found := _rebuilt(folder, kit))},
    )


def _rebuilt(folder: Path, kit: str) -> Result | None:
    """Ask for the changeover of a kit to a copy of itself, which is removed again: it would be one more kit."""
    again = folder / f"again-{kit}"
    shutil.copy(folder / kit, again)
    found = _asked(folder, "changeover", kit, again.name)
    again.unlink()
    return found


def _of_each(folder: Path, command: str, kits: Mapping[str, Result]) -> dict[str, Result]:
    return {kit: found for kit in kits if (found := _asked(folder, command, kit))}


def _asked(folder: Path, *words: str) -> Result | None:
    """The result of a command; None where there is none, such as the balance of a kit without cylinders."""
    result: Result | None = json.loads(run(*words, "--json", cwd=folder).stdout)["result"]
    return result


def disagreements(answers: Answers) -> Iterator[str]:
    """Name every pair of answers that contradict each other."""
    for judge in (_weights, _lengths, _joints, _parts, _rebuilt_as_itself, _gases, _breathing):
        yield from judge(answers)


# ---- lead and weights ----


def _lead_held_silently(kit: str, check: Result) -> Iterator[str]:
    """Lead that may not hold the stop is a finding, and not only a figure."""
    balance, said = check["balance"], {finding["rule"] for finding in check["findings"]}
    ready = balance and balance["lead_ready_kg"]
    if ready is not None and balance["lead_carried_kg"] < ready - 0.01 and "lead for stop" not in said:
        yield f"{kit}: {ready} kg of lead would hold the stop, and check does not say that the kit carries less"


def _weights(answers: Answers) -> Iterator[str]:
    """Check, ballast and comparison give one lead and one weight."""
    for kit, ballast in answers.ballast.items():
        check = answers.check[kit]["balance"]
        first = ballast["answers"][0]["balance"] if ballast["answers"] else None
        for key in ("lead_needed_kg", "lead_ready_kg", "lead_carried_kg", "pieces"):
            said = check and check[key], first and first[key]
            yield from _differ(f"{kit}: {key}", check=said[0], ballast=said[1])
        yield from _lead_held_silently(kit, answers.check[kit])
    for pair, compared in answers.compare.items():
        for kit, side in zip(pair, compared["kits"], strict=True):
            check = answers.check[kit]
            for name in ("mass_kg", "buoyancy_kgf"):
                yield from _differ(
                    f"{kit}: all, {name}", check=check["everything"][name], compare=side[f"everything_{name}"]
                )
                yield from _differ(
                    f"{kit}: hoses, {name}", check=check["all_hoses"][name], compare=side[f"hoses_{name}"]
                )
            lead = check["balance"]["lead_needed_kg"] if check["balance"] else None
            yield from _differ(f"{kit}: lead", check=lead, compare=side["lead_needed_kg"])


def _differ(what: str, **said: object) -> Iterator[str]:
    if len({json.dumps(value, sort_keys=True) for value in said.values()}) > 1:
        yield f"{what}: " + "; ".join(f"{command} says {value}" for command, value in said.items())


# ---- does this hose fit ----


def _lengths(answers: Answers) -> Iterator[str]:
    """Check and fit give one verdict; findings, advice and fewest hoses follow it."""
    for kit, tag, checked, fitted in _hoses(answers):
        if checked["fit"] is None or fitted["present"] is None:
            yield from _differ(f"{kit}, {tag}: run", check=checked["fit"], fit=fitted["present"])
            continue
        verdict = fitted["present"]["verdict"]
        yield from _differ(f"{kit}, {tag}: length", check=checked["fit"]["verdict"], fit=verdict)
        is_short = verdict["outcome"] == "does not fit" and verdict["fault"] == "too short"
        if bool(_loud_rules(answers, kit, tag) & SHORT_RULES) != is_short:
            yield f"{kit}, {tag}: a finding of check and the verdict of fit differ on whether it is too short"
        if fitted["joins"] is not False:
            wanted = {"fits": {"keep"}, "cannot be said yet": {"measure"}, "does not fit": {"buy", "make"}}
            if fitted["action"] not in wanted[verdict["outcome"]]:
                yield f"{kit}, {tag}: fit says {verdict['outcome']}, and {fitted['action']}"
        if verdict["outcome"] == "fits" and fitted["joins"] and _is_refused_by_fewest(answers, kit, tag):
            yield f"{kit}, {tag}: fit keeps it, it is owned, and fewest hoses has none for its run"


def _hoses(answers: Answers) -> Iterator[tuple[str, str, Result, Result]]:
    for kit, fit in answers.fit.items():
        fitted = {hose["tag"]: hose for hose in fit["hoses"]}
        for checked in answers.check[kit]["hoses"]:
            yield kit, checked["tag"], checked, fitted[checked["tag"]]


def _loud_rules(answers: Answers, kit: str, tag: str) -> set[str]:
    findings = answers.check[kit]["findings"]
    return {each["rule"] for each in findings if each["item"] == tag and each["signal"] in LOUD}


def _is_refused_by_fewest(answers: Answers, kit: str, tag: str) -> bool:
    """Whether fewest hoses has no hose for a run whose own hose is owned, and clean where it has to be."""
    needs, plan = answers.gear_of(kit), answers.fewest.get(kit)
    if needs is None or plan is None or tag not in needs["taken"] or tag in _unclean(answers, kit):
        return False
    return tag in {run_["tag"] for run_ in plan["without_hose"]}


# ---- may this joint be made ----


def _joints(answers: Answers) -> Iterator[str]:
    """What check warns about is not kept by fit, and not built by a changeover; and nothing else is refused."""
    for kit, tag, checked, fitted in _hoses(answers):
        yield from _differ(f"{kit}, {tag}: joins", check=checked["joins"], fit=fitted["joins"])
        is_wrong = bool(_loud_rules(answers, kit, tag) & {*JOINT_RULES})
        if is_wrong != (fitted["joins"] is False):
            yield f"{kit}, {tag}: check {'warns' if is_wrong else 'is silent'}, and fit says joins {fitted['joins']}"
        if is_wrong and fitted["action"] == "keep":
            yield f"{kit}, {tag}: check warns about a joint, and fit keeps it"
    for (_source, target), plan in answers.changeover.items():
        wrong = [
            each
            for each in answers.check[target]["findings"]
            if each["rule"] in JOINT_RULES and each["signal"] in ("warning", "danger")
        ]
        if wrong and plan.get("refused") is None:
            yield f"{target}: check warns about a joint, and a changeover builds it"


# ---- what is owned, and what is missing ----


def _parts(answers: Answers) -> Iterator[str]:
    """What is owned by gear is not bought in a changeover from another kit of that file, and is the same item."""
    for (source, target), plan in answers.changeover.items():
        of_source, of_target = answers.gear_of(source), answers.gear_of(target)
        if plan.get("refused") is not None or of_source is None or of_target is None:
            continue
        lacking = {tag for need in of_target["to_buy"] for tag in need["for"]}
        for part in plan["to_buy"]:
            if part["part"] not in lacking:
                yield f"{target}, {part['part']}: by gear it is not lacking, and a changeover from {source} buys it"
        for part in plan["parts"]:
            taken = of_target["taken"].get(part["becomes"])
            if part["what"] == "from your gear" and taken is not None and part["is_now"] != taken:
                yield f"{target}, {part['becomes']}: gear takes {taken}, and a changeover fetches {part['is_now']}"


def _rebuilt_as_itself(answers: Answers) -> Iterator[str]:
    """A kit that is rebuilt as itself is left alone."""
    for (source, target), plan in answers.changeover.items():
        if source == target and plan.get("refused") is None:
            work = {key: plan[key] for key in ("joints_undone", "joints_made", "parts_from_gear")}
            if any(work.values()):
                yield f"{target}: rebuilt as itself it takes work: {work}"


# ---- may this gas meet this part, and be breathed ----


def _unclean(answers: Answers, kit: str) -> set[str]:
    """The items of a kit of which check says that they are not clean for the gas that reaches them."""
    return {each["item"] for each in answers.check[kit]["findings"] if each["rule"] == UNCLEAN and each["item"]}


def _gases(answers: Answers) -> Iterator[str]:
    """A hose that check calls not clean is not given to that run by fewest hoses, nor in silence by a changeover."""
    for kit, plan in answers.fewest.items():
        needs = answers.gear_of(kit)
        for hose in plan["hoses"]:
            for served in hose["serves"]:
                if (
                    needs
                    and served["tag"] in _unclean(answers, kit)
                    and needs["taken"].get(served["tag"]) in hose["tags"]
                ):
                    yield f"{kit}, {served['tag']}: check says not clean, and fewest hoses leaves {hose['tags']} there"
    for (source, target), plan in answers.changeover.items():
        if plan.get("refused") is not None:
            continue
        words = " ".join(step["text"] for step in plan["steps"])
        for part in plan["parts"]:
            if part["becomes"] in _unclean(answers, target) and part["what"] != "to buy" and "clean" not in words:
                yield f"{target}, {part['becomes']}: check says not clean, and a changeover from {source} is silent"


def _breathing(answers: Answers) -> Iterator[str]:
    """What losses call not breathable at depth comes from a cylinder whose gas check limits."""
    for kit, losses in answers.losses.items():
        limited = [gas for gas in answers.check[kit]["gases"] if gas["deepest_m"] is None or _is_out_of_limits(gas)]
        lost = {tag for loss in losses["losses"] for tag in loss["functions"]["breathing"]["not_breathable"]}
        if lost and not limited:
            yield f"{kit}: losses call {sorted(lost)} not breathable, and check names no gas with a limit"


def _is_out_of_limits(gas: Result) -> bool:
    deepest, to, shallowest, start = (
        gas[key] for key in ("deepest_m", "breathable_to_m", "shallowest_m", "breathable_from_m")
    )
    return to is None or deepest > to or shallowest is None or shallowest < start


def main(folders: list[str]) -> int:
    """Print what contradicts; gives 1 when anything does."""
    found = [
        f"{folder.name}/{sentence}"
        for folder in (map(Path, folders) if folders else FOLDERS)
        for sentence in disagreements(answers_about(folder))
    ]
    print("\n".join(found) or "no two answers contradict each other")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
