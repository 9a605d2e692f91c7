"""A diver in one line: "178 cm, 82 kg, male" as the keys of a diver file."""

import re
from collections.abc import Iterator, Mapping

from kitbuilder.kit.diver import DiverHeader
from kitbuilder.kit.fields import field_named
from kitbuilder.kitfile.overrides import SEX_WORDS, override_diver, sex_named
from kitbuilder.kitfile.values import Refusal
from kitbuilder.spellings import with_unit

TYPED_DIVER = "178 cm, 82 kg, male"
"""A diver by body height, mass and sex; each may be left out."""
IMPERIAL_DIVER = "5 ft 10 in, 180 lb, male"
METRIC_UNITS = {"stature": "cm", "mass": "kg"}
IMPERIAL_UNITS = {"stature": "in", "mass": "lb"}

_SEX = re.compile(
    rf"^({'|'.join(SEX_WORDS)})(?:\s*[,;]\s*|\s+|$)|(?:^|[\s,;])({'|'.join(SEX_WORDS)})\s*[,;]?$", re.IGNORECASE
)
"""The sex in front of a line or at its end."""
_IMPERIAL = re.compile(r"['\"′’]|\b(?:ft|foot|feet|in|inch|inches|lbs?|pounds?)\b", re.I)
_METRIC = re.compile(r"(?:cm|mm|m|kgs?|kilos?)\b", re.I)
_GAP = re.compile(r"\s*[,;]\s+|\s*;\s*|\s+")


def diver_typed(text: str, units: Mapping[str, str]) -> dict[str, str]:
    """Give keys of a diver file, each value with its unit, by a line that is typed.

    Args:
        text: Body height, body mass and sex; each may be left out. The height comes before the mass unless units or
            sizes say otherwise.
        units: The unit of a number without one, by key, where no other number has one.

    Raises:
        Refusal: It is no such line, or a value is not accepted.
    """
    limits: list[Refusal] = []
    # First as it stands: the m of "1.78 m" is no sex.
    for line, sex in ((text.strip(), {}), _without_sex(text.strip())):
        if sex and not line:
            return sex
        for parts in _partings(line):
            keys = _with_units(parts, units)
            refusals = _refusals(keys)
            if not refusals:
                return keys | sex
            # Values beyond their limits were understood; what is wrong with other readings of the line helps nobody.
            if all(refusal.accepted.startswith("Accepted: from ") for refusal in refusals):
                limits += refusals
    raise limits[0] if limits else _refused(text)


def _without_sex(line: str) -> tuple[str, dict[str, str]]:
    """Take the sex off a line, at its beginning or its end."""
    found = _SEX.search(line)
    if found is None:
        return line, {}
    rest = line[found.end() :] if found[1] else line[: found.start()]
    return rest.strip(" ,;"), {"sex": sex_named(found[1] or found[2])}


def _with_units(parts: dict[str, str], units: Mapping[str, str]) -> dict[str, str]:
    """Give each number a unit: in the system of the other number, where that has one."""
    written = " ".join(parts.values())
    if _IMPERIAL.search(written):
        units = IMPERIAL_UNITS
    elif _METRIC.search(written):
        units = METRIC_UNITS
    return {key: with_unit(part, units[key], field_named(DiverHeader, key).dimension) for key, part in parts.items()}


def _refusals(keys: Mapping[str, str]) -> list[Refusal]:
    refusals = []
    for key, text in keys.items():
        try:
            override_diver(None, {key: text})
        except Refusal as refusal:
            refusals.append(refusal)
    return refusals


def _partings(line: str) -> Iterator[dict[str, str]]:
    """Give the ways to read a line: as a height and a mass, parted at any gap, as one of them, as mass and height."""
    gaps = [(line[: gap.start()], line[gap.end() :]) for gap in _GAP.finditer(line)]
    yield from ({"stature": first, "mass": second} for first, second in gaps)
    yield {"stature": line}
    yield {"mass": line}
    yield from ({"stature": second, "mass": first} for first, second in gaps)


def _refused(text: str) -> Refusal:
    accepted = f'Accepted: body height, body mass and sex, such as "{TYPED_DIVER}"; each may be left out.'
    return Refusal(f'found "{text.strip()}"', accepted)
