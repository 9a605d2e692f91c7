"""Whole items are added, copied, removed and moved as blocks of lines, comments right above them included."""

from pathlib import Path

import pytest

from kitbuilder.kitfile import document as document_module
from kitbuilder.kitfile.document import Document, RefusedEdit
from tests.kitfile.support import CONFIGS, SMALL, opened

KIT = """\
# a kit of three items
format = 1
name   = "Three items"
layout = "single"
# of the heading

# ---- what is breathed from ----

# the first stage
#   and its port
[[first_stage]]
tag   = "first"
ports = ["LP1 3/8-24 UNF"]

# the hose
[[hose]]
tag    = "hose"
role   = "primary"
from   = "first LP1"
to     = "second"        # across the chest
body   = "rubber"
length = "75 cm"
# below the hose

# ---- what it feeds ----

[[second_stage]]
tag = "second"
"""
FIRST = KIT[KIT.index("# the first stage") : KIT.index("# the hose")]
HOSE = KIT[KIT.index("# the hose") : KIT.index("# below the hose")]
BELOW = KIT[KIT.index("# below the hose") : KIT.index("[[second_stage]]")]
SECOND = KIT[KIT.index("[[second_stage]]") :]
HEADING = KIT[: KIT.index("# the first stage")]

WRITTEN = pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])
ENDED = pytest.mark.parametrize("ended", [True, False], ids=["ended", "not ended"])


def test_the_parts_are_the_whole() -> None:
    """Or else the tests below would prove nothing."""
    assert HEADING + FIRST + HOSE + BELOW + SECOND == KIT


def kit(folder: Path, newline: str = "\n", *, ended: bool = True) -> Document:
    """The kit above, opened."""
    text = KIT if ended else KIT.removesuffix("\n")
    return opened(folder, text.replace("\n", newline))


@WRITTEN
@pytest.mark.parametrize(
    ("after", "text"),
    [
        pytest.param(
            None, KIT.replace('layout = "single"\n', 'layout = "single"\n\n[[gauge]]\ntag = "new"\n'), id="heading"
        ),
        pytest.param(0, HEADING + FIRST + '[[gauge]]\ntag = "new"\n\n' + HOSE + BELOW + SECOND, id="first"),
        pytest.param(1, HEADING + FIRST + HOSE + '\n[[gauge]]\ntag = "new"\n' + BELOW + SECOND, id="above comments"),
        pytest.param(2, KIT + '\n[[gauge]]\ntag = "new"\n', id="last"),
    ],
)
def test_a_new_item_stands_below_the_one_named(newline: str, after: int | None, text: str, tmp_path: Path) -> None:
    document = kit(tmp_path, newline)
    assert document.add_item("gauge", {"tag": "new"}, after) == (0 if after is None else after + 1)
    assert document.text == text.replace("\n", newline)


@WRITTEN
def test_a_new_item_below_the_last_line_of_a_file_that_is_not_ended(newline: str, tmp_path: Path) -> None:
    document = kit(tmp_path, newline, ended=False)
    document.add_item("gauge", {"tag": "new"}, 2)
    assert document.text == (KIT + '\n[[gauge]]\ntag = "new"\n').replace("\n", newline)


@WRITTEN
def test_a_copy_stands_below_with_its_comments_and_a_tag_of_its_own(newline: str, tmp_path: Path) -> None:
    document = kit(tmp_path, newline)
    assert document.copy_item(1) == 2
    copied = HOSE.replace('"hose"', '"hose 2"')
    assert document.text == (HEADING + FIRST + HOSE + "\n" + copied + BELOW + SECOND).replace("\n", newline)


@WRITTEN
@ENDED
@pytest.mark.parametrize(
    ("item", "text"),
    [
        pytest.param(0, HEADING + HOSE + BELOW + SECOND, id="first"),
        pytest.param(1, HEADING + FIRST + BELOW + SECOND, id="middle"),
        pytest.param(2, HEADING + FIRST + HOSE + BELOW.rstrip("\n") + "\n", id="last"),
    ],
)
def test_a_item_taken_out_takes_its_comments_and_leaves_the_others(
    newline: str, ended: bool, item: int, text: str, tmp_path: Path
) -> None:
    document = kit(tmp_path, newline, ended=ended)
    document.remove_item(item)
    wanted = text if ended or item == 2 else text.removesuffix("\n")
    assert document.text == wanted.replace("\n", newline)


