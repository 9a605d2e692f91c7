"""A list of rows with a cursor that is seen without colour; it can be narrowed, and sorted by a column."""

from bisect import bisect_left
from collections.abc import Callable, Collection, Iterable, Sequence
from contextlib import suppress
from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.screen import ModalScreen
from textual.selection import Selection
from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from kitbuilder.app.actions import keys_of
from kitbuilder.app.content import Content
from kitbuilder.report.lines import Line, plain
from kitbuilder.report.sorting import Columns, Order, column_at, marked_head, order_words, sorted_places

CURSOR, NO_CURSOR = "▸ ", "  "

Texts = Callable[[], Sequence[str]]


SCROLL_BAR = 1
TITLE_STARTS = 2
"""Columns in front of the heads in the title of a list."""


def row_width(size: Size, count: int) -> int:
    """Give the columns of a row in a list of one-line rows: all but its cursor, and its scroll bar if it needs one."""
    return size.width - len(CURSOR) - (SCROLL_BAR if count > size.height else 0)


def places_with(words: str, texts: Sequence[str]) -> tuple[int, ...]:
    """Give the places of the texts that have all the words, in any order and any letter case."""
    wanted = words.casefold().split()
    lowered = (" ".join(text.casefold().split()) for text in texts)
    return tuple(place for place, text in enumerate(lowered) if all(word in text for word in wanted))


