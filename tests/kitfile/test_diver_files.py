"""The diver file: distinguished from a kit, and edited as losslessly as one."""

import errno
import os
from pathlib import Path

import pytest

from kitbuilder.kit.diver import Diver, FloatCheck
from kitbuilder.kit.file_kinds import DIVER_FILE, FILE_KINDS, KIT_FILE, FileKind
from kitbuilder.kit.items import Kit
from kitbuilder.kitfile.document import ChangedOnDisk, Document, RefusedEdit
from kitbuilder.kitfile.journal import Recovered, journals_of
from kitbuilder.kitfile.read import read_written
from kitbuilder.kitfile.reader import parse_as, read_kit
from tests.kitfile.support import GOOD_DIVER, GOOD_KIT, KITS, LAYOUTS, SMALL, opened, pull_plug

DIVER = """\
# a diver and two checks
format     = 1
holds      = "diver"
name       = "diver of this gear file"   # need not be a real name
mass       = "82 kg"
lead_sizes = ["1 kg", '2 kg']         # in the box

# ---- float checks ----

# the first dive of the season
[[float_check]]
tag      = "April"
kit      = "twinset.toml"   # with the old wing
seen     = "neutral"
pressure = "60 bar"

# below the first

[[float_check]]
tag  = "May"
kit  = 'twinset.toml'
seen = "sank"
"""
APRIL = DIVER[DIVER.index("# the first dive") : DIVER.index("\n# below the first")]
MAY = DIVER[DIVER.index('[[float_check]]\ntag  = "May"') :]
NEWLINES = pytest.mark.parametrize("newline", ["\n", "\r\n"], ids=["LF", "CRLF"])


@pytest.fixture
def document(tmp_path: Path) -> Document:
    """The diver above, opened."""
    return opened(tmp_path, DIVER, DIVER_FILE)


def diver_of(document: Document) -> Diver:
    """What the file says."""
    diver = document.reading.diver
    assert diver is not None
    return diver


# ---- what it says ----


def test_everything_a_diver_file_may_say() -> None:
    """In SI; values by the definitions of the units."""
    diver = read_written(GOOD_DIVER, DIVER_FILE).diver
    assert diver is not None
    header = diver.header
    assert (header.format, header.holds, header.name) == (1, "diver", "diver of this gear file")
    assert header.stature_m == pytest.approx(70 * 0.0254)
    assert header.mass_kg == 82.0
    assert header.lead_sizes_kg == pytest.approx((0.5, 1.0, 2 * 0.45359237))
    assert header.notes == "colder than most"
    first, second, third = diver.items
    assert first == FloatCheck(
        tag="April, pier",
        kit="twinset.toml",
        seen="neutral",
        by_kgf=1.0,
        lead_kg=6.0,
        pressure_pa=60e5,
        depth_m=5.0,
        water="fresh",
        worn="steel 12 L 232; full suit 5 mm",
        excluded=True,
        notes="new undersuit",
    )
    assert second == FloatCheck(tag="May, bay", kit="twinset.toml", seen="sank")
    assert third == FloatCheck(tag="June, bay", kit="twinset.toml")
    assert third.seen is None


def test_a_diver_of_whom_little_is_known() -> None:
    """Three keys are a diver."""
    reading = parse_as('format = 1\nholds = "diver"\nname = "x"\n', DIVER_FILE)
    diver = reading.diver
    assert diver is not None
    assert (diver.header.stature_m, diver.header.mass_kg, diver.header.lead_sizes_kg) == (None, None, ())
    assert diver.items == ()
    assert reading.kit is None


def test_the_line_of_every_check_and_key(document: Document) -> None:
    lines = DIVER.splitlines()
    line_of = document.reading.lines.of
    assert line_of(None, "lead_sizes") == lines.index("lead_sizes = [\"1 kg\", '2 kg']         # in the box") + 1
    assert line_of(0, "pressure") == lines.index('pressure = "60 bar"') + 1
    assert line_of(1, "kit") == lines.index("kit  = 'twinset.toml'") + 1
    assert line_of(1, "depth") == lines.index("[[float_check]]", lines.index("# below the first")) + 1
    assert line_of(2, "tag") is None


