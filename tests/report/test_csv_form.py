"""A page as CSV, read by the csv module of the standard library in its strict mode; RFC 4180 (2005) is the rule."""

import csv
import io

from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure, Range
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.foreign import visible
from kitbuilder.report.answer import Answer
from kitbuilder.report.forms import CSV
from kitbuilder.report.number_cells import NumberCell, number_cell
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Amounts,
    Between,
    BothUnits,
    Box,
    Cell,
    Column,
    Duration,
    Estimate,
    Fact,
    Facts,
    Interval,
    InUnits,
    Node,
    Page,
    Picture,
    Price,
    Section,
    Series,
    Share,
    Statement,
    Statements,
    StockLength,
    Table,
    Tag,
    Values,
    only_data,
    text,
)
from kitbuilder.report.renderers.csv import render
from tests.each import each
from tests.hostile import OBEYED, raw_in
from tests.laws import tried

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL


def written(*parts: Node, system: System = METRIC) -> str:
    """What is written below the title and an empty record."""
    title, empty, *records = render(Answer("", (), (), Page(parts)), system, 60).splitlines(keepends=True)
    assert (title.strip(",\n"), empty.strip('",\n')) == ("kitbuilder", "")
    return "".join(records)


def records(*parts: Node, system: System = METRIC) -> list[list[str]]:
    """The records of the file, without the empty fields at their ends."""
    file = CSV.as_file(written(*parts, system=system)).removeprefix("\ufeff")
    found = [*csv.reader(io.StringIO(file, newline=""), strict=True)]
    assert len({len(record) for record in found}) <= 1, "RFC 4180, 2.4: the same number of fields throughout"
    return [record[: max((place for place, field in enumerate(record, 1) if field), default=0)] for record in found]


def figure(value: float, spread: float) -> Figure:
    return Figure(value, {"own": spread}, "stamped")


# ---- what is written ----


def test_a_number_its_spread_and_its_unit_stand_in_columns_of_their_own():
    columns = [Column("", "hose"), Column("", "mass"), Column("", "limit"), Column("key", ""), Column("", "fit")]
    rows = [
        [Tag("long"), Estimate(figure(-0.25, 0.05), "buoyancy"), Amount(23.0, "lead"), 1, "fits"],
        [Tag("short"), Estimate(figure(14.9, 1.3), "buoyancy"), None, 2, Signal.CAUTION],
    ]
    assert records(Table("hoses", columns, rows, title="Hoses")) == [
        ["Hoses"],
        ["hose", "mass", "mass ±", "mass unit", "limit", "limit unit", "fit"],
        ["long", "-0.25", "0.05", "kg", "23.0", "kg", "fits"],
        ["short", "14.9", "1.3", "kg", "", "", "CAUTION"],
    ]


def test_words_stand_among_numbers_where_there_is_no_number():
    columns = [Column("", "it holds")]
    rows = [[Share(0.999)], [Share(0.5)], ["not known"], [None]]
    assert records(Table("", columns, rows)) == [
        ["it holds", "it holds unit"],
        ["over 99 %"],
        ["50", "%"],
        ["not known"],
        [],
    ]


def test_words_beside_a_number_have_a_column_of_their_own():
    """A value in a diver's units, with the others in brackets: 0.508 m are 20 in of 25.4 mm (ISO 80000-3)."""
    own, other = InUnits(Amount(0.508, "length"), "imperial"), InUnits(Amount(0.508, "length"), "metric")
    rows = [[("yes ", own, " (", other, ")"), (own, " (", other, ")")], ["not known", "not known"]]
    assert records(Table("", [Column("", "reach"), Column("", "hose")], rows), system=METRIC) == [
        ["reach", "reach value", "reach unit", "hose", "hose unit"],
        ["yes", "20.0", "in", "20.0", "in"],
        ["not known", "", "", "not known"],
    ]
    both = ("Anna: ", own, " (", other, "); John: ", own, " (", other, ")")
    assert number_cell(both, METRIC) is None, "two values stay a sentence"


def test_a_list_whose_data_have_labels_is_a_table():
    data = [
        Fact("", "cylinder", "steel"),
        Fact("kg", "lead", Estimate(figure(0.25, 0.12), "lead")),
        Fact("items", "items", Values(["first", "second"])),
        Fact("hidden", "", 7),
        Fact("", "never given", None),
    ]
    lists = Statements("leads", [Statement(("steel: some lead",), [("take 1 kg",)], data)])
    assert records(lists) == [
        ["cylinder", "lead", "lead ±", "lead unit", "items"],
        ["steel", "0.2", "0.1", "kg", "first, second"],
    ]


def test_facts_lists_and_paragraphs_stand_below_their_titles():
    parts = (
        text("Reef"),
        text("two weeks"),
        Section(
            "Lead",
            [
                Facts(
                    [Fact("", "lead", Amount(4.0, "lead")), Fact("", "where", "belt", note="worn"), Fact("k", "", 1)]
                ),
                Statements(
                    "", [Statement((Tag("hose"), ": worn"), [("It leaks.",)], mark=Signal.NOTICE)], title="Findings"
                ),
                Section("", [Statements("", [Statement(("Fetch.",), mark=Box(3, is_ticked=True))])]),
            ],
        ),
        Statements("", [Statement(("Shown.",), mark="-"), Statement(("Hidden.",), is_shown=False)]),
        Statements("", [], title="To buy", empty="nothing"),
        Statements("", [], title="Never said"),
        Series("", [Section("Nor this", [only_data(("a", 1)), Picture(None)])]),
    )
    assert records(*parts) == [
        ["Reef"],
        ["two weeks"],
        [],
        ["Lead"],
        ["what", "value", "unit", "note"],
        ["lead", "4.0", "kg"],
        ["where", "belt", "", "worn"],
        [],
        ["Lead / Findings"],
        ["NOTICE", '"hose": worn', "It leaks."],
        [],
        ["3", "done", "Fetch."],
        [],
        ["Shown."],
        [],
        ["To buy"],
        ["nothing"],
    ]


