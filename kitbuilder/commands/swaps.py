"""kitbuilder swaps: what is lighter, and what it does to lead, fit and findings."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit, and a gear file to take items from."""
    parser.add_argument("file", metavar="FILE", help="a kit file")
    parser.add_argument(
        "--gear", metavar="FILE", help="a gear file in the same folder; default: the one that the kit names"
    )


def run(options: Namespace, response: "Response") -> int:
    """Print each swap and the sets that no other set beats; the text ends with the cautions."""
    from kitbuilder.plans.swaps.swaps import plan_swaps
    from kitbuilder.report.swaps import swaps_page

    kit = response.kit(options.file)
    gear = response.gear(options.gear) if options.gear else None
    if kit is None or (options.gear and gear is None):
        return response.without_answer()
    if options.gear and Path(options.gear).resolve().parent != Path(options.file).resolve().parent:
        return response.refuse(
            f"swaps: --gear: {options.gear} is not in the folder of {options.file}, so that the kit cannot name it. "
            "Copy it there."
        )
    found = plan_swaps(kit, gear=(Path(options.gear).name, gear) if gear else None)
    response.not_used(found.before.kit.linked.problems, options.file)
    return response.give(swaps_page(options.file, found), DONE if found.swaps else FOUND)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.swaps_data import SHAPE

    return SHAPE


COMMAND = Command(
    name="swaps",
    arguments="FILE",
    summary="print lighter items for a journey, and what each does to lead and findings",
    details="Each hose body and length, lighter part, owned item and rental is tried on the kit: what it saves in the "
    "bag, the change of the lead there, its price where the stock has one, and new findings. Then the sets of "
    "swaps that no other set beats.",
    example=Example("kitbuilder swaps configs/twinset.toml", DONE),
    exit_codes={
        DONE: "at least one swap saves mass",
        FOUND: "nothing is lighter",
        UNREADABLE: "a file cannot be read, or the gear file is in another folder",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
