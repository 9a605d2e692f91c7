"""A hose at rest over its free span: the line of the body, the hose, how far it bows out, and its lengths, to scale."""

from collections.abc import Sequence
from itertools import dropwhile
from typing import NamedTuple

from kitbuilder.pictures.canvas import Canvas, text_lines
from kitbuilder.pictures.dots import COLUMNS, ROWS, line_between

SpanPoint = tuple[float, float]
LEAST_WIDTH, LEAST_HEIGHT = 4, 2


class CurveWords(NamedTuple):
    """The lengths that are written into the picture, each with its unit; an empty one is left out."""

    hose: str = ""
    """The length of the hose; at the upper left."""
    run: str = ""
    """What it has to cover; at the upper right."""
    slack: str = ""
    """What is left; under the bow."""
    bows_out: str = ""
    """How far it stands off; at its highest point."""
    span: str = ""
    """The free span, on the line of the body."""


class HoseCurve(NamedTuple):
    """A hose at rest, to be drawn wherever there is room."""

    points: Sequence[SpanPoint]
    """From hold to hold; x along the body, y away from it, in any one unit."""
    plain: bool = False
    """Whether it is drawn with signs instead of braille dots."""
    at_the_top: bool = False
    """Whether empty lines above it are left out, so that a flat hose lies close below its words."""
    words: CurveWords = CurveWords()

    def lines(self, width: int, height: int) -> list[str]:
        """Draw the hose and the line of the body in at most `height` lines of `width` cells."""
        drawn = draw_hose_curve(self.points, width, height, words=self.words, plain=self.plain)
        return [*dropwhile(lambda line: not line.strip(), drawn)] if self.at_the_top else drawn


def draw_hose_curve(
    curve: Sequence[SpanPoint], width: int, height: int, *, words: CurveWords | None = None, plain: bool = False
) -> list[str]:
    """Draw the hose and the line of the body in lines of `width` by `height` cells.

    Args:
        curve: Points of the hose from hold to hold; x along the body, y away from it, in any one unit.
        width: Cells across.
        height: Cells down.
        words: Lengths, written where they cover nothing.
        plain: Signs instead of braille dots.
    """
    if width < LEAST_WIDTH or height < LEAST_HEIGHT or len(curve) < 2:
        return [""] * max(height, 0)
    words = words or CurveWords()
    # A line of words above keeps what is written off the hose, where there are lines to spare.
    head = 1 if height >= ROOM_FOR_HEAD and (words.hose or words.run) else 0
    columns, rows = width * COLUMNS, (height - head) * ROWS
    left, right = min(x for x, _ in curve), max(x for x, _ in curve)
    top = max(y for _, y in curve)
    scale = min((columns - 3) / (right - left), (rows - 3) / top if top > 0 else float("inf"))
    across = round((columns - 1 - scale * (right - left)) / 2)
    base = head * ROWS + rows - 1
    placed = [(across + scale * (x - left), base - 1 - scale * y) for x, y in curve]
    middle = round((placed[0][0] + placed[-1][0]) / 2)
    highest = round(base - 1 - scale * top)
    canvas = Canvas(width, height, plain=plain)
    canvas.paint(((x, base) for x in range(columns) if x % 4 < 3), "body", "_")
    canvas.paint(((middle, y) for y in range(highest, base) if y % 3 == 0), "mark", ":")
    canvas.paint(line_between(placed), "hose", "o")
    _write_words(canvas, words, middle // COLUMNS, highest // ROWS, base // ROWS)
    return text_lines(canvas.rows())


ROOM_FOR_HEAD = 4
"""Lines from which one is kept for words above the hose."""


def _write_words(canvas: Canvas, words: CurveWords, middle: int, highest: int, base: int) -> None:
    """Write each length at its place, where that covers no part of the hose."""
    width, least = canvas.width, max(highest - 1, 0)
    upper = range(least, base)
    canvas.write_first([(0, row) for row in upper], words.hose, "words")
    canvas.write_first([(width - len(words.run), row) for row in upper], words.run, "words")
    under = [(middle + 2, row) for row in range(highest + 1, base)]
    above = [(middle - len(words.bows_out) // 2, row) for row in (highest - 1, highest)]
    canvas.write_first([*under, *above], words.bows_out, "words", ("mark",))
    below = [(middle - len(words.slack) - 2, row) for row in range(base - 1, highest, -1)]
    canvas.write_first([*below, *((0, row) for row in upper)], words.slack, "words", ("mark",))
    canvas.write_first([(middle - len(words.span) // 2, base)], words.span, "words", ("body", "mark"))
