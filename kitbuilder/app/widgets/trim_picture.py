"""A lying diver with the items placed, and how he comes to lie."""

from textual.widget import Widget

from kitbuilder.app.content import Content
from kitbuilder.app.widgets.drawing import styled_rows
from kitbuilder.app.widgets.page_view import styled_line
from kitbuilder.assess.buoyancy.balance import Balance
from kitbuilder.pictures.side_marks import side_marks
from kitbuilder.pictures.side_view import LEAST_HEIGHT, draw_side_view
from kitbuilder.report.balance_pictures import BRIEF_MARKS, MARKS, turning_of
from kitbuilder.report.layout import lay_out
from kitbuilder.report.numbers import System
from kitbuilder.report.trim_section import brief_trim_page, trim_page

STYLES = {
    "body": "$foreground-muted",
    "level": "$foreground-muted",
    "item": "$text-secondary",
    "sign": "bold $text-accent",
    "turn": "bold $text-warning",
}
"""How each role of the drawing looks."""


class TrimPicture(Widget):
    """The picture, and below it pitch and shift in words."""

    BORDER_TITLE = MARKS

    def __init__(self, *, plain: bool, id: str | None = None) -> None:
        """Make an empty picture; `plain` draws with signs in place of braille dots."""
        super().__init__(id=id)
        self.plain = plain
        self._balance: Balance | None = None
        self._system = System.METRIC

    def show(self, balance: Balance | None, system: System) -> None:
        """Draw the trim of a balance; nothing for none."""
        self._balance, self._system = balance, system
        self.refresh()

    def on_resize(self) -> None:
        """Say what the letters stand for, in as many words as there is room for."""
        self.border_title = MARKS if self.size.width > len(MARKS) else BRIEF_MARKS

    def render(self) -> Content:
        """Draw the picture with as many words as there is room for; words alone where it would be too small."""
        if self._balance is None:
            return Content("")
        width, height = self.size
        page = (trim_page if height >= ROOMY else brief_trim_page)(self._balance.trim)
        words = lay_out(page, max(width, 1), self._system)
        room = height - len(words)
        marks = side_marks(self._balance)
        if room < LEAST_HEIGHT or (self.plain and room < LEAST):
            return Content("\n").join(map(styled_line, words))
        turning = turning_of(self._balance.trim)
        drawn = styled_rows(draw_side_view(marks, width, room, turning=turning, plain=self.plain), STYLES)
        return Content("\n").join([drawn, *map(styled_line, words)])


ROOMY = 14
"""Lines from which all of the words fit below the picture."""
LEAST = 8
"""Lines that a picture of plain signs needs to be recognised as a diver."""
