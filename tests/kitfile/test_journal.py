"""What is typed and not saved is kept beside the file, so that a pulled plug costs nothing."""

import hashlib
import os
import signal
import stat
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from kitbuilder.kitfile.disk import FLUSHING
from kitbuilder.kitfile.document import ChangedOnDisk, Document
from kitbuilder.kitfile.held import hold, is_held
from kitbuilder.kitfile.journal import Journal, News, Recovered, journals_of, read_journals, rename_with_journals
from tests.kitfile.support import SMALL, opened, pull_plug, wait_for_flushes

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
    """Where its edits are kept: hidden, beside it, for its owner's eyes alone."""
    (kept,) = journals_of(document.path)
    assert kept.parent == document.path.parent
    assert kept.name.startswith(".kit.toml.")
    assert kept.stat().st_mode & 0o777 == 0o600
    return kept


def after_a_crash(document: Document) -> Document:
    """The file as the next app opens it."""
    pull_plug(document)
    return Document(document.path)


# ---- kept and given back ----


def test_edits_come_back_after_a_pulled_plug(document: Document) -> None:
    """As one edit, which can be taken back; the file itself was not touched."""
    assert document.path.read_text() == SMALL
    later = after_a_crash(document)
    assert later.recovered == Recovered(EDITED, same_base=True)
    assert later.text == SMALL, "nothing is taken up unasked"
    later.recover()
    assert later.text == EDITED
    assert later.is_dirty
    assert later.undo()
    assert later.text == SMALL


def test_only_the_last_edits_are_kept(document: Document) -> None:
    document.set_value(0, "length", "90 cm")
    assert after_a_crash(document).recovered == Recovered(AGAIN, same_base=True)
    document.undo()
    assert after_a_crash(document).recovered == Recovered(EDITED, same_base=True)


