"""Numbers as people write them: decimals, thousands, fractions and typographic signs.

Patterns keep to what regular expressions of Python and of JavaScript have in common; the JSON Schemas use them too.

**Commas.** "3,5" has a decimal comma, as has every comma with other than three digits behind it, or with nothing or a
zero before it. Two commas or more, or a comma and a point, set thousands apart: "1,234,567", "3,000.5". One comma with
three digits behind it, "1,250", may be either. It counts as thousands in units that nobody writes with three decimals
(`WHOLE_UNITS`: "3,000 psi", "1,025 kg/m3"); with every other unit it is refused, since "1,250 kg" is 1.25 kg to some
and 1250 kg to others.
"""

import re
from decimal import Decimal

VULGAR = {
    "¼": "1/4",
    "½": "1/2",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅕": "1/5",
    "⅖": "2/5",
    "⅗": "3/5",
    "⅘": "4/5",
    "⅙": "1/6",
    "⅚": "5/6",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
"""Fractions that are one sign, and what they stand for."""
MINUS_SIGNS = "-\N{MINUS SIGN}\N{EN DASH}"
SIGN = rf"[+\-{MINUS_SIGNS[1:]}]"
_SLASH = "[/\N{FRACTION SLASH}]"
_FRACTION = rf"(?:[0-9]+\s+)?[0-9]+\s*{_SLASH}\s*0*[1-9][0-9]*|(?:[0-9]+\s*)?[{''.join(VULGAR)}]"
_THOUSANDS = r"[1-9][0-9]{0,2}(?:,[0-9]{3}){2,}(?:\.[0-9]+)?|[1-9][0-9]{0,2},[0-9]{3}\.[0-9]+"
_COMMA_DECIMAL = r"0[0-9]*,[0-9]+|[0-9]+,(?:[0-9]{4,}|[0-9]{1,2})|[0-9]{4,},[0-9]{3}"
_POINT_DECIMAL = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
_POWER = r"(?:[eE][+\-]?[0-9]{1,3})?"
CLEAR_WITHIN = rf"(?:{_FRACTION}|{_THOUSANDS}|(?:{_COMMA_DECIMAL}|{_POINT_DECIMAL}){_POWER})"
"""`CLEAR`, but for a comma in front: in "7ft,2in" it stands between two parts, and is not that of a decimal."""
CLEAR = rf"(?:{CLEAR_WITHIN}|,[0-9]+{_POWER})"
"""A number that can be read in one way: whole, with decimals, with thousands, or a fraction as on a rule."""
EITHER = r"[1-9][0-9]{0,2},[0-9]{3}"
"""A number whose comma may set off decimals or thousands."""
NUMBER = rf"(?:{CLEAR}|{EITHER})"
BARE_NUMBER = re.compile(rf"\s*{SIGN}?{NUMBER}\s*")
EITHER_COMMA = re.compile(EITHER)
PLUS_MINUS = rf"(?:±|\+\s*/?\s*[{MINUS_SIGNS[1:]}\-])"


def read_number(written: str) -> float:
    """Give a number without a sign, as written: "28 1/2", "28½", "12,5", "3,000"."""
    plain = plain_number(written)
    whole, slash, below = plain.partition("/")
    if not slash:
        return float(plain)
    *units, above = whole.split()
    return (float(units[0]) if units else 0.0) + float(above) / float(below)


def worth_of_last_digit(written: str) -> float:
    """Give what the last digit of a number is worth: 0.1 of "2.1"; of a fraction, one of its parts."""
    plain = plain_number(written)
    _, slash, below = plain.partition("/")
    return 1 / float(below) if slash else 10.0 ** int(Decimal(plain).as_tuple().exponent)


def plain_number(written: str) -> str:
    """Write a number with a point before decimals, nothing between thousands, and a fraction with its slash."""
    plain = written.strip()
    if not plain.isascii():
        for sign, fraction in VULGAR.items():
            plain = plain.replace(sign, f" {fraction}")
        plain = plain.replace("\N{FRACTION SLASH}", "/").strip().translate(_HYPHENS)
    if "," not in plain:
        return plain
    before, _, behind = plain.rpartition(",")
    in_thousands = "," in before or "." in behind or EITHER_COMMA.fullmatch(plain)
    return plain.replace(",", "" if in_thousands else ".")


_HYPHENS = str.maketrans(dict.fromkeys(MINUS_SIGNS[1:], "-"))
