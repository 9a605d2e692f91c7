"""Everyday words, from `everyday_words.toml`: how divers also call what the catalogue has. Read for a search.

Every list that is searched goes through here, so that a word finds the same in the app and on the command line.
"""

from collections.abc import Collection, Mapping, Sequence
from functools import lru_cache
from typing import NamedTuple

from kitbuilder.catalogue.load import FOLDER
from kitbuilder.catalogue.table import read_catalogue_file
from kitbuilder.word_search import Entry, pieces, search

FILE = "everyday_words.toml"
EVERY = "every"
"""The table that counts for all lists."""
MOST_CANDIDATES = 6
"""A longer list of words that may be meant is not read."""

MOST_PRINTED = 12
"""The words of a longer list are not all printed in a message."""


class Meant(NamedTuple):
    """What was meant by the words somebody typed."""

    word: str | None
    """The one word of the list that they fit; None where there is none, or where it is not certain which."""
    candidates: tuple[str, ...]
    """Words that may be meant, the likeliest first, at most `MOST_CANDIDATES`."""
    more: int = 0
    """How many further words may be meant."""


@lru_cache(maxsize=1)
def everyday_words() -> Mapping[str, Mapping[str, tuple[str, ...]]]:
    """Give the words of each list, by the phrase that stands in names of it.

    Raises:
        CatalogueError: The file contradicts itself.
    """
    document = read_catalogue_file(FOLDER / FILE)
    lists = {name: document.table(name) for name in document}
    return {name: {phrase: tuple(table.texts(phrase)) for phrase in table} for name, table in lists.items()}


def entry_of(list_name: str, names: tuple[str, ...], note: str = "") -> Entry:
    """Make an entry of a list to search in: with the everyday words of its names.

    Args:
        list_name: A table of the file, such as the kind of an item; a list without everyday words has none there.
        names: What it is called; the kind of an item is one of its names.
        note: What is said of it.
    """
    known = everyday_words()
    phrases = {**known[EVERY], **known.get(list_name, {})}
    standing = [phrase for phrase in phrases if any(_stands_in(phrase, name) for name in names)]
    # The phrase itself is a name too: a back-up torch is a torch, as much as what is called one every day.
    return Entry((*names, *(word for phrase in standing for word in (phrase, *phrases[phrase]))), note)


def find_word(list_name: str, typed: str, words: Sequence[str]) -> Meant:
    """Find the word of a list that somebody means.

    Args:
        list_name: A table of the file.
        typed: What was typed.
        words: The words that are accepted.
    """
    by_letters = {_spelled(word): word for word in words}
    if (exact := by_letters.get(_spelled(typed))) or not typed.strip():
        return Meant(exact, (exact,) if exact else ())
    found = search(typed, _entries(list_name, words))
    sure = [words[each.number] for each in found if each.is_sure]
    if len(sure) == 1:
        return Meant(sure[0], (sure[0],))
    # Sure ones alone, where there are some: "steel 12" means no cylinder of 120 L.
    near = sure or [words[each.number] for each in found] or _with_most_words(list_name, typed, words)
    return Meant(None, tuple(near[:MOST_CANDIDATES]), max(len(near) - MOST_CANDIDATES, 0))


def accepted_words(meant: Meant, words: Sequence[str]) -> str:
    """Say what is accepted in place of what somebody typed, and before that what was perhaps meant.

    A long list is not printed: its candidates, or an example, help more.
    """
    perhaps = perhaps_meant(meant).lstrip()
    if len(words) > MOST_PRINTED:
        return perhaps or f'Example: "{words[0]}".'
    accepted = ", ".join(f'"{word}"' for word in words)
    return f"{perhaps} Accepted: {accepted}.".lstrip()


def perhaps_meant(meant: Meant) -> str:
    """Ask for the words that were perhaps meant, a blank before the question; empty when there are none."""
    if not meant.candidates:
        return ""
    named = [f'"{word}"' for word in meant.candidates] + [f"one of {meant.more} more"] * bool(meant.more)
    *most, last = named
    return f" Did you mean {', '.join(most)}{' or ' if most else ''}{last}?"


def _entries(list_name: str, words: Collection[str]) -> list[Entry]:
    """Make entries of the words of a list; what the list holds may be typed with them: "fresh water"."""
    return [entry_of(list_name, (word, list_name)) for word in words]


def _with_most_words(list_name: str, typed: str, words: Collection[str]) -> list[str]:
    """Give the words of a list that fit some of what was typed: those that fit most of it."""
    entries = _entries(list_name, words)
    fits = [each.number for piece in pieces(typed) for each in search(piece, entries)]
    most = max(map(fits.count, fits), default=0)
    return [word for number, word in enumerate(words) if most and fits.count(number) == most]


def _stands_in(phrase: str, name: str) -> bool:
    """Say whether the words of a phrase stand in a name one after the other."""
    return f" {' '.join(pieces(phrase))} " in f" {' '.join(pieces(name))} "


def _spelled(text: str) -> str:
    return " ".join(text.casefold().split())
