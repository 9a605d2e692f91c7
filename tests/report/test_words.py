"""Sentences, and texts from files that a terminal must not obey."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.findings import Amount, words
from kitbuilder.foreign import visible
from kitbuilder.report.numbers import System
from kitbuilder.report.words import CAUTIONS, sentence


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


def test_a_sentence_shows_its_amounts_in_the_reader_s_units() -> None:
    """The same words for both."""
    told = words("it is ", Amount(0.05, "length"), " short of its run of ", Amount(0.8, "length"))
    assert sentence(told, System.METRIC) == "it is 5 cm short of its run of 80 cm."
    assert sentence(told, System.IMPERIAL) == "it is 2.0 in short of its run of 31.5 in."


@pytest.mark.parametrize("end", [".", "!", "?"])
def test_a_sentence_ends_once(end: str) -> None:
    """A full stop is put where there is none."""
    assert sentence(words("Measure again" + end), System.METRIC) == "Measure again" + end
    assert sentence(words("Measure again"), System.METRIC) == "Measure again."


def test_a_tag_in_a_sentence_is_made_visible() -> None:
    """Findings name things as their file does."""
    assert sentence(words("no port for \x1b[31mhose"), System.METRIC) == r"no port for \x1b[31mhose."


def test_the_cautions_say_who_decides() -> None:
    """The tool advises; people, parts and checks come first."""
    for said in (
        "never certifies",
        "trained people",
        "pressure ratings are read off the part",
        "leak check",
        "function check",
        "check in the water",
        "licensed technician",
        "Local rules",
    ):
        assert said in CAUTIONS
