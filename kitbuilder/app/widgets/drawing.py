"""A picture in a widget: every piece of it in the style of its role."""

from collections.abc import Iterable, Mapping

from kitbuilder.app.content import Content
from kitbuilder.pictures.canvas import StyledText


def styled_rows(rows: Iterable[Iterable[StyledText]], styles: Mapping[str, str]) -> Content:
    """Give the lines of a picture as the content of a widget; a role without a style has the usual one."""
    return Content("\n").join(Content.assemble(*((text, styles.get(role, "")) for text, role in row)) for row in rows)
