"""Everything that writes is listed here, and each writer is tried on a folder that was made to trap it.

A kit folder may come from an archive, with links, pipes and folders under the names of the files we keep there.
"""

import ast
import os
import shutil
import stat
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from kitbuilder.app.screens.copying import write_page
from kitbuilder.app.screens.diver_question import DiverQuestion
from kitbuilder.app.screens.gear_question import open_gear
from kitbuilder.cli import main
from kitbuilder.commands import fit
from kitbuilder.commands.documents import write_document
from kitbuilder.commands.exit_codes import UNREADABLE
from kitbuilder.commands.making import WhoDives, make_kit
from kitbuilder.commands.making_trip import make_trip
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE
from kitbuilder.kitfile import disk
from kitbuilder.kitfile.copied import keep_copied
from kitbuilder.kitfile.demo import copy_demo
from kitbuilder.kitfile.document import ChangedOnDisk, Document
from kitbuilder.kitfile.journal import forget_journal, rename_with_journals
from kitbuilder.kitfile.progress import clear_progress, write_progress
from kitbuilder.kitfile.schemas import put_schema, save_new
from kitbuilder.kitfile.settings import changed_settings
from kitbuilder.kitfile.starters import Answers
from kitbuilder.report.forms import OUTPUT_FORMS
from kitbuilder.report.numbers import System
from tests.kitfile.support import SMALL, opened

pytestmark = pytest.mark.usefixtures("no_waiting")

PACKAGE = Path(__file__).parents[1] / "kitbuilder"
DISK = PACKAGE / "kitfile" / "disk.py"
"""The one file that makes, renames and deletes files."""

OWNER = "0123abcd"
"""What is drawn at random for a journal, fixed here so that a trap can be laid for it."""

# ---- the writers: each writes, renames or deletes at a path, or refuses ----


def _save(path: Path) -> None:
    """Trapped after it was opened, and given to write over whatever is there."""
    trap = path.with_name("trap")
    if os.path.lexists(path):
        path.rename(trap)
    document = opened(path.parent, SMALL)
    document.set_value(0, "length", "80 cm")
    path.unlink()
    if os.path.lexists(trap):
        trap.rename(path)
    with pytest.raises(ChangedOnDisk):
        document.save()
    try:
        document.save(over_theirs=True)
    finally:
        document.forget_edits()


def _another(path: Path) -> Document:
    """A kit beside the trap, without edits."""
    other = path.with_name("other.toml")
    other.write_text(SMALL)
    return Document(other)


def _journal(path: Path) -> None:
    document = _another(path)
    document.set_value(0, "length", "80 cm")
    document.forget_edits()


def _write_picture(path: Path) -> None:
    said = fit._write_picture(path, None, System.METRIC)  # type: ignore[arg-type]
    if said is not None:
        raise OSError(said)


def _keep_broken_settings(path: Path) -> None:
    settings = path.with_name("settings.toml")
    settings.write_text("units = ")
    changed_settings(settings, units="metric")


def _make_gear(path: Path) -> None:
    """Answer the question for the name of a new gear file."""
    app = SimpleNamespace(push_screen=lambda _question, answer: answer(path.name))
    shell = SimpleNamespace(show_gear=lambda _path: None)
    open_gear(SimpleNamespace(app=app, shell=shell, notify=_say), path.parent, None)  # type: ignore[arg-type]


def _say(text: str, *, severity: str = "information", **_words: object) -> None:
    if severity == "error":
        raise OSError(text)


def _make_diver(path: Path) -> None:
    screen: Any = SimpleNamespace(notify=_say)
    question = DiverQuestion(screen, _another(path), lambda: None)
    object.__setattr__(question, "_take", lambda _name: None)
    question._make(path.name)


def _write_document(path: Path) -> None:
    complaint = write_document(str(path), OUTPUT_FORMS["html"], "<p>a kit</p>", replaces=True)
    if complaint is not None:
        raise OSError(complaint)


def _write_ticks(path: Path) -> None:
    if not write_progress(path, ["a step"]):
        raise OSError("the folder does not take the ticks")


