"""What a command is: how it is called, what its help says, what it runs, and its exit codes."""

from argparse import ArgumentParser, Namespace
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


class Example(NamedTuple):
    """One line that a reader can type in the folder that holds `configs/`; a test runs it."""

    line: str
    exit_code: int


class Command(NamedTuple):
    """One command. The options that all commands share are added to its own arguments, so that none lacks them."""

    name: str
    arguments: str
    """What follows the name, without options: "FILE..."."""
    summary: str
    """One line for the list of commands: a verb, and what comes out."""
    example: Example
    exit_codes: Mapping[int, str]
    """What each exit code of this command means."""
    add_arguments: Callable[[ArgumentParser], None]
    """Declares the arguments of this command alone."""
    run: "Callable[[Namespace, Response], int]"
    """Does the work and gives the exit code. Imports what it needs itself: the list of commands has to load fast."""
    shape: "Callable[[], Shape]"
    """Gives the shape of its result in JSON, which stands beside the builder of its page in `report/`."""
    details: str = ""
    """What the help page says after the summary."""
    heading: str = ""
    """What stands at the head of a document; empty for the summary without its verb."""
    without_document: str = ""
    """Why its answer cannot be written with `-o`; empty when it can."""
    without_units: str = ""
    """Why the command has no `--units`; empty when it has."""
    opens: "Callable[[Namespace], str] | None" = None
    """Gives what the app opens after it in a terminal; None where the answer is all."""

    @property
    def title(self) -> str:
        """What it prints, for the head of a document."""
        words = self.heading or self.summary.partition(" ")[2]
        return words[:1].upper() + words[1:]
