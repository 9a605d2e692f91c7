"""The settings of a user: a small TOML file in the folder where the system keeps settings of programs.

A setting that cannot be used is named and left out; the others count. A file that is not TOML is kept under another
name before a new one is written in its place.
"""

import os
import re
from collections.abc import Callable, Iterator, Mapping, MutableMapping
from pathlib import Path
from typing import Any, NamedTuple

from kitbuilder.kitfile.disk import Over, UnreadableFile, make_folder, read_text, save_text
from kitbuilder.kitfile.problems import Problem, nearest
from kitbuilder.kitfile.raw_values import describe
from kitbuilder.kitfile.syntax import NotToml, parse_toml

NAME = "settings.toml"
Value = str | bool | None
UNITS = ("metric", "imperial")
IN_LISTS = (
    "up", "down", "tab", "shift+tab", "pageup", "pagedown", "home", "end",
    "j", "k", "ctrl+c", "ctrl+i", "ctrl+m", "ctrl+left", "ctrl+right",
)  # fmt: skip
"""Keys that lists and lines take for themselves, so that no action can have them."""


class Settings(NamedTuple):
    """What the user has chosen; None, and no keys, where nothing was."""

    theme: str | None = None
    """The name of a theme of the app."""
    units: str | None = None
    """"metric" or "imperial"."""
    plain_pictures: bool | None = None
    """Whether pictures are drawn with letters and signs."""
    last_folder: str | None = None
    """The folder that was open last."""
    shelf_order: str | None = None
    """The column that the kits of a folder are sorted by, " reversed" behind it for the other way round."""
    keys: Mapping[str, str] = {}
    """The keys of actions that have others than usual, by the ids of the actions; several are separated by commas."""


class Known(NamedTuple):
    """What the app knows, and settings are checked against."""

    themes: tuple[str, ...]
    actions: Mapping[str, str]
    """The usual keys of each action by its id, separated by commas."""
    key_named: Callable[[str], str | None]
    """Gives a key as the app names it: "question_mark" for "?"; None when there is none of that name."""
    orders: tuple[str, ...]
    """What the kits of a folder can be sorted by, both ways."""


class SettingsReading(NamedTuple):
    """The settings that can be used, and what is wrong with the others."""

    path: Path
    settings: Settings
    problems: tuple[Problem, ...] = ()


class NotKept(OSError):
    """A setting could not be written; the message says why and what to do."""


def settings_path() -> Path:
    """Give the place of the settings, by the rules of the system."""
    from platformdirs import user_config_path

    return user_config_path("kitbuilder", appauthor=False) / NAME


def read_settings(path: Path, known: Known | None = None) -> SettingsReading:
    """Read the settings. Whatever is wrong with the file, the app can start.

    Args:
        path: The file; it need not be there.
        known: What themes, actions and keys are checked against; they are taken as they are without it.
    """
    if not os.path.lexists(path):
        return SettingsReading(path, Settings())
    try:
        text = read_text(path)
        return checked(path, text, parse_toml(text), known)
    except UnreadableFile as error:
        return SettingsReading(path, Settings(), (Problem(None, "", str(error), "No setting is used."),))
    except NotToml as error:
        found = error.problem
        ignored = f"{found.accepted} Until then no setting is used."
        return SettingsReading(path, Settings(), (found._replace(accepted=ignored),))


def checked(path: Path, text: str, data: Mapping[str, Any], known: Known | None) -> SettingsReading:
    """Give the settings that can be used, and name the others with their lines."""
    problems: list[Problem] = []
    usable: dict[str, Any] = {}

    def refuse(name: str, found: str, accepted: str) -> None:
        problems.append(Problem(_line_of(text, name), name, found, accepted))

    for name, value in data.items():
        if name not in Settings._fields:
            names = ", ".join(Settings._fields)
            refuse(name, "there is no such setting", f"Accepted: {names}.{nearest(name, Settings._fields)}")
        elif name == "keys" and isinstance(value, dict):
            usable[name] = _usable_keys(value, known, refuse)
        elif accepted := _complaint(name, value, known):
            refuse(name, f"found {describe(value)}", accepted)
        else:
            usable[name] = value
    return SettingsReading(path, Settings(**usable), tuple(problems))


def refusal_of(path: Path, changes: Mapping[str, Value], known: Known) -> str:
    """Say why changes would not be used; empty when all would.

    Args:
        path: The settings as they are.
        changes: New values by their names; "keys.ID" for those of an action, None for a setting to take out.
        known: What themes, actions and keys are checked against.
    """
    usable = read_settings(path, known).settings
    wanted: dict[str, Any] = {name: value for name, value in usable._asdict().items() if value is not None}
    wanted["keys"] = dict(usable.keys)
    for name, value in changes.items():
        _put(wanted, name.split(".", 1), value)
    return " ".join(map(str, checked(path, "", wanted, known).problems))


def changed_settings(path: Path, **values: Value) -> Path | None:
    """Write some settings and leave all others, with their comments, as they are. None takes a setting out.

    A key of an action is named "keys.ID", in a dictionary. Gives where the old text was kept, if it was not TOML.

    Raises:
        NotKept: The disk refused, or the text cannot be changed safely.
    """
    try:
        text = read_text(path, follow=False) if os.path.lexists(path) else ""
        make_folder(path.parent)
        kept = None
        try:
            parse_toml(text)
        except NotToml:
            kept, text = _keep(path, text), ""
        save_text(path, _changed(text, values), Over.FILE)
    except NotKept:
        raise
    except UnreadableFile as error:
        raise NotKept(f"{path}: {error}") from None
    except OSError as error:
        raise NotKept(f"{path}: {error.strerror or error}. Check the file and its folder") from None
    return kept


