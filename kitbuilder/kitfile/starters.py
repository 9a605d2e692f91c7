"""Starting points: a whole kit for a layout, and the first values of a new thing."""

from pathlib import Path

from kitbuilder import catalogue as trade_data
from kitbuilder.catalogue import catalogue
from kitbuilder.kit.things import KINDS, LAYOUTS, Hose, Kit
from kitbuilder.kitfile import edits
from kitbuilder.kitfile.edits import Value
from kitbuilder.kitfile.reader import read_kit

USUAL_LENGTH = "75 cm"
"""Of a new hose whose role has no customary length in the layout."""


def starter_text(layout: str, name: str) -> str:
    """The text of a new kit for a layout, with the given name.

    Raises:
        KeyError: There is no such layout.
    """
    if layout not in LAYOUTS:
        raise KeyError(layout)
    folder = Path(trade_data.__file__).parent / "layouts"
    text = (folder / f"{layout}.toml").read_text("utf-8")
    return edits.set_value(text, read_kit(text).blocks[0], "name", name)


def first_values(kit: Kit, kind: str, word: str | None, tag: str) -> dict[str, Value]:
    """The keys of a new thing.

    Args:
        kit: The kit it goes into.
        kind: Its table.
        word: The role of a hose, the preset of another thing; None for a thing without a preset.
        tag: Its tag, not taken in the kit.
    """
    if KINDS[kind] is Hose and word is not None:
        return _hose_values(kit, word, tag)
    return {"tag": tag} if word is None else {"tag": tag, "preset": word}


def _hose_values(kit: Kit, role_name: str, tag: str) -> dict[str, Value]:
    role = catalogue().roles[role_name]
    custom = role.customary.get(kit.header.layout)
    stock = catalogue().stock_lengths[role.service]
    length = next((length for length in stock if custom and length >= custom[0] - 0.005), None)
    return {
        "tag": tag,
        "role": role_name,
        "body": "rubber",
        "length": f"{length * 100:.3g} cm" if length else USUAL_LENGTH,
        "from_end": role.from_end,
        "to_end": role.to_end,
    }
