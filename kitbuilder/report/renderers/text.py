"""A page as text for people."""

from kitbuilder.report.answer import Answer, document_head
from kitbuilder.report.layout import lay_out
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page, text


def render(answer: Answer, system: System, width: int) -> str:
    """Write the page in lines of at most `width` characters, a document with a head; without a page, nothing."""
    if answer.page is None:
        return ""
    lines = lay_out(answer.page, width, system)
    if answer.made is not None:
        lines = [*lay_out(Page([text(line) for line in document_head(answer) if line]), width, system), (), *lines]
    return "".join(f"{plain(line).rstrip()}\n" for line in lines)
