"""What somebody else changed in a file, in a few lines."""

from difflib import unified_diff

from kitbuilder.report.words import visible

MOST_LINES = 8


def change_lines(before: str, after: str | None) -> str:
    """The lines that differ, "-" for what was and "+" for what is; at most a few."""
    if after is None:
        return "The file is gone, or can no longer be read."
    rows = [
        visible(row)
        for row in unified_diff(before.splitlines(), after.splitlines(), n=0, lineterm="")
        if not row.startswith(("---", "+++", "@@"))
    ]
    more = [f"… and {len(rows) - MOST_LINES} more lines"] if len(rows) > MOST_LINES else []
    return "\n".join([*rows[:MOST_LINES], *more]) or "Only line ends differ."
