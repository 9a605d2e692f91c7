"""Quantities at the edges: the text a diver writes to a float in SI, and back.

Inside the project every quantity is a float in SI; units exist only in files, on screens and on the command line.
A text is one quantity. Arithmetic is refused: what looks like a sum is more often a slip, or a spread. A reading of a
scale may carry its spread: "2.10 kg ± 0.05 kg".

Two dimensions are not what they seem. `buoyancy` is a force, written by divers in kilograms and kept here in
kilogram-force (kgf): the mass that would have to be hung on the item to make it neutral. `pitch` is a length that is
also written as threads per inch.
"""

import re
from collections.abc import Iterable
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import NamedTuple

STANDARD_GRAVITY = 9.80665
"""Newtons in a kilogram-force (ISO 80000-4, exact)."""
INCH = 0.0254
"""Metres (international inch of 1959, exact)."""
POUND = 0.45359237
"""Kilograms (international avoirdupois pound of 1959, exact)."""
ZERO_CELSIUS = 273.15
"""Kelvin (definition)."""


class QuantityError(ValueError):
    """A text is not a quantity of the wanted dimension."""

    def __init__(self, found: str, accepted: str = "") -> None:
        """Keep both halves of the sentence: what was found, and what to write instead when that is known."""
        super().__init__(f"{found}; {accepted}" if accepted else found)
        self.found, self.accepted = found, accepted


class Reading(NamedTuple):
    """A value as read off an instrument."""

    value: float
    """In SI."""
    spread: float | None
    """Half-width of the range that holds the true value in 19 of 20 cases, in SI; None when it is not written."""
    half_digit: float | None
    """Half of what the last written digit is worth, in SI: 0.05 kg of "2.1 kg"; None beside a written spread."""


