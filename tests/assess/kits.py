"""Kits to look at: those that come with the program, changed a little, or one hose by itself."""

import json
import re
from dataclasses import replace
from pathlib import Path

from kitbuilder.assess.assessment import Assessment, assess
from kitbuilder.assess.buoyancy.balance import Balance, work_out_balance
from kitbuilder.assess.fit.hose_figures import HoseFigures
from kitbuilder.assess.water import assess_water
from kitbuilder.kit.diver import Diver, DiverHeader, FloatCheck
from kitbuilder.kit.items import Item, Kit
from kitbuilder.kit.resolved import NOTHING_LINKED, LinkedFiles, resolve
from kitbuilder.kitfile.read import resolve_at
from kitbuilder.kitfile.reader import read_kit

CONFIGS = Path(__file__).parents[2] / "configs"
CASES_FOLDER = Path(__file__).parents[1] / "cases"
"""Files of users."""
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
    """A text with keys of the item of that tag set, added or, when None, taken away; `from_` stands for "from"."""
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
    """A text without the item of that tag."""
    before, table, after = re.split(rf'(\[\[\w+\]\])(?=\ntag\s*= "{tag}"\s)', text)
    assert table
    return before + after[after.index("[[") :] if "[[" in after else before


def kit_of(text: str) -> Kit:
    """The kit a text tells of; its problems otherwise."""
    reading = read_kit(text)
    assert reading.kit is not None, [str(problem) for problem in reading.problems]
    return reading.kit


def assessed(text: str, beside: LinkedFiles = NOTHING_LINKED) -> Assessment:
    """A kit file, worked out, by itself by default."""
    return assess(resolve(kit_of(text), beside))


def shipped(name: str) -> Assessment:
    """A kit that comes with the program, worked out with the diver file it names."""
    kit = kit_of(config(name))
    return assess(resolve(kit, resolve_at(CONFIGS / f"{name}.toml", kit).linked))


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


# --- balance ----------------------------------------------------------------------------------------------------------

OWN = "own.toml"
"""The file name of the kit a test is about."""
PLAIN = f"""format = 1
name = "plain"
layout = "single"
{SALT}

[[cylinder]]
tag = "tank"
preset = "aluminium 11.1 L 207"

[[suit]]
tag = "suit"
cut = "full suit"
thickness = "5 mm"

[[wing]]
tag = "wing"
preset = "single-cylinder wing"
lift = "18 kg"

[[lead]]
tag = "belt"
mass = "1 kg"
pieces = 6
"""
"""One cylinder, a foam suit and about the lead it needs with `beside()`.

By hand, at 5 m with 50 bar: body +0.7, cylinder +1.9 less 0.7 of gas, suit +3.2, wing 0: +5.1 kg, so 5.6 kg of lead.
At 30 m with the gas full the suit has lost 2.8 kg more and the gas is 2.1 kg more: +0.3 kg without lead.
"""


def beside(
    *checks: FloatCheck,
    stature_m: float | None = 1.78,
    mass_kg: float | None = 82.0,
    sex: str | None = "male",
    kits: tuple[tuple[str, Kit], ...] = (),
) -> LinkedFiles:
    """A man of 82 kg and 178 cm with those float checks, beside a kit called `OWN`."""
    header = DiverHeader(format=1, holds="diver", name="somebody", stature_m=stature_m, mass_kg=mass_kg, sex=sex)
    diver = Diver(header, checks)
    worn = tuple((name, resolve(kit, LinkedFiles(own=name, diver=diver))) for name, kit in kits)
    return LinkedFiles(OWN, diver, worn)


def float_check(tag: str = "check", **keys: object) -> FloatCheck:
    """A float check, in the kit itself and neutral by default."""
    return FloatCheck(**({"tag": tag, "kit": OWN, "seen": "neutral"} | keys))  # type: ignore[arg-type]


def balance_of(kit: Kit, around: LinkedFiles | None = None) -> Balance:
    """The balance of a kit, worn by the diver of `beside()` by default."""
    found = work_out_balance(resolve(kit, beside() if around is None else around), assess_water(kit.header))
    assert found is not None
    return found


def number_of(kit: Kit, tag: str) -> int:
    """The number of the item of that tag."""
    return [item.tag for item in kit.items].index(tag)


def swapped(kit: Kit, tag: str, **attributes: object) -> Kit:
    """A kit with attributes of the item of that tag set."""
    items = (replace(item, **attributes) if item.tag == tag else item for item in kit.items)
    return Kit(kit.header, tuple(items))


def with_items(kit: Kit, *items: Item) -> Kit:
    """A kit with more items."""
    return Kit(kit.header, (*kit.items, *items))


def with_header(kit: Kit, **attributes: object) -> Kit:
    """A kit with attributes of its header set."""
    return Kit(replace(kit.header, **attributes), kit.items)
