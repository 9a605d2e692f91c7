"""A diver in one line: "178 cm, 82 kg, male" as the keys of a diver file."""

import re
from collections.abc import Iterator, Mapping

from kitbuilder.kit.diver import DiverHeader
from kitbuilder.kit.fields import field_named
from kitbuilder.kitfile.overrides import override_diver
from kitbuilder.kitfile.values import Refusal
from kitbuilder.spellings import with_unit

TYPED_DIVER = "178 cm, 82 kg, male"
"""A diver by body height, mass and sex; each may be left out."""
IMPERIAL_DIVER = "5 ft 10 in, 180 lb, male"
METRIC_UNITS = {"stature": "cm", "mass": "kg"}
IMPERIAL_UNITS = {"stature": "in", "mass": "lb"}

_SEXES = {"man": "male", "woman": "female"}
_SEX = re.compile(r"(?:^|[\s,;])(male|female|man|woman)\s*[,;]?$", re.IGNORECASE)
_GAP = re.compile(r"\s*[,;]\s+|\s*;\s*|\s+")


def diver_typed(text: str, units: Mapping[str, str]) -> dict[str, str]:
    """Give keys of a diver file, each value with its unit, by a line that is typed.

    Args:
        text: Body height, body mass and sex, in this order; each may be left out.
        units: The unit of a number without one, by key: the first number is the height, the second the mass.

    Raises:
        Refusal: It is no such line, or a value is not accepted.
    """
    line, sex = text.strip(), {}
    if found := _SEX.search(line):
        word = found[1].lower()
        sex = {"sex": _SEXES.get(word, word)}
        line = line[: found.start()].rstrip(" ,;")
    if not line:
        if sex:
            return sex
        raise _refused(text)
    return _measures(text, line, units) | sex


def _measures(text: str, line: str, units: Mapping[str, str]) -> dict[str, str]:
    """Give height and mass by the first place of the line at which it can be parted in both."""
    refusals = []
    for parts in _partings(line):
        keys = {
            key: with_unit(part, units[key], field_named(DiverHeader, key).dimension) for key, part in parts.items()
        }
        try:
            override_diver(None, keys)
        except Refusal as refusal:
            refusals.append(refusal)
        else:
            return keys
    # A value beyond its limits was understood; what is wrong with the other readings of the line helps nobody.
    limits = [refusal for refusal in refusals if refusal.accepted.startswith("Accepted: from ")]
    raise limits[0] if limits else _refused(text)


def _partings(line: str) -> Iterator[dict[str, str]]:
    """Give the ways to read a line: as a height and a mass, parted at any gap, as a height alone, as a mass alone."""
    for gap in _GAP.finditer(line):
        yield {"stature": line[: gap.start()], "mass": line[gap.end() :]}
    yield {"stature": line}
    yield {"mass": line}


def _refused(text: str) -> Refusal:
    accepted = f'Accepted: body height, body mass and sex, such as "{TYPED_DIVER}"; each may be left out.'
    return Refusal(f'found "{text.strip()}"', accepted)
