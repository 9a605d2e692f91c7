"""A page as HTML: what is written, and that nothing in it is more than text."""

import re
from itertools import cycle

from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.assess.figures import Figure
from kitbuilder.assess.findings import Amount, Signal
from kitbuilder.foreign import visible
from kitbuilder.pictures.body_svg import BADGES, HOSES
from kitbuilder.pictures.side_view_svg import TURN
from kitbuilder.pictures.svg import INK, PAPER, QUIET
from kitbuilder.report.answer import Answer, FileRead
from kitbuilder.report.document_style import DARK, GROUNDS, LIGHT, STYLE, TEXTS
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
    Table,
    Tag,
    Values,
    only_data,
    text,
)
from kitbuilder.report.renderers.html import render
from tests.each import each
from tests.hostile import OBEYED, raw_in
from tests.html_reader import Document, Heading, pictures, tables_without_caption

METRIC, IMPERIAL = System.METRIC, System.IMPERIAL
MARKUP = "<script>alert(1)</script><img src=x onerror=alert(1)>&amp;\"'--></style></title>"


def written(*parts: Node, system: System = METRIC, about: str = "Trial", name: str = "") -> str:
    files = (FileRead("a.toml", "kit", name),) if name else ()
    return render(Answer("", files, (), Page(parts), about), system, 60)


def mass(value_kg: float, spread_kg: float) -> Estimate:
    return Estimate(Figure(value_kg, {"own": spread_kg}, "stamped"), "mass")


def body(document: str) -> str:
    return document.partition("</header>\n")[2].partition("</main>")[0].rstrip("\n")


# ---- what is written ----


def test_titles_are_headings_as_deep_as_they_stand():
    """Below the one of the document, six levels at most. A section without a title takes none."""
    page: Node = text("Done.")
    for title in "gfedcba":
        page = Section(title, [page])
    document = Document(written(Section("", [page]), name="Reef"))
    levels = [(1, "Reef"), (2, "a"), (3, "b"), (4, "c"), (5, "d"), (6, "e"), (6, "f"), (6, "g")]
    assert document.headings == [Heading(*level) for level in levels]
    assert document.wrong == []


def test_a_table_names_itself_its_columns_and_its_rows():
    columns = [Column("tag", "hose"), Column("length_m", "length"), Column("", ""), Column("", "why")]
    table = Table("hoses", columns, [[Tag("a < b"), Amount(0.6, "length"), "data", "short"]], title="Hoses")
    assert body(written(table)).splitlines() == [
        '<div class="wide">',
        "<table>",
        "<caption>Hoses</caption>",
        '<thead><tr><th scope="col">hose</th><th scope="col" class="number">length</th><th scope="col">why</th></tr>'
        "</thead>",
        "<tbody>",
        '<tr><th scope="row">a &lt; b</th><td class="number">60 cm</td><td>short</td></tr>',
        "</tbody>",
        "</table>",
        "</div>",
    ]
    assert "2<" not in body(written(table, system=IMPERIAL)), "in the reader's units"
    assert ">23.6 in<" in body(written(table, system=IMPERIAL))


def test_a_table_without_a_title_is_named_by_its_heading_for_who_listens():
    table = Table("", [Column("", "hose")], [["a"]])
    document = written(Section("What it weighs", [table]))
    assert '<caption class="unseen">What it weighs</caption>' in document
    assert tables_without_caption(document) == []
    assert "clip-path" in STYLE[STYLE.index(".unseen") :]


def test_the_cells_that_name_a_row_are_its_heads():
    columns = [Column("", "letter"), Column("", "hose", names_row=True), Column("", "fit")]
    row = body(written(Table("", columns, [["a", "long hose", "fits"]])))
    assert '<tr><td>a</td><th scope="row">long hose</th><td>fits</td></tr>' in row
    marked = body(written(Table("", [Column("", " "), Column("", "hose")], [["*", "long hose"], [" ", "wing hose"]])))
    assert '<tr><td>*</td><th scope="row">long hose</th></tr>' in marked, "a sign names nothing"


def test_spreads_of_several_lengths_stand_below_each_other():
    """Both in room for four signs, flush right; alike without."""
    cells = [mass(14.9, 1.3), mass(4.0, 0.12)]
    both = body(written(Table("", [Column("", "mass")], [[cell] for cell in cells])))
    assert '14.9 ± <span class="w4">1.3</span> kg' in both
    assert '4.00 ± <span class="w4">0.12</span> kg' in both
    alike = body(written(Table("", [Column("", "mass")], [[cells[1]]])))
    assert ">4.00 ± 0.12 kg<" in alike


def test_a_finding_is_a_section_with_its_signal_word():
    found = Statement((Tag("hose"), ": worn"), [("It leaks.",), ("Replace it.",)], mark=Signal.CAUTION)
    document = written(Statements("findings", [found], title="Findings"))
    assert body(document).splitlines() == [
        "<section>",
        "<h2>Findings</h2>",
        '<section class="finding caution">',
        '<h3><span class="signal caution">CAUTION</span> &quot;hose&quot;: worn</h3>',
        "<p>It leaks.</p>",
        "<p>Replace it.</p>",
        "</section>",
        "</section>",
    ]


