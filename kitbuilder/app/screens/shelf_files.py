"""The kit files of a shelf, read and worked out."""

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kitfile.read import read
from kitbuilder.kitfile.reader import ParseResult

if TYPE_CHECKING:
    from kitbuilder.plans.changeover import Changeover, Unbuildable


class KitEntry(NamedTuple):
    """One kit file on the shelf."""

    path: Path
    reading: ParseResult
    assessment: Assessment | None


def read_entry(path: Path) -> KitEntry | None:
    """Read a kit, or a file that might be one; None for a file that says it holds something else."""
    reading = read(path)
    if reading.file is not KIT_FILE:
        return None
    assessment = assess(reading.resolved) if reading.resolved else None
    return KitEntry(path, reading, assessment)


def planned(source: KitEntry, target: KitEntry, day: date) -> "Changeover | Unbuildable":
    """Plan how one kit is rebuilt as another, or say why it cannot be. Loads the solver at the first call."""
    from kitbuilder.plans.changeover import Unbuildable, plan_changeover

    assert source.assessment is not None
    assert target.assessment is not None
    try:
        return plan_changeover(source.assessment, target.assessment, day=target.assessment.kit.header.day or day)
    except Unbuildable as problem:
        return problem
