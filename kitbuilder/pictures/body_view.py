"""A standing diver, front and back, with hoses over the body: pure text, each piece with what it shows."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import floor
from typing import NamedTuple

from kitbuilder.pictures.body_picture import DEVICE, BodyPicture, DrawnExtra, View, place_letters
from kitbuilder.pictures.canvas import StyledText, runs_of
from kitbuilder.pictures.dots import COLUMNS, ROWS, Dot, dot_lines, inside, line_between, plain_lines

Polyline = Sequence[tuple[float, float]]

ROLES = {"body": ".", "item": "'", "hidden": ":", "bow": "+", "hose": "*", "selected": "#", "device": "@"}
"""What is drawn, the lowest first, and its sign where dots are not drawn.

A line of the picture has these roles, "label", and "letter:" and "mark:" with a signal word.
"""
PATTERNS = {"item": (3, 2), "body": (2, 1), "hidden": (4, 1), "bow": (6, 4), "hose": (1, 1), "selected": (1, 1)}
"""Of how many dots how many are drawn, so that the kinds of line differ without colour."""
LEAST_WIDTH, LEAST_HEIGHT = 24, 8
"""A picture of fewer cells would be unreadable."""
ROOM_FOR_LINES = 60
"""Dots a metre from which plain signs can show the lines within a body."""
BARE_HEADING = len("R front L")
"""Cells that a heading takes over the narrowest body."""
WHOLE = 36
"""Lines from which the whole body is shown; below, the body down to the middle of the thighs."""


def draw_body_view(picture: BodyPicture, width: int, height: int, plain: bool = False) -> list[list[StyledText]]:
    """Draw lines of `width` by `height` cells: a heading, and both views beside each other at one scale.

    Args:
        picture: The body and its hoses.
        width: Cells across.
        height: Cells down.
        plain: Signs instead of braille dots.
    """
    if width < LEAST_WIDTH or height < LEAST_HEIGHT:
        return [[] for _ in range(max(height, 0))]
    scale = _BodyScale.fitted(picture, width, height - 1)
    cells = _cells(picture, scale, width, height - 1, plain)
    for (column, row), lettered in zip(_letter_cells(picture, scale), picture.letters, strict=True):
        line = lettered.line
        cells[row][column] = (line.letter, f"letter:{line.signal}")
        if line.signal:
            cells[row][column + 1] = (line.signal[0].upper(), f"mark:{line.signal}")
    return [_heading(picture, scale), *(runs_of(row) for row in cells)]


class _BodyScale(NamedTuple):
    """From metres to dots below the heading."""

    breadth: int
    """Cells across a body, from hand to hand."""
    per_m: float
    top: float
    """The height of the uppermost dot [m]."""
    half: int
    """Cells across one view."""
    second: int
    """The column at which the view of the back begins."""
    height: int
    """Cells down."""

    @staticmethod
    def fitted(picture: BodyPicture, width: int, height: int) -> "_BodyScale":
        """Find the largest scale at which both views fit, down to the feet or the thighs."""
        half = width // 2
        lowest = picture.sole if height + 1 >= WHOLE else picture.thigh
        across = ((half - 1) * COLUMNS - 1) / (2 * picture.half_breadth)
        down = (height * ROWS - 1) / (picture.top - lowest)
        per_m = min(across, down)
        breadth = max(BARE_HEADING, round(2 * picture.half_breadth * per_m / COLUMNS))
        return _BodyScale(breadth, per_m, picture.top, half, width - half, height)

    def dot(self, view: int, spot: tuple[float, float]) -> tuple[float, float]:
        """Convert a point to dots of the picture, not yet rounded."""
        return self.middle(view) + spot[0] * self.per_m, (self.top - spot[1]) * self.per_m

    def middle(self, view: int) -> float:
        """Find the dot column of the middle of the body."""
        return view * self.second * COLUMNS + (self.half * COLUMNS - 1) / 2

    def holds(self, view: int, dot: Dot) -> bool:
        """Say whether a dot is inside its view."""
        start = view * self.second * COLUMNS
        return start <= dot[0] < start + self.half * COLUMNS and 0 <= dot[1] < self.height * ROWS


# ---- dots ----


def _cells(picture: BodyPicture, scale: _BodyScale, width: int, height: int, plain: bool) -> list[list[StyledText]]:
    """Give every cell its sign and its role; where several meet, the topmost one."""
    dots: dict[str, set[Dot]] = {role: set() for role in ROLES}
    within = not plain or scale.per_m >= ROOM_FOR_LINES
    for number, view in enumerate(picture.views):
        body = {dot for dot in _body_dots(number, view, scale, within) if scale.holds(number, dot)}
        item: set[Dot] = set()
        for extra in view.before:
            _lay_over(extra, number, scale, (body, item), item)
        dots["body"] |= body
        dots["item"] |= item | _around_body(number, view, scale)
        for role, dot in _hose_dots(number, view, scale):
            if scale.holds(number, dot):
                dots[role].add(dot)
        for extra in view.before:
            if extra.name == DEVICE:
                _lay_over(extra, number, scale, (), dots["device"])
    layers = [
        (role, plain_lines(dots[role], width, height, sign) if plain else dot_lines(dots[role], width, height))
        for role, sign in ROLES.items()
    ]
    cells: list[list[StyledText]] = [[(" ", "")] * width for _ in range(height)]
    for role, lines in layers:
        for y, line in enumerate(lines):
            for x, sign in enumerate(line):
                if sign != " ":
                    cells[y][x] = (sign, role)
    return cells


def _body_dots(number: int, view: View, scale: _BodyScale, within: bool) -> Iterator[Dot]:
    """List the dots of the body, with the lines within it where those can be distinguished from the rest."""
    for curve in ((*view.silhouette, view.silhouette[0]), *(view.lines if within else ())):
        yield from _line([scale.dot(number, spot) for spot in curve], PATTERNS["body"], scale.middle(number))


def _lay_over(extra: DrawnExtra, number: int, scale: _BodyScale, under: Iterable[set[Dot]], drawn: set[Dot]) -> None:
    """Draw an extra over what it hides: its outline, or all of a device, which is small."""
    corners = [scale.dot(number, spot) for spot in extra.curve]
    covered = {dot for dot in inside(corners) if scale.holds(number, dot)}
    for dots in under:
        dots -= covered
    outline = _line([*corners, corners[0]], PATTERNS["item"], scale.middle(number))
    drawn |= {dot for dot in outline if scale.holds(number, dot)}
    if extra.name == DEVICE:
        drawn |= covered


def _around_body(number: int, view: View, scale: _BodyScale) -> set[Dot]:
    """Give the dots of the extras behind the body that are seen beside it."""
    if not view.behind:
        return set()
    hidden = set(inside([scale.dot(number, spot) for spot in view.silhouette]))
    drawn: set[Dot] = set()
    for extra in view.behind:
        if extra.name != DEVICE:
            _lay_over(extra, number, scale, (drawn,), drawn)
    return drawn - hidden


def _hose_dots(number: int, view: View, scale: _BodyScale) -> Iterator[tuple[str, Dot]]:
    """List the dots of the hoses with their roles."""
    for role, curve in _curves(view):
        places = [scale.dot(number, spot) for spot in curve]
        for x, y in _line(places, PATTERNS[role], scale.middle(number)):
            yield role, (x, y)
            if role == "selected":
                yield role, (x + 1, y)
                yield role, (x, y + 1)


def _curves(view: View) -> Iterator[tuple[str, Polyline]]:
    """List the curves of the hoses; only the selected one shows its hidden parts and its bow, which keeps it clear."""
    for hose in view.hoses:
        if hose.line.is_selected:
            yield from (("hidden", curve) for curve in hose.hidden)
            yield from (("bow", curve) for curve in hose.bow)
        role = "selected" if hose.line.is_selected else "hose"
        yield from ((role, curve) for curve in hose.seen)
        yield from (("hose", curve) for curve in hose.stowed)


def _line(places: Sequence[tuple[float, float]], pattern: tuple[int, int], middle: float) -> Iterator[Dot]:
    """List the dots along a line with gaps: counted downward where it is steep, from the middle outward where flat."""
    period, drawn = pattern
    for (x0, y0), (x1, y1) in pairwise(places):
        is_steep = abs(y1 - y0) >= abs(x1 - x0)
        left, top, right, bottom = map(_half_up, (x0, y0, x1, y1))
        for beside, below in line_between([(0, 0), (right - left, bottom - top)], _half_up):
            x, y = left + beside, top + below
            if (y if is_steep else int(abs(x - middle))) % period < drawn:
                yield x, y


def _half_up(value: float) -> int:
    """Round to the nearest whole number, halves always up, so that steps along a line are even."""
    return floor(value + 0.5)


# ---- words ----


def _letter_cells(picture: BodyPicture, scale: _BodyScale) -> list[tuple[int, int]]:
    """List the cells of the letters; beside each there is room for the mark of its finding and, if possible, a gap."""
    wishes = []
    for lettered in picture.letters:
        found = [(place.view, _cell(scale.dot(place.view, place.spot))) for place in lettered.places]
        inside = [cell for view, cell in found if scale.holds(view, (int(cell[0]) * COLUMNS, int(cell[1]) * ROWS))]
        wishes.append(inside or [cell for _, cell in found])
    most = (float(scale.second + scale.half - 2), float(scale.height - 1))
    return [(int(x), int(y)) for x, y in place_letters(wishes, (3.0, 1.0), (0.0, 0.0), most)]


def _cell(dot: tuple[float, float]) -> tuple[float, float]:
    return float(floor((dot[0] + 0.5) / COLUMNS)), float(floor((dot[1] + 0.5) / ROWS))


def _heading(picture: BodyPicture, scale: _BodyScale) -> list[StyledText]:
    """Write which view is which, and left and right of the diver above the hands."""
    words = [f"{view.left}{view.name:^{scale.breadth - 2}}{view.right}" for view in picture.views]
    first, second = (f"{word:^{scale.half}}" for word in words)
    return [(f"{first:<{scale.second}}{second}", "label")]