Writer = Callable[[Path], object]
WRITERS: dict[str, tuple[str, Writer]] = {
    "kitfile/document.py Document.save": ("kit.toml", _save),
    "kitfile/document.py Document.save_as": ("new.toml", lambda path: _another(path).save_as(path)),
    "kitfile/journal.py Journal.keep": (f".other.toml.{OWNER}.unsaved", _journal),
    "kitfile/journal.py forget_journal": (f".kit.toml.{OWNER}.unsaved", forget_journal),
    "kitfile/journal.py rename_with_journals": (
        "new.toml",
        lambda path: rename_with_journals(_another(path).path, path.name),
    ),
    "kitfile/progress.py write_progress": (".a.toml--b.toml.ticks", _write_ticks),
    "kitfile/progress.py clear_progress": (".a.toml--b.toml.ticks", clear_progress),
    "commands/making.py make_kit": (
        "new.toml",
        lambda path: make_kit(path, Answers("new", "jacket"), WhoDives(), System.METRIC),
    ),
    "commands/making_trip.py make_trip": ("trip.toml", lambda path: make_trip(path, "x", (), {})),
    "app/screens/gear_question.py open_gear.make": ("gear.toml", _make_gear),
    "app/screens/diver_question.py DiverQuestion._make": ("diver.toml", _make_diver),
    "app/screens/copying.py write_page": ("list.txt", lambda path: write_page(path, "the steps")),
    "kitfile/copied.py keep_copied": ("copied.txt", lambda path: keep_copied(path, "a row")),
    "commands/documents.py write_document": ("x.html", _write_document),
    "commands/fit.py _write_picture": ("x.svg", _write_picture),
    "kitfile/schemas.py save_new": ("gear.toml", lambda path: save_new(path, SMALL, GEAR_FILE)),
    "kitfile/schemas.py put_schema": ("kit.schema.json", lambda path: put_schema(path.parent, KIT_FILE)),
    "kitfile/settings.py changed_settings": ("settings.toml", lambda path: changed_settings(path, units="metric")),
    "kitfile/settings.py _keep": ("settings-broken.toml", _keep_broken_settings),
    "kitfile/demo.py copy_demo": ("twinset.toml", lambda path: copy_demo(path.parent)),
}
"""By the place in the code: the name it writes to, and what makes it write there."""
SILENT = {
    "kitfile/journal.py Journal.keep",
    "kitfile/journal.py forget_journal",
    "kitfile/progress.py clear_progress",
    "kitfile/schemas.py put_schema",
}
"""Those that go on without a word: there is another place for a journal, nothing of ours to delete, and a kit is read
without a schema."""
HEADS = {
    "kitfile/journal.py forget_journal": "# unsaved edits of ",
    "kitfile/progress.py clear_progress": "# ticked steps; kitbuilder writes this file",
}
"""Those that only delete, and how a file begins that is theirs to delete."""

# ---- the traps ----

TRAPS: dict[str, Callable[[Path, Path], object]] = {
    "link to a file": lambda path, outside: path.symlink_to(outside / "victim.rc"),
    "link to nowhere": lambda path, outside: path.symlink_to(outside / "nowhere"),
    "link to a folder": lambda path, outside: path.symlink_to(outside),
    "link to itself": lambda path, _outside: path.symlink_to(path.name),
    "pipe": lambda path, _outside: os.mkfifo(path),
    "folder": lambda path, _outside: path.mkdir(),
}


