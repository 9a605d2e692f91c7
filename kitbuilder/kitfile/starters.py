"""Starting points: a whole kit for a layout, and the first values of a new item."""

import tomllib
from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import cycle
from typing import NamedTuple

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.styles import Exposure, Style, styles
from kitbuilder.kit.fields import field_named, fields_of
from kitbuilder.kit.file_kinds import DIVER_FILE, GEAR_FILE, KIT_FILE, FileKind
from kitbuilder.kit.items import (
    KINDS,
    LAYOUTS,
    Cylinder,
    Drysuit,
    FirstStage,
    Header,
    Hose,
    Kit,
    Lead,
    Suit,
    split_port,
)
from kitbuilder.kitfile import edits
from kitbuilder.kitfile.blocks import Block
from kitbuilder.kitfile.choices import choices_for, example_for
from kitbuilder.kitfile.cylinder_typed import cylinder_values
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.reader import parse_as, read_kit

USUAL_LENGTH = "75 cm"
"""Of a new hose whose role has no customary length in the layout."""


class Answers(NamedTuple):
    """What a new kit is made from: a style, and what its owner says of it. None stands for "don't know"."""

    name: str
    style: str
    """One of `styles.toml`."""
    exposure: str | None = None
    """One of `styles.toml`; the usual one of the style when None."""
    cylinder: str | None = None
    """What `cylinder_values` reads; the usual one of the style when None."""
    water: str | None = None
    body: str | None = None
    """Of every hose; as in the style when None."""
    diver: str | None = None
    """The diver file that the kit names."""


class Adjusted(NamedTuple):
    """What is set in a new kit once it was worked out."""

    lengths: Mapping[str, str] = {}
    """Of hoses, by tag."""
    lead: tuple[tuple[str, int], ...] | None = None
    """Mass of a piece and how many; as in the style when None."""


AS_IN_STYLE = Adjusted()


def kit_text(answers: Answers, adjusted: Adjusted = AS_IN_STYLE) -> str:
    """Give the text of a new kit.

    Args:
        answers: Words of the catalogue.
        adjusted: What to set beside.

    Raises:
        KeyError: There is no such style or exposure.
        Refusal: The cylinder is not understood.
    """
    style = styles().styles[answers.style]
    text = KIT_FILE.schema_line + style.path.read_text("utf-8")
    text = _with_keys(text, None, name=answers.name, water=answers.water, diver=answers.diver)
    exposure = styles().exposures[answers.exposure or style.exposure]
    text = _with_exposure(text, exposure)
    if style.foam_lead and not exposure.undersuit:
        text = _on_a_belt(text, style.foam_lead)
    if cylinder := answers.cylinder or _lighter_cylinder(style, exposure):
        text = _with_cylinder(text, cylinder_values(cylinder))
    if answers.body is not None:
        for hose in _kit_of(text).hoses:
            text = _with_keys(text, hose.tag, body=answers.body)
    for tag, length in adjusted.lengths.items():
        text = _with_keys(text, tag, length=length)
    return text if adjusted.lead is None else _with_lead(text, adjusted.lead)


def waters() -> tuple[str, ...]:
    """Give the words that may answer for the water."""
    return choices_for(field_named(Header, "water"), "")


def bodies() -> tuple[str, ...]:
    """Give the words that may answer for the body of the hoses."""
    return choices_for(field_named(Hose, "body"), Hose.kind)


def starter_text(layout: str, name: str) -> str:
    """Give the text of a new kit in the usual style of a layout, with the given name.

    Raises:
        KeyError: There is no such layout.
    """
    return kit_text(Answers(name, styles().usual_of(layout).name))


def usual_cylinder(style: str | None = None, exposure: str | None = None) -> str:
    """Give the preset that a new kit has when nobody says which cylinder it is.

    Raises:
        KeyError: There is no such style or exposure.
    """
    known = styles()
    found = known.styles[style] if style else known.usual_of(LAYOUTS[0])
    if lighter := _lighter_cylinder(found, known.exposures[exposure or found.exposure]):
        return lighter
    cylinders = (item for item in _kit_of(found.path.read_text("utf-8")).items if isinstance(item, Cylinder))
    return next(item.preset for item in cylinders if item.carried != "stage" and item.preset)


def _lighter_cylinder(style: Style, exposure: Exposure) -> str:
    """Name the cylinder in place of that of the style's file; nothing under a drysuit, which is a second lift."""
    return "" if exposure.undersuit else style.foam_cylinder


def _kit_of(text: str) -> Kit:
    kit = read_kit(text).kit
    assert kit is not None, "a style reads as a kit, whatever is answered"
    return kit


def _with_keys(text: str, tag: str | None, **values: TomlValue | None) -> str:
    """Set keys of the item of a tag, or of the heading; None leaves a key as it is."""
    for key, value in values.items():
        if value is not None:
            text = edits.set_value(text, _block_of(text, tag), key, value)
    return text


def _block_of(text: str, tag: str | None) -> Block:
    blocks = read_kit(text).blocks
    return blocks[0] if tag is None else blocks[_number_of(text, tag)]


def _number_of(text: str, tag: str) -> int:
    """Give the number of the block of an item; the heading is the first."""
    return next(number for number, item in enumerate(_kit_of(text).items, start=1) if item.tag == tag)


def _without(text: str, tag: str) -> str:
    return edits.remove_item(text, read_kit(text).blocks, _number_of(text, tag))


