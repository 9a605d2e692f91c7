"""The examples of the README; `python -m tests.readme_examples` writes what their commands print now.

A block begins with a command. Below it stand parts of what it prints, with `…` where lines are left out. A part is
found again by how its first line begins, and keeps its number of lines.
"""

import os
import re
import shlex
from unittest import mock

from tests.commands.run import ROOT, run

README = ROOT / "README.md"
WIDTH = 90
"""Characters of a line, which a web page shows without scrolling."""
BLOCK = re.compile(r"(?<=^```console\n)\$ kitbuilder ([^\n]+)\n(.*?)(?=^```$)", re.MULTILINE | re.DOTALL)
LEFT_OUT = "…"
BEGINNING = re.compile(r"\s*(\*\s+)?\S.*?(?=\s{2}|\d|$)")


def rewritten(page: str) -> str:
    """Give the page with what its commands print now.

    Raises:
        LookupError: when no line of an output begins as a part of its example does.
    """
    return BLOCK.sub(lambda block: _example(block[1], block[2].splitlines()), page)


def _example(command: str, shown: list[str]) -> str:
    """Give the lines of a block: the command, and the same parts of its output as shown, as they are now."""
    with mock.patch.dict(os.environ, {"COLUMNS": str(WIDTH)}):
        output = [line.rstrip() for line in run(*shlex.split(command)).stdout.splitlines()]
    lines, place, begins = [f"$ kitbuilder {command}"], 0, True
    for line in shown:
        if line == LEFT_OUT:
            lines.append(LEFT_OUT)
            begins = True
            continue
        if begins:
            place, begins = _find(line, output, place), False
        lines.append(output[place])
        place += 1
    return "\n".join([*lines, ""])


def _find(line: str, output: list[str], start: int) -> int:
    """Give the place of the first line, from `start` on, that begins as a line does: up to a number or a gap."""
    found = BEGINNING.match(line)
    beginning = found[0] if found else line
    for place in range(start, len(output)):
        if output[place].startswith(beginning):
            return place
    raise LookupError(f'no line begins with "{beginning}" in:\n' + "\n".join(output[start:]))


if __name__ == "__main__":
    README.write_text(rewritten(README.read_text(encoding="utf-8")), encoding="utf-8")
