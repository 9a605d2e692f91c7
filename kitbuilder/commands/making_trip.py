"""Makes a new trip from answers: the one place that command and app ask."""

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

from kitbuilder.kit.file_kinds import TRIP_FILE
from kitbuilder.kit.resolved import ResolvedKit
from kitbuilder.kitfile.disk import complain_of_path, ends_in, path_typed, with_ending
from kitbuilder.kitfile.folder import free_name
from kitbuilder.kitfile.new_trip import TripAnswers, trip_text
from kitbuilder.kitfile.schemas import save_new
from kitbuilder.report.new_trip_questions import trip_answers


def free_trip_name(folder: Path, kits: Sequence[str]) -> str:
    """Give a file name that nothing in a folder has yet: "trip-twinset.toml" for one kit, else "trip.toml"."""
    stem = kits[0][: -len(".toml")] if len(kits) == 1 and ends_in(kits[0]) else ""
    return free_name(folder, f"trip-{stem}" if stem else "trip")


def complain_of_new(typed: str) -> str | None:
    """Say why no new trip can be written where somebody typed, and what to do; None where one can."""
    path = path_typed(Path(), typed)
    if path.is_dir():
        free = Path(typed) / free_name(path, "my-trip")
        return f'{typed}: this is a folder. Nothing was written. Name the new file in it, such as "{free}"'
    file = with_ending(typed)
    wrong = complain_of_path(Path(), file)
    if wrong is None:
        return None
    folder = Path(file).parent
    # A folder that is not there has its own advice.
    other = f'. Name another file, such as "{folder / free_name(folder, "my-trip")}"' if folder.is_dir() else ""
    return f"{file}: {wrong}. Nothing was written{other}"


def kit_beside(folder: Path, typed: str) -> str | None:
    """Give the name of a kit in the folder of a trip, also where it was typed with that folder; None for another."""
    path = Path(with_ending(typed))
    is_there = path.parent in (Path(), folder) or path_typed(Path(), str(path.parent)).resolve() == folder.resolve()
    return path.name if is_there else None


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
