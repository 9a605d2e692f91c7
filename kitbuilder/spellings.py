"""The dimensions of a dive kit and the everyday ways to write them: the table, and the patterns made from it.

The patterns are for the JSON Schemas: an editor marks what the reader refuses and nothing else. They keep to what
regular expressions of Python and of JavaScript have in common. `units.py` reads by the table, which is faster.
"""

import re
from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from itertools import product
from typing import NamedTuple

from kitbuilder.written_numbers import BARE_NUMBER, CLEAR, CLEAR_WITHIN, EITHER, PLUS_MINUS, SIGN, plain_number

STANDARD_GRAVITY = 9.80665
"""Newtons in a kilogram-force (ISO 80000-4, exact)."""
INCH = 0.0254
"""Metres (international inch of 1959, exact)."""
POUND = 0.45359237
"""Kilograms (international avoirdupois pound of 1959, exact)."""


class Dimension(NamedTuple):
    """What a quantity measures, and the ways to write it."""

    name: str
    si_unit: str
    examples: tuple[str, ...]
    units: dict[str, float]
    """Factor to SI of every spelling, as it is usually capitalised."""

    @property
    def with_article(self) -> str:
        """The name in a sentence: a length, an area."""
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"

    @property
    def accepted(self) -> str:
        """The accepted forms, shown when a quantity cannot be read."""
        return listed(self.examples)

    def with_units(self, number: str) -> str:
        """List what a number that came without a unit might have meant."""
        if self.name == "fraction" and is_part_of_one(number):
            number = f"{float(number) * 100:g}"
        return listed(f"{number} {example.split(maxsplit=1)[1]}" for example in self.examples)


def is_part_of_one(number: str) -> bool:
    """Say whether a number without a unit is likely meant as a part of one: 0.31 as 31 %, not as 0.31 %."""
    try:
        return 0 < float(number) <= 1
    except ValueError:
        return False


def listed(forms: Iterable[str]) -> str:
    """List forms in quotes for a message, each once."""
    return " or ".join(f'"{form}"' for form in dict.fromkeys(forms))


def _spellings(*table: tuple[str, float]) -> dict[str, float]:
    """Give the factor of each spelling; an underscore stands for a space inside one."""
    return {spelling.replace("_", " "): factor for names, factor in table for spelling in names.split()}


_KILOGRAMS = "kg kgs kilo kilos kilogram kilograms kilogramme kilogrammes"
_GRAMS = "g gram grams gramme grammes"
_POUNDS = "lb lbs lb. lbs. pound pounds"
_OUNCES = "oz oz. ounce ounces"
_MASSES = _spellings((_KILOGRAMS, 1.0), (_GRAMS, 1e-3), (_POUNDS, POUND), (_OUNCES, POUND / 16))

_METRES = "m metre metres meter meters"
_CENTIMETRES = "cm centimetre centimetres centimeter centimeters"
_MILLIMETRES = "mm millimetre millimetres millimeter millimeters"
_INCHES = "in in. inch inches \" '' \N{DOUBLE PRIME} \N{RIGHT DOUBLE QUOTATION MARK} \N{PRIME}\N{PRIME}"
_INCHES += " \N{RIGHT SINGLE QUOTATION MARK}\N{RIGHT SINGLE QUOTATION MARK} \N{LEFT DOUBLE QUOTATION MARK}"
FEET_SIGNS = "' \N{PRIME} \N{RIGHT SINGLE QUOTATION MARK}"
_FEET = f"ft ft. foot feet {FEET_SIGNS}"
_YARDS = "yd yd. yard yards"
_LENGTHS = _spellings(
    (_METRES, 1.0),
    (_CENTIMETRES, 1e-2),
    (_MILLIMETRES, 1e-3),
    (_INCHES, INCH),
    (_FEET, 12 * INCH),
    (_YARDS, 36 * INCH),
)

_PSI = POUND * STANDARD_GRAVITY / INCH**2
_PRESSURES = _spellings(
    ("bar bars", 1e5),
    ("mbar", 1e2),
    ("psi", _PSI),
    ("Pa", 1.0),
    ("kPa", 1e3),
    ("MPa", 1e6),
    ("atm", 101325.0),
)

