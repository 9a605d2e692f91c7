"""kitbuilder check: figures and findings of kit files."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from kitbuilder.commands.response import Response
    from kitbuilder.kit.file_kinds import Contents
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.report.page import Section
    from kitbuilder.report.shapes import Shape


def add_arguments(parser: ArgumentParser) -> None:
    """Declare any number of files, at least one, and what more to say of kits."""
    parser.add_argument("files", nargs="+", metavar="FILE", help="a kit, diver, stock, gear or trip file")
    parser.add_argument("--items", action="store_true", help="all items with mass, buoyancy and share in ± of the lead")
    parser.add_argument(
        "--sort", choices=SORTED_BY, metavar="COLUMN", help=f"sort the items: {', '.join(SORTED_BY)}; with --items"
    )


SORTED_BY = ("file", "item", "mass", "mass-uncertainty", "buoyancy", "buoyancy-uncertainty", "from", "share")
"""The keys of `ORDERS` in `kitbuilder.plans.weigh_in`, which the page of help does not load."""


def run(options: Namespace, response: "Response") -> int:
    """Print each file as soon as it is worked out; JSON is one answer for all files."""
    from kitbuilder.report.check import check_page

    code, sections = DONE, list["Section"]()
    for name in options.files:
        section, found = _check_file(name, response, options)
        code = max(code, found)
        if section is not None and not response.print_now(section):
            sections.append(section)
    if not response.files:
        return response.without_answer()
    return response.give(check_page(sections), code)


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.report.check import SHAPE

    return SHAPE


def _check_file(name: str, response: "Response", options: Namespace) -> "tuple[Section | None, int]":
    """Build the section of one file, with its exit code; None for a file that cannot be read."""
    from kitbuilder.report.check import file_section

    reading = response.read(name)
    if reading.contents is None:
        return None, UNREADABLE
    if reading.resolved is None:
        section = file_section(name, reading.file, reading.contents, reading.lines)
        return section, FOUND if reading.problems or _is_doubtful(reading.contents) else DONE
    return _check_kit(name, reading.resolved, response, options)


def _is_doubtful(contents: "Contents") -> bool:
    """Say whether a trip has a finding that is worse than a notice."""
    from kitbuilder.assess.findings import Signal
    from kitbuilder.kit.resolved_trip import ResolvedTrip

    if not isinstance(contents, ResolvedTrip):
        return False
    from kitbuilder.plans.trip_spares import findings_with_spares  # slow to import, and only a trip needs it

    return any(finding.signal > Signal.NOTICE for finding in findings_with_spares(contents))


def _check_kit(name: str, kit: "ResolvedKit", response: "Response", options: Namespace) -> "tuple[Section, int]":
    from kitbuilder.assess.assessment import assess
    from kitbuilder.assess.findings import Signal
    from kitbuilder.plans.weigh_in import plan_weigh_in
    from kitbuilder.report.check import kit_section
    from kitbuilder.report.linked import problems_of

    assessment = assess(kit)
    response.not_used(problems_of([(name, kit)]), name)
    is_found = assessment.worst is not None and assessment.worst >= Signal.CAUTION
    weigh_in = plan_weigh_in(assessment, options.sort or "file") if options.items or options.sort else None
    return kit_section(name, assessment, weigh_in), FOUND if is_found else DONE


COMMAND = Command(
    name="check",
    arguments="FILE...",
    summary="print figures and findings of kit files",
    details="Mass, buoyancy, lead and trim, the length of each hose, what is wrong and what to do about it. "
    "With --items also every item: mass, buoyancy, where they come from, and its share in the uncertainty of the "
    "lead. Of a diver, stock, gear or trip file: whether it can be read, and how many entries it has.",
    heading="Figures and findings",
    example=Example("kitbuilder check configs/sidemount.toml", FOUND),
    exit_codes={
        DONE: "nothing worse than a notice",
        FOUND: "a caution or worse, or a row of a stock is ignored",
        UNREADABLE: "a file cannot be read",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
