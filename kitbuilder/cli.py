"""Starts what the command line asks for: a command, or the app."""

import gc
import os
import sys
from collections.abc import Sequence
from pathlib import Path

from kitbuilder.commands import NAMES, command_named
from kitbuilder.commands.exit_codes import DONE, NOT_WRITTEN
from kitbuilder.commands.parser import Parser, add_app_options, command_list, parser_of
from kitbuilder.commands.response import Response, complain
from kitbuilder.streams import OutputLost, claim_closed_streams, drop, flush_out


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command, or open the app.

    Gives the exit code: 0 fine, 1 findings of caution or worse, 2 not read or not understood, 74 not written out.
    """
    words = list(sys.argv[1:] if arguments is None else arguments)
    claim_closed_streams()
    try:
        return _run_command(*words) if words and words[0] in NAMES else _open_app(words)
    except BrokenPipeError:
        # The reader of a pipe went away, as `head` does; nothing is wrong, and nothing more is written.
        drop(sys.stdout)
        return DONE
    except OutputLost as lost:
        drop(sys.stdout)
        complain(f"standard output: {lost}. What is printed is not complete; write it elsewhere")
        return NOT_WRITTEN


def _run_command(name: str, *words: str) -> int:
    command = command_named(name)
    options = parser_of(command).parse_args(words)
    response = Response(name, options, command.title)
    refused = response.refuse_output()
    code = command.run(options, response) if refused is None else refused
    flush_out()
    if command.opens and code == DONE and response.is_for_people and response.output is None and _is_terminal():
        return _open_app([command.opens(options)])
    return code


def _is_terminal() -> bool:
    """Say whether the app can read keys (from 0) and draw (on 2), and whether a person reads what is printed."""
    return all(os.isatty(stream) for stream in range(3))


def _open_app(words: Sequence[str]) -> int:
    if words and (meant := _command_meant(words[0])):
        return complain(f"{words[0]}: there is no such command, file or folder.{meant}")
    options = _AppParser().parse_args(words)
    path = Path(options.path or ".")
    if not _exists(str(path)) and not _may_be_made(path):
        return complain(f"{options.path}: there is no such file or folder. Check the name{_file_meant(path)}")
    if not _is_terminal() and "TEXTUAL_DRIVER" not in os.environ:  # Textual's own server has the browser for a terminal
        return complain(
            "the app has to be started in a terminal, without redirected input or output. "
            "To print without one, use a command, such as kitbuilder check FILE"
        )
    gc.disable()  # nothing of what is loaded now is garbage, and looking for some takes a tenth of the start

    from kitbuilder.app.app import run_app
    from kitbuilder.report.numbers import System

    system = System(options.units) if options.units else None
    return run_app(path if options.path else None, system, plain_pictures=options.plain_pictures)


def _command_meant(word: str) -> str:
    """Hint at the command that was probably meant by the first word, if that is no option and no path."""
    path = Path(word)
    if word.startswith("-") or path.suffix or path.name != word or _exists(word):
        return ""
    from kitbuilder.kitfile.old_words import COMMANDS
    from kitbuilder.kitfile.problems import nearest

    return nearest(COMMANDS.get(word, word), NAMES)


def _file_meant(path: Path) -> str:
    """Hint at what was probably meant by a name that is not there."""
    from kitbuilder.kitfile.problems import nearest

    try:
        found = nearest(path.name, os.listdir(path.parent))  # noqa: PTH208  names are compared, not paths
    except OSError:
        return ""
    return f".{found}" if found else ""


def _may_be_made(path: Path) -> bool:
    """Say whether a name that is not there may stand for a new folder: no file was meant, and none of another name."""
    is_new = not path.suffix and not os.path.lexists(path) and path.parent.is_dir()
    return is_new and _is_terminal() and not _file_meant(path)


def _exists(name: str) -> bool:
    """Say whether there is such a file or folder; a name that is too long for one is none."""
    return os.path.exists(name)  # noqa: PTH110  Path.exists raises an error for such a name


class _AppParser(Parser):
    """The words without a command. The list of commands is loaded only when help is asked for."""

    def __init__(self) -> None:
        super().__init__(
            "kitbuilder", "Open a folder of kit files, or one kit file. With a command in its place, print instead."
        )
        self.add_argument(
            "path",
            nargs="?",
            metavar="FOLDER|FILE",
            help="what to open (default: this folder; where it holds other files only, the one open last); "
            "a new folder is made with its first kit",
        )
        add_app_options(self)

    def format_help(self) -> str:
        self.epilog = (
            "example:\n  kitbuilder configs\n\n"
            f"commands; each takes --help:\n{command_list()}\n\n"
            "A folder named like a command is opened as ./check."
        )
        return super().format_help()
