"""The questions from which a new kit is made: one after the other, each with a usual answer and a "don't know"."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.styles import styles
from kitbuilder.kit.diver import DiverHeader
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.file_kinds import DIVER_FILE
from kitbuilder.kitfile.choices import choices_for
from kitbuilder.kitfile.disk import complain_of_name, with_ending
from kitbuilder.kitfile.folder import files_holding, free_name
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.starters import TYPED_CYLINDER, bodies, cylinder_values, usual_cylinder, waters
from kitbuilder.kitfile.values import Refusal
from kitbuilder.report.form import Choice

UNKNOWN = "don't know"
"""The word that leaves a question open; its answer is empty."""
ANOTHER_DIVER = "another diver"
"""The word after which the body is asked for."""

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
    complain: Callable[[str], str | None] | None = None
    """Says what is wrong with a text that is typed and no choice; None where only choices are accepted."""


def divers_of(folder: Path) -> tuple[str, ...]:
    """Name the diver files of a folder."""
    return files_holding(folder, DIVER_FILE.name)


def questions(given: Given, folder: Path, divers: tuple[str, ...]) -> tuple[Question, ...]:
    """Give the questions as far as the answers say which there are; an answer can add further ones.

    Args:
        given: The answers so far.
        folder: Where the kit will be.
        divers: Its diver files.
    """
    is_described = not divers or given.get("diver") == ANOTHER_DIVER
    body = (_body("stature", "178 cm"), _body("mass", "82 kg"), _sex()) if is_described else ()
    return (
        _style(),
        _suit(given),
        _cylinder(given),
        _water(),
        *((_diver(divers),) if divers else ()),
        *body,
        _hoses(),
        _name(given, folder),
    )


def _style() -> Question:
    choices = [Choice(style.name, style.note) for style in styles().styles.values()]
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
    choices = [Choice(exposure.name, exposure.note) for exposure in known.exposures.values()]
    return Question(
        "suit",
        "What keeps you warm",
        "Choose what comes nearest. It decides most of the lead.",
        (*choices, Choice(UNKNOWN, f"takes {usual}")),
        usual,
    )


def _cylinder(given: Given) -> Question:
    usual = usual_cylinder(given.get("style") or None, given.get("suit") or None)
    choices = [Choice(name, "") for name in catalogue().cylinders]
    return Question(
        "cylinder",
        "Which cylinder",
        f'Choose one, or type what is stamped on it: "{TYPED_CYLINDER}".',
        (*choices, Choice(UNKNOWN, f"takes {usual}")),
        usual,
        _complaint(cylinder_values),
    )


def _water() -> Question:
    choices = tuple(Choice(name, "") for name in waters())
    return Question("water", "Which water", "Where you dive most.", (*choices, Choice(UNKNOWN, "takes ocean")), "ocean")


def _diver(divers: tuple[str, ...]) -> Question:
    choices = (
        *(Choice(name, "a diver file of this folder") for name in divers),
        Choice(ANOTHER_DIVER, "asks for stature, mass and sex, and makes a diver file"),
        Choice(UNKNOWN, "takes a diver between small and large; the lead is then less certain"),
    )
    return Question("diver", "Who dives", "Choose the diver who wears this kit.", choices, divers[0])


def _body(key: str, example: str) -> Question:
    def complain(text: str) -> str | None:
        return _complaint(lambda typed: override_diver(None, {key: typed}))(text)

    help_text = f'Type it with its unit, such as "{example}". Enter alone leaves it open.'
    title = f"{'Body height' if key == 'stature' else 'Body mass'} of the diver"
    return Question(key, title, help_text, (Choice(UNKNOWN, "takes a usual one"),), UNKNOWN, complain)


def _sex() -> Question:
    words = choices_for(field_named(DiverHeader, "sex"), "")
    choices = (*(Choice(word, "") for word in words), Choice(UNKNOWN, "takes the middle of both"))
    return Question("sex", "Sex of the diver", "For the estimates of body and buoyancy.", choices, UNKNOWN)


def _hoses() -> Question:
    choices = (*(Choice(body, "") for body in bodies()), Choice(UNKNOWN, "takes what is usual for each hose"))
    return Question("body", "What the hoses are made of", "Choose the body of the hoses.", choices, UNKNOWN)


def _name(given: Given, folder: Path) -> Question:
    style = given.get("style") or next(iter(styles().styles))
    free = free_name(folder, f"my-{style.replace(',', '').replace(' ', '-')}").removesuffix(".toml")

    def complain(text: str) -> str | None:
        wrong = complain_of_name(folder, with_ending(text))
        return wrong and f'{wrong}. For example: "{free}"'

    return Question("name", "Name of the file", "Type a name; .toml is added.", (), free, complain)


def _complaint(read: Callable[[str], object]) -> Callable[[str], str | None]:
    """Turn what raises a refusal into what gives its sentence."""

    def complain(text: str) -> str | None:
        try:
            read(text)
        except Refusal as refusal:
            sentence = str(refusal)
            return sentence[0].upper() + sentence[1:]
        return None

    return complain
