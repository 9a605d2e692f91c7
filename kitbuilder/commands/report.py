"""kitbuilder report: the answers that belong to kits, a trip or a gear file, in one document."""

from argparse import ArgumentParser, Namespace
from typing import TYPE_CHECKING, NamedTuple

from kitbuilder.commands.command import Command, Example
from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping, Sequence

    from kitbuilder.commands.response import Response
    from kitbuilder.kit.resolved import ResolvedKit
    from kitbuilder.kitfile.reader import ParseResult
    from kitbuilder.plans.gear import Needs
    from kitbuilder.report.page import Page
    from kitbuilder.report.shapes import Shape
    from kitbuilder.report.whole_report import ReportPart

ANSWERS = {
    "kit": (("check", "--items"), ("fit",)),
    "trip": (("trip",), ("card",), ("spares",), ("swaps",)),
    "gear": (("gear",),),
    "diver": (("check",),),
    "stock": (("check",),),
}
"""The commands that are asked about a file, with their options, by what it holds."""
IDEAS = ("swaps",)
"""Commands whose exit code 1 says that they found nothing: that is no reason to look at a report."""
OF_KITS, BESIDE = "compare", range(2, 5)
"""The command that is asked about kits alone, and how many of them it sets beside each other."""


def add_arguments(parser: ArgumentParser) -> None:
    """Declare the files."""
    parser.add_argument(
        "files", nargs="+", metavar="FILE", help="kits, trips or gear files; two to four kits are compared too"
    )


def run(options: Namespace, response: "Response") -> int:
    """Ask the commands that belong to what the files hold, and put their answers on one page."""
    from kitbuilder.commands.asked_for_report import AskedForReport
    from kitbuilder.report.whole_report import report_page

    code, parts = DONE, list["ReportPart"]()
    readings = [(name, response.read(name)) for name in options.files]
    if any(reading.contents is None for _, reading in readings):
        code = UNREADABLE
    for question in _questions([each for each in readings if each[1].contents is not None]):
        asked = AskedForReport(question.command, [*question.options, "--", *question.files], response)
        found = asked.answer()
        if found != FOUND or question.command not in IDEAS:
            code = max(code, found)
        if asked.page is not None:
            parts.append(_part(question, asked.page, dict(readings)))
    response.problems = list(dict.fromkeys(response.problems))  # two commands find the same in one file
    return response.give(report_page(parts), code) if parts else response.without_answer()


def shape() -> "Shape":
    """Give the shape of the result in JSON."""
    from kitbuilder.commands import command_named
    from kitbuilder.report.whole_report import report_shape

    names = dict.fromkeys([OF_KITS, *(command for asked in ANSWERS.values() for command, *_ in asked)])
    return report_shape({name: command_named(name).shape() for name in names})


class Question(NamedTuple):
    """A command to ask for a part of a report."""

    command: str
    options: "Sequence[str]"
    files: "Sequence[str]"


def _questions(readings: "Sequence[tuple[str, ParseResult]]") -> "Iterator[Question]":
    """Give the commands to ask: first what several kits have to do with each other, then what belongs to each file."""
    names = [name for name, _ in readings]
    if len(readings) in BESIDE and all(reading.resolved is not None for _, reading in readings):
        yield Question(OF_KITS, (), names)
    for name, reading in readings:
        yield from (Question(command, options, [name]) for command, *options in ANSWERS[reading.file.name])


def _part(question: Question, page: "Page", readings: "Mapping[str, ParseResult]") -> "ReportPart":
    """Give an answer with what it is about; below the hoses of a kit stands what it needs beyond what is owned."""
    from kitbuilder.report.whole_report import ReportPart

    if len(question.files) > 1:
        return ReportPart(question.command, page)
    [file] = question.files
    reading = readings[file]
    assert reading.contents is not None, "only files that can be read are asked about"
    needs = _needs(reading.resolved) if question.command == "fit" else None
    return ReportPart(question.command, page, file, reading.contents.header.name, needs)


def _needs(kit: "ResolvedKit | None") -> "Needs | None":
    """Hold a kit against the gear file that it names."""
    from kitbuilder.plans.gear import needs_of

    return None if kit is None or kit.linked.gear is None else needs_of(kit, kit.linked.gear)


COMMAND = Command(
    name="report",
    arguments="FILE...",
    summary="print or write all that is worked out for kits, a trip or the gear",
    heading="Report",
    details="Of a kit: figures, findings, all items, and the hoses on the body; of a trip: what it weighs, how it is "
    "packed, the card to carry, spare parts, and lighter items; of a gear file: what is due. Two to four kits alone "
    "are first set side by side. With -o kit.html it becomes one page with pictures for screen and paper, without "
    "script, which asks nothing of the network.",
    example=Example("kitbuilder report configs/warm-single.toml", FOUND),
    exit_codes={
        DONE: "nothing that any of its answers warns of",
        FOUND: "at least one of its answers has something to look at",
        UNREADABLE: "a file cannot be read, or the document cannot be written there",
    },
    add_arguments=add_arguments,
    run=run,
    shape=shape,
)
