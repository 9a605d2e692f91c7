"""The largest file there may be, and which errors of a stock leave its sound hoses standing."""

from pathlib import Path
from types import SimpleNamespace

import pytest

from kitbuilder.kit.files import STOCK_FILE
from kitbuilder.kitfile.disk import LARGEST_FILE, UnreadableFile, read_text
from kitbuilder.kitfile.reader import read_as
from kitbuilder.kitfile.values import whole_words

HEAD = 'format = 1\nholds = "stock"\nname = "shelf"\n'
HOSE = '[[hose]]\ntag = "{tag}"\nbody = "rubber"\nlength = "{length}"\n'
SOUND, OTHER, BROKEN = (
    HOSE.format(tag=tag, length=length) for tag, length in (("one", "75 cm"), ("two", "90 cm"), ("bad", "75"))
)


def test_a_file_of_a_million_bytes_is_read_and_one_of_a_byte_more_is_not(tmp_path: Path) -> None:
    """A megabyte is a thousand kits; more is not a kit file."""
    path = tmp_path / "large.toml"
    path.write_bytes(b"#" * 1_000_000)
    assert LARGEST_FILE == 1_000_000
    assert len(read_text(path)) == 1_000_000
    path.write_bytes(b"#" * 1_000_001)
    with pytest.raises(UnreadableFile, match=r"it has 1\.0 MB and a kit file has at most 1 MB"):
        read_text(path)
    path.write_bytes(b"#" * 2_500_000)
    with pytest.raises(UnreadableFile, match=r"it has 2\.5 MB"):
        read_text(path)


@pytest.mark.parametrize(
    ("rows", "left"),
    [
        ((SOUND, OTHER), ["one", "two"]),
        ((BROKEN, OTHER), ["two"]),
        ((SOUND, BROKEN), ["one"]),
        ((SOUND, BROKEN, OTHER), ["one", "two"]),
    ],
)
def test_a_broken_hose_of_a_stock_leaves_the_others(rows: tuple[str, ...], left: list[str]) -> None:
    """Wherever it stands; its problem is told with its line."""
    text = "\n".join((HEAD, *rows))
    reading = read_as(text, STOCK_FILE)
    assert reading.stock is not None
    assert [hose.tag for hose in reading.stock.things] == left
    lines = [problem.line for problem in reading.problems]
    assert lines == [number for number, line in enumerate(text.splitlines(), 1) if line == 'length = "75"']


@pytest.mark.parametrize("wrong", ["colour = 3\n", "notes = 5\n", 'name = ""\n'])
def test_a_broken_head_of_a_stock_leaves_nothing(wrong: str) -> None:
    """Nobody knows then what it is a stock of."""
    head = HEAD.replace('name = "shelf"\n', "") + wrong if wrong.startswith("name") else HEAD + wrong
    reading = read_as("\n".join((head, SOUND, OTHER)), STOCK_FILE)
    assert reading.stock is None
    assert reading.problems


@pytest.mark.parametrize(
    ("most", "says"), [(3, "1, 2, 3"), (24, ", 23, 24"), (25, "from 1 to 25"), (99, "from 1 to 99")]
)
def test_two_dozen_numbers_are_listed_and_more_are_told_by_their_ends(most: int, says: str) -> None:
    """What a key takes is told in the error; a line holds two dozen."""
    field = SimpleNamespace(choices=tuple(str(number) for number in range(1, most + 1)))
    words = whole_words(field)  # type: ignore[arg-type]
    assert words.endswith(says)
    assert words.startswith("from" if most > 24 else "1, 2, 3")
