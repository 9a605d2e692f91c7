"""Makes every text readable in every theme, just before it goes to the terminal.

A theme chooses its colours for its own widgets. Signal words on a selected row, quiet text and the footer get colours
from several of its parts, and some pairs cannot be told apart. So the colour of each text is compared with the one it
stands on, and moved towards white or black as far as it takes.
"""

from collections.abc import Iterable
from functools import lru_cache

from rich.color import Color as Ink
from rich.color_triplet import ColorTriplet
from rich.segment import Segment
from rich.style import Style
from rich.terminal_theme import TerminalTheme

LEAST = 4.5
"""The contrast of text at least, by WCAG 2.2 (2023), success criterion 1.4.3."""

_LIGHT_LINES = set(map(chr, range(0x2500, 0x2580))) - set("━┃")
_BLOCKS = set(map(chr, range(0x2580, 0x25A0)))
DECORATION = "".join(sorted(_LIGHT_LINES | _BLOCKS)) + " "
"""Frames, rules and scroll bars: nobody has to read them. The heavy line shows the focus, and counts as text."""


def contrast(one: ColorTriplet, other: ColorTriplet) -> float:
    """Give the contrast of two colours, from 1 to 21.

    Source: WCAG 2.2 (2023), definitions of contrast ratio and of relative luminance.
    """
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def legible(segments: Iterable[Segment], behind: ColorTriplet, palette: TerminalTheme) -> list[Segment]:
    """Give the segments of a line with text in colours that can be read.

    Args:
        segments: Parts of a line, each in one style.
        behind: What a part without a background of its own stands on.
        palette: What the sixteen colours of the terminal are taken for, and its default colours.
    """
    return [_legible(segment, behind, palette) for segment in segments]


def _legible(segment: Segment, behind: ColorTriplet, palette: TerminalTheme) -> Segment:
    text, style, control = segment
    if style is None or control:
        return segment
    better = _readable(style, behind, palette)
    return segment if better is style or not text.strip(DECORATION) else Segment(text, better, control)


@lru_cache(maxsize=4096)
def _readable(style: Style, behind: ColorTriplet, palette: TerminalTheme) -> Style:
    """Give a style whose text can be read; the same one where it can be read already."""
    ground, ink = style.bgcolor, style.color
    under = behind if ground is None else ground.get_truecolor(palette, foreground=False)
    over = (ink or Ink.default()).get_truecolor(palette)
    if contrast(over, under) >= LEAST:
        return style
    if (ink is None or ink.triplet) and (ground is None or ground.triplet):
        return style + Style.from_color(Ink.from_triplet(_moved(over, under)))
    # The terminal chooses these colours itself: only its default pair is sure to differ, as it is or reversed.
    is_reversed = ground is not None and not ground.is_default
    return style + Style(color=Ink.default(), bgcolor=Ink.default(), reverse=is_reversed)


def _moved(ink: ColorTriplet, ground: ColorTriplet) -> ColorTriplet:
    """Move a colour towards white or black, whichever is nearer, until it can be read on another.

    One of the two always suffices: white and black differ from the worst ground of all by 4.58.
    """
    mixed = (
        _mixed(ink, pole, hundredth / 100)
        for hundredth in range(1, 101)
        for pole in (ColorTriplet(255, 255, 255), ColorTriplet(0, 0, 0))
    )
    return next(colour for colour in mixed if contrast(colour, ground) >= LEAST)


def _mixed(one: ColorTriplet, other: ColorTriplet, part: float) -> ColorTriplet:
    return ColorTriplet(*(round(here + (there - here) * part) for here, there in zip(one, other, strict=True)))


def _luminance(colour: ColorTriplet) -> float:
    red, green, blue = map(_linear, colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(byte: int) -> float:
    part = byte / 255
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