@pytest.fixture(autouse=True)
def _prepared(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Names known beforehand, and texts that need no plan."""
    monkeypatch.setattr("secrets.token_hex", lambda _count: OWNER)
    monkeypatch.setattr("kitbuilder.kitfile.journal.state_folder", lambda: tmp_path / "state")
    monkeypatch.setattr("kitbuilder.report.route_picture.route_svg", lambda _plan, _system: "<svg/>")


def contents(folder: Path) -> dict[str, tuple[int, str]]:
    """Everything in a folder: its kind, and what a file holds or a link says."""
    found = {}
    for path in folder.rglob("*"):
        mode = path.lstat().st_mode
        text = str(path.readlink()) if path.is_symlink() else path.read_text() if stat.S_ISREG(mode) else ""
        found[str(path.relative_to(folder))] = (stat.S_IFMT(mode), text)
    return found


@pytest.mark.parametrize("trap", TRAPS.values(), ids=TRAPS)
@pytest.mark.parametrize("place", WRITERS)
def test_no_writer_goes_into_a_trap(place: str, trap: Callable[[Path, Path], object], tmp_path: Path) -> None:
    """What was there stays, and the value is empty, made or deleted through it."""
    name, write = WRITERS[place]
    folder, outside = tmp_path / "kits", tmp_path / "outside"
    folder.mkdir()
    outside.mkdir()
    (outside / "victim.rc").write_text(HEADS.get(place, "precious\n"))
    trap(folder / name, outside)
    before, trapped = contents(outside), contents(folder)[name]
    if place in SILENT:
        write(folder / name)
    else:
        with pytest.raises(OSError):
            write(folder / name)
    assert contents(outside) == before
    left = contents(folder)
    assert left.pop(name) == trapped
    assert set(left) <= {"other.toml", "settings.toml"}, "nothing half written is left behind"


@pytest.mark.parametrize("place", [place for place in WRITERS if place not in HEADS])
def test_every_writer_writes_where_nothing_is_in_its_way(place: str, tmp_path: Path) -> None:
    """Or the test above would be passed by one that never writes."""
    name, write = WRITERS[place]
    path, forget = tmp_path / name, Document.forget_edits
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Document, "forget_edits", lambda document: kept.append(path.read_text()) or forget(document))
        kept: list[str] = []  # a journal is there until the edits are dropped
        write(path)
    assert kept[0] if kept else path.read_text()


@pytest.mark.parametrize("place", HEADS)
def test_only_our_own_file_is_deleted(place: str, tmp_path: Path) -> None:
    name, delete = WRITERS[place]
    path = tmp_path / name
    path.write_text("somebody's own\n")
    delete(path)
    assert path.read_text() == "somebody's own\n"
    path.write_text(f"{HEADS[place]}\n")
    delete(path)
    assert not path.exists()


@pytest.mark.parametrize("place", WRITERS)
def test_no_writer_changes_a_folder_that_may_not_be_written(
    place: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk refuses every new file and every change of a name, as a disk mounted for reading does.

    Modes would not do: they do not bind root, whom many containers run the tests as.
    """
    name, write = WRITERS[place]
    folder = tmp_path / "kits"
    folder.mkdir()
    (folder / "kit.toml").write_text(SMALL)
    (folder / "other.toml").write_text(SMALL)
    (folder / "settings.toml").write_text("units = ")
    if place in HEADS:
        (folder / name).write_text(HEADS[place])
    document = Document(folder / "kit.toml")
    before = contents(folder)

    def refuse(*_arguments: object, **_words: object) -> None:
        raise OSError(30, "Read-only file system")

    opening = os.open

    def refuse_new(path: Any, flags: int, *more: int, **words: Any) -> int:
        if flags & os.O_CREAT:
            refuse()
        return opening(path, flags, *more, **words)

    monkeypatch.setattr(f"{__name__}._another", lambda path: Document(path.with_name("other.toml")))
    monkeypatch.setattr(os, "open", refuse_new)
    for part in ("rename", "replace", "unlink", "mkdir"):
        monkeypatch.setattr(Path, part, refuse)
    if place == "kitfile/document.py Document.save":
        document.set_value(0, "length", "80 cm")
        with pytest.raises(OSError, match="Read-only"):
            document.save()
    elif place in SILENT:
        write(folder / name)
    else:
        with pytest.raises(OSError):
            write(folder / name)
    monkeypatch.undo()
    assert contents(folder) == before


def test_a_link_is_followed_on_a_save_of_the_kit_it_was_opened_as(tmp_path: Path) -> None:
    """The user's own linked kit; a link that is laid in its place afterwards is not."""
    real, link, victim = tmp_path / "real.toml", tmp_path / "kit.toml", tmp_path / "victim.rc"
    real.write_text(SMALL)
    victim.write_text(SMALL)
    link.symlink_to(real.name)
    document = Document(link)
    document.set_value(0, "length", "80 cm")
    document.save()
    assert link.is_symlink()
    assert '"80 cm"' in real.read_text()
    link.unlink()
    link.symlink_to(victim.name)
    document.set_value(0, "length", "90 cm")
    with pytest.raises(OSError, match="a link has this name"):
        document.save(over_theirs=True)
    assert victim.read_text() == SMALL


def test_a_picture_is_not_written_through_a_link_onto_a_kit(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """It was: the kit was gone, and the command said that all was well."""
    kit, picture = tmp_path / "kit.toml", tmp_path / "x.svg"
    shutil.copy(PACKAGE.parent / "configs" / "twinset.toml", kit)
    before = kit.read_bytes()
    picture.symlink_to(kit.name)
    assert main(["fit", str(kit), "--svg", str(picture)]) == UNREADABLE
    assert kit.read_bytes() == before
    assert f"{picture}: a link has this name and is not replaced. Nothing was written there." in capsys.readouterr().err


def test_a_linked_kit_that_is_gone_is_not_made_again_elsewhere(tmp_path: Path) -> None:
    """Where the link leads to is no place that anybody named."""
    real, link = tmp_path / "real.toml", tmp_path / "kit.toml"
    real.write_text(SMALL)
    link.symlink_to(real.name)
    document = Document(link)
    real.unlink()
    with pytest.raises(OSError, match="this link leads to a file that no longer exists"):
        document.save(over_theirs=True)
    assert not real.exists()


def test_a_new_file_takes_no_name_that_was_taken_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Between the look whether the name is free and the last step somebody else makes a file."""
    path, flushing, here = tmp_path / "new.toml", os.fsync, threading.get_ident()

    def come_first(handle: int) -> None:
        flushing(handle)
        # A journal of an earlier test may still be flushed in the background; it must not write this file once more.
        if threading.get_ident() == here:
            path.write_text("theirs")

    monkeypatch.setattr(os, "fsync", come_first)
    with pytest.raises(FileExistsError):
        disk.save_text(path, SMALL, disk.Over.NOTHING)
    assert contents(tmp_path) == {"new.toml": (stat.S_IFREG, "theirs")}


def test_a_new_file_that_fails_at_the_last_step_leaves_no_name_behind(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_arguments: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(OSError, match="No space left"):
        disk.save_text(tmp_path / "new.toml", SMALL, disk.Over.NOTHING)
    before = len(list(Path("/dev/fd").iterdir()))
    with pytest.raises(OSError, match="No space left"):
        disk.save_held(tmp_path / "new.toml", SMALL)
    assert contents(tmp_path) == {}
    assert len(list(Path("/dev/fd").iterdir())) == before, "no handle stays open"


# ---- nobody writes who is not in the list ----


WRITING = {
    "write_text", "write_bytes", "touch", "mkdir", "makedirs", "unlink", "rmdir", "rename", "renames", "removedirs",
    "symlink_to", "hardlink_to", "symlink", "link", "truncate", "mkfifo", "mkstemp", "mkdtemp", "NamedTemporaryFile",
    "TemporaryFile", "SpooledTemporaryFile", "TemporaryDirectory", "fdopen", "FileIO", "rmtree", "copyfile", "copy2",
    "copytree", "move", "chmod",
}  # fmt: skip
"""Calls that make, change, rename or delete files, whatever they are called on."""


def writes(call: ast.Call) -> bool:
    """Whether a call may write to the disk."""
    name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
    on = ast.unparse(call.func.value) if isinstance(call.func, ast.Attribute) else ""
    if name == "open":
        if on == "os":
            return ast.unparse(call.args[0]) != "os.devnull"
        place = 0 if on not in ("", "io") else 1
        modes = [*call.args[place : place + 1], *(word.value for word in call.keywords if word.arg == "mode")]
        return any(not isinstance(mode, ast.Constant) or bool(set("wax+") & set(str(mode.value))) for mode in modes)
    if name == "replace":  # text takes two words, a path one, and a record none but named ones
        return on == "os" or (len(call.args) == 1 and not call.keywords)
    if name in ("remove", "copy"):
        return on in ("os", "shutil")
    return name in WRITING


@pytest.mark.parametrize(
    "code",
    [
        'path.write_text("a")', "path.write_bytes(data)", 'open(path, "w")', 'path.open("ab")', "path.open(mode=how)",
        'io.open(path, "x")', "os.open(path, flags)", "beside.replace(target)", "os.replace(a, b)", "path.rename(b)",
        "os.remove(path)", "shutil.copy(a, b)", "tempfile.mkstemp()", "NamedTemporaryFile()", "path.unlink()",
    ],
)  # fmt: skip
def test_the_search_finds_what_writes(code: str) -> None:
    assert [call for call in ast.walk(ast.parse(code)) if isinstance(call, ast.Call) and writes(call)]


@pytest.mark.parametrize(
    "code",
    [
        'text.replace("a", "b")', "dataclasses.replace(item, **missing)", 'path.open("rb")', "open(path)",
        "rows.remove(row)", "os.open(os.devnull, os.O_WRONLY)", "row.copy()", "sys.stdout.write(text)",
    ],
)  # fmt: skip
def test_the_search_leaves_the_rest_alone(code: str) -> None:
    assert not [call for call in ast.walk(ast.parse(code)) if isinstance(call, ast.Call) and writes(call)]


@pytest.mark.parametrize("path", sorted(PACKAGE.rglob("*.py")), ids=lambda path: str(path.relative_to(PACKAGE)))
def test_only_one_file_of_the_package_writes(path: Path) -> None:
    found = [
        f"line {call.lineno}: {ast.unparse(call)}"
        for call in ast.walk(ast.parse(path.read_text("utf-8")))
        if isinstance(call, ast.Call) and writes(call)
    ]
    if path == DISK:
        assert found
    else:
        assert found == [], "write through kitfile/disk.py, and enter the writer in WRITERS"


def asks(tree: ast.AST, words: set[str], within: str = "") -> Iterator[str]:
    """The functions, by their full names, that call one of these words."""
    for node in ast.iter_child_nodes(tree):
        inner = within
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
            inner = f"{within}.{node.name}" if within else node.name
        if isinstance(node, ast.Call) and ast.unparse(node.func).split(".")[-1] in words:
            yield within
        yield from asks(node, words, inner)


def test_every_writer_is_in_the_list() -> None:
    """A new one fails here until the traps above are tried on it."""
    public = {
        node.name
        for node in ast.parse(DISK.read_text("utf-8")).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
    }
    reading = {
        "read_text", "open_regular", "kit_paths", "ends_in", "with_ending", "complain_of_name", "path_typed",
        "complain_of_path",
    }  # fmt: skip
    writing = public - reading
    assert all(hasattr(disk, name) for name in writing)
    writing.add(save_new.__name__)
    assert "save_text" in writing
    found = {
        f"{path.relative_to(PACKAGE).as_posix()} {name}"
        for path in PACKAGE.rglob("*.py")
        if path != DISK
        for name in asks(ast.parse(path.read_text("utf-8")), writing)
    }
    assert found == set(WRITERS)


def test_the_traps_need_no_tool_of_the_package(tmp_path: Path) -> None:
    """Each trap is what its name says."""
    (tmp_path / "victim.rc").touch()
    for number, trap in enumerate(TRAPS.values()):
        trap(tmp_path / str(number), tmp_path)
    modes = [stat.S_IFMT((tmp_path / str(number)).lstat().st_mode) for number in range(len(TRAPS))]
    assert modes == [stat.S_IFLNK] * 4 + [stat.S_IFIFO, stat.S_IFDIR]
    shutil.rmtree(tmp_path)
