"""Run a command as somebody types it."""

import contextlib
import os
import subprocess
import sys
import tempfile
from pathlib import Path
from subprocess import CompletedProcess

from kitbuilder.cli import main

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


def run(*words: str, cwd: Path = ROOT) -> CompletedProcess[str]:
    """Run `kitbuilder` with words behind it, in this process, which costs a tenth of a process of its own.

    Both outputs are files with a descriptor, as in a shell. An error that would print a traceback is raised.
    """
    with (
        tempfile.TemporaryFile("w+", encoding="utf-8") as output,
        tempfile.TemporaryFile("w+", encoding="utf-8") as errors,
        contextlib.redirect_stdout(output),
        contextlib.redirect_stderr(errors),
        contextlib.chdir(cwd),
    ):
        code = _exit_code(words)
        output.seek(0)
        errors.seek(0)
        return CompletedProcess(["kitbuilder", *words], code, output.read(), errors.read())


def _exit_code(words: tuple[str, ...]) -> int:
    """What main returns, or what argparse stops with."""
    try:
        return main(words)
    except SystemExit as stopped:
        assert isinstance(stopped.code, int)
        return stopped.code


def run_process(*words: str, cwd: Path = ROOT, encoding: str = "utf-8") -> CompletedProcess[str]:
    """Run `python -m kitbuilder` with words behind it, in a terminal of some encoding.

    For tests of what only a process has: its exit code, the encoding of its outputs, what it imports.
    """
    return subprocess.run(
        [PYTHON, "-m", "kitbuilder", *words],
        cwd=cwd,
        env=os.environ | {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": encoding},
        capture_output=True,
        encoding=encoding,
        timeout=60,
        check=False,
    )
