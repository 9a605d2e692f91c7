"""kitbuilder fewest: the smallest set of hoses that serves several kits."""

import os
from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE
from kitbuilder.commands.solving import add_time, complaint_about_time

if TYPE_CHECKING:
    from kitbuilder.assess.assessment import Assessment
    from kitbuilder.commands.response import Response
    from kitbuilder.plans.fewest import HoseSources
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare kits, where hoses may come from, and what matters most."""
    parser.add_argument("files", nargs="+", metavar="KIT", help="a kit file")
    parser.add_argument(
        "--from",
        dest="source",
        choices=("both", "gear", "stock"),
        default="both",
        help="where hoses may come from: owned (gear), available to buy (stock), or both (default)",
    )
    parser.add_argument("--gear", metavar="FILE", help="what is owned (default: the first gear file that a kit names)")
    parser.add_argument("--stock", metavar="FILE", help="what is available (default: the first stock that a kit names)")
    parser.add_argument(
        "--order",
        choices=("fewest", "lightest", "cheapest"),
        default="fewest",
        help="what comes first (default: fewest); the others follow in that order",
    )
    parser.add_argument("--any-body", action="store_true", help="a hose may have another body than the kit's")
    parser.add_argument(
        "--both-divers", action="store_true", help="share hoses between kits that belong to different divers"
    )
    add_time(parser, 10.0)


def run(options: Namespace, response: "Response") -> int:
    """Print the smallest set, and which hose serves which kit."""
    from kitbuilder.assess.gear.owners import owners_of
    from kitbuilder.plans.fewest import ORDERS, find_fewest
    from kitbuilder.report.fewest import fewest_page
    from kitbuilder.report.owners import apart_complaint

    if complaint := _complaint_about(options):
        return response.refuse(f"fewest: {complaint}")
    kits = response.assessed(options.files)
    owners = owners_of(kit.kit for _, kit in kits)
    if owners.are_apart and not options.both_divers:
        return response.refuse(f"fewest: {apart_complaint(owners)}")
    found = _sources(options, response, kits) if kits else None
    if found is None:
        return response.without_answer()
    sources, problems = found
    response.not_used(problems)
    order = ORDERS[options.order]
    plan = find_fewest(kits, sources, order, any_body=options.any_body, time_limit_s=options.time)
    code = FOUND if plan.unserved_runs else DONE
    return response.give(fewest_page(plan, problems), code if len(kits) == len(options.files) else UNREADABLE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.fewest_data import SHAPE

    return SHAPE


def _complaint_about(options: Namespace) -> str:
    """Say what is wrong with the words before any file is read, or nothing."""
    paths = [os.path.realpath(name) for name in options.files]  # unlike Path.resolve, it takes a link to itself
    if twice := [name for name, path in zip(options.files, paths, strict=True) if paths.count(path) > 1]:
        return f"{twice[0]} is named twice. Name each kit once"
    return complaint_about_time(options)


def _sources(
    options: Namespace, response: "Response", kits: "list[tuple[str, Assessment]]"
) -> "tuple[HoseSources, tuple[str, ...]] | None":
    """Say where hoses may come from, and what is wrong in the linked files; None after a complaint."""
    from kitbuilder.plans.fewest import sources_beside, sources_from
    from kitbuilder.report.linked import problems_of

    sources = sources_beside(kits, options.source)
    problems = tuple(problems_of((name, kit.kit) for name, kit in kits))
    if options.gear is not None:
        gear = response.gear(options.gear)
        if gear is None:
            return None
        sources = sources_from(options.source, gear, sources.stock)
    if options.stock is not None:
        read = response.stock(options.stock)
        if read is None:
            return None
        stock, stock_problems = read
        sources, problems = sources_from(options.source, sources.gear, stock), problems + stock_problems
    return sources, problems


COMMAND = Command(
    name="fewest",
    arguments="KIT...",
    summary="print the smallest set of hoses that serves all these kits",
    details="For kits that are never used at the same time: which hose serves which kit, what to buy, why each hose "
    "is needed, and the second best set where it costs little more.",
    example=Example("kitbuilder fewest configs/cold-single.toml configs/twinset.toml", DONE),
    exit_codes={
        DONE: "every kit has a hose for each of its runs",
        FOUND: "a run has no suitable hose",
        UNREADABLE: "a file cannot be read or is named twice, --time is out of range, or kits belong to several divers",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
