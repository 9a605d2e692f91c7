"""The answer of a command: the files it read, the problems with them, and the page. Every renderer takes one."""

from datetime import date
from typing import NamedTuple

from kitbuilder.assess.gear.due import format_day
from kitbuilder.report.page import Page

FORMAT = 1
"""The version of JSON answers, in each and in the names of their schemas; what could break a reader raises it."""


class FileRead(NamedTuple):
    """A file that a command was given and could read."""

    file: str
    """As it was given."""
    holds: str
    """"kit", "diver", "stock" or "gear"."""
    name: str
    """What the file calls itself."""


class Complaint(NamedTuple):
    """What keeps a file, a part of it, or an argument from being used."""

    file: str | None
    """As it was given; None where it is not about one file."""
    line: int | None
    place: str
    """The item and the key, or the argument; empty for the file as a whole."""
    found: str
    """A value as it was written, or what is wrong in words."""
    accepted: str
    """What is accepted, and what to do."""
    message: str
    """All of it, as standard error has it."""


class Answer(NamedTuple):
    """The answer of one command."""

    command: str
    files: tuple[FileRead, ...]
    problems: tuple[Complaint, ...]
    page: Page | None
    """None when nothing could be worked out: the problems say why."""
    about: str = ""
    """What it is, for the head of a document: "Two kits side by side"."""
    made: date | None = None
    """The day, for the head of a document; None for what is only printed."""


MOST_NAMES = 3
"""Files that the title names; of more it says how many there are."""


class DocumentHead(NamedTuple):
    """What stands at the head of a document."""

    title: str
    """What the files call themselves, else what the answer is."""
    below: str
    """What the answer is, and the day; empty for neither."""


def document_head(answer: Answer) -> DocumentHead:
    """Give the head of a document, as each form for people has it."""
    title = _names(answer) or answer.about or "kitbuilder"
    about = "" if answer.about == title else answer.about
    day = format_day(answer.made) if answer.made else ""
    return DocumentHead(title, " · ".join(filter(None, (about, day))))


def _names(answer: Answer) -> str:
    names = list(dict.fromkeys(read.name for read in answer.files))
    if len(names) > MOST_NAMES:
        return f"{names[0]} and {len(names) - 1} more"
    return " · ".join(names)
