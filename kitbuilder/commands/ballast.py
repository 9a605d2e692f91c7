"""kitbuilder ballast: the lead for other waters and cylinders."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.answers import complain, print_cautions, print_json, unknown_word
from kitbuilder.commands.command import DONE, FOUND, UNREADABLE, Command, Example
from kitbuilder.commands.reading import read_kit
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit, and which waters and cylinders to work out."""
    parser.add_argument("file", metavar="FILE", help="a kit file")
    parser.add_argument(
        "--water", action="append", default=[], metavar="NAME", help="fresh, ocean, ...; may be repeated"
    )
    parser.add_argument(
        "--cylinder", action="append", default=[], metavar="PRESET", help='"aluminium 11.1 L 207", ...; may be repeated'
    )


def run(options: Namespace, response: "Response") -> int:
    """Print the lead for each water and cylinder."""
    from kitbuilder.assess.assessment import assess
    from kitbuilder.plans.ballast import ask_ballast, cylinder_names, water_names
    from kitbuilder.report import ballast
    from kitbuilder.report.numbers import System

    for asked, known in ((options.water, water_names()), (options.cylinder, cylinder_names())):
        for name in asked:
            if name not in known:
                return complain(unknown_word("ballast", name, known))
    kit = read_kit(options.file)
    if kit is None:
        return UNREADABLE
    found = ask_ballast(kit, options.water, options.cylinder)
    missing = tuple(result for result in assess(kit).unchecked if result.rule in ballast.RULES)
    if options.json:
        print_json(ballast.ballast_json(options.file, found, missing, System(options.units)))
    else:
        write_out(ballast.ballast_text(options.file, found, missing, System(options.units)) + "\n")
        print_cautions()
    return DONE if found.answers else FOUND


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
)
