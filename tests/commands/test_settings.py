"""kitbuilder settings: where they are kept, what they are, and how one is changed."""

import json
import re
import tomllib
from pathlib import Path

import pytest

from kitbuilder.kitfile.settings import settings_path
from tests.commands.run import run


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The settings of nobody, in a folder of their own."""
    path = tmp_path / "config" / "settings.toml"
    monkeypatch.setattr("kitbuilder.kitfile.settings.settings_path", lambda: path)
    return path


def test_without_a_file_it_names_the_place_and_the_defaults(place: Path) -> None:
    done = run("settings")
    assert (done.returncode, done.stderr) == (0, "")
    assert str(place) in done.stdout.replace("\n", "").replace(" ", "")
    assert re.search("^units +not set; default: metric$", done.stdout, re.MULTILINE)
    assert not place.exists()


@pytest.mark.usefixtures("place")
def test_a_setting_is_printed_by_the_name_that_a_change_takes() -> None:
    names = re.findall("^([a-z_]+) .*not set", run("settings").stdout, re.MULTILINE)
    assert len(names) == 5
    for name in names:
        assert "no such setting" not in run("settings", f"{name}=nonsense").stderr


def test_changes_are_written_and_printed(place: Path) -> None:
    done = run("settings", "units=imperial", "theme=nord", "keys.units=U", "plain_pictures=true")
    assert done.returncode == 0
    assert tomllib.loads(place.read_text()) == {
        "units": "imperial",
        "theme": "nord",
        "keys": {"units": "U"},
        "plain_pictures": True,
    }
    answer = json.loads(run("settings", "units=", "keys.units=", "--json").stdout)["result"]
    assert answer["settings"] == {
        "theme": "nord", "units": None, "plain_pictures": True, "last_folder": None, "shelf_order": None,
    }  # fmt: skip
    assert answer["keys"] == []


def test_comments_stay(place: Path) -> None:
    place.parent.mkdir()
    place.write_text('# mine\nunits = "metric"  # at home\n')
    run("settings", "units=imperial")
    assert place.read_text() == '# mine\nunits = "imperial"  # at home\n'


@pytest.mark.parametrize(
    ("change", "found"),
    [
        ("units=furlongs", 'Accepted: "metric", "imperial".'),
        ("theme=nrod", 'Did you mean "nord"?'),
        ("unit=metric", 'Did you mean "units"?'),
        ("plain_pictures=perhaps", "Accepted: true, false."),
        ("keys.unit=U", 'Did you mean "units"?'),
        ("keys.units=c", '"changeover" has this key already.'),
        ("keys.units=ctrl+hyper+x", '"ctrl+hyper+x" is no key.'),
        ("keys.units=j", 'Lists use "j" themselves.'),
        ("keys=u", "Accepted: a table, [keys]"),
        ("units", "Accepted: NAME=VALUE"),
    ],
)
def test_what_cannot_be_used_is_refused_and_nothing_is_written(place: Path, change: str, found: str) -> None:
    done = run("settings", "theme=dracula", change)
    assert done.returncode == 2
    assert found in done.stderr
    assert not place.exists()


def test_what_a_file_has_wrong_is_named_with_its_line_and_the_rest_counts(place: Path) -> None:
    place.parent.mkdir()
    place.write_text('units = "imperial"\ntheme = "nrod"\nsize = 3\n[keys]\nfit = "c"\nfitt = "U"\n')
    done = run("settings")
    assert done.returncode == 1
    assert [line.split(": ")[0].removeprefix(f"{place}:") for line in done.stderr.splitlines()] == ["2", "3", "6", "5"]
    assert "imperial" in done.stdout


def test_a_file_that_is_not_toml_is_kept_when_a_setting_changes(place: Path) -> None:
    place.parent.mkdir()
    place.write_text("units = ")
    assert run("settings").returncode == 1
    assert place.read_text() == "units = "
    done = run("settings", "units=imperial")
    assert (done.returncode, tomllib.loads(place.read_text())) == (0, {"units": "imperial"})
    assert (place.parent / "settings-broken.toml").read_text() == "units = "
    assert "settings-broken.toml" in done.stdout


def test_a_place_that_cannot_be_written_is_named(place: Path) -> None:
    place.parent.write_text("a file where the folder should be")
    done = run("settings", "units=imperial")
    assert done.returncode == 2
    assert str(place) in done.stderr


def test_the_place_is_that_of_the_system(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """XDG Base Directory Specification 0.8, 2021: $XDG_CONFIG_HOME; other systems have a place of their own."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    path = settings_path()
    assert path.name == "settings.toml"
    assert path.parent.name == "kitbuilder"
