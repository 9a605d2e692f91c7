"""Quantities at the edges: the text a diver writes to a float in SI, and back.

Inside the project every quantity is a float in SI; units exist only in files, on screens and on the command line.
The units a diver writes every day are converted straight from the table below. Anything else ("30 in + 2 cm",
"0.2 kg * 3") is asked of pint, which is built from the same table and loaded only then: it takes as long to import
as the whole user interface.

Two dimensions are not what they seem. `buoyancy` is a force, written by divers in kilograms and kept here in
kilogram-force (kgf): the mass that would have to be hung on the item to make it neutral. `pitch` is a length that is
also written as threads per inch.
"""

import re
from collections.abc import Iterable
from functools import cache, lru_cache
from typing import Any, NamedTuple

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

_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,2})?"
_TERM = re.compile(rf"\s*({_NUMBER})\s*([^\s\d.+\-][^\s\d+\-]*(?:[23](?![^\s+\-]))?)")
"""A number and its unit. A 2 or 3 is a power of the unit only at its very end: "0.4 ft3", but 7'2" is two terms."""
_BARE_NUMBER = re.compile(_NUMBER)
_CELSIUS = re.compile(rf"\s*({_NUMBER})\s*(?:°\s*C|℃|degC|C|celsius)\s*")
_FAHRENHEIT = re.compile(rf"\s*({_NUMBER})\s*(?:°\s*F|℉|degF|F|fahrenheit)\s*")
_KELVIN = re.compile(rf"\s*({_NUMBER})\s*K\s*")
_THREADS_PER_INCH = re.compile(rf"\s*({_NUMBER})\s*(?:tpi|threads per inch)\s*")
_EXPRESSION = re.compile(r"[0-9A-Za-z.+\-*/()\s]{1,60}")
_MISREADABLE = re.compile(r"\*\*\s*(?![23](?![\d.]))|\*\*\s*\d\s*\*\*|[\w.)]\s+[\d.]|\.\d*\.")
"""What pint would take and a diver did not mean: huge powers, "7 5 cm" and "7 m 5" as products, "7.5.5 cm"."""
_COMMA = re.compile(r"\d\s*,\s*\d")
_LARGEST = 1e10
"""No quantity of a dive kit is larger in any SI unit used here; catches 1e99 and infinities."""


@lru_cache(maxsize=4096)
def parse_quantity(text: str, dimension: str) -> float:
    """Convert a quantity as a diver writes it to SI: "75 cm", "7 ft 2 in", "-0.4 kg", "24 tpi".

    Args:
        text: A number and a unit, a sum of such, or an expression pint understands.
        dimension: A key of `DIMENSIONS`.

    Raises:
        QuantityError: A bare number, an unknown unit, a unit of another dimension, or an absurd size.
    """
    plain = text.replace("\N{MINUS SIGN}", "-").strip()
    wanted = DIMENSIONS[dimension]
    if not plain:
        raise QuantityError("nothing is written", f"write {wanted.accepted}")
    if _BARE_NUMBER.fullmatch(plain):
        raise QuantityError(f'"{text}" has no unit', f"write {wanted.with_units(plain)}")
    if dimension == "temperature":
        value = _parse_temperature(plain, wanted)
    elif dimension == "pitch" and (match := _THREADS_PER_INCH.fullmatch(plain)):
        if float(match[1]) <= 0:
            raise QuantityError(f'"{text}" is not a pitch', f"write {wanted.accepted}")
        value = INCH / float(match[1])
    else:
        value = _parse_terms(plain, wanted)
    if not -_LARGEST < value < _LARGEST:
        raise QuantityError(f'"{text}" is out of all proportion for {wanted.with_article}')
    return value


def convert(value_si: float, unit: str, dimension: str) -> float:
    """Convert a value in SI to one of the units of its dimension.

    Raises:
        KeyError: The dimension has no such unit.
    """
    if dimension == "temperature":
        celsius = value_si - ZERO_CELSIUS
        return {"°C": celsius, "°F": celsius * 9 / 5 + 32, "K": value_si}[unit]
    return value_si / DIMENSIONS[dimension].units[unit]


def _parse_terms(text: str, wanted: Dimension) -> float:
    """Add up one or more "number unit" pairs; a sign in front covers them all, as in "-7 ft 2 in"."""
    total, position, sign = 0.0, 0, 1.0
    while position < len(text):
        match = _TERM.match(text, position)
        factor = wanted.units.get(match[2]) if match else None
        if match is None or factor is None or (position and match[1][0] in "+-"):
            return _ask_pint(text, wanted)
        value = float(match[1])
        sign = -1.0 if not position and match[1][0] == "-" else sign
        total += sign * abs(value) * factor
        position = match.end()
    return total


