"""The bags of a trip as bars: what each weighs on the way out and home, with its range, against its limit."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from kitbuilder.assess.figures import Figure
from kitbuilder.pictures.svg import GRID, INK, PAPER, QUIET, drawing, path, tag, words_at
from kitbuilder.pictures.ticks import round_ticks

WIDTH, LEFT, RIGHT, TOP = 720, 150.0, 600.0, 34.0
"""The edges of the bars [px]; names stand to the left of them, numbers to the right."""
ROW, BAR, APART = 20.0, 13.0, 10.0
"""The height of a row, of the bar in it, and between two bags [px]."""
OUT, HOME, LIMIT = "#1b4965", "#7d4400", "#a80018"


class BagBar(NamedTuple):
    """One bag on one way."""

    name: str
    """Empty where the bar above is of the same bag."""
    mass: Figure
    """[kg]"""
    words: str
    """The mass as people read it."""
    limit_kg: float | None = None
    """None for a bag without one."""
    is_home: bool = False


def bags_svg(bars: Sequence[BagBar], unit_kg: float, words: tuple[str, str], unit: str) -> str:
    """Write the bars as SVG.

    Args:
        bars: From the top.
        unit_kg: The size of the unit that is shown.
        words: The title, and what the picture shows for those who listen.
        unit: The unit, for the scale.
    """
    most = [each for bar in bars for each in (bar.mass.value + bar.mass.sides[1], bar.limit_kg or 0.0)]
    ticks = [tick for tick in round_ticks([0.0, *most], unit_kg) if tick.number >= 0]
    per_kg = (RIGHT - LEFT) / (ticks[-1].place or 1.0)
    rows = [*_rows(bars)]
    foot = (rows[-1] if rows else TOP) + ROW
    parts = [
        *_key(any(bar.is_home for bar in bars)),
        *(path(f"M{LEFT + tick.place * per_kg:.1f},{TOP} V{foot:.1f}", GRID, 1) for tick in ticks),
        *(
            words_at(LEFT + tick.place * per_kg, foot + 17, f"{tick.number}{f' {unit}' if tick is ticks[-1] else ''}",
                     size=13, css="tick")
            for tick in ticks
        ),
        *(part for bar, y in zip(bars, rows, strict=True) for part in _bar(bar, y, per_kg)),
    ]  # fmt: skip
    return drawing(parts, (WIDTH, round(foot) + 28), *words)


def _rows(bars: Sequence[BagBar]) -> Iterator[float]:
    """Give the top of each bar; another bag stands a little apart."""
    y = TOP
    for number, bar in enumerate(bars):
        y += (APART if bar.name else 0.0) + (ROW if number else 0.0)
        yield y


def _key(has_home: bool) -> Iterator[str]:
    entries = [(OUT, "way out"), *([(HOME, "way home, wet")] if has_home else [])]
    for number, (colour, name) in enumerate(entries):
        x = LEFT + 130 * number
        yield tag("rect", x=f"{x:g}", y="9", width="13", height="13", fill=colour)
        yield words_at(x + 20, 20, name, size=13, anchor="start", css="key")
    x = LEFT + 130 * len(entries) + 20
    yield path(f"M{x:g},7 v17", LIMIT, 2.4)
    yield words_at(x + 9, 20, "limit", size=13, anchor="start", css="key")


def _bar(bar: BagBar, y: float, per_kg: float) -> Iterator[str]:
    low, high = (LEFT + max(bar.mass.value + side, 0.0) * per_kg for side in (-bar.mass.sides[0], bar.mass.sides[1]))
    colour, middle = HOME if bar.is_home else OUT, y + BAR / 2
    long = max(bar.mass.value, 0.0) * per_kg
    yield tag("rect", x=f"{LEFT:g}", y=f"{y:g}", width=f"{long:.1f}", height=f"{BAR:g}", fill=colour, class_="mass")
    yield path(f"M{low:.1f},{middle:g} H{high:.1f} M{low:.1f},{y + 3:g} v7 M{high:.1f},{y + 3:g} v7", PAPER, 3.4)
    yield path(f"M{low:.1f},{middle:g} H{high:.1f} M{low:.1f},{y + 3:g} v7 M{high:.1f},{y + 3:g} v7", INK, 1.3)
    if bar.limit_kg is not None:
        yield path(f"M{LEFT + bar.limit_kg * per_kg:.1f},{y - 2:g} v17", LIMIT, 2.4, css="limit")
    yield words_at(LEFT - 8, y + 11, bar.name, size=13, anchor="end", css="name")
    yield words_at(RIGHT + 12, y + 11, bar.words, size=13, anchor="start", colour=QUIET, css="said")
