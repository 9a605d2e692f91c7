"""Bytes from the disk and back: whole or not at all."""

import codecs
import contextlib
import os
import stat
import tempfile
from pathlib import Path

LARGEST_FILE = 1_000_000
"""Bytes. A kit of forty things with many comments has about ten thousand."""


class UnreadableFile(Exception):
    """A file could not be read; the message says why and what to do."""


def read_text(path: Path) -> str:
    """The text of a file with its line ends as they are, without the byte order mark that some editors put in front.

    Raises:
        UnreadableFile: It is missing, a folder, not ours to read, too large, or not UTF-8.
    """
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode) and not stat.S_ISDIR(found.st_mode):
            raise UnreadableFile("this is a device or a pipe, not a file. Name a kit file")
        with path.open("rb") as file:
            data = file.read(min(found.st_size, LARGEST_FILE) + 1)
            if len(data) > found.st_size:  # it has grown since
                data += file.read(max(0, LARGEST_FILE + 1 - len(data)))
    except FileNotFoundError:
        raise UnreadableFile("there is no such file. Check the name, or make a new kit") from None
    except IsADirectoryError:
        raise UnreadableFile("this is a folder. Name a kit file in it, or open the folder as a shelf") from None
    except PermissionError:
        raise UnreadableFile("it may not be read by you. Change its permissions, or copy it") from None
    except OSError as error:
        raise UnreadableFile(
            f"it could not be read: {error.strerror or error}. Check its name and its folder"
        ) from None
    if len(data) > LARGEST_FILE:
        size, most = max(found.st_size, len(data)) / 1e6, LARGEST_FILE / 1e6
        raise UnreadableFile(
            f"it has {size:.1f} MB and a kit file has at most {most:.0f} MB. Check that this is a kit file"
        )
    try:
        return data.removeprefix(codecs.BOM_UTF8).decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise UnreadableFile(
            f"line {line} has bytes that are not UTF-8 text. Save it as UTF-8 in a text editor"
        ) from None


def save_text(path: Path, text: str) -> None:
    """Put the text in place of the file: the old file or the new one is there at every moment, never half of one.

    A symbolic link is followed; the mode of an existing file is kept, and so is its byte order mark.

    Raises:
        OSError: The disk refused; the file is as it was.
    """
    target = Path(os.path.realpath(path))
    mark, mode = _kept(target) if target.exists() else (b"", 0o666 & ~_umask())
    handle, beside = tempfile.mkstemp(prefix=f".{target.stem[:40]}.", suffix=".new", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(mark + text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(mode)
        Path(beside).replace(target)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
    _flush_folder(target.parent)


def kit_paths(folder: Path) -> tuple[Path, ...]:
    """The kit files of a folder, by name; hidden ones are left out.

    Raises:
        UnreadableFile: The folder may not be listed.
    """
    try:
        found = [path for path in folder.iterdir() if path.suffix == ".toml" and not path.name.startswith(".")]
    except OSError as error:
        raise UnreadableFile(f"{error.strerror or error}. Open another folder") from None
    return tuple(sorted(found, key=lambda path: path.name.lower()))


def with_ending(name: str) -> str:
    """A name for a file, with the ending that was left out."""
    return name if name.endswith(".toml") or not name.strip() else f"{name}.toml"


def complain_of_name(folder: Path, name: str, ending: str = ".toml") -> str | None:
    """What is wrong with a name for a new file in a folder, a kit file unless said; None when nothing is."""
    if not name.endswith(ending) or name == ending:
        return f"The name of a file here ends in {ending}"
    if "/" in name or "\\" in name or name.startswith(".") or not name.isprintable():
        return "A plain name: no folder, no dot in front, nothing unprintable"
    if len(name.encode()) > 200:
        return "Shorter, please"
    if (folder / name).exists() or (folder / name).is_symlink():
        return "There is such a file already"
    return None


def rename_file(path: Path, name: str) -> Path:
    """Give a file another name in its folder. Gives the new path.

    Raises:
        FileExistsError: There is such a file already.
        OSError: The disk refused.
    """
    target = path.with_name(name)
    if target.exists() or target.is_symlink():
        raise FileExistsError(17, "there is such a file already", str(target))
    return path.rename(target)


def _kept(path: Path) -> tuple[bytes, int]:
    """The byte order mark and the mode of a file, which the one in its place shall have as well.

    Raises:
        PermissionError: It may not be written.
    """
    try:
        with path.open("r+b") as file:
            head = file.read(len(codecs.BOM_UTF8))
            return head if head == codecs.BOM_UTF8 else b"", os.fstat(file.fileno()).st_mode & 0o7777
    except PermissionError:
        raise PermissionError(13, "the file may not be written", str(path)) from None


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
    mask = os.umask(0)
    os.umask(mask)
    return mask