NUMBERS: list[tuple[Cell, NumberCell | None]] = [
    (7, NumberCell("7")),
    (True, None),
    (Signal.DANGER, None),
    (None, None),
    ("12 kg", None),
    (Amount(-0.6, "slack"), NumberCell("-60", unit="cm")),
    (Amount(0.6, "slack"), NumberCell("60", unit="cm")),
    (Amounts((2e7,), "pressure"), NumberCell("200", unit="bar")),
    (Amounts((2e7, 2.3e7), "pressure"), None),
    (Interval(Range(0.11, 0.09, 0.13), "length"), NumberCell("11", "", "9", "13", "cm")),
    (Between(0.09, 0.13, "length"), NumberCell("", "", "9", "13", "cm")),
    (BothUnits(Amount(0.7, "length")), NumberCell("70", unit="cm")),
    (InUnits(Amount(0.508, "length"), "imperial"), NumberCell("20.0", unit="in")),
    (StockLength(0.762), NumberCell("76.2", unit="cm")),
    (Share(figure(0.5, 0.02)), NumberCell("50", "2", unit="%")),
    (Duration(Range(90.0, 60.0, 118.0)), NumberCell("90", "", "60", "120", "s")),
    (Duration(Range(600.0, 300.0, 900.0)), NumberCell("10", "", "5", "15", "min")),
    (Price(12.5, "EUR"), NumberCell("12.50", unit="EUR")),
    ((Amount(4.0, "lead"),), NumberCell("4.0", unit="kg")),
    (("about ", Amount(4.0, "lead")), None),
]


@each(("cell", "numbers"), NUMBERS)
def test_what_is_a_number_and_what_is_not(cell, numbers):
    assert number_cell(cell, METRIC) == numbers


def test_numbers_are_those_of_the_readers_units():
    """An inch is 25.4 mm (ISO 80000-3)."""
    table = Table("", [Column("", "length")], [[Amount(0.508, "length")]])
    assert records(table, system=IMPERIAL) == [["length", "length unit"], ["20.0", "in"]]


def test_a_file_has_the_mark_of_its_encoding_and_the_line_ends_of_the_rule():
    """RFC 4180, 2.1: CR LF. What is printed has neither."""
    page = written(text("±"), Facts([Fact("", "a", "b, c")]))
    assert page == '±,\n,\nwhat,value\na,"b, c"\n'
    assert CSV.as_file(page) == '\ufeff±,\r\n,\r\nwhat,value\r\na,"b, c"\r\n'


# ---- no spreadsheet runs anything ----

FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "  =1", "＝1", '=HYPERLINK("x")', "-", "=1,2", '="a"']


@each("formula", FORMULAS)
def test_no_text_is_a_formula(formula):
    """In every place a text may have; a spreadsheet takes what begins so for one, spaces before it left out."""
    parts = (
        Section(formula, [text(formula)]),
        Facts([Fact("", formula, formula, note=formula), Fact("", formula, Tag(formula))]),
        Table("", [Column("", formula)], [[formula], [Tag(formula)]], title=formula),
        Table("", [Column("", formula), Column("", "a")], [[Price(1.0, formula), None]]),
        Statements("", [Statement((formula,), [(formula,)], mark="x")], title=formula),
        Statements("", [Statement((formula,), mark=formula)]),
        Statements("", [], empty=formula),
    )
    cells = [cell for record in records(*parts) for cell in record]
    assert not [cell for cell in cells if cell.lstrip().startswith(("=", "+", "-", "@", "\t", "\r", "＝"))]
    if formula.isprintable():  # a tab is written out, which is no formula any more
        assert sum(cell.startswith("'") for cell in cells) >= 10


def test_a_number_below_zero_stays_one():
    assert records(Table("", [Column("", "kg")], [[Amount(-2.0, "lift")]]))[1] == ["-2.0", "kg"]


@each("sign", [*OBEYED, "\udcff"])
def test_no_sign_is_obeyed(sign):
    page = written(text(f"a{sign}b"), Facts([Fact("", f"a{sign}b", f"{sign}=b")]))
    assert not raw_in(page)
    assert visible(sign) in page or sign in "\n"


@tried(30)
@given(st.lists(st.text(max_size=6), min_size=1, max_size=4))
def test_any_text_is_read_back(words):
    """In one line, and with an apostrophe before what is a formula."""
    table = Table("", [Column("", "a")], [[f"x{word}"] for word in words])
    expected = [" ".join(visible(f"x{word}").split()) for word in words]
    assert [record[0] for record in records(table)[1:]] == expected


def test_ten_thousand_rows_are_written():
    rows = [["long hose", Estimate(figure(0.2, 0.01), "mass")] for _ in range(10_000)]
    assert len(records(Table("", [Column("", "hose"), Column("", "mass")], rows))) == 10_001
