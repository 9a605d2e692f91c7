"""Where everything stands in a text, held against what tomllib reads, for odd but valid TOML.

The generator below notes what it writes: the tables in order with their lines, the keys with theirs, and where the
comments begin that belong to a table.
"""

import tomllib
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.kitfile.blocks import find_blocks
from tests.kitfile.support import KITS, LAYOUTS
from tests.laws import tried

TABLES = {
    "[[hose]]": "hose",
    "  [[ hose ]] # [[gauge]]": "hose",
    '[["hose"]]#': "hose",
    "\t[[ 'gauge'\t]]": "gauge",
    '[["\\u0067auge"]]': "gauge",
    '[["a ] # = \\" b"]]': 'a ] # = " b',
}
KEYS = {
    "tag": "tag",
    "a-1_B": "a-1_B",
    "1234": "1234",
    '"length"': "length",
    "'to'": "to",
    '"\\u0072un"': "run",
    '""': "",
    '"a.b"': "a.b",
    '"a # b"': "a # b",
    '"c = d"': "c = d",
    "'[[hose]]'": "[[hose]]",
    '"e\\"f"': 'e"f',
    "'\"'": '"',
    "dotted . 'i = [' . j": "dotted",
    '"q"."r=\\"[" . s': "q",
}
VALUES = (
    "1",
    "true",
    "1979-05-27 07:32:00",
    "''",
    '""',
    '"75 cm"',
    "'# no comment'",
    '"\\"[[hose]]\\" \\\\"',
    "[]",
    "{}",
    '["LP1", "]", \'[\']',
    '{ a = 1, "b]" = ["}"] }',
    '[\n"LP4", # "] [[hose]]\n\n  \'HP2\'\n,]',
    "[ [\n1],[ # ]\n2 ] ]",
    '{ a = [\n{ b = "}" },\n{ } ] }',
    '"""\n[[hose]]\ntag = "x"\n# no comment\n"""',
    '"""""two"" in the middle and two at the end"""""',
    '"""escaped \\""" and \\\\"""',
    '"""\\\\"""',
    '""""""',
    "''''''",
    "'''\n[[hose]]\n'' \\'''",
    "'''it's ''x'' '''''",
)
TAILS = ("", " ", "\t# comment", '# "[[hose]]', "  # '''")
FILLERS = ("", "  \t", "# comment", '  # tag = "x"', "#[[hose]]")


@dataclass
class Table:
    """What was written for one table, or for the heading."""

    name: str
    line: int
    start_line: int
    keys: dict[str, int] = field(default_factory=dict)


@st.composite
def texts(draw: st.DrawFn) -> tuple[str, list[Table]]:
    """A text, and the tables in it."""
    lines: list[str] = []
    tables = [Table("", 1, 1)]
    comments = 0

    def fill() -> None:
        nonlocal comments
        for filler in draw(st.lists(st.sampled_from(FILLERS), max_size=3)):
            comments = comments + 1 if "#" in filler else 0
            lines.append(filler)

    def statements() -> None:
        nonlocal comments
        for spelling in draw(st.lists(st.sampled_from(sorted(KEYS)), max_size=4, unique=True)):
            fill()
            tables[-1].keys[KEYS[spelling]] = len(lines) + 1
            indent, equals = draw(st.sampled_from(("", "  ", "\t"))), draw(st.sampled_from(("=", " = ", "\t=  ")))
            statement = indent + spelling + equals + draw(st.sampled_from(VALUES)) + draw(st.sampled_from(TAILS))
            lines.extend(statement.split("\n"))
            comments = 0
        fill()

    statements()
    for spelling in draw(st.lists(st.sampled_from(sorted(TABLES)), max_size=5)):
        tables.append(Table(TABLES[spelling], len(lines) + 1, len(lines) + 1 - comments))
        lines.append(spelling)
        comments = 0
        statements()
    text = draw(st.sampled_from(("\n", "\r\n"))).join(lines)
    return text + draw(st.sampled_from(("", "\n", "\r\n"))), tables


@tried(200)
@given(texts())
def test_odd_texts(written: tuple[str, list[Table]]) -> None:
    """Every table and key is found in its place, and every span holds one key and its value."""
    assert_all_is_in_its_place(*written)
    assert_each_span_says_what_it_says_in_the_whole(written[0])


def assert_all_is_in_its_place(text: str, tables: list[Table]) -> None:
    blocks = find_blocks(text)
    assert [block.table for block in blocks] == [table.name for table in tables]
    assert [block.key_lines for block in blocks] == [table.keys for table in tables]
    assert [block.line for block in blocks] == [table.line for table in tables]
    starts = [0] + [line_start(text, table.start_line) for table in tables[1:]]
    assert [block.start for block in blocks] == starts


def assert_each_span_says_what_it_says_in_the_whole(text: str) -> None:
    """Cut out and parsed alone, a span says what tomllib reads in the whole text."""
    data, used = tomllib.loads(text), dict.fromkeys(TABLES.values(), 0)
    for block in find_blocks(text):
        raw = data
        if block.table:
            raw = data[block.table][used[block.table]]
            used[block.table] += 1
            assert tomllib.loads(text[block.start : block.end]) == {block.table: [raw]}
        keys = {key: value for key, value in raw.items() if block.table or key not in used}
        assert set(block.key_spans) == set(keys)
        for key, (start, end) in block.key_spans.items():
            assert tomllib.loads(text[start:end]) == {key: keys[key]}
    assert used == {name: len(data.get(name, [])) for name in used}


def line_start(text: str, line: int) -> int:
    """The offset at which a line begins, counted from 1."""
    return sum(len(row) + 1 for row in text.split("\n")[: line - 1])


@pytest.mark.parametrize("path", KITS + LAYOUTS, ids=lambda path: path.stem)
def test_the_kits_that_come_with_the_program(path: Path) -> None:
    """Written plainly, so that their lines can be known without a parser."""
    text = path.read_text("utf-8")
    wanted: list[tuple[str, int, dict[str, int]]] = [("", 1, {})]
    for line, row in enumerate(text.splitlines(), start=1):
        if row.startswith("[["):
            wanted.append((row.strip("[]"), line, {}))
        elif row and not row.startswith("#"):
            wanted[-1][2][row.split()[0]] = line
    assert [(block.table, block.line, block.key_lines) for block in find_blocks(text)] == wanted