ENDS: dict[str, Callable[[Document], object]] = {
    "save": lambda document: document.save(),
    "undo": lambda document: document.undo(),
    "the old value again": lambda document: document.set_value(0, "length", "75 cm"),
    "take theirs": lambda document: document.take_theirs(),
    "forget edits": lambda document: document.forget_edits(),
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
    assert after_a_crash(document).recovered == Recovered(SMALL, same_base=True)


def test_edits_of_a_file_that_changed_since_are_distinguished(document: Document) -> None:
    document.path.write_text(THEIRS)
    later = after_a_crash(document)
    assert later.recovered == Recovered(EDITED, same_base=False)
    assert later.text == THEIRS


def test_edits_that_somebody_made_by_hand_meanwhile_need_no_recovery(document: Document) -> None:
    document.path.write_text(EDITED)
    assert after_a_crash(document).recovered is None


@pytest.mark.parametrize("newline", ["\r\n", "\n"])
def test_every_byte_comes_back(newline: str, tmp_path: Path) -> None:
    document = opened(tmp_path, SMALL.replace("\n", newline))
    document.set_value(0, "notes", "🤿 \x00 \u2028")
    later = after_a_crash(document)
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
    assert after_a_crash(document).recovered == Recovered(EDITED, same_base=True)


@pytest.mark.parametrize("cut", [0, 5, 40])
def test_one_cut_short_is_ignored(cut: int, document: Document) -> None:
    """As a file system may leave it."""
    os.truncate(journal(document), cut)
    later = after_a_crash(document)
    assert later.recovered is None
    later.set_value(0, "length", "90 cm")
    assert after_a_crash(later).recovered == Recovered(AGAIN, same_base=True)


def test_edits_that_are_no_kit_are_not_taken_up(document: Document) -> None:
    """A line below the first was lost."""
    kept = journal(document)
    kept.write_text(kept.read_text().replace('layout = "single"\n', ""))
    later = after_a_crash(document)
    assert not later.recover()
    assert later.text == SMALL
    assert later.recovered is None
    assert kept.exists(), "they can still be taken out by hand"


FOREIGN: dict[str, Callable[[Path], object]] = {
    "text": lambda path: path.write_text("my own notes\n"),
    "bytes": lambda path: path.write_bytes(b"\xff\xfe\x00"),
    "folder": lambda path: path.mkdir(),
    "pipe": lambda path: os.mkfifo(path),
    "link": lambda path: path.symlink_to("victim.rc"),
    "link to nowhere": lambda path: path.symlink_to("nowhere"),
}
NAMES = (".kit.toml.unsaved", ".kit.toml.unsaved.new", ".kit.toml.01234567.unsaved")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("make", FOREIGN.values(), ids=FOREIGN)
def test_what_somebody_else_put_there_is_left_alone(make: Callable[[Path], object], name: str, tmp_path: Path) -> None:
    """Not read, not waited for, not overwritten, not removed; the edits are kept under a name of their own."""
    victim = tmp_path / "victim.rc"
    looks_ours = f"# unsaved edits of {hashlib.sha256(SMALL.encode()).hexdigest()}\n{THEIRS}"
    victim.write_text(looks_ours)
    document = opened(tmp_path, SMALL)
    foreign = tmp_path / name
    make(foreign)
    before = foreign.read_bytes() if foreign.is_file() else foreign.lstat().st_mode
    assert Document(document.path).recovered is None
    document.set_value(0, "length", "80 cm")
    assert after_a_crash(document).recovered == Recovered(EDITED, same_base=True)
    document.save()
    assert document.path.read_text() == EDITED
    assert (foreign.read_bytes() if foreign.is_file() else foreign.lstat().st_mode) == before
    assert victim.read_text() == looks_ours
    assert {path.name for path in tmp_path.iterdir()} == {"kit.toml", "victim.rc", name}


def test_a_link_put_there_once_the_folder_was_listed_is_not_followed(
    document: Document, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Neither to read it nor to see whether it is held."""
    kept, link = journal(document), tmp_path / NAMES[0]
    link.symlink_to(kept.name)
    monkeypatch.setattr("kitbuilder.kitfile.journal.journals_of", lambda _path: (link,))
    other = Journal(document.path)
    assert other.is_alone()
    pull_plug(document)
    assert read_journals(document.path, SMALL) == ()


def test_edits_are_not_kept_for_a_file_that_is_no_kit(document: Document) -> None:
    """It is put right in a text editor first; the edits wait."""
    pull_plug(document)
    kept = journal(document).read_bytes()
    document.path.write_text("half a ki")
    assert Document(document.path).recovered is None
    document.path.write_text(SMALL)
    assert Document(document.path).recovered == Recovered(EDITED, same_base=True)
    assert journal(document).read_bytes() == kept


def test_a_journal_of_the_first_version_is_taken_up(document: Document) -> None:
    """Its name had nothing drawn at random."""
    old = document.path.with_name(".kit.toml.unsaved")
    pull_plug(document)
    journal(document).rename(old)
    later = Document(document.path)
    assert later.recovered == Recovered(EDITED, same_base=True)
    later.forget_recovered()
    assert not old.exists()


def test_it_is_flushed_in_the_background(document: Document, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file and then the folder; nobody waits for the disk between two edits."""
    wait_for_flushes()
    fsync, flushed = os.fsync, list[tuple[bool, str]]()

    def noting(handle: int) -> None:
        flushed.append((stat.S_ISDIR(os.fstat(handle).st_mode), threading.current_thread().name))
        fsync(handle)

    monkeypatch.setattr(os, "fsync", noting)
    document.set_value(0, "length", "90 cm")
    wait_for_flushes()
    assert flushed == [(False, FLUSHING), (True, FLUSHING)]


# ---- two apps on one file ----


def test_a_second_app_is_warned_and_takes_nothing(document: Document) -> None:
    """Edits of an app that runs are its own: they are not offered, not overwritten and not deleted."""
    first = journal(document)
    kept = first.read_bytes()
    second = Document(document.path)
    assert second.recovered is None
    assert second.take_news() == (News.OTHER_APP,)
    second.set_value(0, "length", "90 cm")
    assert len(journals_of(document.path)) == 2
    second.save()
    assert first.read_bytes() == kept
    with pytest.raises(ChangedOnDisk):
        document.save()


def test_who_edits_second_is_warned_at_the_first_edit(document: Document) -> None:
    """Both had the file open before either edited it."""
    document.undo()
    second = Document(document.path)
    assert second.take_news() == ()
    document.set_value(0, "length", "80 cm")
    second.set_value(0, "length", "90 cm")
    assert second.take_news() == (News.OTHER_APP,)
    second.set_value(0, "length", "95 cm")
    assert second.take_news() == (), "once is enough"


def test_who_edits_again_after_a_save_is_warned_of_the_one_who_edited_meanwhile(document: Document) -> None:
    """A saved app has no journal of its own any more, so it looks round again."""
    document.save()
    second = Document(document.path)
    second.set_value(0, "length", "90 cm")
    document.set_value(0, "length", "95 cm")
    assert document.take_news() == (News.OTHER_APP,)


def test_an_app_is_no_other_app_to_itself(document: Document) -> None:
    assert document.journal.is_alone()
    assert not Document(document.path).journal.is_alone()


def test_what_is_forgotten_is_held_no_longer(document: Document) -> None:
    """Else every save would cost the app one more open file."""
    with journal(document).open("rb") as forgotten:
        assert is_held(forgotten.fileno())
        document.save()
        assert not is_held(forgotten.fileno())


def test_asking_whether_a_file_is_held_does_not_hold_it(tmp_path: Path) -> None:
    """One app looks at a file and keeps it open; another can hold it all the same."""
    path = tmp_path / "kit.toml"
    path.write_text(SMALL)
    with path.open("rb") as looked_at, path.open("rb") as taken:
        assert not is_held(looked_at.fileno())
        handle = hold(taken.fileno())
        assert handle is not None
        os.close(handle)


def test_two_crashes_are_offered_newest_first(document: Document) -> None:
    second = Document(document.path)
    second.set_value(0, "length", "90 cm")
    for app, moment in ((document, 2_000_000_000), (second, 1_000_000_000)):
        assert app.journal.kept is not None
        os.utime(app.journal.kept, (moment, moment))
    pull_plug(document)
    later = after_a_crash(second)
    assert later.earlier == 2
    assert later.recovered == Recovered(EDITED, same_base=True)
    assert later.recover()
    assert later.recovered == Recovered(AGAIN, same_base=True)
    assert len(journals_of(document.path)) == 2, "one is this app's own, one waits for an answer"
    later.forget_recovered()
    assert later.recovered is None
    assert later.text == EDITED
    assert [path.read_text().partition("\n")[2] for path in journals_of(document.path)] == [EDITED]


def test_edits_that_were_taken_up_are_never_without_a_journal(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The old one goes when the new one is on the disk, not before."""
    later = after_a_crash(document)

    def refuse(*_arguments: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("kitbuilder.kitfile.journal.save_held", refuse)
    later.recover()
    assert later.take_news() == (News.NOWHERE,)
    monkeypatch.undo()
    assert Document(document.path).recovered == Recovered(EDITED, same_base=True)


EDITOR = """
import sys, time
from pathlib import Path
from kitbuilder.kitfile.document import Document
document = Document(Path(sys.argv[1]))
document.set_value(0, "length", "80 cm")
print("edited", flush=True)
time.sleep(60)
"""


@pytest.fixture
def other_app(tmp_path: Path) -> Iterator["subprocess.Popen[str]"]:
    """Another program with an edit of the kit that is not saved."""
    path = tmp_path / "kit.toml"
    path.write_text(SMALL)
    with subprocess.Popen([sys.executable, "-c", EDITOR, str(path)], stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "edited\n"
        yield program
        program.kill()


def test_the_system_lets_go_of_the_journal_of_an_app_that_is_killed(
    other_app: "subprocess.Popen[str]", tmp_path: Path
) -> None:
    """No process number that another program may have by now, and no file left behind that says it still runs."""
    path = tmp_path / "kit.toml"
    while_it_runs = Document(path)
    assert while_it_runs.recovered is None
    assert while_it_runs.take_news() == (News.OTHER_APP,)
    other_app.send_signal(signal.SIGKILL)
    other_app.wait(timeout=30)
    afterwards = Document(path)
    assert afterwards.recovered == Recovered(EDITED, same_base=True)
    assert afterwards.take_news() == ()


# ---- a folder that cannot be written ----


@pytest.fixture
def locked(refusable: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Document]:
    """A kit in a folder that cannot be written, beside a state folder that can."""
    folder = refusable / "kits"
    folder.mkdir()
    document = opened(folder, SMALL)
    folder.chmod(0o555)
    monkeypatch.setattr("kitbuilder.kitfile.journal.state_folder", lambda: refusable / "state" / "unsaved")
    yield document
    folder.chmod(0o755)


def test_the_journal_goes_to_the_state_folder(locked: Document, refusable: Path) -> None:
    """The person is informed once; the next app finds the edits, and the folder is its owner's alone."""
    locked.set_value(0, "length", "90 cm")
    assert locked.take_news() == (News.OTHER_FOLDER,)
    locked.set_value(0, "length", "80 cm")
    assert locked.take_news() == ()
    (kept,) = journals_of(locked.path)
    assert locked.journal.kept == kept
    assert kept.parent == refusable / "state" / "unsaved"
    assert kept.parent.stat().st_mode & 0o777 == 0o700
    assert Document(locked.path).take_news() == (News.OTHER_APP,)
    later = after_a_crash(locked)
    assert later.recovered == Recovered(EDITED, same_base=True)


def test_kits_of_one_name_in_two_folders_are_distinguished_there(locked: Document, refusable: Path) -> None:
    locked.set_value(0, "length", "80 cm")
    (refusable / "others").mkdir()
    assert opened(refusable / "others", SMALL).take_news() == ()
    assert after_a_crash(locked).recovered is not None
    assert Document(refusable / "others" / "kit.toml").recovered is None


def test_a_folder_that_can_be_written_again_gets_the_journal_back(locked: Document) -> None:
    locked.set_value(0, "length", "90 cm")
    locked.path.parent.chmod(0o755)
    locked.set_value(0, "length", "80 cm")
    (kept,) = journals_of(locked.path)
    assert kept.parent == locked.path.parent
    assert after_a_crash(locked).recovered == Recovered(EDITED, same_base=True)


def test_saved_in_another_folder_the_journal_goes(locked: Document, refusable: Path) -> None:
    locked.set_value(0, "length", "80 cm")
    before, elsewhere = locked.path, refusable / "mine.toml"
    with pytest.raises(PermissionError):
        locked.save()
    locked.save_as(elsewhere)
    assert elsewhere.read_text() == EDITED
    assert journals_of(before) == ()
    locked.set_value(0, "length", "90 cm")
    assert [kept.parent for kept in journals_of(elsewhere)] == [refusable]


def test_no_folder_at_all_does_not_stop_editing(refusable: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("kitbuilder.kitfile.journal.state_folder", lambda: refusable / "state")
    document = opened(refusable, SMALL)
    refusable.chmod(0o555)
    document.set_value(0, "length", "80 cm")
    assert document.take_news() == (News.NOWHERE,)
    assert document.text == EDITED
    assert document.undo()
    assert journals_of(document.path) == ()


def test_a_name_too_long_for_a_journal_beside_it(tmp_path: Path) -> None:
    """The longest name that a disk takes leaves no room for more letters; the state folder shortens it."""
    path = tmp_path / f"{'x' * 250}.toml"
    path.write_text(SMALL)
    document = Document(path)
    document.set_value(0, "length", "80 cm")
    assert document.take_news() == (News.OTHER_FOLDER,)
    assert after_a_crash(document).recovered == Recovered(EDITED, same_base=True)
    document.save()
    assert journals_of(path) == ()


# ---- renamed ----


def test_a_renamed_file_takes_its_journals_along(document: Document) -> None:
    before = journal(document)
    pull_plug(document)
    target = rename_with_journals(document.path, "other.toml")
    assert Document(target).recovered == Recovered(EDITED, same_base=True)
    assert not before.exists()


def test_a_journal_that_cannot_go_along_keeps_the_file_where_it_is(
    document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept, rename = journal(document), Path.rename
    pull_plug(document)

    def refuse_journals(path: Path, target: Path) -> Path:
        if path.name.startswith("."):
            raise OSError(28, "No space left on device")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", refuse_journals)
    with pytest.raises(OSError, match="No space left"):
        rename_with_journals(document.path, "other.toml")
    assert {path.name for path in document.path.parent.iterdir()} == {"kit.toml", kept.name}


def test_a_file_that_another_app_edits_is_not_renamed(document: Document) -> None:
    with pytest.raises(OSError, match="another running kitbuilder has unsaved edits"):
        rename_with_journals(document.path, "other.toml")
    assert document.path.exists()
    assert journal(document).exists()


def test_one_app_that_runs_is_enough_to_refuse_a_new_name(document: Document) -> None:
    """Though another one has crashed and left edits as well."""
    crashed = Document(document.path)
    crashed.set_value(0, "length", "90 cm")
    pull_plug(crashed)
    with pytest.raises(OSError, match="another running kitbuilder has unsaved edits"):
        rename_with_journals(document.path, "other.toml")


def test_a_journal_in_the_state_folder_goes_along_as_well(tmp_path: Path) -> None:
    path = tmp_path / f"{'x' * 250}.toml"
    path.write_text(SMALL)
    document = Document(path)
    document.set_value(0, "length", "80 cm")
    (before,) = journals_of(path)
    assert before.parent != path.parent
    pull_plug(document)
    target = rename_with_journals(path, "other.toml")
    assert Document(target).recovered == Recovered(EDITED, same_base=True)
    assert not before.exists()


@pytest.mark.parametrize("kind", ["folder", "pipe", "link", "link to nowhere"])
def test_what_is_no_file_does_not_go_along(kind: str, tmp_path: Path) -> None:
    """It has the name of a journal and cannot be one."""
    path, foreign = opened(tmp_path, SMALL).path, tmp_path / NAMES[0]
    (tmp_path / "victim.rc").write_text("my own notes\n")
    FOREIGN[kind](foreign)
    before = {each.name for each in tmp_path.iterdir()}
    rename_with_journals(path, "other.toml")
    assert {each.name for each in tmp_path.iterdir()} == before - {"kit.toml"} | {"other.toml"}
