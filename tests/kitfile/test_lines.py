"""The line that a finding names is the line of the key, however a kit is spelt.

The kits that come with the program have one key per line; here each line is spelt differently, and its number noted.
"""

import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kitbuilder.kit.fields import fields_of
from kitbuilder.kitfile.reader import read_kit
from tests.kitfile.support import GOOD_KIT, KITS, LAYOUTS, SMALL
from tests.laws import tried

KEYS = ("{}", "  {}", "\t{}", '"{}"', "'{}'")
EQUALS = (" = ", "=", "\t =")
TABLES = ("[[{}]]", "  [[{}]]", "[[ {} ]]  # [[hose]]", '[["{}"]]')
FILLERS = ("", "# run = 1", "  #[[hose]]", "\t")
TEXTS = ('notes = """\n[[hose]]\nlength = "9 m"\n"""', "notes = '''\nrun = 1'''", 'notes = "[[hose]]\\nrun = 1"')

PLAIN = [*KITS, *LAYOUTS, GOOD_KIT]
"""Kits with one key per line."""

Places = dict[tuple[int | None, str | None], int]


@st.composite
def spelt_differently(draw: st.DrawFn) -> tuple[str, Places]:
    """A kit and the line of every item and key in it; an item is its number, the heading None."""
    plain_tables, plain_keys, plain_texts = (draw(st.booleans()) for _ in range(3))
    lines: list[str] = []
    places: Places = {}
    item = -1

    def spelling(plain: bool, choices: tuple[str, ...]) -> str:
        return choices[0] if plain else draw(st.sampled_from(choices))

    for line in draw(st.sampled_from(PLAIN)).read_text("utf-8").splitlines():
        lines += draw(st.lists(st.sampled_from(FILLERS), max_size=1))
        number = None if item < 0 else item
        if match := re.fullmatch(r"\[\[(\w+)\]\]", line):
            item += 1
            places[item, None] = len(lines) + 1
            lines.append(spelling(plain_tables, TABLES).format(match[1]))
            if not plain_texts and draw(st.booleans()):
                places[item, "notes"] = len(lines) + 1
                lines += draw(st.sampled_from(TEXTS)).split("\n")
        elif (match := re.fullmatch(r"(\w+) *= (.*)", line)) and (number, match[1]) in places:
            lines.append("# said above")
        elif match:
            places[number, match[1]] = len(lines) + 1
            value = re.sub(r'^\["(.*)$', '[\n  # run = 1 ]\n"\\1', match[2]) if draw(st.booleans()) else match[2]
            lines += (spelling(plain_keys, KEYS).format(match[1]) + spelling(plain_keys, EQUALS) + value).split("\n")
        else:
            lines.append(line)
    return draw(st.sampled_from(("\n", "\r\n"))).join(lines), places


@tried(25)
@given(spelt_differently())
def test_the_line_of_every_item_and_key(spelt: tuple[str, Places]) -> None:
    text, places = spelt
    reading = read_kit(text)
    assert reading.problems == ()
    assert reading.kit is not None
    for (item, key), line in places.items():
        assert reading.lines.of(item, key) == line, (item, key)
    assert [block.line for block in reading.blocks] == [1] + [line for (_, key), line in places.items() if key is None]


@pytest.mark.parametrize("path", PLAIN, ids=lambda path: path.stem)
def test_what_does_not_stand_there_is_where_it_would_be(path: Path) -> None:
    """A key that is missing is on the line of its item; an item that is not there is nowhere."""
    text = path.read_text("utf-8")
    reading = read_kit(text)
    assert reading.kit is not None
    starts = [number for number, line in enumerate(text.splitlines(), start=1) if line.startswith("[[")]
    for item, record in enumerate(reading.kit.items):
        for field in fields_of(type(record)):
            if field.key not in reading.rows[item + 1][1]:
                assert reading.lines.of(item, field.key) == starts[item]
    for field in fields_of(type(reading.kit.header)):
        if field.key not in reading.rows[0][1]:
            assert reading.lines.of(None, field.key) == 1
    assert reading.lines.of(len(starts), "tag") is None


def test_a_file_that_begins_with_an_empty_line() -> None:
    """Which is line 1, and the heading begins there."""
    reading = read_kit("\n" + SMALL)
    assert reading.lines.of(None, "diver") == 1
    assert reading.lines.of(None, "format") == 2


def test_a_key_in_quotes_among_plain_ones_has_its_own_line() -> None:
    text = SMALL.replace("length =", '"length" =')
    line = text.splitlines().index('"length" = "75 cm"') + 1
    assert read_kit(text).lines.of(0, "length") == line
