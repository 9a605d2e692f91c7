"""kitbuilder card: what to ask for where gear is rented."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a kit or a trip."""
    parser.add_argument("file", metavar="FILE", help="a kit file, or a trip file with its kits in the same folder")


def run(options: Namespace, response: "Response") -> int:
    """Print a card for the kit, or for each kit of the trip."""
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.kitfile.problems import Problem
    from kitbuilder.plans.rental_card import make_card, make_trip_cards
    from kitbuilder.report.rental_card import card_page
    from kitbuilder.report.trip import trip_problems

    reading = response.read(options.file)
    if isinstance(reading.contents, ResolvedTrip):
        trip = reading.contents
        problems, cards = trip_problems(trip), make_trip_cards(trip)
        is_read = all(travelling.kit is not None for travelling in trip.kits)
    elif reading.resolved is not None:
        problems, cards, is_read = reading.resolved.linked.problems, (make_card(reading.resolved),), True
    else:
        if reading.contents is not None:
            accepted = "The card needs a kit or a trip. Give one of those."
            response.complain(options.file, [Problem(None, "holds", f'found "{reading.file.name}"', accepted)])
        return response.without_answer()
    response.not_used(problems, options.file)
    code = response.give(card_page(options.file, cards, problems), DONE)
    if not is_read:
        return UNREADABLE
    return code if cards and all(card.leads for card in cards) else FOUND


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.rental_card import SHAPE

    return SHAPE


COMMAND = Command(
    name="card",
    arguments="FILE",
    summary="print a card to carry: the lead with rented cylinders, inlets, couplings",
    details="For each cylinder that is likely there: the lead with its spread in kilograms and pounds, and the pieces "
    "to take. What another suit or water changes, which valves the first stages go on, which couplings a rented "
    "regulator needs, and how to make a float check. A trip says what is rented there, its water and its kits. "
    "Fits 60 columns and 40 lines.",
    example=Example("kitbuilder card configs/warm-single.toml", DONE),
    exit_codes={
        DONE: "the lead was worked out",
        FOUND: "the lead of a kit cannot be worked out",
        UNREADABLE: "the file, or a kit of the trip, cannot be read",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
