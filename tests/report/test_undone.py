"""What an undo says: which entry and key, what it is now and what it was."""

from pathlib import Path

import pytest

from kitbuilder.kit.file_kinds import KIT_FILE
from kitbuilder.kitfile.differences import Way, differences
from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.reader import parse_as
from kitbuilder.report.undone import undone_words

KIT = """\
format = 1
name   = "Two"
layout = "single"

[[hose]]
tag    = "long"
role   = "primary"
body   = "rubber"
length = "210 cm"

[[gauge]]
tag = "gauge"

[[second_stage]]
tag = "octopus"
"""


@pytest.fixture
def document(tmp_path: Path) -> Document:
    path = tmp_path / "two.toml"
    path.write_text(KIT)
    found = Document(path)
    assert found.reading.problems == ()
    return found


def undone(document: Document) -> str:
    before = document.reading
    assert document.undo()
    return undone_words("Undone", differences(before, document.reading), "kit")


def redone(document: Document) -> str:
    before = document.reading
    assert document.redo()
    return undone_words("Redone", differences(before, document.reading), "kit")


def test_every_kind_of_edit_has_its_sentence(document):
    document.set_value(0, "length", "56 cm")
    assert undone(document) == 'Undone: length of "long" is 210 cm instead of 56 cm.'
    assert redone(document) == 'Redone: length of "long" is 56 cm instead of 210 cm.'
    document.set_value(0, "run", "50 cm")
    assert undone(document) == 'Undone: run of "long" is not given any more; it was 50 cm.'
    assert redone(document) == 'Redone: run of "long" is 50 cm.'
    document.set_value(None, "water", "fresh")
    assert undone(document) == "Undone: water of the kit is not given any more; it was fresh."
    document.remove_item(1)
    assert undone(document) == 'Undone: "gauge" is back in the file.'
    assert redone(document) == 'Redone: "gauge" is out of the file.'
    document.move_item(0, 1)
    assert undone(document) == 'Undone: "long" is back at its place.'
    document.copy_item(0)
    assert undone(document) == 'Undone: "long 2" is out of the file.'


def test_a_step_with_several_changes_counts_the_others(document):
    document.set_value(0, "to", "octopus")
    document.rename_tag(2, "necklace")
    assert undone(document) == 'Undone: tag of "octopus" is octopus instead of necklace. One more change went with it.'
    document.remove_item(0, 1)
    assert undone(document) == 'Undone: "long" is back in the file. One more change went with it.'


def test_the_place_is_that_of_the_entry_after_the_step(document):
    before = document.reading
    document.remove_item(0)
    [gone] = differences(before, document.reading)
    assert (gone.way, gone.item, gone.tag) == (Way.REMOVED, 0, "long")
    document.remove_item(0, 1)
    assert [each.item for each in differences(before, document.reading)] == [None, None, None], "nothing is left"
    changed = document.reading
    document.undo()
    assert [each.item for each in differences(changed, document.reading)] == [0, 1]


def test_true_and_one_are_not_the_same_and_comments_say_nothing():
    def read(line: str):
        return parse_as(KIT.replace('body   = "rubber"\n', line), KIT_FILE)

    [found] = differences(read("swivel_pin = true\n"), read("swivel_pin = 1\n"))
    assert (found.key, found.before, found.after) == ("swivel_pin", "true", "1")
    assert differences(read(""), read("# a word\n")) == ()
    assert undone_words("Undone", (), "kit") == "Undone: comments and spacing only."


def test_a_long_value_is_cut_and_a_hostile_one_is_made_visible(document):
    document.set_value(0, "notes", "x" * 500)
    assert len(undone(document)) < 120
    document.set_value(0, "notes", "a\x1b[2J")
    assert "\x1b" not in undone(document)
