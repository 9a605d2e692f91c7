"""kitbuilder completion: what a shell needs to complete commands, options and words by the tab key."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape

SHELLS = ("bash", "zsh", "fish")
FOLDER = Path(__file__).parent.parent / "completion"
"""The scripts, generated from the parsers of all commands when the program is built."""


def add_arguments(parser: ArgumentParser) -> None:
    """Declare the shell."""
    parser.add_argument("shell", choices=SHELLS, metavar="SHELL", help=f"one of {', '.join(SHELLS)}")


def run(options: Namespace, response: "Response") -> int:
    """Print the script as it is, or as JSON with the name of its shell."""
    from kitbuilder.report.completion import completion_page

    text = (FOLDER / f"kitbuilder.{options.shell}").read_text(encoding="utf-8")
    if response.is_for_people:
        write_out(text)
        return DONE
    return response.give(completion_page(options.shell, text), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.completion import SHAPE

    return SHAPE


COMMAND = Command(
    name="completion",
    arguments="SHELL",
    summary="print the script that completes commands in bash, zsh or fish",
    details='Load it where your shell starts. In ~/.bashrc: eval "$(kitbuilder completion bash)". For zsh write it to '
    "a file _kitbuilder in a folder of $fpath. For fish write it to ~/.config/fish/completions/kitbuilder.fish.",
    example=Example("kitbuilder completion bash", DONE),
    exit_codes={DONE: "the script was printed", UNREADABLE: "the shell is not known"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
    without_document="A script is for a shell: redirect what is printed.",
    without_units="A script has no quantities.",
)
