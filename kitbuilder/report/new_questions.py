"""The questions from which a new kit is made: one after the other, each with a usual answer and a "don't know"."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.styles import styles
from kitbuilder.kit.file_kinds import DIVER_FILE
from kitbuilder.kitfile.cylinder_typed import RATED_CYLINDER, TYPED_CYLINDER, cylinder_values, cylinders_near
from kitbuilder.kitfile.disk import complain_of_name, with_ending
from kitbuilder.kitfile.diver_typed import IMPERIAL_DIVER, IMPERIAL_UNITS, METRIC_UNITS, TYPED_DIVER, diver_typed
from kitbuilder.kitfile.folder import files_holding, free_name
from kitbuilder.kitfile.starters import bodies, usual_cylinder, waters
from kitbuilder.kitfile.values import Refusal
from kitbuilder.report.form import Choice
from kitbuilder.report.numbers import System

UNKNOWN = "don't know"
"""The word that leaves a question open; its answer is empty."""
Given = Mapping[str, str]
"""The answers so far, by the key of their question; empty for "don't know"."""


class Question(NamedTuple):
    """One question."""

    key: str
    title: str
    help: str
    """What to do, in a line."""
    choices: tuple[Choice, ...] = ()
    usual: str = ""
    """The word that is under the cursor at first; or the text that stands in the line, where there are no choices."""
    read: Callable[[str], str] | None = None
    """Gives what is taken of a text that is typed and no choice, with every unit; raises a `Refusal` that says what is
    wrong with it. None where only choices are accepted."""
    near: Callable[[str], tuple[str, ...]] | None = None
    """Names the choices that are perhaps meant by a text that fits none by its words; None where there is no such."""


def divers_of(folder: Path) -> tuple[str, ...]:
    """Name the diver files of a folder."""
    return files_holding(folder, DIVER_FILE.name)


def questions(given: Given, folder: Path, divers: tuple[str, ...], system: System) -> tuple[Question, ...]:
    """Give the questions; the usual answer of one may depend on the answers before it.

    Args:
        given: The answers so far.
        folder: Where the kit will be.
        divers: Its diver files.
        system: The reader's units: those of numbers without a unit.
    """
    return (
        _style(),
        _suit(given),
        _cylinder(given),
        _water(),
        _diver(divers, system),
        _hoses(),
        _name(given, folder),
    )


def _style() -> Question:
    choices = [Choice(style.name, style.note, "style") for style in styles().styles.values()]
    first = choices[0].word
    return Question(
        "style",
        "What is it",
        "Choose what comes nearest; everything can be changed later.",
        (*choices, Choice(UNKNOWN, f"takes {first}")),
        first,
    )


def _suit(given: Given) -> Question:
    known = styles()
    usual = (known.styles[given["style"]] if given.get("style") else next(iter(known.styles.values()))).exposure
    choices = [Choice(exposure.name, exposure.note, "suit") for exposure in known.exposures.values()]
    return Question(
        "suit",
        "What keeps you warm",
        "Choose what comes nearest. It decides most of the lead.",
        (*choices, Choice(UNKNOWN, f"takes {usual}")),
        usual,
    )


def _cylinder(given: Given) -> Question:
    usual = usual_cylinder(given.get("style") or None, given.get("suit") or None)
    choices = [Choice(name, "", "cylinder") for name in catalogue().cylinders]
    return Question(
        "cylinder",
        "Which cylinder",
        f'Choose one, or type what is stamped on it: "{TYPED_CYLINDER}" or "{RATED_CYLINDER}".',
        (*choices, Choice(UNKNOWN, f"takes {usual}")),
        usual,
        _cylinder_taken,
        cylinders_near,
    )


def _water() -> Question:
    choices = tuple(Choice(name, "", "water") for name in waters())
    return Question("water", "Which water", "Where you dive most.", (*choices, Choice(UNKNOWN, "takes ocean")), "ocean")


def _cylinder_taken(typed: str) -> str:
    values = cylinder_values(typed)
    if " at " in str(values.get("volume")):
        del values["working_pressure"]  # the rated capacity has it already
    return " ".join(map(str, values.values()))


def _diver(divers: tuple[str, ...], system: System) -> Question:
    choices = (
        *(Choice(name, "a diver file of this folder") for name in divers),
        Choice(UNKNOWN, "takes a usual body; the lead is then less certain"),
    )
    units, example = (IMPERIAL_UNITS, IMPERIAL_DIVER) if system is System.IMPERIAL else (METRIC_UNITS, TYPED_DIVER)
    or_choose = "Choose a diver file, or type" if divers else "Type"

    def taken(typed: str) -> str:
        return ", ".join(diver_typed(typed, units).values())

    return Question(
        "diver",
        "Who dives",
        f'{or_choose} stature (body height), mass and sex: "{example}". Each may be left out.',
        choices,
        choices[0].word,
        taken,
    )


def _hoses() -> Question:
    choices = (*(Choice(body, "", "body") for body in bodies()), Choice(UNKNOWN, "takes what is usual for each hose"))
    return Question("body", "What the hoses are made of", "Choose the body of the hoses.", choices, UNKNOWN)


def _name(given: Given, folder: Path) -> Question:
    style = given.get("style") or next(iter(styles().styles))
    free = free_name(folder, f"my-{style.replace(',', '').replace(' ', '-')}").removesuffix(".toml")

    def taken(typed: str) -> str:
        if wrong := complain_of_name(folder, with_ending(typed)):
            raise Refusal(wrong, f'For example: "{free}"')
        return with_ending(typed)

    return Question("name", "Name of the file", "Type a name; .toml is added.", (), free, taken)
