"""The files of a shelf: kits, read and worked out, and trips, which are only read."""

from pathlib import Path
from typing import NamedTuple

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.kit.file_kinds import KIT_FILE, TRIP_FILE
from kitbuilder.kitfile.read import read_written, resolve_at
from kitbuilder.kitfile.reader import ParseResult


class KitEntry(NamedTuple):
    """One kit file on the shelf."""

    path: Path
    reading: ParseResult
    assessment: Assessment | None


class TripEntry(NamedTuple):
    """One trip file on the shelf. Packing it takes longer than a shelf may: that waits until it is opened."""

    path: Path
    reading: ParseResult


def read_entry(path: Path) -> KitEntry | TripEntry | None:
    """Read a kit or a trip, or a file that might be a kit; None for a file that says it holds something else."""
    reading = read_written(path)
    if reading.file is TRIP_FILE:
        return TripEntry(path, reading)
    if reading.file is not KIT_FILE:
        return None
    kit = resolve_at(path, reading.kit, reading.lines) if reading.kit else None
    return KitEntry(path, reading, assess(kit) if kit else None)
