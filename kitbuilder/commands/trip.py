"""kitbuilder trip: what a trip weighs, and how it goes into the bags; a new trip is written from kits."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE
from kitbuilder.commands.solving import add_time, complaint_about_time

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.plans.trip_packing import TripPacking
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare a trip, and what a new one is made from; what is left out counts as not known."""
    parser.add_argument("file", metavar="FILE", help="a trip file; its kits are read from its folder")
    add_time(parser, 3.0)
    new = parser.add_argument_group("a new trip")
    new.add_argument(
        "--new", metavar="KIT", action="append", help="write FILE first, with this kit of its folder; may be repeated"
    )
    new.add_argument("--allowance", metavar="LIMITS", help='what may fly: "23 kg hold, 8 kg cabin" (default: no limit)')
    new.add_argument(
        "--rent", metavar="WHAT", help="nothing, lead, cylinders, or cylinders and lead (default: cylinders and lead)"
    )
    new.add_argument("--water", metavar="WATER", help="water there (default: that of each kit)")
    new.add_argument("--days", metavar="DAYS", help='first and last day: "2031-05-10 to 2031-05-24"')


def run(options: Namespace, response: "Response") -> int:
    """Print the masses, the bags, and what to ask the airline."""
    from kitbuilder.kit.file_kinds import TRIP_FILE
    from kitbuilder.kit.resolved_trip import ResolvedTrip
    from kitbuilder.plans.trip_packing import pack_trip
    from kitbuilder.report.trip import trip_page, trip_problems

    if complaint := complaint_about_time(options):
        return response.refuse(f"trip: {complaint}")
    answers = [f"--{name}" for name in ANSWERS if getattr(options, name) is not None]
    if options.new:
        file = _written(options, response)
    elif answers:
        given = f'{answers[0]} "{getattr(options, answers[0].removeprefix("--"))}"'
        return response.refuse(f"trip: found {given} without --new. Name a kit of the new trip with --new KIT")
    else:
        file = options.file
    if file is None:
        return response.without_answer()
    trip = response.read(file, TRIP_FILE).contents
    if not isinstance(trip, ResolvedTrip):
        return response.without_answer()
    response.not_used(trip_problems(trip), file)
    found = pack_trip(trip, options.time)
    return response.give(trip_page(file, found), _exit_code(found))


ANSWERS = ("allowance", "rent", "water", "days")
"""The options that answer a question about a new trip."""


def _written(options: Namespace, response: "Response") -> str | None:
    """Write a new trip, and give its file; None, and complaints, where nothing was written."""
    from pathlib import Path

    from kitbuilder.commands.making import title_of
    from kitbuilder.commands.making_trip import complain_of_new, kit_beside, make_trip
    from kitbuilder.kitfile.disk import path_typed, with_ending

    file = with_ending(options.file)
    given = _answers(options, response)
    if wrong := complain_of_new(options.file):
        response.not_accepted(f"trip: {wrong}")
    folder = Path(file).parent
    if wrong and (Path(options.file).is_dir() or not folder.is_dir()):
        return None  # no kit can be looked for beside it
    names = [kit_beside(folder, name) for name in options.new]
    for typed, name in zip(options.new, names, strict=True):
        if name is None:
            there = Path(typed).parent / Path(file).name
            do = f'The kits of a trip lie in its folder: copy the kit there, or name the trip file beside it, "{there}"'
            response.not_accepted(f'trip: --new: found "{typed}". Nothing was written. {do}')
    kits = [(name, response.kit(str(folder / name))) for name in names if name is not None]
    usable = [(name, kit) for name, kit in kits if kit is not None]
    if response.problems or len(usable) < len(names):
        return None
    path = path_typed(Path(), file)
    try:
        make_trip(path, title_of(path.name), usable, given)
    except OSError as error:
        response.not_accepted(f"trip: {file}: {error.strerror or error}. Nothing was written. Name another file")
        return None
    return file


def _answers(options: Namespace, response: "Response") -> dict[str, str]:
    """Read what was answered, as the questions of the app do."""
    from kitbuilder.kitfile.starters import waters
    from kitbuilder.kitfile.values import Refusal
    from kitbuilder.plans.new_trip import RENTED
    from kitbuilder.report.new_trip_questions import trip_questions
    from kitbuilder.report.numbers import System

    lists = {"rent": tuple(RENTED), "water": waters()}
    typed = {name: getattr(options, name) for name in ANSWERS if getattr(options, name) is not None}
    questions = {question.key: question for question in trip_questions(System(options.units or "metric"))}
    given: dict[str, str] = {}
    for name, text in typed.items():
        if name in lists:
            key = "rented" if name == "rent" else name
            given[key] = response.word_meant(f"trip: --{name}", text, name, lists[name]) or ""
            continue
        read = questions[name].read
        assert read is not None, "what is typed is read"
        try:
            given[name] = read(text)
        except Refusal as refusal:
            response.not_accepted(f"trip: --{name}: {refusal}")
    return given


def _exit_code(found: "TripPacking") -> int:
    from kitbuilder.assess.findings import Signal

    if found.trip.missing_kits:
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
    "airline. With --new it writes the trip first, never over an existing file.",
    example=Example("kitbuilder trip configs/trip-reef.toml", DONE),
    exit_codes={
        DONE: "everything has a bag, and nothing is worse than a notice",
        FOUND: "an item has no bag or no mass, a limit may not hold on the way home, or a caution or worse",
        UNREADABLE: "the trip file or a kit of it cannot be read, --time is out of range, or a new one was not "
        "written: an answer is not accepted, or the file exists already",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