class Dimension(NamedTuple):
    """What a quantity measures, and the ways to write it."""

    name: str
    si_unit: str
    examples: tuple[str, ...]
    units: dict[str, float]
    """Factor to SI of every accepted spelling."""

    @property
    def with_article(self) -> str:
        """The name in a sentence: a length, an area."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    @property
    def accepted(self) -> str:
        """The accepted forms, shown when a quantity cannot be read."""
        return _listed(self.examples)

    def with_units(self, number: str) -> str:
        """List what a number that came without a unit might have meant."""
        if self.name == "fraction" and 0 < float(number) <= 1:  # 0.32 is meant as 32 %, not as a third of a percent
            number = f"{float(number) * 100:g}"
        return _listed(f"{number} {example.split(maxsplit=1)[1]}" for example in self.examples)


def _listed(forms: Iterable[str]) -> str:
    return " or ".join(f'"{form}"' for form in dict.fromkeys(forms))


def _spellings(*table: tuple[str, float]) -> dict[str, float]:
    return {spelling: factor for names, factor in table for spelling in names.split()}


_MASSES = _spellings(
    ("kg kilogram kilograms kgs", 1.0),
    ("g gram grams", 1e-3),
    ("lb lbs pound pounds", POUND),
    ("oz ounce ounces", POUND / 16),
)
_LENGTHS = _spellings(
    ("m metre metres meter meters", 1.0),
    ("cm", 1e-2),
    ("mm", 1e-3),
    ('in inch inches "', INCH),
    ("ft foot feet '", 12 * INCH),
    ("yd yard yards", 36 * INCH),
)
_PSI = POUND * STANDARD_GRAVITY / INCH**2

DIMENSIONS: dict[str, Dimension] = {
    dimension.name: dimension
    for dimension in (
        Dimension("length", "m", ("75 cm", "28 in"), _LENGTHS),
        Dimension("mass", "kg", ("0.21 kg", "210 g", "7.4 oz"), _MASSES),
        Dimension(
            "buoyancy",
            "kgf",
            ("-0.4 kg", "-0.9 lb"),
            _MASSES | {"kgf": 1.0, "lbf": POUND, "N": 1 / STANDARD_GRAVITY},
        ),
        Dimension(
            "pressure",
            "Pa",
            ("232 bar", "3000 psi"),
            _spellings(
                ("bar bars", 1e5),
                ("mbar", 1e2),
                ("psi", _PSI),
                ("Pa", 1.0),
                ("kPa", 1e3),
                ("MPa", 1e6),
                ("atm", 101325.0),
            ),
        ),
        Dimension(
            "volume",
            "m3",
            ("12 L", "0.4 ft3"),
            _spellings(
                ("L l litre litres liter liters", 1e-3),
                ("mL ml cm3 cm³", 1e-6),
                ("m3 m³", 1.0),
                ("ft3 ft³", (12 * INCH) ** 3),
                ("in3 in³", INCH**3),
            ),
        ),
        Dimension(
            "density",
            "kg/m3",
            ("1025 kg/m3", "64 lb/ft3"),
            _spellings(
                ("kg/m3 kg/m³", 1.0),
                ("kg/L kg/l g/cm3 g/cm³ g/mL g/ml", 1e3),
                ("lb/ft3 lb/ft³", POUND / (12 * INCH) ** 3),
            ),
        ),
        Dimension(
            "mass per length",
            "kg/m",
            ("105 g/m", "1.1 oz/ft"),
            _spellings(
                ("g/m", 1e-3), ("kg/m", 1.0), ("oz/ft", POUND / 16 / (12 * INCH)), ("lb/ft", POUND / (12 * INCH))
            ),
        ),
        Dimension("area", "m2", ("2.1 m2", "22 ft2"), _spellings(("m2 m²", 1.0), ("ft2 ft²", (12 * INCH) ** 2))),
        Dimension("area density", "kg/m2", ("0.35 kg/m2",), _spellings(("kg/m2 kg/m²", 1.0), ("g/m2 g/m²", 1e-3))),
        Dimension("fraction", "1", ("32 %",), {"%": 0.01}),
        Dimension("angle", "rad", ("15 °",), _spellings(("° deg degrees", 3.141592653589793 / 180), ("rad", 1.0))),
        Dimension("moment", "kgf m", ("1.2 kg m",), {"kg m": 1.0, "lb ft": POUND * 12 * INCH}),
        Dimension("torque", "N m", ("4.5 Nm", "40 lbf·in"), {"Nm": 1.0, "lbf·in": POUND * STANDARD_GRAVITY * INCH}),
        Dimension("flow", "m3/s", ("60 L/min",), {"L/min": 1e-3 / 60}),
        Dimension("salinity", "kg/kg", ("35 g/kg",), _spellings(("g/kg ‰", 1e-3), ("kg/kg", 1.0))),
        Dimension("temperature", "K", ("18 °C", "64 °F"), {}),
        Dimension("pitch", "m", ("24 tpi", "1.06 mm"), _LENGTHS),
    )
}

_DECIMAL = r"(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?"
_FRACTION = r"(?:\d+\s+)?\d+\s*/\s*0*[1-9]\d*"
_NUMBER = rf"[+-]?(?:{_FRACTION}|{_DECIMAL})"
"""A whole number, one with decimals, or a fraction as on a rule: "28 1/2", "9/16"."""
_TERM = re.compile(rf"\s*({_NUMBER})\s*([^\s\d.+\-][^\s\d+\-]*(?:[23](?![^\s+\-]))?)\s*")
"""A number and its unit. A 2 or 3 is a power of the unit only at its very end: "0.4 ft3", but 7'2" is two terms."""
_ONE_UNIT = re.compile(rf"\s*({_NUMBER})\s*(\S(?:.*\S)?)\s*")
_BARE_NUMBER = re.compile(_NUMBER)
_CELSIUS = re.compile(rf"\s*({_NUMBER})\s*(?:°\s*C|℃|degC|C|celsius)\s*")
_FAHRENHEIT = re.compile(rf"\s*({_NUMBER})\s*(?:°\s*F|℉|degF|F|fahrenheit)\s*")
_KELVIN = re.compile(rf"\s*({_NUMBER})\s*K\s*")
_THREADS_PER_INCH = re.compile(rf"\s*({_NUMBER})\s*(?:tpi|threads per inch)\s*")
_SLASH_IN_UNIT = re.compile(r"(?<=[^\W\d])\s*/\s*(?=[^\W\d])")
_COMMA = re.compile(r"\d\s*,\s*\d")
_PLUS_MINUS = re.compile(r"±|\+\s*/?\s*-")
_CALCULATION = re.compile(r"\d.*?[+\-*/×·\u00f7^()]\s*[(.\d]|\(.*\d.*[+\-*/×·\u00f7^].*\)")
"""What looks like two numbers with an operator between them."""
_IN_PARTS = {"length", "mass", "buoyancy"}
"""Dimensions that are written in two units: "7 ft 2 in", "3 lb 7 oz"."""
_UNSIGNED = rf"(?:{_FRACTION}|{_DECIMAL})"
_UNIT = r"[^\s\d.,+\-\u2212±*×(][^\d.,+\-\u2212±*×()]*[23]?"
_PARTS = rf"\s*{_UNIT}(?:\s*{_UNSIGNED}\s*{_UNIT})*\s*"
QUANTITY_PATTERN = rf"^\s*[+\-\u2212]?{_UNSIGNED}{_PARTS}$"
"""What a quantity looks like, for editors; `parse_quantity` also knows the units."""
READING_PATTERN = (
    rf"^\s*[+\-\u2212]?{_UNSIGNED}(?:{_PARTS}|(?:{_PARTS}|\s*)(?:±|\+\s*/?\s*[\-\u2212])\s*{_UNSIGNED}{_PARTS})$"
)
"""What a reading looks like, with or without its spread."""
_LARGEST = 1e10
"""No quantity of a dive kit is larger in any SI unit used here; catches 1e99 and infinities."""


