"""Quantities at the edges of the program: text with a unit to a float in SI, and back.

Inside the project every quantity is a float in SI; units exist only in files, on screens and on the command line.
A text is one quantity. Arithmetic is refused: what looks like a sum is more often a slip, or a spread. A reading of a
scale may carry its spread: "2.10 kg ± 0.05 kg".

`spellings.py` has the everyday units and how numbers are written. A unit that is not in its table is looked up in pint,
which is loaded for that alone.

Two dimensions are not what they seem. `buoyancy` is a force, written by divers in kilograms and kept here in
kilogram-force (kgf): the mass that would have to be hung on the item to make it neutral. `pitch` is a length that is
also written as threads per inch.
"""

import re
from collections.abc import Sequence
from functools import cache, lru_cache
from typing import NamedTuple

from kitbuilder.quantity_errors import IN_PARTS, ONE_TERM, PART, QuantityError, not_understood, refuse_two_readings
from kitbuilder.spellings import (
    COLUMNS,
    DIMENSIONS,
    FEET_SIGNS,
    INCH,
    NEUTRAL,
    OF_COUNTRIES,
    OF_TWO_CASES,
    POUND,
    PREFIXES,
    THREADS_PER_INCH,
    WHOLE_UNITS,
    Dimension,
    any_case,
    are_parts,
    battery_pattern,
    begun,
    factors,
    folded,
    listed,
    quantity_pattern,
    rating_pattern,
    reading_pattern,
    scale_named,
)
from kitbuilder.written_numbers import (
    BARE_NUMBER,
    EITHER_COMMA,
    MINUS_SIGNS,
    PLUS_MINUS,
    plain_number,
    read_number,
    worth_of_last_digit,
)

__all__ = [
    "DIMENSIONS",
    "INCH",
    "PLUS_MINUS",
    "POUND",
    "QuantityError",
    "Reading",
    "convert",
    "parse_quantity",
    "parse_reading",
]

ZERO_CELSIUS = 273.15
"""Kelvin (definition)."""


class Reading(NamedTuple):
    """A value as read off an instrument."""

    value: float
    """In SI."""
    spread: float | None
    """Half-width of the range that holds the true value in 19 of 20 cases, in SI; None when it is not written."""
    half_digit: float | None
    """Half of what the last written digit is worth, in SI: 0.05 kg of "2.1 kg"; None beside a written spread."""


_COMMON = re.compile(r"([+-]?[0-9]+(?:\.[0-9]+)?)\s*(\S.*)")
"""How nearly every quantity is written; what it does not match goes the longer way."""
_PLUS_MINUS = re.compile(PLUS_MINUS)
_LARGEST = 1e10
"""No quantity of a dive kit is larger in any SI unit used here; catches 1e99 and infinities."""


# ---- from text ----


@lru_cache(maxsize=4096)
def parse_quantity(text: str, dimension: str) -> float:
    """Convert a quantity as a diver writes it to SI: "75 cm", "28½ in", "7 ft 2 in", "-0,4 kg", "3,000 PSI", "24 tpi".

    Args:
        text: A number and a unit in any letter case; a length or a mass also in two units of one system, the larger
            first; for a buoyancy also "neutral".
        dimension: A key of `DIMENSIONS`.

    Raises:
        QuantityError: A bare number, an unknown unit, a unit of another dimension, a comma that may be read in two
            ways, arithmetic, a spread, metric and imperial units together, or an absurd size.
    """
    wanted = DIMENSIONS[dimension]
    if match := _COMMON.fullmatch(text):
        factor = wanted.units.get(match[2])
        if factor is not None and -_LARGEST < (value := float(match[1]) * factor) < _LARGEST:
            return value
    if not text.strip():
        raise QuantityError("the value is empty", f"write {wanted.accepted}")
    if _PLUS_MINUS.search(text):
        raise QuantityError(
            f'"{text}" has a spread', f"only a weighed mass or buoyancy may have one; write {wanted.accepted}"
        )
    return _parse(text, text, wanted)


