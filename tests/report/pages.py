"""A page as the command prints it."""

from typing import Any

from kitbuilder.report.answer import Answer
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Page
from kitbuilder.report.renderers import json, text


def page_text(page: Page, system: System = System.METRIC, width: int = 100) -> str:
    """The text of a page."""
    return text.render(Answer("", (), (), page), system, width)


def page_json(page: Page) -> dict[str, Any]:
    """The JSON of a page, without its envelope."""
    return json.page_data(page)
