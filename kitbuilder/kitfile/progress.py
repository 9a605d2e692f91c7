"""The ticked steps of a checklist, kept beside the kits, so that a power cut loses no tick.

The ticks of the changeover from `a.toml` to `b.toml` are `.a.toml--b.toml.ticks`: a line a step, each by its own
sentence, so that a step that a later edit of a kit changes is simply not ticked any more.
"""

import contextlib
import os
from collections.abc import Iterable
from pathlib import Path

from kitbuilder.kitfile.disk import UnreadableFile, read_text, remove_file, save_text

_HEAD = "# ticked steps; kitbuilder writes this file"


def ticks_path(source: Path, target: Path) -> Path:
    """Say where the ticks of a changeover are kept: beside the kit that is to be built."""
    return target.with_name(f".{source.name}--{target.name}.ticks")


def read_progress(path: Path) -> frozenset[str]:
    """Give the sentences of the ticked steps; none when there is no such file, or one that we did not write."""
    try:
        head, *lines = read_text(path, follow=False).splitlines()
    except (UnreadableFile, ValueError):
        return frozenset()
    return frozenset(line for line in lines if line) if head == _HEAD else frozenset()


def write_progress(path: Path, ticked: Iterable[str]) -> bool:
    """Keep the ticks. False when the folder does not let us; ticking goes on."""
    if os.path.lexists(path) and not _is_ours(path):
        return False
    try:
        save_text(path, "\n".join([_HEAD, *ticked, ""]))
    except OSError:
        return False
    return True


def clear_progress(path: Path) -> None:
    """Delete the ticks, so that the checklist starts again."""
    with contextlib.suppress(OSError):
        remove_file(path, _HEAD)


def _is_ours(path: Path) -> bool:
    try:
        return read_text(path, follow=False).startswith(_HEAD)
    except UnreadableFile:
        return False
