"""kitbuilder threads: which threads a caliper reading allows."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.assess.hoses.threads import ThreadReading
    from kitbuilder.commands.response import Response
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare what was measured, and how well."""
    parser.add_argument("--major", metavar="LENGTH", help='outside of a male thread: "9.5 mm", "0.374 in"')
    parser.add_argument("--minor", metavar="LENGTH", help='inside of a female thread: "8.5 mm"')
    parser.add_argument("--pitch", metavar="PITCH", help='"24 tpi" or "1.06 mm"')
    parser.add_argument("--caliper", metavar="LENGTH", help='uncertainty of the caliper (default: "0.05 mm")')


def run(options: Namespace, response: "Response") -> int:
    """Print the allowed threads, then those that the reading misses narrowly."""
    from kitbuilder.assess.hoses.threads import caliper_spread, identify
    from kitbuilder.report.threads import threads_page
    from kitbuilder.units import QuantityError, parse_quantity

    try:
        reading = _reading(options)
        spread_m = parse_quantity(options.caliper, "length") if options.caliper else caliper_spread()
        candidates = identify(reading, spread_m)
    except (QuantityError, ValueError) as error:
        return response.refuse(f"threads: {error}")
    code = DONE if any(candidate.allowed for candidate in candidates) else FOUND
    return response.give(threads_page(reading, spread_m, candidates), code)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.threads import SHAPE

    return SHAPE


def _reading(options: Namespace) -> "ThreadReading":
    """Read what was measured.

    Raises:
        QuantityError: An option is no length, or no pitch.
    """
    from kitbuilder.assess.hoses.threads import ThreadReading
    from kitbuilder.units import parse_quantity

    return ThreadReading(
        major_m=parse_quantity(options.major, "length") if options.major else None,
        minor_m=parse_quantity(options.minor, "length") if options.minor else None,
        pitch_m=parse_quantity(options.pitch, "pitch") if options.pitch else None,
    )


COMMAND = Command(
    name="threads",
    arguments="",
    summary="print the threads that a caliper reading allows",
    details="Give at least one of --major, --minor and --pitch. Each thread is printed with its margin and with what "
    "it is mistaken for. JSON has every known thread, allowed or not, with sizes in metres.",
    example=Example("kitbuilder threads --major 9.5mm --pitch 24tpi", DONE),
    exit_codes={
        DONE: "a thread is allowed",
        FOUND: "no known thread is allowed",
        UNREADABLE: "nothing was measured, or a reading cannot be understood",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
