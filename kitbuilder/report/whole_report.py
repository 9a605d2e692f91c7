"""The page of `kitbuilder report`: the answers of other commands below each other, with the cautions once."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.plans.gear import Needs
from kitbuilder.report.gear import needs_section
from kitbuilder.report.page import Node, Page, Section, Series, only_data, text
from kitbuilder.report.shapes import Shape, any_of, listed, one_of, record
from kitbuilder.report.words import CAUTIONS

HEADINGS = {
    "compare": "Side by side",
    "fit": "Hoses on the body",
    "card": "Card for the place of rental",
    "spares": "Spare parts",
    "swaps": "Lighter items",
}
"""What stands above the answer of a command that does not begin with what it is about."""
_CAUTIONS = Section("", [text(CAUTIONS)])


class ReportPart(NamedTuple):
    """One answer of a report."""

    command: str
    """The command that gives the same answer alone."""
    page: Page
    file: str = ""
    """The file that it is about, as it was given; empty for several."""
    name: str = ""
    """What that file calls itself."""
    needs: Needs | None = None
    """What a kit needs beyond what is owned, to be said below; None for nothing to say."""


def report_shape(shapes: dict[str, Shape]) -> Shape:
    """Give the shape of a report.

    Args:
        shapes: Those of the commands whose answers a report may have.
    """
    return record(answers=listed(any_of(*(record(command=one_of(name), result=shapes[name]) for name in shapes))))


def report_page(parts: Sequence[ReportPart]) -> Page:
    """Build the page; where it is about several files each answer stands below a heading that says which."""
    has_several = len({part.file for part in parts}) > 1
    sections, before = [], None
    for part in parts:
        heading = _heading(part, is_first=part.file != before, has_several=has_several)
        sections.append(Section("", [only_data(("command", part.command)), *_part(part, heading)]))
        before = part.file
    return Page([Series("answers", sections), _CAUTIONS])


def _heading(part: ReportPart, *, is_first: bool, has_several: bool) -> str:
    about = HEADINGS.get(part.command, "")
    if not part.file:
        return about
    if is_first:
        return f"{part.name} ({part.file})" if has_several else ""
    return f"{about}: {part.file}" if has_several else about


def _part(part: ReportPart, heading: str) -> Iterator[Node]:
    found = [each for each in part.page.parts if each != _CAUTIONS]
    yield Section(heading, found, key="result")
    if part.needs is not None:
        yield needs_section(((part.file, part.needs),))
