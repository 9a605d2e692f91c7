"""The gear file: what it says, how dates are written, and edits that touch nothing else."""

from dataclasses import fields
from datetime import date
from pathlib import Path

import pytest

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.bench_work import bench_work
from kitbuilder.kit.fields import ValueKind, fields_of
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE
from kitbuilder.kit.gear import GEAR_KINDS, Gear, OwnedHose, OwnedLead, pieces_of
from kitbuilder.kit.items import KINDS
from kitbuilder.kitfile.document import Document, RefusedEdit
from kitbuilder.kitfile.folder import files_holding, gear_in, kits_naming
from kitbuilder.kitfile.overrides import override_day
from kitbuilder.kitfile.read import read_written, resolve_at
from kitbuilder.kitfile.reader import parse_as, read_kit
from kitbuilder.kitfile.starters import first_owned, gear_text, which_key
from kitbuilder.kitfile.values import Refusal
from tests.kitfile.support import GEAR_FILES, GOOD_GEAR, SMALL, opened

GEAR = """\
# two hoses, a box and what is counted
format = 1
holds  = "gear"
name   = "cellar"        # behind the stairs

# ---- hoses ----

# the good one
[[hose]]
tag      = "long"
body     = "rubber"      # feels new
length   = "210 cm"
from_end = "LP 3/8"
to_end   = "second stage 9/16"
made     = 2024-03-02    # a date of TOML, without quotes
kept_in  = "blue box"

# below the first

[[hose]]
tag      = "short"
body     = "braided"
length   = "28 in"
from_end = 'LP 3/8'
to_end   = "second stage 9/16"

[[other]]
tag = "blue box"

[[lead]]
tag    = "lead"
pieces = 4
mass   = "1 kg"
"""
SHORT = GEAR[GEAR.index('[[hose]]\ntag      = "short"') : GEAR.index("\n[[other]]")]


@pytest.fixture
def document(tmp_path: Path) -> Document:
    """The gear file above, opened."""
    return opened(tmp_path, GEAR, GEAR_FILE)


def gear_of(document: Document) -> Gear:
    """What the file says."""
    assert document.reading.gear is not None
    return document.reading.gear


def problems_of(text: str) -> list[str]:
    return [problem.located("gear.toml") for problem in parse_as(text, GEAR_FILE).problems]


# ---- what it says ----


@pytest.mark.parametrize("path", [*GEAR_FILES, GOOD_GEAR], ids=lambda path: path.stem)
def test_the_gear_files_that_come_along_read_without_a_word(path: Path) -> None:
    reading = read_written(path, GEAR_FILE)
    assert reading.problems == ()
    assert reading.gear is reading.contents
    assert (reading.kit, reading.diver, reading.stock, reading.holds) == (None, None, None, "gear")


def test_everything_a_gear_file_may_say() -> None:
    """In SI; values by the definitions of the units."""
    gear = read_written(GOOD_GEAR, GEAR_FILE).gear
    assert gear is not None
    assert (gear.header.name, gear.header.region) == ("the shelf in the cellar", "European Union")
    hose = gear.items[0]
    assert isinstance(hose, OwnedHose)
    assert hose == OwnedHose(
        tag="long, grey",
        body="braided",
        length_m=84 * 0.0254,
        measured="hose only",
        from_end="LP 3/8",
        to_end="second stage 9/16",
        bore_m=0.006,
        swivel_pin=False,
        mass_kg=0.2,
        mass_half_digit_kg=0.05,
        make="grey",
        made=date(2024, 3, 1),
        condition="to be watched",
        oxygen_clean=True,
        cleaned=date(2026, 5, 14),
        kept_in="blue box",
        notes="stiff near the crimp",
    )
    [lead] = [item for item in gear.items if isinstance(item, OwnedLead)]
    assert lead.mass_kg == pytest.approx(2 * 0.45359237)
    assert [each.parts for each in gear.assemblies] == [("long, grey", "blue box")]
    assert [item.kind for item in gear.items] == list(dict.fromkeys(item.kind for item in gear.items))


def test_the_good_gear_has_every_kind_and_every_key() -> None:
    """So that what reads it has been through everything."""
    gear = read_written(GOOD_GEAR, GEAR_FILE).gear
    assert gear is not None
    assert {item.kind for item in gear.items} == set(GEAR_KINDS)
    shared = {"condition", "oxygen_clean", "cleaned", "kept_in", "notes"}  # keys of every kind
    for item in gear.items:
        for field in fields_of(type(item)):
            if field.key not in shared or item.kind == "hose":
                assert getattr(item, field.attribute) not in (None, ()), f"{item.kind}, {field.key}"


