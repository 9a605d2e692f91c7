"""kitbuilder compare: two kits side by side."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.answers import print_cautions, print_json
from kitbuilder.commands.command import DONE, UNREADABLE, Command, Example
from kitbuilder.commands.reading import assessed_kits
from kitbuilder.streams import write_out

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response


def add_arguments(parser: ArgumentParser) -> None:
    """Declare two kits."""
    parser.add_argument("left", metavar="A", help="a kit file")
    parser.add_argument("right", metavar="B", help="another kit file")


def run(options: Namespace, response: "Response") -> int:
    """Print both kits in two columns."""
    from kitbuilder.plans.side_by_side import set_side_by_side
    from kitbuilder.report import compare
    from kitbuilder.report.numbers import System

    names = (options.left, options.right)
    kits = assessed_kits(names)
    if len(kits) < len(names):
        return UNREADABLE
    (_, left), (_, right) = kits
    found = set_side_by_side(left, right)
    if options.json:
        print_json(compare.compare_json(found, names))
    else:
        write_out(compare.compare_text(found, names, System(options.units)))
        print_cautions()
    return DONE


COMMAND = Command(
    name="compare",
    arguments="A B",
    summary="print two kits side by side",
    details="Values that differ are marked.",
    example=Example("kitbuilder compare configs/cold-single.toml configs/warm-single.toml", DONE),
    exit_codes={DONE: "the kits were compared", UNREADABLE: "a file cannot be read"},
    add_arguments=add_arguments,
    run=run,
)
