"""kitbuilder spares: the spare parts to bring for one kit, for several that travel together, or for a trip."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, UNREADABLE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from kitbuilder.commands.response import Response
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.report.shapes import Shape

LEVELS = ("none", "day boat", "remote")
USUAL_LEVEL = "day boat"


def add_arguments(parser: ArgumentParser) -> None:
    """Declare the kits or the trip, and the level."""
    parser.add_argument(
        "files", metavar="FILE", nargs="+", help="a kit file, several for one list without doubles; or a trip file"
    )
    parser.add_argument(
        "--level",
        choices=LEVELS,
        help="what to be ready for: a day boat, or a remote place without a shop (default: what the trip file asks "
        "for, else a day boat)",
    )


def run(options: Namespace, response: "Response") -> int:
    """Print the list with its masses; the text ends with the cautions."""
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.kitfile.problems import Problem

    names = tuple(dict.fromkeys(options.files))
    if len(names) > 1:
        kits = [(name, kit) for name in names if (kit := response.kit(name)) is not None]
        return _of_kits(kits, options.level, response) if len(kits) == len(names) else response.without_answer()
    reading = response.read(names[0])
    if isinstance(reading.contents, ResolvedTrip):
        return _of_trip(names[0], reading.contents, options.level, response)
    if reading.resolved is not None:
        return _of_kits([(names[0], reading.resolved)], options.level, response)
    if reading.contents is not None:
        accepted = "The list needs a kit or a trip. Give one of those."
        response.complain(names[0], [Problem(None, "holds", f'found "{reading.file.name}"', accepted)])
    return response.without_answer()


def _of_kits(kits: "Sequence[tuple[str, ResolvedKit]]", level: str | None, response: "Response") -> int:
    from kitbuilder.plans.spares import kit_to_supply, list_spares
    from kitbuilder.report.spares import spares_page

    found = list_spares([kit_to_supply(name, kit) for name, kit in kits], level or USUAL_LEVEL)
    has_several = len(kits) > 1
    problems = [f"{name}: {each}" if has_several else each for name, kit in kits for each in kit.linked.problems]
    response.not_used(problems, None if has_several else kits[0][0])
    return response.give(spares_page(found, [kit.header.name for _, kit in kits], problems), DONE)


def _of_trip(file: str, trip: "ResolvedTrip", level: str | None, response: "Response") -> int:
    """Print what a trip calls for: what is rented there asks for spares too, such as an adapter for its valve."""
    from kitbuilder.plans.trip_spares import spares_of
    from kitbuilder.report.spares import spares_page
    from kitbuilder.report.trip import trip_problems

    found = spares_of(trip, level or trip.header.spares or USUAL_LEVEL)
    problems = trip_problems(trip)
    response.not_used(problems, file)
    names = [travelling.kit.header.name for travelling in trip.kits if travelling.kit]
    code = response.give(spares_page(found, names, problems), DONE)
    return UNREADABLE if trip.missing_kits else code


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.spares import SHAPE

    return SHAPE


COMMAND = Command(
    name="spares",
    arguments="FILE...",
    summary="print the spare parts to bring for a kit, for several together, or for a trip",
    details="O-rings of the joints, plugs, tools, straps, batteries and hoses that these kits call for, with their "
    "mass. For several kits it is one list without doubles, and says which spare serves which kit. A trip file "
    "stands for its kits, what is rented there, and the level that it asks for.",
    example=Example("kitbuilder spares configs/warm-single.toml", DONE),
    exit_codes={DONE: "the list was made", UNREADABLE: "a file, or a kit of the trip, cannot be read"},
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
