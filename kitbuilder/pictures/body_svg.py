"""A diver's body with the hoses over it as a standalone SVG, for a page or a printed report."""

from collections.abc import Iterator, Sequence
from itertools import cycle
from textwrap import wrap

from kitbuilder.foreign import visible
from kitbuilder.pictures.body_outline import Curve, OutlinePoint
from kitbuilder.pictures.body_picture import DEVICE, BodyPicture, DrawnExtra, DrawnHose, HoseLine, View, place_letters
from kitbuilder.pictures.svg import INK, PAPER, circle, drawing, path, tag, words_at

PER_M = 400
"""Pixels a metre."""
MARGIN_M = 0.07
HOSE_M = 0.012
"""The diameter of a hose: from memory."""
HEAD = 64
"""Pixels above the bodies, for title and headings."""
ROW = 20
"""Pixels a line of words."""
CHARACTER = 7.4
"""Pixels a character of the legend: from memory, on the safe side."""
RADIUS = 10
"""Of the circle round a letter [px]."""

ITEM, ITEM_EDGE, DEVICE_FILL = "#e4e8eb", "#8a949d", "#5b6770"
BODY, EDGE, INNER = "#f4e8dc", "#7a6a5c", "#b7a796"
SELECTED = "#0057d8"
HOSES = ("#1b4965", "#7a1f5c", "#2a6130", "#7d4400", "#4a3f9f", "#3a4650")
"""Hoses in turn; dark, for a bright room."""
BADGES = {
    "notice": ("#1b4965", "circle"),
    "caution": ("#7d4400", "diamond"),
    "warning": ("#a33d00", "triangle"),
    "danger": ("#b00020", "square"),
}
"""The colour and the shape of each signal word; its first letter stands in it."""


def body_svg(picture: BodyPicture, title: str, legend: Sequence[tuple[str, str]], caution: str = "") -> str:
    """Write the picture as SVG, with a title, a scale, and a line of words for each letter.

    Args:
        picture: The body and its hoses.
        title: Any text.
        legend: Letters and what to say of them, in any text.
        caution: Stands below everything; nothing by default.
    """
    page = _Page(picture, legend, caution)
    hoses = "; ".join(f"{letter} {words}" for letter, words in legend)
    parts = [
        words_at(page.width / 2, 24, visible(title), size=17, weight="bold"),
        *(part for number, view in enumerate(picture.views) for part in _view(page, number, view)),
        *_letters(page),
        *_scale_bar(page),
        *_key(page),
        *_legend(page),
        *_caution(page),
    ]
    said = f"A standing diver, front and back, with hoses: {hoses}."
    return drawing(parts, (page.width, page.height), title, said)


class _Page:
    """Where everything stands, in pixels."""

    def __init__(self, picture: BodyPicture, legend: Sequence[tuple[str, str]], caution: str) -> None:
        spots = [spot for view in picture.views for curve in _all_curves(view) for spot in curve]
        self.picture = picture
        self.half = round((max(abs(x) for x, _ in spots) + MARGIN_M) * PER_M)
        self.top = max(z for _, z in spots)
        self.width = 4 * self.half
        self.feet = HEAD + round((self.top - min(z for _, z in spots)) * PER_M)
        self.rows = [row for letter, words in legend for row in self._wrapped(letter, words)]
        self.caution = wrap(visible(caution), int((self.width - 60) / CHARACTER))
        below = len(self.caution) + 1 if self.caution else 0
        self.height = self.feet + 2 * ROW + ROW * (3 + len(self.rows) + below)
        colours = cycle(HOSES)
        self.colours = {
            hose.line.number: SELECTED if hose.line.is_selected else next(colours) for hose in picture.front.hoses
        }

    def _wrapped(self, letter: str, words: str) -> Iterator[tuple[str, str]]:
        rows = wrap(visible(words), int((self.width - 70) / CHARACTER)) or [""]
        yield letter, rows[0]
        yield from (("", row) for row in rows[1:])

    def place(self, number: int, spot: OutlinePoint) -> OutlinePoint:
        """Find the pixel of a point in one of the views."""
        return self.half * (1 + 2 * number) + spot[0] * PER_M, HEAD + (self.top - spot[1]) * PER_M

    def path(self, number: int, curve: Curve) -> str:
        """Write a curve as the data of a path."""
        return "M" + " L".join(f"{x:.1f},{y:.1f}" for x, y in (self.place(number, spot) for spot in curve))


def _all_curves(view: View) -> Iterator[Curve]:
    yield view.silhouette
    yield from (extra.curve for extra in (*view.behind, *view.before))
    for hose in view.hoses:
        yield from hose.seen
        yield from hose.hidden
        yield from hose.bow


# ---- the bodies ----


def _view(page: _Page, number: int, view: View) -> Iterator[str]:
    middle, _ = page.place(number, (0.0, 0.0))
    yield words_at(middle, 50, view.name, size=15)
    for side, word in ((-1, view.left), (1, view.right)):
        yield words_at(middle + side * 0.7 * page.half, 50, word, size=15, weight="bold", css="side")
    for extra in view.behind:
        yield _extra(page, number, extra)
    yield path(page.path(number, view.silhouette) + " Z", EDGE, 1.5, fill=BODY, css="body")
    for curve in view.lines:
        yield path(page.path(number, curve), INNER, 1.3)
    yield from (_extra(page, number, extra) for extra in view.before if extra.name != DEVICE)
    for hose in view.hoses:
        yield from _hose(page, number, hose)
    yield from (_extra(page, number, extra) for extra in view.before if extra.name == DEVICE)


