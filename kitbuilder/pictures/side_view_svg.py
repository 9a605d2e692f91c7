"""The picture of `side_view.py` as SVG: a diver lying face down, what pulls on him, and which way he turns."""

from collections.abc import Iterable, Iterator, Sequence

from kitbuilder.pictures.body_svg import BODY, EDGE, ITEM, ITEM_EDGE
from kitbuilder.pictures.side_outline import ARM, BACK, CHIN, FINS, FRONT, HEAD, LEFT, RIGHT, Mark, cylinder_outline
from kitbuilder.pictures.side_view import BEYOND, TALL, Turning
from kitbuilder.pictures.svg import INK, PAPER, QUIET, circle, drawing, path, words_at

WIDTH = 720
PER_STATURE = WIDTH / (RIGHT - LEFT + 2 * BEYOND)
HEIGHT = round(TALL * PER_STATURE) + 30
LEVEL = 0.52 * TALL * PER_STATURE
"""Of the line that a level diver lies on, below the top [px]."""
TURN = "#7d4400"


def side_view_svg(marks: Sequence[Mark], turning: Turning | None, words: tuple[str, str], legend: str) -> str:
    """Write the diver and the marks as SVG.

    Args:
        marks: Later ones cover earlier ones.
        turning: Which way the diver turns; None for no arrows.
        words: The title, and what the picture shows for those who listen.
        legend: What the letters stand for.
    """
    trunk = (*HEAD, *BACK, *FINS[1:], *FRONT[1:], *CHIN[1:])
    parts = [
        path(f"M8,{LEVEL:.1f} H{WIDTH - 8}", QUIET, 1, dash="2 6"),
        _outline(trunk, EDGE, BODY),
        path(_line(ARM), EDGE, 9),
        path(_line(ARM), BODY, 6.2),
        *(_outline(cylinder_outline(mark), ITEM_EDGE, ITEM) for mark in marks if mark.length),
        *(part for mark in marks for part in _sign(mark)),
        *(_turn(turning) if turning else ()),
        words_at(WIDTH / 2, HEIGHT - 10, legend, size=13, colour=QUIET, css="legend"),
    ]
    title, said = words
    return drawing(parts, (WIDTH, HEIGHT), title, said)


def _place(spot: tuple[float, float]) -> tuple[float, float]:
    along, behind = spot
    return (along - LEFT + BEYOND) * PER_STATURE, LEVEL - behind * PER_STATURE


def _line(spots: Iterable[tuple[float, float]]) -> str:
    return "M" + " L".join(f"{x:.1f},{y:.1f}" for x, y in map(_place, spots))


def _outline(spots: Iterable[tuple[float, float]], edge: str, fill: str) -> str:
    return path(f"{_line(spots)} Z", edge, 1.4, fill=fill)


def _sign(mark: Mark) -> Iterator[str]:
    x, y = _place((mark.along, mark.behind))
    yield circle(x, y, 9, PAPER, INK)
    yield words_at(x, y + 4.5, mark.sign, size=13, weight="bold", css="letter")


def _turn(turning: Turning) -> Iterator[str]:
    """Draw an arrow at the head, the opposite one at the fins, and words at that of the head."""
    way = (turning.head_is > 0) - (turning.head_is < 0)
    head, fins = 0.45 * BEYOND * PER_STATURE, WIDTH - 0.45 * BEYOND * PER_STATURE
    for x, down in ((head, way), (fins, -way)):
        if way:
            tip = LEVEL + down * 52
            yield path(f"M{x:.1f},{LEVEL + down * 12:.1f} V{tip:.1f}", TURN, 2.4)
            yield path(f"M{x - 6:.1f},{tip - down * 9:.1f} L{x:.1f},{tip:.1f} l6,{-down * 9}", TURN, 2.4)
    below = 90 if way > 0 else -62
    yield words_at(head - 8, LEVEL + below, turning.words, size=14, weight="bold", colour=TURN, anchor="start")
