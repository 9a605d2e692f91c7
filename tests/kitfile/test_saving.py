"""A save puts the new file in place of the old one in one go, or leaves the old one as it was."""

import os
import shutil
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.kitfile.disk import complain_of_path, path_typed
from kitbuilder.kitfile.document import ChangedOnDisk, Document
from tests.kitfile.support import SMALL, opened, wait_for_flushes

EDITED = SMALL.replace("75", "80")
THEIRS = SMALL.replace("Small", "Theirs")


@pytest.fixture
def document(tmp_path: Path) -> Document:
    """A kit with an edit that is not saved."""
    document = opened(tmp_path, SMALL)
    document.set_value(0, "length", "80 cm")
    wait_for_flushes()
    return document


def files(folder: Path) -> set[str]:
    """The names of everything in a folder."""
    return {path.name for path in folder.iterdir()}


def test_a_save_writes_the_text_and_leaves_nothing_behind(document: Document) -> None:
    assert document.is_dirty
    document.save()
    assert document.path.read_bytes() == EDITED.encode()
    assert not document.is_dirty
    assert document.saved_text == EDITED
    assert files(document.path.parent) == {"kit.toml"}


def test_undo_goes_on_past_a_save(document: Document) -> None:
    document.save()
    assert document.undo()
    assert document.is_dirty
    document.save()
    assert document.path.read_bytes() == SMALL.encode()


# ---- in one go ----