@lru_cache(maxsize=1024)
def parse_reading(text: str, dimension: str) -> Reading:
    """Convert a reading with or without its spread to SI: "2.10 kg", "2.10 kg ± 0.05 kg", "2.10 +- 0.05 kg".

    Args:
        text: A quantity; then "±", "+-" or "+/-" and a quantity above zero. One unit may stand for both.
        dimension: A key of `DIMENSIONS`.

    Raises:
        QuantityError: As `parse_quantity`; a spread that has a sign or no unit, is zero, or stands there twice.
    """
    value, *spreads = (part.strip() for part in _PLUS_MINUS.split(text))
    if not spreads:
        return Reading(parse_quantity(text, dimension), None, _half_digit(text, dimension))
    wanted = DIMENSIONS[dimension]
    accepted = f'write {wanted.accepted} or "2.10 kg ± 0.05 kg"'
    if len(spreads) > 1 or not value or not spreads[0] or spreads[0][0] in f"+{MINUS_SIGNS}":
        raise QuantityError(f'"{text}" is not {wanted.with_article} with its spread', accepted)
    if BARE_NUMBER.fullmatch(value) and (unit := unit_written(spreads[0], dimension)):
        value = f"{value} {unit}"
    elif BARE_NUMBER.fullmatch(spreads[0]):
        if not BARE_NUMBER.fullmatch(value):
            _parse(text, value, wanted)  # a value that cannot be read is the first to be said
        unit = unit_written(value, dimension)
        forms = f'"{value} ± {spreads[0]} {unit}"' if unit else wanted.with_units(f"{value} ± {spreads[0]}")
        raise QuantityError(f'"{text}" has a spread without a unit', f"write {forms}")
    middle, spread = _parse(text, value, wanted), _parse(text, spreads[0], wanted)
    if not spread:
        raise QuantityError(f'"{text}" has a spread of zero', accepted)
    return Reading(middle, spread, None)


def _half_digit(text: str, dimension: str) -> float | None:
    """Give half of what the last digit of a quantity is worth in SI; None of one without digits: "neutral"."""
    number, unit = (PART.findall(text) or [("", "")])[-1]
    factor = _factor(unit, dimension)
    return None if factor is None else worth_of_last_digit(number) * factor / 2


def unit_written(text: str, dimension: str) -> str:
    """Give the unit of a quantity as it is written; empty when it is written in parts, or is no quantity."""
    match = ONE_TERM.fullmatch(text)
    if match is None:
        return ""
    is_scale = dimension == "temperature" and scale_named(folded(match[2])) is not None
    return match[2] if is_scale or _factor(match[2], dimension) is not None else ""


def plausible_forms(text: str, dimension: str, lowest: float, highest: float, units: Sequence[str] = ()) -> str:
    """List what a number without a unit may mean, for a message: "178 cm"; empty for a text that is no such number.

    Args:
        text: What was written.
        dimension: A key of `DIMENSIONS`.
        lowest: The smallest value that makes sense, in SI.
        highest: The largest.
        units: Those that it may have; when none are given, the usual ones of the dimension, and rarer ones where fewer
            than two of these make sense. Where none does, all usual ones are listed.
    """
    if not BARE_NUMBER.fullmatch(text):
        return ""
    wanted, number = DIMENSIONS[dimension], plain_number(text)
    if dimension == "fraction":
        return wanted.with_units(number)

    def sensible(names: Sequence[str]) -> list[str]:
        forms = (f"{number} {name}" for name in names)
        return [form for form in forms if _is_between(form, dimension, lowest, highest)]

    forms = sensible(units or [example.split(maxsplit=1)[1] for example in wanted.examples])
    if len(forms) < 2 and not units:
        forms += [form for form in sensible(_RARER.get(dimension, ())) if form not in forms]
    return listed(forms) or wanted.with_units(number)


def _is_between(text: str, dimension: str, lowest: float, highest: float) -> bool:
    try:
        return lowest <= parse_quantity(text, dimension) <= highest
    except QuantityError:  # so large that it is no quantity at all
        return False


