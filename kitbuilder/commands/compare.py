"""kitbuilder compare: two kits side by side."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import DONE, UNREADABLE, Command, Example

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare two kits."""
    parser.add_argument("left", metavar="A", help="a kit file")
    parser.add_argument("right", metavar="B", help="another kit file")


def run(options: Namespace, response: "Response") -> int:
    """Print both kits in two columns."""
    from kitbuilder.plans.side_by_side import set_side_by_side
    from kitbuilder.report.compare import compare_page, linked_problems

    names = (options.left, options.right)
    kits = response.assessed(names)
    if len(kits) < len(names):
        return response.without_answer()
    (_, left), (_, right) = kits
    found = set_side_by_side(left, right)
    response.not_used(linked_problems(found, names))
    return response.give(compare_page(found, names), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.compare import SHAPE

    return SHAPE


COMMAND = Command(
    name="compare",
    arguments="A B",
    summary="print two kits side by side",
    details="What differs is marked. A difference of mass, buoyancy or lead has its own spread: what both kits share "
    "cancels out.",
    example=Example("kitbuilder compare configs/cold-single.toml configs/warm-single.toml", DONE),
    exit_codes={DONE: "the kits were compared", UNREADABLE: "a file cannot be read"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
