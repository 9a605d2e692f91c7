"""New files and the schemas beside them, by which editors of TOML complete and check what is typed."""

import os
from contextlib import suppress
from pathlib import Path

from kitbuilder.kit.file_kinds import FileKind
from kitbuilder.kitfile.demo import shipped_folder
from kitbuilder.kitfile.disk import Over, read_text, save_text


def save_new(path: Path, text: str, file: FileKind) -> None:
    """Write a new file, and its schema beside it. Nothing is ever overwritten.

    Raises:
        FileExistsError: There is such a file already; nothing is written.
        OSError: The disk refused.
    """
    save_text(path, text, Over.NOTHING)
    put_schema(path.parent, file)


def put_schema(folder: Path, file: FileKind) -> None:
    """Write the schema of a kind of file into a folder, unless something there has its name already."""
    place = folder / file.schema
    if os.path.lexists(place):
        return
    # The kit is written, and is read without a schema: a disk that refuses it is no reason to stop.
    with suppress(OSError):
        save_text(place, read_text(shipped_folder() / file.schema), Over.NOTHING)
