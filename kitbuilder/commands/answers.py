"""How every command answers: JSON, cautions after figures, and complaints on standard error."""

import json
from collections.abc import Iterable

from kitbuilder.commands.command import UNREADABLE
from kitbuilder.foreign import visible
from kitbuilder.streams import write_error, write_out


def print_json(data: object) -> None:
    """Print for programs, in ASCII: every encoding can take it, and no character from a file is obeyed."""
    write_out(json.dumps(data, indent=2) + "\n")


def print_cautions() -> None:
    """Print what the tool does not promise, after figures."""
    from textwrap import fill

    from kitbuilder.report.words import CAUTIONS

    write_out(fill(CAUTIONS, 100) + "\n")


def warn(sentence: str) -> None:
    """Say something in one line of standard error, whatever names are in it."""
    write_error(f"{visible(sentence)}\n")


def complain(sentence: str) -> int:
    """Say why nothing is done; gives the exit code for it."""
    warn(f"kitbuilder: {sentence.removesuffix('.')}{'' if sentence.endswith('?') else '.'}")
    return UNREADABLE


def unknown_word(place: str, word: str, known: Iterable[str]) -> str:
    """Say of a word that is not in a list what was found, what is accepted, and what was perhaps meant."""
    from kitbuilder.kitfile.problems import nearest

    accepted = ", ".join(f'"{name}"' for name in known)
    return f'{place}: found "{word}".{nearest(word, known)} Accepted: {accepted}'
