"""A cylinder in one line: a preset of the catalogue, or what is stamped on it, as the keys of a kit file."""

import re

from kitbuilder.catalogue import catalogue
from kitbuilder.catalogue.everyday_words import find_word, perhaps_meant
from kitbuilder.kit.fields import field_named
from kitbuilder.kit.supply import Cylinder
from kitbuilder.kitfile.edits import TomlValue
from kitbuilder.kitfile.rated_capacity import RATED_EXAMPLE, parse_capacity
from kitbuilder.kitfile.values import Refusal, parse_value
from kitbuilder.spellings import AT
from kitbuilder.units import QuantityError

TYPED_CYLINDER = "steel 12 L 232 bar 14.2 kg"
"""A cylinder by what is stamped on it: metal, volume, working pressure, mass without valve."""
RATED_CYLINDER = f"aluminium {RATED_EXAMPLE} 31.4 lb"
"""The same by the rated capacity in place of the water that it holds."""
SAME_VOLUME = 0.05
"""Cylinders whose volumes differ by a smaller part are named as near."""
_STAMPED = ("volume", "working_pressure", "stamped_mass")
_STAMP = re.compile(r"(\d[\d.,/ ]*)\s*([^\W\d]+[23³]?)")
_RATED = re.compile(rf"(?P<volume>\d.*?){AT}(?P<pressure>\d[\d., ]*?\s*[A-Za-z]+)(?:[,;\s]+(?P<mass>\d.*))?")
_LIST_COMMA = re.compile(r",(?!\d)")
"""A comma between two stamps, not one inside a number."""


def cylinder_values(text: str) -> dict[str, TomlValue]:
    """Give the keys of a cylinder: a preset of the catalogue by its everyday words, or what is stamped on it.

    Raises:
        Refusal: It is neither.
    """
    meant = find_word("cylinder", text, tuple(catalogue().cylinders))
    if meant.word:
        return {"preset": meant.word}
    metal, _, rest = _LIST_COMMA.sub(" ", text.strip()).partition(" ")
    stamps = _stamps(rest.strip()) if metal.lower() in catalogue().metals else []
    if len(stamps) != len(_STAMPED):
        raise Refusal(
            f'found "{text}"',
            f'Accepted: words that fit one cylinder of the catalogue, such as "al80" or "steel 12 L 232 long", or what '
            f'is stamped on it: "{TYPED_CYLINDER}", "{RATED_CYLINDER}".{_near(text) or perhaps_meant(meant)}',
        )
    for key, stamp in zip(_STAMPED, stamps, strict=True):
        try:
            parse_value(field_named(Cylinder, key), Cylinder.kind, stamp)
        except Refusal as refusal:
            place = key.replace("_", " ")
            raise Refusal(f"{place}: {refusal.found}", f'{refusal.accepted} For example: "{TYPED_CYLINDER}".') from None
    return {"metal": metal.lower(), **dict(zip(_STAMPED, stamps, strict=True))}


def _stamps(text: str) -> list[str]:
    """Give volume, working pressure and mass as they are written, or fewer where one is missing."""
    if rated := _RATED.fullmatch(text):
        # A rated capacity is what the cylinder holds at its working pressure.
        found = (f"{rated['volume'].strip()} at {rated['pressure']}", rated["pressure"], rated["mass"])
        return [stamp for stamp in found if stamp]
    return [f"{number.strip()} {unit}" for number, unit in _STAMP.findall(text)]


def _near(text: str) -> str:
    """Name the cylinders of the catalogue that hold as much as a rated capacity without metal or mass."""
    rated = _RATED.search(text)
    if rated is None:
        return ""
    try:
        volume = parse_capacity(f"{rated['volume']} at {rated['pressure']}").value
    except QuantityError:
        return ""
    near = [
        f'"{name}"'
        for name, preset in catalogue().cylinders.items()
        if abs(preset.volume.value / volume - 1) < SAME_VOLUME
    ]
    return f" About as large: {', '.join(near)}." if near else ""
