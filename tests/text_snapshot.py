"""Snapshots that a reviewer reads in a diff: one `.txt` each."""

from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode


class TextSnapshot(SingleFileSnapshotExtension):
    """A screen or a picture as plain text."""

    file_extension = "txt"
    _write_mode = WriteMode.TEXT
