"""kitbuilder check: figures and findings of kit files."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from kitbuilder.commands.answers import print_cautions, print_json
from kitbuilder.commands.command import DONE, FOUND, UNREADABLE, Command, Example
from kitbuilder.commands.reading import write_problems
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.kitfile.reader import ParseResult


def add_arguments(parser: ArgumentParser) -> None:
    """Declare any number of files, at least one."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="a file of a kit, a diver, a stock or a gear file")


def run(options: Namespace, response: "Response") -> int:
    """Print each file in turn; JSON is one list for all files."""
    from kitbuilder.kitfile.read import read

    code, any_shown, rows = DONE, False, list[dict[str, Any]]()
    for name in options.files:
        reading = read(Path(name))
        code = max(code, _check_file(name, reading, options, rows))
        any_shown = any_shown or reading.contents is not None
    if options.json:
        print_json(rows)
    elif any_shown:
        print_cautions()
    return code


def _check_file(name: str, reading: "ParseResult", options: Namespace, rows: list[dict[str, Any]]) -> int:
    """Print what there is to say about one file, or put it into the rows for JSON; gives its exit code."""
    from kitbuilder.assess.assessment import assess
    from kitbuilder.assess.findings import Signal
    from kitbuilder.report import check
    from kitbuilder.report.numbers import System

    system = System(options.units)
    if reading.resolved is None:
        if options.json:
            rows.append(check.file_json(name, reading))
        else:
            _print_other_file(name, reading)
        return UNREADABLE if reading.contents is None else FOUND if reading.problems else DONE
    assessment = assess(reading.resolved)
    if options.json:
        rows.append(check.check_json(name, assessment, system))
    else:
        write_out(check.check_text(name, assessment, system) + "\n")
    return FOUND if assessment.worst is not None and assessment.worst >= Signal.CAUTION else DONE


def _print_other_file(name: str, reading: "ParseResult") -> None:
    """Print about a file that is no kit, or that cannot be read."""
    from kitbuilder.report import check

    if reading.contents is not None:
        write_out(check.file_text(name, reading) + "\n")
    if reading.problems:
        write_problems(name, reading.problems)


COMMAND = Command(
    name="check",
    arguments="FILE...",
    summary="print figures and findings of kit files",
    details="Mass, buoyancy, lead and trim, the length of each hose, what is wrong and what to do about it.",
    example=Example("kitbuilder check configs/sidemount.toml", FOUND),
    exit_codes={
        DONE: "nothing worse than a notice",
        FOUND: "a caution or worse, or a row of a stock is left out",
        UNREADABLE: "a file cannot be read",
    },
    add_arguments=add_arguments,
    run=run,
)
