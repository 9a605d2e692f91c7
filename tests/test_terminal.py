"""One real terminal: open, edit, save and quit in a pseudo-terminal, as a person does."""

import os
import re
import select
import shutil
import struct
import subprocess
import sys
import time
from pathlib import Path

import pytest

fcntl = pytest.importorskip("fcntl", reason="pseudo-terminals are not known on this system")
pty = pytest.importorskip("pty")
termios = pytest.importorskip("termios")

CONFIGS = Path(__file__).parents[1] / "configs"
PATIENCE = 30.0
"""Seconds until something that never shows up is given up; it is no measure of speed."""


class Terminal:
    """A program in a pseudo-terminal of 80 columns and 24 rows, and everything it has printed."""

    def __init__(self, *command: str) -> None:
        self.master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        environment = {**os.environ, "TERM": "xterm-256color", "COLUMNS": "80", "LINES": "24"}
        self.process = subprocess.Popen(
            command, stdin=slave, stdout=slave, stderr=slave, env=environment, start_new_session=True
        )
        os.close(slave)
        self.printed = ""

    def wait_for(self, text: str, patience: float = PATIENCE) -> None:
        """Read until a text has been printed since the last key."""
        until = time.monotonic() + patience
        while text not in plain(self.printed):
            assert time.monotonic() < until, f"{text!r} never showed; last seen: {plain(self.printed)[-1500:]}"
            if select.select([self.master], [], [], 0.1)[0]:
                try:
                    self.printed += os.read(self.master, 65536).decode("utf-8", "replace")
                except OSError:
                    break
        assert text in plain(self.printed)

    def press(self, keys: str) -> None:
        """Type keys, and forget what was printed before."""
        self.printed = ""
        os.write(self.master, keys.encode())

    def close(self) -> int:
        """Wait for the program to end. Gives its exit code."""
        until = time.monotonic() + PATIENCE
        while self.process.poll() is None and time.monotonic() < until:
            if select.select([self.master], [], [], 0.1)[0]:
                try:
                    os.read(self.master, 65536)
                except OSError:
                    break
        code = self.process.wait(timeout=PATIENCE)
        os.close(self.master)
        return code


def plain(printed: str) -> str:
    """What was printed without the sequences that move the cursor and set colours."""
    return re.sub(r"\x1b\[[0-9;?<>=]*[A-Za-z]|\x1b[()][A-Z0-9]|\x1b[=>]", "", printed)


@pytest.fixture
def terminal_on():
    """A terminal with the app on a file; whatever becomes of the test, the app does not outlive it."""
    opened: list[Terminal] = []

    def open_on(path: Path) -> Terminal:
        opened.append(Terminal(sys.executable, "-m", "kitbuilder", str(path)))
        return opened[-1]

    yield open_on
    for terminal in opened:
        terminal.process.kill()
        terminal.process.wait()


def test_open_edit_save_quit(tmp_path, terminal_on):
    path = tmp_path / "sidemount.toml"
    shutil.copy(CONFIGS / "sidemount.toml", path)
    terminal = terminal_on(path)
    terminal.wait_for("Findings: ")
    terminal.press("-")
    terminal.wait_for("not saved")
    terminal.press("s")
    terminal.wait_for("Saved sidemount.toml")
    terminal.press("\x11")  # ctrl+q
    assert terminal.close() == 0
    text = path.read_text()
    assert 'length   = "180 cm"' in text
    assert text.replace('"180 cm"', '"210 cm"') == (CONFIGS / "sidemount.toml").read_text()


def test_a_wrong_path_ends_with_a_sentence(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "kitbuilder", str(tmp_path / "nothing")], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "there is no such file or folder" in done.stderr
    assert "Traceback" not in done.stderr