class Listing(OptionList):
    """Rows of one or more lines, one of them under the cursor.

    The rows are replaced as a whole by `show_rows`; the cursor stays where it was. A row is known by its place among
    all rows, whether or not the list is narrowed or sorted; `highlighted` of Textual counts the rows as they are shown.
    """

    ALLOW_SELECT = True

    class HeadClicked(Message):
        """The head of a column was clicked, in the title of the list."""

        def __init__(self, listing: "Listing", column: str) -> None:
            """Keep the list and the column."""
            super().__init__()
            self.listing, self.column = listing, column

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
        self.order: Order | None = None
        """What the rows are sorted by; None for as they were given."""
        self.columns: Columns = {}
        """What the rows can be sorted by."""
        self.head: Line = ()
        """The heads of the columns, where they stand in the title."""
        self._first = 0
        self._ranks: tuple[int, ...] = ()
        self._texts: Texts = self._plain_rows
        self._beside: Sequence[str] = ()
        self._shown: tuple[int, ...] = ()
        self._marked: int | None = None
        self._list_name = str(self.BORDER_TITLE or "")
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
            self._fill(self._in_order((*self._shown, place)), place)
        self.highlighted = self._shown.index(place)

    def line_of(self, place: int) -> int:
        """Count the lines above a row, or above where it would be."""
        above = self._shown[: bisect_left(self._shown, self._rank(place), key=self._rank)]
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
        self._rank_rows()
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
            place = self._nearest(self.place or 0, found)
            with self.prevent(OptionList.OptionHighlighted):
                self._fill(found, place)
            self.highlighted = found.index(place)
            self.scroll_to_highlight()
        return len(found)

    def can_find_by(self, beside: Sequence[str]) -> None:
        """Say what each of the next rows is found by beside what it shows, such as the name of its file."""
        self._beside = beside

    # ---- their text ----

    def text_of(self, place: int) -> str:
        """Give a row as it is copied: with all of its words, however narrow the list is."""
        return self._texts()[place].strip()

    def texts_shown(self) -> list[str]:
        """Give all rows that are shown, in their order, as they are copied."""
        texts = self._texts()
        return [texts[place].rstrip() for place in self._shown]

    # ---- the order ----

    def can_sort_by(self, columns: Columns, first: int = 0) -> None:
        """Say what the next rows can be sorted by.

        Args:
            columns: The cells of each column, one for each row after the first ones.
            first: How many rows stay above the others, such as the one of the kit itself.
        """
        self.columns, self._first = columns, first

    def sort_by(self, order: Order | None) -> None:
        """Sort the rows, the cursor on the row it was on."""
        self.order = order
        self._rank_rows()
        place = self.place
        if place is not None:
            with self.prevent(OptionList.OptionHighlighted):
                self._fill(self._in_order(self._shown), place)
                self.highlighted = self._shown.index(place)
            self.scroll_to_highlight()
        self.name_list(self._list_name, self.head)

    def name_list(self, name: str, head: Line = ()) -> None:
        """Set the title of the list, which says how it is sorted as well; the heads of its columns stand in for it."""
        self._list_name, self.head = name, head
        shown = f" {plain(marked_head(head, self.order, self.columns))}" if head else f"{name}{self.order_words}"
        self.border_title = Content(shown)

    @property
    def order_words(self) -> str:
        """How the rows are sorted, behind the name of the list; nothing where they are as they were given."""
        return order_words(self.order, self.columns)

    def _rank_rows(self) -> None:
        """Work out which row is shown in which place; a list without such a column stays as it was given."""
        cells = self.columns.get(self.order.column, ()) if self.order else ()
        first, places = self._first, range(len(self.rows))
        if self.order is None or len(cells) + first != len(places):
            self._ranks = tuple(places)
            return
        found = (*range(first), *(place + first for place in sorted_places(cells, is_turned=self.order.is_turned)))
        ranks = dict(zip(found, places, strict=True))
        self._ranks = tuple(ranks[place] for place in places)

    def _rank(self, place: int) -> int:
        return self._ranks[place] if place < len(self._ranks) else place

    def _in_order(self, places: Iterable[int]) -> tuple[int, ...]:
        return tuple(sorted(set(places), key=self._rank))

    def _nearest(self, place: int, found: Sequence[int]) -> int:
        """Give a place itself where it was found, else the one shown next to it, else the last."""
        return found[min(bisect_left(found, self._rank(place), key=self._rank), len(found) - 1)]

    # ---- showing ----

    def _matching(self, place: int | None, *, keep: bool) -> tuple[tuple[int, ...], int | None]:
        """Give the places to show, those with the words, and the one for the cursor; `keep` shows that one anyway."""
        if place is None:
            return (), None
        if not self.words:
            return self._in_order(range(len(self.rows))), place
        found = self._found(self.words)
        if found and not keep:
            return found, self._nearest(place, found)
        return self._in_order((*found, place)), place

    def _found(self, words: str) -> tuple[int, ...]:
        """Give the places of the rows that have all the words; of all rows, heads included, where there are none."""
        texts = self._texts()
        if len(self._beside) == len(texts):
            texts = [f"{text} {beside}" for text, beside in zip(texts, self._beside, strict=True)]
        found = places_with(words, texts)
        return self._in_order(place for place in found if place not in self._heads or not words.strip())

    def _plain_rows(self) -> Sequence[str]:
        return [row.plain for row in self.rows]

    def _fill(self, shown: Sequence[int], place: int | None) -> None:
        scroll = self.scroll_offset
        self._shown = tuple(shown)
        self._marked = self._shown.index(place) if place is not None else None
        self.set_options(
            Option(self._prompt(number), disabled=place in self._heads) for number, place in enumerate(self._shown)
        )
        self.scroll_to(y=scroll.y, animate=False, immediate=True)

    # ---- the mouse ----

    async def _on_click(self, event: events.Click) -> None:
        """Go to the row that was clicked; open the one under the cursor, and in a dialog any row."""
        event.prevent_default()
        number = event.style.meta.get("option")
        if number is None:
            column = column_at(self.head, self.columns, event.x - TITLE_STARTS) if event.y == 0 else None
            if column is not None:
                self.post_message(self.HeadClicked(self, column))
        elif not (self.options[number].disabled or self.screen.get_selected_text()):
            # Where text is selected, this was the end of the drag that selected it.
            opens = number == self.highlighted or isinstance(self.screen, ModalScreen)
            self.highlighted = number
            if opens:
                self.action_select()

    # Textual selects text in rows of a list as if each were the first: here lines are counted through all rows.

    @property
    def text_selection(self) -> None:
        """Give no selection to what draws a row; `render_line` shows it."""
        return

    def get_selection(self, selection: Selection) -> tuple[str, str]:
        """Give the selected text, without the cursor sign."""
        lines = [line for option in self.options for line in str(option.prompt).replace(CURSOR, NO_CURSOR).split("\n")]
        return selection.extract("\n".join(lines)), "\n"

    def render_line(self, y: int) -> Strip:
        """Draw a line of a row, the selected part of it marked."""
        number = self.scroll_offset.y + y
        strip = super().render_line(y)
        selection = self.screen.selections.get(self)
        span = selection.get_span(number) if selection else None
        if span is not None:
            start, end = span[0], strip.cell_length if span[1] < 0 else min(span[1], strip.cell_length)
            before, chosen, after = strip.crop(0, start), strip.crop(start, end), strip.crop(end)
            style = self.screen.get_component_rich_style("screen--selection")
            strip = Strip.join([before, chosen.apply_style(style), after])
        return strip.apply_offsets(0, number)

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
