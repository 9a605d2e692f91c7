"""Writes the completion scripts again: `python -m tests.commands.completions`."""

from argparse import ArgumentParser
from collections.abc import Iterator

import shtab

from kitbuilder.commands import all_commands, command_named
from kitbuilder.commands.completion import FOLDER, SHELLS
from kitbuilder.commands.parser import Parser, add_app_options, parser_of
from kitbuilder.kit.items import LAYOUTS
from kitbuilder.kitfile.starters import bodies

FILES = {"FILE", "KIT", "A", "B"}
"""What an argument is called that names a file."""
WORDS = {"LAYOUT": LAYOUTS, "BODY": bodies(), "SEX": ("male", "female")}
"""Words that are accepted and are no argparse choices, since everyday words of theirs are accepted too."""


def parser_of_all() -> ArgumentParser:
    """Make one parser of all commands; the program has one for each, and loads only that."""
    parser = Parser("kitbuilder", "Trims dive kits.")
    add_app_options(parser)
    commands = parser.add_subparsers(parser_class=lambda **given: parser_of(command_named(given["prog"].split()[-1])))
    for command in all_commands():
        of_command = commands.add_parser(command.name, help=command.summary)
        of_command.description = command.summary  # that of help is broken into lines of the terminal
        _describe(of_command)
    return parser


def _describe(parser: ArgumentParser) -> None:
    """Say what the arguments of a command take."""
    for action in parser._actions:
        if action.metavar in FILES:
            action.complete = shtab.FILE  # type: ignore[attr-defined]  shtab reads it there
        elif action.metavar == "FOLDER":
            action.complete = shtab.DIRECTORY  # type: ignore[attr-defined]
        elif action.metavar in WORDS:
            action.choices = WORDS[str(action.metavar)]


def scripts() -> Iterator[tuple[str, str]]:
    """Give each shell with its script."""
    for shell in SHELLS:
        text = shtab.complete(parser_of_all(), shell)
        # Where no command fits the first word, it is a file or folder to open.
        yield shell, text.replace("complete -o bashdefault", "complete -o bashdefault -o default").rstrip() + "\n"


if __name__ == "__main__":
    for name, script in scripts():
        (FOLDER / f"kitbuilder.{name}").write_text(script, encoding="utf-8")
