"""Files that still say locker: they are read as before, edited in place, and said to use an old word."""

from pathlib import Path

import pytest

from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.folder import files_holding, kits_naming
from kitbuilder.kitfile.read import read, read_written
from kitbuilder.kitfile.reader import ParseResult, parse_as, parse_as_said
from tests.kitfile.support import opened

KIT = """\
# my kit
format = 1
name   = "Lake"
layout = "single"
locker = "cellar.toml"   # what I own

[[hose]]
tag    = "long hose"
role   = "primary"
body   = "rubber"
length = "210 cm"
owned  = "long"
"""
GEAR = """\
format = 1
holds  = "locker"    # said so for years
name   = "the shelf in the cellar"

[[hose]]
tag      = "long"
body     = "rubber"
length   = "210 cm"
mass     = "0.51 kg"
from_end = "LP 3/8"
to_end   = "second stage 9/16"
"""


def problems(reading: ParseResult) -> list[str]:
    return [problem.located("lake.toml") for problem in reading.problems]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "lake.toml").write_text(KIT, encoding="utf-8")
    (tmp_path / "cellar.toml").write_text(GEAR, encoding="utf-8")
    return tmp_path


# ---- reading ----


def test_a_kit_that_says_locker_is_resolved_from_its_gear_file(folder: Path) -> None:
    """The mass stands in the gear file alone."""
    kit = read(folder / "lake.toml").resolved
    assert kit is not None
    assert kit.header.gear == "cellar.toml"
    assert kit.linked.gear_problems == ()
    assert kit.hoses[0].mass_kg == pytest.approx(0.51)


def test_a_file_that_holds_a_locker_holds_gear(folder: Path) -> None:
    reading = read_written(folder / "cellar.toml")
    assert reading.file is GEAR_FILE
    assert reading.gear is not None
    assert reading.gear.header.holds == "gear"
    assert files_holding(folder, "gear") == ("cellar.toml",)
    assert [name for name, _ in kits_naming(folder / "cellar.toml")] == ["lake.toml"]


def test_a_broken_file_that_says_locker_is_still_taken_for_gear() -> None:
    reading = parse_as_said('holds = "locker"\n[[hose\n')
    assert reading.contents is None
    assert reading.file is GEAR_FILE


def test_a_locker_in_the_place_of_a_kit_is_refused_as_gear() -> None:
    assert problems(parse_as(GEAR, KIT_FILE)) == [
        "lake.toml:2: this file holds gear, not a kit. Name a kit file here.",
    ]


@pytest.mark.parametrize("key", ["locker", '"locker"', "'locker'"])
def test_old_words_are_kept_with_their_lines(key: str) -> None:
    reading = parse_as(KIT.replace("locker", key, 1), KIT_FILE)
    assert reading.kit is not None
    [old] = reading.kit.old_words
    assert (old.key, old.found, old.accepted) == ("gear", "locker", "gear")
    assert reading.lines.of(None, old.key) == 5
    gear = parse_as(GEAR, GEAR_FILE)
    assert gear.gear is not None
    [old] = gear.gear.old_words
    assert (old.key, old.found, old.accepted) == ("holds", 'holds = "locker"', 'holds = "gear"')
    assert gear.lines.of(None, old.key) == 2


def test_new_words_leave_nothing_to_say() -> None:
    kit = parse_as(KIT.replace("locker", "gear", 1), KIT_FILE).kit
    gear = parse_as(GEAR.replace("locker", "gear", 1), GEAR_FILE).gear
    assert kit is not None
    assert gear is not None
    assert kit.old_words == gear.old_words == ()


def test_both_words_in_one_kit_are_an_error_that_names_both_lines() -> None:
    text = KIT.replace("locker =", 'gear   = "attic.toml"\nlocker =')
    assert problems(parse_as(text, KIT_FILE)) == [
        'lake.toml:6: locker: this is the old word for "gear", and line 5 has that key already. Remove locker or gear.'
    ]


@pytest.mark.parametrize("value", ["5", "true", '"cellar"', '"../cellar.toml"', "[]"])
def test_a_wrong_value_is_named_by_the_word_that_stands_in_the_file(value: str) -> None:
    [problem] = problems(parse_as(KIT.replace('"cellar.toml"', value), KIT_FILE))
    assert problem.startswith("lake.toml:5: locker: ")


