"""kitbuilder compare: two to four kits side by side, or two versions of one."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare two to four kits."""
    parser.add_argument("first", metavar="A", help="a kit file")
    parser.add_argument("second", metavar="B", help="another kit file, or an older or newer version of the same one")
    parser.add_argument("third", metavar="C", nargs="?", help="a third kit file")
    parser.add_argument("fourth", metavar="D", nargs="?", help="a fourth kit file")
    parser.add_argument("--all", action="store_true", dest="everything", help="also show what is the same")


def run(options: Namespace, response: "Response") -> int:
    """Print the kits beside each other."""
    from kitbuilder.assess.assessment import assess
    from kitbuilder.kit.file_kinds import KIT_FILE
    from kitbuilder.kitfile.differences import differences
    from kitbuilder.plans.side_by_side import are_versions, set_side_by_side
    from kitbuilder.report.compare import compare_page, linked_problems
    from kitbuilder.report.comparison import Comparison

    given = (options.first, options.second, options.third, options.fourth)
    names = tuple(name for name in given if name is not None)
    readings = [response.read(name, KIT_FILE) for name in names]
    kits = [assess(reading.resolved) for reading in readings if reading.resolved is not None]
    if len(kits) < len(names):
        return response.without_answer()
    changes = differences(readings[0], readings[1]) if are_versions(kits) else None
    shown = Comparison(set_side_by_side(kits), names, changes, options.everything)
    response.not_used(linked_problems(shown))
    return response.give(compare_page(shown), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.compare_data import SHAPE

    return SHAPE


COMMAND = Command(
    name="compare",
    arguments="A B [C] [D]",
    summary="print two to four kits side by side, or two versions of one",
    details="Hoses and gear are matched by what they do: a long hose and an octopus are both given. What differs is "
    "marked; what is the same is counted. A difference of mass, buoyancy or lead has its own spread: what both kits "
    "share cancels out. Two kits of one name and layout are versions of one kit: their keys are compared as well.",
    example=Example("kitbuilder compare configs/warm-single.toml configs/twinset.toml", DONE),
    exit_codes={DONE: "the kits were compared", UNREADABLE: "a file cannot be read"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
