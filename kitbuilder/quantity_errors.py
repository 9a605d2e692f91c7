"""What is wrong with a text that is no quantity: what was found in it, and what to write instead."""

import re

from kitbuilder.spellings import (
    OF_TWO_CASES,
    WHOLE_UNITS,
    Dimension,
    dimension_of,
    factors,
    folded,
    listed,
    mix_systems,
)
from kitbuilder.written_numbers import EITHER_COMMA, MINUS_SIGNS, NUMBER, SIGN, VULGAR

_NO_UNIT = rf"\s0-9,.+\-{''.join(VULGAR)}"
ONE_TERM = re.compile(rf"\s*{SIGN}?({NUMBER})\s*([^{_NO_UNIT}](?:.*\S)?)\s*", re.DOTALL)
"""A number and whatever stands behind it."""
PART = re.compile(rf"\s*({NUMBER})\s*([^{_NO_UNIT}]+\.?)")
IN_PARTS = re.compile(rf"\s*{SIGN}?((?:(?!\s*,){PART.pattern})+)(?:(?!\s*,)\s*({NUMBER}))?\s*")
"""Numbers with a unit each, and a last one that may have none: "7 ft 2 in", "2'4". The comma of "7ft,2in" belongs to
no decimal.
"""
_CALCULATION = re.compile(
    rf"[0-9].*?[+\-{MINUS_SIGNS[1:]}*/×·÷^()=]\s*[(.0-9]|\(.*[0-9].*[+\-{MINUS_SIGNS[1:]}*/×·÷^].*\)"
)
"""What looks like two numbers with an operator between them."""


class QuantityError(ValueError):
    """A text is not a quantity of the wanted dimension."""

    def __init__(self, found: str, accepted: str = "") -> None:
        """Keep both halves of the sentence: what was found, and what to write instead when that is known."""
        super().__init__(f"{found}; {accepted}" if accepted else found)
        self.found, self.accepted = found, accepted


def refuse_two_readings(text: str, number: str, unit: str) -> None:
    """Refuse a number whose comma may set off decimals or thousands, naming both readings.

    Raises:
        QuantityError: It is such a number, and its unit does not decide.
    """
    if EITHER_COMMA.fullmatch(number) and folded(unit) not in WHOLE_UNITS:
        readings = f"{number.replace(',', '.')} {unit}", f"{number.replace(',', '')} {unit}"
        raise QuantityError(
            f'"{text}" may be {readings[0]} or {readings[1]}', f"write it without a comma: {listed(readings)}"
        )


def not_understood(text: str, part: str, wanted: Dimension) -> QuantityError:
    """Say what is wrong with a text that is no quantity of the wanted dimension."""
    term = ONE_TERM.fullmatch(part)
    unit = term[2] if term else ""
    write = f"write {wanted.accepted}"
    if unit in OF_TWO_CASES and folded(unit) in factors(wanted.name):
        ours = OF_TWO_CASES[unit]
        return QuantityError(
            f'"{text}" has the unit {unit}, a billion times more or less than {ours}',
            f"write {ours} if you mean that unit",
        )
    if _CALCULATION.search(part):
        return QuantityError(f'"{text}" is a calculation', f"write the result, such as {wanted.accepted}")
    if _mixes_systems(part, wanted):
        return QuantityError(
            f'"{text}" mixes metric and imperial units', f"write one of them, such as {wanted.accepted}"
        )
    if found := dimension_of(unit, wanted):
        return QuantityError(f'"{text}" is {found.with_article}, not {wanted.with_article}', write)
    if unit.replace("/", "").isalpha():
        return QuantityError(f'"{text}" has an unknown unit', write)
    return QuantityError(f'"{text}" is not {wanted.with_article}', write)


def _mixes_systems(part: str, wanted: Dimension) -> bool:
    match = IN_PARTS.fullmatch(part)
    return match is not None and mix_systems([folded(unit) for _, unit in PART.findall(match[1])], wanted.name)