@pytest.mark.parametrize(
    "text",
    [
        KIT.replace("locker =", "lockers ="),
        KIT.replace("[[hose]]", '[[hose]]\nlocker = "cellar.toml"'),
        KIT.replace('locker = "cellar.toml"', "") + '\n[locker]\nfile = "cellar.toml"\n',
    ],
    ids=["another word", "in a table", "as a table"],
)
def test_the_old_word_anywhere_else_is_still_unknown(text: str) -> None:
    reading = parse_as(text, KIT_FILE)
    assert reading.contents is None
    assert "locker" in problems(reading)[0]
    assert "not known" in problems(reading)[0]


# ---- editing ----


@pytest.fixture
def kit(tmp_path: Path) -> Document:
    return opened(tmp_path, KIT)


@pytest.fixture
def gear(tmp_path: Path) -> Document:
    return opened(tmp_path, GEAR, GEAR_FILE)


def test_the_form_finds_the_old_key_under_the_new_word(kit: Document, gear: Document) -> None:
    assert kit.has(None, "gear")
    assert not kit.has(None, "locker")
    assert kit.raw_value(None, "gear") == "cellar.toml"
    assert gear.raw_value(None, "holds") == "gear"


def test_editing_another_key_leaves_the_old_word_alone(kit: Document, gear: Document) -> None:
    kit.set_value(0, "length", "150 cm")
    kit.set_value(None, "name", "Sea")
    assert kit.text == KIT.replace("210 cm", "150 cm").replace("Lake", "Sea")
    assert kit.undo()
    assert kit.undo()
    assert kit.text == KIT
    gear.set_value(0, "mass", "0.5 kg")
    assert gear.text == GEAR.replace("0.51 kg", "0.5 kg")


def test_a_key_beside_the_old_one_is_added_below_it(kit: Document) -> None:
    """`day` follows `gear` in the schema, so it follows the old key, aligned as that one is."""
    kit.set_value(None, "day", "2027-01-15")
    line = 'locker = "cellar.toml"   # what I own\n'
    assert kit.text == KIT.replace(line, f'{line}day    = "2027-01-15"\n')


def test_setting_gear_replaces_the_old_key_in_its_place(kit: Document) -> None:
    """The comment and the column of the equals sign stay; undo brings back every byte."""
    kit.set_value(None, "gear", "attic.toml")
    assert kit.text == KIT.replace('locker = "cellar.toml"', 'gear   = "attic.toml"')
    assert kit.reading.kit is not None
    assert kit.reading.kit.old_words == ()
    assert kit.undo()
    assert kit.text == KIT
    assert kit.redo()
    assert kit.raw_value(None, "gear") == "attic.toml"


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('locker="cellar.toml"', 'gear="cellar.toml"'),
        ('"locker" = "cellar.toml"', 'gear     = "cellar.toml"'),
        ("  'locker'\t= 'cellar.toml'", "  gear\t= 'cellar.toml'"),
    ],
)
def test_setting_what_is_there_renews_the_word(tmp_path: Path, old: str, new: str) -> None:
    document = opened(tmp_path, KIT.replace('locker = "cellar.toml"', old))
    document.set_value(None, "gear", "cellar.toml")
    assert document.text == KIT.replace('locker = "cellar.toml"', new)


def test_taking_gear_out_takes_the_old_key_out(kit: Document) -> None:
    kit.set_value(None, "gear", None)
    assert kit.text == KIT.replace('locker = "cellar.toml"   # what I own\n', "")


def test_setting_holds_renews_the_word_of_the_gear_file(gear: Document) -> None:
    gear.set_value(None, "holds", "gear")
    assert gear.text == GEAR.replace('"locker"', '"gear"')
    assert gear.reading.gear is not None
    assert gear.reading.gear.old_words == ()


def test_a_refused_edit_changes_nothing(kit: Document) -> None:
    with pytest.raises(RefusedEdit):
        kit.set_value(None, "gear", "../attic.toml")
    assert kit.text == KIT


def test_items_come_and_go_beside_the_old_word(kit: Document, gear: Document) -> None:
    for document, text in ((kit, KIT), (gear, GEAR)):
        copy = document.copy_item(0)
        document.move_item(copy, -1)
        document.remove_item(0)
        assert document.text == text
