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

    try:
        reading = _reading(options)
        spread_m = _parsed(options, "caliper", "length")
        spread_m = caliper_spread() if spread_m is None else spread_m
        candidates = identify(reading, spread_m)
    except ValueError as error:
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
        ValueError: An option is no length, or no pitch.
    """
    from kitbuilder.assess.hoses.threads import ThreadReading

    return ThreadReading(
        major_m=_parsed(options, "major", "length"),
        minor_m=_parsed(options, "minor", "length"),
        pitch_m=_parsed(options, "pitch", "pitch"),
    )


def _parsed(options: Namespace, name: str, dimension: str) -> float | None:
    """Read an option in SI units; None when it was not given.

    Raises:
        ValueError: It cannot be read; the message begins with its name.
    """
    from kitbuilder.units import QuantityError, parse_quantity, plausible_forms

    text: str | None = getattr(options, name)
    if not text:
        return None
    try:
        return parse_quantity(text, dimension)
    except QuantityError as error:
        forms = plausible_forms(text, dimension, *_SIZES_M[dimension], _UNITS[dimension])
        raise ValueError(f"--{name}: {error.found}; write {forms}" if forms else f"--{name}: {error}") from None


_UNITS = {"length": ("mm", "in"), "pitch": ("tpi", "mm")}
"""Of a thread; nobody writes one in centimetres."""
_SIZES_M = {"length": (0.0, 0.05), "pitch": (0.0002, 0.005)}
"""What the diameter and the pitch of a thread of dive gear may be, to tell which unit was left out."""


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
