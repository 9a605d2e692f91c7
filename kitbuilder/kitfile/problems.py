"""What is wrong with a file: where, what was found, what is accepted and what to do."""

from collections.abc import Iterable
from difflib import get_close_matches
from typing import NamedTuple


class Problem(NamedTuple):
    """One reason why a file cannot be read as a kit."""

    line: int | None
    """None when no line can be named honestly."""
    place: str
    """The item and the key, as the file calls them; empty for the file as a whole."""
    found: str
    accepted: str

    @property
    def value(self) -> str:
        """What was found, for programs: a value as the file writes it, without "found"; else what is wrong in words."""
        return self.found.removeprefix("found ")

    def __str__(self) -> str:
        place = f"{self.place}: " if self.place else ""
        return f"{place}{self.found}. {self.accepted}"

    def located(self, file: str) -> str:
        """Give the problem with its file and line in front: `reef.toml:14: hose "long", length: ...`."""
        where = f"{file}:{self.line}" if self.line else file
        return f"{where}: {self}"


def nearest(word: str, known: Iterable[str]) -> str:
    """Hint at the known word that was probably meant; empty when none is near."""
    by_lower = {candidate.lower(): candidate for candidate in known}
    close = get_close_matches(word.lower(), by_lower, n=1, cutoff=0.55)
    return f' Did you mean "{by_lower[close[0]]}"?' if close else ""
