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
SAME_VOLUME = 0.01
"""Cylinders whose volumes differ by a smaller part are named together."""
SIMILAR_VOLUME = 0.15
"""A cylinder whose volume differs by more is no suggestion."""
STEEL_BY_NAME = {"hp": "3442 psi", "lp": "2640 psi"}
"""The working pressure of steel cylinders that are named by it and by cubic feet, such as HP100; from memory."""
_STAMPED = ("volume", "working_pressure", "stamped_mass")
_STAMP = re.compile(r"(\d[\d.,/ ]*)\s*([^\W\d]+[23³]?)")
_RATED = re.compile(rf"(?P<volume>\d.*?){AT}(?P<pressure>\d[\d., ]*?\s*[A-Za-z]+)(?:[,;\s]+(?P<mass>\d.*))?")
_TWIN = re.compile(r"^\s*(?:(?:2|two)\s*[x×*]\s*|(?:d|twin|twins|double|doubles)\s*(?=\d))", re.IGNORECASE)
"""What says that there are two of a cylinder: "2x12", "D12", "twin 12"."""
_STEEL_BY_NAME = re.compile(rf"\s*({'|'.join(STEEL_BY_NAME)})\s*(\d+)\s*", re.IGNORECASE)
_LIST_COMMA = re.compile(r",(?!\d)")
"""A comma between two stamps, not one inside a number."""


def cylinder_values(text: str) -> dict[str, TomlValue]:
    """Give the keys of a cylinder: a preset of the catalogue by its everyday words, or what is stamped on it.

    Raises:
        Refusal: It is neither.
    """
    known = tuple(catalogue().cylinders)
    meant = find_word("cylinder", _TWIN.sub("", text), known)
    if meant.word and not _STEEL_BY_NAME.fullmatch(text):
        return {"preset": meant.word}
    metal, stamps = _metal_and_stamps(text)
    if not metal or len(stamps) != len(_STAMPED):
        raise _refused(text, metal, stamps)
    for key, stamp in zip(_STAMPED, stamps, strict=True):
        try:
            parse_value(field_named(Cylinder, key), Cylinder.kind, stamp)
        except Refusal as refusal:
            place = key.replace("_", " ")
            raise Refusal(f"{place}: {refusal.found}", f'{refusal.accepted} For example: "{TYPED_CYLINDER}".') from None
    return {"metal": metal, **dict(zip(_STAMPED, stamps, strict=True))}


def cylinders_near(text: str) -> tuple[str, ...]:
    """Name the cylinders of the catalogue that are perhaps meant, the nearest first; none where nothing is similar.

    By a rated capacity ("80 cu ft at 3000 psi", "HP100"), of the metal that is named; or one of a twinset ("2x12").
    """
    if twin := _TWIN.match(text):
        return find_word("cylinder", text[twin.end() :], tuple(catalogue().cylinders)).candidates
    metal, _ = _metal_and_stamps(text)
    if named := _STEEL_BY_NAME.fullmatch(text):
        metal, rating = "steel", f"{named[2]} cu ft at {STEEL_BY_NAME[named[1].lower()]}"
    elif rated := _RATED.search(text):
        rating = f"{rated['volume']} at {rated['pressure']}"
    else:
        return ()
    try:
        volume_m3 = parse_capacity(rating).value
    except QuantityError:
        return ()
    presets = (each for each in catalogue().cylinders.items() if not metal or each[1].metal == metal)
    off = {name: abs(preset.volume.value / volume_m3 - 1) for name, preset in presets}
    most = min(min(off.values()) + SAME_VOLUME, SIMILAR_VOLUME)
    return tuple(name for name in sorted(off, key=off.__getitem__) if off[name] <= most)


def _metal_and_stamps(text: str) -> tuple[str, list[str]]:
    """Give the metal, empty where none is named, and what is stamped on it as far as it is written."""
    plain = _LIST_COMMA.sub(" ", text.strip())
    first, _, rest = plain.partition(" ")
    is_metal = first.lower() in catalogue().metals
    return (first.lower(), _stamps(rest.strip())) if is_metal else ("", _stamps(plain))


def _stamps(text: str) -> list[str]:
    """Give volume, working pressure and mass as they are written, or fewer where one is missing."""
    if rated := _RATED.fullmatch(text):
        # A rated capacity is what the cylinder holds at its working pressure.
        found = (f"{rated['volume'].strip()} at {rated['pressure']}", rated["pressure"], rated["mass"])
        return [stamp for stamp in found if stamp]
    return [f"{number.strip()} {unit}" for number, unit in _STAMP.findall(text)]


def _refused(text: str, metal: str, stamps: list[str]) -> Refusal:
    """Say what is missing in what is stamped, where that is clear, and which cylinders are perhaps meant."""
    example = RATED_CYLINDER if _RATED.search(text) else TYPED_CYLINDER
    near = " or ".join(f'"{name}"' for name in cylinders_near(text))
    perhaps = perhaps_meant(find_word("cylinder", text, tuple(catalogue().cylinders)))
    missing = ["metal"] * (not metal) + ["stamped mass"] * (len(stamps) < len(_STAMPED))
    is_begun = bool(metal) or text.strip()[:1].isdigit()
    if is_begun and len(stamps) in (len(_STAMPED) - 1, len(_STAMPED)):
        what = f"The {' and the '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing"
        rest = f", or take {near}, about as large." if near else f".{perhaps}"
        return Refusal(f'found "{text}"', f'{what}. Write all, as in "{example}"{rest}')
    return Refusal(
        f'found "{text}"',
        f'Accepted: words that fit one cylinder of the catalogue, such as "al80" or "steel 12 L 232 long", or what '
        f'is stamped on it: "{TYPED_CYLINDER}", "{RATED_CYLINDER}".{f" Did you mean {near}?" if near else perhaps}',
    )
