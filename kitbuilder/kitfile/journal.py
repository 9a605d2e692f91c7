"""Unsaved edits kept on the disk, so that a power cut loses nothing already typed.

The journal of `reef.toml` is `.reef.toml.4f0c91d2.unsaved`, where the middle is drawn at random by each running app: a
second app on the same file keeps a journal of its own, and nobody can put a link under its name beforehand. Where the
folder cannot be written, the journal goes to the folder in which the system keeps the state of programs. Its first line
names the text the edits were made on, so that they are not mistaken for edits of a file that has changed since.

The app that writes a journal holds it (see `held`). One that nobody holds was left by an app that crashed: its edits
are offered, and it is deleted when the person has taken them up or dropped them.
"""

import contextlib
import hashlib
import os
import re
import secrets
import weakref
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path

from kitbuilder.kitfile.disk import (
    UnreadableFile,
    make_private_folder,
    open_regular,
    read_text,
    remove_file,
    rename_file,
    save_held,
)
from kitbuilder.kitfile.held import is_held

_MARK = "# unsaved edits of "
"""How every journal begins."""
_HEAD = re.compile(f"{_MARK}([0-9a-f]{{64}})")
_ENDING = r"(\.[0-9a-f]{8})?\.unsaved"
"""What follows the name of the file; journals of the first version had nothing drawn at random."""


@dataclass(frozen=True, slots=True)  # equal wherever it was kept
class Recovered:
    """Edits somebody made and did not save."""

    text: str
    same_base: bool
    """Whether the file is still as it was when they were made."""
    kept: Path | None = field(default=None, compare=False)
    """The journal they were read from."""


class News(Enum):
    """What the user has to know about where unsaved edits are."""

    OTHER_APP = "another running kitbuilder has unsaved edits of this file"
    OTHER_FOLDER = "unsaved edits are kept in the folder for program state, not beside the file"
    NOWHERE = "unsaved edits cannot be kept: they are lost if the app stops"


class Journal:
    """Where one running app keeps its unsaved edits of one file."""

    def __init__(self, path: Path) -> None:
        """Prepare to keep the edits of a file; nothing is written yet."""
        self.path = path
        self.kept: Path | None = None
        """The journal on the disk; None while there is none."""
        self._owner = secrets.token_hex(4)
        self._let_go: weakref.finalize[[int], Journal] | None = None

    def keep(self, saved: str, text: str) -> News | None:
        """Write the edits to the disk; editing goes on if there is no place for them.

        Gives what is not as usual about their place, if anything.
        """
        for kept, news in self._places():
            try:
                if news:
                    make_private_folder(kept.parent)
                handle = save_held(kept, f"{_base_line(saved)}\n{text}")
            except OSError:
                continue
            # The new journal is on the disk before the old one goes, so that there is one at every moment.
            if kept != self.kept:
                self.clear()
            self._hold(handle)
            self.kept = kept
            return news
        return News.NOWHERE

    def clear(self) -> None:
        """Forget the edits, after a save or on request."""
        if self.kept is not None:
            forget_journal(self.kept)
            self.kept = None
        self._hold(None)

    def is_alone(self) -> bool:
        """Say whether no other running app has unsaved edits of the file."""
        return not any(_is_held(kept) for kept in journals_of(self.path) if kept != self.kept)

    def _places(self) -> Iterator[tuple[Path, News | None]]:
        """List where the edits may be kept, the best place first, each with what is not as usual about it."""
        yield self.path.with_name(f".{self.path.name}.{self._owner}.unsaved"), None
        yield state_folder() / f"{_name_elsewhere(self.path)}.{self._owner}.unsaved", News.OTHER_FOLDER

    def _hold(self, handle: int | None) -> None:
        """Hold the journal by a handle in place of the one before; forgotten with this object."""
        if self._let_go is not None:
            self._let_go()
        self._let_go = None if handle is None else weakref.finalize(self, os.close, handle)


def state_folder() -> Path:
    """Give the folder for journals of files in folders that cannot be written."""
    from platformdirs import user_state_path

    return user_state_path("kitbuilder", appauthor=False) / "unsaved"


