"""What is typed and not saved is kept beside the file, so that a pulled plug costs nothing."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from kitbuilder.kitfile.document import Document
from kitbuilder.kitfile.journal import Recovered, journal_path
from tests.kitfile.support import SMALL, opened

EDITED = SMALL.replace("75", "80")
AGAIN = SMALL.replace("75", "90")
THEIRS = SMALL.replace("Small", "Theirs")


@pytest.fixture
def document(tmp_path: Path) -> Document:
    """A kit with an edit that is not saved."""
    document = opened(tmp_path, SMALL)
    assert document.recovered is None
    document.set_value(0, "length", "80 cm")
    return document


def journal(document: Document) -> Path:
    """Where its edits are kept: hidden, beside it."""
    assert journal_path(document.path) == document.path.parent / ".kit.toml.unsaved"
    return journal_path(document.path)


# ---- kept and given back ----


def test_edits_come_back_after_a_pulled_plug(document: Document) -> None:
    """As one edit, which can be taken back; the file itself was not touched."""
    assert document.path.read_text() == SMALL
    later = Document(document.path)
    assert later.recovered == Recovered(EDITED, same_base=True)
    assert later.text == SMALL, "nothing is taken up unasked"
    later.recover()
    assert later.text == EDITED
    assert later.is_dirty
    assert later.undo()
    assert later.text == SMALL


def test_only_the_last_edits_are_kept(document: Document) -> None:
    document.set_value(0, "length", "90 cm")
    assert Document(document.path).recovered == Recovered(AGAIN, same_base=True)
    document.undo()
    assert Document(document.path).recovered == Recovered(EDITED, same_base=True)


ENDS: dict[str, Callable[[Document], object]] = {
    "save": lambda document: document.save(),
    "undo": lambda document: document.undo(),
    "the old value again": lambda document: document.set_value(0, "length", "75 cm"),
    "take theirs": lambda document: document.take_theirs(),
    "forget edits": lambda document: document.forget_edits(),
    "forget recovered": lambda document: document.forget_recovered(),
    "save as": lambda document: document.save_as(document.path.with_name("other.toml")),
}


@pytest.mark.parametrize("end", ENDS.values(), ids=ENDS)
def test_nothing_is_kept_once_there_is_nothing_to_lose(end: Callable[[Document], object], document: Document) -> None:
    kept = journal(document)
    assert kept.exists()
    end(document)
    assert not [path for path in kept.parent.iterdir() if path.name.startswith(".")]


def test_an_edit_after_that_is_kept_again(document: Document) -> None:
    document.save()
    document.undo()
    assert Document(document.path).recovered == Recovered(SMALL, same_base=True)


def test_edits_of_a_file_that_changed_since_are_told_apart(document: Document) -> None:
    document.path.write_text(THEIRS)
    later = Document(document.path)
    assert later.recovered == Recovered(EDITED, same_base=False)
    assert later.text == THEIRS


def test_edits_that_somebody_made_by_hand_meanwhile_need_no_recovery(document: Document) -> None:
    document.path.write_text(EDITED)
    assert Document(document.path).recovered is None


@pytest.mark.parametrize("newline", ["\r\n", "\n"])
def test_every_byte_comes_back(newline: str, tmp_path: Path) -> None:
    document = opened(tmp_path, SMALL.replace("\n", newline))
    document.set_value(0, "notes", "🤿 \x00 \u2028")
    later = Document(document.path)
    later.recover()
    assert later.text == document.text


# ---- broken off, or not ours ----


def test_a_plug_pulled_while_they_are_written_leaves_the_last_ones_whole(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    def break_off(_beside: Path, _target: Path) -> Path:
        raise KeyboardInterrupt

    monkeypatch.setattr(Path, "replace", break_off)
    with pytest.raises(KeyboardInterrupt):
        document.set_value(0, "length", "90 cm")
    monkeypatch.undo()
    assert Document(document.path).recovered == Recovered(EDITED, same_base=True)


@pytest.mark.parametrize("cut", [0, 5, 40])
def test_one_cut_short_is_ignored_and_written_again(cut: int, document: Document) -> None:
    """As a file system may leave it."""
    os.truncate(journal(document), cut)
    later = Document(document.path)
    assert later.recovered is None or later.recovered.text == ""
    later.set_value(0, "length", "90 cm")
    assert Document(document.path).recovered == Recovered(AGAIN, same_base=True)


def test_edits_that_are_no_kit_are_not_taken_up(document: Document) -> None:
    """A line below the first was lost."""
    kept = journal(document)
    kept.write_text(kept.read_text().replace('layout = "single"\n', ""))
    later = Document(document.path)
    later.recover()
    assert later.text == SMALL
    assert later.recovered is None


FOREIGN: dict[str, Callable[[Path], object]] = {
    "text": lambda path: path.write_text("my own notes\n"),
    "bytes": lambda path: path.write_bytes(b"\xff\xfe\x00"),
    "folder": lambda path: path.mkdir(),
    "pipe": lambda path: os.mkfifo(path),
}


@pytest.mark.parametrize("make", FOREIGN.values(), ids=FOREIGN)
def test_what_somebody_else_put_there_is_left_alone(make: Callable[[Path], object], tmp_path: Path) -> None:
    """Not read, not overwritten, not removed; editing goes on without."""
    document = opened(tmp_path, SMALL)
    kept = journal(document)
    make(kept)
    before = kept.read_bytes() if kept.is_file() else kept.lstat().st_mode
    assert Document(document.path).recovered is None
    document.set_value(0, "length", "80 cm")
    document.save()
    assert document.path.read_text() == EDITED
    assert (kept.read_bytes() if kept.is_file() else kept.lstat().st_mode) == before


def test_a_folder_that_may_not_be_written_does_not_stop_editing(refusable: Path) -> None:
    document = opened(refusable, SMALL)
    refusable.chmod(0o555)
    document.set_value(0, "length", "80 cm")
    assert document.text == EDITED
    assert document.undo()
    assert not journal_path(document.path).exists()


def test_edits_are_not_kept_for_a_file_that_is_no_kit(document: Document) -> None:
    """It is mended in a text editor first; the edits wait."""
    kept = journal(document).read_bytes()
    document.path.write_text("half a ki")
    assert Document(document.path).recovered is None
    document.path.write_text(SMALL)
    assert Document(document.path).recovered == Recovered(EDITED, same_base=True)
    assert journal(document).read_bytes() == kept
