"""kitbuilder gear: the items owned, where each is used, and what is due."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.answers import complain, print_cautions, print_json
from kitbuilder.commands.command import DONE, FOUND, UNREADABLE, Command, Example
from kitbuilder.commands.reading import write_problems
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a gear file, and the day to look ahead to."""
    parser.add_argument("file", metavar="FILE", help="a gear file; kits in its folder that name it are read too")
    parser.add_argument(
        "--day", metavar="DAY", help='when everything has to be in order, "2027-05-14" (default: today)'
    )


def run(options: Namespace, response: "Response") -> int:
    """Print each item, and what each kit still needs."""
    from datetime import date

    from kitbuilder.assess.findings import Signal
    from kitbuilder.assess.gear.gear import report_on_gear
    from kitbuilder.kit.file_kinds import GEAR_FILE
    from kitbuilder.kitfile.folder import kits_naming, unreadable_naming
    from kitbuilder.kitfile.overrides import override_day
    from kitbuilder.kitfile.read import read
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.gear import kits_using, needs_of, uses_of
    from kitbuilder.report import gear
    from kitbuilder.report.numbers import System

    path, system = Path(options.file), System(options.units)
    try:
        day = date.today() if options.day is None else override_day(options.day)
    except Refusal as refusal:
        return complain(f"gear: --day: {str(refusal).rstrip('.')}")
    reading = read(path, GEAR_FILE)
    if reading.gear is None:
        write_problems(options.file, reading.problems)
        return UNREADABLE
    kits = kits_naming(path)
    uses = uses_of(reading.gear, kits)
    look = report_on_gear(reading.gear, day, kits_using(uses), reading.lines)
    needs = tuple((name, needs_of(kit, reading.gear)) for name, kit in kits)
    broken = unreadable_naming(path)
    for name, problems in broken:
        write_problems(name, problems)
    if options.json:
        print_json(gear.gear_json(options.file, look, uses, needs, system))
    else:
        write_out(gear.gear_text(options.file, look, uses, needs, system) + "\n")
        print_cautions()
    worst = max((finding.signal for finding in look.findings), default=Signal.NOTICE)
    is_short = any(need.shortages for _, need in needs)
    return UNREADABLE if broken else FOUND if worst >= Signal.CAUTION or is_short else DONE


COMMAND = Command(
    name="gear",
    arguments="FILE",
    summary="print the items owned, where each is used, and what is due",
    details="Also what each kit needs that is not owned.",
    example=Example("kitbuilder gear configs/gear.toml --day 2027-05-14", FOUND),
    exit_codes={
        DONE: "nothing is due and no kit needs more than is owned",
        FOUND: "a caution or worse, or a kit needs more",
        UNREADABLE: "the gear file or a kit that names it cannot be read",
    },
    add_arguments=add_arguments,
    run=run,
)