_MILLILITRES = "mL ml millilitre millilitres milliliter milliliters cm3 cm³ cc"
_CUBIC_FEET = "ft3 ft³ cuft cf cu_ft cu._ft. cubic_foot cubic_feet"
_VOLUMES = _spellings(
    ("L l litre litres liter liters dm3 dm³", 1e-3),
    (_MILLILITRES, 1e-6),
    ("m3 m³", 1.0),
    (_CUBIC_FEET, (12 * INCH) ** 3),
    ("in3 in³ cu_in cubic_inch cubic_inches", INCH**3),
)
_KG_PER_M3 = "kg/m3 kg/m³"
_DENSITIES = _spellings(
    (_KG_PER_M3, 1.0),
    ("kg/L kg/l g/cm3 g/cm³ g/mL g/ml", 1e3),
    ("lb/ft3 lb/ft³ lb/cu_ft", POUND / (12 * INCH) ** 3),
)
_FOOT = 12 * INCH

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
        Dimension("pressure", "Pa", ("232 bar", "3000 psi"), _PRESSURES),
        Dimension("volume", "m3", ("12 L", "0.4 ft3"), _VOLUMES),
        Dimension("density", "kg/m3", ("1025 kg/m3", "64 lb/ft3"), _DENSITIES),
        Dimension(
            "mass per length",
            "kg/m",
            ("105 g/m", "1.1 oz/ft"),
            _spellings(("g/m", 1e-3), ("kg/m", 1.0), ("oz/ft", POUND / 16 / _FOOT), ("lb/ft", POUND / _FOOT)),
        ),
        Dimension(
            "area",
            "m2",
            ("2.1 m2", "22 ft2"),
            _spellings(("m2 m² sq_m", 1.0), ("cm2 cm²", 1e-4), ("ft2 ft² sq_ft", _FOOT**2)),
        ),
        Dimension("area density", "kg/m2", ("0.35 kg/m2",), _spellings(("kg/m2 kg/m²", 1.0), ("g/m2 g/m²", 1e-3))),
        Dimension("fraction", "1", ("31 %",), _spellings(("% percent", 0.01))),
        Dimension("angle", "rad", ("15 °",), _spellings(("° deg degrees", 3.141592653589793 / 180), ("rad", 1.0))),
        Dimension("moment", "kgf m", ("1.2 kg m",), {"kg m": 1.0, "lb ft": POUND * _FOOT}),
        Dimension("torque", "N m", ("4.5 Nm", "40 lbf·in"), {"Nm": 1.0, "lbf·in": POUND * STANDARD_GRAVITY * INCH}),
        Dimension("flow", "m3/s", ("60 L/min",), {"L/min": 1e-3 / 60}),
        Dimension("energy", "J", ("18.5 Wh",), {"Wh": 3.6e3, "kWh": 3.6e6, "J": 1.0, "kJ": 1e3}),
        Dimension("voltage", "V", ("3.7 V",), {"V": 1.0, "volt": 1.0, "volts": 1.0}),
        Dimension("charge", "C", ("5 Ah", "5000 mAh"), {"Ah": 3.6e3, "mAh": 3.6}),
        Dimension("salinity", "kg/kg", ("35 g/kg",), _spellings(("g/kg ‰", 1e-3), ("kg/kg", 1.0))),
        Dimension("temperature", "K", ("18 °C", "64 °F"), {}),
        Dimension("pitch", "m", ("24 tpi", "1.06 mm"), _LENGTHS),
    )
}

SCALES = {
    "°C": ("°C", "° C", "℃", "degC", "C", "celsius"),
    "°F": ("°F", "° F", "℉", "degF", "F", "fahrenheit"),
    "K": ("K", "kelvin"),
}
"""The scales of temperature; the spellings of each."""
THREADS_PER_INCH = ("tpi", "threads per inch")
WHOLE_UNITS = frozenset(f"psi pa kpa mbar mAh {_GRAMS} {_MILLILITRES} {_KG_PER_M3}".lower().split())
"""Units in which three digits behind a comma are thousands: nobody writes a thousandth of a psi or a gram. In
small letters."""
OF_TWO_CASES = {"mPa": "MPa", "Mm": "mm", "Mbar": "mbar", "ML": "mL", "Ml": "ml"}
"""Spellings that differ from ours by the case of their first letter alone and mean a unit a billion times off."""
SYSTEMS = ((_METRES, _CENTIMETRES, _MILLIMETRES), (_YARDS, _FEET, _INCHES), (_KILOGRAMS, _GRAMS), (_POUNDS, _OUNCES))
"""Units that one quantity may be written in together, the largest first: "7 ft 2 in", "3 lb 7 oz"."""
IN_PARTS = {"length": SYSTEMS[:2], "mass": SYSTEMS[2:], "buoyancy": SYSTEMS[2:]}

# ---- looking up ----


@lru_cache(maxsize=1024)
def folded(unit: str) -> str:
    """Give a unit without regard to letter case and to spaces that say nothing."""
    return re.sub(r"\s*/\s*", "/", " ".join(unit.split())).lower()


@cache
def factors(dimension: str) -> dict[str, float]:
    """Give the factors to SI of the units of a dimension, in small letters."""
    return {folded(spelling): factor for spelling, factor in DIMENSIONS[dimension].units.items()}