_RARER = {"length": ("mm", "m", "ft"), "mass": ("lb",), "density": ("kg/L",)}
"""Units that a number without one is tried with when the usual ones do not fit."""


def pattern_of(dimension: str, *, spread: bool = False, rating: bool = False, charge: bool = False) -> str:
    """Give the pattern of every text that is read as a quantity, for editors; pint is asked for its units.

    Args:
        dimension: A key of `DIMENSIONS`.
        spread: Whether it may carry its spread.
        rating: Whether it may be the rated capacity of a cylinder.
        charge: Whether it may be the voltage and the charge of a battery.
    """
    if charge:
        return f"^{battery_pattern()}$"
    if rating:
        return f"^{rating_pattern(_pattern_of_foreign('volume'), _pattern_of_foreign('pressure'))}$"
    pattern = reading_pattern if spread else quantity_pattern
    return f"^{pattern(dimension, _pattern_of_foreign(dimension))}$"


def _parse(text: str, part: str, wanted: Dimension) -> float:
    """Convert a text without a spread. `text` is what a message quotes; `part` is all of it, or its value or spread."""
    if BARE_NUMBER.fullmatch(part):
        raise QuantityError(f'"{text}" has no unit', f"write {wanted.with_units(plain_number(part))}")
    if part.strip().lower() == NEUTRAL and wanted.name == "buoyancy":
        return 0.0
    value = _in_one_unit(text, part, wanted)
    if value is None:
        value = _in_parts(part, wanted)
    if value is None:
        raise not_understood(text, part, wanted)
    if not -_LARGEST < value < _LARGEST:
        raise QuantityError(f'"{text}" is far outside the range of {wanted.with_article}')
    return value


def _in_one_unit(text: str, part: str, wanted: Dimension) -> float | None:
    """Give a number with one unit in SI; None when it is not one, or the unit is not one of the dimension."""
    match = ONE_TERM.fullmatch(part)
    if match is None:
        return None
    number, unit = match.groups()
    if wanted.name == "temperature":
        scale = scale_named(folded(unit))
        refuse_two_readings(text, number, unit if scale else "")
        return None if scale is None else _kelvin(text, _signed(part, read_number(number)), scale)
    if wanted.name == "pitch" and folded(unit) in THREADS_PER_INCH:
        refuse_two_readings(text, number, unit)
        if part.strip()[0] in MINUS_SIGNS or read_number(number) == 0:
            raise QuantityError(f'"{text}" is not above zero', f"write {wanted.accepted}")
        return INCH / read_number(number)
    factor = _factor(unit, wanted.name)
    if factor is None:
        return None
    refuse_two_readings(text, number, unit)
    return _signed(part, read_number(number) * factor)


def _in_parts(part: str, wanted: Dimension) -> float | None:
    """Add the parts of a quantity, each in a smaller unit of one system; a sign in front covers all: "-7 ft 2 in"."""
    match = IN_PARTS.fullmatch(part)
    if match is None:
        return None
    terms = [(number, folded(unit)) for number, unit in PART.findall(match[1])]
    if last := match[4]:  # 2'4
        if len(terms) > 1 or terms[0][1] not in FEET_SIGNS.split() or wanted.name != "length":
            return None
        terms.append((last, "in"))
    if not are_parts([unit for _, unit in terms], wanted.name):
        return None
    if any(EITHER_COMMA.fullmatch(number) and unit not in WHOLE_UNITS for number, unit in terms):
        return None
    known = factors(wanted.name)
    return _signed(part, sum(read_number(number) * known[unit] for number, unit in terms))


def _signed(part: str, size: float) -> float:
    return -size if part.strip()[0] in MINUS_SIGNS else size


def _kelvin(text: str, degrees: float, scale: str) -> float:
    celsius = {"°C": degrees, "°F": (degrees - 32) * 5 / 9, "K": degrees - ZERO_CELSIUS}[scale]
    kelvin = degrees if scale == "K" else celsius + ZERO_CELSIUS
    if kelvin < 0:
        raise QuantityError(f'"{text}" is below absolute zero')
    return kelvin


