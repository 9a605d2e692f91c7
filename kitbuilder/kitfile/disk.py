"""Bytes from the disk and back: completely or not at all, and never through a link that somebody put there.

A kit folder may come from an archive, which can hold links, pipes and folders under any name. Everything the project
writes, renames or deletes goes through this file; `tests/test_writers.py` fails when something does not.
"""

import codecs
import contextlib
import errno
import os
import stat
import tempfile
from enum import Enum
from io import BufferedReader, FileIO
from pathlib import Path
from threading import Lock, Thread

from kitbuilder.kitfile.held import hold

LARGEST_FILE = 1_000_000
"""Bytes. A kit of forty items with many comments has about ten thousand."""

FLUSHING = "flushing"
"""The name of the thread that flushes files in the background."""
_flush_turn = Lock()
_unflushed: set[Path] = set()
_is_flushing = False

_NO_LINK = getattr(os, "O_NOFOLLOW", 0)
# Opening a pipe waits for its other end, and Windows changes line ends, unless these flags are set.
_NO_WAIT = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)


class UnreadableFile(Exception):
    """A file could not be read; the message says why and what to do."""


class Over(Enum):
    """Which existing file a write may replace."""

    NOTHING = "nothing: the file is a new one"
    FILE = "a regular file of that name; a link is refused"
    LINKED = "a regular file, and the one that a link leads to: the user's own kit, when the user saves it"


def read_text(path: Path, *, follow: bool = True, holds: str = "kit") -> str:
    """Give the text of a file with its line ends as they are, without the byte order mark of some editors.

    Args:
        path: The file.
        follow: Whether a link is followed: for what the user named, not for files that we keep beside it.
        holds: What the file is expected to hold, for the message of the error.

    Raises:
        UnreadableFile: It is missing, a folder, not ours to read, too large, or not UTF-8.
    """
    try:
        with open_regular(path, follow=follow) as file:
            size = os.fstat(file.fileno()).st_size
            # One byte more than it should have, to notice a file that has grown or is too large.
            data = file.read(min(size, LARGEST_FILE) + 1)
            if len(data) > size:  # it has grown since
                data += file.read(max(0, LARGEST_FILE + 1 - len(data)))
    except FileNotFoundError:
        raise UnreadableFile(f"there is no such file. Check the name, or make a new {holds} file") from None
    except IsADirectoryError:
        raise UnreadableFile(f"this is a folder. Name a {holds} file in it, or open the folder as a shelf") from None
    except PermissionError:
        raise UnreadableFile("you may not read it. Change its permissions, or copy it") from None
    except OSError as error:
        raise UnreadableFile(
            f"it could not be read: {error.strerror or error}. Check its name and its folder"
        ) from None
    if len(data) > LARGEST_FILE:
        largest, most = max(size, len(data)) / 1e6, LARGEST_FILE / 1e6
        raise UnreadableFile(
            f"it has {largest:.1f} MB, but a {holds} file has at most {most:.0f} MB. Check that this is a {holds} file"
        )
    try:
        return data.removeprefix(codecs.BOM_UTF8).decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise UnreadableFile(
            f"line {line} has bytes that are not UTF-8 text. Save it as UTF-8 in a text editor"
        ) from None


def open_regular(path: Path, *, follow: bool) -> BufferedReader:
    """Open a regular file for reading, without waiting for the other end of a pipe.

    Raises:
        UnreadableFile: It is a device, a pipe, or a link that is not to be followed.
        OSError: The disk refused, or it is a folder.
    """
    mode = (path.stat() if follow else path.lstat()).st_mode
    if stat.S_ISDIR(mode):
        raise IsADirectoryError(errno.EISDIR, "this is a folder", str(path))
    if not stat.S_ISREG(mode):
        raise UnreadableFile("this is a device or a pipe, not a file. Name a kit file")
    # The flag refuses a link once more: one may have taken its place since its kind was checked.
    return BufferedReader(FileIO(os.open(path, os.O_RDONLY | _NO_WAIT | (0 if follow else _NO_LINK))))


def save_text(path: Path, text: str, over: Over = Over.FILE, *, keeps_mark: bool = True) -> None:
    """Put the text in place of the file: the old file or the new one is there at every moment, never half of one.

    The mode of an existing file is kept, and so is its byte order mark unless the text has what mark it needs.

    Raises:
        FileExistsError: Something has that name and `over` is NOTHING.
        OSError: The disk refused, or something stands there that `over` does not allow; all is as it was.
    """
    target = _target(path, over)
    mark, mode = _kept(target) if os.path.lexists(target) else (b"", 0o666 & ~_umask())
    _put(target, (mark if keeps_mark else b"") + text.encode("utf-8"), mode, is_new=over is Over.NOTHING)