def spellings_of(dimension: str) -> tuple[str, ...]:
    """List every unit of the table that a dimension is written in."""
    if dimension == "temperature":
        return tuple(spelling for names in SCALES.values() for spelling in names)
    return (*DIMENSIONS[dimension].units, *(THREADS_PER_INCH if dimension == "pitch" else ()))


@lru_cache(maxsize=1024)
def rank(unit: str, dimension: str) -> tuple[int, int] | None:
    """Say to which system a unit belongs, and where it stands in it from the largest down."""
    for system, names in enumerate(IN_PARTS.get(dimension, ())):
        for size, spelled in enumerate(names):
            if unit in map(folded, spelled.split()):
                return system, size
    return None


def are_parts(units: Sequence[str], dimension: str) -> bool:
    """Say whether units in small letters are two or more of one system, each smaller than the one before."""
    known = [found for unit in units if (found := rank(unit, dimension))]
    of_one_system = len({system for system, _ in known}) == 1
    return len(known) == len(units) > 1 and of_one_system and known == sorted(set(known))


def mix_systems(units: Sequence[str], dimension: str) -> bool:
    """Say whether some of the units in small letters are metric and others imperial: those of "2 m 3 in"."""
    known = [found for unit in units if (found := rank(unit, dimension))]
    return len(known) == len(units) and len({system for system, _ in known}) > 1


@cache
def begun() -> frozenset[str]:
    """List the beginnings of all spellings of the table in small letters, and the spellings."""
    known = {folded(spelling) for name in DIMENSIONS for spelling in spellings_of(name)}
    return frozenset(spelling[:length] for spelling in known for length in range(1, len(spelling) + 1))


def with_unit(text: str, unit: str, dimension: str) -> str:
    """Add a unit to a number that has none, or to a number with its spread; leave any other text as it is.

    A number of a percentage that is more likely a part of one, such as 0.31, is left as well.
    """
    numbers = re.split(PLUS_MINUS, text)
    is_bare = len(numbers) <= 2 and all(BARE_NUMBER.fullmatch(number) for number in numbers)
    if not unit or not is_bare or (dimension == "fraction" and is_part_of_one(plain_number(text))):
        return text
    return f"{text.strip()} {unit}"


def with_sign(text: str) -> str:
    """Write the sign of a buoyancy that is typed in words: "sinks 150 g" is "-150 g", "0.2 kg positive" "+0.2 kg".

    Any other text, and one that has a sign already, stays as it is.
    """
    match = _SIGN_IN_WORDS.fullmatch(text)
    if match is None:
        return text
    word, size = (match[1], match[2]) if match[1] else (match[4], match[3])
    return f"{'-' if word.lower() in _SINKING else '+'}{size}"


_SINKING = ("sink", "sinks", "negative")
_SIGN_WORD = f"({'|'.join((*_SINKING, 'float', 'floats', 'positive'))})"
_SIGN_IN_WORDS = re.compile(rf"\s*(?:{_SIGN_WORD}\s+([0-9.,].*?)|([0-9.,].*?)\s+{_SIGN_WORD})\s*", re.IGNORECASE)


@lru_cache(maxsize=1024)
def scale_named(unit: str) -> str | None:
    """Give the scale of temperature that a unit in small letters stands for; None for any other unit."""
    return next((scale for scale, names in SCALES.items() if unit in map(folded, names)), None)


def dimension_of(unit: str, wanted: Dimension) -> Dimension | None:
    """Give the dimension that a unit measures, when that is not the wanted one."""
    others = (other for other in DIMENSIONS.values() if other.units is not wanted.units)
    return next((other for other in others if folded(unit) in factors(other.name)), None)


# ---- patterns ----


def any_case(spelling: str) -> str:
    """Give the pattern of a spelling in any letter case but one that means another unit."""
    if wrong := {other for other, ours in OF_TWO_CASES.items() if ours.lower() == spelling.lower()}:
        variants = {"".join(letters) for letters in product(*((sign.lower(), sign.upper()) for sign in spelling))}
        return "|".join(sorted(variants - wrong))
    return "".join(_SIGNS.get(sign) or _both_cases(sign) for sign in spelling)


_SIGNS = {" ": r"\s+", "/": r"\s*/\s*", ".": r"\."}


def _both_cases(sign: str) -> str:
    return f"[{sign.upper()}{sign.lower()}]" if sign.upper() != sign.lower() else sign


def pattern_of_units(spellings: Iterable[str]) -> str:
    """Give the pattern of any of the spellings, the longest first."""
    ordered = sorted(dict.fromkeys(spellings), key=lambda spelling: (-len(spelling), spelling))
    return f"(?:{'|'.join(any_case(spelling) for spelling in ordered)})"


