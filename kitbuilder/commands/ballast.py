"""kitbuilder ballast: the lead for other waters and cylinders."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit, and which waters and cylinders to work out."""
    parser.add_argument("file", metavar="FILE", help="a kit file")
    parser.add_argument(
        "--water", action="append", default=[], metavar="WATER", help="fresh, ocean, lake, sea, ...; may be repeated"
    )
    parser.add_argument(
        "--cylinder", action="append", default=[], metavar="CYLINDER", help='"al80", "steel 15", ...; may be repeated'
    )


def run(options: Namespace, response: "Response") -> int:
    """Print the lead for each water and cylinder."""
    from kitbuilder.plans.ballast import ask_ballast, cylinder_names, missing_for_lead, water_names
    from kitbuilder.report.ballast import ballast_page

    waters = [response.word_meant("ballast: --water", name, "water", water_names()) for name in options.water]
    cylinders = [
        response.word_meant("ballast: --cylinder", name, "cylinder", cylinder_names()) for name in options.cylinder
    ]
    if None in waters or None in cylinders:
        return response.without_answer()
    kit = response.kit(options.file)
    if kit is None:
        return response.without_answer()
    response.not_used(kit.linked.problems, options.file)
    found = ask_ballast(kit, list(filter(None, waters)), list(filter(None, cylinders)))
    page = ballast_page(options.file, found, missing_for_lead(kit))
    return response.give(page, DONE if found.answers else FOUND)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.ballast import SHAPE

    return SHAPE


COMMAND = Command(
    name="ballast",
    arguments="FILE",
    summary="print the lead for other waters and cylinders",
    details="Default: the water of the kit, ocean and fresh, each with the cylinders of the kit and with the "
    "nearest of the other metal.",
    example=Example("kitbuilder ballast configs/twinset.toml --water fresh", DONE),
    exit_codes={
        DONE: "the lead was worked out",
        FOUND: "the lead cannot be worked out",
        UNREADABLE: "the file cannot be read, or a water or cylinder is not known",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