def _extra(page: _Page, number: int, extra: DrawnExtra) -> str:
    fill, edge = (DEVICE_FILL, INK) if extra.name == DEVICE else (ITEM, ITEM_EDGE)
    return path(page.path(number, extra.curve) + " Z", edge, 1.2, fill=fill, css="item")


def _hose(page: _Page, number: int, hose: DrawnHose) -> Iterator[str]:
    """Draw a hose: hidden parts dotted, the bow dashed, and a bright edge so that crossings can be seen."""
    colour, wide = page.colours[hose.line.number], HOSE_M * PER_M * (1.5 if hose.line.is_selected else 1.0)
    for curve in hose.hidden:
        yield path(page.path(number, curve), colour, 2, dash="0.1 6", css="hidden")
    for curve in hose.bow:
        yield path(page.path(number, curve), colour, 2, dash="9 5", css="bow")
    for curve in hose.seen:
        yield path(page.path(number, curve), PAPER, wide + 3)
        yield path(page.path(number, curve), colour, wide, css="selected" if hose.line.is_selected else "hose")
    for curve in hose.stowed:
        yield path(page.path(number, curve), PAPER, wide + 3)
        yield path(page.path(number, curve), colour, 0.6 * wide, css="stowed")


# ---- letters and words ----


def _letters(page: _Page) -> Iterator[str]:
    """Draw each letter once, in a circle on its hose, with the first letter of its signal word beside it."""
    wishes = [[page.place(*place) for place in lettered.places] for lettered in page.picture.letters]
    most = (float(page.width - 2 * RADIUS), float(page.feet))
    places = place_letters(wishes, (2.6 * RADIUS, 2.6 * RADIUS), (2.0 * RADIUS, HEAD + 0.0), most)
    for (x, y), lettered in zip(places, page.picture.letters, strict=True):
        yield from _letter(x, y, lettered.line, page.colours[lettered.line.number])


def _letter(x: float, y: float, line: HoseLine, colour: str) -> Iterator[str]:
    fill, ink = (colour, PAPER) if line.is_selected else (PAPER, colour)
    yield circle(x, y, RADIUS, fill, colour)
    yield words_at(x, y + 5, line.letter, size=14, weight="bold", colour=ink, css="letter")
    if line.signal in BADGES:
        yield from _badge(x + 0.95 * RADIUS, y - 0.95 * RADIUS, line.signal)


def _badge(x: float, y: float, signal: str, css: str = "signal") -> Iterator[str]:
    colour, shape = BADGES[signal]
    corners = {
        "diamond": ((0, -9), (9, 0), (0, 9), (-9, 0)),
        "triangle": ((0, -11), (10, 6), (-10, 6)),
        "square": ((-7, -7), (7, -7), (7, 7), (-7, 7)),
    }
    if shape == "circle":
        yield circle(x, y, 7, colour, PAPER)
    else:
        points = " ".join(f"{x + right:.1f},{y + down:.1f}" for right, down in corners[shape])
        yield tag("polygon", points=points, fill=colour, stroke=PAPER)
    yield words_at(x, y + 4, signal[0].upper(), size=10, weight="bold", colour=PAPER, css=css)


def _scale_bar(page: _Page) -> Iterator[str]:
    left, y, long = 24.0, page.feet + ROW, 0.2 * PER_M
    yield path(f"M{left},{y - 4} v8 M{left},{y} h{long:g} M{left + long:g},{y - 4} v8", INK, 1.5, css="scale")
    yield words_at(left + long + 8, y + 5, "20 cm", size=13, anchor="start")


def _key(page: _Page) -> Iterator[str]:
    """Explain the kinds of line and the shapes; only those that are drawn."""
    hoses = [hose for view in page.picture.views for hose in view.hoses]
    x, y = 24.0, page.feet + 2.5 * ROW
    kinds = [
        ("behind the body", INK, "0.1 6", any(hose.hidden for hose in hoses)),
        ("as far off as its slack lets it", INK, "9 5", any(hose.bow for hose in hoses)),
    ]
    for words, colour, dash, is_drawn in kinds:
        if is_drawn:
            yield path(f"M{x:g},{y} h30", colour, 2, dash=dash)
            yield words_at(x + 38, y + 5, words, size=13, anchor="start")
            x += 38 + len(words) * CHARACTER + 20
    x = 30.0
    for signal in BADGES:
        if any(hose.line.signal == signal for hose in page.picture.front.hoses):
            yield from _badge(x, y + ROW, signal, "key")
            yield words_at(x + 14, y + ROW + 5, signal, size=13, anchor="start")
            x += 14 + len(signal) * CHARACTER + 24


def _legend(page: _Page) -> Iterator[str]:
    for number, (letter, words) in enumerate(page.rows):
        y = page.feet + ROW * (5 + number)
        if letter:
            yield words_at(30, y, visible(letter), size=14, weight="bold", css="legend")
        yield words_at(46, y, words, size=13, anchor="start", css="said")


def _caution(page: _Page) -> Iterator[str]:
    first = page.feet + ROW * (6 + len(page.rows))
    for number, words in enumerate(page.caution):
        yield words_at(30, first + ROW * number, words, size=13, anchor="start", css="caution")
