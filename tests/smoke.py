"""Run a command that opens the shelf, in a pseudo-terminal; look at it, quit: `python tests/smoke.py COMMAND...`."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.test_terminal import Terminal


def main() -> int:
    """Wait for the five kits on the shelf, press q, and give the program's exit code."""
    terminal = Terminal(*sys.argv[1:])
    terminal.wait_for("5 kits", patience=600)
    for name in ("Sidemount, sea", "Twinset, coast", "Wrong on purpose"):
        terminal.wait_for(name)
    terminal.press("q")
    code = terminal.close()
    print(f"the shelf showed its 5 kits; after q it ended with exit code {code}")
    return code


if __name__ == "__main__":
    sys.exit(main())
