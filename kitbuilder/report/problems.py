"""The page of a file that cannot be read: everything that is wrong with it, at once."""

from collections.abc import Sequence

from kitbuilder.kitfile.problems import Problem
from kitbuilder.report.page import Page, Statement, Statements, text

ADVICE = "Fix this file in a text editor, then press g. It has not been changed."


def problems_page(problems: Sequence[Problem]) -> Page:
    """Build the page: line by line what was found, and what is accepted."""
    return Page([text(ADVICE), Statements("", problem_entries(problems))])


def problem_entries(problems: Sequence[Problem]) -> list[Statement]:
    """Give an entry for each problem: its line, what was found, and what is accepted."""
    return [_entry(problem) for problem in problems]


def _entry(problem: Problem) -> Statement:
    place = f"{problem.place}: " if problem.place else ""
    mark = f"line {problem.line}" if problem.line else "file"
    return Statement((f"{place}{problem.found}.",), [(problem.accepted,)], mark=mark)
