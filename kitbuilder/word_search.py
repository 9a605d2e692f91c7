"""Finds entries by the words a person types: in any letter case, singular or plural, with one typing error.

This is the one search of the program. It knows words only; what the entries are is for its callers to know.
"""

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import NamedTuple

NAME, REST, NOTE = range(3)
"""Where a word was found, the best place first: in a name, behind the first comma of one, in a note."""
EXACT, BEGINNING, MISTYPED, NEAR = range(4)
"""How a word fits, the best first: completely, as the beginning of a word, with one typing error, as a near number."""
ERROR_FROM_LETTERS = 4
"""A shorter word with one letter changed is mostly another word."""
NEAR_NUMBER = 0.1
"""A number this much larger or smaller is near, as parts of the larger of the two: 11 L is near 11.1 L and 12 L."""
LEFT_OUT = frozenset(("a", "an", "and", "for", "in", "of", "or", "the", "with"))
"""Words that say nothing about what is meant."""

_PIECE = re.compile(r"[0-9]+(?:[.,][0-9]+)?|[^\W0-9_]+")


class Entry(NamedTuple):
    """Something that can be found."""

    names: tuple[str, ...]
    """What it is called. What follows the first comma of a name counts less."""
    note: str = ""
    """What is said of it; a word found here counts least."""


class Found(NamedTuple):
    """An entry that fits what was typed."""

    number: int
    """Its place among the entries."""
    is_sure: bool
    """Whether every word fits its names completely, without an error."""


def search(typed: str, entries: Sequence[Entry]) -> tuple[Found, ...]:
    """Give the entries that fit every word typed, the best first; all of them when nothing is typed.

    Names come before notes, and complete words before beginnings. Typing errors are allowed only when no entry fits
    without one, and near numbers only when none fits with one. Entries that fit equally well stay in their order.
    """
    wanted, known = pieces(typed), [_known(entry) for entry in entries]
    ranked = sorted(
        next(filter(None, (_ranked(wanted, known, last_way) for last_way in (BEGINNING, MISTYPED, NEAR))), [])
    )
    return tuple(Found(number, rank.worst_place <= REST and rank.worst_way == EXACT) for rank, number in ranked)


@lru_cache(maxsize=8192)
def pieces(text: str) -> tuple[str, ...]:
    """Divide a text into its words and numbers: "AL80 tanks" into "al", "80" and "tank"."""
    found = (_reduced(piece) for piece in _PIECE.findall(text.casefold()))
    return tuple(piece for piece in found if piece not in LEFT_OUT)


def _reduced(piece: str) -> str:
    """Give a number without needless digits, a word without the ending of its plural."""
    if _is_number(piece):
        return f"{float(piece.replace(',', '.')):g}"
    if piece.endswith("ies") and len(piece) > len("dies"):
        return f"{piece[:-3]}y"
    if piece.endswith(("ches", "shes", "sses", "xes")):
        return piece[:-2]
    return piece[:-1] if len(piece) > len("bus") and piece.endswith("s") and not piece.endswith("ss") else piece


def _is_number(piece: str) -> bool:
    """Say whether a piece is a number; other digits than ours, such as raised ones, count as letters."""
    return "0" <= piece[0] <= "9"


class _Known(NamedTuple):
    """The words of an entry."""

    names: tuple[tuple[str, ...], ...]
    """Each name up to its first comma."""
    by_place: tuple[tuple[str, ...], tuple[str, ...], tuple[str, ...]]


class _Fit(NamedTuple):
    """How well one word typed fits an entry; less is better."""

    way: int
    place: int
    distance: float = 0.0


class _Rank(NamedTuple):
    """How well everything typed fits an entry; less is better."""

    worst_place: int
    worst_way: int
    words_outside: int
    """How many of the words typed stand outside the longest name that is typed completely."""
    distance: float


@lru_cache(maxsize=4096)
def _known(entry: Entry) -> _Known:
    names = tuple(pieces(name.partition(",")[0]) for name in entry.names)
    rest = pieces(" ".join(name.partition(",")[2] for name in entry.names))
    return _Known(names, (tuple(piece for name in names for piece in name), rest, pieces(entry.note)))


def _ranked(wanted: tuple[str, ...], known: Sequence[_Known], last_way: int) -> list[tuple[_Rank, int]]:
    """Give the numbers of the entries that fit every word, by the ways up to a last one, with how well they fit."""
    ranked = []
    for number, entry in enumerate(known):
        fits = [fit for piece in wanted if (fit := _fit(piece, entry, last_way))]
        if len(fits) == len(wanted):
            ranked.append((_rank(fits, wanted, entry), number))
    return ranked


def _fit(piece: str, entry: _Known, last_way: int) -> _Fit | None:
    """Give the best fit of a word, in the best place, by the ways up to a last one."""
    for way in range(last_way + 1):
        for place, words in enumerate(entry.by_place):
            distances = [distance for word in words if (distance := _WAYS[way](piece, word)) is not None]
            if distances:
                return _Fit(way, place, min(distances))
    return None


def _rank(fits: Sequence[_Fit], wanted: tuple[str, ...], entry: _Known) -> _Rank:
    return _Rank(
        max((fit.place for fit in fits), default=NAME),
        max((fit.way for fit in fits), default=EXACT),
        len(wanted) - max((len(name) for name in entry.names if set(name) <= set(wanted)), default=0),
        sum(fit.distance for fit in fits),
    )


def _exactly(piece: str, word: str) -> float | None:
    return 0.0 if piece == word else None


def _as_beginning(piece: str, word: str) -> float | None:
    return 0.0 if word.startswith(piece) else None


def _mistyped(piece: str, word: str) -> float | None:
    if _is_number(piece) or _is_number(word) or len(piece) < ERROR_FROM_LETTERS:
        return None
    return 1.0 if _has_one_error(piece, word) else None


def _number_off(piece: str, word: str) -> float | None:
    if not (_is_number(piece) and _is_number(word)):
        return None
    typed, known = float(piece), float(word)
    off = abs(typed - known) / max(typed, known, 1e-9)
    return off if off <= NEAR_NUMBER else None


@lru_cache(maxsize=16384)
def _has_one_error(piece: str, word: str) -> bool:
    """Say whether a word, or its beginning, was typed with one letter too many, too few, wrong or moved."""
    return any(_is_one_off(piece, word[:length]) for length in {len(piece) - 1, len(piece), len(piece) + 1, len(word)})


def _is_one_off(one: str, other: str) -> bool:
    """Say whether one letter makes one word of the other, or two neighbours that change places."""
    start = next((at for at, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    one, other = one[start:], other[start:]
    swapped = one[:2] == other[1::-1] and one[2:] == other[2:]
    return one[1:] == other or one == other[1:] or one[1:] == other[1:] or (len(one) > 1 and swapped)


_WAYS: tuple[Callable[[str, str], float | None], ...] = (_exactly, _as_beginning, _mistyped, _number_off)
