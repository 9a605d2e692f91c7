"""Which terminals are drawn on in plain signs."""

import pytest

from kitbuilder.pictures.terminals import shows_braille


@pytest.mark.parametrize("term", ["xterm-256color", "screen-256color", "tmux-256color", "xterm-kitty", "alacritty", ""])
def test_a_terminal_of_a_desktop_with_unicode_shows_dots(term):
    assert shows_braille({"TERM": term}, "utf-8")


@pytest.mark.parametrize("term", ["linux", "linux-16color", "dumb", "DUMB", "vt220", "unknown"])
def test_a_console_and_a_dumb_terminal_do_not(term):
    assert not shows_braille({"TERM": term}, "utf-8")


@pytest.mark.parametrize("encoding", ["ascii", "US-ASCII", "latin-1", "cp1252", "ISO-8859-15", "cp437"])
def test_an_encoding_without_braille_does_not(encoding):
    assert not shows_braille({"TERM": "xterm", "LANG": "en_GB.UTF-8"}, encoding)


@pytest.mark.parametrize("encoding", ["utf-8", "UTF8", "utf_8", "utf-16", "utf-8-sig"])
def test_every_spelling_of_unicode_does(encoding):
    assert shows_braille({}, encoding)


@pytest.mark.parametrize(
    ("locale", "dots"),
    [
        ({"LANG": "de_DE.UTF-8"}, True),
        ({"LANG": "de_DE.utf8@euro"}, True),
        ({"LANG": "de_DE.ISO-8859-1"}, False),
        ({"LANG": "C"}, False),
        ({}, False),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": "C"}, False),
        ({"LANG": "C", "LC_CTYPE": "C.UTF-8"}, True),
        ({"LANG": "de_DE.UTF-8", "LC_ALL": ""}, True),
    ],
)
def test_without_an_encoding_the_locale_says(locale, dots):
    """LC_ALL before LC_CTYPE before LANG; an empty one counts as not set (IEEE 1003.1, chapter 8.2)."""
    assert shows_braille({"TERM": "xterm", **locale}, None) is dots