def _changed(text: str, values: Mapping[str, Value]) -> str:
    """Set values in a text of settings.

    Raises:
        NotKept: The text says something else afterwards than it should.
    """
    import tomlkit  # slow to import, and needed only once something is changed

    document, wanted = tomlkit.parse(text), parse_toml(text)
    for name, value in values.items():
        _put(document, name.split(".", 1), value)
        _put(wanted, name.split(".", 1), value)
    after = tomlkit.dumps(document)
    if parse_toml(after) != wanted:
        raise NotKept("the settings cannot be changed without a loss. Change them in a text editor")
    return after


def _put(table: MutableMapping[str, Any], names: list[str], value: Value) -> None:
    """Set a value in a table, or in a table of it; take it out for None."""
    first, *rest = names
    if rest:
        if not isinstance(table.get(first), dict):
            table[first] = {}
        _put(table[first], rest, value)
    elif value is None:
        table.pop(first, None)
    else:
        table[first] = value


def _keep(path: Path, text: str) -> Path:
    """Write a broken text under another name, over nothing, and give the name."""
    place = path.with_name(f"{path.stem}-broken{path.suffix}")
    if os.path.lexists(place):
        raise NotKept(f"{place}: a broken file of before is there already. Fix or delete it")
    save_text(place, text, Over.NOTHING)
    return place


def _complaint(name: str, value: object, known: Known | None) -> str:
    """Say what a setting accepts; empty when the value is accepted."""
    match name:
        case "units":
            return "" if value in UNITS else 'Accepted: "metric", "imperial".'
        case "plain_pictures":
            return "" if isinstance(value, bool) else "Accepted: true, false."
        case "last_folder":
            is_name = isinstance(value, str) and bool(value) and value.isprintable()
            return "" if is_name else 'Accepted: a folder, as in "/home/me/kits".'
        case "shelf_order":
            is_order = isinstance(value, str) and (known is None or value in known.orders)
            return "" if is_order else f"Accepted: {', '.join(known.orders if known else ())}."
        case "theme":
            return _complaint_of_theme(value, known)
    return 'Accepted: a table, [keys], with lines such as units = "U".'


def _complaint_of_theme(value: object, known: Known | None) -> str:
    if not isinstance(value, str):
        return 'Accepted: the name of a theme in quotes, as in "nord".'
    if known is None or value in known.themes:
        return ""
    return f"Accepted: {', '.join(known.themes)}.{nearest(value, known.themes)}"


Refuse = Callable[[str, str, str], None]


def _usable_keys(wanted: Mapping[str, Any], known: Known | None, refuse: Refuse) -> dict[str, str]:
    """Give the keys that can be used; each key belongs to one action."""
    usable: dict[str, str] = {}
    for action, keys in wanted.items():
        if not isinstance(keys, str):
            refuse(action, f"found {describe(keys)}", 'Accepted: a key in quotes, "f6"; several with commas, "f6,U".')
        elif known is not None and action not in known.actions:
            hint = nearest(action, known.actions)
            refuse(action, "there is no such action", f"Accepted: {', '.join(known.actions)}.{hint}")
        elif known is not None and (wrong := next(_wrong_keys(keys, known), "")):
            refuse(action, f"found {describe(keys)}", wrong)
        else:
            name = known.key_named if known else str
            usable[action] = ",".join(name(key) or key for key in _split(keys))
    return _without_doubles(usable, known.actions, refuse) if known else usable


def _split(keys: str) -> list[str]:
    """Give each key of several that are separated by commas; "," alone is the comma."""
    return [keys] if keys == "," else [key.strip() for key in keys.split(",")]


def _wrong_keys(keys: str, known: Known) -> Iterator[str]:
    for key in _split(keys):
        name = known.key_named(key)
        if name is None:
            yield f'"{key}" is no key. Accepted: a letter, a digit or a sign, f1 to f12, ctrl+o, shift+up, delete.'
        elif name in IN_LISTS:
            yield f'Lists use "{key}" themselves. Choose another key.'


def _without_doubles(usable: dict[str, str], usual: Mapping[str, str], refuse: Refuse) -> dict[str, str]:
    """Leave out actions with a key that another action has already, by these settings or as usual.

    Leaving one out gives it its usual keys back, which may be taken by another: until nothing changes.
    """
    kept = dict(usable)
    while (double := next(_doubles(kept, usual), None)) is not None:
        action, key, other = double
        refuse(action, f'found "{key}"', f'"{other}" has this key already. Give one of the two another key.')
        del kept[action]
    return kept


def _doubles(kept: Mapping[str, str], usual: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    """List actions of the settings with a key of another action: the action, the key, the other action."""
    in_force = {action: _split(kept.get(action, keys)) for action, keys in usual.items()}
    for action in reversed(list(kept)):
        for key in in_force[action]:
            others = [other for other, keys in in_force.items() if other != action and key in keys]
            if others:
                yield action, key, others[0]


def _line_of(text: str, name: str) -> int | None:
    """Find the one line that sets a key; None when no line or several may be meant."""
    lines = [
        number
        for number, line in enumerate(text.splitlines(), 1)
        if re.match(rf"""\s*\[?\s*["']?{re.escape(name)}["']?\s*[=\].]""", line)
    ]
    return lines[0] if len(lines) == 1 else None
