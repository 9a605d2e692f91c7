"""kitbuilder trip: what a trip weighs, and how it goes into the bags."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.plans.trip_packing import TripPacking
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a trip."""
    parser.add_argument("file", metavar="FILE", help="a trip file; its kits are read from its folder")


def run(options: Namespace, response: "Response") -> int:
    """Print the masses, the bags, and what to ask the airline."""
    from kitbuilder.kit.file_kinds import TRIP_FILE
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.plans.trip_packing import pack_trip
    from kitbuilder.report.trip import trip_page, trip_problems

    trip = response.read(options.file, TRIP_FILE).contents
    if not isinstance(trip, ResolvedTrip):
        return response.without_answer()
    response.not_used(trip_problems(trip), options.file)
    found = pack_trip(trip)
    return response.give(trip_page(options.file, found), _exit_code(found))


def _exit_code(found: "TripPacking") -> int:
    from kitbuilder.assess.findings import Signal

    if any(travelling.kit is None for travelling in found.trip.kits):
        return UNREADABLE
    worst = max((finding.signal for finding in found.findings), default=Signal.NOTICE)
    return DONE if found.is_packed and worst == Signal.NOTICE else FOUND


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.trip import SHAPE

    return SHAPE


COMMAND = Command(
    name="trip",
    arguments="FILE",
    summary="print what a trip weighs, and what goes into which bag",
    details="Packs everything that is brought into the bags, every limit of every leg kept with the probability that "
    "the trip asks for, 95 % by default. Where not everything fits, it finds the cheapest of what the trip allows to "
    "leave, rent, wear or pay. It says what decides, what the bags weigh wet on the way home, and what to ask the "
    "airline.",
    example=Example("kitbuilder trip configs/trip-reef.toml", DONE),
    exit_codes={
        DONE: "everything has a bag, and nothing is worse than a notice",
        FOUND: "an item has no bag or no mass, a limit may not hold on the way home, or a caution or worse",
        UNREADABLE: "the trip file or a kit of it cannot be read",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
