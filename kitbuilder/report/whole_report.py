"""The page of `kitbuilder report`: the answers of other commands below each other, with the cautions once."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.plans.gear import Needs
from kitbuilder.report.gear import needs_section
from kitbuilder.report.page import Node, Page, Section, Series, only_data, text
from kitbuilder.report.shapes import Shape, any_of, listed, one_of, record
from kitbuilder.report.words import CAUTIONS

HEADINGS = {"fit": "Hoses on the body"}
"""What stands above the answer of a command that follows another one about the same file."""
_CAUTIONS = Section("", [text(CAUTIONS)])


class ReportPart(NamedTuple):
    """One answer of a report."""

    command: str
    """The command that gives the same answer alone."""
    page: Page
    file: str
    """What it is about, as it was given."""
    needs: Needs | None = None
    """What a kit needs beyond what is owned, to be said below; None for nothing to say."""


def report_shape(shapes: dict[str, Shape]) -> Shape:
    """Give the shape of a report.

    Args:
        shapes: Those of the commands whose answers a report may have.
    """
    return record(answers=listed(any_of(*(record(command=one_of(name), result=shapes[name]) for name in shapes))))


def report_page(parts: Sequence[ReportPart]) -> Page:
    """Build the page; what follows another answer about the same file stands below a heading."""
    sections, before = [], ""
    for part in parts:
        heading = HEADINGS.get(part.command, "") if part.file == before else ""
        sections.append(Section("", [only_data(("command", part.command)), *_part(part, heading)]))
        before = part.file
    return Page([Series("answers", sections), _CAUTIONS])


def _part(part: ReportPart, heading: str) -> Iterator[Node]:
    found = [each for each in part.page.parts if each != _CAUTIONS]
    yield Section(heading, found, key="result")
    if part.needs is not None:
        yield needs_section(((part.file, part.needs),))
