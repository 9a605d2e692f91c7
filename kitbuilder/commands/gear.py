"""kitbuilder gear: the items owned, where each is used, and what is due."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.assess.gear.gear import GearReport
    from kitbuilder.commands.response import Response
    from kitbuilder.report.gear import KitNeeds
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a gear file, and the day to look ahead to."""
    parser.add_argument("file", metavar="FILE", help="a gear file; kits in its folder that name it are read too")
    parser.add_argument(
        "--day", metavar="DAY", help='day on which everything has to be in order: "2027-05-14" (default: today)'
    )


def run(options: Namespace, response: "Response") -> int:
    """Print each item, and what each kit still needs."""

    from kitbuilder.assess.gear.gear import report_on_gear
    from kitbuilder.clock import today
    from kitbuilder.kit.file_kinds import GEAR_FILE
    from kitbuilder.kitfile.folder import kits_naming, unreadable_naming
    from kitbuilder.kitfile.overrides import override_day
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.gear import contacts_of, kits_using, needs_of, uses_of
    from kitbuilder.report.gear import gear_page

    try:
        day = today() if options.day is None else override_day(options.day)
    except Refusal as refusal:
        return response.refuse(f"gear: --day: {refusal}")
    reading = response.read(options.file, GEAR_FILE)
    if reading.gear is None:
        return response.without_answer()
    kits = kits_naming(Path(options.file))
    uses = uses_of(reading.gear, kits)
    report = report_on_gear(reading.gear, day, kits_using(uses), reading.lines, contacts_of(kits))
    needs = tuple((name, needs_of(kit, reading.gear)) for name, kit in kits)
    left_out = unreadable_naming(Path(options.file))
    for name, problems in left_out:
        response.complain(name, problems)
    code = UNREADABLE if left_out else _exit_code(report, needs)
    return response.give(gear_page(options.file, report, uses, needs), code)


def _exit_code(report: "GearReport", needs: "KitNeeds") -> int:
    from kitbuilder.assess.findings import Signal

    worst = max((finding.signal for finding in report.findings), default=Signal.NOTICE)
    is_short = any(need.shortages for _, need in needs)
    return FOUND if worst >= Signal.CAUTION or is_short else DONE


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.gear import SHAPE

    return SHAPE


COMMAND = Command(
    name="gear",
    arguments="FILE",
    summary="print the items owned, where each is used, and what is due",
    details="Also what each kit needs that is not owned.",
    example=Example("kitbuilder gear configs/gear.toml --day 2027-05-14", FOUND),
    exit_codes={
        DONE: "nothing is due and no kit needs more than is owned",
        FOUND: "a caution or worse, or a kit needs more",
        UNREADABLE: "the gear file or a kit that names it cannot be read, or --day is no day",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
