"""A page as Markdown: what is written, and what a reader that is not ours makes of it."""

from collections.abc import Sequence
from typing import NamedTuple

from hypothesis import assume, given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.foreign import visible
from kitbuilder.report.answer import Answer
from kitbuilder.report.numbers import System
from kitbuilder.report.page import (
    Box,
    Column,
    Estimate,
    Fact,
    Facts,
    Node,
    Page,
    Picture,
    Section,
    Series,
    Statement,
    Statements,
    StockLength,
    Table,
    Tag,
    Values,
    only_data,
    text,
)
from kitbuilder.report.renderers.markdown import render
from tests.each import each
from tests.markdown_reader import structure, words

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL


def written(*parts: Node, system: System = METRIC) -> str:
    """What is written below the title."""
    title, _, below = render(Answer("", (), (), Page(parts)), system, 60).partition("\n")
    assert title == "# kitbuilder"
    return below.removeprefix("\n")


# ---- what is written ----


def test_titles_are_headings_as_deep_as_they_stand():
    """Six levels at most (CommonMark 0.31, 4.2). A section without a title takes none."""
    page: Node = text("Done.")
    for title in "gfedcba":
        page = Section(title, [page])
    lines = written(Section("", [page])).split("\n\n")
    assert lines == ["## a", "### b", "#### c", "##### d", "###### e", "###### f", "###### g", "Done.\n"]


def test_a_table_has_its_title_above_and_numbers_on_the_right():
    columns = [
        Column("tag", "hose"),
        Column("length_m", "length"),
        Column("role", ""),
        Column("", "fit", may_wrap=True),
    ]
    rows = [[Tag("long|hose"), Amount(2.1, "length"), "long", ("buy ", StockLength(0.75))], [Tag("b"), None, "", None]]
    table = Table("hoses", columns, rows, title="Hoses")
    assert written(Section("Kit", [table])) == (
        "## Kit\n"
        "\n"
        "### Hoses\n"
        "\n"
        "| hose | length | fit |\n"
        "| --- | ---: | --- |\n"
        "| long\\|hose | 210 cm | buy 75 cm (30 in) |\n"
        "| b |  |  |\n"
    )


def test_a_unit_in_the_head_leaves_the_numbers_alone():
    """In the reader's units: 1 oz is 28.349 52 g (NIST SP 811:2008, B.8)."""
    figures = [
        Estimate(Figure(kg, {"own": spread}, "weighed"), "hose mass") for kg, spread in ((0.431, 0.046), (1, 0.009))
    ]
    table = Table("", [Column("m_kg", "mass", unit_in_head=True)], [[figure] for figure in figures])
    assert written(table).splitlines() == ["| mass g |", "| ---: |", "| 431 ± 46 |", "| 1000 ± 9 |"]
    assert written(table, system=IMPERIAL).splitlines()[0] == "| mass oz |"
    assert written(table, system=IMPERIAL).splitlines()[2] == "| 15.2 ± 1.6 |"


def test_a_column_that_is_repeated_elsewhere_stays():
    """No row is too wide."""
    table = Table("", [Column("", "a" * 60), Column("", "b" * 60, is_repeated=True)], [["x", "y"]])
    assert "| x | y |" in written(table)


def test_fields_are_a_list():
    rows = [
        Fact("", "slack", Amount(0.05, "slack"), note=("from ", Tag("a_b"))),
        Fact("", "lengths", Values([Amount(0.7, "length"), Amount(0.8, "length")])),
        Fact("", "make", None),
        Fact("mass_kg", "", Amount(1.0, "mass")),
    ]
    assert written(Facts(rows)).splitlines() == [
        '- **slack:** +5 cm from "a\\_b"',
        "- **lengths:** 70 cm, 80 cm",
        "- **make:**",
    ]


def test_entries_are_a_list_with_their_marks():
    """Numbers are written out: those of a list may leave some out, and Markdown would count on."""
    entries = [
        Statement(
            ("It is ", Amount(0.05, "length"), " short."), [("Measure it.",), ("Then buy.",)], mark=Signal.NOTICE
        ),
        Statement(("first",), mark="7"),
        Statement(("shut",), mark=Box(9, is_ticked=True)),
        Statement(("open",), mark=Box(10, is_ticked=False)),
        Statement(("bare",), mark="-"),
        Statement(("none",)),
    ]
    assert written(Statements("", entries[:1], title="Findings")) == (
        "## Findings\n\n- **NOTICE** It is 5 cm short.\n\n  Measure it.\n\n  Then buy.\n"
    )
    assert written(Statements("", entries[1:])).splitlines() == [
        "- **7** first",
        "- [x] **9** shut",
        "- [ ] **10** open",
        "- bare",
        "- none",
    ]


def test_two_lists_that_follow_each_other_stay_two():
    """With the same bullet they would be one (CommonMark 0.31, 5.3)."""
    lists = [Statements("", [Statement((word,))]) for word in ("a", "b", "c")]
    assert written(*lists) == "- a\n\n* b\n\n- c\n"
    assert written(lists[0], text("between"), lists[1]) == "- a\n\nbetween\n\n- b\n"
    assert structure(written(*lists)).count("bullet_list_open ul") == 3


