"""An old word in a file: read as before, and named with the word that has replaced it."""

from typing import NamedTuple


class OldWord(NamedTuple):
    """One place where a file says an old word."""

    key: str
    """The key as it is called now; it leads to the line."""
    found: str
    """What the file says."""
    accepted: str
    """What to write instead."""
