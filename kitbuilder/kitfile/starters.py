"""Starting points: a whole kit for a layout, and the first values of a new item."""

import tomllib
from pathlib import Path

from kitbuilder import catalogue as trade_data
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.fields import fields_of
from kitbuilder.kit.file_kinds import GEAR_FILE, KIT_FILE, FileKind
from kitbuilder.kit.items import KINDS, LAYOUTS, Hose, Kit
from kitbuilder.kitfile import edits
from kitbuilder.kitfile.choices import example_for
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.reader import read_kit

USUAL_LENGTH = "75 cm"
"""Of a new hose whose role has no customary length in the layout."""


def starter_text(layout: str, name: str) -> str:
    """Give the text of a new kit for a layout, with the given name.

    Raises:
        KeyError: There is no such layout.
    """
    if layout not in LAYOUTS:
        raise KeyError(layout)
    folder = Path(trade_data.__file__).parent / "layouts"
    text = (folder / f"{layout}.toml").read_text("utf-8")
    return edits.set_value(text, read_kit(text).blocks[0], "name", name)


def diver_text() -> str:
    """Give the text of a new diver file."""
    return (
        "# The diver of these kits. Tell stature and mass, and add float checks: they say more than any table.\n\n"
        'format = 1\nholds  = "diver"\nname   = "Diver"\n'
    )


def gear_text() -> str:
    """Give the text of a new gear file."""
    return (
        "# What is owned. Kits that name this file as `gear` say with `owned` which of these their items are.\n\n"
        'format = 1\nholds  = "gear"\nname   = "Gear"\n'
    )


WHICH = ("role", "cut", "preset", "thread", "adapter", "size")
"""The keys that say which one of its kind an item is; no kind has two of them."""


def which_key(kind: str, file: FileKind = KIT_FILE) -> str | None:
    """Give the key that says which one of its kind an item of a file is; None for a kind that has none."""
    keys = {field.key for field in fields_of(file.kinds[kind])}
    return next((key for key in WHICH if key in keys), None)


def first_values(kit: Kit, kind: str, word: str | None, tag: str) -> dict[str, TomlValue]:
    """Give the keys of a new item.

    Args:
        kit: The kit it goes into.
        kind: Its table.
        word: What `which_key` takes: the role of a hose, the preset of another item; None when it is not said.
        tag: Its tag, not taken in the kit.
    """
    if KINDS[kind] is Hose and word is not None:
        return {"tag": tag, "role": word} | _hose_values(word, kit.header.layout)
    return _plain_values(kind, word, tag, KIT_FILE)


def first_owned(kind: str, word: str | None, tag: str) -> dict[str, TomlValue]:
    """Give the keys of a new item of a gear file.

    Args:
        kind: Its table.
        word: What `which_key` takes; of a hose what it is for, which tells its ends. None when it is not said.
        tag: Its tag, not taken in the gear file.
    """
    if kind == Hose.kind and word is not None:
        return {"tag": tag} | _hose_values(word, None)
    return _plain_values(kind, word, tag, GEAR_FILE)


def _plain_values(kind: str, word: str | None, tag: str, file: FileKind) -> dict[str, TomlValue]:
    key = which_key(kind, file)
    values: dict[str, TomlValue] = {"tag": tag} if word is None or key is None else {"tag": tag, key: word}
    return values | _needed_values(kind, values, file)


def _needed_values(kind: str, values: dict[str, TomlValue], file: FileKind) -> dict[str, TomlValue]:
    """Give the keys an item cannot do without, such as the mass of a piece of lead, as the reference shows them."""
    fields = [field for field in fields_of(file.kinds[kind]) if field.required and field.key not in values]
    return {field.key: tomllib.loads(f"value = {example_for(field, kind)}")["value"] for field in fields}


def _hose_values(role_name: str, layout: str | None) -> dict[str, TomlValue]:
    """Give body, length and ends of a hose by what it is for."""
    role = catalogue().roles[role_name]
    custom = role.customary.get(layout) if layout else None
    stock = catalogue().stock_lengths[role.service]
    length = next((length for length in stock if custom and length >= custom[0] - 0.005), None)
    return {
        "body": "rubber",
        "length": f"{length * 100:.3g} cm" if length else USUAL_LENGTH,
        "from_end": role.from_end,
        "to_end": role.to_end,
    }