def journals_of(path: Path) -> tuple[Path, ...]:
    """Give every journal of a file, beside it and in the state folder, the newest first."""
    beside = _matching(path.parent, f".{path.name}")
    return tuple(sorted((*beside, *_matching(state_folder(), _name_elsewhere(path))), key=_written_at, reverse=True))


def unsaved_among(texts: Mapping[Path, str]) -> frozenset[Path]:
    """List the files of one folder that have unsaved edits, left by a crash or held by another running app.

    Args:
        texts: The files, each with its present text.
    """
    beside = {folder: _journals_in(folder) for folder in {path.parent for path in texts}}
    elsewhere = _journals_in(state_folder())
    with_journals = (
        path
        for path in texts
        if any(name.startswith(f".{path.name}.") for name in beside[path.parent])
        or (elsewhere and any(name.startswith(_name_elsewhere(path)) for name in elsewhere))
    )
    return frozenset(path for path in with_journals if not Journal(path).is_alone() or read_journals(path, texts[path]))


def _journals_in(folder: Path) -> tuple[str, ...]:
    """List what is named like a journal in a folder; nearly always nothing."""
    try:
        with os.scandir(folder) as found:
            return tuple(each.name for each in found if each.name.endswith(".unsaved"))
    except OSError:
        return ()


def read_journals(path: Path, saved: str) -> tuple[Recovered, ...]:
    """Give the unsaved edits of a file that crashed apps have left and that differ from it, the newest first."""
    found = (_recovered(kept, saved) for kept in journals_of(path) if not _is_held(kept))
    return tuple(recovered for recovered in found if recovered is not None and recovered.text != saved)


def forget_journal(kept: Path) -> None:
    """Delete a journal; anything else of that name is left alone."""
    with contextlib.suppress(OSError):
        remove_file(kept, _MARK)


def rename_with_journals(path: Path, name: str) -> Path:
    """Give a file another name in its folder, and its journals with it. Gives the new path.

    Raises:
        FileExistsError: There is such a file already.
        OSError: The disk refused, or another running app has unsaved edits of the file.
    """
    journals = journals_of(path)
    if any(_is_held(kept) for kept in journals):
        raise OSError(0, "another running kitbuilder has unsaved edits of this file. Save or discard them there first")
    target = rename_file(path, name)
    try:
        for kept in journals:
            is_beside = kept.parent == path.parent
            before = f".{path.name}" if is_beside else _name_elsewhere(path)
            after = f".{name}" if is_beside else _name_elsewhere(target)
            rename_file(kept, after + kept.name.removeprefix(before))
    except OSError:
        rename_file(target, path.name)  # unsaved edits that nobody finds again are as good as lost
        raise
    return target


def _recovered(kept: Path, saved: str) -> Recovered | None:
    try:
        head, _, text = read_text(kept, follow=False).partition("\n")
    except UnreadableFile:
        return None
    return Recovered(text, head == _base_line(saved), kept) if _HEAD.fullmatch(head) else None


def _is_held(kept: Path) -> bool:
    try:
        with open_regular(kept, follow=False) as file:
            return is_held(file.fileno())
    except (UnreadableFile, OSError):
        return False


def _matching(folder: Path, begins: str) -> list[Path]:
    """Give the regular files of a folder that are named like the journals of a file."""
    name = re.compile(re.escape(begins) + _ENDING)
    try:
        with os.scandir(folder) as found:
            names = [each.name for each in found if name.fullmatch(each.name) and each.is_file(follow_symlinks=False)]
    except OSError:
        return []
    return [folder / each for each in names]


def _written_at(kept: Path) -> int:
    with contextlib.suppress(OSError):
        return kept.lstat().st_mtime_ns
    return 0


def _name_elsewhere(path: Path) -> str:
    """Give a name for a file among files of other folders: its own, and a number that stands for the folder."""
    where = hashlib.sha256(os.fsencode(path.parent.resolve())).hexdigest()[:16]
    return f"{path.name[:40]}.{where}"


def _base_line(saved: str) -> str:
    return f"{_MARK}{hashlib.sha256(saved.encode()).hexdigest()}"
