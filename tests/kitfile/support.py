"""What the tests of kit files share."""

import subprocess
import sys
from pathlib import Path

from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.reader import read_file

ROOT = Path(__file__).parents[2]
CONFIGS = ROOT / "configs"
KITS = sorted(CONFIGS.glob("*.toml"))
LAYOUTS = sorted((ROOT / "kitbuilder" / "catalogue" / "layouts").glob("*.toml"))

SMALL = """\
format = 1
name   = "Small"
layout = "single"

[[hose]]
tag    = "primary hose"
role   = "primary"
body   = "rubber"
length = "75 cm"
"""
"""A whole kit in a few lines."""


def located(path: Path) -> list[str]:
    """The problems of a file, each with the file's name and the line in front."""
    return [problem.located(path.name) for problem in read_file(path)[1].problems]


def command(*words: str) -> "subprocess.CompletedProcess[str]":
    """What came of `python -m kitbuilder` with these words."""
    return subprocess.run(
        [sys.executable, "-m", "kitbuilder", *words], capture_output=True, text=True, timeout=60, check=False, cwd=ROOT
    )


def opened(folder: Path, text: str) -> Document:
    """A document of a text, on the disk in a folder."""
    path = folder / "kit.toml"
    path.write_bytes(text.encode())
    document = Document(path)
    assert document.reading.problems == ()
    return document