# ---- distinguished from a kit ----


@pytest.mark.parametrize("path", [*KITS, *LAYOUTS, GOOD_KIT], ids=lambda path: path.stem)
def test_a_kit_is_no_diver(path: Path) -> None:
    """Said once, without a line: no line of a kit says that it is one."""
    reading = read_written(path, DIVER_FILE)
    assert [problem.located("x.toml") for problem in reading.problems] == [
        "x.toml: this file holds a kit, not a diver. Name a diver file here."
    ]
    assert (reading.contents, reading.holds) == (None, "kit")


@pytest.mark.parametrize("text", [DIVER, DIVER.replace("82 kg", "5 kg"), DIVER.replace('"May"', '"April"')])
def test_a_diver_is_no_kit(text: str) -> None:
    """Said once, with the line that says what it is, whatever else is wrong with it."""
    reading = read_kit(text)
    assert [problem.located("x.toml") for problem in reading.problems] == [
        "x.toml:3: this file holds a diver, not a kit. Name a kit file here."
    ]
    assert (reading.contents, reading.holds) == (None, "diver")


@pytest.mark.parametrize("file", FILE_KINDS.values(), ids=FILE_KINDS)
@pytest.mark.parametrize(
    "holds",
    [
        '"divers"',
        '"Diver"',
        '" diver"',
        '""',
        "1",
        "true",
        '["diver"]',
        "[]",
        '{ what = "diver" }',
        "1990-05-01",
        "nan",
    ],
)
def test_what_no_file_holds_is_a_wrong_value(holds: str, file: FileKind) -> None:
    """Neither kind of file is meant: the line is named, and nothing falls over."""
    reading = parse_as(f'format = 1\nholds = {holds}\nname = "x"\nlayout = "single"\n', file)
    assert reading.contents is None
    assert 2 in [problem.line for problem in reading.problems]


@pytest.mark.parametrize("file", FILE_KINDS.values(), ids=FILE_KINDS)
def test_what_is_held_in_a_table_is_a_wrong_value(file: FileKind) -> None:
    reading = parse_as('format = 1\nname = "x"\nlayout = "single"\n[holds]\na = "diver"\n', file)
    assert reading.contents is None
    assert 4 in [problem.line for problem in reading.problems]


def test_a_file_that_is_not_toml_is_neither() -> None:
    for file in FILE_KINDS.values():
        reading = parse_as('holds = "diver', file)
        assert [problem.line for problem in reading.problems] == [1]
        assert reading.file is file


def test_each_kind_of_file_has_its_own_contents() -> None:
    """The tables of the one are not those of the other."""
    assert not KIT_FILE.kinds.keys() & DIVER_FILE.kinds.keys()
    assert isinstance(read_kit(SMALL).contents, Kit)
    assert isinstance(parse_as(DIVER, DIVER_FILE).contents, Diver)
    assert [file.name for file in FILE_KINDS.values()] == ["kit", "diver", "stock", "gear", "trip"]


def test_a_missing_diver_file_says_so(tmp_path: Path) -> None:
    reading = read_written(tmp_path / "diver.toml", DIVER_FILE)
    text = reading.text
    assert (text, reading.contents) == ("", None)
    assert reading.problems[0].found == "there is no such file"


# ---- values ----