def test_each_paragraph_is_one_of_its_own():
    """On the text's page they are lines one below the other, which Markdown would run together."""
    assert written(text("one"), text(""), text("two", indent=2)) == "one\n\ntwo\n"


def test_what_is_empty_says_why_or_nothing():
    columns = [Column("", "hose")]
    assert written(Table("", columns, [], title="To buy", empty="nothing")) == "To buy: nothing\n"
    assert written(Statements("", [], empty="Nothing differs.")) == "Nothing differs.\n"
    for part in (Table("", columns, [], title="a"), Section("a", []), Facts([]), Series("", []), Values([])):
        assert written(part) == ""
    assert written(Table("", [Column("key", "")], [["a"]], title="a"), only_data(("key", "a"))) == ""


def test_without_a_page_nothing_is_written():
    assert render(Answer("check", (), (), None), METRIC, 60) == ""


class Lines(NamedTuple):
    """A drawing of these lines."""

    drawn: Sequence[str]

    def lines(self, width: int, height: int, *, plain: bool = False) -> Sequence[str]:  # noqa: ARG002 - every drawing takes it
        return [line[:width] for line in self.drawn[:height]]


def test_a_drawing_stands_in_a_fence_that_it_cannot_close():
    """A fence is closed by as many backticks as opened it, or more (CommonMark 0.31, 4.5)."""
    drawn = ["  _/ *a*", "```", "b\n```"]
    markdown = written(Picture(Lines(drawn), 3), text("after"))
    assert markdown == "````\n  _/ *a*\n```\nb\\n```\n````\n\nafter\n"
    assert structure(markdown) == ["fence code", "paragraph_open p", "text", "paragraph_close p"]


def test_values_have_plain_spaces():
    """What holds a number to its unit where our layout wraps would hold it in a search as well."""
    assert written(text("buy ", StockLength(0.75))) == "buy 75 cm (30 in)\n"


# ---- what a reader makes of it ----


def page_of(word: str) -> tuple[Node, ...]:
    """A page with a word at every place for words, by itself wherever something could begin."""
    return (
        Section(
            word,
            [
                text(word),
                text("a ", word, " b"),
                Facts([Fact("", word, word, note=word), Fact("", "tags", Values([Tag(word), Tag(word)]))]),
                Statements(
                    "",
                    [
                        Statement((word,), [(word,), (word,)]),
                        Statement((word,), mark=word),
                        Statement((word,), mark="-"),
                    ],
                ),
                Table("", [Column("", word), Column("", "two")], [[Tag(word), 1], [(word, 1), word]], title=word),
                Table("", [Column("", "none")], [], title=word, empty=word),
                Table("", [Column("", "none")], [], empty=word),
            ],
        ),
    )


SIGNS = st.text(alphabet="ab1 .-+)(*_`[]<>&|~#$\\!:/@='\"{};\n\t", max_size=12)
KNOWN = (
    "# title", "a #", "- item", "+", "--", "* * *", "1. first", "12) second", "> said", "===", "---", ":--",
    "| a | b |", "a|b", "\\|", "a\\", "**bold**", "_slanted_", "~~gone~~", "~~~", "`code`", "```",
    "[a](b)", "![a](b)", "[a]: b", "[x] done", "[^1]", "<b>a</b>", "<!-- gone -->", "<https://a.b>", "&amp;", "&#42;",
    "a  \nb", "a\\\nb", "    code", "\tcode", "$x$", "\u2028# a", "\x1b[2J", "a\u00a0b",
)  # fmt: skip
"""A use of each sign that CommonMark 0.31 or GFM 0.29 gives a meaning to."""


def as_shown(word: str) -> str:
    """What a text looks like where spaces beside each other are one."""
    return " ".join(visible(word).split())


def assert_is_only_shown(word: str) -> None:
    """A page of the word has the parts that a page of any word has, and the word wherever that page has one.

    Spaces at the ends of a word are lost at some places and not at others, so none are compared.
    """
    plain, found = written(*page_of("WORD")), written(*page_of(word))
    assert structure(found) == structure(plain)
    assert words(found).replace(" ", "") == words(plain).replace("WORD", as_shown(word)).replace(" ", "")


@each("word", KNOWN)
def test_no_markup_in_a_text_is_read_as_markup(word):
    assert_is_only_shown(word)


@given(SIGNS | st.text(max_size=12))
def test_any_text_is_shown_as_it_is(word):
    assume(as_shown(word) and word != "-")  # as a mark, a dash is the bullet
    assert_is_only_shown(word)


def test_no_address_becomes_a_link():
    """GFM 0.29, 6.9: after www. and http://, https:// or ftp://. A colon or a full stop that is escaped ends that."""
    page = written(text("see www.a.b, WWW.a.b, http://a.b and ftp://a.b: 3.5 mm"))
    assert page == "see www\\.a.b, WWW\\.a.b, http\\://a.b and ftp\\://a.b: 3.5 mm\n"
    assert words(page) == "see www.a.b, WWW.a.b, http://a.b and ftp://a.b: 3.5 mm"


def test_plain_words_and_numbers_are_left_alone():
    """A page has to be read as it stands, too."""
    plain = '"long hose": +5 cm, −4.7 ± 2.9 kg (35 %), 3/8-24 UNF; 2 × 2 kg. Is it right? Yes!'
    assert written(text(plain)) == f"{plain}\n"
