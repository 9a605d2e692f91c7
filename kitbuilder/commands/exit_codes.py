"""The exit codes of every command."""

DONE, FOUND, UNREADABLE = 0, 1, 2
"""Fine; something was found; something cannot be read or understood, or a document cannot be written where it was
asked for."""
NOT_WRITTEN = 74
"""Standard output is closed or full: EX_IOERR of sysexits.h, so that nobody takes it for findings."""
