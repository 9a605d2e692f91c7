"""Whether files were written since they were read: a cheap look, without reading them."""

import os
from collections.abc import Iterable, Mapping
from pathlib import Path

Stamp = tuple[int, int, int]
"""When a file was written [ns], its size [bytes], and its number on the disk, which changes when it is replaced."""


def stamps_of(paths: Iterable[Path]) -> dict[Path, Stamp | None]:
    """Give the stamp of each file; None for one that is not there."""
    return {path: _stamp(path) for path in paths}


def stamps_in(folder: Path) -> dict[Path, Stamp | None]:
    """Give the stamps of all files of a folder, journals of unsaved edits among them; none when it cannot be read."""
    try:
        with os.scandir(folder) as found:
            return stamps_of([folder / each.name for each in found])
    except OSError:
        return {}


def changed_since(before: Mapping[Path, Stamp | None], now: Mapping[Path, Stamp | None]) -> frozenset[Path]:
    """List the files that were written, came or went between two looks."""
    return frozenset(path for path in {*before, *now} if before.get(path) != now.get(path))


def _stamp(path: Path) -> Stamp | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size, found.st_ino
