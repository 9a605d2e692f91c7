"""A list sorted by a column: expected orders are written by hand."""

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.report.lines import Span, plain
from kitbuilder.report.page import Column, Estimate, Table, Tag
from kitbuilder.report.sorting import (
    AS_LISTED,
    Kind,
    Order,
    column_at,
    columns_of,
    kind_of,
    marked_head,
    next_order,
    order_choices,
    order_words,
    sorted_places,
)


def kilograms(value: float) -> Estimate:
    return Estimate(Figure(value, {"scale": 0.1}, "weighed"), "mass")


def test_numbers_come_largest_first_and_what_is_not_known_last_both_ways():
    cells = [kilograms(2.0), None, kilograms(11.0), "not known", kilograms(2.0)]
    assert sorted_places(cells) == (2, 0, 4, 3, 1)
    assert sorted_places(cells, is_turned=True) == (0, 4, 2, 3, 1), "equal ones keep their order"


def test_texts_are_compared_without_case_and_numbers_in_them_as_numbers():
    assert sorted_places([Tag("stage 10"), Tag("Stage 2"), "argon", ""]) == (2, 1, 0, 3)
    assert sorted_places(["b", "a", "c"], is_turned=True) == (2, 0, 1)


def test_the_worst_signal_comes_first():
    cells = [Signal.NOTICE, Signal.DANGER, "none", Signal.CAUTION]
    assert sorted_places(cells) == (1, 3, 0, 2)
    assert kind_of(cells) is Kind.SIGNALS


def test_a_length_and_the_words_around_it():
    assert sorted_places([Amount(0.6, "length"), Amount(2.1, "length")]) == (1, 0)
    assert sorted_places([("buy ", Amount(0.6, "length")), ("keep",)]) == (0, 1)


TABLE = Table(
    "",
    [Column("", " "), Column("", "hose", may_wrap=True), Column("", "mass", unit_in_head=True)],
    [["A", Tag("long"), kilograms(1.0)], ["B", Tag("short"), kilograms(0.5)]],
)
HEAD = (Span("   hose   mass kg  from", "head"),)


def test_columns_with_a_head_can_be_chosen():
    columns = columns_of(TABLE)
    assert list(columns) == ["hose", "mass"]
    first = next_order(None, "mass")
    assert first == Order("mass")
    assert next_order(first, "mass") == Order("mass", is_turned=True)
    assert next_order(next_order(first, "mass"), "mass") == first
    assert next_order(first, "hose") == Order("hose")
    assert next_order(first, AS_LISTED) is None
    assert [choice.word for choice in order_choices(first, columns)] == [AS_LISTED, "hose", "mass"]
    assert "smallest first" in order_choices(first, columns)[2].note
    assert order_choices(first, columns)[1].note == "a to z"


def test_the_head_says_the_order():
    columns = columns_of(TABLE)
    assert order_words(Order("mass"), columns) == " by mass, largest first"
    assert order_words(None, columns) == ""
    assert order_words(Order("price"), columns) == "", "an order that was kept for another list"
    assert plain(marked_head(HEAD, Order("mass"), columns)) == "   hose   mass kg↓ from"
    assert plain(marked_head(HEAD, Order("hose"), columns)) == "   hose↑  mass kg  from"
    assert plain(marked_head((Span("   hose", "head"),), Order("hose"), columns)) == "   hose↑"
    assert plain(marked_head((Span("   ho…", "head"),), Order("hose"), columns)) == "   ho…"
    assert marked_head(HEAD, None, columns) == HEAD


def test_a_click_takes_the_nearest_head():
    columns = columns_of(TABLE)
    assert [column_at(HEAD, columns, place) for place in (0, 6, 8, 9, 16, 40)] == [
        "hose", "hose", "hose", "mass", "mass", "mass",
    ]  # fmt: skip
    assert column_at((), columns, 3) is None
