"""Ticks are kept beside the kits: whole, by sentence, and never over a file that somebody else wrote."""

import os
from pathlib import Path

from kitbuilder.kitfile.progress import clear_progress, read_progress, ticks_path, write_progress


def path_in(folder: Path) -> Path:
    return ticks_path(folder / "a.toml", folder / "b.toml")


def test_ticks_come_back(tmp_path: Path) -> None:
    path = path_in(tmp_path)
    assert path.name == ".a.toml--b.toml.ticks"
    assert write_progress(path, ["take apart: Unscrew the long hose.", "look: at it"])
    assert read_progress(path) == {"take apart: Unscrew the long hose.", "look: at it"}


def test_there_and_back_are_two_lists(tmp_path: Path) -> None:
    assert path_in(tmp_path) != ticks_path(tmp_path / "b.toml", tmp_path / "a.toml")


def test_none_were_ticked(tmp_path: Path) -> None:
    assert read_progress(path_in(tmp_path)) == frozenset()
    path_in(tmp_path).write_text("")
    assert read_progress(path_in(tmp_path)) == frozenset()


def test_another_file_of_that_name_is_left_alone(tmp_path: Path) -> None:
    path = path_in(tmp_path)
    path.write_text("not ours\n")
    assert read_progress(path) == frozenset()
    assert not write_progress(path, ["a"])
    clear_progress(path)
    assert path.read_text() == "not ours\n"


def test_ticks_are_not_read_through_a_link_or_from_a_pipe(tmp_path: Path) -> None:
    """A link may lead to any file of the reader's; a pipe would be waited for."""
    path, elsewhere = path_in(tmp_path), tmp_path / "elsewhere"
    assert write_progress(elsewhere, ["a"])
    path.symlink_to(elsewhere.name)
    assert read_progress(path) == frozenset()
    path.unlink()
    os.mkfifo(path)
    assert read_progress(path) == frozenset()


def test_a_folder_that_is_gone_takes_none(tmp_path: Path) -> None:
    assert not write_progress(path_in(tmp_path / "gone"), ["a"])


def test_beginning_again(tmp_path: Path) -> None:
    path = path_in(tmp_path)
    write_progress(path, ["a"])
    clear_progress(path)
    clear_progress(path)
    assert not path.exists()
