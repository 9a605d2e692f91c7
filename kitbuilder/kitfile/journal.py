"""Unsaved edits kept beside the file, so that a pulled plug costs nothing already typed.

The journal of `reef.toml` is `.reef.toml.unsaved`. Its first line names the text the edits were made on, so that they
are not mistaken for edits of a file that has changed since.
"""

import contextlib
import hashlib
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Recovered:
    """Edits somebody made and did not save."""

    text: str
    same_base: bool
    """Whether the file is still as it was when they were made."""


def journal_path(path: Path) -> Path:
    """Where the unsaved edits of a file are kept."""
    return path.with_name(f".{path.name}.unsaved")


def write_journal(path: Path, saved: str, text: str) -> None:
    """Keep the edits, if the folder lets us; editing goes on if it does not."""
    with contextlib.suppress(OSError):
        journal_path(path).write_bytes(f"{_base_line(saved)}\n{text}".encode())


def clear_journal(path: Path) -> None:
    """Forget the edits, after a save or on request."""
    with contextlib.suppress(OSError):
        journal_path(path).unlink(missing_ok=True)


def read_journal(path: Path, saved: str) -> Recovered | None:
    """The unsaved edits of a file, or None when there are none that differ from it."""
    try:
        kept = journal_path(path).read_bytes().decode("utf-8")
    except (OSError, UnicodeDecodeError):
        return None
    base, _, text = kept.partition("\n")
    if not base.startswith("# unsaved edits of ") or text == saved:
        return None
    return Recovered(text, base == _base_line(saved))


def _base_line(saved: str) -> str:
    return f"# unsaved edits of {hashlib.sha256(saved.encode()).hexdigest()}"
