"""kitbuilder changeover: how one kit is rebuilt as another."""

import os
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare two kits, and what else is owned."""
    parser.add_argument("left", metavar="A", help="the kit as it is built now")
    parser.add_argument("right", metavar="B", help="the kit to build")
    parser.add_argument("--gear", metavar="FILE", help="what else is owned (default: what kit B names, else kit A)")
    parser.add_argument(
        "--day", metavar="DAY", help="day on which no item may be due (default: the day in kit B, or today)"
    )
    parser.add_argument(
        "--both-divers", action="store_true", help="use parts of kit A although it belongs to another diver"
    )


def run(options: Namespace, response: "Response") -> int:
    """Print the work step by step, or why there is no plan."""

    from kitbuilder.clock import today
    from kitbuilder.kitfile.overrides import override_day
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.changeover import Unbuildable, plan_changeover
    from kitbuilder.report.changeover import changeover_page, unbuildable_page
    from kitbuilder.report.linked import problems_of

    names = (options.left, options.right)
    if os.path.realpath(names[0]) == os.path.realpath(names[1]):
        sentence = f"changeover: {names[0]} is named twice. Name the kit that is built, then the one to build"
        return response.refuse(sentence)
    try:
        day = None if options.day is None else override_day(options.day)
    except Refusal as refusal:
        return response.refuse(f"changeover: --day: {refusal}")
    kits = response.assessed(names)
    gear = None if options.gear is None else response.gear(options.gear)
    if len(kits) < len(names) or (options.gear is not None and gear is None):
        return response.without_answer()
    (_, source), (_, target) = kits
    linked = problems_of(zip(names, (source.kit, target.kit), strict=True))
    response.not_used(linked)
    try:
        on = day or target.kit.header.day or today()
        plan = plan_changeover(source, target, gear, day=on, both_divers=options.both_divers)
    except Unbuildable as problem:
        return response.give(unbuildable_page(problem, source.kit, names, linked), UNREADABLE)
    return response.give(changeover_page(plan, names), DONE if plan.is_all_owned else FOUND)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.changeover import SHAPE

    return SHAPE


COMMAND = Command(
    name="changeover",
    arguments="A B",
    summary="print how kit A is rebuilt as kit B, as a checklist",
    details="The least work that turns one kit into the other: where each hose goes, what to have ready, and every "
    "step in order with spanners, torque, O-rings and the checks that follow.",
    heading="Changeover",
    example=Example("kitbuilder changeover configs/cold-single.toml configs/sidemount.toml", DONE),
    exit_codes={
        DONE: "everything needed is owned",
        FOUND: "a part or a plug has to be bought",
        UNREADABLE: "a file cannot be read or is named twice, or a kit cannot be built as its file says",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
