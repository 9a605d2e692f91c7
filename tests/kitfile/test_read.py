"""What the files beside a kit say: its diver, and the kits that were worn in the diver's float checks."""

import errno
import os
from pathlib import Path

import pytest

from kitbuilder.kit.file_kinds import DIVER_FILE
from kitbuilder.kit.resolved import LinkedFiles
from kitbuilder.kitfile import read
from kitbuilder.kitfile.folder import files_holding, kit_in, kit_worn_by, kits_naming, unreadable_naming
from kitbuilder.kitfile.read import MOST_PROBLEMS, read_written, resolve_at
from kitbuilder.kitfile.reader import parse_as, read_kit
from tests.kitfile.support import SMALL

KIT = SMALL.replace('layout = "single"\n', 'layout = "single"\ndiver  = "me.toml"\n')
OTHER = SMALL.replace('"Small"', '"Other"')
CHECK = '\n[[float_check]]\ntag  = "{}"\nkit  = "{}"\nseen = "neutral"\n'
DIVER = 'format = 1\nholds  = "diver"\nname   = "me"\nmass   = "82 kg"\n'


def beside(folder: Path, **files: str) -> LinkedFiles:
    """What stands beside the kit above, with these files in its folder."""
    for name, text in {"kit": KIT, **files}.items():
        (folder / f"{name}.toml").write_text(text)
    kit = read_written(folder / "kit.toml").kit
    assert kit is not None
    return resolve_at(folder / "kit.toml", kit).linked


def test_a_kit_that_names_no_diver(tmp_path: Path) -> None:
    """Nothing is looked for, though there is one."""
    found = beside(tmp_path, kit=SMALL, me=DIVER)
    assert (found.diver, found.worn, found.problems) == (None, (), ())


def test_a_diver_and_the_kits_worn(tmp_path: Path) -> None:
    """Each once, by name; the kit itself is known already."""
    checks = [("a", "other.toml"), ("b", "kit.toml"), ("c", "other.toml"), ("d", "another.toml")]
    diver = DIVER + "".join(CHECK.format(*check) for check in checks)
    found = beside(tmp_path, me=diver, other=OTHER, another=SMALL, stranger=SMALL)
    assert found.problems == ()
    assert found.diver == parse_as(diver, DIVER_FILE).diver
    assert [(name, kit.unresolved) for name, kit in found.worn] == [
        ("another.toml", read_kit(SMALL).kit),
        ("other.toml", read_kit(OTHER).kit),
    ]


@pytest.mark.parametrize(
    ("me", "given"),
    [
        (None, "me.toml is not in this folder."),
        (SMALL, "me.toml: this file holds a kit, not a diver. Name a diver file here."),
        (DIVER.replace("82", "5"), 'me.toml:4: mass: found "5 kg". Accepted: from 30 to 200 kg.'),
        ("half a di", "me.toml:1: "),
        ("", "me.toml: "),
    ],
)
def test_a_diver_that_cannot_be_used(me: str | None, given: str, tmp_path: Path) -> None:
    """Is named with its file and line; the kit can be worked on."""
    found = beside(tmp_path, **({} if me is None else {"me": me}))
    assert (found.diver, found.worn) == (None, ())
    (problem,) = found.problems
    assert problem.startswith(given)


def test_of_many_problems_the_first_are_reported(tmp_path: Path) -> None:
    found = beside(tmp_path, me=DIVER + CHECK.format("a", "../a.toml") * 10)
    assert 1 < len(found.problems) < 10
    assert all(problem.startswith("me.toml:") for problem in found.problems)


@pytest.mark.parametrize(("more", "said"), [(0, []), (1, ["me.toml: 1 more; `kitbuilder check` names them."])])
def test_those_that_are_not_given_are_counted(more: int, said: list[str], tmp_path: Path) -> None:
    """From the first one on."""
    checks = [CHECK.format(f"c{number}", "../a.toml") for number in range(MOST_PROBLEMS + more)]
    found = beside(tmp_path, me=DIVER + "".join(checks))
    assert len(found.problems) == MOST_PROBLEMS + more
    assert list(found.problems[MOST_PROBLEMS:]) == said


