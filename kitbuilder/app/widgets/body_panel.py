"""A standing diver, front and back, with every hose of the kit on the way it is led."""

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.drawing import styled_rows
from kitbuilder.pictures.body_picture import BodyPicture
from kitbuilder.pictures.body_view import draw_body_view

STYLES = {
    "body": "$foreground-muted",
    "label": "$foreground-muted",
    "item": "$text-secondary",
    "device": "bold $text-secondary",
    "hidden": "$foreground-muted",
    "hose": "$foreground",
    "bow": "$text-warning",
    "selected": "bold $text-accent",
    "letter:": "bold",
    "letter:notice": "bold $text-secondary",
    "letter:caution": "bold $text-warning",
    "letter:warning": "bold $text-warning on $warning-muted",
    "letter:danger": "bold $text-error on $error-muted",
}
"""How each role of the drawing looks."""


class BodyPanel(Widget):
    """The picture at the size there is room for."""

    BORDER_TITLE = "Routes"

    def __init__(self, *, plain: bool, id: str | None = None) -> None:
        """Make an empty picture; `plain` draws with signs in place of braille dots."""
        super().__init__(id=id)
        self.plain = plain
        self._picture: BodyPicture | None = None

    def show(self, picture: BodyPicture) -> None:
        """Show a picture."""
        self._picture = picture
        self.refresh()

    def render(self) -> Content:
        """Draw the picture at its present size."""
        if self._picture is None:
            return Content("")
        lines = draw_body_view(self._picture, *self.size, plain=self.plain)
        return styled_rows(lines, STYLES | {role.replace("letter:", "mark:"): style for role, style in STYLES.items()})
