"""A list of rows with a cursor that is seen without colour; it can be narrowed to rows that have some words."""

from bisect import bisect_left
from collections.abc import Callable, Collection, Sequence
from contextlib import suppress
from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content

CURSOR, NO_CURSOR = "▸ ", "  "

Texts = Callable[[], Sequence[str]]


SCROLL_BAR = 1


def row_width(size: Size, count: int) -> int:
    """Give the columns of a row in a list of one-line rows: all but its cursor, and its scroll bar if it needs one."""
    return size.width - len(CURSOR) - (SCROLL_BAR if count > size.height else 0)


def places_with(words: str, texts: Sequence[str]) -> tuple[int, ...]:
    """Give the places of the texts that have all the words, in any order and any letter case."""
    wanted = words.casefold().split()
    lowered = (" ".join(text.casefold().split()) for text in texts)
    return tuple(place for place, text in enumerate(lowered) if all(word in text for word in wanted))


def _nearest(place: int, found: Sequence[int]) -> int:
    """Give a place itself where it was found, else the next that was, else the last."""
    return found[min(bisect_left(found, place), len(found) - 1)]


class Listing(OptionList):
    """Rows of one or more lines, one of them under the cursor.

    The rows are replaced as a whole by `show_rows`; the cursor stays where it was. A row is known by its place among
    all rows, whether or not the list is narrowed; `highlighted` of Textual counts the rows that are shown.
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
        self.words = ""
        """What the rows are narrowed to."""
        self._texts: Texts = self._plain_rows
        self._shown: tuple[int, ...] = ()
        self._marked: int | None = None
        self._heads: frozenset[int] = frozenset()

    @property
    def shown(self) -> tuple[int, ...]:
        """The places of the rows that are shown."""
        return self._shown

    # ---- the cursor ----

    @property
    def place(self) -> int | None:
        """The place of the row under the cursor among all rows."""
        number = self.highlighted
        return self._shown[number] if number is not None and number < len(self._shown) else None

    def go_to(self, place: int) -> None:
        """Put the cursor on a row; one that was left out is shown again."""
        if place not in self._shown:
            self._fill((*self._shown, place), place)
        self.highlighted = self._shown.index(place)

    def line_of(self, place: int) -> int:
        """Count the lines above a row."""
        above = self._shown[: bisect_left(self._shown, place)]
        return sum(self.rows[each].plain.count("\n") + 1 for each in above)

    # ---- the rows ----

    def show_rows(
        self,
        rows: Sequence[Content],
        cursor: int | None = None,
        texts: Texts | None = None,
        heads: Collection[int] = (),
    ) -> None:
        """Replace the rows. Rows that are the same are not drawn again.

        Args:
            rows: All rows; those without the words the list is narrowed to are not shown.
            cursor: The place of the row that the cursor goes to, and that is shown in any case; by default it stays.
            texts: Gives what each row is found by, where that is more than it shows; called when the list is narrowed.
            heads: The places of rows that the cursor passes over; a narrowed list does not show them.
        """
        wanted = self.place if cursor is None else cursor
        before, self.rows = self.rows, tuple(rows)
        before_heads, self._heads = self._heads, frozenset(heads)
        self._texts = texts or self._plain_rows
        last = len(rows) - 1
        place = None if last < 0 else min(max(wanted or 0, 0), last)
        shown, place = self._matching(place, keep=cursor is not None)
        # Rows that are replaced are not a move by the user, so no message says that they are.
        with self.prevent(OptionList.OptionHighlighted):
            if len(before) == len(rows) and shown == self._shown and self._heads == before_heads:
                for number, each in enumerate(shown):
                    if not before[each].is_same(rows[each]):
                        self.replace_option_prompt_at_index(number, self._prompt(number))
            else:
                self._fill(shown, place)
            self.highlighted = None if place is None else shown.index(place)

    def narrow(self, words: str) -> int:
        """Show the rows that have all the words, the cursor on one of them; give how many have them.

        With none that has them the list stays as it is, so that there is always a row under the cursor.
        """
        found = self._found(words)
        if found:
            self.words = words
            here = self.place
            place = _nearest(here or 0, found)
            with self.prevent(OptionList.OptionHighlighted):
                self._fill(found, place)
            self.highlighted = found.index(place)
            self.scroll_to_highlight()
        return len(found)

    def _matching(self, place: int | None, *, keep: bool) -> tuple[tuple[int, ...], int | None]:
        """Give the places to show, those with the words, and the one for the cursor; `keep` shows that one anyway."""
        if place is None:
            return (), None
        if not self.words:
            return tuple(range(len(self.rows))), place
        found = self._found(self.words)
        if found and not keep:
            return found, _nearest(place, found)
        return tuple(sorted({*found, place})), place

    def _found(self, words: str) -> tuple[int, ...]:
        """Give the places of the rows that have all the words; of all rows, heads included, where there are none."""
        found = places_with(words, self._texts())
        return tuple(place for place in found if place not in self._heads) if words.strip() else found

    def _plain_rows(self) -> Sequence[str]:
        return [row.plain for row in self.rows]

    def _fill(self, shown: Sequence[int], place: int | None) -> None:
        scroll = self.scroll_offset
        self._shown = tuple(sorted(shown))
        self._marked = self._shown.index(place) if place is not None else None
        self.set_options(
            Option(self._prompt(number), disabled=place in self._heads) for number, place in enumerate(self._shown)
        )
        self.scroll_to(y=scroll.y, animate=False, immediate=True)

    # ---- moving ----

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
        return Content(sign) + self.rows[self._shown[number]]