def save_held(path: Path, text: str) -> int | None:
    """Write a file for its owner's eyes alone, and hold it while the app runs; see `held`.

    Gives the handle that holds it, None where the system knows no such hold. A link is not followed. It is flushed
    right afterwards, in the background: this is written at every edit, and waiting for the disk would add a quarter to
    the time from a key to the screen that shows what it did.

    Raises:
        OSError: The disk refused, or no regular file stands there; all is as it was.
    """
    held = _put(_target(path, Over.FILE), text.encode("utf-8"), 0o600, is_held=True)
    _flush_soon(path)
    return held


def remove_file(path: Path, begins: str) -> None:
    """Delete a regular file that begins with a text, which shows that it is one of ours; leave anything else alone.

    Raises:
        OSError: The disk refused.
    """
    with contextlib.suppress(UnreadableFile, FileNotFoundError, IsADirectoryError):
        with open_regular(path, follow=False) as file:
            is_ours = file.read(len(begins.encode())) == begins.encode()
        if is_ours:
            path.unlink()


def make_folder(path: Path) -> None:
    """Make a folder for a user's own files, and those above it; one that is there stays.

    Raises:
        OSError: The disk refused, or something else has that name.
    """
    path.mkdir(parents=True, exist_ok=True)


def make_private_folder(path: Path) -> None:
    """Make a folder that only its owner may look into, and those above it.

    Raises:
        OSError: The disk refused.
    """
    path.mkdir(mode=0o700, parents=True, exist_ok=True)


def kit_paths(folder: Path) -> tuple[Path, ...]:
    """Give the kit files of a folder, by name; hidden ones are left out.

    Raises:
        UnreadableFile: The folder may not be listed.
    """
    try:
        found = [path for path in folder.iterdir() if ends_in(path.name) and not path.name.startswith(".")]
    except OSError as error:
        raise UnreadableFile(f"{error.strerror or error}. Open another folder") from None
    return tuple(sorted(found, key=lambda path: path.name.lower()))


def ends_in(name: str, *endings: str) -> bool:
    """Say whether a name has one of the endings, that of a kit file by default, in any letter case."""
    return name.lower().endswith(endings or ".toml")


def with_ending(name: str, ending: str = ".toml") -> str:
    """Add the ending to the name of a file where it was left out; the name of a folder, and none, stay."""
    return name if ends_in(name, ending, "/") or not name.strip() else f"{name}{ending}"


def complain_of_name(folder: Path, name: str, ending: str = ".toml") -> str | None:
    """Say what is wrong with a name for a new file in a folder (a kit file by default); None when nothing is."""
    if not ends_in(name, ending) or name.lower() == ending:
        return f"Write a name that ends in {ending}"
    if "/" in name or "\\" in name or name.startswith(".") or not name.isprintable():
        return "Write a plain name: no folder, no dot in front, no unprintable characters"
    if len(name.encode()) > 200:
        return "Write a shorter name, of at most 200 bytes"
    if os.path.lexists(folder / name):
        return "A file with this name exists already"
    return None


def path_typed(folder: Path, typed: str) -> Path:
    """Give the path that a person means: a name in the folder, a path from there, from the root, or from home (~)."""
    try:
        return folder / Path(typed).expanduser()
    except RuntimeError:  # nobody has that name here
        return folder / typed


def complain_of_path(folder: Path, typed: str, ending: str = ".toml") -> str | None:
    """Say what is wrong with a name or a path for a new file; None when nothing is. See `path_typed`."""
    if not typed.isprintable():
        return "Write a name or a path without unprintable characters"
    path, named = path_typed(folder, typed), Path(typed).parent
    try:
        if path.parent != folder and not path.parent.is_dir():
            return f'There is no folder "{named}". Create it first, or name another folder'
        if ends_in(path.name, ending) and (path.name.startswith(".") or "\\" in path.name):
            return "Write a file name without a dot in front and without a backslash"
        return complain_of_name(path.parent, "" if typed.endswith("/") else path.name, ending)
    except OSError as error:
        return f'"{named}": {error.strerror or error}. Name another folder'


def rename_file(path: Path, name: str) -> Path:
    """Give a file another name in its folder. Gives the new path.

    Raises:
        FileExistsError: There is such a file already.
        OSError: The disk refused.
    """
    target = path.with_name(name)
    if os.path.lexists(target):
        raise FileExistsError(errno.EEXIST, "a file with this name exists already", str(target))
    return path.rename(target)


