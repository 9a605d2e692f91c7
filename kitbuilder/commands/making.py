"""Makes a new kit from answers: the one place that command and app ask."""

import os
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.lead_pieces import Pieces, cast_on
from kitbuilder.catalogue.styles import styles
from kitbuilder.kit.diver import Diver
from kitbuilder.kit.file_kinds import DIVER_FILE, KIT_FILE
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kit.resolved import LinkedFiles, ResolvedKit, resolve
from kitbuilder.kitfile.disk import Over, ends_in, make_folder, remove_file, save_text
from kitbuilder.kitfile.diver_typed import METRIC_UNITS, diver_typed
from kitbuilder.kitfile.folder import free_name
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.read import read
from kitbuilder.kitfile.reader import read_kit
from kitbuilder.kitfile.schemas import put_schema
from kitbuilder.kitfile.starters import Adjusted, Answers, diver_text, kit_text
from kitbuilder.kitfile.values import Refusal
from kitbuilder.plans.new_kit import NewKitPlan, plan_new_kit
from kitbuilder.report.lengths import written_length
from kitbuilder.report.numbers import System
from kitbuilder.report.words import sentence


class WhoDives(NamedTuple):
    """What is said of the diver: an existing file, or keys of a new one. Neither stands for "don't know"."""

    file: str | None = None
    """In the folder of the kit."""
    keys: Mapping[str, str] = {}
    """Such as stature, mass and sex, as a diver file has them."""


class MadeKit(NamedTuple):
    """A new kit that was written."""

    path: Path
    diver: Path | None
    """The diver file that was written with it."""
    assessment: Assessment
    plan: NewKitPlan


def answers_of(given: Mapping[str, str]) -> tuple[Answers, WhoDives]:
    """Give what a kit is made from by the answers to `questions`; an empty one is "don't know"."""
    said = {key: text for key, text in given.items() if text}
    style = said.get("style") or styles().usual_of(LAYOUTS[0]).name
    title = title_of(said["name"])
    answers = Answers(title, style, said.get("suit"), said.get("cylinder"), said.get("water"), said.get("body"))
    return answers, _who(said.get("diver", ""))


def _who(said: str) -> WhoDives:
    """Tell a diver file from a body in one line."""
    if not said or ends_in(said):
        return WhoDives(said or None)
    return WhoDives(None, diver_typed(said, METRIC_UNITS))


BODY_KEYS = ("stature", "mass", "sex")
"""The keys of a diver file that are asked for."""


def title_of(name: str) -> str:
    """Give what a new kit is called, by the name of its file."""
    stem = name[: -len(".toml")] if ends_in(name) else name
    return stem.replace("-", " ").strip() or "New kit"


def make_kit(path: Path, answers: Answers, who: WhoDives, system: System) -> MadeKit:
    """Write a new kit, and a diver file where a body is described. What is there is never overwritten.

    Args:
        path: The kit file.
        answers: What it is made from; the diver file is named by `who`.
        who: The diver.
        system: Units of the lengths and pieces of lead that are written.

    Raises:
        Refusal: A value is not accepted; nothing is written.
        FileExistsError: There is such a file already; nothing is written.
        OSError: The disk refused; nothing is left behind.
    """
    diver, name = _diver_of(path.parent, who)
    answers = answers._replace(diver=name)
    text, plan = _worked_out(path, answers, diver, system)
    beside = path.with_name(name) if name and who.keys else None
    if os.path.lexists(path):
        raise FileExistsError(17, "a file with this name exists already", str(path))
    make_folder(path.parent)
    if beside:
        save_text(beside, diver_text(who.keys), Over.NOTHING)
    try:
        save_text(path, text, Over.NOTHING)
    except OSError:
        if beside:
            remove_file(beside, diver_text(who.keys))
        raise
    for file in (KIT_FILE, DIVER_FILE) if beside else (KIT_FILE,):
        put_schema(path.parent, file)
    return MadeKit(path, beside, assess(_resolved(path, text, diver)), plan)


DOUBTS = {"cylinder": "lighter than its metal", "diver": "body measures"}
"""The rule that takes the answer to a question for a slip."""


def doubt_of(given: Mapping[str, str], asked: str, folder: Path, system: System) -> str:
    """Say why the answer to a question is unlikely, by the same rules as a finding; nothing where it is not.

    Args:
        given: The answers so far; an empty one is "don't know".
        asked: The key of the question.
        folder: Where the diver files are.
        system: The reader's units.
    """
    if asked not in DOUBTS or not given[asked]:
        return ""
    answers, who = answers_of({"name": "x", **given})
    diver, _ = _diver_of(folder, who)
    found = assess(_resolved(folder, kit_text(answers), diver)).findings
    doubts = (sentence(finding.what, system) for finding in found if finding.rule == DOUBTS[asked])
    return next(doubts, "")


def _diver_of(folder: Path, who: WhoDives) -> tuple[Diver | None, str | None]:
    """Give the diver, and the file that the kit names.

    Raises:
        Refusal: The file cannot be used, or a value is not accepted.
    """
    if who.file is not None:
        found = read(folder / who.file, DIVER_FILE) if Path(who.file).name == who.file else None
        if found is None:
            raise Refusal(f'diver: found "{who.file}"', 'Name a diver file in the same folder, such as "diver.toml".')
        if found.diver is None:
            problem = found.problems[0]
            raise Refusal(f"diver: {who.file}: {problem.found}", problem.accepted)
        return found.diver, who.file
    if not who.keys:
        return None, None
    return override_diver(None, who.keys), free_name(folder, "diver")


def _worked_out(path: Path, answers: Answers, diver: Diver | None, system: System) -> tuple[str, NewKitPlan]:
    """Give the text with lengths and lead that suit the diver, and the plan of the kit as it then is."""
    plan = plan_new_kit(assess(_resolved(path, kit_text(answers), diver)))
    lengths = {tag: written_length(length_m, system) for tag, length_m in plan.lengths_m.items()}
    pieces = plan.lead.imperial if plan.lead and system is System.IMPERIAL else plan.lead and plan.lead.metric
    text = kit_text(answers, Adjusted(lengths, _as_written(pieces) if pieces else None))
    exposure = answers.exposure or styles().styles[answers.style].exposure
    return text, plan_new_kit(assess(_resolved(path, text, diver)), exposure)


def _as_written(pieces: Pieces) -> tuple[tuple[str, int], ...]:
    return tuple((cast_on(size_kg), count) for size_kg, count in pieces.counts)


def _resolved(path: Path, text: str, diver: Diver | None) -> ResolvedKit:
    reading = read_kit(text)
    assert reading.kit is not None, "a new kit reads, whatever was answered"
    return resolve(reading.kit, LinkedFiles(path.name, diver), reading.lines)