def test_a_diver_whose_name_no_disk_takes(tmp_path: Path) -> None:
    """Looking for it says so and does not fall over."""
    long = f"{'x' * 300}.toml"
    found = beside(tmp_path, kit=KIT.replace("me.toml", long))
    assert found.diver is None
    (problem,) = found.problems
    assert problem.startswith(long)
    assert os.strerror(errno.ENAMETOOLONG) in problem


def test_a_worn_kit_that_cannot_be_used(tmp_path: Path) -> None:
    """Its float check tells of it; the diver file is good, and the other kits are there all the same."""
    names = ("gone.toml", "other.toml", "bad.toml", "me.toml", "gone.toml")
    diver = DIVER + "".join(CHECK.format(number, name) for number, name in enumerate(names))
    found = beside(tmp_path, me=diver, other=OTHER, bad=SMALL.replace("75 cm", "75"))
    assert found.diver is not None
    assert [name for name, _ in found.worn] == ["other.toml"]
    assert found.problems == ()


def test_only_the_folder_of_the_kit_is_looked_into(tmp_path: Path) -> None:
    """Whatever folder the program runs in."""
    (tmp_path / "below").mkdir()
    (tmp_path / "me.toml").write_text(DIVER)
    assert beside(tmp_path / "below").diver is None


def test_a_change_on_the_disk_is_seen(tmp_path: Path) -> None:
    """Of the diver as well as of a kit worn, come, changed and gone."""
    diver = DIVER + CHECK.format("a", "other.toml")
    assert beside(tmp_path, me=diver).worn == ()
    found = beside(tmp_path, me=diver, other=OTHER)
    assert [kit.header.name for _, kit in found.worn] == ["Other"]
    beside(tmp_path, me=diver.replace("82", "90"), other=OTHER.replace("Other", "Third"))
    for name in ("me", "other"):  # a file system may count time in steps that a test does not take
        os.utime(tmp_path / f"{name}.toml", (2_000_000_000, 2_000_000_000))
    later = beside_again(tmp_path)
    assert later.diver is not None
    assert later.diver.header.mass_kg == 90.0
    assert [kit.header.name for _, kit in later.worn] == ["Third"]
    (tmp_path / "me.toml").unlink()
    assert beside_again(tmp_path).diver is None


def beside_again(folder: Path) -> LinkedFiles:
    """What stands beside the kit now."""
    kit = read_written(folder / "kit.toml").kit
    assert kit is not None
    return resolve_at(folder / "kit.toml", kit).linked


def test_a_diver_being_edited_is_read_with_the_kits_of_the_folder(tmp_path: Path) -> None:
    """As the text says now, not as the disk does; a kit is named in addition to those of the checks."""
    edited = parse_as(DIVER + CHECK.format("a", "other.toml"), DIVER_FILE).diver
    assert edited is not None
    for name, text in {"me": DIVER, "other": OTHER, "kit": KIT}.items():
        (tmp_path / f"{name}.toml").write_text(text)
    found = kit_worn_by(tmp_path / "me.toml", "kit.toml", edited)
    assert found.unresolved == read_kit(KIT).kit
    assert found.linked.diver == edited
    assert found.worn_as("kit.toml") is found
    assert found.worn_as("other.toml").unresolved == read_kit(OTHER).kit
    other = kit_worn_by(tmp_path / "me.toml", "other.toml", edited)
    assert (other.worn_as("other.toml"), other.linked.worn) == (other, ())
    assert kit_worn_by(tmp_path / "me.toml", "gone.toml", edited) is None


def test_a_kit_of_the_folder_by_its_name(tmp_path: Path) -> None:
    """None when it is not there, is broken, or is something else."""
    beside(tmp_path, me=DIVER, other=OTHER, bad="half a ki")
    assert kit_in(tmp_path, "other.toml").unresolved == read_kit(OTHER).kit
    for name in ("gone.toml", "bad.toml", "me.toml", f"{'x' * 300}.toml"):
        assert kit_in(tmp_path, name) is None


