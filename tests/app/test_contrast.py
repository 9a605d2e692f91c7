"""Every text can be read in every theme: at least 4.5:1, WCAG 2.2 (2023), success criterion 1.4.3 Contrast (Minimum).

The colours are those of the cells that go to the terminal. In the two themes that leave the colours to the terminal,
what can be computed is the contrast in one palette: that which Textual takes for these colours. Exempt, as in the
criterion, are decoration (frames, rules, scroll bars) and what is behind a dialog, which is inactive.
"""

import os
from collections.abc import Iterator
from itertools import cycle

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.color import Color as Ink
from rich.color_triplet import ColorTriplet
from rich.segment import Segment
from rich.style import Style
from textual.app import App
from textual.geometry import Region
from textual.theme import BUILTIN_THEMES
from textual.widgets import OptionList

from kitbuilder.app.contrast import legible
from kitbuilder.assess.findings import Signal
from tests import laws
from tests.app.conftest import DAY, LARGE, press, settle
from tests.app.every_screen import every_screen, show

LEAST = 4.5
NO_TEXT = " " + "".join(map(chr, (*range(0x2500, 0x2580), *range(0x2580, 0x25A0)))).replace("━", "")
"""Frames, rules and scroll bars; the heavy line that shows the focus is held to the contrast of text."""
THEMES = cycle(BUILTIN_THEMES)
"""Each view is drawn in the next theme, so that each theme has a few; in all of them when thorough."""


def contrast(one: ColorTriplet, other: ColorTriplet) -> float:
    """The contrast ratio as WCAG 2.2 defines it."""

    def luminance(colour: ColorTriplet) -> float:
        parts = [byte / 255 for byte in colour]
        red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    lower, higher = sorted(map(luminance, (one, other)))
    return (higher + 0.05) / (lower + 0.05)


def drawn(app: App) -> Iterator[Segment]:
    """What goes to the terminal: the whole screen, or the dialog on it."""
    strips = app.screen._compositor.render_strips()
    dialogs = [child.region for child in app.screen.children] if app.screen.is_modal else [Region(0, 0, *app.size)]
    for region in dialogs:
        for strip in strips[region.y : region.bottom]:
            yield from strip.crop(region.x, region.right)


def hard_to_read(app: App) -> set[str]:
    """Texts below the least contrast, each with its ratio and its style."""
    palette, found = app.ansi_theme, set()
    for text, style, _control in drawn(app):
        if not text.strip(NO_TEXT):
            continue
        assert style is not None, f"{text!r} has no colours"
        ink = (style.color or Ink.default()).get_truecolor(palette)
        ground = (style.bgcolor or Ink.default()).get_truecolor(palette, foreground=False)
        if (ratio := contrast(ink, ground)) < LEAST:
            found.add(f"{ratio:.2f} {text.strip()!r} {style}")
    return found


def in_themes(app: App) -> dict[str, set[str]]:
    """What is hard to read in the next theme, or in all."""
    found = {}
    for theme in BUILTIN_THEMES if laws.is_thorough() else [next(THEMES)]:
        app.theme = theme
        app.refresh_css(animate=False)
        found[theme] = hard_to_read(app)
    return {theme: texts for theme, texts in found.items() if texts}


def cursors(app: App) -> Iterator[None]:
    """Put the cursor of each list on one row of each signal word, and on none."""
    for listing in app.screen.query(OptionList):
        rows = [str(option.prompt) for option in listing.options]
        places = {next((place for place, row in enumerate(rows) if signal.word in row), 0) for signal in Signal}
        for place in sorted(places)[: listing.option_count]:
            listing.highlighted = place
            yield


async def test_every_screen_can_be_read_in_every_theme(opened, kits):
    """With the cursor on each signal word, and the focus elsewhere."""
    found: dict[str, dict[str, set[str]]] = {}
    async with opened("warm-single", size=LARGE) as pilot:
        app = pilot.app
        for name, make in every_screen(kits):
            await show(pilot, make())
            assert app.focused is not None, f"{name}: nothing has the focus"
            for place, _ in enumerate(cursors(app)):
                found[f"{name}, cursor {place}"] = in_themes(app)
            found[name] = in_themes(app)
            app.set_focus(None)
            found[f"{name} without focus"] = in_themes(app)
    assert {name: texts for name, texts in found.items() if texts} == {}


async def test_dialogs_messages_and_what_is_typed_can_be_read(opened):
    found = {}
    async with opened("wrong-on-purpose", notifications=True) as pilot:
        app = pilot.app
        for severity in ("information", "warning", "error"):
            app.notify("A message", title="Title", severity=severity)
        await settle(pilot)
        found["messages"] = in_themes(app)
        app.clear_notifications()
        await press(pilot, "ctrl+p")
        found["palette"] = in_themes(app)
        await press(pilot, "escape")
        app.screen.action_keys()
        await settle(pilot)
        found["keys"] = in_themes(app)
        await press(pilot, "escape", "right", "down", "enter")
        found["a value that is typed"] = in_themes(app)
        for widget in app.screen.query("*"):
            widget.disabled = True
        found["disabled"] = in_themes(app)
    assert {name: texts for name, texts in found.items() if texts} == {}


@pytest.mark.parametrize("theme", ["textual-dark", "textual-light", "ansi-dark"])
async def test_without_colour_everything_can_still_be_read(theme, app_on, monkeypatch):
    """NO_COLOR (no-color.org): greys, or the terminal's own two colours; the words say what colour would."""
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_on("wrong-on-purpose", day=DAY)
    app.theme = theme
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        assert hard_to_read(app) == set()
        colours = [colour for _, style, _ in drawn(app) for colour in (style.color, style.bgcolor) if colour]
        assert colours
        for colour in colours:
            assert colour.is_default or len(set(colour.triplet)) == 1, colour


COLOURS = st.builds(ColorTriplet, *[st.integers(0, 255)] * 3)


@given(ink=COLOURS, ground=COLOURS)
def test_any_two_colours_are_made_readable(ink, ground):
    before = Style(color=Ink.from_triplet(ink), bgcolor=Ink.from_triplet(ground), bold=True)
    (shown,) = legible([Segment("word", before)], ColorTriplet(0, 0, 0), App().ansi_theme)
    assert shown.style is not None
    assert shown.style.bgcolor == before.bgcolor
    assert shown.style.bold
    assert contrast(shown.style.color.triplet, ground) >= LEAST
    if contrast(ink, ground) >= LEAST:
        assert shown.style.color == before.color, "what can be read already stays as the theme has it"


def test_frames_stay_quiet_and_the_line_of_the_focus_does_not():
    dull = Style(color="#222222", bgcolor="#000000")
    light, heavy = legible([Segment("──", dull), Segment("━━", dull)], ColorTriplet(0, 0, 0), App().ansi_theme)
    assert light.style == dull
    assert contrast(heavy.style.color.triplet, ColorTriplet(0, 0, 0)) >= LEAST


def test_the_range_of_the_ratio():
    """WCAG 2.2, definition of contrast ratio: from 1 to 21."""
    black, white = ColorTriplet(0, 0, 0), ColorTriplet(255, 255, 255)
    assert contrast(black, white) == pytest.approx(21)
    assert contrast(white, white) == pytest.approx(1)


def test_the_environment_of_the_tests_has_colours():
    assert "NO_COLOR" not in os.environ
