"""The run of a command whose answer becomes a part of a report."""

from collections.abc import Sequence
from typing import TYPE_CHECKING

from kitbuilder.commands import command_named
from kitbuilder.commands.parser import parser_of
from kitbuilder.commands.response import Response

if TYPE_CHECKING:
    from kitbuilder.report.answer import Complaint
    from kitbuilder.report.page import Page, Section


class AskedForReport(Response):
    """The run of a command whose answer becomes a part of a report."""

    def __init__(self, command: str, words: Sequence[str], report: Response) -> None:
        """Start with the words of the command line, and the problems that are known already."""
        self.asked = command_named(command)
        super().__init__(command, parser_of(self.asked).parse_args(words))
        self.form, self.output, self.problems = report.form, report.output, report.problems
        self.page: Page | None = None

    def answer(self) -> int:
        """Run the command; gives its exit code."""
        return self.asked.run(self.options, self)

    def print_now(self, section: "Section") -> bool:  # noqa: ARG002  the whole page is printed by the report
        """Print nothing."""
        return False

    def give(self, page: "Page | None", code: int) -> int:
        """Keep the page."""
        self.page = page
        return code

    def _add(self, complaint: "Complaint", line: str) -> None:
        if complaint not in self.problems:
            super()._add(complaint, line)