SETTINGS = [
    (None, "name", "another", 'name       = "diver of this gear file"', 'name       = "another"'),
    (None, "mass", "180 lb", '"82 kg"', '"180 lb"'),
    (None, "lead_sizes", ["1 kg", "3 lb"], "[\"1 kg\", '2 kg']", '["1 kg", "3 lb"]'),
    (None, "lead_sizes", [], "[\"1 kg\", '2 kg']", "[]"),
    (None, "lead_sizes", ["1/2 lb", "1.5 kg"], "[\"1 kg\", '2 kg']", '["1/2 lb", "1.5 kg"]'),
    (None, "stature", "178 cm", 'mass       = "82 kg"', 'stature    = "178 cm"\nmass       = "82 kg"'),
    (None, "mass", None, 'mass       = "82 kg"\n', ""),
    (0, "kit", "sidemount.toml", '"twinset.toml"   # with', '"sidemount.toml"   # with'),
    (0, "seen", "floated", '"neutral"', '"floated"'),
    (0, "by", "+1 kg", 'seen     = "neutral"', 'seen     = "neutral"\nby       = "+1 kg"'),
    (0, "seen", None, 'seen     = "neutral"\n', ""),
    (0, "worn", "full suit 5 mm", '"60 bar"', '"60 bar"\nworn     = "full suit 5 mm"'),
    (0, "excluded", True, '"60 bar"', '"60 bar"\nexcluded = true'),
    (0, "pressure", None, 'pressure = "60 bar"\n', ""),
    (1, "kit", "single.toml", "'twinset.toml'", "'single.toml'"),
    (1, "notes", "new undersuit", 'seen = "sank"', 'seen = "sank"\nnotes = "new undersuit"'),
]


@NEWLINES
@pytest.mark.parametrize(("item", "key", "value", "before", "after"), SETTINGS)
def test_one_value_changes_and_everything_else_stays(
    newline: str, item: int | None, key: str, value: str, before: str, after: str, tmp_path: Path
) -> None:
    """Comments, spacing and kind of quote; undone, every byte is back, and again as often as one likes."""
    assert DIVER.count(before) == 1
    text, wanted = DIVER.replace("\n", newline), DIVER.replace(before, after).replace("\n", newline)
    document = opened(tmp_path, text, DIVER_FILE)
    document.set_value(item, key, value)
    assert document.text == wanted
    assert document.is_dirty
    assert document.undo()
    assert document.text == text
    assert not document.is_dirty
    assert document.redo()
    assert document.text == wanted


def test_a_list_is_shown_as_it_stands(document: Document) -> None:
    assert document.raw_value(None, "lead_sizes") == "1 kg, 2 kg"
    document.set_value(0, "excluded", False)
    assert document.raw_value(0, "excluded") == "false"
    assert document.raw_value(1, "excluded") == ""


@pytest.mark.parametrize(
    ("item", "key", "value", "because"),
    [
        (None, "mass", "5 kg", 'found "5 kg". Accepted: from 30 to 200 kg.'),
        (None, "stature", "20 cm", 'found "20 cm". Accepted: from 120 to 220 cm.'),
        (None, "holds", "kit", "this file holds a kit, not a diver."),
        (None, "holds", None, "this file holds a kit, not a diver."),
        (None, "name", None, "this key is missing. Add a line such as: name = "),
        (None, "lead_sizes", ["1 kg", "1"], '"1" has no unit. Write "1 kg" or "1 lb".'),
        (
            None,
            "lead_sizes",
            ["1 kg 2 kg"],
            'found "1 kg 2 kg" as the size of one piece. Put a comma between the sizes of two pieces.',
        ),
        (
            None,
            "lead_sizes",
            ["2 kg", "1 kg 500 g"],
            'found "1 kg 500 g" as the size of one piece. Put a comma between',
        ),
        (
            None,
            "lead_sizes",
            ["1 kg * 2"],
            'found "1 kg * 2" as the size of one piece. Put a comma between the sizes of two pieces.',
        ),
        (None, "lead_sizes", ["1,250 kg"], '"1,250 kg" may be 1.250 kg or 1250 kg. Write it without'),
        (0, "tag", "May", 'found "May" a second time. Line '),
        (0, "kit", "../twinset.toml", 'found "../twinset.toml". Write the name of a .toml file in the same folder'),
        (0, "seen", "floats", 'found "floats". Accepted: "neutral", "floated", "sank". Did you mean "floated"?'),
        (0, "depth", "30 m", 'found "30 m". Accepted: from 0 to 15 m.'),
    ],
)
def test_a_value_that_is_not_accepted(
    item: int | None, key: str, value: str | None, because: str, document: Document
) -> None:
    """Nothing is changed, neither by a try nor by a preview."""
    for edit in (document.set_value, document.preview):
        with pytest.raises(RefusedEdit) as refused:
            edit(item, key, value)
        assert str(refused.value).startswith(because)
    assert document.text == DIVER
    assert not document.can_undo
    assert not journals_of(document.path)


