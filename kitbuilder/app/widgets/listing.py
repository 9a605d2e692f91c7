"""A list of rows with a cursor that is seen without colour."""

from collections.abc import Sequence
from contextlib import suppress
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content

CURSOR, NO_CURSOR = "▸ ", "  "


SCROLL_BAR = 1


def row_width(size: Size, count: int) -> int:
    """Give the columns of a row in a list of one-line rows: all but its cursor, and its scroll bar if it needs one."""
    return size.width - len(CURSOR) - (SCROLL_BAR if count > size.height else 0)


class Listing(OptionList):
    """Rows of one or more lines, one of them under the cursor.

    The rows are replaced as a whole by `show_rows`; the cursor stays where it was.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        *keys_of("open"),
        Binding("j", "cursor_down", "Down", show=False),
        Binding("k", "cursor_up", "Up", show=False),
    ]

    def __init__(self, *, id: str | None = None) -> None:
        """Make an empty list."""
        super().__init__(id=id, compact=True, markup=False)
        self.rows: tuple[Content, ...] = ()
        self._marked: int | None = None

    def show_rows(self, rows: Sequence[Content], cursor: int | None = None) -> None:
        """Replace the rows; the cursor goes to a row, or stays. Rows that are the same are not drawn again."""
        wanted = self.highlighted if cursor is None else cursor
        before, self.rows = self.rows, tuple(rows)
        last = len(rows) - 1
        place = None if last < 0 else min(max(wanted or 0, 0), last)
        # Rows that are replaced are not a move by the user, so no message says that they are.
        with self.prevent(OptionList.OptionHighlighted):
            if len(before) == len(rows):
                for number, (old, new) in enumerate(zip(before, rows, strict=True)):
                    if not old.is_same(new):
                        self.replace_option_prompt_at_index(number, self._prompt(number))
            else:
                self._fill(place)
            self.highlighted = place

    def _fill(self, place: int | None) -> None:
        scroll = self.scroll_offset
        self._marked = place
        self.set_options(Option(self._prompt(number)) for number in range(len(self.rows)))
        self.scroll_to(y=scroll.y, animate=False, immediate=True)

    def action_page_up(self) -> None:
        """Move up a page; nowhere in a list without room, in which Textual finds no lines."""
        with suppress(KeyError):
            super().action_page_up()  # type: ignore[no-untyped-call]

    def action_page_down(self) -> None:
        """Move down a page; nowhere in a list without room, in which Textual finds no lines."""
        with suppress(KeyError):
            super().action_page_down()  # type: ignore[no-untyped-call]

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Move the cursor sign along with the highlight."""
        before, self._marked = self._marked, highlighted
        for number in (before, highlighted):
            if number is not None and number < self.option_count:
                self.replace_option_prompt_at_index(number, self._prompt(number))
        super().watch_highlighted(highlighted)

    def _prompt(self, number: int) -> Content:
        sign = CURSOR if number == self._marked else NO_CURSOR
        return Content(sign) + self.rows[number]