def test_how_many_there_are(document: Document) -> None:
    assert [pieces_of(item) for item in gear_of(document).items] == [1, 1, 1, 4]


def test_a_gear_file_is_no_kit() -> None:
    """The shelf leaves it out."""
    reading = read_kit(GEAR)
    assert (reading.kit, reading.holds) == (None, "gear")
    assert [problem.located("gear.toml") for problem in reading.problems] == [
        "gear.toml:3: this file holds gear, not a kit. Name a kit file here."
    ]


# ---- dates ----


@pytest.mark.parametrize(
    ("written", "day"),
    [
        ('"2024"', date(2024, 1, 1)),
        ('"2024-03"', date(2024, 3, 1)),
        ('"2024-3"', date(2024, 3, 1)),
        ('"2024-03-02"', date(2024, 3, 2)),
        ('" 2024-3-2 "', date(2024, 3, 2)),
        ("2024-03-02", date(2024, 3, 2)),
        ('"2024-02-29"', date(2024, 2, 29)),
        ('"1940"', date(1940, 1, 1)),
    ],
)
def test_a_date(written: str, day: date) -> None:
    """A year, a month or a day; what is not given of it is the first."""
    reading = parse_as(GEAR.replace("2024-03-02", written), GEAR_FILE)
    assert reading.gear is not None
    assert reading.gear.items[0].made == day


@pytest.mark.parametrize(
    ("written", "found"),
    [
        ('"spring"', 'found "spring". Write a year, a month or a day in quotes: "2024", "2024-05", "2024-03".'),
        ('"2024-13"', 'found "2024-13", which is not a date. '),
        ('"2023-02-29"', 'found "2023-02-29", which is not a date. '),
        ('"02.03.2024"', 'found "02.03.2024". '),
        ('"24-03"', 'found "24-03". '),
        ('"1939"', 'found "1939". Accepted: from 1940 on.'),
        ('""', 'found "". '),
        ("2024", "found 2024. "),
        ("true", "found true. "),
        ("2024-03-02T10:00:00", "found a date or time. "),
        ("10:00:00", "found a date or time. "),
        ('["2024"]', "found a list. "),
    ],
)
def test_what_is_no_date(written: str, found: str) -> None:
    """Given with its line, and what is accepted."""
    (problem,) = problems_of(GEAR.replace("2024-03-02", written))
    assert problem.startswith(f'gear.toml:15: hose "long", made: {found}')


def test_a_day_that_is_typed_is_read_as_one_of_a_file() -> None:
    assert override_day("2027-01") == date(2027, 1, 1)
    with pytest.raises(Refusal, match="soon"):
        override_day("soon")


# ---- what is wrong with it ----


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"rubber"', '"ruber"', 'gear.toml:11: hose "long", body: found "ruber". Accepted: "rubber", '),
        ('length   = "28 in"\n', "", 'gear.toml:20: hose "short", length: this key is missing. '),
        ("from_end = 'LP 3/8'\n", "", 'gear.toml:20: hose "short", from_end: this key is missing. '),
        ('"short"', '"long"', 'gear.toml:21: hose, tag: found "long" a second time. Line 10 has it already. '),
        ("pieces = 4", "pieces = 201", 'gear.toml:32: lead "lead", pieces: found 201. '),
        ("[[other]]", "[[bag]]", 'gear.toml:27: the table "bag" is not known. Accepted here: [[hose]], '),
        ("kept_in  =", "keptin   =", 'gear.toml:16: hose "long", keptin: this key is not known. '),
        ("format = 1", "format = 2", "gear.toml:2: format: found format 2. "),
        ('name   = "cellar"', "", "gear.toml:1: name: this key is missing. "),
        ('"cellar"', '"cellar"\nregion = "Atlantis"', 'gear.toml:5: region: found "Atlantis". Accepted: "European '),
        ('"28 in"', '"28"', 'gear.toml:23: hose "short", length: "28" has no unit. '),
    ],
)
def test_a_problem_has_its_line(old: str, new: str, said: str) -> None:
    (problem,) = problems_of(GEAR.replace(old, new, 1))
    assert problem.startswith(said)