# ---- whole checks ----


@NEWLINES
@pytest.mark.parametrize(
    ("after", "text"),
    [
        pytest.param(None, DIVER.replace("# in the box\n", "# in the box\n\n{}"), id="heading"),
        pytest.param(0, DIVER.replace(APRIL, APRIL + "\n{}"), id="first"),
        pytest.param(1, DIVER + "\n{}", id="last"),
    ],
)
def test_a_new_check(newline: str, after: int | None, text: str, tmp_path: Path) -> None:
    """It stands below the one named, one key per line in the order given."""
    lines = '[[float_check]]\ntag = "June"\nkit = "twinset.toml"\nseen = "floated"\nby = "+2 lb"\nexcluded = false\n'
    values = {"tag": "June", "kit": "twinset.toml", "seen": "floated", "by": "+2 lb", "excluded": False}
    document = opened(tmp_path, DIVER.replace("\n", newline), DIVER_FILE)
    item = document.add_item("float_check", values, after)
    assert item == (0 if after is None else after + 1)
    assert document.text == text.format(lines).replace("\n", newline)
    check = diver_of(document).items[item]
    assert (check.tag, check.seen, check.excluded) == ("June", "floated", False)
    assert check.by_kgf == pytest.approx(2 * 0.45359237)
    assert document.undo()
    assert document.text == DIVER.replace("\n", newline)


def test_the_first_check_of_a_file(tmp_path: Path) -> None:
    text = 'format = 1\nholds = "diver"\nname = "x"\n# [[float_check]]\n# tag = "an example"\n'
    document = opened(tmp_path, text, DIVER_FILE)
    assert document.add_item("float_check", {"tag": "May", "kit": "a.toml", "seen": "sank"}, None) == 0
    head, _, comments = text.partition("# [[")
    for part in (head, "# [[" + comments, '[[float_check]]\ntag = "May"\nkit = "a.toml"\nseen = "sank"\n'):
        assert part in document.text
    assert [check.tag for check in diver_of(document).items] == ["May"]


@pytest.mark.parametrize(
    ("kind", "values", "because"),
    [
        ("float_check", {"tag": "June"}, 'this key is missing. Add a line such as: kit = "twinset.toml"'),
        ("float_check", {"tag": "May", "kit": "a.toml", "seen": "sank"}, 'found "May" a second time.'),
        ("float_check", {"tag": "x", "kit": "a.toml", "seen": "sank", "place": "waist"}, "this key is not known."),
        ("lead", {"tag": "belt", "mass": "1 kg"}, 'the table "lead" is not known. Accepted here: [[float_check]].'),
    ],
)
def test_a_check_that_cannot_be(kind: str, values: dict, because: str, document: Document) -> None:
    with pytest.raises(RefusedEdit) as refused:
        document.add_item(kind, values, 0)
    assert because in str(refused.value)
    assert document.text == DIVER


@NEWLINES
def test_a_check_copied_moved_renamed_and_removed(newline: str, tmp_path: Path) -> None:
    """With its comments; what stands apart stays."""
    text = DIVER.replace("\n", newline)
    document = opened(tmp_path, text, DIVER_FILE)
    assert document.copy_item(0) == 1
    copied = APRIL.replace('"April"', '"April 2"')
    assert document.text == DIVER.replace(APRIL, f"{APRIL}\n{copied}").replace("\n", newline)
    document.remove_item(1)
    assert document.text == text
    assert document.move_item(1, -1) == 0
    moved = DIVER.replace(MAY, "{}").replace(APRIL, MAY).format(APRIL)
    assert document.text == moved.replace("\n", newline)
    document.rename_tag(0, "May, bay")
    assert document.text == moved.replace('"May"', '"May, bay"').replace("\n", newline)
    for _ in range(4):
        assert document.undo()
    assert document.text == text
    assert not document.can_undo


