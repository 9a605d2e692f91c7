"""Ticks are kept beside the kits: whole, by sentence, and never over a file that somebody else wrote."""

from pathlib import Path

from kitbuilder.kitfile.ticks import clear_ticks, read_ticks, ticks_path, write_ticks


def path_in(folder: Path) -> Path:
    return ticks_path(folder / "a.toml", folder / "b.toml")


def test_ticks_come_back(tmp_path: Path) -> None:
    path = path_in(tmp_path)
    assert path.name == ".a.toml--b.toml.ticks"
    assert write_ticks(path, ["take apart: Unscrew the long hose.", "look: at it"])
    assert read_ticks(path) == {"take apart: Unscrew the long hose.", "look: at it"}


def test_there_and_back_are_two_lists(tmp_path: Path) -> None:
    assert path_in(tmp_path) != ticks_path(tmp_path / "b.toml", tmp_path / "a.toml")


def test_none_were_ticked(tmp_path: Path) -> None:
    assert read_ticks(path_in(tmp_path)) == frozenset()
    path_in(tmp_path).write_text("")
    assert read_ticks(path_in(tmp_path)) == frozenset()


def test_another_file_of_that_name_is_left_alone(tmp_path: Path) -> None:
    path = path_in(tmp_path)
    path.write_text("not ours\n")
    assert read_ticks(path) == frozenset()
    assert not write_ticks(path, ["a"])
    clear_ticks(path)
    assert path.read_text() == "not ours\n"


def test_a_folder_that_is_gone_takes_none(tmp_path: Path) -> None:
    assert not write_ticks(path_in(tmp_path / "gone"), ["a"])


def test_beginning_anew(tmp_path: Path) -> None:
    path = path_in(tmp_path)
    write_ticks(path, ["a"])
    clear_ticks(path)
    clear_ticks(path)
    assert not path.exists()
