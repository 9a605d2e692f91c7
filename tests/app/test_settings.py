"""What is chosen in the app is there the next time."""

import tomllib

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.preferences import Preferences
from kitbuilder.commands.app_words import key_named
from kitbuilder.report.numbers import System
from tests.app.conftest import press, settle, told


async def test_theme_and_units_are_remembered_and_keys_are_the_users_own(kits, tmp_path):
    place = tmp_path / "config" / "settings.toml"
    place.parent.mkdir()
    place.write_text('# mine\n[keys]\nunits = "U"\n')
    app = KitbuilderApp(kits, preferences=Preferences(place))
    async with app.run_test() as pilot:
        await settle(pilot)
        app.theme = "nord"
        await press(pilot, "m")
        assert app.system is System.METRIC, "its usual key is free now"
        await press(pilot, "U")
        assert app.system is System.IMPERIAL
    assert tomllib.loads(place.read_text()) == {"keys": {"units": "U"}, "theme": "nord", "units": "imperial"}
    assert place.read_text().startswith("# mine\n")
    again = KitbuilderApp(kits, preferences=Preferences(place))
    assert again.theme == "nord"


async def test_what_cannot_be_used_is_said_once_and_left_alone(kits, tmp_path):
    place = tmp_path / "settings.toml"
    place.write_text('theme = "nrod"\n')
    app = KitbuilderApp(kits, preferences=Preferences(place))
    async with app.run_test() as pilot:
        await settle(pilot)
        assert 'Did you mean "nord"?' in told(app)
    assert place.read_text() == 'theme = "nrod"\n'


def test_the_theme_of_the_environment_wins(tmp_path, monkeypatch):
    place = tmp_path / "settings.toml"
    place.write_text('theme = "nord"\n')
    assert Preferences(place).theme == "nord"
    monkeypatch.setenv("TEXTUAL_THEME", "dracula")
    assert Preferences(place).theme is None


def test_the_last_folder_is_opened_where_this_one_has_no_kits(tmp_path, monkeypatch, kits):
    place, other = tmp_path / "settings.toml", tmp_path / "other"
    Preferences(place).remember_folder(kits)
    other.mkdir()
    monkeypatch.chdir(other)
    assert Preferences(place).folder_to_open() == type(other)(), "an empty folder is for new kits"
    (other / "letter.txt").touch()
    assert Preferences(place).folder_to_open() == (tmp_path / "kits").resolve()


def test_keys_are_named_as_textual_names_them():
    assert {key: key_named(key) for key in ("?", "U", "ctrl+x", "f5", "hyper+x", "", "ctrl+ctrl+x")} == {
        "?": "question_mark", "U": "U", "ctrl+x": "ctrl+x", "f5": "f5", "hyper+x": None, "": None, "ctrl+ctrl+x": None,
    }  # fmt: skip
