"""Three newcomers in a real terminal: from an empty folder to lead, fit and mass of an own kit, keys counted."""

import os
import re
import signal
import sys
from pathlib import Path

import pytest

from kitbuilder.kitfile.read import read
from tests.test_terminal import Terminal, plain

MOST_KEYS = 60
"""From the first command to the first believable lead."""
BODY = "178 82 male"
STYLES = {
    "jacket": ("", "single"),
    "twinset": ("twinset", "twinset"),
    "sidemount": ("sidemount", "sidemount"),
}
"""What each newcomer types to narrow the list of styles, and the layout that comes of it."""


class Newcomer(Terminal):
    """A terminal that counts the keys, enter among them."""

    def __init__(self, folder: Path) -> None:
        self.keys = 0
        super().__init__("env", "-C", str(folder), sys.executable, "-m", "kitbuilder")

    def press(self, keys: str) -> None:
        """Type keys and count them."""
        self.keys += len(keys)
        super().press(keys)


def make_kit(newcomer: Newcomer, style: str) -> None:
    """Answer the seven questions; every answer but style and body is the usual one."""
    newcomer.wait_for("There are no kit files in this folder yet")
    newcomer.press("n")
    newcomer.wait_for("1 of 7")
    for number, typed in enumerate((style, "", "", "", BODY, "", ""), start=1):
        if typed:
            newcomer.press(typed)
        newcomer.press("\r")
        newcomer.wait_for(f"{number + 1} of 7" if number < 7 else "lead needed")


@pytest.mark.skipif(sys.platform == "win32", reason="pseudo-terminals are not known on this system")
@pytest.mark.parametrize("name", STYLES)
def test_from_an_empty_folder_to_lead_fit_and_mass(name: str, tmp_path: Path) -> None:
    style, layout = STYLES[name]
    newcomer = Newcomer(tmp_path)
    try:
        make_kit(newcomer, style)
        assert newcomer.keys < MOST_KEYS
        shown = re.search(r"lead needed\s+(-?[\d.]+) ± ([\d.]+) kg", plain(newcomer.printed))
        assert shown, "the lead stands on the first page"
        to_lead = newcomer.keys
        newcomer.press("\r")
        newcomer.wait_for("Findings: ")
        newcomer.press("t")
        newcomer.wait_for("advised")
        to_fit = newcomer.keys - to_lead
        newcomer.press("\x1b")
        newcomer.wait_for("Findings: ")
        newcomer.press("w")
        newcomer.wait_for("bring")
        to_mass = newcomer.keys - to_lead - to_fit
        assert (to_fit, to_mass) <= (4, 4), "a key each, and the way back"
        newcomer.press("\x11")  # ctrl+q
        assert newcomer.close() == 0
    finally:
        if newcomer.process.poll() is None:
            os.killpg(newcomer.process.pid, signal.SIGKILL)
            newcomer.process.wait()
    [path] = [path for path in tmp_path.glob("*.toml") if path.name != "diver.toml"]
    kit = read(path).resolved
    assert kit is not None
    assert kit.header.layout == layout
    assert kit.linked.diver is not None
    assert kit.linked.diver.header.mass_kg == 82