def test_all_problems_at_once() -> None:
    """A gear file is whole or not used: half of one would call items lost that are there."""
    text = GEAR.replace('"rubber"', '"x"').replace('"braided"', '"y"')
    assert len(problems_of(text)) == 2
    assert parse_as(text, GEAR_FILE).gear is None


# ---- edits ----


def test_a_value_is_set_and_its_comment_stays(document: Document) -> None:
    document.set_value(0, "body", "braided")
    assert document.text == GEAR.replace('"rubber"      # feels new', '"braided"      # feels new')
    assert document.undo()
    assert document.text == GEAR


def test_a_date_of_toml_becomes_a_text_and_its_comment_stays(document: Document) -> None:
    document.set_value(0, "made", "2025-04")
    assert document.text == GEAR.replace("2024-03-02 ", '"2025-04" ')
    assert gear_of(document).items[0].made == date(2025, 4, 1)
    assert document.raw_value(0, "made") == "2025-04"
    assert document.undo()
    assert document.raw_value(0, "made") == "2024-03-02"


def test_a_date_that_is_none_is_refused(document: Document) -> None:
    with pytest.raises(RefusedEdit, match="spring"):
        document.set_value(0, "made", "spring")
    assert document.text == GEAR


def test_a_new_key_stands_where_the_schema_has_it(document: Document) -> None:
    """What every item of a gear file can say comes behind what its kind can say."""
    document.set_value(0, "condition", "out of use")
    line = 'condition = "out of use"'
    assert document.text == GEAR.replace('kept_in  = "blue box"\n', f'{line}\nkept_in  = "blue box"\n')


def test_a_copy_has_a_tag_of_its_own(document: Document) -> None:
    assert document.copy_item(1) == 2
    copied = SHORT.replace('"short"', '"short 2"')
    assert document.text == GEAR.replace(SHORT, f"{SHORT}\n{copied}")
    assert document.undo()
    assert document.text == GEAR


def test_a_item_goes_and_its_neighbours_stay(document: Document) -> None:
    document.remove_item(1)
    assert document.text == GEAR.replace(f"{SHORT}\n", "")
    assert document.undo()
    assert document.text == GEAR


def test_a_box_with_another_tag_takes_what_is_kept_in_it_along(document: Document) -> None:
    document.rename_tag(2, "red box")
    assert document.text == GEAR.replace("blue box", "red box")
    with pytest.raises(RefusedEdit):
        document.rename_tag(2, "long")


def test_items_change_places(document: Document) -> None:
    assert document.move_item(1, -1) == 0
    assert [item.tag for item in gear_of(document).items] == ["short", "long", "blue box", "lead"]
    assert document.undo()
    assert document.text == GEAR


# ---- beginnings ----


def test_a_new_gear_reads_and_is_empty() -> None:
    reading = parse_as(gear_text(), GEAR_FILE)
    assert reading.problems == ()
    assert reading.gear is not None
    assert reading.gear.items == ()


def test_a_new_item_of_every_kind_is_accepted(tmp_path: Path) -> None:
    """Of every preset and thread, of a hose by what it is for, and of nothing said at all."""
    document = opened(tmp_path, gear_text(), GEAR_FILE)
    trade = catalogue()
    words: list[tuple[str, str | None]] = [(kind, None) for kind in GEAR_KINDS]
    words += [("hose", role) for role in trade.roles]
    words += [(kind, preset) for kind, preset in trade.presets if kind in GEAR_KINDS]
    words += [("cylinder", preset) for preset in trade.cylinders] + [("suit", cut) for cut in trade.cuts]
    words += [("plug", thread) for thread in trade.threads] + [("adapter", name) for name in trade.adapters]
    words += [("o_ring", size) for size in bench_work().o_rings]
    for kind, word in words:
        tag = document.free_tag(word or kind)
        number = document.add_item(kind, first_owned(kind, word, tag), None)
        added = gear_of(document).items[number]
        assert (added.kind, added.tag) == (kind, tag)
        key = which_key(kind, GEAR_FILE)
        if word and key:
            assert document.raw_value(number, key) == word


@pytest.mark.parametrize("kind", GEAR_KINDS)
def test_a_new_item_has_the_keys_it_needs_and_no_others(kind: str) -> None:
    needed = [field.key for field in fields_of(GEAR_KINDS[kind]) if field.required]
    assert list(first_owned(kind, None, "new")) == needed


