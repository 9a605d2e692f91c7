"""Rows that end in a signal word: aligned, and its first letter where the word has no room."""

import pytest
from textual.geometry import Size

from kitbuilder.app.widgets.signal_rows import WIDE, signal_rows
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.report.numbers import System
from kitbuilder.report.page import Column, Table

TABLE = Table(
    "",
    [Column("", "item", may_wrap=True), Column("", "length")],
    [["a hose with a rather long name, for one of its length", Amount(0.75, "length")], ["kit", None]],
)


@pytest.mark.parametrize(("width", "word"), [(WIDE, "WARNING"), (WIDE - 1, "W")])
@pytest.mark.parametrize(("height", "taken"), [(2, 2), (1, 3)])
def test_the_word_or_its_first_letter(width: int, word: str, height: int, taken: int) -> None:
    """The cursor takes two columns, and the scroll bar one where there are more rows than lines."""
    _, rows = signal_rows(TABLE, [Signal.WARNING, ""], Size(width, height), System.METRIC)
    assert rows[0].plain.endswith(f"75 cm  {word}")
    assert len(rows[0].plain) == width - taken
    assert rows[1].plain == "kit"


def test_signals_stand_below_their_head_and_below_each_other() -> None:
    head, rows = signal_rows(TABLE, [Signal.NOTICE, "none"], Size(70, 2), System.METRIC)
    places = [row.plain.index(word) for row, word in zip((head, *rows), ("worst", "NOTICE", "none"), strict=True)]
    assert len(set(places)) == 1
