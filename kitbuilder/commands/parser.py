"""Reads the words of the command line, for the app and for every command."""

import argparse
import sys
from shutil import get_terminal_size
from textwrap import fill, wrap
from typing import TYPE_CHECKING, NoReturn

from kitbuilder import __version__
from kitbuilder.commands import all_commands
from kitbuilder.commands.command import Command
from kitbuilder.commands.exit_codes import UNREADABLE
from kitbuilder.foreign import visible
from kitbuilder.report.forms import ENDINGS, FORMS
from kitbuilder.streams import flush_out, write_error, write_out

if TYPE_CHECKING:
    from _typeshed import SupportsWrite


class WholeWords(argparse.RawDescriptionHelpFormatter):
    """Leaves words with a hyphen whole: they are to be typed."""

    def _split_lines(self, text: str, width: int) -> list[str]:
        return wrap(" ".join(text.split()), width, break_on_hyphens=False)


class Parser(argparse.ArgumentParser):
    """Reads the words of the command line. Its errors repeat arguments, so they pass through `streams` too."""

    def __init__(self, prog: str, description: str) -> None:
        """Make a parser that keeps line breaks below the options, without colours: `streams` would write those out."""
        super().__init__(prog=prog, description=_filled(description), formatter_class=WholeWords)
        self.color = False

    def error(self, message: str) -> NoReturn:
        """Say what is wrong with the words, and end. Where standard error is closed, argparse would use the other."""
        write_error(f"{self.format_usage()}{self.prog}: error: {visible(message)}\n")
        self.exit(UNREADABLE)

    def _print_message(self, message: str, file: "SupportsWrite[str] | None" = None) -> None:
        if file is sys.stdout:
            write_out(message)
            flush_out()
        else:
            write_error(message)


def parser_of(command: Command) -> Parser:
    """Make the parser of one command: its own arguments, and those that all commands share."""
    parser = Parser(f"kitbuilder {command.name}", _description(command))
    parser.epilog = _epilog(command)
    command.add_arguments(parser)
    parser.add_argument("--form", choices=FORMS, help="how to print the answer (default: text)")
    json_help = "the same as --form json: quantities in SI units, for programs"
    parser.add_argument("--json", dest="form", action="store_const", const="json", help=json_help)
    if not command.without_document:
        _add_document(parser)
    if not command.without_units:
        add_units(parser, "units of what people read (default: the diver's, else metric)")
    return parser


def _add_document(parser: argparse.ArgumentParser) -> None:
    """Declare the options for a file that the answer is written to."""
    written = f"write the answer to a new file; its ending decides the form: {ENDINGS}. For PDF, print the .html"
    parser.add_argument("-o", "--output", metavar="FILE", help=f"{written} from a browser")
    parser.add_argument("--replace", action="store_true", help="with -o: replace a file that has this name already")


def add_units(parser: argparse.ArgumentParser, meaning: str) -> None:
    """Declare the option for the units in which quantities are shown."""
    parser.add_argument("--units", choices=("metric", "imperial"), help=meaning)


def add_app_options(parser: argparse.ArgumentParser) -> None:
    """Declare the options of the app, which go without a command."""
    add_units(parser, "units shown at first (default: those shown last, else the diver's, or metric)")
    plain_help = "draw with letters and signs, without braille dots"
    parser.add_argument("--plain-pictures", action="store_true", help=plain_help)
    parser.add_argument("--version", action="version", version=f"kitbuilder {__version__}")


def command_list() -> str:
    """Write the list of commands for the first page of help, one per line."""
    rows = [(f"  kitbuilder {command.name} {command.arguments}", command.summary) for command in all_commands()]
    width = max(len(usage) for usage, _ in rows) + 2
    return "\n".join(_filled(f"{usage:<{width}}{summary}", width) for usage, summary in rows)


def _description(command: Command) -> str:
    return f"{command.summary[0].upper()}{command.summary[1:]}. {command.details}"


def _epilog(command: Command) -> str:
    codes = [_filled(f"  {code}  {meaning}", hanging=5) for code, meaning in command.exit_codes.items()]
    return "\n".join(["example:", f"  {command.example.line}", "", "exit codes:", *codes])


def _filled(text: str, hanging: int = 0) -> str:
    """Break a text to the width that argparse takes for options, following lines further in."""
    return fill(text, max(get_terminal_size().columns - 2, hanging + 20), subsequent_indent=" " * hanging)