def _parse_temperature(text: str, wanted: Dimension) -> float:
    if match := _CELSIUS.fullmatch(text):
        kelvin = float(match[1]) + ZERO_CELSIUS
    elif match := _FAHRENHEIT.fullmatch(text):
        kelvin = (float(match[1]) - 32) * 5 / 9 + ZERO_CELSIUS
    elif match := _KELVIN.fullmatch(text):
        kelvin = float(match[1])
    else:
        raise QuantityError(f'"{text}" is not a temperature', f"write {wanted.accepted}")
    if kelvin < 0:
        raise QuantityError(f'"{text}" is below absolute zero')
    return kelvin


def _ask_pint(text: str, wanted: Dimension) -> float:
    if _COMMA.search(text):
        raise QuantityError(f'"{text}" has a comma', "write a point before decimals and nothing between thousands")
    if (term := _TERM.fullmatch(text)) and (found := _measured_by(term[2], wanted)):
        raise _wrong_dimension(text, found, wanted)
    readable = text.replace("²", "**2").replace("³", "**3").replace('"', " in ").replace("'", " ft ")
    if not _EXPRESSION.fullmatch(readable) or _MISREADABLE.search(readable) or not re.search(r"\d", readable):
        raise QuantityError(f'"{text}" is not {wanted.with_article}', f"write {wanted.accepted}")
    registry = pint_registry()
    try:
        quantity = registry.Quantity(readable)
        return float(quantity.to(_PINT_UNIT[wanted.name]).magnitude)
    except Exception as problem:  # pint lets its own tokenizer's and Python's errors through
        raise _explained(text, problem, wanted) from None


def _explained(text: str, problem: Exception, wanted: Dimension) -> QuantityError:
    kind = type(problem).__name__
    if kind == "UndefinedUnitError":
        return QuantityError(f'"{text}" has a unit that is not known here', f"write {wanted.accepted}")
    term = _TERM.match(text)
    if kind == "DimensionalityError" and term and (found := _measured_by(term[2], wanted)):
        return _wrong_dimension(text, found, wanted)
    return QuantityError(f'"{text}" is not {wanted.with_article}', f"write {wanted.accepted}")


def _measured_by(unit: str, wanted: Dimension) -> str | None:
    """Give the dimension that a unit measures, when that is not the wanted one."""
    found = next((dimension.name for dimension in DIMENSIONS.values() if unit in dimension.units), None)
    return None if unit in wanted.units else found


def _wrong_dimension(text: str, found: str, wanted: Dimension) -> QuantityError:
    return QuantityError(
        f'"{text}" is {DIMENSIONS[found].with_article}, not {wanted.with_article}', f"write {wanted.accepted}"
    )


_PINT_UNIT = {
    "length": "metre",
    "pitch": "metre",
    "mass": "kilogram",
    "buoyancy": "kilogram",
    "pressure": "pascal",
    "volume": "metre**3",
    "density": "kilogram/metre**3",
    "mass per length": "kilogram/metre",
    "area": "metre**2",
    "area density": "kilogram/metre**2",
    "salinity": "kilogram/kilogram",
    "moment": "kilogram*metre",
    "torque": "pascal*metre**3",
}


_PINT_BASES = (
    ("length", "metre"),
    ("mass", "kilogram"),
    ("pressure", "pascal"),
    ("area", "metre ** 2"),
    ("volume", "metre ** 3"),
)
"""Dimensions whose units are single words to pint, and what it reckons them in; the others are made up of these."""


@cache
def pint_registry() -> Any:  # noqa: ANN401  pint is imported late, so its types are not known here
    """Give a pint registry that knows the units of `DIMENSIONS` and no others.

    A small registry of our own: pint's full one takes twenty times as long to build, and would accept light-years.
    """
    import pint

    lines = ["metre = [length]", "kilogram = [mass]", "second = [time]", "pascal = kilogram / metre / second ** 2 = Pa"]
    for name, base in _PINT_BASES:
        for spelling, factor in DIMENSIONS[name].units.items():
            if spelling.isidentifier() and spelling not in ("metre", "kilogram", "Pa"):
                lines.append(f"{spelling} = {factor!r} * {base}")
    return pint.UnitRegistry(lines)
