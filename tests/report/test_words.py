"""Sentences for a reader."""

import pytest

from kitbuilder.assess.findings import Amount, Tag, words
from kitbuilder.report.numbers import System
from kitbuilder.report.words import CAUTIONS, counted_items, cut, ended, sentence


def test_a_sentence_shows_its_amounts_in_the_reader_s_units() -> None:
    """The same words for both."""
    spoken = words("it is ", Amount(0.05, "length"), " short of its run of ", Amount(0.8, "length"))
    assert sentence(spoken, System.METRIC) == "it is 5 cm short of its run of 80 cm."
    assert sentence(spoken, System.IMPERIAL) == "it is 2.0 in short of its run of 31.5 in."


@pytest.mark.parametrize("end", [".", "!", "?"])
def test_a_sentence_ends_once(end: str) -> None:
    """A full stop is put where there is none."""
    assert sentence(words("Measure again" + end), System.METRIC) == "Measure again" + end
    assert sentence(words("Measure again"), System.METRIC) == "Measure again."


def test_a_sentence_of_values_ends_once_too() -> None:
    """An amount at its end is followed by the full stop."""
    assert ended(("Take ", Amount(0.8, "length"))) == ("Take ", Amount(0.8, "length"), ".")
    assert ended(("Take 80 cm.",)) == ("Take 80 cm.",)


def test_items_are_counted_in_singular_and_plural() -> None:
    assert [counted_items(count, "hose") for count in (0, 1, 2)] == ["0 hoses", "1 hose", "2 hoses"]


def test_a_tag_in_a_sentence_is_made_visible() -> None:
    """Findings name items as their file does."""
    assert sentence(words("no port for \x1b[31mhose"), System.METRIC) == r"no port for \x1b[31mhose."


def test_a_tag_that_is_marked_has_quotes_and_the_same_words_have_none() -> None:
    """A tag equals its text, so that each must not be taken for the other."""
    assert sentence(words("Fetch ", Tag("black")), System.METRIC) == 'Fetch "black".'
    assert sentence(words("Fetch ", "black"), System.METRIC) == "Fetch black."
    assert sentence(words("Fetch ", Tag("black")), System.METRIC) == 'Fetch "black".'


def test_a_text_is_cut_as_it_is_seen() -> None:
    """A column is as wide as what is printed in it."""
    assert cut("\x1b[31mlong hose", 8) == r"\x1b[31…"
    assert cut("long", 8) == "long"


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
