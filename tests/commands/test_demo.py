"""`kitbuilder demo`: what is copied, and that nothing is ever overwritten."""

import json
import sys
import tomllib
from pathlib import Path

import pytest

from kitbuilder.commands.exit_codes import DONE, FOUND, UNREADABLE
from kitbuilder.kitfile.demo import PACKED
from tests.commands.run import CONFIGS, ROOT, run
from tests.test_terminal import Terminal


def files_of(folder: Path) -> set[str]:
    """The files of a folder and of those in it."""
    return {path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}


SHIPPED = files_of(CONFIGS)


def test_the_whole_folder_is_copied_and_can_be_checked(tmp_path: Path) -> None:
    done = run("demo", "my kits", cwd=tmp_path)
    assert done.returncode == DONE
    assert "Open them with: kitbuilder my kits" in done.stdout
    assert files_of(tmp_path / "my kits") == SHIPPED
    for name in SHIPPED:
        assert (tmp_path / "my kits" / name).read_bytes() == (CONFIGS / name).read_bytes()
    # Its lead is a caution until the diver makes a float check.
    assert run("check", "my kits/warm-single.toml", cwd=tmp_path).returncode == FOUND


def test_without_a_name_it_goes_to_a_folder_of_its_own(tmp_path: Path) -> None:
    assert json.loads(run("demo", "--json", cwd=tmp_path).stdout)["result"]["folder"] == "demo-kits"
    assert (tmp_path / "demo-kits" / "twinset.toml").exists()


def test_an_empty_folder_is_filled(tmp_path: Path) -> None:
    assert run("demo", ".", cwd=tmp_path).returncode == DONE
    assert files_of(tmp_path) == SHIPPED


@pytest.mark.parametrize("trap", ["file", "folder", "link"])
def test_what_is_there_stays(trap: str, tmp_path: Path) -> None:
    place = tmp_path / "kits"
    if trap == "file":
        place.write_text("mine")
    elif trap == "folder":
        place.mkdir()
        (place / "twinset.toml").write_text("mine")
    else:
        (tmp_path / "elsewhere").mkdir()
        place.symlink_to("elsewhere")
    done = run("demo", "kits", cwd=tmp_path)
    assert done.returncode == UNREADABLE
    assert "kits: the folder is not empty and is left unchanged" in done.stderr
    files = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert [path.read_text() for path in files] == (["mine"] if trap != "link" else [])


def test_in_a_terminal_the_shelf_opens(tmp_path: Path) -> None:
    terminal = Terminal(sys.executable, "-m", "kitbuilder", "demo", str(tmp_path / "kits"))
    terminal.wait_for("5 kits")
    terminal.press("q")
    assert terminal.close() == DONE


def test_the_wheel_takes_the_folder_where_the_program_looks_for_it() -> None:
    """`.ci/run` tries it with a wheel; this says the place."""
    said = tomllib.loads((ROOT / "pyproject.toml").read_text())
    packed = said["tool"]["hatch"]["build"]["targets"]["wheel"]["force-include"]
    assert packed == {"configs": PACKED.relative_to(ROOT).as_posix()}