def test_the_new_file_is_on_the_disk_before_it_takes_the_place_of_the_old(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whole, flushed, and until then beside the old one, which is whole as well."""
    fsync, replace, steps = os.fsync, Path.replace, []

    def noting_fsync(handle: int) -> None:
        steps.append(("fsync", stat.S_ISDIR(os.fstat(handle).st_mode), os.fstat(handle).st_size))
        fsync(handle)

    def noting_replace(beside: Path, target: Path) -> Path:
        steps.append(("replace", beside.read_bytes(), target.read_bytes()))
        return replace(beside, target)

    monkeypatch.setattr(os, "fsync", noting_fsync)
    monkeypatch.setattr(Path, "replace", noting_replace)
    document.save()
    file, swap, folder = steps
    assert file == ("fsync", False, len(EDITED.encode()))
    assert swap == ("replace", EDITED.encode(), SMALL.encode())
    assert folder[:2] == ("fsync", True)


@pytest.mark.parametrize(
    ("where", "name"), [(Path, "replace"), (Path, "chmod"), (os, "fsync"), (os, "fdopen")], ids=lambda part: str(part)
)
def test_a_disk_that_refuses_leaves_everything_as_it_was(
    where: object, name: str, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The old bytes, no half file beside them, and the edits are still there to be saved."""
    before = files(document.path.parent)

    def refuse(*_args: object, **_kwargs: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(where, name, refuse)
    with pytest.raises(OSError, match="No space left"):
        document.save()
    monkeypatch.undo()
    assert document.path.read_bytes() == SMALL.encode()
    assert files(document.path.parent) == before
    assert document.is_dirty
    document.save()
    assert document.path.read_bytes() == EDITED.encode()


def test_a_save_that_is_broken_off_leaves_everything_as_it_was(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl+C is no OSError."""
    before = files(document.path.parent)

    def break_off(_handle: int) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", break_off)
    with pytest.raises(KeyboardInterrupt):
        document.save()
    assert document.path.read_bytes() == SMALL.encode()
    assert files(document.path.parent) == before


def test_a_folder_that_cannot_be_flushed_does_not_undo_a_save(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The new file is in place by then; saying that the disk refused would be wrong."""

    opening = os.open

    def refuse_folders(path: str, flags: int, *more: int) -> int:
        if flags & os.O_DIRECTORY:
            raise PermissionError(13, "Permission denied")
        return opening(path, flags, *more)

    monkeypatch.setattr(os, "open", refuse_folders)
    document.save()
    assert document.path.read_bytes() == EDITED.encode()
    assert not document.is_dirty


# ---- what else the file is ----


@pytest.mark.parametrize("mode", [0o640, 0o600, 0o664])
def test_the_mode_is_kept(mode: int, document: Document) -> None:
    document.path.chmod(mode)
    document.save()
    assert stat.S_IMODE(document.path.stat().st_mode) == mode


def test_a_new_file_has_the_mode_of_a_new_file(document: Document) -> None:
    plain = document.path.with_name("plain")
    plain.touch()
    document.save_as(document.path.with_name("other.toml"))
    assert document.path.stat().st_mode == plain.stat().st_mode


def test_a_link_is_followed_and_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "kits").mkdir()
    document = opened(tmp_path / "kits", SMALL)
    link = tmp_path / "link.toml"
    link.symlink_to(Path("kits", "kit.toml"))
    through = Document(link)
    through.set_value(0, "length", "80 cm")
    through.save()
    assert link.is_symlink()
    assert document.path.read_bytes() == EDITED.encode()
    assert not document.path.is_symlink()
    assert files(tmp_path / "kits") == {"kit.toml"}


def test_a_file_with_a_name_as_long_as_names_may_be(tmp_path: Path) -> None:
    path = tmp_path / f"{'x' * 250}.toml"
    path.write_text(SMALL)
    document = Document(path)
    document.set_value(0, "length", "80 cm")
    document.save()
    assert path.read_text() == EDITED
    assert len(files(tmp_path)) == 1


@pytest.mark.parametrize("mode", ["file", "folder"])
def test_what_may_not_be_written_is_not_written(mode: str, refusable: Path) -> None:
    """Neither a read-only file, though its folder would allow to replace it, nor one in a read-only folder."""
    document = opened(refusable, SMALL)
    document.path.chmod(0o444 if mode == "file" else 0o644)
    refusable.chmod(0o555 if mode == "folder" else 0o755)
    document.set_value(0, "length", "80 cm")
    with pytest.raises(PermissionError):
        document.save()
    assert document.path.read_bytes() == SMALL.encode()
    assert document.text == EDITED
    assert document.is_dirty


# ---- somebody else ----


def test_another_program_is_not_overwritten(document: Document) -> None:
    document.path.write_text(THEIRS)
    with pytest.raises(ChangedOnDisk) as changed:
        document.save()
    assert changed.value.theirs == THEIRS
    assert document.path.read_text() == THEIRS
    assert document.is_dirty
    with pytest.raises(ChangedOnDisk):
        document.save()
    document.save(over_theirs=True)
    assert document.path.read_text() == EDITED


def test_the_same_text_written_again_is_no_change(document: Document) -> None:
    """A newer date alone is nothing to ask about."""
    document.path.write_text(SMALL)
    os.utime(document.path, (2_000_000_000, 2_000_000_000))
    document.save()
    assert document.path.read_text() == EDITED


def test_other_line_ends_are_a_change(document: Document) -> None:
    document.path.write_bytes(SMALL.replace("\n", "\r\n").encode())
    with pytest.raises(ChangedOnDisk):
        document.save()


@pytest.mark.parametrize("garbage", [b"\xff\xfe", b"x" * 2_000_000])
def test_what_cannot_be_read_is_not_overwritten(garbage: bytes, document: Document) -> None:
    document.path.write_bytes(garbage)
    with pytest.raises(ChangedOnDisk) as changed:
        document.save()
    assert changed.value.theirs is None
    assert document.path.read_bytes() == garbage


def test_a_file_that_is_gone(document: Document) -> None:
    document.path.unlink()
    with pytest.raises(ChangedOnDisk) as changed:
        document.save()
    assert changed.value.theirs is None
    assert not document.path.exists()
    document.take_theirs()
    assert document.text == EDITED, "there is nothing to take"
    document.save(over_theirs=True)
    assert document.path.read_text() == EDITED


def test_a_folder_that_is_gone(document: Document) -> None:
    shutil.rmtree(document.path.parent)
    document.set_value(0, "run", "70 cm")
    with pytest.raises(OSError, match="No such file"):
        document.save(over_theirs=True)
    assert document.is_dirty


def test_theirs_can_be_taken_and_given_back(document: Document) -> None:
    document.path.write_text(THEIRS)
    document.take_theirs()
    assert document.text == THEIRS
    assert document.raw_value(None, "name") == "Theirs"
    assert not document.is_dirty
    assert document.undo()
    assert document.text == EDITED
    assert document.is_dirty
    document.save()
    assert document.path.read_text() == EDITED, "they were seen: nothing to ask about"


def test_theirs_may_be_no_kit(document: Document) -> None:
    document.path.write_text("half a ki")
    document.take_theirs()
    assert document.reading.kit is None
    assert document.reading.problems[0].line == 1
    assert document.undo()
    assert document.reading.kit is not None


# ---- under another name ----


def test_saved_as_another_file_it_is_that_file(document: Document) -> None:
    first, other = document.path, document.path.with_name("other.toml")
    document.save_as(other)
    assert (first.read_text(), other.read_text()) == (SMALL, EDITED)
    assert (document.path, document.is_dirty) == (other, False)
    assert files(other.parent) == {"kit.toml", "other.toml"}
    document.undo()
    document.save()
    assert other.read_text() == SMALL


MAKERS: dict[str, Callable[[Path], object]] = {
    "a file": lambda path: path.write_text("theirs"),
    "a folder": lambda path: path.mkdir(),
    "a link": lambda path: path.symlink_to("kit.toml"),
    "a link to nowhere": lambda path: path.symlink_to("nowhere"),
}


@pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)
def test_nothing_that_is_there_is_saved_over(make: Callable[[Path], object], document: Document) -> None:
    other, first = document.path.with_name("other.toml"), document.path
    make(other)
    before = files(other.parent)
    with pytest.raises(FileExistsError):
        document.save_as(other)
    assert files(other.parent) == before
    assert first.read_text() == SMALL
    assert (document.path, document.is_dirty) == (first, True)
    if other.is_file() and not other.is_symlink():
        assert other.read_text() == "theirs"


@pytest.mark.parametrize(
    ("typed", "leads_to"),
    [
        ("mine.toml", "kits/mine.toml"),
        ("../mine.toml", "mine.toml"),
        ("../others/mine.toml", "others/mine.toml"),
        ("~/mine.toml", "home/mine.toml"),
    ],
)
def test_a_name_or_a_path_is_typed(typed: str, leads_to: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("kits", "others", "home"):
        (tmp_path / name).mkdir()
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    assert complain_of_path(tmp_path / "kits", typed) is None
    assert path_typed(tmp_path / "kits", typed).resolve() == tmp_path / leads_to
    assert path_typed(tmp_path / "kits", str(tmp_path / leads_to)) == tmp_path / leads_to


@pytest.mark.parametrize(
    ("typed", "wrong"),
    [
        ("", "Write a name that ends in .toml"),
        ("..", "Write a name that ends in .toml"),
        ("../others", "Write a name that ends in .toml"),
        ("../others/", "Write a name that ends in .toml"),
        ("../others/.toml", "Write a file name without a dot in front and without a backslash"),
        ("gone/mine.toml", 'There is no folder "gone". Create it first, or name another folder'),
        (
            "~nobody-of-this-name/mine.toml",
            'There is no folder "~nobody-of-this-name". Create it first, or name another folder',
        ),
        ("kit.toml/mine.toml", 'There is no folder "kit.toml". Create it first, or name another folder'),
        ("../kits/kit.toml", "A file with this name exists already"),
        ("a\x1bb.toml", "Write a name or a path without unprintable characters"),
        (f"{'x' * 300}.toml", "Write a shorter name, of at most 200 bytes"),
    ],
)
def test_a_path_that_cannot_be_saved_to(typed: str, wrong: str, tmp_path: Path) -> None:
    for name in ("kits", "others"):
        (tmp_path / name).mkdir()
    (tmp_path / "kits" / "kit.toml").touch()
    assert complain_of_path(tmp_path / "kits", typed) == wrong
