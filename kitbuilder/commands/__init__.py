"""The registry of commands: their names in the order in which help lists them, and how to get at each.

A command is one file of this folder, loaded when it is first asked for, so that one command does not wait for another.
"""

from collections.abc import Iterator
from importlib import import_module

from kitbuilder.commands.command import Command

NAMES = (
    "demo",
    "new",
    "check",
    "compare",
    "pair",
    "ballast",
    "fit",
    "changeover",
    "fewest",
    "gear",
    "losses",
    "trip",
    "swaps",
    "card",
    "spares",
    "report",
    "threads",
    "format",
    "settings",
    "completion",
)
"""The name of a command is the name of its file."""


def command_named(name: str) -> Command:
    """Load one command.

    Raises:
        ModuleNotFoundError: There is no such command.
    """
    command: Command = import_module(f"{__name__}.{name}").COMMAND
    return command


def all_commands() -> Iterator[Command]:
    """Load every command, in the order of the list."""
    return map(command_named, NAMES)
