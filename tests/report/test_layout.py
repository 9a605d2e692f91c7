"""How a page is laid out: widths, wrapping, alignment, and what stands where there is no room."""

from typing import NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.report.layout import entry_rows, lay_out, list_rows
from kitbuilder.report.lines import plain
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Amounts,
    Between,
    BothUnits,
    Box,
    Column,
    Duration,
    Estimate,
    Fact,
    Facts,
    Interval,
    Page,
    Picture,
    Section,
    Share,
    Statement,
    Statements,
    StockLength,
    Table,
    Tag,
    joined,
    only_data,
    text,
)

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL


def written(*parts, width: int = 60, system: System = METRIC) -> str:
    """The text of a page of these parts."""
    return "\n".join(plain(line) for line in lay_out(Page(parts), width, system))


def estimate(value: float, spread: float, measure: str) -> Estimate:
    return Estimate(Figure(value, {"own": spread}, "weighed"), measure)


HOSES = Table(
    "hoses",
    [Column("tag", "hose", may_wrap=True), Column("length_m", "length"), Column("mass_kg", "mass")],
    [
        [Tag("long hose"), Amount(2.1, "length"), estimate(0.431, 0.046, "hose mass")],
        [Tag("gauge"), Amount(0.7, "length"), estimate(0.098, 0.009, "hose mass")],
    ],
)


def test_columns_are_as_wide_as_their_content_and_figures_are_aligned():
    assert written(HOSES).splitlines() == [
        "hose       length        mass",
        "long hose  210 cm  431 ± 46 g",
        "gauge       70 cm   98 ±  9 g",
    ]


def test_units_are_chosen_when_the_page_is_laid_out():
    assert "82.7 in" in written(HOSES, system=IMPERIAL)


def test_a_column_that_may_wrap_goes_on_below():
    table = Table("", [Column("", "item"), Column("", "advice", may_wrap=True)], [["hose", "Measure the run again."]])
    assert written(table, width=20).splitlines() == ["item  advice", "hose  Measure the", "      run again."]


def test_a_table_without_room_puts_each_row_below_the_other():
    columns = [Column("", head) for head in ("hose", "first stage end", "other end")]
    table = Table("", columns, [["long hose", "LP 3/8-24 UNF", "second stage 9/16"]])
    assert written(table, width=30).splitlines() == [
        "long hose",
        "  first stage end",
        "    LP 3/8-24 UNF",
        "  other end",
        "    second stage 9/16",
    ]


def test_heads_wrap_like_the_cells_below_them():
    """A head may be the name of a kit; it never makes its column wider than the page."""
    table = Table("", [Column("", "#"), Column("", "Twinset, north coast", may_wrap=True)], [["1", "long hose"]])
    assert written(table, width=16).splitlines() == ["   Twinset,", "#  north coast", "1  long hose"]
    head, [row] = list_rows(table, 16, METRIC)
    assert (plain(head), plain(row)) == ("#  Twinset, nor…", "1  long hose")


def test_a_head_from_a_file_is_only_shown():
    table = Table("", [Column("", "\x1b[2J kit")], [["hose"]])
    assert written(table).splitlines() == [r"\x1b[2J kit", "hose"]


def test_columns_that_name_a_row_stay_together_where_rows_stand_below_each_other():
    columns = [
        Column("", "#"),
        Column("", "hose", names_row=True),
        Column("", "Twinset, coast"),
        Column("", "Sidemount, north coast"),
    ]
    table = Table("", columns, [[1, ("35 cm braided",), "long hose", None]])
    assert written(table, width=30).splitlines() == ["1  35 cm braided", "  Twinset, coast", "    long hose"]


def test_a_head_that_is_longer_than_its_numbers_wraps_before_rows_go_below_each_other():
    """Its last line stands on the numbers; one line is enough where there is room."""
    columns = [Column("", "moment"), Column("lift_kgf", "buoyancy, wing empty")]
    table = Table("", columns, [["at depth", Amount(-6.0, "lift")]])
    assert written(table, width=20).splitlines() == [
        "           buoyancy,",
        "moment    wing empty",
        "at depth     −6.0 kg",
    ]
    assert written(table, width=60).splitlines()[0] == "moment    buoyancy, wing empty"


def test_heads_wrap_before_cells_do():
    """A row in one line is read more easily than a head is."""
    columns = [Column("", "cylinder", may_wrap=True), Column("lift_kgf", "buoyancy at depth, gas full")]
    table = Table("", columns, [["steel 12 L 232 long", Amount(-6.0, "lift")]])
    assert written(table, width=32).splitlines() == [
        "                     buoyancy at",
        "                      depth, gas",
        "cylinder                    full",
        "steel 12 L 232 long      −6.0 kg",
    ]


