"""The page that lists every JSON Schema that can be printed: of each kind of file, and of each command's answer."""

from collections.abc import Mapping

from kitbuilder.report.page import Column, Page, Row, Table
from kitbuilder.report.shapes import TEXT, listed, record

SHAPE = record(schemas=listed(record(name=TEXT, title=TEXT)))


def schemas_page(titles: Mapping[str, str]) -> Page:
    """Build the page.

    Args:
        titles: What each schema describes, by the name that `kitbuilder format --json-schema` takes.
    """
    rows: list[Row] = [[name, title] for name, title in titles.items()]
    return Page([Table("schemas", [Column("name", "name"), Column("title", "describes", may_wrap=True)], rows)])