def test_every_check_may_go(document: Document) -> None:
    document.remove_item(0)
    document.remove_item(0)
    assert diver_of(document).items == ()
    assert document.text.startswith(DIVER[: DIVER.index("# the first dive")])
    assert "# below the first" in document.text


# ---- the disk ----

EDITED = DIVER.replace("82 kg", "80 kg")


def test_it_is_saved(document: Document) -> None:
    document.set_value(None, "mass", "80 kg")
    assert document.path.read_text() == DIVER
    document.save()
    assert document.path.read_bytes() == EDITED.encode()
    assert not document.is_dirty
    assert {path.name for path in document.path.parent.iterdir()} == {"diver.toml"}
    assert diver_of(Document(document.path, DIVER_FILE)).header.mass_kg == 80.0
    assert document.undo()
    document.save()
    assert document.path.read_bytes() == DIVER.encode()


def test_another_program_is_not_overwritten(document: Document) -> None:
    document.set_value(None, "mass", "80 kg")
    document.path.write_text(DIVER + "# theirs\n")
    with pytest.raises(ChangedOnDisk):
        document.save()
    assert document.path.read_text() == DIVER + "# theirs\n"


def test_edits_come_back_after_a_pulled_plug(document: Document) -> None:
    """As a diver: the journal is that of a diver file."""
    document.set_value(None, "mass", "80 kg")
    document.add_item("float_check", {"tag": "June", "kit": "a.toml", "seen": "sank"}, 1)
    edited = document.text
    assert len(journals_of(document.path)) == 1
    pull_plug(document)
    later = Document(document.path, DIVER_FILE)
    assert later.recovered == Recovered(edited, same_base=True)
    assert later.text == DIVER, "nothing is taken up unasked"
    later.recover()
    assert later.text == edited
    assert [check.tag for check in diver_of(later).items] == ["April", "May", "June"]
    assert later.undo()
    assert later.text == DIVER
    assert not journals_of(document.path)


def test_edits_that_are_no_diver_are_not_taken_up(document: Document) -> None:
    """A line below the first was lost."""
    document.set_value(None, "mass", "80 kg")
    pull_plug(document)
    (kept,) = journals_of(document.path)
    kept.write_text(kept.read_text().replace('holds      = "diver"\n', ""))
    later = Document(document.path, DIVER_FILE)
    later.recover()
    assert later.text == DIVER
    assert later.recovered is None


def test_theirs_may_be_a_kit(document: Document) -> None:
    """Somebody put a kit in its place; undo brings the diver back."""
    document.path.write_text(SMALL)
    document.take_theirs()
    assert document.reading.contents is None
    assert [problem.found for problem in document.reading.problems] == ["this file holds a kit, not a diver"]
    assert document.undo()
    assert diver_of(document).header.name == "diver of this gear file"


def test_windows_editors(tmp_path: Path) -> None:
    """Line ends of two characters and a byte order mark stay."""
    path = tmp_path / "diver.toml"
    path.write_bytes(b"\xef\xbb\xbf" + DIVER.replace("\n", "\r\n").encode())
    document = Document(path, DIVER_FILE)
    document.set_value(None, "mass", "80 kg")
    document.save()
    assert path.read_bytes() == b"\xef\xbb\xbf" + EDITED.replace("\n", "\r\n").encode()


def test_a_name_that_no_disk_takes_can_be_looked_for(tmp_path: Path) -> None:
    """A float check may name a kit that is not there, or cannot be: looking for it says so and does not fall over."""
    long = f"{'x' * 300}.toml"
    reading = parse_as(DIVER.replace("twinset.toml", long, 1), DIVER_FILE)
    assert reading.diver is not None
    kit = read_written(tmp_path / reading.diver.items[0].kit)
    assert kit.contents is None
    assert os.strerror(errno.ENAMETOOLONG) in kit.problems[0].found
