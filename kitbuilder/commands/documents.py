"""Writes an answer to a file of the user's choice: a new one, unless another may be replaced."""

import os
from pathlib import Path

from kitbuilder.kitfile.disk import Over, save_text
from kitbuilder.report.forms import OutputForm


def complain_of_document(name: str, *, replaces: bool) -> str | None:
    """Say what keeps a document from being written, as far as it is known beforehand; None when nothing does."""
    path = Path(name)
    try:
        if not path.parent.is_dir():
            return f'{name}: there is no folder "{path.parent}". Create it first, or name another folder'
        if not os.access(path.parent, os.W_OK):
            return f'{name}: you may not write to the folder "{path.parent}". Name another folder'
        if os.path.lexists(path) and not replaces:
            return f"{name}: a file with this name exists already. Name another file, or add --replace"
    except OSError as error:
        return f"{name}: {error.strerror or error}. Name another file"
    return None


def write_document(name: str, form: OutputForm, written: str, *, replaces: bool) -> str | None:
    """Write what would be printed to a file; gives what went wrong, or nothing. A file that was there then stays."""
    try:
        save_text(Path(name), form.as_file(written), Over.FILE if replaces else Over.NOTHING, keeps_mark=False)
    except OSError as error:
        return f"{name}: {error.strerror or error}. Nothing was written there. Name another file"
    return None