@cache
def pattern_of_term(spellings: tuple[str, ...], clear: str = CLEAR) -> str:
    """Give the pattern of a number without a sign, which can be read in one way, and one of the units."""
    whole = [spelling for spelling in spellings if folded(spelling) in WHOLE_UNITS]
    thousands = rf"|{EITHER}\s*{pattern_of_units(whole)}" if whole else ""
    return rf"(?:{clear}\s*{pattern_of_units(spellings)}{thousands})"


def _falling(system: tuple[str, ...]) -> Iterable[str]:
    """Give the patterns of two parts or more, each in a smaller unit than the one before."""
    terms = [pattern_of_term(tuple(names.split()), CLEAR_WITHIN) for names in system]
    for first in range(len(terms) - 1):
        rest = [rf"(?:\s*{term})" for term in terms[first + 1 :]]
        for second in range(len(rest)):
            yield terms[first] + rest[second] + "".join(f"{term}?" for term in rest[second + 1 :])


def quantity_pattern(dimension: str, more_units: str = "") -> str:
    """Give the pattern of a quantity, without ends: a sign, and a number with its unit, or several in parts.

    Args:
        dimension: A key of `DIMENSIONS`.
        more_units: The pattern of units beyond the table.
    """
    neutral = rf"|\s*{any_case(NEUTRAL)}\s*" if dimension == "buoyancy" else ""
    return rf"(?:\s*{SIGN}?{_unsigned(dimension, more_units)}\s*{neutral})"


def reading_pattern(dimension: str, more_units: str = "") -> str:
    """Give the pattern of a quantity that may carry its spread, without ends."""
    value, spread = quantity_pattern(dimension, more_units), _unsigned(dimension, more_units)
    one_unit = rf"\s*{SIGN}?{CLEAR}\s*{PLUS_MINUS}\s*{_in_one_unit(dimension, more_units)}\s*"
    return rf"(?:{value}(?:{PLUS_MINUS}\s*{spread}\s*)?|{one_unit})"


def rating_pattern(more_volumes: str = "", more_pressures: str = "") -> str:
    """Give the pattern of a volume, or of what a cylinder holds at a pressure: "80 cu ft at 3000 psi"."""
    held = rf"\s*{_unsigned('volume', more_volumes)}{AT}{_unsigned('pressure', more_pressures)}\s*"
    return rf"(?:{quantity_pattern('volume', more_volumes)}|{held})"


def battery_pattern() -> str:
    """Give the pattern of the energy of a battery, or of its voltage and charge: "3.7 V x 5 Ah"."""
    printed = rf"\s*{_unsigned('voltage', '')}{TIMES}{_unsigned('charge', '')}\s*"
    return rf"(?:{quantity_pattern('energy')}|{printed})"


def _unsigned(dimension: str, more_units: str) -> str:
    several = [pattern for system in IN_PARTS.get(dimension, ()) for pattern in _falling(system)]
    if dimension == "length":
        several.append(rf"{CLEAR_WITHIN}\s*(?:{'|'.join(FEET_SIGNS.split())})\s*{CLEAR_WITHIN}")
    return f"(?:{'|'.join((_in_one_unit(dimension, more_units), *several))})"


def _in_one_unit(dimension: str, more_units: str) -> str:
    more = rf"|{CLEAR}\s*{more_units}" if more_units else ""
    return f"(?:{pattern_of_term(spellings_of(dimension))}{more})"


NEUTRAL = "neutral"
"""How divers write a buoyancy of nothing."""
AT = r"(?:\s+[Aa][Tt]\s+|\s*@\s*)"
"""What stands between the rated capacity of a cylinder and its pressure."""
TIMES = r"(?:\s*[xX*×]\s*|\s+)"
"""What stands between the voltage of a battery and its charge."""

# ---- units beyond the table, as pint calls them ----

_LONG = ("meter", "metre", "gram", "liter", "litre", "pascal", "bar", "newton")
_SHORT = ("m", "g", "L", "l", "Pa", "bar", "N")
PREFIXES = (
    (("micro", "milli", "centi", "deci", "hecto", "kilo", "mega"), _LONG),
    (("u", "µ", "m", "c", "d", "h", "k", "M"), _SHORT),
)
"""The prefixes of everyday use and the units that take them, as names and as symbols."""
COLUMNS = ("mmHg", "cmHg", "inHg", "mmH2O", "cmH2O")
"""Pressures as columns of mercury and water; pint takes them as metres with a prefix."""
OF_COUNTRIES = re.compile(
    "gal(lon)?|q(uar)?t|p(in)?t|gill?|fl(uid_ounce|oz)|cup|cp|ton|cwt|hundredweight|bbl|barrel|bu(shel)?|peck|pk"
)
"""Units of different size in different countries; pint takes those of one. "UK gallon" is clear and accepted."""