def _target(path: Path, over: Over) -> Path:
    """Say where a text is put: the path itself, or what it leads to where a link may be followed.

    Raises:
        FileExistsError: Something has that name and nothing may be replaced.
        OSError: A link, a pipe, a folder or a device stands there.
    """
    target = Path(os.path.realpath(path)) if over is Over.LINKED else path
    try:
        mode = target.lstat().st_mode
    except FileNotFoundError:
        if target != path and path.is_symlink():
            raise FileNotFoundError(
                errno.ENOENT, "this link leads to a file that no longer exists", str(path)
            ) from None
        return target
    if over is Over.NOTHING:
        raise FileExistsError(errno.EEXIST, "a file with this name exists already", str(path))
    if not stat.S_ISREG(mode):
        raise OSError(errno.EINVAL, f"{_kind(mode)} has this name and is not replaced", str(path))
    return target


def _kind(mode: int) -> str:
    if stat.S_ISLNK(mode):
        return "a link"
    return "a folder" if stat.S_ISDIR(mode) else "a device or a pipe"


def _put(target: Path, data: bytes, mode: int, *, is_new: bool = False, is_held: bool = False) -> int | None:
    """Write a file of a random name beside the target, then give it that name; the one place where files are made.

    Raises:
        OSError: The disk refused; all is as it was.
    """
    # Opened exclusively and with O_NOFOLLOW: nobody can have put a link or a pipe under that name beforehand.
    handle, beside = tempfile.mkstemp(prefix=f".{target.stem[:40]}.", suffix=".new", dir=target.parent)
    held, claimed = None, False
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            if is_held:
                # Held before it gets its name: no other app can take it for the journal of a crashed one.
                # Flushed later, by `save_held`: waiting for the disk added 9 ms to each edit.
                held = hold(file.fileno())
            else:
                os.fsync(file.fileno())
        # mkstemp makes a file for its owner alone; the new file has the mode of the old one.
        Path(beside).chmod(mode)
        if is_new:
            _claim(target)
            claimed = True
        Path(beside).replace(target)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        if claimed:
            target.unlink(missing_ok=True)
        if held is not None:
            os.close(held)
        raise
    if not is_held:
        _flush_folder(target.parent)
    return held


def _flush_soon(path: Path) -> None:
    """Flush a file in the background; several writes of it that come while the disk is busy are flushed as one."""
    global _is_flushing
    with _flush_turn:
        _unflushed.add(path)
        if _is_flushing:
            return
        _is_flushing = True
    Thread(target=_flush_all, name=FLUSHING).start()


def _flush_all() -> None:
    while (path := _next_unflushed()) is not None:
        _flush_file(path)


def _next_unflushed() -> Path | None:
    """Give the next file to flush; the thread that is given None has to end."""
    global _is_flushing
    with _flush_turn:
        _is_flushing = bool(_unflushed)
        return _unflushed.pop() if _unflushed else None


def _flush_file(path: Path) -> None:
    """Make a file and its name last through a power cut. Not by the handle it was written by, which holds it."""
    with contextlib.suppress(OSError, UnreadableFile):  # it is gone again, or the disk does not flush
        with open_regular(path, follow=False) as file:
            os.fsync(file.fileno())
        _flush_folder(path.parent)


def _claim(target: Path) -> None:
    """Take a name that nothing has, in one step: whoever comes second is refused.

    Raises:
        FileExistsError: Something has that name.
        OSError: The disk refused.
    """
    try:
        os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _NO_LINK, 0o600))
    except FileExistsError:
        raise FileExistsError(errno.EEXIST, "a file with this name exists already", str(target)) from None


def _kept(path: Path) -> tuple[bytes, int]:
    """Give the byte order mark and the mode of a file, which the new file keeps.

    Raises:
        PermissionError: It may not be written.
    """
    try:
        with FileIO(os.open(path, os.O_RDWR | _NO_WAIT | _NO_LINK), "r+") as file:
            head = file.read(len(codecs.BOM_UTF8))
            # As for any file that is written to, the rights to run as somebody else are not kept.
            return head if head == codecs.BOM_UTF8 else b"", os.fstat(file.fileno()).st_mode & 0o777
    except PermissionError:
        raise PermissionError(errno.EACCES, "you may not write to this file", str(path)) from None


def _flush_folder(folder: Path) -> None:
    """Make the rename itself last through a power cut, where the system allows it."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _umask() -> int:
    # The mask can only be read by setting another.
    mask = os.umask(0)
    os.umask(mask)
    return mask
