"""Kits to look at: those that come with the program, changed a little, or one hose by itself."""

import json
import re
from pathlib import Path

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.hose_figures import HoseFigures
from kitbuilder.kit.things import Kit
from kitbuilder.kitfile.reader import read_kit

CONFIGS = Path(__file__).parents[2] / "configs"
WHOLE = ("warm-single", "cold-single", "twinset", "sidemount")
"""The kits that are meant to be in order."""
WRONG = "wrong-on-purpose"

SALT = 'density = "1025 kg/m3"'
FRESH = 'density = "1000 kg/m3"'


def config(name: str) -> str:
    """The text of a kit that comes with the program."""
    return (CONFIGS / f"{name}.toml").read_text(encoding="utf-8")


def changed(text: str, *changes: tuple[str, str]) -> str:
    """A text with passages replaced, each of which stands there exactly once."""
    for old, new in changes:
        assert text.count(old) == 1, f"{text.count(old)} times: {old}"
        text = text.replace(old, new)
    return text


def with_keys(text: str, tag: str, **keys: str | bool | list[str] | None) -> str:
    """A text with keys of the thing of that tag set, added or, when None, taken away; `from_` stands for "from"."""
    lines = text.splitlines()
    [start] = [number for number, line in enumerate(lines) if re.match(rf'tag\s*= "{tag}"', line)]
    ends = (number for number, line in enumerate(lines) if number > start and line.startswith("[["))
    end = next(ends, len(lines))
    for key, value in keys.items():
        name = key.rstrip("_")
        old = [number for number in range(start, end) if re.match(rf"{name}\s*=", lines[number])]
        for number in old:
            lines[number] = ""
        if value is not None:
            lines[start] += f"\n{name} = {_toml(value)}"
        assert old or value is not None, f"{tag} has no {name}"
    return "\n".join([*lines, ""])


def without(text: str, tag: str) -> str:
    """A text without the thing of that tag."""
    before, table, after = re.split(rf'(\[\[\w+\]\])(?=\ntag\s*= "{tag}"\s)', text)
    assert table
    return before + after[after.index("[[") :] if "[[" in after else before


def kit_of(text: str) -> Kit:
    """The kit a text tells of; its problems otherwise."""
    reading = read_kit(text)
    assert reading.kit is not None, [str(problem) for problem in reading.problems]
    return reading.kit


def assessed(text: str) -> Assessment:
    """A kit file, worked out."""
    return assess(kit_of(text))


def hose_text(**keys: str | bool) -> str:
    """One [[hose]] with these keys over a plain rubber primary of 75 cm; `from_` stands for the key "from"."""
    values = {"tag": "hose", "role": "primary", "body": "rubber", "length": "75 cm"} | keys
    return "\n".join(["[[hose]]", *(f"{key.rstrip('_')} = {_toml(value)}" for key, value in values.items()), ""])


def _toml(value: str | bool | list[str]) -> str:
    return json.dumps(value, ensure_ascii=False)


def lone_hose(water: str = SALT, **keys: str | bool) -> str:
    """A kit of one hose and nothing else, in water of a given density."""
    return f'format = 1\nname = "one hose"\nlayout = "single"\n{water}\n\n{hose_text(**keys)}'


def hose_figures(water: str = SALT, **keys: str | bool) -> HoseFigures:
    """What is worked out for one hose."""
    return assessed(lone_hose(water, **keys)).hoses[0]
