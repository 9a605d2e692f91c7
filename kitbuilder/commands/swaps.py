"""kitbuilder swaps: what is lighter, and what it does to lead, fit and findings."""

from argparse import ArgumentParser, Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit or a trip, and a gear file to take items from."""
    parser.add_argument("file", metavar="FILE", help="a kit file, or a trip file with its kits in the same folder")
    parser.add_argument(
        "--gear", metavar="FILE", help="a gear file in the same folder; default: the one that the kit names"
    )


def run(options: Namespace, response: "Response") -> int:
    """Print each swap and the sets that no other set beats, of each kit of a trip; the text ends with the cautions."""
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.kitfile.problems import Problem

    reading = response.read(options.file)
    if isinstance(reading.contents, ResolvedTrip):
        return _of_trip(reading.contents, options, response)
    if reading.resolved is not None:
        return _of_kit(reading.resolved, options, response)
    if reading.contents is not None:
        accepted = "Swaps need a kit or a trip. Give one of those."
        response.complain(options.file, [Problem(None, "holds", f'found "{reading.file.name}"', accepted)])
    return response.without_answer()


def _of_kit(kit: "ResolvedKit", options: Namespace, response: "Response") -> int:
    from kitbuilder.plans.swaps.swaps import plan_swaps
    from kitbuilder.report.swaps import swaps_page

    gear = response.gear(options.gear) if options.gear else None
    if options.gear and gear is None:
        return response.without_answer()
    if options.gear and Path(options.gear).resolve().parent != Path(options.file).resolve().parent:
        return response.refuse(
            f"swaps: --gear: {options.gear} is not in the folder of {options.file}, so that the kit cannot name it. "
            "Copy it there."
        )
    found = plan_swaps(kit, gear=(Path(options.gear).name, gear) if gear else None)
    response.not_used(found.before.kit.linked.problems, options.file)
    return response.give(swaps_page(options.file, found), DONE if found.swaps else FOUND)


def _of_trip(trip: "ResolvedTrip", options: Namespace, response: "Response") -> int:
    from kitbuilder.plans.swaps.trial import plan_swaps_there
    from kitbuilder.report.swaps import trip_swaps_page
    from kitbuilder.report.trip import trip_problems

    if options.gear:
        return response.refuse(
            f"swaps: --gear: found {options.gear} with a trip. Each kit of a trip takes items from the gear file that "
            "it names. Give a kit, or leave --gear out"
        )
    response.not_used(trip_problems(trip), options.file)
    found = [(each.file, plan_swaps_there(trip, each)) for each in trip.kits if each.kit]
    code = response.give(trip_swaps_page(options.file, trip, found), DONE)
    if any(travelling.kit is None for travelling in trip.kits):
        return UNREADABLE
    return code if any(plan.swaps for _, plan in found) else FOUND


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
    "swaps that no other set beats. Of a trip it is each kit, without what is rented or left at home.",
    example=Example("kitbuilder swaps configs/twinset.toml", DONE),
    exit_codes={
        DONE: "at least one swap saves mass",
        FOUND: "nothing is lighter",
        UNREADABLE: "the file, or a kit of the trip, cannot be read, or the gear file is in another folder",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
