"""Texts from elsewhere, which a terminal must not obey."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.foreign import visible, visible_lines
from tests.hostile import FORBIDDEN, OBEYED


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("\x1b[2J\x1b[31mred", r"\x1b[2J\x1b[31mred"),
        ("\x1b]0;title\x07", r"\x1b]0;title\x07"),
        ("\x9b31m", r"\x9b31m"),
        ("abc\u202edcba", r"abc\u202edcba"),
        ("\u2066isolated\u2069", r"\u2066isolated\u2069"),
        ("two\nlines", r"two\nlines"),
        ("carriage\rreturn", r"carriage\rreturn"),
        ("a\ttab", r"a\ttab"),
        ("zero\u200bwidth", r"zero\u200bwidth"),
        ("null\x00", r"null\x00"),
        ("line\u2028separator", r"line\u2028separator"),
        ("\ue000private", r"\ue000private"),
        ("rub\x7fout", r"rub\x7fout"),
    ],
)
def test_what_a_terminal_would_obey_is_written_out(text: str, seen: str) -> None:
    """Escape sequences, direction overrides, line breaks, and what cannot be seen."""
    assert visible(text) == seen


@pytest.mark.parametrize(
    "text", ["long hose", "[bold red]markup[/]", "Flöte № 3", "長いホース", "шланг", "خرطوم", "café", "🐟", "50 % {x}"]
)
def test_what_can_be_seen_stays_as_it_is(text: str) -> None:
    """Any script, and markup, which is text here."""
    assert visible(text) == text


def test_odd_spaces_become_plain_ones() -> None:
    """A no-break space or a wide one is a space to the eye."""
    assert visible("long\u00a0hose\u3000here") == "long hose here"


@given(text=st.text())
def test_nothing_unprintable_is_left(text: str) -> None:
    """Whatever the file holds."""
    found = visible(text)
    assert found.isprintable()
    assert not any(unicodedata.bidirectional(character) in ("RLO", "LRO", "RLE", "LRE") for character in found)


@given(text=st.text() | st.text(st.sampled_from([*OBEYED, "\udcff", "a", " "])))
def test_what_is_visible_stays_as_it_is(text: str) -> None:
    """It may be made visible at the edge once more."""
    found = visible(text)
    assert visible(found) == found
    assert visible_lines(found) == found


@given(text=st.text() | st.text(st.sampled_from([*OBEYED, "\udcff", "a", " "])))
def test_lines_stay_lines(text: str) -> None:
    """Everything else of each is as `visible` says."""
    found = visible_lines(text)
    assert not FORBIDDEN & set(found)
    if "\u00a0" not in text:
        assert found == "\n".join(visible(line) for line in text.split("\n"))


def test_a_no_break_space_of_our_layout_stays() -> None:
    """It keeps a number and its unit in one line."""
    assert visible_lines("0.2\u00a0kg\n\x1b") == "0.2\u00a0kg\n" + r"\x1b"
