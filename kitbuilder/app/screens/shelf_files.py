"""The kit files of a shelf, read and worked out."""

from pathlib import Path
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kitfile.read import read
from kitbuilder.kitfile.reader import ParseResult


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