def _with_exposure(text: str, exposure: Exposure) -> str:
    """Put on what keeps the diver warm; without an undersuit the drysuit goes, and its hose with it."""
    text = _with_keys(text, None, neck=exposure.neck)
    for suit in (item for item in _kit_of(text).items if isinstance(item, Drysuit)):
        text = _with_keys(text, suit.tag, undersuit=exposure.undersuit) if exposure.undersuit else _dry(text, suit)
    last = next(number for number, item in enumerate(_kit_of(text).items) if isinstance(item, Lead))
    for foam in reversed(exposure.foam):
        lines = edits.item_lines(Suit.kind, {"tag": foam.tag, "cut": foam.cut, "thickness": foam.thickness})
        text = edits.insert_item(text, read_kit(text).blocks[last], lines)
    return text


def _dry(text: str, suit: Drysuit) -> str:
    """Take a drysuit out, with the hose that feeds it; a plug closes the port."""
    for hose in (hose for hose in _kit_of(text).hoses if hose.to == suit.tag):
        stage, port = split_port(hose.from_ or "")
        plugged = next(
            item.plugged for item in _kit_of(text).items if isinstance(item, FirstStage) and item.tag == stage
        )
        # LP before HP, as the ports of a preset stand.
        ports = sorted((*plugged, port), key=lambda name: (name.startswith("HP"), name))
        text = _with_keys(_without(text, hose.tag), stage, plugged=ports)
    return _without(text, suit.tag)


def _with_cylinder(text: str, values: dict[str, TomlValue]) -> str:
    """Put another cylinder in place of each that is not a stage."""
    for item in _kit_of(text).items:
        if isinstance(item, Cylinder) and item.carried != "stage":
            if "preset" not in values:
                text = edits.set_value(text, _block_of(text, item.tag), "preset", None)
            text = _with_keys(text, item.tag, **values)
    return text


def _on_a_belt(text: str, belt: str) -> str:
    """Put the lead where it can be dropped."""
    first = next(item.tag for item in _kit_of(text).items if isinstance(item, Lead))
    text = edits.set_value(text, _block_of(text, first), "place", None)
    text = _with_keys(text, first, droppable=True)
    return edits.set_value(text, _block_of(text, first), "tag", belt)


def _with_lead(text: str, pieces: Sequence[tuple[str, int]]) -> str:
    """Put these pieces where the style carries its lead, in the proportion that it does; each size is an item."""
    places = [item for item in _kit_of(text).items if isinstance(item, Lead)]
    turns = [item.tag for item in places for _ in range(item.pieces or 1)]
    dealt: dict[str, Counter[str]] = {item.tag: Counter() for item in places}
    for tag, mass in zip(cycle(turns), (mass for mass, count in pieces for _ in range(count)), strict=False):
        dealt[tag][mass] += 1
    for tag, sizes in dealt.items():
        text = _with_lead_at(text, tag, sizes) if sizes else _without(text, tag)
    return text


def _with_lead_at(text: str, tag: str, sizes: Mapping[str, int]) -> str:
    """Make an item of lead one for each size of its pieces; the further ones are named after the first."""
    most = max(map(int, field_named(Lead, "pieces").choices))
    lots = [(mass, min(most, count - given)) for mass, count in sizes.items() for given in range(0, count, most)]
    text = _with_keys(text, tag, mass=lots[0][0], pieces=lots[0][1])
    for number, (mass, count) in reversed(list(enumerate(lots[1:], start=2))):
        raw = dict(read_kit(text).rows[_number_of(text, tag)][1])
        lines = edits.item_lines(Lead.kind, raw | {"tag": f"{tag} {number}", "mass": mass, "pieces": count})
        text = edits.insert_item(text, _block_of(text, tag), lines)
    return text


def diver_text(values: Mapping[str, str] = {}) -> str:
    """Give the text of a new diver file.

    Args:
        values: Keys of it, such as stature and mass, as a file has them.
    """
    text = (
        f"{DIVER_FILE.schema_line}"
        "# The diver of these kits. Write stature and mass. Add float checks: they tell more than any table.\n\n"
        'format = 1\nholds  = "diver"\nname   = "Diver"\n'
    )
    for key, value in values.items():
        text = edits.set_value(text, parse_as(text, DIVER_FILE).blocks[0], key, value, DIVER_FILE)
    return text


def gear_text() -> str:
    """Give the text of a new gear file."""
    return (
        f"{GEAR_FILE.schema_line}"
        "# What the diver owns. Kits that name this file as `gear` refer to these items with `owned`.\n\n"
        'format = 1\nholds  = "gear"\nname   = "Gear"\n'
    )


WHICH = ("role", "cut", "preset", "thread", "adapter", "size")
"""The keys that say which one of its kind an item is; no kind has two of them."""


def which_key(kind: str, file: FileKind = KIT_FILE) -> str | None:
    """Give the key that says which one of its kind an item of a file is; None for a kind that has none."""
    keys = {field.key for field in fields_of(file.kinds[kind])}
    return next((key for key in WHICH if key in keys), None)


def first_values(layout: str, kind: str, word: str | None, tag: str) -> dict[str, TomlValue]:
    """Give the keys of a new item.

    Args:
        layout: That of the kit it goes into.
        kind: Its table.
        word: What `which_key` takes: the role of a hose, the preset of another item; None when it is not said.
        tag: Its tag, not taken in the kit.
    """
    if KINDS[kind] is Hose and word is not None:
        return {"tag": tag, "role": word} | _hose_values(word, layout)
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