# ---- units ----


def _factor(unit: str, dimension: str) -> float | None:
    """Give the factor of a unit to SI, of the table or beyond it; None when the dimension has no such unit."""
    if unit in OF_TWO_CASES:
        return None
    own = factors(dimension).get(folded(unit))
    return _foreign_factor(unit, dimension) if own is None else own


def _foreign_factor(unit: str, dimension: str) -> float | None:
    """Ask pint for a unit that no table spells. One half typed, such as the c of cm, does not load it."""
    name = folded(unit)
    if dimension not in _FOREIGN or unit in OF_TWO_CASES or not re.fullmatch(r"[^\W\d_]\w*(?: \w+)*", name):
        return None
    if name in begun():
        return None
    exact, folding = _foreign_units(dimension)
    return exact.get(unit, folding.get(name))


_FOREIGN = {
    "length": ("meter",),
    "pitch": ("meter",),
    "mass": ("kilogram",),
    "buoyancy": ("kilogram", "kilogram_force"),
    "pressure": ("pascal",),
    "volume": ("meter ** 3",),
    "area": ("meter ** 2",),
}
"""The dimensions that units beyond the table are looked up for, and their SI units as pint calls them."""


@cache
def _foreign_units(dimension: str) -> tuple[dict[str, float], dict[str, float]]:
    """Give the factors to SI of pint's units: those whose letter case matters, and the others in small letters."""
    wanted, found = _FOREIGN[dimension], dict[str, dict[str, float]]()
    for name, (si_unit, factor) in _units_of_pint().items():
        if si_unit in wanted and folded(name) not in begun():
            found.setdefault(folded(name), {})[name] = factor
    several = {folded for folded, spelled in found.items() if len(set(spelled.values())) > 1}
    exact = {name: factor for folded in several for name, factor in found[folded].items()}
    return exact, {folded: min(spelled.values()) for folded, spelled in found.items() if folded not in several}


@cache
def _units_of_pint() -> dict[str, tuple[str, float]]:
    """Give pint's units of the dimensions of `_FOREIGN`: single names, each with its SI unit and its factor to that."""
    import pint

    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    names = [name for name in dir(registry) if name[0].isalpha() and not OF_COUNTRIES.fullmatch(name)]
    for prefixes, units in PREFIXES:
        names += [prefix + unit for prefix in prefixes for unit in units]
    names += [*COLUMNS, *(f"{name}s" for name in names if len(name) > 3 and name[-1] != "s")]
    si_units = {unit: registry.Quantity(1.0, unit) for units in _FOREIGN.values() for unit in units}
    by_dimensions = {quantity.dimensionality: (unit, quantity) for unit, quantity in si_units.items()}
    found: dict[str, tuple[str, float]] = {}
    for name in names:
        try:
            unit = registry.Quantity(1.0, name)
        except pint.UndefinedUnitError:
            continue
        if unit.dimensionality in by_dimensions:
            si_unit, _ = by_dimensions[unit.dimensionality]
            found[name.replace("_", " ")] = si_unit, float(unit.to(si_unit).magnitude)
    return found


@cache
def _pattern_of_foreign(dimension: str) -> str:
    if dimension not in _FOREIGN:
        return ""
    exact, folding = _foreign_units(dimension)
    return f"(?:{'|'.join((*map(re.escape, sorted(exact)), *map(any_case, sorted(folding))))})"


# ---- to text ----


def convert(value_si: float, unit: str, dimension: str) -> float:
    """Convert a value in SI to one of the units of its dimension.

    Raises:
        KeyError: The dimension has no such unit.
    """
    if dimension == "temperature":
        celsius = value_si - ZERO_CELSIUS
        return {"°C": celsius, "°F": celsius * 9 / 5 + 32, "K": value_si}[unit]
    return value_si / DIMENSIONS[dimension].units[unit]
