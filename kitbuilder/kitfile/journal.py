"""Unsaved edits kept beside the file, so that a pulled plug costs nothing already typed.

The journal of `reef.toml` is `.reef.toml.unsaved`. Its first line names the text the edits were made on, so that they
are not mistaken for edits of a file that has changed since.
"""

import contextlib
import hashlib
from dataclasses import dataclass
from pathlib import Path

from kitbuilder.kitfile.disk import UnreadableFile, read_text

_MARK = "# unsaved edits of "
"""How every journal begins."""


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
    kept = journal_path(path)
    with contextlib.suppress(OSError):
        if not _is_foreign(kept):
            _beside(kept).write_bytes(f"{_base_line(saved)}\n{text}".encode())
            _beside(kept).replace(kept)


def clear_journal(path: Path) -> None:
    """Forget the edits, after a save or on request."""
    kept = journal_path(path)
    with contextlib.suppress(OSError):
        _beside(kept).unlink(missing_ok=True)
        if not _is_foreign(kept):
            kept.unlink(missing_ok=True)


def read_journal(path: Path, saved: str) -> Recovered | None:
    """The unsaved edits of a file, or None when there are none that differ from it."""
    try:
        kept = read_text(journal_path(path))
    except UnreadableFile:
        return None
    base, _, text = kept.partition("\n")
    if not base.startswith(_MARK) or text == saved:
        return None
    return Recovered(text, base == _base_line(saved))


def _base_line(saved: str) -> str:
    return f"{_MARK}{hashlib.sha256(saved.encode()).hexdigest()}"


def _beside(kept: Path) -> Path:
    """Where a journal is written before it takes the place of the last one, which is whole until then."""
    return kept.with_name(f"{kept.name}.new")


def _is_foreign(kept: Path) -> bool:
    """Whether something stands there that we did not write; it is left alone. A journal cut short is ours."""
    if not kept.exists():
        return False
    if not kept.is_file():
        return True
    with kept.open("rb") as file:
        head = file.read(len(_MARK)).decode("utf-8", "replace")
    return not _MARK.startswith(head)
