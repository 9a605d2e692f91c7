"""One real terminal: open, edit, save and quit in a pseudo-terminal, as a person does."""

import os
import re
import select
import shutil
import signal
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
    terminal.press("\x13")  # ctrl+s
    terminal.wait_for("Saved sidemount.toml")
    terminal.press("\x11")  # ctrl+q
    assert terminal.close() == 0
    text = path.read_text()
    assert 'length   = "180 cm"' in text
    assert text.replace('"180 cm"', '"210 cm"') == (CONFIGS / "sidemount.toml").read_text()


def test_sigterm_restores_the_terminal_and_keeps_the_edits(tmp_path, terminal_on):
    path = tmp_path / "sidemount.toml"
    shutil.copy(CONFIGS / "sidemount.toml", path)
    terminal = terminal_on(path)
    terminal.wait_for("Findings: ")
    terminal.press("-")
    terminal.wait_for("not saved")
    before = termios.tcgetattr(terminal.master)
    terminal.process.send_signal(signal.SIGTERM)
    terminal.wait_for("open sidemount.toml again")
    assert terminal.process.wait(timeout=PATIENCE) == 128 + signal.SIGTERM
    restored = {"the screen": "?1049l", "the cursor": "?25h", "the mouse": "?1000l", "its motion": "?1003l"}
    assert [what for what, code in restored.items() if f"\x1b[{code}" not in terminal.printed] == []
    after = termios.tcgetattr(terminal.master)
    assert not before[3] & termios.ECHO
    assert after[3] & termios.ECHO
    assert after[3] & termios.ICANON
    assert path.read_bytes() == (CONFIGS / "sidemount.toml").read_bytes()
    (kept,) = tmp_path.glob(".sidemount.toml.*")
    assert '"180 cm"' in kept.read_text()


def test_the_app_ends_when_its_terminal_is_gone(tmp_path, terminal_on):
    """No signal says so to a program without a session of its own terminal; it read from it for ever."""
    path = tmp_path / "sidemount.toml"
    shutil.copy(CONFIGS / "sidemount.toml", path)
    terminal = terminal_on(path)
    terminal.wait_for("Findings: ")
    os.close(terminal.master)
    assert terminal.process.wait(timeout=PATIENCE) == 128 + signal.SIGHUP


@pytest.mark.parametrize("closed", ["empty", "closed"])
def test_without_a_terminal_the_app_ends_with_a_sentence(closed):
    """It waited for keys for ever."""
    command = [sys.executable, "-m", "kitbuilder", str(CONFIGS / "sidemount.toml")]
    before = {"preexec_fn": lambda: os.close(0)} if closed == "closed" else {"stdin": subprocess.DEVNULL}
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=PATIENCE, **before)
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.startswith("kitbuilder: the app has to be started in a terminal")
    assert done.stderr.count("\n") == 1


def test_the_app_can_be_served_to_a_browser():
    """Without a terminal, over the pipes of Textual's own server; the first screen comes and stays."""
    command = [sys.executable, "-m", "kitbuilder", str(CONFIGS)]
    served = os.environ | {"TEXTUAL_DRIVER": "textual.drivers.web_driver:WebDriver", "COLUMNS": "91", "ROWS": "62"}
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=served) as process:
        assert process.stdin is not None and process.stdout is not None
        try:
            assert process.stdout.readline() == b"__GANGLION__\n", "what the server waits for"
            printed = b""
            while b"Sidemount, sea" not in printed:
                printed += process.stdout.read1()
            time.sleep(1.5)  # longer than the app takes to notice that a terminal is gone
            assert process.poll() is None
        finally:
            process.kill()


def test_a_wrong_path_ends_with_a_sentence(tmp_path):
    done = subprocess.run(
        [sys.executable, "-m", "kitbuilder", str(tmp_path / "nothing")], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert "there is no such file or folder" in done.stderr
    assert "Traceback" not in done.stderr