@pytest.mark.parametrize("kind", sorted(KINDS.keys() & GEAR_KINDS.keys()))
def test_what_a_gear_file_adds_to_the_record_of_a_kit_is_a_key_of_its_file(kind: str) -> None:
    """A field that is added to a record and not to its `attributes` would be refused in every file."""
    of_kit, of_gear = ({known.name for known in fields(kinds[kind])} for kinds in (KINDS, GEAR_KINDS))
    said = {field.attribute for field in fields_of(GEAR_KINDS[kind])}
    assert issubclass(GEAR_KINDS[kind], KINDS[kind])
    assert of_gear - of_kit <= said


@pytest.mark.parametrize(("key", "value"), [("role", "primary"), ("from", "first LP1"), ("place", "waist")])
def test_what_only_a_kit_says_is_refused_in_a_gear_file(key: str, value: str) -> None:
    """The record of an owned hose has a role, a port and a place, since a kit's has; its file has none of them."""
    text = GEAR.replace('tag      = "long"', f'tag      = "long"\n{key} = "{value}"')
    (problem,) = parse_as(text, GEAR_FILE).problems
    assert problem.line == 1 + text.splitlines().index(f'{key} = "{value}"')
    assert (problem.place, problem.found) == (f'hose "long", {key}', "this key is not known")


def test_a_new_hose_has_the_ends_of_what_it_is_for() -> None:
    role = catalogue().roles["gauge"]
    values = first_owned("hose", "gauge", "new")
    assert (values["from_end"], values["to_end"]) == (role.from_end, role.to_end)
    assert "role" not in values


# ---- beside a kit ----

KIT = SMALL.replace('layout = "single"', 'layout = "single"\ngear = "gear.toml"')


def kit_beside(folder: Path, text: str) -> Path:
    (folder / "gear.toml").write_text(text)
    (folder / "kit.toml").write_text(KIT)
    return folder / "kit.toml"


def test_a_kit_names_its_gear_file(tmp_path: Path) -> None:
    path = kit_beside(tmp_path, GEAR)
    beside = resolve_at(path, read_kit(KIT).kit).linked
    assert beside.gear is not None
    assert [item.tag for item in beside.gear.items] == ["long", "short", "blue box", "lead"]
    assert beside.gear_problems == ()


def test_a_gear_file_that_is_broken_is_reported(tmp_path: Path) -> None:
    path = kit_beside(tmp_path, GEAR.replace('"rubber"', '"ruber"'))
    beside = resolve_at(path, read_kit(KIT).kit).linked
    assert beside.gear is None
    assert beside.gear_problems[0].startswith('gear.toml:11: hose "long", body: found "ruber"')


def test_a_gear_file_that_is_not_there_or_no_gear_file(tmp_path: Path) -> None:
    path = kit_beside(tmp_path, SMALL)
    assert "holds a kit, not gear" in resolve_at(path, read_kit(KIT).kit).linked.gear_problems[0]
    (tmp_path / "gear.toml").unlink()
    assert resolve_at(path, read_kit(KIT).kit).linked.gear_problems == ("gear.toml is not in this folder.",)


def test_the_kits_that_name_a_gear_file(tmp_path: Path) -> None:
    """Those of its folder that can be read, by their file names."""
    kit_beside(tmp_path, GEAR)
    (tmp_path / "alone.toml").write_text(SMALL)
    (tmp_path / "broken.toml").write_text(KIT.replace('"rubber"', '"ruber"'))
    (tmp_path / "other.toml").write_text(KIT.replace("gear.toml", "attic.toml"))
    (tmp_path / "zoo.toml").write_text(KIT)
    assert [name for name, _ in kits_naming(tmp_path / "gear.toml")] == ["kit.toml", "zoo.toml"]
    assert files_holding(tmp_path, "gear") == ("gear.toml",)
    assert gear_in(tmp_path, "gear.toml") is not None
    assert gear_in(tmp_path, "alone.toml") is None
    assert gear_in(tmp_path, "gone.toml") is None


@pytest.mark.parametrize("kind", KIT_FILE.kinds)
def test_everything_of_a_kit_can_be_owned(kind: str) -> None:
    """And a gear file has a table for it."""
    assert ValueKind.OWNED in {field.kind for field in fields_of(KIT_FILE.kinds[kind])}
    assert kind in GEAR_KINDS
