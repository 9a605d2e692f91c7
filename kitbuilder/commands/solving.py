"""How long a command may look for the best answer: one option of all commands that do."""

from argparse import ArgumentParser, Namespace

LONGEST_S = 3600.0


def add_time(parser: ArgumentParser, usual_s: float) -> None:
    """Declare the option."""
    parser.add_argument(
        "--time", metavar="SECONDS", type=float, default=usual_s, help=f"when to stop (default: {usual_s:g})"
    )


def complaint_about_time(options: Namespace) -> str:
    """Say what is wrong with the time given, or nothing."""
    if 0.0 <= options.time <= LONGEST_S:
        return ""
    return f"--time: found {options.time:g}. Accepted: from 0 to {LONGEST_S:g} seconds"
