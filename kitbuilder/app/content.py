"""Where text enters a widget: it is made visible here, and is never read as markup.

Every part of the app takes `Content` from this file, not from Textual; `tests/test_house.py` holds it to that.
"""

from collections.abc import Iterable
from typing import cast

from rich.segment import Segment
from rich.terminal_theme import TerminalTheme
from textual import content
from textual.color import Color
from textual.filter import LineFilter
from textual.style import Style

from kitbuilder.app.contrast import legible
from kitbuilder.foreign import visible_lines

TextPart = str | content.Content | tuple[str, str | Style]


class Content(content.Content):
    """Text with styles and without any control character that a terminal would obey. Line feeds stay."""

    def __init__(
        self,
        text: str = "",
        spans: list[content.Span] | None = None,
        cell_length: int | None = None,
        strip_control_codes: bool = True,
    ) -> None:
        """Make a text visible; spans are those of a text that is visible already, as in `styled` and `assemble`."""
        super().__init__(visible_lines(text), spans, cell_length, strip_control_codes)

    @classmethod
    def styled(
        cls, text: str, style: Style | str = "", cell_length: int | None = None, strip_control_codes: bool = True
    ) -> "Content":
        """Make a text in one style."""
        return cast(Content, super().styled(visible_lines(text), style, cell_length, strip_control_codes))

    @classmethod
    def assemble(cls, *parts: TextPart, end: str = "", strip_control_codes: bool = True) -> "Content":
        """Put parts together, each a text, a text with a style, or other content."""
        shown = (_visible_part(part) for part in parts)
        return cast(Content, super().assemble(*shown, end=visible_lines(end), strip_control_codes=strip_control_codes))

    def join(self, lines: Iterable[content.Content | str]) -> "Content":
        """Join texts and other content with this content between them."""
        return _ours(super().join(Content(line) if isinstance(line, str) else line for line in lines))

    def __add__(self, other: content.Content | str) -> "Content":
        return _ours(super().__add__(Content(other) if isinstance(other, str) else other))


def _ours(found: content.Content) -> Content:
    """Take over content put together from visible texts without checking it again."""
    made = Content.__new__(Content)
    # Not checked again: a second look at joined rows, and a second filter, cost a tenth more CPU per edit.
    content.Content.__init__(made, found.plain, list(found.spans), strip_control_codes=False)
    return made


def _visible_part(part: TextPart) -> TextPart:
    if isinstance(part, str):
        return visible_lines(part)
    return (visible_lines(part[0]), part[1]) if isinstance(part, tuple) else part


class OnlyVisible(LineFilter):
    """The last filter before the terminal: makes visible what is pasted into a line and what Textual itself shows.

    Textual's own filters are applied here too: each separate filter costs as much per line as all of them together.
    """

    def __init__(self, others: tuple[LineFilter, ...], palette: TerminalTheme) -> None:
        """Keep the filters that come before this one, and what the terminal's own colours are taken for."""
        super().__init__()
        self.others, self.palette = others, palette

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:
        """Write out what a terminal would obey, in colours that can be read; the line stays as long as it was."""
        for other in self.others:
            segments = other.apply(segments, background)
        behind = background.rich_color.get_truecolor(self.palette, foreground=False)
        segments = legible(segments, behind, self.palette)
        if all(segment.control or segment.text.isprintable() for segment in segments):
            return segments
        shown = [
            segment if segment.control else Segment(visible_lines(segment.text), segment.style) for segment in segments
        ]
        return Segment.adjust_line_length(shown, Segment.get_line_length(segments))