def test_a_finding_of_one_sentence_is_an_item_of_a_list():
    """A heading for each would be all headings and nothing below."""
    found = [Statement(("Agree on air.",), mark=Signal.CAUTION), Statement(("One light.",), mark=Signal.NOTICE)]
    assert body(written(Statements("", found))).splitlines() == [
        '<ul class="marked">',
        '<li class="finding caution"><span class="signal caution">CAUTION</span> Agree on air.',
        "</li>",
        '<li class="finding notice"><span class="signal notice">NOTICE</span> One light.',
        "</li>",
        "</ul>",
    ]


def test_entries_are_items_of_lists_by_their_marks():
    entries = [
        Statement(("One.",), mark="1"),
        Statement(("Two.",), mark="2"),
        Statement(("Fetch.",), mark=Box(3, is_ticked=True)),
        Statement(("Screw.",), [("Hard.",)], mark=Box(4, is_ticked=False)),
        Statement(("Bare.",), mark="-"),
        Statement(("Named.",), mark="if"),
        Statement(("Hidden.",), is_shown=False),
    ]
    assert body(written(Statements("", entries))).splitlines() == [
        "<ol>",
        '<li value="1">One.',
        "</li>",
        '<li value="2">Two.',
        "</li>",
        "</ol>",
        '<ul class="boxes">',
        '<li><label><input type="checkbox" checked="checked"/><b>3</b> <span>Fetch.</span></label>',
        "</li>",
        '<li><label><input type="checkbox"/><b>4</b> <span>Screw.</span></label>',
        "<p>Hard.</p>",
        "</li>",
        "</ul>",
        "<ul>",
        "<li>Bare.",
        "</li>",
        "</ul>",
        '<ul class="marked">',
        "<li><b>if</b> Named.",
        "</li>",
        "</ul>",
    ]


def test_facts_are_terms_with_what_is_said_of_them():
    rows = [
        Fact("lead_kg", "lead", Amount(4.0, "lead"), note="in pieces"),
        Fact("hidden", "", "x"),
        Fact("", "pieces", Values(["a", "b"])),
    ]
    assert body(written(Facts(rows))).splitlines() == [
        "<dl>",
        '<dt>lead</dt><dd>4.0 kg <span class="note">in pieces</span></dd>',
        "<dt>pieces</dt><dd>a, b</dd>",
        "</dl>",
    ]


def test_an_empty_list_and_an_empty_table_say_so():
    parts = (
        Statements("", [], title="To buy", empty="nothing"),
        Table("", [Column("", "hose")], [], title="Hoses", empty="none"),
        Table("", [Column("", "hose")], [], title="Never said"),
        Section("Never either", [only_data(("a", 1))]),
        Series("", []),
    )
    assert body(written(*parts)).splitlines() == ["<p>To buy: nothing</p>", "<p>Hoses: none</p>"]


def test_no_page_is_no_document():
    assert render(Answer("", (), (), None), METRIC, 60) == ""


def test_the_title_names_what_it_is_about():
    """One file or three by name, more by their number; without files, what the answer is."""
    files = [FileRead(f"{name}.toml", "kit", name) for name in ("a<b", "c", "d", "e")]

    def title(count: int) -> str:
        return re.findall(
            "<title>(.*)</title>", render(Answer("", tuple(files[:count]), (), Page([]), "Figures"), METRIC, 60)
        )[0]

    assert [title(count) for count in (0, 1, 3, 4)] == [
        "Figures",
        "a&lt;b: Figures",
        "a&lt;b · c · d: Figures",
        "a&lt;b and 3 more: Figures",
    ]


class Signs:
    def lines(self, width: int, height: int) -> list[str]:
        return ["⠉<⠉", "x" * width][:height]


class Vector:
    def svg(self, system: System) -> str:
        return f'<svg xmlns="http://www.w3.org/2000/svg" role="img"><title>{system.value}</title><desc>d</desc></svg>\n'


def test_a_picture_is_drawn_as_svg_where_there_is_one_and_else_in_signs():
    """Signs are nothing to read aloud."""
    assert body(written(Picture(Signs(), 2))) == f'<pre aria-hidden="true">⠉&lt;⠉\n{"x" * 60}</pre>'
    [picture] = pictures(written(Picture(Signs(), 2, Vector()), system=IMPERIAL))
    assert [child.text for child in picture] == ["imperial", "d"]
    assert body(written(Picture(None))) == ""


def test_it_forbids_itself_to_ask_or_run_anything():
    document = written(text("x"))
    [policy] = re.findall('Content-Security-Policy" content="([^"]*)"', document)
    assert policy.split("; ")[0] == "default-src 'none'"
    assert "script-src" not in policy
    assert not re.search(r"url\(|@import|expression", STYLE)


# ---- nothing from a file is more than text ----