@lru_cache(maxsize=4096)
def parse_quantity(text: str, dimension: str) -> float:
    """Convert a quantity as a diver writes it to SI: "75 cm", "28 1/2 in", "7 ft 2 in", "-0.4 kg", "24 tpi".

    Args:
        text: A number and a unit; a length or a mass also in two units, the larger first.
        dimension: A key of `DIMENSIONS`.

    Raises:
        QuantityError: A bare number, an unknown unit, a unit of another dimension, arithmetic, a spread, or an absurd
            size.
    """
    plain = _plain(text)
    wanted = DIMENSIONS[dimension]
    if not plain:
        raise QuantityError("nothing is written", f"write {wanted.accepted}")
    if _PLUS_MINUS.search(plain):
        raise QuantityError(
            f'"{text}" has a spread', f"only a weighed mass or buoyancy takes one; write {wanted.accepted}"
        )
    return _parse_plain(text, plain, wanted)


@lru_cache(maxsize=1024)
def parse_reading(text: str, dimension: str) -> Reading:
    """Convert a reading with or without its spread to SI: "2.10 kg", "2.10 kg ± 0.05 kg", "2.10 +- 0.05 kg".

    Args:
        text: A quantity; then "±", "+-" or "+/-" and a quantity above zero. One unit may stand for both.
        dimension: A key of `DIMENSIONS`.

    Raises:
        QuantityError: As `parse_quantity`; a spread that has a sign or no unit, is zero, or stands there twice.
    """
    plain, wanted = _plain(text), DIMENSIONS[dimension]
    value, *spreads = (part.strip() for part in _PLUS_MINUS.split(plain))
    if not spreads:
        return Reading(parse_quantity(text, dimension), None, _half_digit(plain, wanted))
    accepted = f'write {wanted.accepted} or "2.10 kg ± 0.05 kg"'
    if len(spreads) > 1 or not value or not spreads[0] or spreads[0][0] in "+-":
        raise QuantityError(f'"{text}" is not {wanted.with_article} with its spread', accepted)
    term = _TERM.fullmatch(spreads[0])
    if _BARE_NUMBER.fullmatch(value) and term:
        value = f"{value} {term[2]}"
    elif _BARE_NUMBER.fullmatch(spreads[0]):
        if not _BARE_NUMBER.fullmatch(value):
            _parse_plain(text, value, wanted)  # a value that cannot be read is the first to be said
        unit = _TERM.fullmatch(value)
        forms = f'"{value} ± {spreads[0]} {unit[2]}"' if unit else wanted.with_units(f"{value} ± {spreads[0]}")
        raise QuantityError(f'"{text}" has a spread without a unit', f"write {forms}")
    found = Reading(_parse_plain(text, value, wanted), _parse_plain(text, spreads[0], wanted), None)
    if not found.spread:
        raise QuantityError(f'"{text}" has a spread of zero', accepted)
    return found


def _half_digit(plain: str, wanted: Dimension) -> float | None:
    """Give half of what the last digit of a quantity is worth; of a fraction, half of one of its parts."""
    if not (terms := _TERM.findall(plain)):
        return None
    number, unit = terms[-1]
    _, slash, below = number.partition("/")
    step = 1 / float(below) if slash else 10.0 ** int(Decimal(number).as_tuple().exponent)
    return step * wanted.units[unit] / 2


def _plain(text: str) -> str:
    return _SLASH_IN_UNIT.sub("/", text.replace("\N{MINUS SIGN}", "-").strip())


def _parse_plain(text: str, plain: str, wanted: Dimension) -> float:
    """Convert a text without a spread; `text` is what a message quotes."""
    if _BARE_NUMBER.fullmatch(plain):
        raise QuantityError(f'"{text}" has no unit', f"write {wanted.with_units(plain)}")
    if wanted.name == "temperature":
        value = _parse_temperature(text, plain, wanted)
    elif wanted.name == "pitch" and (match := _THREADS_PER_INCH.fullmatch(plain)):
        if _number(match[1]) <= 0:
            raise QuantityError(f'"{text}" is not a pitch', f"write {wanted.accepted}")
        value = INCH / _number(match[1])
    else:
        value = _parse_terms(text, plain, wanted)
    if not -_LARGEST < value < _LARGEST:
        raise QuantityError(f'"{text}" is out of all proportion for {wanted.with_article}')
    return value


