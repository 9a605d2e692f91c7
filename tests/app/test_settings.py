"""What is chosen in the app is there the next time."""

import tomllib

import pytest
from textual.color import Color
from textual.theme import BUILTIN_THEMES

from kitbuilder.app.app import KitbuilderApp
from kitbuilder.app.preferences import Preferences
from kitbuilder.app.widgets.title_bar import TitleBar
from kitbuilder.commands.app_words import key_named
from kitbuilder.report.numbers import System
from tests.app.conftest import press, settle, told


def colour_of_title(app):
    """The colour that the line at the top is drawn on."""
    [colour] = {segment.style.bgcolor for segment in app.screen.query_one(TitleBar).render_line(0)}
    return colour


async def test_theme_and_units_are_remembered_and_keys_are_the_users_own(kits, tmp_path):
    place = tmp_path / "config" / "settings.toml"
    place.parent.mkdir()
    place.write_text('# mine\n[keys]\nunits = "U"\n')
    app = KitbuilderApp(kits, preferences=Preferences(place))
    async with app.run_test() as pilot:
        await settle(pilot)
        before = colour_of_title(app)
        app.theme = "nord"
        await press(pilot, "m")
        assert app.system is System.METRIC, "its usual key is free now"
        await press(pilot, "U")
        assert app.system is System.IMPERIAL
    assert tomllib.loads(place.read_text()) == {"keys": {"units": "U"}, "theme": "nord", "units": "imperial"}
    assert place.read_text().startswith("# mine\n")
    again = KitbuilderApp(kits, preferences=Preferences(place))
    async with again.run_test() as pilot:
        await settle(pilot)
        assert again.theme == "nord"
        assert colour_of_title(again) == Color.parse(BUILTIN_THEMES["nord"].panel).rich_color != before


async def test_what_cannot_be_used_is_said_once_and_left_alone(kits, tmp_path):
    place = tmp_path / "settings.toml"
    place.write_text('theme = "nrod"\n')
    app = KitbuilderApp(kits, preferences=Preferences(place))
    async with app.run_test() as pilot:
        await settle(pilot)
        assert 'Did you mean "nord"?' in told(app)
    assert place.read_text() == 'theme = "nrod"\n'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", ""),
        ('theme = "nord"\n', ""),
        ('[keys]\nfliter = "k"\n', 'settings.toml:2: fliter: there is no such action. Did you mean "filter"? See: '),
        ('units = "cubits"\n', 'settings.toml:1: units: found "cubits". See: '),
        ('units = "cubits"\ntheme = "nrod"\nnope = 1\n', "3 settings are not used. See: "),
        ("units = ", "settings.toml:1: this is not TOML: invalid value. See: "),
    ],
)
def test_what_cannot_be_used_is_said_in_a_line_or_two(tmp_path, text, said):
    """A message covers the screen, and a list of all actions or themes covers most of it: the command prints it."""
    place = tmp_path / "settings.toml"
    place.write_text(text)
    complaint = Preferences(place).complaint
    assert complaint == (f"{said}kitbuilder settings" if said else "")
    assert "\n" not in complaint


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