@each("hostile", [MARKUP, *(f"a{sign}b" for sign in OBEYED), "\udcff", "&lt;", "]]>", "<!--", "﷽ שלום", "\u202eabc"])
def test_no_text_is_markup_or_obeyed(hostile):
    """In every place a text may have."""
    parts = (
        Section(hostile, [text(hostile), text("by ", Tag(hostile))]),
        Facts([Fact("", hostile, hostile, note=hostile)]),
        Table("", [Column("", hostile)], [[hostile], [Tag(hostile)]], title=hostile),
        Table("", [Column("", "a")], [], empty=hostile),
        Statements("", [Statement((hostile,), [(hostile,)], mark=mark) for mark in (Signal.NOTICE, "1", hostile)]),
    )
    document = render(Answer("", (FileRead(hostile, "kit", hostile),), (), Page(parts), hostile), METRIC, 60)
    found = Document(document)
    assert found.wrong == []
    assert not raw_in(document)
    shown = " ".join(" ".join(found.texts).split())
    assert shown.count(" ".join(visible(hostile).split())) >= 13


@given(st.text(st.characters(codec=None), max_size=12))
def test_any_text_is_shown_as_it_is(words):
    """But for spaces, which a browser joins."""
    found = Document(written(text("«", words, "»")))
    assert found.wrong == []
    shown = "".join(found.texts)
    assert visible(words).split() == shown[shown.index("«") + 1 : shown.rindex("»")].split()


# ---- how it looks ----


def luminance(colour: str) -> float:
    """Relative luminance as WCAG 2.2 defines it."""
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@each("palette", [LIGHT, DARK])
def test_every_word_can_be_read_on_every_ground(palette):
    """At least 4.5:1: WCAG 2.2, success criterion 1.4.3. Paper is printed with the light colours."""
    for ink in TEXTS:
        for ground in GROUNDS:
            lower, higher = sorted((luminance(palette[ink]), luminance(palette[ground])))
            assert (higher + 0.05) / (lower + 0.05) >= 4.5, (ink, ground)


def darkened(colour: str) -> str:
    """A colour as `invert(.92) hue-rotate(180deg)` shows it: Filter Effects Module Level 1 (W3C, 2018), 8.4 and 9.2."""
    parts = [0.92 + (1 - 2 * 0.92) * int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    turn = ((-0.574, 1.430, 0.144), (0.426, 0.430, 0.144), (0.426, 1.430, -0.856))
    turned = [sum(by * part for by, part in zip(row, parts, strict=True)) for row in turn]
    return "#" + "".join(f"{round(min(max(part, 0.0), 1.0) * 255):02x}" for part in turned)


def test_words_on_pictures_can_be_read_on_white_and_on_a_dark_screen():
    """On a dark screen pictures are turned into their opposites, on the colour of the page."""
    assert "invert(.92) hue-rotate(180deg)" in STYLE
    assert darkened("#ffffff") == "#141414"
    for ink in (INK, QUIET, TURN, *HOSES, *(colour for colour, _ in BADGES.values())):
        for shown, ground in ((ink, PAPER), (darkened(ink), darkened(PAPER)), (darkened(ink), DARK["paper"])):
            lower, higher = sorted((luminance(shown), luminance(ground)))
            assert (higher + 0.05) / (lower + 0.05) >= 4.5, (ink, ground)


def test_every_colour_is_one_of_the_palettes():
    """Or the test above would not see it. `drawn` are pictures, which are drawn on white."""
    assert set(LIGHT) == set(DARK) >= {*TEXTS, *GROUNDS}
    used = set(re.findall(r"var\(--([a-z]+)\)", STYLE))
    assert used <= set(LIGHT)
    assert {*re.findall(r"[^-]color:var\(--([a-z]+)\)", STYLE)} <= set(TEXTS)
    assert {*re.findall(r"background:var\(--([a-z]+)\)", STYLE)} <= set(GROUNDS)
    rules = STYLE.replace("".join(f"--{name}:{colour};" for name, colour in LIGHT.items()), "")
    rules = rules.replace("".join(f"--{name}:{colour};" for name, colour in DARK.items()), "")
    assert not re.findall(r"#[0-9a-f]{3,6}\b", rules)


def test_dark_colours_are_for_screens_alone():
    dark = [rule for rule in re.findall(r"@media ([^{]*)\{", STYLE) if "dark" in rule]
    assert dark
    assert all(rule.startswith("screen and") for rule in dark)


def test_paper_may_have_any_size():
    """A size in the rule would make a sheet of A4 out of Letter, or the other way round."""
    [page] = re.findall(r"@page\{([^}]*)\}", STYLE)
    assert "size" not in page


def test_ten_thousand_rows_are_written():
    """Each row a bounded number of times, or nobody would wait for this test."""
    columns = [Column("", "hose"), Column("", "mass"), Column("", "fit")]
    spreads = cycle((0.01, 1.5))
    rows = [["long hose", mass(2.0, next(spreads)), Signal.NOTICE] for _ in range(10_000)]
    assert written(Table("", columns, rows)).count("<tr>") == 10_001