def test_amounts_that_belong_together_have_one_unit_and_each_number_once():
    """6.000 and 6.004 MPa read the same in bar and not in psi: 1 psi is 6.894757 kPa (NIST SP 811:2008, B.8)."""
    gauges = Amounts((23.0e6, 6.0e6, 6.004e6), "pressure")
    assert written(text("with ", gauges, " left")) == "with 230, 60 bar left"
    assert written(text("with ", gauges, " left"), system=IMPERIAL) == "with 3336, 870, 871 psi left"
    assert written(text("with ", Amounts((), "pressure"), "no gas")) == "with no gas"


def test_columns_that_are_equally_wide_give_way_alike():
    """Two kits side by side: 41 characters less 2 for the gap, the odd one for the second."""
    words = " ".join(["word"] * 10)
    table = Table("", [Column("", "left", may_wrap=True), Column("", "right", may_wrap=True)], [[words, words]])
    heads = {written(table, width=width).splitlines()[0].index("right") for width in (41, 42)}
    assert heads == {21, 22}


def test_a_column_that_is_repeated_elsewhere_is_left_out_where_there_is_no_room():
    columns = [Column("", "hose"), Column("", "now"), Column("", "needed", is_repeated=True)]
    table = Table("", columns, [["gauge", Amount(0.7, "length"), Amount(0.61, "length")]])
    assert written(table, width=21).splitlines() == ["hose     now  needed", "gauge  70 cm   61 cm"]
    assert written(table, width=15).splitlines() == ["hose     now", "gauge  70 cm"]


def test_a_number_in_a_column_that_wraps_keeps_its_unit():
    table = Table("", [Column("", "a"), Column("", "b", may_wrap=True)], [["x", ("buy ", StockLength(0.75))]])
    assert written(table, width=17).splitlines() == ["a  b", "x  buy", "   75 cm (30 in)"]
    assert written(table, width=15).splitlines()[0] == "x"


def test_a_table_without_rows_says_why():
    assert written(Table("", [Column("", "hose")], [], title="To buy", empty="nothing")) == "To buy: nothing"


def test_a_unit_in_the_head_leaves_the_numbers_alone():
    columns = [Column("", "hose"), Column("m_kg", "mass", unit_in_head=True)]
    weights = Table("", columns, [["long", estimate(0.431, 0.046, "hose mass")], ["unknown", None]])
    assert written(weights).splitlines() == ["hose       mass g", "long     431 ± 46", "unknown"]
    assert "mass oz" in written(weights, system=IMPERIAL)
    assert written(weights._replace(rows=[["unknown", None]])).splitlines() == ["hose     mass", "unknown"]


def test_a_unit_in_the_head_is_that_of_all_rows():
    columns = [Column("", "item"), Column("m_kg", "mass", unit_in_head=True)]
    mixed = Table("", columns, [["hose", Amount(0.4, "hose mass")], ["all", Amount(0.4, "mass")]])
    with pytest.raises(AssertionError, match="one measure"):
        written(mixed)


def test_each_entry_of_a_list_has_its_own_lines():
    entries = [
        Statement(("It is 5 cm short.",), mark=Signal.NOTICE),
        Statement(("The run is not measured.",), [("Measure it.",)], mark="-"),
    ]
    rows = [[plain(line) for line in lines] for lines in entry_rows(entries, 24, METRIC)]
    assert rows == [
        ["NOTICE  It is 5 cm", "        short."],
        ["-       The run is not", "        measured.", "        Measure it."],
    ]


def test_fields_stand_beside_their_labels():
    fields = Facts([Fact("", "slack", Amount(0.05, "slack")), Fact("", "tightest bend", Amount(0.031, "radius"))])
    assert written(fields).splitlines() == ["slack          +5 cm", "tightest bend  3.1 cm"]


def test_what_has_no_label_is_not_on_paper():
    assert written(only_data(("mass_kg", Amount(1.0, "mass"))), text("Done.")) == "Done."


def test_entries_hang_from_their_marks():
    entry = Statement(
        ("slack of ", Tag("long hose")), [("It bows out ", Amount(0.11, "length"), ".")], mark=Signal.CAUTION
    )
    lines = lay_out(Page([Statements("", [entry])]), 60, METRIC)
    assert [plain(line) for line in lines] == ['CAUTION  slack of "long hose"', "         It bows out 11 cm."]
    assert lines[0][0].role == "caution"


def test_numbers_of_entries_are_aligned_on_the_right():
    assert written(Statements("", [Statement(("a",), mark=str(number)) for number in (9, 10)])).splitlines() == [
        " 9  a",
        "10  a",
    ]


def test_a_section_without_content_has_no_heading():
    assert written(Section("Findings", []), Section("Losses", [text("None.")])).splitlines() == ["Losses", "  None."]


