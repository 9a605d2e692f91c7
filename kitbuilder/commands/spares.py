"""kitbuilder spares: the spare parts to bring for one kit, or for several that travel together."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape

LEVELS = ("none", "day boat", "remote")


def add_arguments(parser: ArgumentParser) -> None:
    """Declare the kits and the level."""
    parser.add_argument("files", metavar="KIT", nargs="+", help="a kit file; several give one list without doubles")
    parser.add_argument(
        "--level",
        choices=LEVELS,
        default="day boat",
        help="what to be ready for: a day boat, or a remote place without a shop (default: day boat)",
    )


def run(options: Namespace, response: "Response") -> int:
    """Print the list with its masses; the text ends with the cautions."""
    from kitbuilder.plans.spares import kit_to_supply, list_spares
    from kitbuilder.report.spares import spares_page

    names = tuple(dict.fromkeys(options.files))
    kits = [(name, kit) for name in names if (kit := response.kit(name)) is not None]
    if len(kits) < len(names):
        return response.without_answer()
    found = list_spares([kit_to_supply(name, kit) for name, kit in kits], options.level)
    has_several = len(kits) > 1
    problems = [f"{name}: {each}" if has_several else each for name, kit in kits for each in kit.linked.problems]
    response.not_used(problems, None if has_several else names[0])
    return response.give(spares_page(found, [kit.header.name for _, kit in kits], problems), DONE)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.spares import SHAPE

    return SHAPE


COMMAND = Command(
    name="spares",
    arguments="KIT...",
    summary="print the spare parts to bring for one kit, or for several together",
    details="O-rings of the joints, plugs, tools, straps, batteries and hoses that these kits call for, with their "
    "mass. For several kits it is one list without doubles, and says which spare serves which kit.",
    example=Example("kitbuilder spares configs/warm-single.toml", DONE),
    exit_codes={DONE: "the list was made", UNREADABLE: "a file cannot be read"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
