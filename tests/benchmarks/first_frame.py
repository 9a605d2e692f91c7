"""First full frame of bench and shelf against an empty Textual app, in pairs in one run.

The bench shows the largest shipped kit, the shelf all of them. The empty app has a header, a table and a footer. All
run in a pseudo-terminal of 120 by 40; the clock starts when the process is made and stops when the last words of the
first full frame have been printed.
"""

import fcntl
import os
import pty
import select
import statistics
import struct
import subprocess
import sys
import termios
import time
from pathlib import Path

PAIRS = 15
AIM, MOST = 1.5, 2.0
LAST = b"Keys"
"""A word of our footer, which is drawn last."""
CONFIGS = Path(__file__).parents[2] / "configs"
EMPTY = """
from textual.app import App
from textual.widgets import DataTable, Footer, Header

class Empty(App):
    def compose(self):
        yield Header()
        yield DataTable()
        yield Footer()

    def on_mount(self):
        self.query_one(DataTable).add_columns("one", "two", "three")

Empty().run()
"""


def largest_kit() -> Path:
    """The shipped kit with the most items."""
    return max(CONFIGS.glob("*.toml"), key=lambda path: path.read_text().count("[["))


def first_frame(command: list[str], words: bytes) -> float:
    """Seconds until some words are printed."""
    master, slave = pty.openpty()
    fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    environment = {**os.environ, "TERM": "xterm-256color", "COLUMNS": "120", "LINES": "40"}
    start = time.perf_counter()
    process = subprocess.Popen(
        command, stdin=slave, stdout=slave, stderr=slave, env=environment, start_new_session=True
    )
    os.close(slave)
    printed = b""
    while words not in printed:
        if time.perf_counter() - start > 30:
            raise SystemExit(f"{command}: {words!r} never showed")
        if select.select([master], [], [], 1)[0]:
            printed += os.read(master, 65536)
    seconds = time.perf_counter() - start
    process.kill()
    process.wait()
    os.close(master)
    return seconds


def main() -> None:
    """Take the pairs and print the median ratios."""
    empty = [sys.executable, "-c", EMPTY]
    for name, target in (("bench", largest_kit()), ("shelf", CONFIGS)):
        app = [sys.executable, "-m", "kitbuilder", str(target)]
        first_frame(empty, b"palette"), first_frame(app, LAST)
        ours, theirs = [], []
        for _ in range(PAIRS):
            theirs.append(first_frame(empty, b"palette"))
            ours.append(first_frame(app, LAST))
        ratios = [mine / other for mine, other in zip(ours, theirs, strict=True)]
        print(f"first full frame, {name}: median ratio {statistics.median(ratios):.2f}", end="")
        print(f" (min {min(ratios):.2f}, max {max(ratios):.2f}); aim {AIM}, at most {MOST}")
        print(f"  medians: app {statistics.median(ours) * 1e3:.0f} ms, empty {statistics.median(theirs) * 1e3:.0f} ms")


if __name__ == "__main__":
    main()