@WRITTEN
@ENDED
@pytest.mark.parametrize(
    ("item", "by", "text"),
    [
        pytest.param(0, +1, HEADING + HOSE + "\n" + FIRST.rstrip("\n") + "\n" + BELOW + SECOND, id="down"),
        pytest.param(1, -1, HEADING + HOSE + "\n" + FIRST.rstrip("\n") + "\n" + BELOW + SECOND, id="up"),
        pytest.param(1, +1, HEADING + FIRST + SECOND + BELOW + HOSE, id="past what stands apart"),
    ],
)
def test_a_item_moves_with_its_comments_and_the_others_stay(
    newline: str, ended: bool, item: int, by: int, text: str, tmp_path: Path
) -> None:
    """And back again is the file as it was, to the byte."""
    document = kit(tmp_path, newline, ended=ended)
    before = document.text
    assert document.move_item(item, by) == item + by
    assert document.text == (text if ended else text.removesuffix("\n")).replace("\n", newline)
    assert document.move_item(item + by, -by) == item
    assert document.text == before


@pytest.mark.parametrize(("item", "by"), [(0, -1), (2, +1)])
def test_no_item_moves_out_of_the_file(item: int, by: int, tmp_path: Path) -> None:
    document = kit(tmp_path)
    assert document.move_item(item, by) == item
    assert not document.can_undo


def test_spaces_that_nobody_named_stay(tmp_path: Path) -> None:
    """Blank lines go with the last item, the spaces behind a value do not."""
    text = SMALL + "notes = 'x'  \t\n \n\t\n[[gauge]]\ntag = 'gauge'"
    document = opened(tmp_path, text)
    document.remove_item(1)
    assert document.text == SMALL + "notes = 'x'  \t\n"


def test_every_item_may_go(tmp_path: Path) -> None:
    document = kit(tmp_path)
    for _ in range(3):
        document.remove_item(0)
    assert document.text == HEADING + BELOW.rstrip("\n") + "\n"
    for _ in range(3):
        assert document.undo()
    assert document.text == KIT


# ---- tags ----


@pytest.mark.parametrize(
    ("wanted", "free"),
    [("reel", "reel"), ("first", "first 2"), ("hose 2", "hose 2"), ("7", "7"), ("second 1", "second 1")],
)
def test_a_free_tag(wanted: str, free: str, tmp_path: Path) -> None:
    assert kit(tmp_path).free_tag(wanted) == free


def test_copies_of_copies_count_on(tmp_path: Path) -> None:
    document = kit(tmp_path)
    for item in (1, 2, 1):
        document.copy_item(item)
    tags = [item.tag for item in document.reading.kit.items if item.tag.startswith("hose")]
    assert sorted(tags) == ["hose", "hose 2", "hose 3", "hose 4"]


def test_another_tag_changes_every_place_that_names_it(tmp_path: Path) -> None:
    """A first stage is named with each of its ports, in hoses and in what is screwed into one."""
    text = (CONFIGS / "cold-single.toml").read_text("utf-8")
    document = opened(tmp_path, text)
    document.rename_tag(0, "old first")
    assert text.count('"first') > 3
    assert document.text == text.replace('"first', '"old first')
    assert document.undo()
    assert document.text == text, "renaming is one step"


def test_another_tag_of_a_device(tmp_path: Path) -> None:
    """The hose that leads to it follows; a first stage that begins with the same letters does not."""
    document = kit(tmp_path)
    document.rename_tag(2, "first LP1")
    assert document.text == KIT.replace('"second"', '"first LP1"')
    document.rename_tag(0, "f")
    assert document.text == KIT.replace('"second"', '"first LP1"').replace('tag   = "first"', 'tag   = "f"').replace(
        'from   = "first LP1"', 'from   = "f LP1"'
    )


@pytest.mark.parametrize(
    ("tag", "because"),
    [
        ("second", 'found "second" a second time'),
        ("", "Write at least one character, and no space at either end"),
        (" first", 'found " first". Write at least one character, and no space at either end.'),
    ],
)
def test_a_tag_that_cannot_be(tag: str, because: str, tmp_path: Path) -> None:
    document = kit(tmp_path)
    with pytest.raises(RefusedEdit) as refused:
        document.rename_tag(0, tag)
    assert because in str(refused.value)
    assert document.text == KIT
    assert not document.can_undo


# ---- steps ----


def test_an_edit_after_undo_forgets_what_was_undone(tmp_path: Path) -> None:
    document = kit(tmp_path)
    document.remove_item(2)
    document.undo()
    document.remove_item(1)
    assert not document.can_redo
    assert not document.redo()
    assert document.undo()
    assert document.text == KIT
    assert not document.undo()


def test_the_oldest_steps_are_forgotten_at_last(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """As many can be taken back as are promised."""
    assert document_module.MOST_STEPS >= 100
    monkeypatch.setattr(document_module, "MOST_STEPS", 3)
    document = kit(tmp_path)
    for number in range(5):
        document.set_value(None, "name", str(number))
    steps = 0
    while document.undo():
        steps += 1
    assert steps == 3
    assert document.raw_value(None, "name") == "1"
