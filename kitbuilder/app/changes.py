"""What somebody else changed in a file, in a few lines."""

from difflib import unified_diff

from kitbuilder.report.words import cut

MOST_LINES, WIDTH = 8, 72
"""So that what can be answered stays in sight in a terminal of 80 by 24."""


def change_lines(before: str, after: str | None) -> str:
    """List the lines that differ, "-" for the old and "+" for the new text; a few at most."""
    if after is None:
        return "The file is gone, or can no longer be read."
    rows = [
        cut(row, WIDTH)
        for row in unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
        if not row.startswith(("---", "+++", "@@"))
    ]
    left = len(rows) - MOST_LINES
    more = [f"… and {left} more line{'s' if left > 1 else ''}"] if left > 0 else []
    return "\n".join([*rows[:MOST_LINES], *more]) or "Only line ends differ."
