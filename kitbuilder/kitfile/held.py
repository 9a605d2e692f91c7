"""A file that a running app holds. The system releases it when the app ends, even after a crash.

A lock (flock) and not a process number: after a crash or a restart another program may have that number, and inside a
container it means nothing outside. Nothing is left to clean up after a crash. Where there is no such lock, on Windows
and on some network disks, no file counts as held: the edits of a running app are then offered like those of one that
crashed, and are still neither overwritten nor deleted without asking.
"""

import os
import sys

if sys.platform != "win32":
    import fcntl


def hold(handle: int) -> int | None:
    """Hold an open file. Gives a handle that holds it until it is closed; None where that is not possible."""
    if sys.platform == "win32":
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return None
    return os.dup(handle)  # the same open file: it stays locked when the first handle is closed


def is_held(handle: int) -> bool:
    """Say whether a running app holds an open file."""
    if sys.platform == "win32":
        return False
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    except OSError:
        return False
    fcntl.flock(handle, fcntl.LOCK_UN)
    return False
