"""What changed in a file, in a few lines that leave room for what can be answered."""

from kitbuilder.app.changes import MOST_LINES, WIDTH, change_lines

EVIL = "\x1b[2J\u202ex"


def test_only_what_differs_is_shown() -> None:
    """With minus for what was and plus for what is."""
    assert change_lines("a\nb\nc\n", "a\nB\nc\n") == "-b\n+B"
    assert change_lines("a\n", "a\r\n") == "Only line ends differ."
    assert change_lines("a\n", None) == "The file is gone, or can no longer be read."


def test_many_and_long_lines_are_cut() -> None:
    """Eight of them, each on one line of a dialog in a terminal of 80 columns."""
    rows = change_lines("", "\n".join([f'worn = "{"steel 12 L 232 long; " * 20}"'] * 30)).splitlines()
    assert len(rows) == MOST_LINES + 1
    assert rows[-1] == "… and 22 more lines"
    assert {len(row) for row in rows[:-1]} == {WIDTH}
    assert all(row.endswith("…") for row in rows[:-1])


def test_what_a_terminal_would_obey_is_written_out() -> None:
    """As everywhere."""
    assert change_lines("", EVIL) == r"+\x1b[2J\u202ex"
