"""Run a command as somebody types it."""

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
CONFIGS = ROOT / "configs"
GOOD = str(CONFIGS / "warm-single.toml")
"""Has nothing worse than a notice."""
CAUTIOUS = str(CONFIGS / "cold-single.toml")
"""Has a caution."""
WRONG = str(CONFIGS / "wrong-on-purpose.toml")
TWINSET = str(CONFIGS / "twinset.toml")
DIVER = str(CONFIGS / "diver.toml")


PYTHON = sys.executable


def run(*words: str, cwd: Path = ROOT, encoding: str = "utf-8") -> subprocess.CompletedProcess[str]:
    """`python -m kitbuilder` with words behind it, in a terminal of some encoding."""
    return subprocess.run(
        [PYTHON, "-m", "kitbuilder", *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": encoding},
        capture_output=True,
        encoding=encoding,
        timeout=60,
        check=False,
    )