def test_a_number_keeps_its_unit_beside_it():
    """Wherever the line breaks."""
    for width in range(12, 40):
        lines = written(text("The hose lies ", Amount(0.11, "length"), " off the body of the diver."), width=width)
        assert "11 cm" in lines


def test_a_number_keeps_its_unit_in_a_column_that_wraps():
    """Beside the others, and where its row stands below its head."""
    columns = [Column("", "hose"), Column("", "fit", may_wrap=True)]
    fit = ("bows out ", estimate(0.11, 0.02, "length"), " off")
    for width in range(13, 40):
        assert "11 ± 2 cm" in written(Table("", columns, [["long hose", fit]]), width=width)


def test_an_interval_shows_both_ends():
    assert written(text(Interval(Range(0.11, 0.09, 0.13), "length"))) == "11 cm (9 to 13)"


def test_a_length_of_stock_hoses_and_a_value_may_stand_in_both_units():
    """A stock hose of 75 cm is sold as 30 in, of 29.5 in to the tape."""
    both = BothUnits(estimate(0.7, 0.02, "length"))
    assert written(text(StockLength(0.75), "; ", both)) == "75 cm (30 in); 70 ± 2 cm (27.6 ± 0.8 in)"
    assert written(text(StockLength(0.75)), system=IMPERIAL) == "30 in (75 cm)"


def test_sentences_in_a_row():
    assert written(text(*joined([("one ", 1), ("two",), ()], "; "))) == "one 1; two; "
    assert joined([], "; ") == ()


def test_two_ends_that_read_the_same_stand_once():
    """In the reader's units: 1 in is 2.54 cm exactly (NIST SP 811:2008, B.8)."""
    assert written(text(Between(0.556, 0.564, "length"))) == "56 cm"
    assert written(text(Between(0.556, 0.564, "length")), system=IMPERIAL) == "21.9 to 22.2 in"


WORDS = st.text(alphabet="abcdefghij ", min_size=1, max_size=60)
COLUMNS = st.lists(st.booleans(), min_size=1, max_size=6)


@given(data=st.data(), width=st.integers(60, 100), columns=COLUMNS)
def test_no_line_is_wider_than_the_page_and_no_word_is_lost(data, width, columns):
    """Words of at most 24 characters are never divided."""
    words = st.lists(st.text(alphabet="abcdefghij", min_size=1, max_size=24), min_size=1, max_size=6)
    cells = [[" ".join(data.draw(words)) for _ in columns] for _ in range(data.draw(st.integers(1, 3)))]
    table = Table("", [Column("", f"h{place}", wraps) for place, wraps in enumerate(columns)], cells)
    lines = written(table, width=width).splitlines()
    assert all(len(line) <= width for line in lines)
    shown = " ".join(lines).split()
    assert all(shown.count(word) >= sum(row_words(cells).count(w) for w in [word]) for word in row_words(cells))


def row_words(cells: list[list[str]]) -> list[str]:
    return [word for row in cells for cell in row for word in cell.split()]


def test_a_signal_word_in_a_row_keeps_its_role():
    """So that a list can colour it."""
    columns = [Column("", head) for head in ("finding", "hose", "length")]
    table = Table("", columns, [[Signal.WARNING, Tag("gauge"), Amount(0.7, "length")], [None, Tag("long"), None]])
    _, rows = list_rows(table, 60, METRIC)
    assert [plain(row) for row in rows] == ["WARNING  gauge   70 cm", "         long"]
    assert [(span.text.strip(), span.role) for span in rows[0]] == [
        ("WARNING", "warning"),
        ("", ""),
        ("gauge   70 cm", ""),
    ]


def test_a_title_from_a_file_is_not_obeyed():
    assert written(Section("\x1b[2J", [text("None.")])).splitlines()[0] == r"\x1b[2J"


@pytest.mark.parametrize("width", [12, 20, 29, 60])
def test_a_row_of_a_list_is_one_line(width):
    head, rows = list_rows(HOSES, width, METRIC)
    assert len(rows) == 2
    assert plain(head).split()[0] == "hose"
    if width >= 29:
        assert plain(rows[0]) == "long hose  210 cm  431 ± 46 g"


def test_boxes_are_aligned_from_one_list_to_the_next() -> None:
    """With room for a number of three digits."""
    lists = [
        Statements("", [Statement(("Close every valve.",), mark=Box(9, is_ticked=True))]),
        Statements("", [Statement(("Loosen the hose.",), mark=Box(10, is_ticked=False))]),
    ]
    assert written(*lists) == "[x]   9  Close every valve.\n\n[ ]  10  Loosen the hose."


def test_a_note_stands_behind_the_value_of_a_fact():
    rows = [Fact("", "length", "60 cm", note=("= ", Amount(0.6, "length")))]
    assert written(Facts(rows), system=IMPERIAL) == "length  60 cm  = 23.6 in"


