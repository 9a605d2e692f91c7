"""kitbuilder changeover: how one kit is rebuilt as another."""

import os
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.answers import complain, print_cautions, print_json
from kitbuilder.commands.command import DONE, FOUND, UNREADABLE, Command, Example
from kitbuilder.commands.reading import assessed_kits, read_gear
from kitbuilder.streams import write_error, write_out

if TYPE_CHECKING:
    from kitbuilder.assess.assessment import Assessment
    from kitbuilder.commands.response import Response
    from kitbuilder.plans.changeover import Unbuildable


def add_arguments(parser: ArgumentParser) -> None:
    """Declare two kits, and what else is owned."""
    parser.add_argument("left", metavar="A", help="the kit as it is built now")
    parser.add_argument("right", metavar="B", help="the kit to build")
    parser.add_argument("--gear", metavar="FILE", help="what else is owned (default: what kit B names, else kit A)")


def run(options: Namespace, response: "Response") -> int:
    """Print the work step by step."""
    from kitbuilder.plans.changeover import Unbuildable, plan_changeover
    from kitbuilder.report import changeover
    from kitbuilder.report.numbers import System

    names = (options.left, options.right)
    if os.path.realpath(names[0]) == os.path.realpath(names[1]):
        return complain(f"changeover: {names[0]} is named twice. Name the kit that is built, then the one to build")
    kits = assessed_kits(names)
    if len(kits) < len(names):
        return UNREADABLE
    (_, source), (_, target) = kits
    gear = None
    if options.gear is not None and (gear := read_gear(options.gear)) is None:
        return UNREADABLE
    try:
        plan = plan_changeover(source, target, gear)
    except Unbuildable as problem:
        return _refuse(problem, source, target, options)
    if options.json:
        print_json(changeover.changeover_json(plan, names))
    else:
        write_out(changeover.changeover_text(plan, names, System(options.units)) + "\n")
        print_cautions()
    return FOUND if plan.match.bought else DONE


def _refuse(problem: "Unbuildable", source: "Assessment", target: "Assessment", options: Namespace) -> int:
    """Say why one of the kits cannot be built as its file says; gives the exit code for it."""
    from kitbuilder.report import changeover
    from kitbuilder.report.linked import problems_of
    from kitbuilder.report.numbers import System

    names = (options.left, options.right)
    not_used = problems_of(zip(names, (source.kit, target.kit), strict=True))
    if options.json:
        print_json(changeover.unbuildable_json(problem, names, not_used))
    file = changeover.file_of(problem, source.kit, names)
    write_error(changeover.unbuildable_text(problem, file, not_used, System(options.units)))
    return UNREADABLE


COMMAND = Command(
    name="changeover",
    arguments="A B",
    summary="print how kit A is rebuilt as kit B, as a checklist",
    details="The least work that turns one kit into the other: where each hose goes, what to have ready, and every "
    "step in order with spanners, torque, O-rings and the checks that follow.",
    example=Example("kitbuilder changeover configs/cold-single.toml configs/sidemount.toml", DONE),
    exit_codes={
        DONE: "everything needed is owned",
        FOUND: "a part has to be bought",
        UNREADABLE: "a file cannot be read or is named twice, or a kit cannot be built as its file says",
    },
    add_arguments=add_arguments,
    run=run,
)
