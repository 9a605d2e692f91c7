"""A page as text for people."""

from kitbuilder.report.answer import Answer
from kitbuilder.report.layout import lay_out
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System


def render(answer: Answer, system: System, width: int) -> str:
    """Write the page in lines of at most `width` characters; without a page, nothing."""
    if answer.page is None:
        return ""
    return "".join(f"{plain(line).rstrip()}\n" for line in lay_out(answer.page, width, system))