def test_files_that_hold_a_kit_or_a_diver(tmp_path: Path) -> None:
    """Those that can be read, by name."""
    beside(tmp_path, me=DIVER, other=OTHER, bad="half a ki", you=DIVER.replace("82", "5"))
    (tmp_path / "notes.txt").write_text(SMALL)
    assert files_holding(tmp_path, "kit") == ("kit.toml", "other.toml")
    assert files_holding(tmp_path, "diver") == ("me.toml",)


GEAR = 'format = 1\nholds = "gear"\nname = "cellar"\n'
TAKES = SMALL.replace('layout = "single"\n', 'layout = "single"\ngear = "cellar.toml"\n')


def test_the_kits_that_name_a_gear_file_come_with_it(tmp_path: Path) -> None:
    """In the order of their names; kits that name another gear file or none, and other files, are left out."""
    texts = {"cellar": GEAR, "b": TAKES, "a": TAKES, "other": TAKES.replace("cellar", "attic"), "none": SMALL}
    beside(tmp_path, me=DIVER, **texts)
    kits = kits_naming(tmp_path / "cellar.toml")
    assert [name for name, _ in kits] == ["a.toml", "b.toml"]
    assert all(kit.linked.gear is not None and kit.linked.gear.header.name == "cellar" for _, kit in kits)


def test_a_kit_that_names_a_gear_file_and_cannot_be_read_is_named(tmp_path: Path) -> None:
    """So that nobody takes a list of uses for complete; what is no kit, or names no gear file, is not in it."""
    texts = {
        "cellar": GEAR,
        "broken": TAKES.replace("75 cm", "75"),
        "half": TAKES + "[[hose",
        "alone": SMALL.replace("75 cm", "75"),
        "sound": TAKES,
        "diver": DIVER.replace("82 kg", "82") + 'notes = "cellar.toml"\n',
    }
    beside(tmp_path, **texts)
    found = unreadable_naming(tmp_path / "cellar.toml")
    assert [name for name, _ in found] == ["broken.toml", "half.toml"]
    broken, half = (problems[0].line for _, problems in found)
    assert broken == TAKES[: TAKES.index("75 cm")].count("\n") + 1
    assert half > broken


def test_a_file_is_read_as_what_it_says(tmp_path: Path) -> None:
    """Whatever else is wrong with it, and however its name ends; a text that says nothing is a kit."""
    said = {
        "a.toml": (SMALL, "kit"),
        "b.toml": (DIVER, "diver"),
        "c.toml": (GEAR, "gear"),
        "d.toml": (GEAR + "[[hose", "gear"),
        "e.toml": ('format = 1\nholds = "boat"\n', "kit"),
        "f.csv": (SMALL, "stock"),
        "g.toml": ("", "kit"),
        "h.toml": ("format = 1\nholds = 3\n", "kit"),
    }
    for name, (text, holds) in said.items():
        (tmp_path / name).write_text(text)
        assert read_written(tmp_path / name).file.name == holds, name


def test_a_folder_is_read_once_whatever_is_asked_of_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Which files hold kits, which name the gear file, which are broken, and what they refer to."""
    beside(tmp_path, me=DIVER, cellar=GEAR, a=TAKES.replace("gear", 'diver = "me.toml"\ngear'), half=TAKES + "[[hose")
    opened: list[str] = []
    text_of = read.read_text
    monkeypatch.setattr(read, "read_text", lambda path, **said: opened.append(path.name) or text_of(path, **said))
    read._kept.cache_clear()
    assert [name for name, _ in kits_naming(tmp_path / "cellar.toml")] == ["a.toml"]
    assert [name for name, _ in unreadable_naming(tmp_path / "cellar.toml")] == ["half.toml"]
    assert files_holding(tmp_path, "diver") == ("me.toml",)
    assert sorted(opened) == sorted(path.name for path in tmp_path.glob("*.toml"))