def test_a_column_has_a_role_and_a_signal_word_its_own():
    columns = [Column("", "rule"), Column("", "what", role="note")]
    _, [first, second] = list_rows(Table("", columns, [["a", "long"], ["b", Signal.DANGER]]), 60, METRIC)
    assert [span.role for span in first] == ["", "", "note"]
    assert second[-1] == ("DANGER", "danger")


def test_a_time_and_a_share_with_its_spread_stand_in_a_sentence_and_in_a_table():
    """A spread is never rounded to zero; a share without one has none."""
    half, rest = Figure(0.5, {"a": 0.001}, ""), Figure(1.0, {}, "")
    time = Duration(Range(79.6, 42.9, 184.7))
    assert written(text("after ", time, ", ", Share(half))) == "after 80 s (43 to 180), 50 ± 1 %"
    columns = [Column("time_s", "empty after"), Column("gas_left", "gas left")]
    assert written(Table("", columns, [[time, Share(rest)]])).splitlines() == [
        "empty after       gas left",
        "80 s (43 to 180)     100 %",
    ]


def test_a_title_with_words_of_a_file_is_written_out():
    """Its width counts as it is shown."""
    entries = Statements("", [Statement(("Buy it.",))], title="kit \x1b[2J.toml")
    assert written(entries, Section("\u202eevil", [text("a")])).splitlines() == [
        r"kit \x1b[2J.toml",
        "  Buy it.",
        "",
        r"\u202eevil",
        "  a",
    ]
    assert written(entries._replace(entries=[], empty="nothing")) == r"kit \x1b[2J.toml: nothing"


def test_a_number_in_a_cell_that_wraps_stays_with_its_unit():
    """Such a pair counts as one word: a narrower column would divide it."""
    columns = [Column("", "what", may_wrap=True), Column("", "used in", may_wrap=True)]
    rows = [[("a hose of ", Amount(2.1, "length"), " in all"), "sidemount.toml"]]
    text = written(Table("", columns, rows), width=24)
    assert "210 cm" in text
    assert "sidemount.toml" in text


def test_a_list_cuts_a_long_word_rather_than_a_number():
    table = Table("", [Column("", "body", may_wrap=True), Column("", "mass")], [["polyurethane", Amount(12.5, "mass")]])
    _, [row] = list_rows(table, 19, METRIC)
    assert plain(row) == "polyuret…  12.50 kg"
    _, [row] = list_rows(table, 10, METRIC)
    assert plain(row) == "polyure…  12.50 kg"


def test_a_list_has_plain_spaces_between_number_and_unit():
    """What holds them together where lines wrap would be copied along with them."""
    table = Table("", [Column("", "what")], [[(Amount(0.75, "length"), " rubber")]])
    _, [row] = list_rows(table, 40, METRIC)
    assert plain(row) == "75 cm rubber"


class Stairs(NamedTuple):
    """A drawing, a step a line."""

    steps: int

    def lines(self, width: int, height: int) -> list[str]:
        return ["#" * min(step, width) for step in range(1, min(self.steps, height) + 1)]


def test_a_picture_takes_the_room_it_is_given_and_stands_close_to_its_words():
    """It has a role of its own, for its colour."""
    page = Page([text("How it lies:"), Picture(Stairs(9), 3), text("To scale.")])
    lines = lay_out(page, 60, METRIC)
    assert [plain(line) for line in lines] == ["How it lies:", "#", "##", "###", "To scale."]
    assert lines[1][0].role == "picture"


@pytest.mark.parametrize(
    ("width", "row"),
    [
        (42, "belt under the jacket  50 cm polyurethane"),
        (33, "belt under the jacket  50 cm pol…"),
        (31, "belt under the jacket  50 cm p…"),
        (29, "belt under the jacket  50 cm…"),
        (28, "belt under the jack…  50 cm…"),
    ],
)
def test_the_name_of_a_row_is_cut_last(width, row):
    columns = [Column("", "item", may_wrap=True, names_row=True), Column("", "what it is", may_wrap=True)]
    _, [found] = list_rows(Table("", columns, [["belt under the jacket", "50 cm polyurethane"]]), width, METRIC)
    assert plain(found) == row


def test_a_long_head_without_a_mark_keeps_to_the_width_below_it_too():
    """What goes on below the first line is set further in, and has so much less room."""
    entry = Statement((f"{'a' * 30} {'b' * 12} {'c' * 43} {'d' * 16}",))
    assert written(Statements("", [entry]), width=60).splitlines() == [
        f"{'a' * 30} {'b' * 12}",
        f"  {'c' * 43}",
        f"  {'d' * 16}",
    ]
