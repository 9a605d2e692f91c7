"""The terminal's window: its title, and whether it is large enough."""

from kitbuilder.foreign import visible
from kitbuilder.report.words import cut

LEAST_COLUMNS, LEAST_ROWS = 40, 12
"""Below this size no screen can be used."""
LONGEST_TITLE = 80
KEEP_TITLE, GIVE_TITLE_BACK = "\x1b[22;2t", "\x1b[23;2t"
"""xterm control sequences, XTWINOPS 22 and 23: put the title aside, and take it back. Other terminals ignore them."""


def title_sequence(title: str) -> str:
    """Give what tells a terminal the title of its window (OSC 2). Nothing in the title can end or add a sequence."""
    return f"\x1b]2;{cut(visible(title), LONGEST_TITLE)}\x07"


def size_complaint(columns: int, rows: int) -> str:
    """Say that a terminal is too small; empty when it is not."""
    if columns >= LEAST_COLUMNS and rows >= LEAST_ROWS:
        return ""
    return (
        f"Too small: this terminal has {columns} × {rows} characters.\n"
        f"kitbuilder needs {LEAST_COLUMNS} × {LEAST_ROWS}, and shows everything from 80 × 24.\n"
        "Make it larger. Nothing is lost."
    )