def _number(written: str) -> float:
    """Give a number as written, its sign first: "28 1/2"."""
    whole, slash, below = written.partition("/")
    if not slash:
        return float(written)
    *units, above = whole.split()
    sign = -1.0 if whole.startswith("-") else 1.0
    return sign * (abs(float(units[0])) if units else 0.0) + sign * abs(float(above)) / float(below)


def convert(value_si: float, unit: str, dimension: str) -> float:
    """Convert a value in SI to one of the units of its dimension.

    Raises:
        KeyError: The dimension has no such unit.
    """
    if dimension == "temperature":
        celsius = value_si - ZERO_CELSIUS
        return {"°C": celsius, "°F": celsius * 9 / 5 + 32, "K": value_si}[unit]
    return value_si / DIMENSIONS[dimension].units[unit]


def _parse_terms(text: str, plain: str, wanted: Dimension) -> float:
    """Give a quantity in one unit, or in parts; a sign in front covers them all: "-7 ft 2 in"."""
    if (one := _ONE_UNIT.fullmatch(plain)) and one[2] in wanted.units:
        return _number(one[1]) * wanted.units[one[2]]
    terms, position = list[tuple[str, float]](), 0
    while position < len(plain):
        match = _TERM.match(plain, position)
        factor = wanted.units.get(match[2]) if match else None
        if match is None or factor is None:
            raise _not_understood(text, plain, wanted)
        terms.append((match[1], factor))
        position = match.end()
    if len(terms) > 1 and not _are_parts(terms, wanted):
        raise _not_understood(text, plain, wanted)
    sign = -1.0 if terms[0][0][0] == "-" else 1.0
    return sum(sign * abs(_number(number)) * factor for number, factor in terms)


def _are_parts(terms: list[tuple[str, float]], wanted: Dimension) -> bool:
    """Say whether terms make one quantity: no sign but the first one's, and every unit smaller than the one before."""
    has_inner_sign = any(number[0] in "+-" for number, _ in terms[1:])
    falls = all(larger > smaller for (_, larger), (_, smaller) in pairwise(terms))
    return wanted.name in _IN_PARTS and falls and not has_inner_sign


def _not_understood(text: str, plain: str, wanted: Dimension) -> QuantityError:
    """Say what is wrong with a text that is no quantity of the wanted dimension."""
    if _COMMA.search(plain):
        return QuantityError(f'"{text}" has a comma', "write a point before decimals and nothing between thousands")
    if _CALCULATION.search(plain):
        return QuantityError(f'"{text}" is a calculation', f"write the result, such as {wanted.accepted}")
    term = _TERM.fullmatch(plain)
    if term and (found := _measured_by(term[2], wanted)):
        return QuantityError(
            f'"{text}" is {DIMENSIONS[found].with_article}, not {wanted.with_article}', f"write {wanted.accepted}"
        )
    if term and term[2].replace("/", "").isalpha():
        return QuantityError(f'"{text}" has a unit that is not known here', f"write {wanted.accepted}")
    return QuantityError(f'"{text}" is not {wanted.with_article}', f"write {wanted.accepted}")


def _parse_temperature(text: str, plain: str, wanted: Dimension) -> float:
    if match := _CELSIUS.fullmatch(plain):
        kelvin = _number(match[1]) + ZERO_CELSIUS
    elif match := _FAHRENHEIT.fullmatch(plain):
        kelvin = (_number(match[1]) - 32) * 5 / 9 + ZERO_CELSIUS
    elif match := _KELVIN.fullmatch(plain):
        kelvin = _number(match[1])
    elif _CALCULATION.search(plain):
        raise QuantityError(f'"{text}" is a calculation', f"write the result, such as {wanted.accepted}")
    else:
        raise QuantityError(f'"{text}" is not a temperature', f"write {wanted.accepted}")
    if kelvin < 0:
        raise QuantityError(f'"{text}" is below absolute zero')
    return kelvin


def _measured_by(unit: str, wanted: Dimension) -> str | None:
    """Give the dimension that a unit measures, when that is not the wanted one."""
    found = next((dimension.name for dimension in DIMENSIONS.values() if unit in dimension.units), None)
    return None if unit in wanted.units else found
