"""Makes a new trip from answers: the one place that command and app ask."""

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from kitbuilder.kit.file_kinds import TRIP_FILE
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.disk import ends_in
from kitbuilder.kitfile.folder import free_name
from kitbuilder.kitfile.new_trip import TripAnswers, trip_text
from kitbuilder.kitfile.schemas import save_new
from kitbuilder.report.new_trip_questions import trip_answers


def free_trip_name(folder: Path, kits: Sequence[str]) -> str:
    """Give a file name that nothing in a folder has yet: "trip-twinset.toml" for one kit, else "trip.toml"."""
    stem = kits[0][: -len(".toml")] if len(kits) == 1 and ends_in(kits[0]) else ""
    return free_name(folder, f"trip-{stem}" if stem else "trip")


def make_trip(path: Path, name: str, kits: Sequence[tuple[str, ResolvedKit]], given: Mapping[str, str]) -> TripAnswers:
    """Write a new trip, and give what it was made from. What is there is never overwritten.

    Args:
        path: The trip file, in the folder of the kits.
        name: What the trip is called.
        kits: Those that travel, each with its file.
        given: The answers by the key of their question, as `Question.read` gives them; empty for "don't know".

    Raises:
        FileExistsError: There is such a file already; nothing is written.
        OSError: The disk refused; nothing is left behind.
    """
    answers = trip_answers(name, kits, given)
    if os.path.lexists(path):
        raise FileExistsError(17, "a file with this name exists already", str(path))
    save_new(path, trip_text(answers), TRIP_FILE)
    return answers
